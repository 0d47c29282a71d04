"""What was weighed, what does not add up, and what it changed, as text."""

from typing import Final

from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import percent
from goodflight.quantity import show, show_spread
from goodflight.quantity.said import either
from goodflight.studies.questions.measuring import NextFigure
from goodflight.studies.questions.scale import ScaleStudy, SheetNow

SHOWN: Final = 6  # figures to measure
STRIPS: Final = (
    "Build book and station strips mark the CG too, evidence, cards and lists show the mass: they "
    "go with the drawing. Fin guides, cut list and packing hold whatever is weighed."
)

FIRST: Final = either(
    'weigh DIR --what all --mass "1461 g ± 2 g" --balance "699 mm"',
    'weigh DIR --what all --mass "51.5 oz ± 0.1 oz" --balance "27.5 in"',
)


def scale_text(study: ScaleStudy, terminal: Terminal | None = None) -> str:
    """Readings beside design and rest, findings, parts, figures and rows before and now."""
    page = TextPage(terminal or Terminal())
    units = page.terminal.units
    page.title(
        [study.rocket + (" (invented)" if study.invented else ""), "The rocket as built"],
        [("plan", study.plan), ("readings", str(len(study.readings) + len(study.measured)))],
    )
    if not study.readings and not study.measured:
        page.blank()
        page.paragraph(
            f"Nothing has been weighed yet. Weigh the whole rocket first: {FIRST.told(units)}"
        )
        return page.render()
    if study.readings:
        page.blank()
        page.rule("Read off, beside what design and all other readings say")
    for each in study.readings:
        value = show_spread(each.value, each.sigma, each.dimension, units)
        rest = show(each.rest, each.dimension, units)
        day = f", {each.date}" if each.date else ""
        page.row("  ", value, f"   rest {rest}   {each.words}{day}")
    if study.readings:
        page.paragraph(sentence(study.agreement.told(units)), ink="fine")
    _measured(page, study)
    if study.findings:
        page.blank()
        page.rule("What does not add up")
        for finding in study.findings:
            page.paragraph(finding.told(units), indent=2, first="→ ")
    page.blank()
    page.rule("What this changed (design -> as weighed)")
    for figure in study.figures:
        before, now = (show(x, figure.dimension, units) for x in (figure.before, figure.now))
        page.row("  ", f"{figure.name:<24} {before} -> {now}")
    page.row(
        "  ",
        f"{'flights that fail':<24} {percent(study.chance_before) or 'none'} -> "
        f"{percent(study.chance_now) or 'none'} of {study.flights}",
    )
    for row in study.rows:
        before, now = ("not known" if x is None else str(x) for x in (row.before, row.now))
        page.row("  ", f"{row.title}: {before} -> {now} of {study.flights}")
    page.blank()
    _parts_and_next(page, study)
    page.rule("Printed sheets")
    for sheet in study.sheets:
        page.paragraph(sheet_words(sheet), indent=2, first="· ")
    page.paragraph(STRIPS + " Ask of any sheet: goodflight stamp DIR STAMP.")
    return page.render()


def _parts_and_next(page: TextPage, study: ScaleStudy) -> None:
    units = page.terminal.units
    page.rule("Parts (design -> as built)")
    for part in study.parts:
        before = show(part.design_kg, "mass", units)
        now = show_spread(part.mass_kg, part.sigma_kg, "mass", units)
        page.row("  ", f"{part.name:<32} {before} -> {now}")
    page.blank()
    page.rule("What to measure next, most for a minute's work first")
    bench = [each for each in study.next if each.instrument]
    for figure_next in bench[:SHOWN]:
        page.paragraph(next_words(figure_next), indent=2, first="· ")
    if len(study.next) > len(bench[:SHOWN]):
        left = len(study.next) - len(bench[:SHOWN])
        page.paragraph(f"{left} more, to measure or to look up: ledger DIR --next", indent=2)
    page.paragraph(study.stop.told(units))
    page.blank()


def sentence(words: str) -> str:
    """Words as a sentence of their own."""
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")


def worth_words(each: NextFigure) -> str:
    """How long it takes and how much it moves the total."""
    took = f"{each.minutes:.0f} min" if each.minutes is not None else "time not estimated"
    if each.moves is None:
        return f"{took}; nobody has entered it"
    return f"{took}; moves the total by {100.0 * each.moves:.0f} in 100"


def next_words(each: NextFigure) -> str:
    """One figure to measure: what to do, with what, how long, what it is worth."""
    how = f"{each.how} ({each.instrument})" if each.instrument else each.how
    enter = f'; enter it with weigh DIR --of "{each.of}" --read VALUE' if each.of else ""
    return f"{each.label}: {how or each.why_not}; {worth_words(each)}{enter}"


def sheet_words(sheet: SheetNow) -> str:
    """Whether the last weighing made a sheet out of date, and the stamp it carries now."""
    now = f"figures {sheet.stamp}"
    if not sheet.before:
        return f"{sheet.what}: printed now it carries {now}"
    if sheet.before == sheet.stamp:
        return f"{sheet.what}: unchanged by the last weighing, {now}"
    return (
        f"{sheet.what}: out of date since the last weighing; throw away what carries "
        f"{sheet.before}, print it again: {now}"
    )


def _measured(page: TextPage, study: ScaleStudy) -> None:
    """Figures measured by themselves: read, design and now."""
    if not study.measured:
        return
    units = page.terminal.units
    page.blank()
    page.rule("Measured (design -> now)")
    for each in study.measured:
        value = show_spread(each.value, each.sigma, each.dimension, units)
        design = "nothing" if each.design is None else show(each.design, each.dimension, units)
        day = f", {each.date}" if each.date else ""
        words = f"{each.words}{day}: read {', '.join(each.read)}; {design} -> {value}"
        page.paragraph(words, indent=2, first="· ")
