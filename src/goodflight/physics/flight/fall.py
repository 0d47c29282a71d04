"""Where and how fast a rocket of which nothing opens comes down, nose first from its apogee.

Answers it for many flights at once from what was flown to apogee. Left out: gusts below apogee,
lift (a rocket that falls flat or tail first comes down slower and elsewhere).
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.air.atmosphere import atmosphere

Array = NDArray[np.float64]
STEP_S: Final = 0.1
LONGEST_S: Final = 300.0


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
    place = np.nan_to_num(np.array([start.east_m, start.north_m, start.height_m]))
    zero = np.zeros_like(start.height_m)
    speed = np.nan_to_num(np.array([start.east_m_s, start.north_m_s, zero]))
    top = np.maximum(place[2], 1.0)
    thin, thick = (
        atmosphere(h, ground_temperature_k, ground_pressure_pa).density_kg_m3 for h in (top, zero)
    )
    toward = np.array([-np.sin(wind.from_rad), -np.cos(wind.from_rad)])

    def pull(at: Array, through: Array) -> Array:
        up = np.maximum(at[2], 0.0)
        blown = wind.speed_m_s * (up / wind.height_m) ** wind.exponent
        air = through - np.array([blown * toward[0], blown * toward[1], zero])
        density = thick * (thin / thick) ** (up / top)
        size = 0.5 * density * drag_area_m2 / mass_kg * np.sqrt(np.sum(air**2, axis=0))
        found: Array = -size * air
        found[2] -= gravity_m_s2
        return found

    falling = known.copy()
    for _ in range(int(LONGEST_S / STEP_S)):
        half = speed + 0.5 * STEP_S * pull(place, speed)
        after = speed + STEP_S * pull(place + 0.5 * STEP_S * speed, half)
        next_place = place + STEP_S * half
        part = np.where(
            next_place[2] > 0.0, 1.0, place[2] / np.maximum(place[2] - next_place[2], 1e-9)
        )
        part = np.where(falling, part, 0.0)
        place = place + part * (next_place - place)
        speed = speed + part * (after - speed)
        falling &= place[2] > 1e-9
        if not falling.any():
            break
    hard = np.sqrt(np.sum(speed**2, axis=0))
    return Impact(*(np.where(known, each, np.nan) for each in (place[0], place[1], hard)))
