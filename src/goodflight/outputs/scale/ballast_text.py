"""Ballast for a margin asked for, and its side effects, as text."""

from typing import Final

from goodflight.outputs.figures import figure
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import percent
from goodflight.quantity import show
from goodflight.quantity.said import told
from goodflight.studies.questions.ballast import BallastStudy

SHOWN: Final = 6  # rows that change most
NOT_WEIGHED: Final = (
    "The rocket has not been weighed whole: this is the design's balance. Weigh it first: a "
    "balance point that is off by a hundredth of the length asks for much ballast, or for none."
)


def ballast_text(study: BallastStudy, terminal: Terminal | None = None) -> str:
    """The answer, how it is fixed, margins and flights without and with it."""
    page = TextPage(terminal or Terminal())
    units = page.terminal.units
    page.title(
        [study.rocket + (" (invented)" if study.invented else ""), "Ballast"],
        [("plan", study.plan), ("motor", study.motor)],
    )
    page.blank()
    words = study.words.told(units)
    page.paragraph(words[0].upper() + words[1:] + ".")
    page.paragraph(margins_words(study), ink="fine")
    if not study.weighed:
        page.paragraph(NOT_WEIGHED)
    if study.verdict != "enough":
        return page.render()
    page.blank()
    page.rule("How it is fixed (common practice)")
    for each in (*study.fixing, push_words(study, units)):
        page.paragraph(told(each, units), indent=2, first="· ")
    page.blank()
    page.rule("What it changes (without -> with)")
    for effect in study.effects:
        before, now = (figure(x, effect.dimension, units) for x in (effect.before, effect.now))
        page.row("  ", f"{effect.name:<36} {before} -> {now}")
    if study.chance_before is not None and study.chance_now is not None:
        chances = (
            f"{percent(study.chance_before) or 'none'} -> {percent(study.chance_now) or 'none'}"
        )
        page.row("  ", f"{'flights that fail':<36} {chances} of {study.flights}")
    for row in study.rows[:SHOWN]:
        page.row("  ", f"{row.title}: {row.before} -> {row.now} of {study.flights}")
    page.paragraph(rest_words(study), indent=2, ink="fine")
    return page.render()


def margins_words(study: BallastStudy) -> str:
    """The lesser margin now and then, with how sure it is."""
    now, then, sigma = (
        show(each, "calibre") for each in (study.margin_cal, study.margin_then_cal, study.sigma_cal)
    )
    change = "" if study.verdict != "enough" else f", then {then}"
    return f"Least of lift-off and burnout with {study.motor}: now {now}{change}, ± {sigma}."


def push_words(study: BallastStudy, units: str) -> str:
    """What its fastening has to hold."""
    push = show(study.push_n, "force", units)
    return (
        f"Under thrust it pushes aft with {push}; the charge and the opening jerk pull several "
        "times as hard, so pull on it by hand before you close the nose."
    )


def rest_words(study: BallastStudy) -> str:
    """How many rows change beside those shown, and by how little."""
    rest = study.rows[SHOWN:]
    if not rest:
        return "All other rows fail on the same flights."
    most = abs(rest[0].now - rest[0].before)
    flights = "flight" if most == 1 else "flights"
    return f"{len(rest)} more rows change by {most} {flights} of {study.flights} at most."
