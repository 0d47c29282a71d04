"""A search as text."""

from typing import Final

from goodflight.outputs.find import find_words as words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.quantity import show
from goodflight.studies.questions.find import FindStudy

SHOWN: Final = 12  # lanes


def find_text(study: FindStudy, terminal: Terminal | None = None) -> str:
    """Where to look, how the patch shrank, lanes, light, what speaks against it."""
    page = TextPage(terminal or Terminal())
    units = page.terminal.units
    page.title(
        [study.rocket + (" (invented)" if study.invented else ""), "Where to look"],
        [("plan", study.plan), ("field", study.site)],
    )
    page.blank()
    for each in study.warnings:
        page.paragraph(each, ink="signal", first="! ", indent=2)
    page.paragraph(words.headline(study, units))
    for place in study.places[1:]:
        far = show(place.distance_m, "length", units)
        page.paragraph(f"From {place.who}: {far}, {words.side_words(place.bearing_rad)}.")
    page.paragraph(words.ways_words(study))
    page.paragraph(words.light_words(study))
    page.blank()
    page.rule("Ground that holds 9 in 10, entry by entry")
    for step in study.steps:
        area = words.area_words(step.area_m2, units)
        against = words.step_words(step)
        page.row("  ", f"{area:>11}  {step.words}", (f"  {against}" if against else "", "signal"))
    page.blank()
    page.rule("Lanes to walk (from the pad: true bearing, distance)")
    page.paragraph(words.lanes_words(study, units))
    for lane in study.lanes[:SHOWN]:
        number, start, end, long = words.lane_words(lane, units)
        page.row("  ", f"{number:>2}  from {start:<17} to {end:<17} {long}")
    if len(study.lanes) > SHOWN:
        page.paragraph(f"{len(study.lanes) - SHOWN} more on paper (--pdf) and in JSON.", indent=4)
    if study.pad_lonlat is None:
        page.paragraph(words.NO_GPX, ink="fine")
    page.blank()
    for each in study.cautions:
        page.paragraph(each, indent=2, first="· ")
    return page.render()
