"""Pressure, temperature, density, speed of sound and viscosity of the air over the pad.

Answers: what air does the rocket fly through at a height? Two functions: the standard itself
(for pressure altitudes and checks) and the day's air, which starts from the temperature and
pressure measured at the pad. Humidity is left out (below 1 % of density at 30 degC).
Main source: US Standard Atmosphere 1976.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.constants import (
    GAS_CONSTANT,
    HEAT_RATIO,
    LAPSE_K_M,
    SEA_LEVEL_PRESSURE_PA,
    SEA_LEVEL_TEMPERATURE_K,
    STANDARD_GRAVITY_M_S2,
)

EARTH_RADIUS_M: Final = 6_356_766.0  # of the 1976 standard, geometric to geopotential
SCALE_HEIGHT_M: Final = GAS_CONSTANT * SEA_LEVEL_TEMPERATURE_K / STANDARD_GRAVITY_M_S2
TROPOPAUSE_M: Final = 11_000.0  # geopotential
# highest and lowest pressure at sea level on record, [wmo_extremes]; from memory
SEA_LEVEL_RECORDS_PA: Final = (87_000.0, 108_480.0)
SUTHERLAND_BETA: Final = 1.458e-6  # kg/(s m K^0.5)
SUTHERLAND_K: Final = 110.4


class Air(NamedTuple):
    """State of the air at one height or an array of heights."""

    temperature_k: NDArray[np.float64]
    pressure_pa: NDArray[np.float64]
    density_kg_m3: NDArray[np.float64]
    sound_m_s: NDArray[np.float64]
    viscosity_pa_s: NDArray[np.float64]


def viscosity(temperature_k: ArrayLike) -> NDArray[np.float64]:
    """Dynamic viscosity of air, for Reynolds numbers.

    Sutherland: mu = beta T^1.5 / (T + S).

    Parameters
        temperature_k : float or array - static temperature. [K]
    Returns
        viscosity_pa_s : array - dynamic viscosity. [Pa s]
    Validity
        100 to 1500 K, no check made.
    Source
        [usstd1976] eq 51, constants beta and S of that text.
    Example
        viscosity(288.15) -> 1.7894e-5
    """
    t = np.asarray(temperature_k, dtype=np.float64)
    return np.asarray(SUTHERLAND_BETA * t**1.5 / (t + SUTHERLAND_K))


def _state(temperature: NDArray[np.float64], pressure: NDArray[np.float64]) -> Air:
    return Air(
        temperature,
        pressure,
        pressure / (GAS_CONSTANT * temperature),
        np.sqrt(HEAT_RATIO * GAS_CONSTANT * temperature),
        viscosity(temperature),
    )


def geopotential_height(height_m: ArrayLike) -> NDArray[np.float64]:
    """Geopotential height of a geometric height above sea level.

    H = r h / (r + h), which takes the fall of gravity out of the hydrostatic equation.

    Parameters
        height_m : float or array - geometric height above sea level. [m]
    Returns
        geopotential_m : array - geopotential height. [m]
    Validity
        Any height in the atmosphere.
    Source
        [usstd1976] eq 18.
    Example
        geopotential_height(5000.0) -> 4996.07
    """
    h = np.asarray(height_m, dtype=np.float64)
    return np.asarray(EARTH_RADIUS_M * h / (EARTH_RADIUS_M + h))


def dynamic_pressure_pa(density_kg_m3: ArrayLike, speed_m_s: ArrayLike) -> NDArray[np.float64]:
    """Dynamic pressure of the air: rho v^2 / 2 [Pa].

    Parameters
        density_kg_m3, speed_m_s : float or array - of the air, and through it. [kg/m3, m/s]
    Returns
        pressure : array. [Pa]
    Source
        Definition.
    """
    speed = np.asarray(speed_m_s, dtype=np.float64)
    return np.asarray(0.5 * np.asarray(density_kg_m3) * speed**2)


def standard_atmosphere(height_m: ArrayLike) -> Air:
    """The US Standard Atmosphere 1976, for pressure altitude and for published checks.

    Linear temperature to the tropopause, isothermal above it.

    Parameters
        height_m : float or array - geometric height above sea level. [m]
    Returns
        air : Air - state at each height. [K, Pa, kg/m3, m/s, Pa s]
    Validity
        -1000 to 20 000 m; above that the isothermal layer is carried on and is wrong.
    Source
        [usstd1976] eqs 23, 33, 42, 50, 51.
    Example
        standard_atmosphere(1000.0).density_kg_m3 -> 1.11166
    """
    h = geopotential_height(height_m)
    low = np.minimum(h, TROPOPAUSE_M)
    t = SEA_LEVEL_TEMPERATURE_K - LAPSE_K_M * low
    p = SEA_LEVEL_PRESSURE_PA * (t / SEA_LEVEL_TEMPERATURE_K) ** _BY_TEMPERATURE
    above = np.maximum(h - TROPOPAUSE_M, 0.0)
    return _state(t, np.asarray(p * np.exp(-STANDARD_GRAVITY_M_S2 * above / (GAS_CONSTANT * t))))


def shown_height_true_m(
    shown_m: ArrayLike, temperature_k: ArrayLike, elevation_m: float
) -> NDArray[np.float64]:
    """Height above the field at which a barometric altimeter shows a height.

    It takes the air for standard; air of another warmth is as much thicker: h = shown x T / T_std.

    Parameters
        shown_m : float or array - height above the field as shown. [m]
        temperature_k : float or array - air at the field T. [K]
        elevation_m : float - of the field above the sea, for T_std. [m]
    Returns
        height : array - true, above the field. [m]
    Validity
        Some hundred metres, the lapse of the standard atmosphere.
    Source
        [usstd1976], hydrostatic equation; derived.
    Example
        shown_height_true_m(150.0, 279.15, 0.0) -> 145.3
    """
    standard = standard_atmosphere(elevation_m).temperature_k
    return np.asarray(np.asarray(shown_m) * np.asarray(temperature_k) / standard)


_PRESSURE_EXPONENT: Final = GAS_CONSTANT * LAPSE_K_M / STANDARD_GRAVITY_M_S2  # 0.190263
_BY_TEMPERATURE: Final = STANDARD_GRAVITY_M_S2 / (GAS_CONSTANT * LAPSE_K_M)  # 5.255880


def standard_height_m(pressure_pa: ArrayLike) -> NDArray[np.float64]:
    """Height above sea level at which the standard atmosphere has a pressure (pressure altitude).

    H = (T0 / L) (1 - (p / p0)^n), n = R L / g0; geopotential, as altimeters show it.

    Parameters
        pressure_pa : float or array - static pressure; NaN stays NaN. [Pa]
    Returns
        height_m : array - above the sea level of the standard. [m]
    Validity
        Below the tropopause (above 22.6 kPa), no check made.
    Source
        [usstd1976] eq 33a, solved for the height.
    Example
        standard_height_m(89874.6) -> 1000 (geopotential)
    """
    part = np.asarray(pressure_pa, dtype=np.float64) / SEA_LEVEL_PRESSURE_PA
    return np.asarray(SEA_LEVEL_TEMPERATURE_K / LAPSE_K_M * (1.0 - part**_PRESSURE_EXPONENT))


def station_pressure_pa(setting_pa: float, elevation_m: float) -> float:
    """Pressure at a field from the sea-level setting that airfields give (QNH).

    An altimeter with this setting shows the field's elevation:
    p^n = q^n - p0^n (L / T0) H, n = R L / g0.

    Parameters
        setting_pa : float - pressure reduced to sea level by the standard atmosphere. [Pa]
        elevation_m : float - of the field above the sea. [m]
    Returns
        pressure_pa : float - what a barometer shows there. [Pa]
    Validity
        Below the tropopause; the height is taken as geopotential (0.03 % at 2 km).
    Source
        [icao7488] definition of the altimeter setting on the standard atmosphere; [usstd1976].
    Example
        station_pressure_pa(101325.0, 2000.0) -> 79495
    """
    n, fall = _PRESSURE_EXPONENT, LAPSE_K_M / SEA_LEVEL_TEMPERATURE_K * elevation_m
    left = (setting_pa / SEA_LEVEL_PRESSURE_PA) ** n - fall
    return float(SEA_LEVEL_PRESSURE_PA * left ** (1.0 / n))


def sea_level_setting_pa(station_pa: float, elevation_m: float) -> float:
    """The sea-level setting that a station pressure amounts to; `station_pressure_pa` backwards.

    Parameters
        station_pa : float - what a barometer shows at the field. [Pa]
        elevation_m : float - of the field above the sea. [m]
    Returns
        setting_pa : float - reduced to sea level by the standard atmosphere. [Pa]
    Validity
        As station_pressure_pa.
    Source
        [icao7488], [usstd1976].
    Example
        sea_level_setting_pa(79495.0, 2000.0) -> 101325
    """
    n, rise = _PRESSURE_EXPONENT, LAPSE_K_M / SEA_LEVEL_TEMPERATURE_K * elevation_m
    whole = (station_pa / SEA_LEVEL_PRESSURE_PA) ** n + rise
    return float(SEA_LEVEL_PRESSURE_PA * whole ** (1.0 / n))


def atmosphere(
    height_m: ArrayLike,
    ground_temperature_k: ArrayLike = SEA_LEVEL_TEMPERATURE_K,
    ground_pressure_pa: ArrayLike = SEA_LEVEL_PRESSURE_PA,
) -> Air:
    """The day's air at a height above the pad, from the pad's own temperature and pressure.

    Standard lapse rate from the ground, hydrostatic pressure. Gravity is taken constant over the
    flight's height (0.1 % of the pressure at 3 km).

    Parameters
        height_m : float or array - above the pad. [m]
        ground_temperature_k : float or array - air temperature at the pad. [K]
        ground_pressure_pa : float or array - station pressure, not reduced to sea level. [Pa]
    Returns
        air : Air - state at each height. [K, Pa, kg/m3, m/s, Pa s]
    Validity
        0 to 11 000 m above the pad; the lapse is that of a mixed day, so an inversion is missed.
    Source
        [usstd1976] eqs 23 and 33 with the ground values replaced.
    Example
        atmosphere(0.0, 282.15, 100500.0).density_kg_m3 -> 1.2409
    """
    h = np.asarray(height_m, dtype=np.float64)
    ground = np.asarray(ground_temperature_k, dtype=np.float64)
    t = ground - LAPSE_K_M * h
    pressure = np.asarray(ground_pressure_pa, dtype=np.float64) * (t / ground) ** _BY_TEMPERATURE
    return _state(t, pressure)
