"""How far the wind carries a rocket that hangs under its canopy, from any height to the ground.

Answers it for many flights and heights at once, in the mean wind. Left out: gusts, the moments in
which a canopy fills, the lag of the rocket behind a wind that changes with height (0.5 s of it).
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.air.atmosphere import atmosphere
from goodflight.physics.flight.fall import MeanWind, Start

Array = NDArray[np.float64]
NODES: Final = 6  # of the quadrature: exact to 1e-9 for a density that falls by a third


class Hanging(NamedTuple):
    """What hangs under what, and in which air; (n,) each. A second canopy of no area: none."""

    mass_kg: Array
    first_area_m2: Array  # drag area Cd.S
    second_area_m2: Array
    second_below_m: Array  # height at which the second opens beside the first
    ground_temperature_k: Array
    ground_pressure_pa: Array


class Landed(NamedTuple):
    """How flights came down: where the canopy was open, how long after apogee, where; (n,) each."""

    opening_m: Array
    before_s: Array  # from apogee until the canopy drags
    east_m: Array
    north_m: Array


def moved_apogee(own: Start, apogee_m: Array) -> Start:
    """Flights that reach another height the same way: ways go with it, speeds with its root.

    Parameters
        own : Start - at the apogee that was flown, (n,). [m, m/s]
        apogee_m : array (..., n) - the other. [m]
    Returns
        start : Start - at the other apogee. [m, m/s]
    Raises
        nothing
    Validity
        One shape of path: the same angles against the wind.
    Source
        Similarity of paths under gravity alone, v^2 ~ g h; derived.
    Example
        >>> float(moved_apogee(Start(*np.array([100.0, 10.0, 0.0, 3.0, 0.0])), 400.0).east_m_s)
        6.0
    """
    share = apogee_m / own.height_m
    root = np.sqrt(share)
    return Start(
        share * own.height_m,
        share * own.east_m,
        share * own.north_m,
        root * own.east_m_s,
        root * own.north_m_s,
    )


def landing_from_m(
    apogee_m: Array,
    own: Start,
    landed: Landed,
    wind: MeanWind,
    hanging: Hanging,
    gravity_m_s2: float,
) -> tuple[Array, Array]:
    """Where flights land that reach another apogee and open as far below it as they did.

    To the apogee as `moved_apogee`, on at its speed until the canopy drags, then the mean wind;
    what else carried a flight (gusts, filling) goes with the height under the canopy.

    Parameters
        apogee_m : array (..., n) - the other apogee. [m]
        own : Start - the one that was flown, (n,). [m, m/s]
        landed : Landed - opening and landing that were flown, (n,). [m, s]
        wind : MeanWind - where it comes from, clockwise from north, (n,). [m/s, rad, m, -]
        hanging : Hanging - masses, drag areas, air, (n,). [kg, m2, m, K, Pa]
        gravity_m_s2 : float - of the site. [m/s2]
    Returns
        landing : tuple of arrays (..., n) - east and north; nan where it would open below the
            ground. [m]
    Raises
        nothing
    Validity
        As `canopy_drift_m`; its own apogee gives its own landing.
    Source
        derived.
    Example
        landing_from_m(np.array([500.0]), own, landed, wind, hanging, gravity_m_s2=9.81)
    """
    height = apogee_m - (own.height_m - landed.opening_m)
    was = canopy_drift_m(np.maximum(landed.opening_m, 0.0), wind, hanging, gravity_m_s2)
    now = canopy_drift_m(np.maximum(height, 0.0), wind, hanging, gravity_m_s2)
    new = moved_apogee(own, apogee_m)

    def axis(at: Array, speed: Array, to: Array, fast: Array, ways: tuple[Array, ...]) -> Array:
        came_down, flown, other = ways
        besides = came_down - (at + speed * landed.before_s + flown)
        place = to + fast * landed.before_s + other
        place = place + besides * height / landed.opening_m
        return np.where(height > 0.0, place, np.nan)

    east = axis(own.east_m, own.east_m_s, new.east_m, new.east_m_s, (landed.east_m, was[0], now[0]))
    ways = (landed.north_m, was[1], now[1])
    return east, axis(own.north_m, own.north_m_s, new.north_m, new.north_m_s, ways)


def canopy_drift_m(
    opened_m: Array, wind: MeanWind, hanging: Hanging, gravity_m_s2: float
) -> tuple[Array, Array]:
    """Way over the ground of rockets under an open canopy, from a height to the ground.

    The canopy moves with the wind, so the way is the integral of w(z) / v(z) from 0 to the height,
    with w = w_r (z / z_r)^p and v = sqrt(2 m g / (rho(z) Cd.S)). In u = (z / h)^(1 + p) the wind
    goes out of the integrand and the density is left: Gauss-Legendre.

    Parameters
        opened_m : array (..., n) - height above the ground where the canopy is open. [m]
        wind : MeanWind - where it comes from, clockwise from north, (n,). [m/s, rad, m, -]
        hanging : Hanging - masses, drag areas, air, (n,). [kg, m2, m, K, Pa]
        gravity_m_s2 : float - of the site. [m/s2]
    Returns
        drift : tuple of arrays (..., n) - east and north. [m]
    Raises
        nothing
    Validity
        Heights from 0 to some 3 km; descents slow against the wind's change with height.
    Source
        Steady descent and power-law wind; derived.
    Example
        canopy_drift_m(np.array([500.0]), wind, hanging, 9.81)
    """
    both = hanging.first_area_m2 + hanging.second_area_m2
    split = np.where(hanging.second_area_m2 > 0.0, hanging.second_below_m, 0.0)
    low = np.minimum(opened_m, split)
    weight = hanging.mass_kg * gravity_m_s2

    def carried(height_m: Array, area_m2: Array) -> Array:
        return _blown_m2_s(height_m, wind, hanging, weight) * np.sqrt(area_m2)

    way = carried(opened_m, hanging.first_area_m2) - carried(low, hanging.first_area_m2)
    way = way + carried(low, both)
    return -np.sin(wind.from_rad) * way, -np.cos(wind.from_rad) * way


def _blown_m2_s(height_m: Array, wind: MeanWind, hanging: Hanging, weight_n: Array) -> Array:
    """The way to the ground times 1 / sqrt(Cd.S) [m / m]."""
    nodes, shares = np.polynomial.legendre.leggauss(NODES)
    power = 1.0 + wind.exponent
    above = wind.speed_m_s * wind.height_m * (height_m / wind.height_m) ** power / power
    slow = np.zeros_like(above)
    for node, share in zip(0.5 * (nodes + 1.0), 0.5 * shares):
        air = atmosphere(
            height_m * node ** (1.0 / power),
            hanging.ground_temperature_k,
            hanging.ground_pressure_pa,
        )
        slow = slow + share * np.sqrt(0.5 * air.density_kg_m3 / weight_n)
    return np.asarray(above * slow)
