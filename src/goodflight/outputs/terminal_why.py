"""One row of the ledger, opened: formula, inputs with how each is known, drivers, remedies."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.outputs.basis_words import formula, sources
from goodflight.outputs.failing_words import flight_words, heading, trait_words
from goodflight.outputs.figures import figure
from goodflight.outputs.sheet_text import SheetText, Terminal
from goodflight.outputs.strip import strip
from goodflight.outputs.terminal import remedy_words, state_piece, strip_pieces
from goodflight.outputs.words import CAUTION, KNOWN, PHASES, change, margin, percent, speak
from goodflight.studies.results import Ledger, Row

UNDERLINES: Final[dict[str, str]] = {  # how known, seen at a glance
    "guess": "┈┈┈",
    "label": "╌╌╌",
    "measured": "───",
    "flight": "═══",
}
BAR: Final = 20
VALUE: Final = 20  # a longer text is a value with its reason in brackets


def why_text(ledger: Ledger, row: Row, terminal: Terminal | None = None) -> str:
    """Everything a row stands on, as text."""
    sheet = SheetText(terminal or Terminal())
    sheet.title(
        [row.title, f"{PHASES[row.phase]}: {row.key}", _chance(row), margin(row.margin)],
        [("rocket", ledger.rocket), ("plan", ledger.plan), ("motor", ledger.motor)],
    )
    sheet.line(state_piece(row.state), f"{row.failed} of {row.flights} flights fail")
    if row.advice:
        sheet.paragraph(row.advice)
    _clouds(sheet, row)
    sheet.blank()
    sheet.rule("Formula")
    sheet.paragraph(formula(row.basis, sheet.terminal.units), indent=2)
    for source in sources(row.basis, sheet.terminal.units):
        sheet.paragraph(source, indent=2, first="· ", ink="fine")
    _inputs(sheet, row)
    _drivers(sheet, row)
    _failing(sheet, row)
    _remedies(sheet, row)
    for warning in row.warnings:
        sheet.paragraph(warning, indent=2, first="· ")
    sheet.blank()
    sheet.paragraph(CAUTION, ink="fine")
    return sheet.render()


def _chance(row: Row) -> str:
    spoken = speak(row.chance, row.low, row.high)
    exact = percent(row.chance)
    return f"{spoken}, {exact}" if exact else spoken


def _clouds(sheet: SheetText, row: Row) -> None:
    width = sheet.terminal.width - 6
    drawn = strip(row, width)
    if drawn is None:
        return
    units = sheet.terminal.units
    sheet.blank()
    sheet.rule("Flights drawn and what is allowed")
    sheet.line("  ", *strip_pieces(row, width))
    left, right = (figure(end, row.unit, units) for end in (drawn.left, drawn.right))
    between = "fails to the right of ▌".center(width - len(left) - len(right))
    sheet.row("  ", left, (between, "fine"), right)
    worse = "more is worse" if row.more_is_worse else "less is worse"
    sheet.row("  demand   ", _spread(row.demand, row.unit, units), (f"   {worse}", "fine"))
    sheet.row("  allowed  ", _spread(row.capacity, row.unit, units))


def _spread(values: NDArray[np.float64], unit: str, units: str) -> str:
    low, middle, high = np.nanpercentile(values, [5, 50, 95])
    if low == high:
        if middle == 0:
            return "0"
        return figure(float(middle), unit, units)
    ends = " to ".join(figure(float(end), unit, units) for end in (low, high))
    return f"{figure(float(middle), unit, units)}  (9 in 10 flights: {ends})"


def _inputs(sheet: SheetText, row: Row) -> None:
    if not row.inputs:
        return
    sheet.blank()
    sheet.rule("Inputs and how each is known")
    room = min(40, max(len(item.label) for item in row.inputs) + 1)
    for item in row.inputs:
        mark = f"{UNDERLINES.get(item.known, '   ')} {KNOWN.get(item.known, item.known)}"
        value, reason = item.text, ""
        if len(value) > VALUE and value.endswith(")") and " (" in value:
            value, reason = value[:-1].split(" (", 1)
        sheet.row("  ", item.label.ljust(room), f" {value:<{VALUE}} ", (mark, "fine"))
        if reason:
            sheet.paragraph(reason, indent=4, ink="fine")
        if item.path:
            sheet.paragraph(item.path, indent=4, ink="fine")


def _drivers(sheet: SheetText, row: Row) -> None:
    if not row.drivers:
        return
    sheet.blank()
    sheet.rule("What drives it, share of the spread")
    for driver in row.drivers:
        bar = "┃" * max(1, round(driver.share * BAR)) if driver.share > 0 else ""
        sheet.row(f"  {bar:<{BAR}} {driver.share * 100:3.0f} %  {driver.label}")


def _failing(sheet: SheetText, row: Row) -> None:
    if row.failing is None:
        return
    sheet.blank()
    sheet.rule(heading(row.failing))
    for trait in row.failing.traits:
        sheet.paragraph(trait_words(trait, sheet.terminal.units), indent=2, first="· ")
    if row.failing.flights:
        sheet.paragraph("; ".join(flight_words(each) for each in row.failing.flights), indent=2)


def _remedies(sheet: SheetText, row: Row) -> None:
    if not row.remedies:
        return
    sheet.blank()
    sheet.rule("What helps, on the same flights")
    sheet.paragraph(
        "Each change is flown on a part of the flights, weighted back: its first figure may stand "
        "a little beside the chance above, the step between both is the change's own.",
        indent=2,
        ink="fine",
    )
    for remedy in row.remedies:
        sheet.paragraph(remedy_words(remedy), indent=2, first="→ ")
        sheet.paragraph(
            f"chance that anything fails: {change(remedy.total_before, remedy.total)}",
            indent=4,
            ink="fine",
        )
        for path, text in remedy.change:
            sheet.paragraph(f"{path} = {text}", indent=4, ink="fine")
