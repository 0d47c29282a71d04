"""Dew point and whether a surface may be painted or glued.

Left out: rain, fog, and wood that is damp inside.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

ZERO_C_K: Final = 273.15
# Magnus form es = e0 exp(a t/(b + t)), t in degC; Alduchov & Eskridge 1996: a, b seen, e0 memory
MAGNUS: Final = (17.625, 243.04, 610.94)
DEW_MARGIN_K: Final = 3.0  # surface above dew point; ISO 8502-4 as quoted, seen
GREATEST_HUMIDITY: Final = 0.85  # same


def saturation_pressure_pa(temperature_k: Values) -> Array:
    """Pressure of water vapour over water, for humidity sums.

    es = 610.94 exp(17.625 t/(243.04 + t)), t in degC.

    Parameters
        temperature_k : float or array - of the air or surface. [K]
    Returns
        pressure : array - saturated. [Pa]
    Raises
        nothing
    Validity
        -40 to 50 degC, 0.4 %.
    Source
        Alduchov & Eskridge 1996: a, b seen, e0 from memory.
    Example
        >>> round(float(saturation_pressure_pa(293.15)), 1)
        2333.4
    """
    a, b, e0 = MAGNUS
    t = np.asarray(temperature_k, dtype=np.float64) - ZERO_C_K
    return np.asarray(e0 * np.exp(a * t / (b + t)))


def dew_point_k(
    temperature_k: Values, humidity: Values, constants: tuple[float, float, float] = MAGNUS
) -> Array:
    """Temperature at which the air's moisture begins to settle.

    g = ln(rh) + a t/(b + t); t_d = b g/(a - g), degC.

    Parameters
        temperature_k : float or array - of the air. [K]
        humidity : float or array - relative, 0 to 1, above zero. [-]
        constants : (a, b, e0) - of the Magnus form. [-, degC, Pa]
    Returns
        dew_point : array - over water. [K]
    Raises
        nothing
    Validity
        As saturation_pressure_pa; 0.35 K.
    Source
        Magnus form inverted; derived.
    Example
        >>> round(float(dew_point_k(293.15, 0.65)) - 273.15, 2)
        13.22
    """
    a, b, _ = constants
    t = np.asarray(temperature_k, dtype=np.float64) - ZERO_C_K
    g = np.log(np.asarray(humidity, dtype=np.float64)) + a * t / (b + t)
    return np.asarray(b * g / (a - g) + ZERO_C_K)


def surface_humidity(temperature_k: Values, humidity: Values, surface_k: Values) -> Array:
    """Relative humidity of the air where it touches a surface of another temperature.

    rh_surface = rh es(T)/es(T_surface).

    Parameters
        temperature_k : float or array - of the air. [K]
        humidity : float or array - of the air, 0 to 1. [-]
        surface_k : float or array - of the surface. [K]
    Returns
        humidity : array - at the surface; above 1 = dew. [-]
    Raises
        nothing
    Validity
        Thin air layer without exchange of water.
    Source
        Definition of relative humidity.
    Example
        >>> round(float(surface_humidity(293.15, 0.65, 286.37)), 2)
        1.0
    """
    vapour = np.asarray(humidity, dtype=np.float64) * saturation_pressure_pa(temperature_k)
    return np.asarray(vapour / saturation_pressure_pa(surface_k))


def may_coat(temperature_k: Values, humidity: Values, surface_k: Values) -> NDArray[np.bool_]:
    """Whether paint or glue may go on: surface 3 K above the dew point and air at most 85 %.

    Parameters
        temperature_k : float or array - of the air. [K]
        humidity : float or array - of the air, 0 to 1. [-]
        surface_k : float or array - of the surface. [K]
    Returns
        allowed : bool array - both rules met. [-]
    Raises
        nothing
    Validity
        The can's own sheet comes first.
    Source
        ISO 8502-4:1993 and ISO 12944-7 as quoted on coating pages, seen.
    Example
        >>> bool(may_coat(293.15, 0.65, 290.15))
        True
    """
    warm = np.asarray(surface_k) >= dew_point_k(temperature_k, humidity) + DEW_MARGIN_K
    return np.asarray(warm & (np.asarray(humidity) <= GREATEST_HUMIDITY))
