"""What stands between the commands and the terminal: output, faults, unexpected errors, Ctrl-C."""

import gc
import json
import os
import shutil
import sys
import tempfile
import textwrap
import time
import traceback
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from goodflight.cli import BAD_INPUT, DONE, INCOMPLETE, STOPPED, UNEXPECTED
from goodflight.cli.stopping import end_on_interrupt
from goodflight.quantity.refusal import Refused
from goodflight.quantity.said import told
from goodflight.studies.processes import allow_copies

if TYPE_CHECKING:
    from goodflight.outputs.text_page import Terminal

WIDEST = 100  # longer lines are hard to read
SWITCH_S: Final = 5e-4  # a thread back from compiled work waits no longer for another's Python
GARBAGE: Final = (50_000, 20, 100)  # objects and rounds between looks for garbage: there is little
FAULT: Final[dict[str, Any]] = {
    "file": "", "line": 0, "key": "", "found": "", "expected": "", "advice": "",
}  # fmt: skip


class BadInputError(Refused):
    """Something the user gave that cannot be used; carries one or more faults."""

    def __init__(self, *faults: dict[str, Any]) -> None:
        first = faults[0]
        super().__init__(str(first.get("found")), str(first.get("expected", "")))
        self.faults = faults

    @property
    def records(self) -> tuple[dict[str, Any], ...]:
        """Every fault as data."""
        return self.faults


def run(words: Sequence[str] | None = None) -> int:
    """Run the command line and hand back the exit code; no trace is ever shown."""
    from goodflight.cli.app import app

    if words is None:  # a process of its own, not a test or a script that goes on
        _in_own_process()
    arguments = list(sys.argv[1:] if words is None else words)
    try:
        code = app.main(args=arguments, prog_name="goodflight", standalone_mode=False)
        sys.stdout.flush()
        return code if isinstance(code, int) else DONE
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except click.ClickException as error:
        if "--json" in arguments:
            show_faults([misused(error)], as_json=True)
        else:
            error.show()
        return BAD_INPUT
    except (KeyboardInterrupt, click.Abort):
        click.echo("", err=True)
        return STOPPED
    except SystemExit:  # how click ends when the reader has closed its end, e.g. `| head`
        return DONE
    except BrokenPipeError:  # the same, found at the last flush
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as error:
        return _known(error, arguments)


def _in_own_process() -> None:
    """What a command may do with a process of its own: end at Ctrl-C, and be quick."""
    end_on_interrupt()
    sys.setswitchinterval(SWITCH_S)
    gc.set_threshold(*GARBAGE)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    allow_copies()


def misused(error: click.ClickException) -> dict[str, Any]:
    """What is wrong with the words of a command, as a fault."""
    context = getattr(error, "ctx", None)
    option = getattr(error, "option_name", None) or getattr(error, "param_hint", None)
    named = getattr(error, "param", None)
    if option is None and named is not None:
        option = named.get_error_hint(context) if context else named.name
    command = context.command_path if context else "goodflight"
    usage = context.command.get_usage(context).removeprefix("Usage: ") if context else command
    return {
        "file": "command line",
        "key": str(option or "").strip("'"),
        "found": error.format_message(),
        "expected": " ".join(usage.split()),
        "advice": f"see `{command} --help`",
    }


def _units_of(arguments: Sequence[str]) -> str:
    """The units of the project that was asked; metric where no word of the command is a folder."""
    from goodflight.project import shown_in

    folders = (Path(word) for word in arguments if os.path.isdir(word))
    return next(map(shown_in.units_of, folders), "metric")


def _known(error: Exception, arguments: Sequence[str]) -> int:
    """A refusal is shown; anything else is unexpected, its trace goes to a file."""
    from goodflight.project.faults import SavedTwice

    as_json = "--json" in arguments
    if isinstance(error, SavedTwice):
        show_written(error, as_json)
        return INCOMPLETE
    if isinstance(error, Refused):
        show_faults(error.records, as_json, _units_of(arguments))
        return BAD_INPUT
    where = save_trace(error)
    click.echo(
        f"goodflight: an unexpected error ({type(error).__name__}: {error}). Nothing more was "
        f"done. The full trace is in {where}; send it with what you did.",
        err=True,
    )
    return UNEXPECTED


def show_faults(faults: Sequence[Mapping[str, Any]], as_json: bool, units: str = "metric") -> None:
    """One block per fault on stderr, or all as JSON on stdout."""
    if as_json:
        rows = [{**FAULT, **fault} for fault in faults]
        click.echo(json.dumps({"error": "bad input", "faults": rows}, indent=2))
        return
    count = len(faults)
    click.echo(f"goodflight: {count} fault{'s' if count > 1 else ''} in the input", err=True)
    for fault in faults:
        line = f" line {fault['line']}" if fault.get("line") else ""
        file = f"{fault.get('file') or ''}{line}"
        place = ", ".join(part for part in (file, fault.get("key")) if part)
        click.echo(f"\n{printable(place)}" if place else "", err=True)
        for name, key in (("found", "found"), ("expected", "expected"), ("do", "advice")):
            if fault.get(key):
                words = textwrap.fill(
                    printable(told(fault[key], units)),
                    79,
                    initial_indent=f"  {name:<9} ",
                    subsequent_indent=" " * 12,
                    break_long_words=False,
                    break_on_hyphens=False,
                )
                click.echo(words, err=True)


def show_written(twice: Refused, as_json: bool) -> None:
    """What was written though another program saved, too: no fault, but to be looked at."""
    if as_json:
        rows = [{**FAULT, **record} for record in twice.records]
        click.echo(json.dumps({"error": "saved twice", "faults": rows}, indent=2))
        return
    command = "`goodflight restore DIR FILE VERSION` brings one back."
    click.echo(textwrap.fill(f"goodflight: {printable(str(twice))} {command}", 79), err=True)


def printable(words: str) -> str:
    """What a file holds may steer a terminal; its control characters are spelled out."""
    return "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in words)


def save_trace(error: Exception) -> Path:
    """Write the full trace where the user can find it."""
    name = f"trace-{time.strftime('%Y%m%d-%H%M%S')}.txt"
    home = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    text = "".join(traceback.format_exception(error))
    for folder in (Path(home) / "goodflight", Path(tempfile.gettempdir())):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, encoding="utf-8")
            return folder / name
        except OSError:
            continue
    return Path(os.devnull)


def no_such(option: str, found: str, allowed: Sequence[str]) -> dict[str, Any]:
    """The fault of a name that does not exist, with the names that do."""
    close = get_close_matches(found, allowed, 1)
    return {
        "file": "command line",
        "line": 0,
        "key": option,
        "found": repr(found),
        "expected": "one of " + ", ".join(allowed),
        "advice": f"did you mean {close[0]}?" if close else "take a name from the list",
    }


def refused(where: str, found: str, expected: str, advice: str) -> BadInputError:
    """One fault of the command line or of a file named there."""
    return BadInputError({"file": where, "found": found, "expected": expected, "advice": advice})


def check_folder(folder: Path) -> None:
    """Refuse a place that is no folder."""
    from goodflight.project.places import kind_of

    kind = kind_of(folder)
    if kind != "a folder":
        raise refused(
            str(folder),
            kind or "no such folder",
            "a project folder",
            "name an existing folder, or make one with `goodflight new`",
        )


def write_file(path: Path, text: str) -> None:
    """Write an output file; a place that cannot be written is bad input."""
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: Path, content: bytes) -> None:
    """Write an output file; a place that cannot be written is bad input."""
    from goodflight.project.places import write_output

    try:
        write_output(path, content)
    except OSError as error:
        raise refused(
            str(path),
            error.strerror or str(error),
            "a file name in an existing folder that can be written",
            "make the folder first, or give another place",
        ) from error


def terminal(units: str) -> "Terminal":
    """What the terminal at hand can show."""
    from goodflight.outputs.text_page import Terminal

    tty = sys.stdout.isatty()
    plain = "NO_COLOR" in os.environ or os.environ.get("TERM") == "dumb"
    return Terminal(
        width=min(WIDEST, shutil.get_terminal_size((80, 24)).columns),
        colour=tty and not plain,
        unicode="utf" in (sys.stdout.encoding or "").lower(),
        units=units,
    )
