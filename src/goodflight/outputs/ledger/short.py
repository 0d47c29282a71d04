"""The short answer of a ledger: what fails, what is not known, what to do; a line for the rest."""

from itertools import groupby
from typing import Final

from goodflight.outputs.ledger.beside import base_rate_lines, next_lines
from goodflight.outputs.ledger.first_look import standing
from goodflight.outputs.ledger.row_words import answer, driver_words
from goodflight.outputs.ledger.text import (
    BAND,
    CAPACITY,
    STATE_WIDTH,
    in_flight_order,
    ledger_row_lines,
    severity,
    state_piece,
    title_lines,
)
from goodflight.outputs.text_page import Terminal, TextPage, fit
from goodflight.outputs.words import PHASES, cautions
from goodflight.studies.results import Ledger, Row

PHASE_WIDTH: Final = 22
MEASURED: Final = 2  # measurements named


def short_text(ledger: Ledger, terminal: Terminal | None = None) -> str:
    """Failing, unknown and marginal rows, what to do, what to measure, one line a phase."""
    page = TextPage(terminal or Terminal())
    title_lines(page, ledger)
    _open_lines(page, ledger)
    next_lines(page, ledger, MEASURED)
    page.blank()
    page.rule("All else")
    for phase, rows in groupby(in_flight_order(ledger), key=lambda row: row.phase):
        words = standing(list(rows)).words
        if words:
            line = f"  {PHASES[phase].ljust(PHASE_WIDTH - 2)}{words}"
            page.line(fit(line, page.terminal.width - 1).rstrip())
    _foot(page, ledger)
    return page.render()


def _open_lines(page: TextPage, ledger: Ledger) -> None:
    """What fails or is not known, what drives it; a line for what is marginal or to be answered."""
    rows = sorted((row for row in ledger.rows if row.state != "ok"), key=severity)
    if not rows:
        return
    page.blank()
    page.rule("What can still fail")
    alone = ledger.way is None or not ledger.way.steps  # no way that says what to do
    answers = [row for row in rows if row.state == "unknown" and row.kind != "failure"]
    if any(row.state == "fails" and row.kind == "failure" for row in rows):
        page.paragraph(
            f"Strips: ticks are flights, {CAPACITY} the limit, {BAND} its spread; right of "
            f"{CAPACITY} fails.",
            ink="fine",
        )
    for row in (row for row in rows if row not in answers):
        if row.state == "marginal":
            _line(page, row)
        else:
            ledger_row_lines(page, row, driver_words(row, 1), remedy=alone)
    if answers:
        named = "; ".join(f"{row.title} [{row.key}]" for row in answers)
        page.paragraph(f"To answer, --why KEY says how: {named}.", 2, first="▨ ")


def _line(page: TextPage, row: Row) -> None:
    """A row in one line where it fits: state, title, key, chance."""
    state, ink = state_piece(row.state)
    words = f"{row.title}  [{row.key}]: {answer(row)}"
    if STATE_WIDTH + len(words) < page.terminal.width:
        page.line((state, ink), words)
    else:
        page.paragraph(words, STATE_WIDTH, first=state)


def _foot(page: TextPage, ledger: Ledger) -> None:
    page.blank()
    for warning in cautions(ledger.warnings):
        page.paragraph(warning, indent=2, first="· ")
    base_rate_lines(page, ledger.base_rates)
    if ledger.invented:
        page.paragraph("Rocket, motors, field and weather of this project are invented.")
    page.paragraph(
        "More: goodflight ledger DIR --all (every row), --why KEY (why a row says what it says), "
        "--base-rates (what no calculation sees: tangles, bursts, slips).",
        ink="fine",
    )
