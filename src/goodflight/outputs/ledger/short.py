"""The short answer of a ledger: what fails, what is not known, what to do; a line for the rest."""

import textwrap
from collections.abc import Sequence
from itertools import groupby
from typing import Final

from goodflight.outputs.ledger.beside import base_rate_lines, way_lines
from goodflight.outputs.ledger.first_look import driver_words, standing
from goodflight.outputs.ledger.input_words import with_homes
from goodflight.outputs.ledger.row_words import against, answer
from goodflight.outputs.ledger.text import (
    BAND,
    CAPACITY,
    STATE_WIDTH,
    best_remedy,
    in_flight_order,
    remedy_words,
    severity,
    state_piece,
    strip_pieces,
    title_lines,
)
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import PHASES, edited, moves_words, percent, worth_words
from goodflight.studies.results import Ledger, Measurement, Row

PHASE_WIDTH: Final = 22
MEASURED: Final = 2  # measurements named
STRIP_WIDTH: Final = 20
LINES: Final = 60  # at most, where it can be


def short_text(ledger: Ledger, terminal: Terminal | None = None) -> str:
    """Failing, unknown and marginal rows, what to do, what to measure, one line a phase.

    Where much fails, so that it would be more than a screen's worth: what is ok in one sentence,
    one measurement.
    """
    text = _text(ledger, terminal or Terminal(), folded=False)
    if len(text.splitlines()) <= LINES:
        return text
    return _text(ledger, terminal or Terminal(), folded=True)


def _text(ledger: Ledger, terminal: Terminal, folded: bool) -> str:
    page, measured = TextPage(terminal), 1 if folded else MEASURED
    title_lines(page, ledger, brief=True)
    _open_lines(page, ledger)
    if ledger.unknown:
        _measure_lines(page, ledger.measure_next[:measured])
    way_lines(page, ledger, brief=True)
    if not ledger.unknown:
        _measure_lines(page, ledger.measure_next[:measured])
    page.rule("All else")
    told = [
        (PHASES[phase], standing(list(rows)))
        for phase, rows in groupby(in_flight_order(ledger), key=lambda row: row.phase)
    ]
    if folded:
        ok = [f"{name[0].lower()}{name[1:]} {len(each.stand)}" for name, each in told if each.stand]
        page.paragraph(f"ok: {', '.join(ok)}.", 2, first="○ ")
    for name, each in () if folded else told:
        if each.words:
            page.paragraph(each.words, PHASE_WIDTH, first=f"  {name}".ljust(PHASE_WIDTH))
    _foot(page, ledger)
    return page.render()


def _open_lines(page: TextPage, ledger: Ledger) -> None:
    """What fails or is not known, what drives it; what is marginal or to be answered, folded."""
    rows = sorted((row for row in ledger.rows if row.state != "ok"), key=severity)
    if not rows:
        return
    page.rule("What can still fail")
    alone = ledger.way is None or not ledger.way.steps  # no way that says what to do
    if any(row.state == "fails" and row.kind == "failure" for row in rows):
        page.paragraph(
            f"Strips: ticks are flights, {CAPACITY} the limit, {BAND} its spread; right of "
            f"{CAPACITY} fails.",
            ink="fine",
        )
    for row in rows:
        if row.state == "fails":
            _failing(page, row, remedy=alone)
    waiting = [row for row in rows if row.state == "unknown" and row.kind == "failure"]
    for advice in dict.fromkeys(row.advice for row in waiting):
        same = [row for row in waiting if row.advice == advice]
        named = "; ".join(f"{row.title} [{row.key}]" for row in same)
        state, ink = state_piece("unknown")
        told = with_homes(advice or "not known", same[0].asks)
        page.paragraph(f"{named}: {told}", STATE_WIDTH, ink, first=state)
    marginal = [f"{_brief(row)} [{row.key}]" for row in rows if row.state == "marginal"]
    if marginal:
        page.paragraph(f"marginal: {'; '.join(marginal)}.", 2, first="◐ ")
    answers = [row for row in rows if row.state == "unknown" and row.kind != "failure"]
    if answers:
        named = "; ".join(f"{row.title} [{row.key}]" for row in answers)
        page.paragraph(f"To answer (--why KEY): {named}.", 2, first="▨ ")


def _brief(row: Row) -> str:
    """`Lands too hard 4.2 %`: the chance in short, or the answer where none is counted."""
    return f"{row.title} {percent(row.chance) or answer(row)}"


def _failing(page: TextPage, row: Row, remedy: bool) -> None:
    """A failing row: state, title, key, chance; below its strip and what drives it."""
    state, ink = state_piece("fails")
    words, spoken = f"{row.title}  [{row.key}]", answer(row)
    room = page.terminal.width - STATE_WIDTH - 1
    if len(words) + 2 + len(spoken) <= room:
        page.line((state, ink), words.ljust(room - len(spoken)), spoken)
    elif len(words) + 2 + len(spoken.partition(" (")[0]) <= room:
        page.line((state, ink), f"{words}  {spoken.partition(' (')[0]}")
    else:
        page.paragraph(f"{words}: {spoken}", STATE_WIDTH, ink, first=state)
    said = [part for part in (driver_words(row), against(row, page.terminal.units)) if part]
    if page.terminal.narrow:
        page.line("  ", *strip_pieces(row, page.terminal.width - 4))
        page.paragraph("; ".join(said), 2)
    elif against(row):
        room -= STRIP_WIDTH + 2
        beside = "; ".join(said) if len("; ".join(said)) <= room else "".join(said[:1])
        first, *more = textwrap.wrap(beside, room) or [""]
        page.line(" " * STATE_WIDTH, *strip_pieces(row, STRIP_WIDTH), f"  {first}")
        for each in more:
            page.line(" " * (STATE_WIDTH + STRIP_WIDTH + 2), each)
    elif said:
        page.paragraph("; ".join(said), STATE_WIDTH)
    best = best_remedy(row) if remedy else None
    if best is not None:
        page.paragraph(remedy_words(best, page.terminal.units), STATE_WIDTH, first="→ ")


def _measure_lines(page: TextPage, listed: Sequence[Measurement]) -> None:
    """The first few measurements: what, with which tool, where it is entered, what it is worth."""
    if not listed:
        return
    page.rule("Measure next (--next says how)")
    for each in listed:
        minutes = "" if each.minutes is None else f"{each.minutes:.0f} min"
        tools = ", ".join(part for part in (each.instrument, minutes) if part)
        worth = worth_words(each)
        if each.moves is not None:
            told = "knowing it could change the total by" if each.why_not else "moves the total"
            worth = f"{told} {moves_words(each.moves)}"
        why = f"cannot be measured, {each.why_not}; " if each.why_not else ""
        page.paragraph(f"{each.label}{f' ({tools})' if tools else ''}: {why}{worth}", 2, first="· ")


def _foot(page: TextPage, ledger: Ledger) -> None:
    for warning in edited(ledger.warnings, page.terminal.units):
        page.paragraph(warning, indent=2, first="· ")
    base_rate_lines(page, ledger.base_rates)
    if ledger.invented:
        page.paragraph("Rocket, motors, field and weather of this project are invented.")
    page.paragraph(
        "More: --all, --why KEY, --next, --base-rates (tangles, slips: not computed).",
        ink="fine",
    )
