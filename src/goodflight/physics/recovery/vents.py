"""Holes that let a bay breathe: how large, and how far the pressure inside lags.

Two rules in use differ by four; both are given as a band, with the computed lag beside it. Left
out: flow past the hole at an angle, waves from anything ahead of it.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import INCH_M, STANDARD_GRAVITY_M_S2
from goodflight.physics.air.atmosphere import SCALE_HEIGHT_M
from goodflight.physics.recovery.separation import trapped_air_n

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# volume over hole area of the two rules [m]
SMALL_RULE_M: Final = 100.0 / (pi / 4.0 * 0.25**2) * INCH_M  # 1/4 in hole per 100 in3; seen
VENT_SHARE: Final = 0.1  # of the hold that lagging air may take; our guess
RULE_FACTOR: Final = 2.0**0.5  # neither rule is sharper than a factor; they differ by four
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


def vent_lag_pa(
    volume_m3: Values,
    hole_area_m2: Values,
    climb_m_s: Values,
    density_kg_m3: Values,
    *,
    scale_height_m: Values = SCALE_HEIGHT_M,
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


def height_lag_m(
    lag_pa: Values, density_kg_m3: Values, gravity_m_s2: float = STANDARD_GRAVITY_M_S2
) -> Array:
    """Height error of a barometer behind a lag: dp/(rho g) [m].

    Parameters
        lag_pa : float or array - pressure behind that outside. [Pa]
        density_kg_m3 : float or array - of the air. [kg/m3]
        gravity_m_s2 : float - of the site. [m/s2]
    Returns
        error : array - height shown too low. [m]
    Source
        Hydrostatics.
    """
    return np.asarray(lag_pa, dtype=np.float64) / (np.asarray(density_kg_m3) * gravity_m_s2)


def holes_area_m2(count: int, diameter_m: float) -> float:
    """Area of equal round holes: N pi/4 d^2 [m2].

    Parameters
        count : int - holes N. [-]
        diameter_m : float - of one d. [m]
    Returns
        area : float - of all. [m2]
    Source
        Geometry.
    """
    return count * np.pi / 4.0 * diameter_m**2


def hole_diameter_m(area_m2: float, count: int) -> float:
    """Diameter of equal round holes of an area together: sqrt(4 A / (pi N)) [m].

    Parameters
        area_m2 : float - of all. [m2]
        count : int - holes N. [-]
    Returns
        diameter : float - of one. [m]
    Source
        Geometry.
    """
    return float(np.sqrt(4.0 * area_m2 / (np.pi * count)))


def vent_area_between_m2(volume_m3: float) -> float:
    """Hole area as far from either of the two rules in use: V / sqrt(product) [m2].

    Parameters
        volume_m3 : float - air in the bay. [m3]
    Returns
        area : float - of all holes. [m2]
    Source
        the middle of two rules of practice; see outside_rules.
    """
    return volume_m3 / float(np.sqrt(SMALL_RULE_M * LARGE_RULE_M))


def outside_rules(volume_m3: Values, hole_area_m2: Values, factor: Values = 1.0) -> Array:
    """How far the vents of an electronics bay lie outside the band of the two rules in use.

    Greater of (V/A) / SMALL_RULE_M and LARGE_RULE_M / (V/A); allowed is RULE_FACTOR.

    Parameters
        volume_m3 : float or array - air in the bay V. [m3]
        hole_area_m2 : float or array - of all holes A. [m2]
        factor : float or array - scatter of the rule, about 1. [-]
    Returns
        ratio : array - 0.5 in the middle of the band. [-]
    Raises
        nothing
    Validity
        As vent_area_band_m2.
    Source
        The two rules; sqrt(2) as the allowed factor is our guess.
    Example
        >>> round(float(outside_rules(51.744, 1.0)), 3)
        1.0
    """
    ratio = np.asarray(volume_m3, dtype=np.float64) / hole_area_m2 * factor
    return np.maximum(ratio / SMALL_RULE_M, LARGE_RULE_M / ratio)


def lag_push_n(
    sealed_pa: Values,
    outside_pa: Values,
    *,
    bore_m: float,
    air_m3: float,
    vents_m2: float,
    climb_m_s: Values,
    density_kg_m3: Values,
) -> Array:
    """Push of the air that lags in a bay during the climb; a sealed bay keeps all of it.

    Lag of the vents x section, never more than sealed air would push.

    Parameters
        sealed_pa : float or array - pressure when the bay was closed. [Pa]
        outside_pa : float or array - pressure at the height. [Pa]
        bore_m : float - of the bay. [m]
        air_m3 : float - in the bay. [m3]
        vents_m2 : float - all holes; 0 = sealed. [m2]
        climb_m_s : float or array - up; unknown (nan) counts as none. [m/s]
        density_kg_m3 : float or array - of the air. [kg/m3]
    Returns
        force : array - above zero opens the joint. [N]
    Raises
        nothing
    Validity
        As vent_lag_pa and trapped_air_n.
    Source
        Orifice and isothermal emptying; derived.
    Example
        >>> push = lag_push_n(101325.0, 99325.0, bore_m=0.1, air_m3=0.001, vents_m2=0.0,
        ...     climb_m_s=100.0, density_kg_m3=1.2)
        >>> round(float(push), 3)
        15.708
    """
    sealed = trapped_air_n(sealed_pa, outside_pa, bore_m)
    if vents_m2 <= 0.0:
        return sealed
    lag = vent_lag_pa(air_m3, vents_m2, np.nan_to_num(climb_m_s), density_kg_m3)
    return np.asarray(np.minimum(lag * (pi / 4.0 * bore_m**2), sealed))
