"""One nominal flight, and the table of delay trims, as text for a terminal."""

from itertools import groupby

from goodflight.outputs.figures import FIGURES, OTHER, dimension, figure, words
from goodflight.outputs.sheet_text import SheetText, Terminal
from goodflight.outputs.words import cautions, percent, speak
from goodflight.studies.results import FlightReport, TrimRow, TrimStudy


def flight_text(report: FlightReport, terminal: Terminal | None = None) -> str:
    """Events in the order they happen, then the figures by part of the flight."""
    sheet = SheetText(terminal or Terminal())
    units = sheet.terminal.units
    air = "calm air: no wind, no gusts" if report.calm else "the plan's wind and one run of gusts"
    sheet.title(
        [_name(report.rocket, report.invented), "One nominal flight", air],
        [("plan", report.plan), ("motor", report.motor)],
    )
    sheet.blank()
    sheet.rule("What happens when")
    for name, time_s, height_m in report.events:
        sheet.line(
            f"  {figure(time_s, 'time', units):>9}  {figure(height_m, 'length', units):>9}  {name}"
        )
    for part, names in groupby(_in_order(report), key=lambda name: words(name)[0]):
        sheet.blank()
        sheet.rule(part)
        for name in names:
            value = figure(report.figures[name], dimension(name), units)
            sheet.line(f"  {value:>12}  {words(name)[1]}")
    _foot(sheet, report.warnings, report.invented)
    return sheet.render()


def trim_text(study: TrimStudy, terminal: Terminal | None = None) -> str:
    """Every allowed trim, the least total chance first."""
    sheet = SheetText(terminal or Terminal())
    units = sheet.terminal.units
    sheet.title(
        [_name(study.rocket, study.invented), "Delay trims, the safest first"],
        [
            ("plan", study.plan),
            ("motor", study.motor),
            ("draws", str(study.draws)),
            ("seed", str(study.seed)),
        ],
    )
    sheet.blank()
    for place, row in enumerate(study.rows):
        _trim(sheet, study, row, place, units)
    sheet.blank()
    sheet.paragraph("In brackets: 9 in 10 flights.", ink="fine")
    _foot(sheet, study.warnings, study.invented)
    return sheet.render()


def _trim(sheet: SheetText, study: TrimStudy, row: TrimRow, place: int, units: str) -> None:
    taken = f"take out {row.trim_s:g} s" if row.trim_s else "as sold"
    planned = "  (as planned)" if row.trim_s == study.planned_trim_s else ""
    chance = f"{speak(row.chance, row.low, row.high)} {percent(row.chance):>7}"
    ink = "strong" if place == 0 else "ink"
    sheet.line((f"{taken}, {row.delay_s:g} s left{planned}", ink))
    sheet.paragraph(f"anything fails: {chance}", indent=2)
    low, middle, high = (figure(value, "speed", units) for value in row.ejection_m_s)
    sheet.paragraph(f"air speed at ejection {middle} ({low} to {high})", indent=2)
    early, mean, late = row.after_apogee_s
    side = "after" if mean >= 0 else "before"
    sheet.paragraph(
        f"ejects {abs(mean):.1f} s {side} apogee ({early:+.1f} to {late:+.1f} s), at "
        f"{figure(row.ejection_m[1], 'length', units)}",
        indent=2,
    )
    named = [f"{key} {percent(chance) or '0 %'}" for key, chance in row.chances]
    if named:
        sheet.paragraph(", ".join(named), indent=2, ink="fine")


def _name(rocket: str, invented: bool) -> str:
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


def _foot(sheet: SheetText, warnings: tuple[str, ...], invented: bool) -> None:
    sheet.blank()
    sheet.rule("Mind")
    for warning in cautions(warnings):
        sheet.paragraph(warning, indent=2, first="· ")
    if invented:
        sheet.paragraph("Rocket, motors, field and weather of this project are invented.")
