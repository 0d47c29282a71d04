"""The calendar in words, the same on terminal, page and paper."""

from datetime import date
from itertools import groupby
from typing import Final

from goodflight.quantity import show
from goodflight.quantity.said import Convertible, marked
from goodflight.studies.calendar.results import CalendarStep, CalendarStudy, Cut, LeverEffect

PLAN_ONLY: Final = (
    "A plan, no promise: the label of the glue decides, and a joint is tested before it flies."
)
LATE: Final = "a late evening"
CUTS: Final = "What can be cut, and what that costs the ledger"
HEAT: Final = "Heat for curing is attended, and away from solvents and their vapour."


def day_words(text: str) -> str:
    """`Sat 6 Feb` for 2027-02-06; empty where there is none."""
    if not text:
        return ""
    day = date.fromisoformat(text)
    return f"{day:%a} {day.day} {day:%b}"


def year_words(text: str) -> str:
    """`Sat 6 Feb 2027`."""
    return f"{day_words(text)} {text[:4]}" if text else ""


def days(count: int) -> str:
    """`1 day`, `3 days`."""
    return f"{count} day{'' if abs(count) == 1 else 's'}"


def headline(study: CalendarStudy) -> str:
    """The answer in one sentence."""
    if study.state == "built":
        return f"Every step is ticked ({study.done}): nothing is left to plan."
    if study.state == "not known":
        count = len(study.wanted)
        return f"No plan yet: {count} figure{'' if count == 1 else 's'} missing, listed below."
    if study.state == "impossible":
        late = f"Ready {year_words(study.ready)} at the earliest. " if study.ready else ""
        return f"{late}No plan of work makes {year_words(study.launch) or 'this calendar'}."
    if study.slack_days is None:
        return f"Ready {year_words(study.ready)} at the earliest; no launch day is entered."
    before = days(study.slack_days) + " before" if study.slack_days else "on the morning of"
    return f"Ready {year_words(study.ready)}, {before} launch day {day_words(study.launch)}."


def proof(study: CalendarStudy) -> str:
    """Whether a better plan may exist."""
    if study.state not in ("planned", "impossible") or not study.ready:
        return ""
    to = f" {counted_to(study)}" if counted_to(study) else ""
    if not study.proven:
        return f"{_left_open(study)}{to}"
    more = [f"{days(study.spare_days)} in all to look again before points of no return"]
    late = study.late_evenings
    more.append(
        f"{late} evening{'' if late == 1 else 's'} longer than usual"
        if late
        else "no evening longer than usual"
    )
    most = f"Of those, this one has most: {more[0]}; {more[1]}."
    return f"Proven: no plan is ready earlier. {most}{to}"


def _left_open(study: CalendarStudy) -> str:
    """What is proven, and what the solver could not tell in its time."""
    if study.earliest == study.ready:
        return (
            "Proven: no plan is ready earlier. Whether another one, ready on the same day, has "
            "more days to look again or fewer long evenings, the solver could not tell in its time."
        )
    return (
        f"Proven: no plan is ready before {day_words(study.earliest)}. Whether one is ready "
        "between that day and this plan's, the solver could not tell in its time."
    )


def counted_to(study: CalendarStudy) -> str:
    """To which day slack is counted, where that is not launch day."""
    if not study.steps or (study.state == "planned" and study.launch):
        return ""
    why = "no plan makes launch day" if study.launch else "no launch day is entered"
    return f"Slack is counted to the ready day, {day_words(study.ready)}: {why}."


def chance_words(study: CalendarStudy) -> tuple[str, ...]:
    """The chance of being ready for each range day, the later ones for when it is missed."""
    told = []
    for number, each in enumerate(study.chances):
        missed = "if that is missed, ready for " if number and study.launch else "ready for "
        said = percent(each.chance)
        if study.at_most:
            said = f"at most {said.removeprefix('over ') if each.chance < 0.995 else '100 %'}"
        counted = f"{100 * each.low:.0f} to {100 * each.high:.0f} % by counting"
        why = f"; no more than before: {each.why}" if each.why else ""
        told.append(f"{missed}{day_words(each.day)}: {said} ({counted}){why}")
    if told and study.at_most:
        told.append(f"at most, because not known: {'; '.join(study.at_most)}")
    return tuple(told)


def percent(chance: float) -> str:
    """A chance of being ready; never quite none, never quite sure."""
    if chance <= 0.0:
        return "under 1 %"
    return "over 99 %" if chance >= 0.995 else f"{100 * chance:.0f} %"


def lever_words(study: CalendarStudy, each: LeverEffect) -> str:
    """`warm the shed to 18 °C for two nights: 61 % -> 88 %; takes a heater`."""
    before = percent(study.chances[0].chance)
    return Convertible(f"{marked(each.name)}: {before} → {percent(each.chance)}; takes {each.cost}")


def cut_words(study: CalendarStudy, each: Cut) -> str:
    """`leave out "glass on the tail" (60 min): 61 % → 74 %; anything fails 13 → 30 in 100: fins
    flutter 1 → 20 in 100`."""
    gain = f"ready {day_words(each.finish)}" if each.finish else "not ready in this calendar"
    if each.chance is not None and study.chances:
        gain = f"{percent(study.chances[0].chance)} → {percent(each.chance)}"
    head = f'leave out "{each.title}" ({each.minutes:.0f} min): {gain}; '
    if each.why:
        return f"{head}what it costs is {each.why}"
    rows = "; ".join(f"{row.title} {_step(row.before, row.after)}" for row in each.rows)
    total = f"anything fails {_step(each.fails_before, each.fails_after)} in 100"
    return f"{head}{total}: {rows or 'no row moves by what so few flights can tell'}"


def _step(before: float | None, after: float | None) -> str:
    one, two = ("?" if x is None else f"{100 * x:.0f}" for x in (before, after))
    return f"{one} → {two}"


def cure_words(step: CalendarStep) -> str:
    """What cures after a step, and until when."""
    if not step.glue:
        return ""
    touch = f"handle {day_words(step.touch)}" if step.touch else "not handled in this calendar"
    cured = f"cured by {day_words(step.cured)}" if step.cured else "not cured in this calendar"
    return f"{step.glue}: {touch}, {cured}"


def place_words(step: CalendarStep, units: str = "metric") -> str:
    """`shed, 9 °C`."""
    if step.place_k is None:
        return step.place
    return f"{step.place}, {show(step.place_k, 'temperature', units, digits=2)}"


def sittings(study: CalendarStudy) -> list[tuple[str, int, list[CalendarStep]]]:
    """Every day's head, the least slack on it in days, and its steps."""
    found = []
    for day, group in groupby(study.steps, key=lambda step: step.day):
        steps = list(group)
        least = min(step.slack_days for step in steps)
        late = f", {LATE}" if any(step.late for step in steps) else ""
        found.append((f"{day_words(day)}, {days(least)} of slack{late}", least, steps))
    return found


def marks(step: CalendarStep, least: int | None = None) -> str:
    """What is special about a step; its slack only where it has more than its day's least."""
    spare = "" if step.spare_days is None else f", {days(step.spare_days)} to look again before it"
    said = (
        "" if step.slack_days == least else f"{days(step.slack_days)} of slack",
        "sets the day" if step.critical else "",
        f"NO RETURN{spare}" if step.no_return else "",
    )
    return "; ".join(each for each in said if each)
