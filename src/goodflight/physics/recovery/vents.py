"""Holes that let a bay breathe: how large, and how far the pressure inside lags.

Two rules in use differ by four; both are given as a band, with the computed lag beside it. Left
out: flow past the hole at an angle, waves from anything ahead of it.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

INCH_M: Final = 0.0254
# volume over hole area of the two rules [m]
SMALL_RULE_M: Final = 100.0 / (pi / 4.0 * 0.25**2) * INCH_M  # 1/4 in hole per 100 in3; seen
LARGE_RULE_M: Final = 500.0 * INCH_M  # area in2 = volume in3 / 500; an altimeter manual, seen


def vent_area_band_m2(volume_m3: Values) -> tuple[Array, Array]:
    """Least and most total hole area that the two rules in use ask for.

    V/51.74 m and V/12.70 m.

    Parameters
        volume_m3 : float or array - of the bay, contents taken off. [m3]
    Returns
        small, large : arrays - total area of all holes. [m2]
    Raises
        nothing
    Validity
        Electronics bays; three or four equal holes, four body diameters behind any corner.
    Source
        Small: two hobby pages, seen. Large: an altimeter manual's page, seen.
    Example
        >>> small, large = vent_area_band_m2(0.91e-3)
        >>> round(float(small) * 1e6, 1), round(float(large) * 1e6, 1)
        (17.6, 71.7)
    """
    volume = np.asarray(volume_m3, dtype=np.float64)
    return np.asarray(volume / SMALL_RULE_M), np.asarray(volume / LARGE_RULE_M)


def hole_diameter_m(total_area_m2: Values, count: int) -> Array:
    """Diameter of each of several equal holes with a given total area.

    d = sqrt(4 A / (pi N)).

    Parameters
        total_area_m2 : float or array - of all holes. [m2]
        count : int - holes. [-]
    Returns
        diameter : array - of one. [m]
    Raises
        nothing
    Validity
        Geometry.
    Source
        Geometry.
    Example
        >>> round(float(hole_diameter_m(17.6e-6, 3)) * 1e3, 2)
        2.73
    """
    return np.sqrt(4.0 * np.asarray(total_area_m2, dtype=np.float64) / (pi * count))


def vent_lag_pa(
    volume_m3: Values,
    hole_area_m2: Values,
    climb_m_s: Values,
    density_kg_m3: Values,
    *,
    scale_height_m: Values = 8434.0,
    discharge: Values = 0.6,
) -> Array:
    """How far the pressure in a vented bay is above that outside, in a steady climb.

    Air leaves as the pressure falls by w/H per second: speed in the hole u = (V/A) w/(H Cd),
    lag = rho u^2/2.

    Parameters
        volume_m3 : float or array - of the bay. [m3]
        hole_area_m2 : float or array - all holes. [m2]
        climb_m_s : float or array - up; descent gives the same lag the other way. [m/s]
        density_kg_m3 : float or array - air. [kg/m3]
        scale_height_m : float or array - R T/g of the air. [m]
        discharge : float or array - of the holes. [-]
    Returns
        lag : array - inside above outside; sign of the climb. [Pa]
    Raises
        nothing
    Validity
        Lag small against the pressure itself (below 5 kPa); even temperature inside.
    Source
        Orifice and isothermal emptying; derived.
    Example
        >>> round(float(vent_lag_pa(51.7, 1.0, 200.0, 1.225)), 1)
        2.6
    """
    climb = np.asarray(climb_m_s, dtype=np.float64)
    hole = np.asarray(volume_m3) / hole_area_m2 * np.abs(climb) / (scale_height_m * discharge)
    return np.asarray(np.sign(climb) * 0.5 * density_kg_m3 * hole**2)


def height_lag_m(lag_pa: Values, density_kg_m3: Values, gravity_m_s2: float = 9.80665) -> Array:
    """Height error of a barometer behind a lag: dp/(rho g) [m]."""
    return np.asarray(lag_pa, dtype=np.float64) / (np.asarray(density_kg_m3) * gravity_m_s2)
