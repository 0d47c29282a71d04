"""One nominal flight as text for a terminal."""

from itertools import groupby

from goodflight.outputs.figures import FAR_UNIT, FIGURES, OTHER, dimension, figure, words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import edited
from goodflight.quantity import show
from goodflight.quantity.said import Words
from goodflight.studies.results import FlightReport


def flight_text(report: FlightReport, terminal: Terminal | None = None) -> str:
    """Events in the order they happen, then the figures by part of the flight."""
    page = TextPage(terminal or Terminal())
    units = page.terminal.units
    air = "calm air: no wind, no gusts" if report.calm else "the plan's wind and one run of gusts"
    page.title(
        [named(report.rocket, report.invented), "One nominal flight", air],
        [("plan", report.plan), ("motor", report.motor)],
    )
    page.blank()
    page.rule("What happens when")
    for name, time_s, height_m in report.events:
        height = show(height_m, "length", units, 3, FAR_UNIT[units])
        page.row(f"  {time_s:7.2f} s  {height:>9}  {name}")
    for part, names in groupby(_in_order(report), key=lambda name: words(name)[0]):
        page.blank()
        page.rule(part)
        for name in names:
            value = figure(report.figures[name], dimension(name), units)
            page.row(f"  {value:>12}  {words(name)[1]}")
    foot(page, report.warnings, report.invented)
    return page.render()


def named(rocket: str, invented: bool) -> str:
    """A rocket's name in a title."""
    return f"{rocket} (invented)" if invented else rocket


def _in_order(report: FlightReport) -> list[str]:
    parts = [*dict.fromkeys(part for part, _ in FIGURES.values()), OTHER]
    listed = list(FIGURES)
    return sorted(
        report.figures,
        key=lambda name: (
            parts.index(words(name)[0]),
            listed.index(name) if name in FIGURES else len(listed),
        ),
    )


def foot(page: TextPage, warnings: tuple[Words, ...], invented: bool) -> None:
    """Cautions, and whether it is made up."""
    page.blank()
    page.rule("Cautions")
    for warning in edited(warnings, page.terminal.units):
        page.paragraph(warning, indent=2, first="· ")
    if invented:
        page.paragraph("Rocket, motors, field and weather of this project are invented.")
