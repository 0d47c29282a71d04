"""The window of the pull to separate as text: newtons and kilograms-force beside pounds-force."""

import math
from typing import Final

from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import edited, percent
from goodflight.quantity import show
from goodflight.studies.questions.separation_window import Pull, SeparationStudy
from goodflight.studies.rows import TITLES

STATES: Final = {
    "inside": "measured pull is inside the window",
    "outside": "measured pull is outside the window",
    "no window": "there is no right pull",
    "unknown": "not known whether the pull is right",
}
UNITS: Final = {"metric": ("N", "kgf", "lbf"), "imperial": ("lbf",)}


def separation_text(study: SeparationStudy, terminal: Terminal | None = None) -> str:
    """Window, measured pull, what sets both ends, chances of the rows of the separation."""
    page = TextPage(terminal or Terminal())
    units = page.terminal.units
    name = study.rocket + (" (invented)" if study.invented else "")
    page.title(
        [name, "Separation: how hard should it pull apart?", STATES[study.state]],
        [("plan", study.plan), ("motor", study.motor), ("flights", str(study.flights))],
    )
    page.blank()
    page.rule("Pull on a luggage scale")
    page.row("  ", f"lowest    {_force(study.min_n, units)}")
    page.row("  ", f"highest   {_force(study.max_n, units)}")
    page.row("  ", f"measured  {_measured(study, units)}")
    for line in study.advice:
        page.paragraph(line, indent=2, first="→ ")
    page.blank()
    page.rule("What sets the window (9 in 10 flights)")
    for pull in study.pulls:
        page.row("  ", f"{pull.label:<35} {_range(pull, page.terminal.units)}")
    if study.chances:
        page.blank()
        page.rule("Chances with the pull as entered")
        for key, chance in study.chances.items():
            page.row("  ", f"{TITLES[key]}: {percent(chance) or 'no flight fails'}")
    page.blank()
    page.rule("Cautions")
    for warning in edited(study.warnings, page.terminal.units):
        page.paragraph(warning, indent=2, first="· ")
    return page.render()


def _force(value_n: float | None, units: str) -> str:
    if value_n is None:
        return "not known"
    return "   ".join(show(value_n, "force", unit=unit, digits=3) for unit in UNITS[units])


def _measured(study: SeparationStudy, units: str) -> str:
    if study.measured_n is None:
        return "not known"
    sigma = show(study.measured_sigma_n, "force", units, digits=2)
    return f"{_force(study.measured_n, units)}   (± {sigma})"


def _range(pull: Pull, units: str) -> str:
    if not math.isfinite(pull.middle_n):
        return "not known"
    ends = " to ".join(show(end, "force", units, digits=2) for end in (pull.low_n, pull.high_n))
    factor = f"divided by {pull.factor:g}" if pull.key == "charge" else f"times {pull.factor:g}"
    return f"{show(pull.middle_n, 'force', units, digits=2)} ({ends}), {factor}"
