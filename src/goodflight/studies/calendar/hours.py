"""When each person sits at the bench, and for how long."""

from collections.abc import Sequence
from typing import Final

from goodflight.project.calendar_files import (
    EVENING_FROM,
    WEEKDAYS,
    WEEKEND_FROM,
    PersonTable,
)

MINUTES: Final = 60
SATURDAY: Final = 5


def even_s(person: PersonTable) -> float | None:
    """Time of each sitting [s] where only hours a week are told; None = told day by day."""
    if person.hours_per_week is None or person.evening or person.weekend:
        return None
    return person.hours_per_week.value / len(person.weekdays or WEEKDAYS)


def sitting_of(person: PersonTable, weekday: int) -> tuple[int, int, float]:
    """Minutes at the bench, minutes more if it must be, hour of the clock it begins."""
    weekend = weekday >= SATURDAY
    begins = (person.weekend_from or WEEKEND_FROM) if weekend else person.evening_from
    hour = _clock_h(begins or EVENING_FROM)
    if person.weekdays and WEEKDAYS[weekday] not in person.weekdays:
        return 0, 0, hour
    told, even = person.weekend if weekend else person.evening, even_s(person)
    if even is not None:
        minutes = round(even / MINUTES)
    else:
        minutes = round(told.value / MINUTES) if told is not None else 0
    late = (
        0 if weekend or person.late is None or not minutes else round(person.late.value / MINUTES)
    )
    return minutes, late, hour


def longest_min(people: Sequence[PersonTable]) -> int:
    """The longest sitting of a week [min]."""
    each = (sitting_of(person, day) for person in people for day in range(len(WEEKDAYS)))
    return max((minutes + late for minutes, late, _ in each), default=0)


def _clock_h(text: str) -> float:
    hours, minutes = text.split(":")
    return int(hours) + int(minutes) / MINUTES
