"""The calendar as iCalendar text (RFC 5545): one event for each step, launch day as a whole day.

Times are local without a zone, as the clock on the wall shows them: the project does not know one.
An event keeps its UID when the plan is made anew, so that a calendar moves it.
"""

from datetime import UTC, date, datetime, time, timedelta
from typing import Final
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event

from goodflight.outputs.calendar import words
from goodflight.studies.calendar.results import CalendarStep, CalendarStudy

MADE_BY: Final = "-//goodflight//calendar of the build//EN"


def calendar_ics(study: CalendarStudy, now: datetime) -> bytes:
    """The plan as iCalendar text.

    Parameters
        study : CalendarStudy - the plan. [-]
        now : datetime - when it was made, with its zone. [-]
    Returns
        text : bytes - UTF-8, lines folded, CRLF. [-]
    """
    made = Calendar()
    made.add("prodid", MADE_BY)
    made.add("version", "2.0")
    for step in study.steps:
        made.add_component(_step(study, step, now))
    if study.launch:
        made.add_component(_launch(study, now))
    return bytes(made.to_ical())


def _event(study: CalendarStudy, key: str, now: datetime) -> Event:
    event = Event()
    event.add("uid", str(uuid5(NAMESPACE_URL, f"goodflight:{study.rocket}:{key}")))
    event.add("dtstamp", now.astimezone(UTC))
    return event


def _step(study: CalendarStudy, step: CalendarStep, now: datetime) -> Event:
    event = _event(study, step.key, now)
    begins = datetime.combine(date.fromisoformat(step.day), time.fromisoformat(step.begins))
    event.add("dtstart", begins)
    event.add("dtend", begins + timedelta(minutes=round(step.minutes)))
    event.add("summary", f"{study.rocket}: {step.title}")
    if step.place:
        event.add("location", step.place)
    late = words.LATE if step.late else ""
    told = (words.cure_words(step), words.marks(step), late, words.counted_to(study))
    event.add("description", "\n".join(each for each in told if each))
    return event


def _launch(study: CalendarStudy, now: datetime) -> Event:
    event = _event(study, "launch day", now)
    day = date.fromisoformat(study.launch)
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    event.add("summary", f"{study.rocket}: launch day")
    told = (words.headline(study), *words.chance_words(study)[:1], words.PLAN_ONLY)
    event.add("description", "\n".join(told))
    return event
