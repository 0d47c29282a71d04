"""The reference of every way to fail as text."""

from collections.abc import Iterable
from itertools import groupby

from goodflight.outputs.figures import figure
from goodflight.outputs.ledger.basis_words import NAME
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import PHASES
from goodflight.studies.questions.rows import RowList, RowReference

KINDS = {"failure": "", "rule": ", a rule", "statement": ", to confirm"}
INDENT = 11


def rows_text(found: RowList, terminal: Terminal | None = None) -> str:
    """Every row by phase: when it fails, what it needs, what it stands on."""
    page = TextPage(terminal or Terminal())
    page.title(
        ["Every way to fail that is computed", "demand, against capacity"],
        [("ways", str(len(found.rows))), ("one row", "ledger DIR --why KEY")],
    )
    for phase, rows in groupby(found.rows, key=lambda row: row.phase):
        page.blank()
        page.rule(PHASES[phase])
        for row in rows:
            _row(page, row)
    return page.render()


def _row(page: TextPage, row: RowReference) -> None:
    page.blank()
    page.row((row.title, "strong"), f"  ({row.key}{KINDS[row.kind]})", indent=0)
    needs = dict.fromkeys(need.label for need in row.needs)
    lines = (
        ("fails on", formula(row, page.terminal.units)),
        ("needs", ", ".join(needs) or "what the builder answers in the project"),
        *(("source", f"{source.text} [{source.key}]") for source in row.sources),
    )
    named_lines(page, lines)


def named_lines(page: TextPage, lines: Iterable[tuple[str, str]]) -> None:
    """Paragraphs with a name before each."""
    for name, words in lines:
        page.paragraph(words, indent=INDENT, first=f"  {name:<{INDENT - 2}}")


def formula(row: RowReference, units: str = "metric") -> str:
    """The formula with its figures in the reader's units."""
    known = {each.name: figure(each.value, each.dimension, units) for each in row.figures}
    return NAME.sub(lambda match: known.get(match[1], "the code set's figure"), row.formula)
