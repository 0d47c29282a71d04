"""The ledger as text for a terminal: rows in the order of the flight, pad to ground."""

import textwrap
from collections.abc import Mapping
from dataclasses import replace
from itertools import groupby
from typing import Final

from goodflight.outputs.ledger.beside import base_rate_lines, next_lines
from goodflight.outputs.ledger.input_words import with_homes
from goodflight.outputs.ledger.row_words import against, answer, driver_words
from goodflight.outputs.ledger.side_words import NOBODY, side_words
from goodflight.outputs.ledger.strip import Cell, strip
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import (
    COSTS,
    PHASES,
    STATES,
    change,
    counting,
    edited,
    guessed_share,
    knowledge,
    not_known,
    open_words,
    percent,
    speak_total,
)
from goodflight.studies.results import Ledger, NotHere, Remedy, Row, State

MARKS: Final[dict[State, str]] = {"ok": "○", "marginal": "◐", "fails": "●", "unknown": "▨"}
TICKS: Final = ("", "·", "╷", "│", "┃")
CAPACITY: Final = "▌"
BAND: Final = "░"
STATE_WIDTH: Final = 11  # mark, space, "marginal", space
STRIP_WIDTH: Final = 28
CHANCE_WIDTH: Final = 26
SEVERITY: Final[dict[State, int]] = {"fails": 0, "unknown": 1, "marginal": 2, "ok": 3}
AS_ABOVE: Final = "as above"


def ledger_text(ledger: Ledger, terminal: Terminal | None = None, worst_first: bool = False) -> str:
    """The whole ledger: title block, rows by phase, cautions, what is not modelled."""
    page = TextPage(terminal or Terminal())
    title_lines(page, ledger)
    key_line(page)
    if worst_first:
        page.blank()
        page.rule("Worst first")
        for row in sorted(ledger.rows, key=severity):
            ledger_row_lines(page, row)
    else:
        said = ""
        for phase, rows in groupby(in_flight_order(ledger), key=lambda row: row.phase):
            page.blank()
            page.rule(PHASES[phase])
            for row in rows:
                ledger_row_lines(
                    page, replace(row, advice=AS_ABOVE, asks=()) if row.advice == said else row
                )
                said = row.advice or said
    _foot(page, ledger)
    return page.render()


def in_flight_order(ledger: Ledger) -> list[Row]:
    """The rows by phase of the flight, keeping the study's order within a phase."""
    order = list(PHASES)
    return sorted(ledger.rows, key=lambda row: order.index(row.phase))


def severity(row: Row) -> tuple[int, float]:
    """Sort key: what fails first, then what is not known, then the greater chance."""
    return SEVERITY[row.state], -(row.chance or 0.0)


def title_lines(page: TextPage, ledger: Ledger, brief: bool = False) -> None:
    """The title block: how likely (said once when `brief`), what is beside it, what was flown."""
    beside, chance = open_words(ledger), "Chance that anything fails"
    percentage = f"{chance}: {percent(ledger.chance)}".rstrip(": ")
    left = [
        ledger.rocket + (" (invented)" if ledger.invented else ""),
        f"Ledger: {MARKS[ledger.state]} {STATES[ledger.state]}",
        "" if brief else percentage,
        f"{chance}: {speak_total(ledger)}" if brief else speak_total(ledger),
        not_known(ledger),
        guessed_share(ledger),
        beside,
        "" if brief else knowledge(ledger.measured, ledger.figures),
    ]
    left = [words for words in left if words]
    right = [
        ("plan", ledger.plan),
        ("motor", ledger.motor),
        ("field", ledger.site),
        ("flights", str(ledger.flights)),
        ("seed", str(ledger.seed)),
    ]
    if brief:
        right.append(("measured", f"{ledger.measured} of {ledger.figures} figures"))
    page.title(left, right, 28 if brief else 34)


def key_line(page: TextPage) -> None:
    """How to read the strips."""
    page.paragraph(
        f"Strips: ticks are simulated flights, {CAPACITY} the limit ({BAND} its uncertainty); "
        f"right of {CAPACITY} fails.",
        indent=1,
        ink="fine",
    )


def strip_pieces(row: Row, width: int) -> list[tuple[str, str]]:
    """The strip of a row as inked pieces, exactly `width` wide."""
    drawn = strip(row, width)
    if drawn is None:
        return [("▨" * (width // 3), "fine"), (" " * (width - width // 3), "ink")]
    return [_inked(cell) for cell in drawn.cells]


def _inked(cell: Cell) -> tuple[str, str]:
    if cell.role == "blank":
        return " ", "ink"
    if cell.role == "capacity":
        return CAPACITY, "strong"
    if cell.role == "band":
        return BAND, "fine"
    return TICKS[cell.weight], "signal" if cell.role == "fails" else "ink"


def state_piece(state: State) -> tuple[str, str]:
    """Mark and word of a state, in its ink."""
    ink = {"fails": "signal", "marginal": "strong", "unknown": "strong", "ok": "ink"}[state]
    return f"{MARKS[state]} {STATES[state]}".ljust(STATE_WIDTH), ink


def ledger_row_lines(
    page: TextPage, row: Row, driven: str | None = None, remedy: bool = True
) -> None:
    """One row: state, title and chance; its strip with demand and limit; what drives it, helps."""
    spoken, units = answer(row), page.terminal.units
    indent = 2 if page.terminal.narrow else STATE_WIDTH
    beside = "  ".join(part for part in (against(row, units), f"[{row.key}]") if part)
    if page.terminal.narrow:
        page.line(state_piece(row.state))
        page.paragraph(row.title, indent)
        page.paragraph(spoken, indent)
        page.line(" " * indent, *strip_pieces(row, page.terminal.width - 4))
        page.paragraph(beside, indent, ink="fine")
    else:
        room = page.terminal.width - STATE_WIDTH - CHANCE_WIDTH - 1
        first, *more = textwrap.wrap(row.title, room - 1)
        page.line(state_piece(row.state), first.ljust(room), spoken.rjust(CHANCE_WIDTH))
        for words in more:
            page.line(" " * indent, words)
        fits = indent + STRIP_WIDTH + 2 + len(beside) < page.terminal.width
        page.line(
            " " * indent, *strip_pieces(row, STRIP_WIDTH), (f"  {beside}" if fits else "", "fine")
        )
        if not fits:
            page.paragraph(beside, indent, ink="fine")
    if row.state == "unknown" and row.advice:
        page.paragraph(with_homes(row.advice, row.asks), indent)
    if row.state == "ok":
        return
    page.paragraph(drivers(row) if driven is None else driven, indent)
    best = best_remedy(row) if remedy else None
    if best is not None:
        page.paragraph(remedy_words(best, page.terminal.units), indent, first="→ ")


def drivers(row: Row) -> str:
    """`mainly: alignment of the fins (known: 4 → under 1 in 100), or wind (4 → 1 in 100)`."""
    return driver_words(row, 2)


def best_remedy(row: Row) -> Remedy | None:
    """The remedy the study put first, if it helps."""
    helping = [remedy for remedy in row.remedies if remedy.chance < remedy.chance_before]
    return helping[0] if helping else None


def remedy_words(remedy: Remedy, units: str = "metric", titles: Mapping[str, str] = NOBODY) -> str:
    """`drill 1 s less: 12 → 4 in 100 (free)`; `titles` of the rows it makes worse."""
    cost = COSTS[remedy.cost] + (f", {remedy.cost_note}" if remedy.cost_note else "")
    effect = change(remedy.chance_before, remedy.chance)
    words = f"{remedy.title.told(units)}: {effect} ({cost})"
    if remedy.reaches == "fails":
        words += "; the nearest it comes, still failing"
    return words + side_words(remedy, titles)


def not_here_words(each: NotHere) -> str:
    """`Second canopy breaks: one canopy only [main_opening]`."""
    return f"{each.title}: {each.why}  [{each.key}]"


def _foot(page: TextPage, ledger: Ledger) -> None:
    page.blank()
    page.rule("Cautions")
    for warning in edited(ledger.warnings, page.terminal.units):
        page.paragraph(warning, indent=2, first="· ")
    if ledger.not_here:
        page.blank()
        page.rule("Not applicable to this rocket")
        for each in ledger.not_here:
            page.paragraph(not_here_words(each), indent=2, first="· ")
    if ledger.not_modelled:
        page.blank()
        page.rule("Not modelled")
        page.paragraph("; ".join(ledger.not_modelled) + ".", indent=2)
    base_rate_lines(page, ledger.base_rates)
    next_lines(page, ledger)
    page.blank()
    page.paragraph(counting(ledger), ink="fine")
    page.blank()
    page.paragraph("Why a row says what it says: goodflight ledger DIR --why KEY", ink="fine")
    if ledger.invented:
        page.paragraph("Rocket, motors, field and weather of this project are invented.")
