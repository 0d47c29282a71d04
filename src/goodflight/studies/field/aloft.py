"""What others' flights of the day say of the wind aloft: its growth with height, its direction.

A canopy comes down at a steady speed, so it drifts with the mean wind of the layer it falls
through. Left out: that a rocket opens somewhat upwind of the pad; its error is in the distance.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

from goodflight.physics.air.aloft import (
    drift_sigma_m_s,
    exponent_of_drift,
    layer_wind_m_s,
    weighed_together,
)
from goodflight.physics.air.model import Day
from goodflight.project.day_file import SeenTable

DISTANCE_ERROR: Final = 0.15  # of a distance paced, or judged on a map; guess
OPENS_OFF_M: Final = 40.0  # a rocket opens so far off the pad, whichever way; guess
TIME_ERROR_S: Final = 3.0  # canopy open to the ground, by watch; guess
BEARING_ERROR_RAD: Final = math.radians(10.0)  # gusts and the place of the opening; guess
HEIGHT_ERROR: Final = 0.15  # of a height told by somebody, or a speed x a time; guess


@dataclass(frozen=True)
class Seen:
    """Another flight: bearing and distance of its landing, time from the open canopy down."""

    bearing_rad: float
    distance_m: float | None = None
    descent_s: float | None = None
    height_m: float | None = None
    speed_m_s: float | None = None  # of descent, in place of the height

    @property
    def opened_m(self) -> float | None:
        """Height at which it opened."""
        if self.height_m is not None or self.speed_m_s is None or self.descent_s is None:
            return self.height_m
        return self.speed_m_s * self.descent_s


def seen_of(row: SeenTable) -> Seen:
    """A flight as it was entered."""
    figures = (row.distance, row.descent, row.height, row.speed)
    return Seen(row.bearing.value, *(None if each is None else each.value for each in figures))


@dataclass(frozen=True)
class Aloft:
    """The wind with height, before others' flights and after."""

    flights: Annotated[int, "others' flights that were used"]
    exponent: Annotated[tuple[float, float], "growth with height before: value, spread"]
    exponent_now: Annotated[tuple[float, float], "and after"]
    from_rad: Annotated[tuple[float, float], "where the wind comes from before: value, spread"]
    from_now_rad: Annotated[tuple[float, float], "and after [rad]"]
    drift_m_s: Annotated[tuple[float, ...], "drift of each flight that told one [m/s]"]
    expected_m_s: Annotated[tuple[float, ...], "what the reading at the ground had them drift"]


def narrowed(day: Day, seen: Sequence[Seen]) -> tuple[Day, Aloft | None]:
    """The day's wind with what others' flights showed.

    Parameters
        day : Day - with the wind read at the ground. [SI]
        seen : sequence of Seen - others' flights of this hour. [SI]
    Returns
        day, aloft : Day, Aloft or None - None without any flight. [SI]
    Raises
        nothing
    Validity
        First order; a flight that tells no drift still tells the direction.
    Source
        [hellmann] through `exponent_of_drift`; inverse-variance weighting.
    """
    if not seen:
        return day, None
    exponent = before = day.wind_exponent, day.wind_exponent_sigma
    come = told = day.wind_from_rad, day.wind_from_sigma_rad
    drifts, expected = [], []
    for each in seen:
        come = weighed_together(
            come, (_near(each.bearing_rad + math.pi, come[0]), BEARING_ERROR_RAD)
        )
        found = _exponent(day, each)
        if found is not None:
            drift, top, reading = found
            drifts.append(drift)
            expected.append(layer_wind_m_s(day.wind_m_s, day.wind_height_m, before[0], top))
            exponent = weighed_together(exponent, reading)
    changed = replace(
        day,
        wind_exponent=exponent[0],
        wind_exponent_sigma=exponent[1],
        wind_from_rad=come[0] % math.tau,
        wind_from_sigma_rad=come[1],
    )
    now = (come[0] % math.tau, come[1])
    return changed, Aloft(
        flights=len(seen),
        exponent=before,
        exponent_now=exponent,
        from_rad=told,
        from_now_rad=now,
        drift_m_s=tuple(drifts),
        expected_m_s=tuple(expected),
    )


def _near(angle_rad: float, other_rad: float) -> float:
    """The same direction, counted so that it lies within half a turn of another."""
    return other_rad + (angle_rad - other_rad + math.pi) % math.tau - math.pi


def _exponent(day: Day, seen: Seen) -> tuple[float, float, tuple[float, float]] | None:
    """Drift, height of the opening, and the exponent with its spread that they stand for."""
    top, far, time = seen.opened_m, seen.distance_m, seen.descent_s
    if top is None or far is None or not time or top < 3.0 * day.wind_height_m:
        return None
    if day.wind_m_s <= 0.0:
        return None
    drift = far / time
    off = math.hypot(DISTANCE_ERROR * far, OPENS_OFF_M)
    sigma = drift_sigma_m_s(far, time, (off, TIME_ERROR_S))

    def read(drifted: float, wind: float, height: float) -> float:
        return exponent_of_drift(drifted, wind, day.wind_height_m, height)

    middle = read(drift, day.wind_m_s, top)
    wind = day.wind_m_s + day.wind_sigma_m_s
    errors = (
        read(drift + sigma, day.wind_m_s, top) - middle,
        read(max(drift - sigma, 0.0), day.wind_m_s, top) - middle,
        read(drift, wind, top) - middle,
        read(drift, day.wind_m_s, top * (1.0 + HEIGHT_ERROR)) - middle,
    )
    spread = math.hypot(max(abs(errors[0]), abs(errors[1])), errors[2], errors[3])
    return drift, top, (middle, spread)
