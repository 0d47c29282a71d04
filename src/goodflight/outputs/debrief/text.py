"""A debrief as text."""

from goodflight.outputs.debrief import next_words, words
from goodflight.outputs.debrief.right_words import kept_words, right_words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.quantity.said import placed
from goodflight.studies.debriefing.loads import Again
from goodflight.studies.debriefing.next_flight import NextFlight
from goodflight.studies.debriefing.why import Why
from goodflight.studies.questions.debrief import DebriefStudy


def debrief_text(study: DebriefStudy, terminal: Terminal | None = None) -> str:
    """Why the charge came so, where the figures fell, what the rocket is now, the log book."""
    page = TextPage(terminal or Terminal())
    page.title(
        [study.rocket + (" (invented)" if study.invented else ""), "Debrief"],
        [("flight", _of(study)), ("plan", study.plan)] if study.plan else [],
    )
    page.blank()
    for each in study.doubts:
        page.paragraph(f"{each}.", ink="signal", first="! ", indent=2)
    if study.doubts:
        page.blank()
    if study.kept is not None:
        page.paragraph(kept_words(study.flight, study.kept))
        page.blank()
    _logs(page, study)
    if study.why is not None:
        _fit(page, study, study.why)
    if study.order is not None:
        page.rule("Cord, canopy and booster after the charge")
        for each in words.order_words(study.order, page.terminal.units):
            page.paragraph(f"{each}.", indent=2, first="· ")
        page.paragraph(words.ORDER_OF, indent=2, ink="fine")
        page.blank()
    if study.again is not None:
        _again(page, study, study.again)
    if study.next is not None:
        _next(page, study.next)
    _book(page, study)
    page.rule("Was the ledger right?")
    for each in right_words(study.right):
        page.paragraph(each, indent=2, first="· ")
    page.blank()
    for said in (*study.taken, *study.cautions):
        page.paragraph(placed(said, page.terminal.units), indent=2, first="· ")
    return page.render()


def _of(study: DebriefStudy) -> str:
    """What was looked at."""
    return study.flight or (study.logs[0].file if study.logs else "as typed")


def _logs(page: TextPage, study: DebriefStudy) -> None:
    units = page.terminal.units
    for log in study.logs:
        page.rule(f"The log {log.file}")
        for each in words.log_words(log, units):
            page.paragraph(each, indent=2)
        page.paragraph("How it was read", indent=2)
        for each in words.column_words(log):
            page.paragraph(each, indent=4, first="· ", ink="fine")
        page.blank()


def _fit(page: TextPage, study: DebriefStudy, why: Why) -> None:
    units = page.terminal.units
    page.rule("Charge and apogee")
    page.paragraph(f"{why.words[0].upper()}{why.words[1:]}.")
    page.blank()
    page.rule("Where it fell among the flights predicted")
    for place in study.places:
        ink = "signal" if place.odd else "ink"
        page.paragraph(words.place_words(place, units), indent=2, ink=ink)
    page.blank()
    page.rule("The rocket, before and with this flight (one standard deviation)")
    if study.curve is not None:
        page.paragraph(words.curve_words(study.curve, units), indent=2, ink="fine")
    for fitted in study.fitted:
        page.paragraph(words.fitted_words(fitted, units), indent=2)
    for tied in study.tied:
        page.paragraph(tied, indent=2, first="· ")
    how = "" if study.flight in study.carried else " (--carry-over takes it over to the rocket)"
    page.paragraph(words.known_words(study) + how, indent=2, first="· ")
    page.blank()


def _again(page: TextPage, study: DebriefStudy, again: Again) -> None:
    units = page.terminal.units
    page.rule("Before it flies again: look at these first")
    for load in again.loads:
        if load.first:
            ink = "signal" if load.damaged or load.share > 1.0 else "ink"
            page.paragraph(f"{words.load_words(load, units)}.", indent=2, ink=ink)
    push = study.logs[0].highest_mps2 if study.logs else None
    for each in words.again_words(again, push, units):
        page.paragraph(f"{each}.", indent=2, first="· ")
    page.blank()


def _next(page: TextPage, found: NextFlight) -> None:
    units = page.terminal.units
    page.rule("The next flight")
    page.paragraph(f"{next_words.basis_words(found, units)}.", indent=2)
    for each in next_words.delay_words(found):
        page.paragraph(f"{each.rstrip('.')}.", indent=2)
    page.paragraph("Motors of the folder, the safest first:", indent=2)
    for row in found.motors:
        page.paragraph(f"{next_words.motor_words(row, units)}.", indent=4, first="· ")
    page.paragraph(next_words.DECIDE, indent=2, ink="fine")
    page.blank()
    page.rule(next_words.level_title(found.level))
    page.paragraph(f"{next_words.code_words(found.level)}.", indent=2)
    for gap in found.level.gaps:
        ink = "signal" if gap.state == "lacking" else "ink"
        page.paragraph(f"{next_words.gap_words(gap, units)}.", indent=2, first="· ", ink=ink)
    page.blank()


def _book(page: TextPage, study: DebriefStudy) -> None:
    units = page.terminal.units
    page.rule("Log book")
    if not study.book:
        page.paragraph(words.EMPTY)
    for line in study.book:
        page.paragraph(words.line_words(line, units), indent=2)
        for damage in words.damage_words(line):
            page.paragraph(damage, indent=4, first="· ", ink="signal" if line.damage else "fine")
    if study.book:
        page.paragraph(words.count_words(study))
    page.blank()
