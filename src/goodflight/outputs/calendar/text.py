"""The calendar for a terminal."""

from goodflight.outputs.calendar import words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.quantity.said import Convertible, marked
from goodflight.studies.calendar.results import CalendarStudy


def calendar_text(study: CalendarStudy, terminal: Terminal | None = None) -> str:
    """The answer, what helps, every sitting, the chain, and what it stands on."""
    page = TextPage(terminal or Terminal())
    page.title(
        [study.rocket + (" (invented)" if study.invented else ""), "Calendar to launch day"],
        [
            ("launch", words.day_words(study.launch) or "not entered"),
            ("from", words.day_words(study.first)),
            ("done", f"{study.done} steps, {len(study.steps)} planned"),
        ],
    )
    page.blank()
    page.paragraph(words.headline(study), ink="signal" if study.state == "impossible" else "strong")
    if words.proof(study):
        page.paragraph(words.proof(study))
    for each in study.warnings:
        page.paragraph(Convertible(f"{marked(each)}."), first="! ", indent=2, ink="signal")
    _clash(page, study)
    _wanted(page, study)
    _chance(page, study)
    _cuts(page, study)
    _steps(page, study)
    if study.chain:
        page.blank()
        page.rule("What sets the day")
        for link in study.chain:
            page.paragraph(link.words, indent=4, first="→ ")
    if study.stands_on:
        page.blank()
        page.rule("What this stands on")
        for each in study.stands_on:
            page.paragraph(each, indent=2, first="· ")
    if study.steps:
        page.blank()
        page.paragraph(words.PLAN_ONLY)
    return page.render()


def _clash(page: TextPage, study: CalendarStudy) -> None:
    if not study.clash:
        return
    page.blank()
    page.rule("These cannot all hold; move any one of them")
    for each in study.clash:
        page.paragraph(each, indent=2, first="· ")


def _wanted(page: TextPage, study: CalendarStudy) -> None:
    if not study.wanted:
        return
    page.blank()
    page.rule("Enter in build.toml")
    for each in study.wanted:
        asked = Convertible(f"{each.label}: {each.key} = {marked(each.example)}")
        page.paragraph(asked, indent=4, first="? ")


def _chance(page: TextPage, study: CalendarStudy) -> None:
    if not study.chances:
        return
    page.blank()
    page.rule(f"Chance, of {study.builds} simulated builds")
    for each in words.chance_words(study):
        page.paragraph(each, indent=2)
    if study.levers:
        page.paragraph("What helps most, on the same builds:", indent=2)
    for lever in study.levers:
        page.paragraph(words.lever_words(study, lever), indent=4, first="· ")
    if any("heater" in lever.cost for lever in study.levers):
        page.paragraph(words.HEAT, indent=4, ink="fine")


def _cuts(page: TextPage, study: CalendarStudy) -> None:
    if not study.cuts:
        return
    page.blank()
    page.rule(words.CUTS)
    for each in study.cuts:
        page.paragraph(words.cut_words(study, each), indent=4, first="· ")


def _steps(page: TextPage, study: CalendarStudy) -> None:
    for head, least, steps in words.sittings(study):
        page.blank()
        page.rule(head)
        for step in steps:
            title = f"{step.title} ({step.minutes:.0f} min)"
            page.paragraph(title, first=f"{step.begins}  ", indent=7)
            place = words.place_words(step, page.terminal.units)
            told = (place, words.cure_words(step), words.marks(step, least))
            page.paragraph("; ".join(each for each in told if each), indent=7, ink="fine")
