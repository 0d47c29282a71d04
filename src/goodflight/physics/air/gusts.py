"""What a gust factor says about turbulence: the spread of the wind that the flights draw."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

# of the turbulence intensity in the peak pressure over the mean one: 2 x 3.5 standard deviations
PEAK_PRESSURE: Final = 7.0


def gust_incidence_rad(gust_m_s: float, speed_m_s: float) -> float:
    """Angle of attack of a wind across a speed: atan(w / v), 0 at rest [rad].

    Parameters
        gust_m_s, speed_m_s : float - across, and of the rocket in still air. [m/s]
    Returns
        angle : float. [rad]
    Source
        Geometry.
    """
    return float(np.arctan2(gust_m_s, speed_m_s)) if speed_m_s > 0.0 else 0.0


def gust_sigma_m_s(wind_m_s: Values, gust_factor: Values, scatter: Values = 1.0) -> Array:
    """Standard deviation of the along-wind turbulence that a gust factor stands for.

    v I, with the intensity I from the peak pressure, G^2 = 1 + 7 I.

    Parameters
        wind_m_s : float or array - mean wind v. [m/s]
        gust_factor : float or array - greatest gust over mean G; below 1 counts as 1. [-]
        scatter : float or array - drawn, about 1. [-]
    Returns
        sigma : array - of the turbulence. [m/s]
    Raises
        nothing
    Validity
        Gusts of about 3 s over a mean of ten minutes. At a factor of 1.44 it gives the intensity at
        which the Coastal Engineering Manual's averaging curve was measured.
    Source
        [en1991-1-4] eq 4.8.
    Example
        >>> round(float(gust_sigma_m_s(5.0, 2.0)), 2)
        2.14
    """
    gust = np.maximum(np.asarray(gust_factor, dtype=np.float64), 1.0)
    return np.asarray(wind_m_s * (gust**2 - 1.0) / PEAK_PRESSURE * scatter)
