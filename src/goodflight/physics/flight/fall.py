"""Where and how fast a rocket of which nothing opens comes down, nose first from its apogee.

Answers it for many flights at once from what was flown to apogee. Left out: gusts below apogee,
lift (a rocket that falls flat or tail first comes down slower and elsewhere).
"""

import math
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.air.atmosphere import atmosphere
from goodflight.physics.flight.compiled import compiled_inside, compiled_owner

Array = NDArray[np.float64]
STEP_S: Final = 0.1
MOST_STEPS: Final = 3000  # five minutes


class Start(NamedTuple):
    """Each flight at its apogee, over the ground, (n,) each."""

    height_m: Array
    east_m: Array
    north_m: Array
    east_m_s: Array
    north_m_s: Array


class MeanWind(NamedTuple):
    """Power-law wind, (n,) each."""

    speed_m_s: Array
    from_rad: Array
    height_m: Array
    exponent: Array


class Impact(NamedTuple):
    """Landing points and speeds, (n,) each; nan where there was no apogee."""

    east_m: Array
    north_m: Array
    speed_m_s: Array


def nose_first_impact(
    start: Start,
    wind: MeanWind,
    *,
    drag_area_m2: Array,
    mass_kg: Array,
    ground_temperature_k: Array,
    ground_pressure_pa: Array,
    gravity_m_s2: float,
) -> Impact:
    """Impact of unopened rockets as point masses with the drag of the coasting rocket.

    Midpoint steps of 0.1 s; air density straight in its logarithm between ground and apogee.

    Parameters
        start : Start - at apogee. [m, m/s]
        wind : MeanWind - where it comes from, clockwise from north. [m/s, rad, m, -]
        drag_area_m2 : array (n,) - drag over dynamic pressure, nose first. [m2]
        mass_kg : array (n,) - without propellant. [kg]
        ground_temperature_k : array (n,) - at the pad. [K]
        ground_pressure_pa : array (n,) - at the pad. [Pa]
        gravity_m_s2 : float - of the site. [m/s2]
    Returns
        impact : Impact - points and speeds over the ground. [m, m/s]
    Raises
        nothing
    Validity
        Apogees to some 3 km; within 1 % of the flight kernel's own fall in the same wind.
    Source
        Equation of motion of a point mass; derived.
    Example
        nose_first_impact(start, wind, drag_area_m2=a, mass_kg=m, ...)
    """
    known = np.isfinite(start.height_m)
    zero = np.zeros_like(start.height_m)
    top = np.maximum(np.nan_to_num(start.height_m), 1.0)
    thin, thick = (
        atmosphere(h, ground_temperature_k, ground_pressure_pa).density_kg_m3 for h in (top, zero)
    )
    rows = np.column_stack(
        [
            *np.nan_to_num(np.array(start)),
            wind.speed_m_s,
            -np.sin(wind.from_rad),
            -np.cos(wind.from_rad),
            wind.height_m,
            wind.exponent,
            drag_area_m2 / mass_kg,
            thick,
            np.log(thin / thick) / top,
        ]
    )
    once: dict[bytes, int] = {}  # flights with one way up fall one way
    which = np.array([once.setdefault(row.tobytes(), len(once)) for row in rows], dtype=np.int64)
    _, first = np.unique(which, return_index=True)
    found = np.empty((len(once), 3))
    _fall_all(rows[first], gravity_m_s2, found)
    return Impact(*(np.where(known, each, np.nan) for each in found[which].T))


@compiled_inside
def _pull(row: Any, gravity: float, height: float, east: float, north: float, up: float) -> Any:
    """Acceleration of one flight at a height and with a speed over the ground."""
    above = max(height, 0.0)
    blown = row[5] * (above / row[8]) ** row[9]
    air_east, air_north = east - blown * row[6], north - blown * row[7]
    density = row[11] * math.exp(row[12] * above)
    size = math.sqrt(air_east**2 + air_north**2 + up**2) * 0.5 * density * row[10]
    return -size * air_east, -size * air_north, -size * up - gravity


@compiled_inside
def _fall_one(row: Any, gravity: float, out: Any) -> None:
    h, x, y = row[0], row[1], row[2]
    east, north, up = row[3], row[4], 0.0
    for _ in range(MOST_STEPS):
        a, b, c = _pull(row, gravity, h, east, north, up)
        half_a, half_b, half_c = (
            east + 0.5 * STEP_S * a,
            north + 0.5 * STEP_S * b,
            up + 0.5 * STEP_S * c,
        )
        a, b, c = _pull(row, gravity, h + 0.5 * STEP_S * up, half_a, half_b, half_c)
        below = h + STEP_S * half_c
        part = 1.0 if below > 0.0 else h / max(h - below, 1e-9)  # the last step ends on the ground
        h, x, y = h + part * (below - h), x + part * STEP_S * half_a, y + part * STEP_S * half_b
        east, north, up = (
            east + part * STEP_S * a,
            north + part * STEP_S * b,
            up + part * STEP_S * c,
        )
        if h <= 1e-9:
            break
    out[0], out[1], out[2] = x, y, math.sqrt(east**2 + north**2 + up**2)


@compiled_owner
def _fall_all(rows: Any, gravity: float, out: Any) -> None:
    for i in range(len(rows)):
        _fall_one(rows[i], gravity, out[i])
