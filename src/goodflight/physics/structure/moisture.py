"""Dew point and whether a surface may be painted or glued.

Left out: rain, fog, and wood that is damp inside.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import ZERO_C_K

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# Magnus form es = e0 exp(a t/(b + t)), t in degC; Alduchov & Eskridge 1996: a, b seen
MAGNUS: Final = (17.625, 243.04)
DEW_MARGIN_K: Final = 3.0  # surface above dew point; ISO 8502-4 as quoted, seen
MAX_HUMIDITY: Final = 0.85  # same


def dew_point_k(
    temperature_k: Values, humidity: Values, constants: tuple[float, float] = MAGNUS
) -> Array:
    """Temperature at which the air's moisture begins to settle.

    g = ln(rh) + a t/(b + t); t_d = b g/(a - g), degC.

    Parameters
        temperature_k : float or array - of the air. [K]
        humidity : float or array - relative, 0 to 1, above zero. [-]
        constants : (a, b) - of the Magnus form. [-, degC]
    Returns
        dew_point : array - over water. [K]
    Raises
        nothing
    Validity
        -40 to 50 degC; 0.35 K.
    Source
        Magnus form inverted; derived.
    Example
        >>> round(float(dew_point_k(293.15, 0.65)) - 273.15, 2)
        13.22
    """
    a, b = constants
    t = np.asarray(temperature_k, dtype=np.float64) - ZERO_C_K
    g = np.log(np.asarray(humidity, dtype=np.float64)) + a * t / (b + t)
    return np.asarray(b * g / (a - g) + ZERO_C_K)


def min_surface_k(temperature_k: Values, humidity: Values, error: Values = 0.0) -> Array:
    """Temperature a surface must have before paint or glue goes on: dew point + 3 K.

    Parameters
        temperature_k : float or array - of the air. [K]
        humidity : float or array - of the air, 0 to 1. [-]
        error : float or array - drawn error of the humidity, the sum held to 0.05 to 1. [-]
    Returns
        surface : array - least temperature. [K]
    Raises
        nothing
    Validity
        Air at most 85 % (MAX_HUMIDITY); the can's own sheet comes first.
    Source
        ISO 8502-4:1993 and ISO 12944-7 as quoted on coating pages, seen.
    Example
        >>> round(float(min_surface_k(293.15, 0.65)) - 273.15, 2)
        16.22
    """
    humid = np.clip(np.asarray(humidity, dtype=np.float64) + error, 0.05, 1.0)
    return np.asarray(dew_point_k(temperature_k, humid) + DEW_MARGIN_K)


def recoat_error_s(interval_s: float, min_s: float, max_s: float) -> tuple[float, float]:
    """Distance of an interval between coats from the middle of the can's window, and half of it.

    Parameters
        interval_s : float - planned. [s]
        min_s : float - of the can. [s]
        max_s : float - of the can. [s]
    Returns
        off, half : floats - distance; what is allowed. [s]
    Source
        Definition; the window is the can's.
    """
    return abs(interval_s - 0.5 * (min_s + max_s)), 0.5 * (max_s - min_s)
