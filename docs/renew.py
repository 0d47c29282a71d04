"""Makes what comes from code: pages of docs, the list of public names. `python docs/renew.py`.

Commands, questions, JSON and Python come from the declarations of the commands.
"""

import inspect
import sys
from pathlib import Path

import click

from goodflight import cli
from goodflight.cli.app import app
from goodflight.cli.commands import questions
from goodflight.cli.question import Question, named
from goodflight.physics.sources import SOURCES

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))
MADE = "<!-- made by docs/renew.py; do not edit -->\n"
WIDTH = 80


def commands() -> str:
    """The help of every command, and the exit codes."""
    parts = [MADE, "# Commands\n"]
    top = click.Context(app, info_name="goodflight", terminal_width=WIDTH, **app.context_settings)
    parts.append(f"```text\n{app.get_help(top)}\n```\n")
    for name, command in app.commands.items():
        context = click.Context(command, info_name=name, parent=top, terminal_width=WIDTH)
        parts.append(f"## {name}\n\n```text\n{command.get_help(context)}\n```\n")
    codes = (cli.__doc__ or "").split("Exit codes:\n", 1)[1].rstrip()
    parts.append(f"## Exit codes\n\n```text\n{codes}\n```\n")
    return "\n".join(parts)


def asked() -> str:
    """Which question is answered by which command, study and function."""
    parts = [MADE, "# Which question is answered where\n"]
    parts.append("| question | command | Python | study |\n|---|---|---|---|")
    for each in questions():
        for asks, how in ((each.asks, each.how), *each.also):
            words, _, more = how.partition(", ")
            command = f"`{words}`" + (f", {more}" if more else "")
            place = each.function.partition(":")[0].replace(".", "/") + ".py"
            see = f", see [{each.see}]({each.see})" if each.see else ""
            parts[-1] += f"\n| {asks} | {command} | `{each.python}` | `{place}`{see} |"
    return "\n".join(parts) + "\n"


def json_fields() -> str:
    """Every field of every answer in JSON."""
    parts = [
        MADE,
        "# JSON\n",
        "Every command answers in JSON with `--json`. Values are SI and the unit is in the name:\n"
        "`_m`, `_s`, `_m_s`, `_kg`, `_rad`, `_n`, `_pa`, `_cal` (calibres). `null` is not known,\n"
        "or did not happen. Bad input gives `error` and `faults` (file, line, key, found,\n"
        "expected, advice) and exit code 2. The figures of `fly` stand at the top level of its\n"
        "answer. `serve` runs on, so its answer is one line, written as soon as the page may be\n"
        "asked; `demo --json` opens no page; what `new` asks at a terminal then goes to stderr.\n",
    ]
    listed = {n: fields for each in questions() for n, fields in each.sections().items()}
    for name, fields in listed.items():
        parts.append(f"## {name}\n\n| field | meaning |\n|---|---|")
        rows = (f"\n| `{field}` | {words} |" for field, words in fields.items())
        parts[-1] += "".join(rows) + "\n"
    return "\n".join(parts)


def python() -> str:
    """Every public function with its signature, what it says, and its example."""
    parts = [
        MADE,
        "# From Python\n",
        "The functions behind the commands; each loads what it needs when it is first used. The\n"
        "examples run as tests, in a folder that holds the demo as `fieldfare`.\n",
    ]
    for name, place in public_names().items():
        held = named(place)
        if not inspect.isfunction(held):
            continue
        text = (inspect.getdoc(held) or "").rstrip()
        sign = inspect.signature(held)
        taken = ", ".join(
            each.name if each.default is each.empty else f"{each.name}={_default(each.default)}"
            for each in sign.parameters.values()
        )
        parts.append(f"## {name}\n\n```text\ngoodflight.{name}({taken})\n\n{text}\n```\n")
    return "\n".join(parts)


def _default(value: object) -> str:
    return value.__name__ if callable(value) else repr(value)


def public_names() -> dict[str, str]:
    """Public name -> where it stands, "module:name": of the interface, then of the commands."""
    from goodflight import interface

    def of(question: Question) -> dict[str, str]:
        beside = {place.partition(":")[2]: place for place in question.beside}
        return {question.python: question.function} | beside

    own = {name: f"interface:{name}" for name in interface.__all__}
    asked = {name: place for each in questions() for name, place in of(each).items()}
    return dict(sorted((own | asked).items()))


def _as_linted(name: str) -> tuple[bool, str]:
    return name.strip("_").islower(), name


def stub() -> str:
    """`__init__.pyi`: the public names, for type checkers and for `goodflight` itself."""
    names = public_names()
    rows = [
        "# made by docs/renew.py from the declarations of the commands; do not edit",
        *(f"from goodflight.{place.replace(':', ' import ')} as {name}"
          for name, place in sorted(names.items(), key=lambda each: each[1])),
        "",
        "__version__: str",
        "__all__ = [",
        *(f'    "{name}",' for name in sorted(["__version__", *names], key=_as_linted)),
        "]",
    ]  # fmt: skip
    return "\n".join(rows) + "\n"


def files() -> str:
    """Every file, every key."""
    from files_page import page

    return MADE + page()


def bibliography() -> str:
    """Every source by its key."""
    head = (
        f"{MADE}\n# Bibliography\n\n"
        'One key each. "Held" says whether a copy or table was read (seen) or the content is cited '
        "from memory; the\ndocstring that uses a key says the same of the single formula.\n\n"
        "| key | source | good for | held |\n|---|---|---|---|\n"
    )
    rows = (
        f"| [{s.key}] | {s.text} | {s.good_for} | {s.held} |" for _, s in sorted(SOURCES.items())
    )
    return head + "\n".join(rows) + "\n"


PAGES = {
    "bibliography.md": bibliography,
    "files.md": files,
    "commands.md": commands,
    "json.md": json_fields,
    "python.md": python,
    "questions.md": asked,
    "../src/goodflight/__init__.pyi": stub,
}

if __name__ == "__main__":
    for file, make in PAGES.items():
        (HERE / file).write_text(make(), encoding="utf-8")
