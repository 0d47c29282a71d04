"""A balloon sounding turned into wind and temperature at any height above the pad.

Answers: what do measured upper winds say instead of the power law? Pure arithmetic on columns;
reading files is done elsewhere. Main source: hypsometric equation.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.air.atmosphere import GAS_CONSTANT, STANDARD_GRAVITY_M_S2


@dataclass(frozen=True)
class Sounding:
    """Levels from the ground up; wind as components of where the air goes."""

    heights_m: NDArray[np.float64]  # above the lowest level
    temperatures_k: NDArray[np.float64]
    pressures_pa: NDArray[np.float64]
    east_m_s: NDArray[np.float64]
    north_m_s: NDArray[np.float64]

    def __post_init__(self) -> None:
        n = len(self.heights_m)
        others = (self.temperatures_k, self.pressures_pa, self.east_m_s, self.north_m_s)
        if n < 2 or any(len(column) != n for column in others):
            raise ValueError("a sounding needs at least two levels and columns of equal length")
        if np.any(np.diff(self.heights_m) <= 0.0):
            raise ValueError("sounding heights must rise from level to level; sort the levels")


def wind_components(
    speed_m_s: ArrayLike, from_rad: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """East and north components of a wind given by where it comes from.

    (-V sin(from), -V cos(from)): a west wind (from 270 deg) blows to the east.

    Parameters
        speed_m_s : float or array - wind speed. [m/s]
        from_rad : float or array - clockwise from north, where it comes from. [rad]
    Returns
        east_m_s, north_m_s : arrays - velocity of the air. [m/s]
    Validity
        Any.
    Source
        Definition of wind direction.
    Example
        wind_components(5.0, 1.5 * pi) -> (5.0, 0.0)
    """
    v = np.asarray(speed_m_s, dtype=np.float64)
    a = np.asarray(from_rad, dtype=np.float64)
    return np.asarray(-v * np.sin(a)), np.asarray(-v * np.cos(a))


def vapour_pressure(dew_point_k: ArrayLike) -> NDArray[np.float64]:
    """Water vapour pressure at a dew point, for the virtual temperature.

    Magnus form: 611.2 exp(17.62 t / (243.12 + t)), t in degC.

    Parameters
        dew_point_k : float or array - dew point. [K]
    Returns
        pressure_pa : array - vapour pressure. [Pa]
    Validity
        -45 to 60 degC over water.
    Source
        [wmo8] annex 4.B.
    Example
        vapour_pressure(293.15) -> 2333
    """
    t = np.asarray(dew_point_k, dtype=np.float64) - 273.15
    return np.asarray(611.2 * np.exp(17.62 * t / (243.12 + t)))


def level_heights(
    pressures_pa: ArrayLike, temperatures_k: ArrayLike, dew_points_k: ArrayLike | None = None
) -> NDArray[np.float64]:
    """Heights of pressure levels above the lowest one.

    Hypsometric equation layer by layer with the mean virtual temperature:
    dh = (R Tv / g) ln(p1 / p2).

    Parameters
        pressures_pa : array (n,) - falling from the ground up. [Pa]
        temperatures_k : array (n,) - air temperature. [K]
        dew_points_k : array (n,) or None - None takes dry air. [K]
    Returns
        heights_m : array (n,) - first is 0. [m]
    Raises
        ValueError - pressures do not fall from level to level.
    Validity
        Layers up to about 1 km thick; geopotential metres.
    Source
        [wmo8] chapter 12; hypsometric equation.
    Example
        level_heights([100800, 100000], [299.75, 295.95]) -> [0, 69.5]
    """
    p = np.asarray(pressures_pa, dtype=np.float64)
    t = np.asarray(temperatures_k, dtype=np.float64)
    if np.any(np.diff(p) >= 0.0):
        raise ValueError("sounding pressures must fall from level to level; sort the levels")
    if dew_points_k is not None:
        t = t / (1.0 - 0.378 * vapour_pressure(dew_points_k) / p)
    mean = 0.5 * (t[1:] + t[:-1])
    layers = GAS_CONSTANT * mean / STANDARD_GRAVITY_M_S2 * np.log(p[:-1] / p[1:])
    return np.concatenate(([0.0], np.cumsum(layers)))


def sounding_wind(
    sounding: Sounding, height_m: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Wind components at heights above the lowest level, straight between levels.

    Components, not speed and direction, are interpolated, so a turn through north is safe.

    Parameters
        sounding : Sounding - levels. [-]
        height_m : float or array - above the lowest level. [m]
    Returns
        east_m_s, north_m_s : arrays - velocity of the air; held outside the levels. [m/s]
    Validity
        Within the levels.
    Source
        Linear interpolation.
    Example
        sounding_wind(s, 0.0) -> the surface wind
    """
    h = np.asarray(height_m, dtype=np.float64)
    return (
        np.asarray(np.interp(h, sounding.heights_m, sounding.east_m_s)),
        np.asarray(np.interp(h, sounding.heights_m, sounding.north_m_s)),
    )
