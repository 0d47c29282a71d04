"""The short answer of a ledger: what fails, what is not known, what to do; a line for the rest."""

from itertools import groupby

from goodflight.outputs.ledger.beside import base_rate_lines, next_lines
from goodflight.outputs.ledger.first_look import standing
from goodflight.outputs.ledger.text import (
    in_flight_order,
    key_line,
    ledger_row_lines,
    severity,
    title_lines,
)
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import PHASES, cautions
from goodflight.studies.results import Ledger

PHASE_WIDTH = 22


def short_text(ledger: Ledger, terminal: Terminal | None = None) -> str:
    """Failing, unknown and marginal rows, what to do, what to measure, one line a phase."""
    page = TextPage(terminal or Terminal())
    title_lines(page, ledger)
    open_rows = [row for row in ledger.rows if row.state != "ok"]
    if open_rows:
        key_line(page)
        page.blank()
        page.rule("What can still fail")
    for row in sorted(open_rows, key=severity):
        ledger_row_lines(page, row)
    next_lines(page, ledger)
    page.blank()
    page.rule("All else")
    for phase, rows in groupby(in_flight_order(ledger), key=lambda row: row.phase):
        words = standing(list(rows)).words
        if words:
            page.paragraph(words, PHASE_WIDTH, first=PHASES[phase].ljust(PHASE_WIDTH - 2))
    _foot(page, ledger)
    return page.render()


def _foot(page: TextPage, ledger: Ledger) -> None:
    page.blank()
    for warning in cautions(ledger.warnings):
        page.paragraph(warning, indent=2, first="· ")
    if ledger.not_modelled:
        words = "; ".join(ledger.not_modelled)
        page.paragraph(f"not modelled: {words}", indent=2, first="· ")
    base_rate_lines(page, ledger.base_rates)
    page.blank()
    page.paragraph(
        "Every row: goodflight ledger DIR --all. Why a row says what it says: --why KEY",
        ink="fine",
    )
    if ledger.invented:
        page.paragraph("Rocket, motors, field and weather of this project are invented.")
