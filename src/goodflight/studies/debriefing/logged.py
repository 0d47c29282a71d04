"""What a log says of a flight, to be shown beside the fit."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from goodflight.physics.recorded import DIMENSION_OF, EVENT_OF, TIME_OF, Happened, Measured
from goodflight.physics.recorded_events import in_the_air_as_it_was
from goodflight.physics.recorded_series import evenly
from goodflight.project.logs.meaning import LogColumn
from goodflight.project.logs.read import LogRead
from goodflight.quantity.said import Said, literal
from goodflight.studies.case.planned import Case

EVENTS: Final = {
    "burnout_s": "burnout",
    "apogee_s": "apogee",
    "charge_s": "charge",
    "canopy_s": "cord taut or canopy, the hardest jerk",
    "second_canopy_s": "second canopy",
    "landing_s": "landing",
    "apogee_standard_m": "apogee in the standard atmosphere, as an altimeter shows it",
    "apogee_m": "apogee in the air as it was",
    "second_canopy_m": "height of the second canopy",
    "first_rate_mps": "speed down, first",
    "last_rate_mps": "speed down, last",
}

NOTED: Final = {  # what a builder notes -> its name, its dimension
    key: (name, DIMENSION_OF[name])
    for key, name in {**TIME_OF, "peak": "apogee_standard_m"}.items()
}
MOMENTS: Final = 260  # of a curve
AROUND_S: Final = 3.0  # before lift-off and after landing
COMPARED: Final = (  # what both may show: its name, its words, more of it, less of it
    ("apogee_standard_m", "apogee", "higher", "lower"),
    ("apogee_s", "its time", "later", "earlier"),
    ("charge_s", "charge", "later", "earlier"),
    ("last_rate_mps", "speed down", "faster", "slower"),
    ("landing_s", "landing", "later", "earlier"),
)
FAR: Final = 3.0  # errors of both: the two disagree


@dataclass(frozen=True)
class LogEvent:
    """One thing a log shows."""

    name: Annotated[str, "which event or figure"]
    words: Annotated[str, "the same in words"]
    shown: Annotated[
        Measured, "value and standard error; times from lift-off, heights from the pad"
    ]

    @property
    def dimension(self) -> Annotated[str, "of the value"]:
        """Dimension of the value."""
        return DIMENSION_OF[self.name]


@dataclass(frozen=True)
class FalseDrop:
    """Pressure in the bay that looks like a fall and is none."""

    from_s: Annotated[float, "after lift-off [s]"]
    to_s: Annotated[float, "after lift-off [s]"]
    by_m: Annotated[float, "how far the height seemed to fall [m]"]


@dataclass(frozen=True)
class LogShown:
    """A log of the flight as it was read."""

    file: Annotated[str, "its name"]
    shape: Annotated[str, "of its head; logs of one logger share it"]
    columns: Annotated[tuple[LogColumn, ...], "what each column was taken for"]
    said: Annotated[tuple[str, ...], "what was done to read it"]
    readings: Annotated[int, "kept of it"]
    lasts_s: Annotated[float, "from the first reading to the last [s]"]
    every_s: Annotated[float, "usual time between two readings [s]"]
    lift_off_s: Annotated[float, "lift-off, from the first reading [s]"]
    highest_mps2: Annotated[float | None, "largest reading in the thrust [m/s2]; null = none"]
    events: Annotated[tuple[LogEvent, ...], "what happened when"]
    false_drops: Annotated[tuple[FalseDrop, ...], "not taken for flight"]


def happened_in(read: LogRead, case: Case) -> Happened:
    """Events of a log, heights and rates also in the air as it was: the day's temperature."""
    day = case.day
    return in_the_air_as_it_was(
        read.events.happened, day.temperature_k, case.site.elevation_m, day.temperature_sigma_k
    )


def shown(read: LogRead, happened: Happened) -> LogShown:
    """A log to be shown."""
    found = [LogEvent(name, EVENTS[name], value) for name, value in happened.given().items()]
    events, times = read.events, read.recorded.time_s
    return LogShown(
        file=read.file,
        shape=read.shape,
        columns=read.columns,
        said=read.said,
        readings=len(times),
        lasts_s=float(times[-1] - times[0]),
        every_s=float(np.median(np.diff(times))),
        lift_off_s=events.lift_off_s,
        highest_mps2=events.highest_mps2,
        events=tuple(found),
        false_drops=tuple(FalseDrop(*each) for each in events.false_drops),
    )


def apart(logs: Sequence[LogShown]) -> tuple[Said, ...]:
    """How far further logs of the flight are from the first, which is fitted."""
    found = []
    for other in logs[1:]:
        one, two = ({each.name: each.shown for each in log.events} for log in (logs[0], other))
        words, figures = [], dict[str, tuple[float, str]]()
        for name, what, more, less in COMPARED:
            if name in one and name in two:
                off = two[name].value - one[name].value
                far = abs(off) > FAR * math.hypot(one[name].error, two[name].error)
                figures[name] = abs(off), DIMENSION_OF[name]
                way = more if off > 0.0 else less
                words.append(f"{what} {{{name}}} {way}{', they disagree' if far else ''}")
            elif name in one or name in two:
                alone = logs[0].file if name in one else other.file
                words.append(f"{what} in {literal(alone)} alone")
        both = f"{literal(other.file)} against {literal(logs[0].file)}, which is fitted"
        found.append(Said(f"{both}: {', '.join(words)}", figures))
    return tuple(found)


@dataclass(frozen=True)
class LogCurve:
    """Height of a log against time, thinned to be drawn: of each moment the lowest and highest."""

    times_s: Annotated[tuple[float, ...], "after lift-off [s]"]
    heights_m: Annotated[tuple[float, ...], "above the pad, standard atmosphere [m]"]
    events: Annotated[tuple[LogEvent, ...], "those with a time"]


def drawn_curve(read: LogRead) -> LogCurve:
    """The log as a curve, from a little before lift-off to a little after the landing."""
    even, events = evenly(read.recorded), read.events
    assert even is not None  # it was read as a flight
    time = even.time_s - events.lift_off_s
    level = float(np.median(even.raw_m[time < 0.0])) if (time < 0.0).any() else even.raw_m[0]
    down = events.happened.landing_s
    end = float(time[-1]) if down is None else down.value + AROUND_S
    inside = np.flatnonzero((time >= -AROUND_S) & (time <= end))
    times, heights = list[float](), list[float]()
    for moment in np.array_split(inside, min(MOMENTS, len(inside))):
        height = even.raw_m[moment]
        for at in sorted({int(np.argmin(height)), int(np.argmax(height))}):
            times.append(float(time[moment[at]]))
            heights.append(float(height[at] - level))
    timed = [
        LogEvent(name, EVENTS[name], value)
        for name, value in events.happened.given().items()
        if name in EVENT_OF
    ]
    return LogCurve(tuple(times), tuple(heights), tuple(timed))
