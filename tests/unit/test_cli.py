"""The command line: what goes to which stream, exit codes, no trace ever."""

import json
import signal
import subprocess
import sys
from pathlib import Path

import click
import pytest

import sample_results as sample
from goodflight import cli, interface
from goodflight.cli import progress, shell
from goodflight.cli.app import app
from goodflight.cli.commands import questions
from goodflight.project.demo import write_demo


@pytest.fixture(scope="module")
def project(demo_folder: Path) -> Path:
    return demo_folder


@pytest.fixture
def canned(monkeypatch: pytest.MonkeyPatch) -> None:
    """Studies answer with hand-made results; the kernel is not needed."""
    answers = {"ledger": sample.ledger, "fly": sample.flight, "delay": sample.delay,
               "motors": sample.motors}  # fmt: skip
    for each in questions():
        if each.name in answers:
            module, _, name = each.function.partition(":")
            made = answers[each.name]
            monkeypatch.setattr(f"goodflight.{module}.{name}", lambda *_, made=made, **__: made())
    monkeypatch.setattr(progress, "ready_kernel", lambda: None)


def run(*words: object) -> int:
    return shell.run([str(word) for word in words])


@pytest.mark.usefixtures("canned")
@pytest.mark.parametrize("command", ["ledger", "fly", "delay", "motors"])
def test_text_and_json_of_every_question(
    project: Path, command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(command, project) == cli.DONE
    text = capsys.readouterr()
    assert "Fieldfare (invented)" in text.out
    at_once = "goodflight: simulating 2000 flights ...\n"  # the ledger says it without waiting
    assert text.err in (("", at_once) if command == "ledger" else ("",))
    assert "\x1b" not in text.out
    assert run(command, project, "--json") == cli.DONE
    assert json.loads(capsys.readouterr().out)["rocket"] == "Fieldfare"


@pytest.mark.usefixtures("canned")
def test_one_row_as_text_and_as_json(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("ledger", project, "--why", "too_early") == cli.DONE
    assert "What helps" in capsys.readouterr().out
    assert run("ledger", project, "--why", "too_early", "--json") == cli.DONE
    assert json.loads(capsys.readouterr().out)["key"] == "too_early"


@pytest.mark.usefixtures("canned")
def test_a_row_that_is_not_there(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("ledger", project, "--why", "too_erly") == cli.BAD_INPUT
    out = capsys.readouterr()
    assert out.out == ""
    assert "did you mean too_early?" in out.err


@pytest.mark.usefixtures("canned")
def test_the_exit_code_speaks_only_when_asked(project: Path) -> None:
    assert run("ledger", project) == cli.DONE
    assert run("ledger", project, "--check") == cli.CHECKED["fails"] == 4
    assert len(set(cli.CHECKED.values())) == 4


@pytest.mark.usefixtures("canned")
def test_a_plan_that_is_not_there(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("fly", project, "--plan", "mornin") == cli.BAD_INPUT
    assert "did you mean morning?" in capsys.readouterr().err


@pytest.mark.usefixtures("canned")
def test_history_is_saved(project: Path, tmp_path: Path) -> None:
    assert run("fly", project, "--csv", tmp_path / "h.csv") == cli.DONE
    assert (tmp_path / "h.csv").read_text().startswith("time_s,height_m")


@pytest.mark.usefixtures("canned")
def test_a_place_that_cannot_be_written(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("fly", project, "--csv", tmp_path / "no" / "h.csv") == cli.BAD_INPUT
    assert "make the folder first" in capsys.readouterr().err


def test_faults_of_a_project_are_one_block_each(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "broken"
    write_demo(folder)
    rocket = folder / "rocket.toml"
    text = rocket.read_text()
    line = next(i for i, row in enumerate(text.splitlines(), 1) if row.startswith("mass ="))
    rows = text.splitlines()
    rows[line - 1] = 'mass = "12,5 oz"'
    rocket.write_text("\n".join(rows))
    assert run("ledger", folder) == cli.BAD_INPUT
    shown = capsys.readouterr()
    assert shown.out == ""
    assert f"rocket.toml line {line}, " in shown.err
    for word in ("found     ", "expected  ", "do        ", "12,5"):
        assert word in shown.err
    assert "Traceback" not in shown.err
    assert run("ledger", folder, "--json") == cli.BAD_INPUT
    fault = json.loads(capsys.readouterr().out)["faults"][0]
    assert set(fault) == {"file", "line", "key", "found", "expected", "advice"}
    assert fault["line"] == line


def test_an_unexpected_error_is_a_sentence_and_a_file(
    project: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def burst(*_: object, **__: object) -> None:
        raise RuntimeError("bang")

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    monkeypatch.setattr(interface, "load", burst)
    assert run("fly", project) == cli.UNEXPECTED
    shown = capsys.readouterr()
    assert "RuntimeError: bang" in shown.err and "Traceback" not in shown.err
    (trace,) = (tmp_path / "goodflight").iterdir()
    assert str(trace) in shown.err and "Traceback" in trace.read_text()


def test_ctrl_c_is_quiet(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(interface, "load", stop)
    assert run("fly", project) == cli.STOPPED
    assert capsys.readouterr().err.strip() == ""


def test_usage_errors_end_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("ledger") == cli.BAD_INPUT
    assert run("ledger", "x", "--flights", "0") == cli.BAD_INPUT
    assert run("fly", "x", "--units", "furlongs") == cli.BAD_INPUT
    assert "Traceback" not in capsys.readouterr().err


def test_drawing(project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("draw", project, "-o", tmp_path / "d.svg", "--json") == cli.DONE
    assert json.loads(capsys.readouterr().out)["file"].endswith("d.svg")
    assert (tmp_path / "d.svg").read_text().startswith("<svg")


def test_progress_says_nothing_when_quick(capsys: pytest.CaptureFixture[str]) -> None:
    with progress.working("counting"):
        pass
    assert capsys.readouterr().err == ""


def test_progress_speaks_when_it_takes_long(capsys: pytest.CaptureFixture[str]) -> None:
    import time

    with progress.working("counting", patience_s=0.0):
        time.sleep(0.2)
    assert "counting" in capsys.readouterr().err


def test_ctrl_c_ends_long_work_at_once() -> None:
    """While compiled work runs the signal ends the process itself; a shell sees 130."""
    code = (
        "import os, signal\nfrom goodflight.cli import progress\n"
        "with progress.working('counting'):\n"
        "    os.kill(os.getpid(), signal.SIGINT)\n"
        "print('still here')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == -signal.SIGINT
    assert done.stdout == "" and done.stderr == ""


def test_ctrl_c_is_given_back_after_long_work() -> None:
    before = signal.getsignal(signal.SIGINT)
    with progress.working("counting"):
        pass
    assert signal.getsignal(signal.SIGINT) is before


def test_help_needs_no_numbers_library() -> None:
    """The help is quick because numpy, numba and rich stay unloaded."""
    code = (
        "import sys\nfrom goodflight.cli import shell\n"
        "assert shell.run(['--help']) == 0\n"
        "heavy = {'numpy', 'numba', 'scipy', 'rich', 'pydantic', 'shapely'} & set(sys.modules)\n"
        "sys.exit(str(sorted(heavy)) if heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    for name in app.commands:
        assert name in done.stdout


def test_one_flight_loads_only_what_it_needs() -> None:
    """What the first output waits for: no editor, no page, no drawing, no special functions."""
    code = (
        "import sys\n"
        "import goodflight.cli.app, goodflight.interface\n"
        "import goodflight.studies.questions.fly, goodflight.outputs.flight.text\n"
        "slow = {'tomlkit', 'shapely', 'rich', 'starlette', 'jinja2', 'scipy.special',\n"
        "        'scipy.linalg', 'goodflight.studies.questions.ledger'} & set(sys.modules)\n"
        "sys.exit(str(sorted(slow)) if slow else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_every_command_has_help_and_short_words() -> None:
    for name, command in app.commands.items():
        assert command.help, name
        for parameter in command.params:
            if isinstance(parameter, click.Option):
                assert parameter.help, f"{name} {parameter.name}"


@pytest.mark.parametrize(
    ("words", "terminal", "opens"),
    [
        ((), False, False),
        ((), True, True),
        (("--no-page",), True, False),
        (("--page",), False, True),
    ],
)
def test_the_demo_opens_its_page_at_a_terminal_only(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    words: tuple[str, ...],
    terminal: bool,
    opens: bool,
) -> None:
    from click.testing import CliRunner

    from goodflight.cli.commands import demo

    called: list[Path] = []
    monkeypatch.setattr(
        app.commands["serve"], "callback", lambda folder, **_: called.append(folder)
    )
    monkeypatch.setattr(app.commands["ledger"], "callback", lambda **_: None)

    class Place:
        def __init__(self) -> None:
            self.stdin = self.stdout = self

        def isatty(self) -> bool:
            return terminal

    monkeypatch.setattr(demo, "sys", Place())
    result = CliRunner().invoke(app, ["demo", str(tmp_path / "d"), *words], standalone_mode=False)
    assert result.exception is None, result.exception
    assert bool(called) == opens


def test_the_help_tells_every_command_whole_within_80_columns(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("--help") == 0
    said = capsys.readouterr().out
    commands = said.split("Commands:")[1]
    assert all(len(line) <= 80 for line in said.splitlines()) and "..." not in commands
    for question in questions():
        assert f"\n  {question.name} " in commands
