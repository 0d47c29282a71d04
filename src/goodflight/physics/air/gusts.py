"""What a gust factor says about turbulence: the spread of the wind that the flights draw."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

# peak factor of a 3 s gust in ten minutes: (1.4375 - 1) / 0.16 from the Coastal Engineering Manual
# curve (3 s over 600 s) at its turbulence intensity of 0.15 to 0.17; derived
GUST_PEAK: Final = 2.75


def gust_sigma_m_s(wind_m_s: Values, gust_factor: Values, scatter: Values = 1.0) -> Array:
    """Standard deviation of the along-wind turbulence that a gust factor stands for.

    v (G - 1) / GUST_PEAK: the gust is that many standard deviations above the mean.

    Parameters
        wind_m_s : float or array - mean wind v. [m/s]
        gust_factor : float or array - greatest gust over mean G; below 1 counts as 1. [-]
        scatter : float or array - drawn, about 1. [-]
    Returns
        sigma : array - of the turbulence. [m/s]
    Raises
        nothing
    Validity
        Factors near 1.4, gusts of 3 s over a mean of ten minutes. At a factor of 2 the wind code's
        G^2 = 1 + 7 I gives 18 % more; which is right there is open.
    Source
        Coastal Engineering Manual, wind speed against averaging time (seen); derived.
    Example
        >>> round(float(gust_sigma_m_s(5.0, 2.0)), 2)
        1.82
    """
    gust = np.maximum(np.asarray(gust_factor, dtype=np.float64) - 1.0, 0.0) * scatter
    return np.asarray(wind_m_s * gust / GUST_PEAK)
