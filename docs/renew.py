"""Makes bibliography, commands, json and files in docs from the code: `python docs/renew.py`."""

import sys
from pathlib import Path

import click

from goodflight import cli
from goodflight.cli.app import app
from goodflight.outputs.figures import FIGURES
from goodflight.outputs.json_fields import FIELDS
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


def json_fields() -> str:
    """Every field of every answer in JSON."""
    parts = [
        MADE,
        "# JSON\n",
        "Every question answers in JSON with `--json`. Values are SI and the unit is in the name:\n"
        "`_m`, `_s`, `_m_s`, `_kg`, `_rad`, `_n`, `_pa`, `_cal` (calibres). `null` is not known,\n"
        "or did not happen. Bad input gives `error` and `faults` (file, line, key, found,\n"
        "expected, advice) and exit code 2.\n",
    ]
    for name, fields in FIELDS.items():
        parts.append(f"## {name}\n\n| field | meaning |\n|---|---|")
        parts[-1] += "".join(f"\n| `{field}` | {words} |" for field, words in fields.items()) + "\n"
    parts.append(
        "## figures of `fly`\n\nAt the top level of the answer.\n\n| field | meaning |\n|---|---|"
    )
    parts[-1] += "".join(f"\n| `{key}` | {words} |" for key, (_, words) in FIGURES.items()) + "\n"
    return "\n".join(parts)


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
}

if __name__ == "__main__":
    for file, make in PAGES.items():
        (HERE / file).write_text(make(), encoding="utf-8")
