"""One row of the ledger, opened: formula, inputs with how each is known, drivers, remedies."""

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.outputs.figures import figure
from goodflight.outputs.ledger.basis_words import formula, sources
from goodflight.outputs.ledger.failing_words import flight_words, heading, trait_words
from goodflight.outputs.ledger.input_words import asked, reason, value
from goodflight.outputs.ledger.row_words import against, answer, deviations
from goodflight.outputs.ledger.strip import strip
from goodflight.outputs.ledger.text import remedy_words, state_piece, strip_pieces
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import CAUTION, KNOWN, PHASES, change, percent
from goodflight.quantity.said import told
from goodflight.studies.cautions import cautions_of
from goodflight.studies.judging.drivers import TOO_FEW, TOO_FEW_LABEL
from goodflight.studies.results import Ledger, Row

UNDERLINES: Final[dict[str, str]] = {  # how known, seen at a glance
    "guess": "┈┈┈",
    "label": "╌╌╌",
    "measured": "───",
    "flight": "═══",
}
BAR: Final = 20
VALUE: Final = 20


def why_text(ledger: Ledger, row: Row, terminal: Terminal | None = None) -> str:
    """Everything a row stands on, as text."""
    page = TextPage(terminal or Terminal())
    page.title(
        [
            row.title,
            f"{PHASES[row.phase]}: {row.key}",
            _chance(row),
            against(row, page.terminal.units),
        ],
        [("rocket", ledger.rocket), ("plan", ledger.plan), ("motor", ledger.motor)],
    )
    counted = f"{row.failed} of {row.flights} flights fail" if row.kind == "failure" else ""
    page.line(state_piece(row.state), counted)
    if row.advice:
        page.paragraph(row.advice)
    for each in row.asks:
        page.paragraph(asked(each), indent=2, first="· ", ink="fine")
    _clouds(page, row)
    page.blank()
    page.rule("Formula")
    page.paragraph(formula(row.basis, page.terminal.units), indent=2)
    for source in sources(row.basis, page.terminal.units):
        page.paragraph(source, indent=2, first="· ", ink="fine")
    _inputs(page, row)
    _drivers(page, row)
    _failing(page, row)
    _remedies(page, row, {each.key: each.title for each in ledger.rows})
    for warning in row.warnings:
        page.paragraph(told(warning, page.terminal.units), indent=2, first="· ")
    page.blank()
    page.paragraph(CAUTION, ink="fine")
    return page.render()


def _chance(row: Row) -> str:
    spoken = answer(row)
    exact = percent(row.chance) if row.kind == "failure" else ""
    return f"{spoken}, {exact}" if exact else spoken


def _clouds(page: TextPage, row: Row) -> None:
    width = page.terminal.width - 6
    drawn = strip(row, width)
    if drawn is None:
        return
    units = page.terminal.units
    page.blank()
    page.rule("Simulated flights and the limit")
    page.line("  ", *strip_pieces(row, width))
    left, right = (figure(end, row.unit, units) for end in (drawn.left, drawn.right))
    between = "fails to the right of ▌".center(width - len(left) - len(right))
    page.row("  ", left, (between, "fine"), right)
    worse = "more is worse" if row.more_is_worse else "less is worse"
    page.row("  demand   ", _spread(row.demand, row.unit, units), (f"   {worse}", "fine"))
    page.row("  allowed  ", _spread(row.capacity, row.unit, units))
    if deviations(row):
        page.row("  ", deviations(row))


def _spread(values: NDArray[np.float64], unit: str, units: str) -> str:
    low, middle, high = np.nanpercentile(values, [5, 50, 95])
    if low == high:
        if middle == 0:
            return "0"
        return figure(float(middle), unit, units)
    ends = " to ".join(figure(float(end), unit, units) for end in (low, high))
    return f"{figure(float(middle), unit, units)}  (9 in 10 flights: {ends})"


def _inputs(page: TextPage, row: Row) -> None:
    if not row.inputs:
        return
    page.blank()
    page.rule("Inputs and how each is known")
    room = min(40, max(len(item.label) for item in row.inputs) + 1)
    for item in row.inputs:
        mark = f"{UNDERLINES.get(item.known, '   ')} {KNOWN.get(item.known, item.known)}"
        text, why = value(item, page.terminal.units), reason(item)
        page.row("  ", item.label.ljust(room), f" {text:<{VALUE}} ", (mark, "fine"))
        if why:
            page.paragraph(why, indent=4, ink="fine")
        if item.path:
            page.paragraph(item.path, indent=4, ink="fine")


def _drivers(page: TextPage, row: Row) -> None:
    if not row.drivers:
        return
    page.blank()
    page.rule("What drives it, share of the spread")
    if row.drivers[0].key == TOO_FEW:
        page.paragraph(TOO_FEW_LABEL, indent=2)
        return
    for driver in row.drivers:
        bar = "┃" * max(1, round(driver.share * BAR)) if driver.share > 0 else ""
        said = f"  {bar:<{BAR}} {driver.share * 100:3.0f} %  {driver.label}"
        known = ""
        if driver.chance is not None:
            tied = ", no less than the one above" if driver.tied else ""
            known = f"{change(row.chance or 0.0, driver.chance)}{tied}"
        if len(said) + 2 + len(known) < page.terminal.width:
            page.line(said, (f"  {known}" if known else "", "fine"))
        else:
            page.paragraph(driver.label, indent=BAR + 10, first=said[: BAR + 10])
            page.paragraph(known, indent=BAR + 10, ink="fine")


def _failing(page: TextPage, row: Row) -> None:
    if row.failing is None:
        return
    page.blank()
    page.rule(heading(row.failing))
    for trait in row.failing.traits:
        page.paragraph(trait_words(trait, page.terminal.units), indent=2, first="· ")
    if row.failing.flights:
        page.paragraph("; ".join(flight_words(each) for each in row.failing.flights), indent=2)


def _remedies(page: TextPage, row: Row, titles: Mapping[str, str]) -> None:
    if not row.remedies:
        return
    page.blank()
    page.rule("What helps, on the same flights")
    page.paragraph(
        "Each change is flown on a part of the flights, weighted back: its first figure may stand "
        "a little beside the chance above, the step between both is the change's own.",
        indent=2,
        ink="fine",
    )
    for words in cautions_of(remedy.caution for remedy in row.remedies):
        page.paragraph(words, indent=2, first="! ")
    for remedy in row.remedies:
        page.paragraph(remedy_words(remedy, page.terminal.units, titles), indent=2, first="→ ")
        page.paragraph(
            f"chance that anything fails: {change(remedy.total_before, remedy.total)}",
            indent=4,
            ink="fine",
        )
        for path, text in remedy.change:
            page.paragraph(f"{path} = {text}", indent=4, ink="fine")
