"""The day board as text."""

from goodflight.outputs.field import day_words as words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.studies.field.checks import Check
from goodflight.studies.field.choices import Choice
from goodflight.studies.field.day import DayBoard, HourAnswer


def day_text(board: DayBoard, terminal: Terminal | None = None) -> str:
    """The big answer, why, the coming hours, the choice, the wind to walk away at."""
    page = TextPage(terminal or Terminal())
    units, now = page.terminal.units, board.now
    invented = " (invented)" if board.invented else ""
    page.title(
        [f"{board.rocket}{invented}", f"{now.time}: {words.spoken(now)}"],
        [
            ("plan", board.plan),
            ("field", board.site),
            ("flights", f"{board.flights} each"),
            ("limits", board.signed or "not signed"),
        ],
    )
    page.blank()
    page.paragraph(words.headline(board, units), ink="strong")
    page.paragraph(words.weather(now, units))
    page.blank()
    page.rule("What stands in the way, and what does not")
    for check, more in words.in_the_way(now.checks):
        _wrong(page, check, more)
    for check in now.checks:
        if check.held == "ok":
            told = f"{check.found.told(units)}, {check.limit.told(units)} ({check.source})"
            page.paragraph(f"{check.title}: {told}", indent=2, first=f"{words.MARKS['ok']} ")
    page.blank()
    page.rule("The choice")
    _choice(page, "as planned", now.planned)
    if now.changed is not None:
        told = words.changes(now.planned, now.changed, units)
        _choice(page, told, now.changed)
    page.paragraph(words.walk_away(board, units), ink="strong")
    seen = words.aloft(board, units)
    if seen:
        page.paragraph(seen)
    if board.hours:
        page.blank()
        page.rule("The coming hours, as forecast")
        for hour in board.hours:
            _hour(page, hour)
    page.blank()
    for each in board.warnings:
        page.paragraph(each, ink="fine")
    return page.render()


def _wrong(page: TextPage, check: Check, more: str) -> None:
    units = page.terminal.units
    page.paragraph(
        f"{check.title}: {check.found.told(units)}, {check.limit.told(units)} ({check.source}). "
        f"What helps: {check.turns.told(units)}{f'. Waits for the same: {more}' if more else ''}",
        indent=2,
        ink="signal" if check.held == "not ok" else "ink",
        first=f"{words.MARKS[check.held]} ",
    )


def _choice(page: TextPage, told: str, choice: Choice) -> None:
    page.paragraph(
        f"{told}: fails {words.fails(choice)}; {words.footprints(choice)}", indent=2, first="· "
    )


def _hour(page: TextPage, hour: HourAnswer) -> None:
    units = page.terminal.units
    page.line((f"{hour.time}  {words.spoken(hour)}", "strong"))
    page.paragraph(words.weather(hour, units), indent=7, ink="fine")
    told = [words.then(hour)]
    if hour.verdict == "change" and hour.changed is not None:
        told.append(words.changes(hour.planned, hour.changed, units))
    told.append(hour.reason.told(units))
    if hour.verdict != "go":
        told.append(f"what helps: {hour.turns.told(units)}")
    page.paragraph("; ".join(each for each in told if each), indent=7)
