"""Turbulence near the ground: how strong, how long, and how to draw a series of it.

Answers: what gusts does the rocket meet on its way up? Two horizontal components (along and
across the mean wind), each a first-order process in distance flown through the air. The
vertical component is left out: it changes the air speed of a rising rocket by a few per cent.
Main sources: MIL-F-8785C low-altitude model; IEC 61400-1 (Kaimal) as a second spectrum.
"""

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

FOOT_M: Final = 0.3048
LOW_FT: Final = 10.0  # the low-altitude model starts here
HIGH_FT: Final = 1000.0  # and ends here
FREE_FT: Final = 2000.0  # from here on the scale is that of free air
FREE_SCALE_FT: Final = 1750.0


class Turbulence(NamedTuple):
    """What the flight needs at each height: scales of the first-order processes and sigmas."""

    scale_along_m: NDArray[np.float64]
    scale_across_m: NDArray[np.float64]
    sigma_along_m_s: NDArray[np.float64]
    sigma_across_m_s: NDArray[np.float64]


@dataclass(frozen=True)
class FirstOrder:
    """x[k+1] = keep x[k] + kick n, n standard normal: a step of a first-order process."""

    keep: NDArray[np.float64]
    kick: NDArray[np.float64]


def dryden_scale(height_m: ArrayLike) -> NDArray[np.float64]:
    """Length scale of the along-wind turbulence, for a path along the wind.

    L_u = h / (0.177 + 0.000823 h)^1.2 (h in feet) to 1000 ft, then straight to 1750 ft at 2000 ft.

    Parameters
        height_m : float or array - above ground. [m]
    Returns
        scale_m : array - longitudinal Dryden scale. [m]
    Validity
        3 to 600 m; held outside.
    Source
        [mil-f-8785c] section 3.7.3.
    Example
        dryden_scale(100.0) -> 262.8
    """
    feet = np.maximum(np.asarray(height_m, dtype=np.float64) / FOOT_M, LOW_FT)
    low = np.minimum(feet, HIGH_FT)
    scale = low / (0.177 + 0.000823 * low) ** 1.2
    share = np.clip((feet - HIGH_FT) / (FREE_FT - HIGH_FT), 0.0, 1.0)
    return np.asarray(FOOT_M * (scale + share * (FREE_SCALE_FT - HIGH_FT)))


def dryden_sigma_ratio(height_m: ArrayLike) -> NDArray[np.float64]:
    """Horizontal over vertical turbulence, which grows towards the ground.

    sigma_u / sigma_w = 1 / (0.177 + 0.000823 h)^0.4 (h in feet), 1 above 1000 ft.

    Parameters
        height_m : float or array - above ground. [m]
    Returns
        ratio : array - sigma of each horizontal component over that of the vertical one. [-]
    Validity
        3 to 305 m; held outside.
    Source
        [mil-f-8785c] section 3.7.3.
    Example
        dryden_sigma_ratio(10.0) -> 1.8886
    """
    feet = np.clip(np.asarray(height_m, dtype=np.float64) / FOOT_M, LOW_FT, HIGH_FT)
    return np.asarray((0.177 + 0.000823 * feet) ** -0.4)


def severity_sigma(wind_20ft_m_s: float) -> float:
    """Vertical turbulence of the specification's severity levels, to compare a day with.

    sigma_w = 0.1 W20; light, moderate and severe are 15, 30 and 45 kt.

    Parameters
        wind_20ft_m_s : float - mean wind at 20 ft. [m/s]
    Returns
        sigma_m_s : float - standard deviation of the vertical component. [m/s]
    Validity
        Strong wind; thermals on a calm day are not in it.
    Source
        [mil-f-8785c] section 3.7.3.
    Example
        severity_sigma(7.7) -> 0.77
    """
    return 0.1 * wind_20ft_m_s


def turbulence(
    height_m: ArrayLike, gust_sigma_m_s: float, sigma_height_m: float, climbing: bool = True
) -> Turbulence:
    """Scales and sigmas of the two horizontal components at each height, for drawing gusts.

    The measured sigma at one height is carried to others by the specification's ratio. Along a
    path across the component (a climb crosses both) the integral scale is half the longitudinal
    one, as continuity asks of isotropic turbulence; a level path along the wind has L_u and L_u/2.

    Parameters
        height_m : float or array - above ground. [m]
        gust_sigma_m_s : float - along-wind standard deviation at `sigma_height_m`. [m/s]
        sigma_height_m : float - height of that value. [m]
        climbing : bool - path mainly upwards (True) or level along the wind. [-]
    Returns
        turbulence : Turbulence - scales and sigmas, each shaped like `height_m`. [m, m/s]
    Validity
        3 to 600 m; held outside.
    Source
        [mil-f-8785c] section 3.7.3; half scale: [mil-hdbk-1797] form L_v = L_u / 2.
    Example
        turbulence(10.0, 1.0, 10.0).scale_along_m -> 33.7
    """
    scale = dryden_scale(height_m)
    sigma = gust_sigma_m_s * dryden_sigma_ratio(height_m) / dryden_sigma_ratio(sigma_height_m)
    along = 0.5 * scale if climbing else scale
    return Turbulence(along, 0.5 * scale, np.asarray(sigma), np.asarray(sigma))


def first_order_step(step_m: ArrayLike, scale_m: ArrayLike, sigma_m_s: ArrayLike) -> FirstOrder:
    """Coefficients of one exact step of the first-order process, any step length.

    keep = exp(-s / L), kick = sigma sqrt(1 - keep^2): variance stays sigma^2 and the correlation
    falls as exp(-s / L), which is the longitudinal Dryden spectrum.

    Parameters
        step_m : float or array - distance flown through the air in the step. [m]
        scale_m : float or array - integral scale. [m]
        sigma_m_s : float or array - standard deviation. [m/s]
    Returns
        step : FirstOrder - keep [-] and kick. [m/s]
    Validity
        Any step; scale and sigma are taken constant over it.
    Source
        Exact discretisation of the first-order (Ornstein-Uhlenbeck) process; derived.
    Example
        first_order_step(33.7, 33.7, 1.0).keep -> 0.3679
    """
    keep = np.exp(-np.asarray(step_m, dtype=np.float64) / np.asarray(scale_m, dtype=np.float64))
    return FirstOrder(keep, np.asarray(sigma_m_s) * np.sqrt(-np.expm1(2.0 * np.log(keep))))


def dryden_along(
    wavenumber_rad_m: ArrayLike, scale_m: float, sigma_m_s: float
) -> NDArray[np.float64]:
    """Dryden spectrum of the component along the path, one-sided in spatial frequency.

    Phi = sigma^2 (2 L / pi) / (1 + (L W)^2); its integral over W > 0 is sigma^2.

    Parameters
        wavenumber_rad_m : float or array - spatial frequency W. [rad/m]
        scale_m : float - L. [m]
        sigma_m_s : float - standard deviation. [m/s]
    Returns
        density : array - spectral density. [m3/s2]
    Validity
        W > 0.
    Source
        [mil-f-8785c] section 3.7.1.2.
    Example
        dryden_along(0.0, 100.0, 1.0) -> 63.66
    """
    lw2 = (scale_m * np.asarray(wavenumber_rad_m, dtype=np.float64)) ** 2
    return np.asarray(sigma_m_s**2 * 2.0 * scale_m / np.pi / (1.0 + lw2))


def dryden_across(
    wavenumber_rad_m: ArrayLike, scale_m: float, sigma_m_s: float
) -> NDArray[np.float64]:
    """Dryden spectrum of a component across the path, one-sided in spatial frequency.

    Phi = sigma^2 (L / pi) (1 + 3 (L W)^2) / (1 + (L W)^2)^2; its integral is sigma^2.

    Parameters
        wavenumber_rad_m : float or array - spatial frequency W. [rad/m]
        scale_m : float - L of the 8785C form (twice the integral scale). [m]
        sigma_m_s : float - standard deviation. [m/s]
    Returns
        density : array - spectral density. [m3/s2]
    Validity
        W > 0. The first-order process of half the scale has the same variance and the same
        density at W = 0; elsewhere it is 20 % lower (L W = 1) to 33 % higher (L W large).
    Source
        [mil-f-8785c] section 3.7.1.2.
    Example
        dryden_across(0.0, 100.0, 1.0) -> 31.83
    """
    lw2 = (scale_m * np.asarray(wavenumber_rad_m, dtype=np.float64)) ** 2
    return np.asarray(sigma_m_s**2 * scale_m / np.pi * (1.0 + 3.0 * lw2) / (1.0 + lw2) ** 2)


def kaimal(
    frequency_hz: ArrayLike, scale_m: float, wind_m_s: float, sigma_m_s: float
) -> NDArray[np.float64]:
    """Kaimal spectrum of a component at a fixed point, one-sided in frequency.

    S = sigma^2 (4 L / V) / (1 + 6 f L / V)^(5/3); its integral over f > 0 is sigma^2.

    Parameters
        frequency_hz : float or array - frequency f. [Hz]
        scale_m : float - L, 8.1 (along) or 2.7 (across) times `kaimal_scale`. [m]
        wind_m_s : float - mean wind V. [m/s]
        sigma_m_s : float - standard deviation. [m/s]
    Returns
        density : array - spectral density. [m2/s]
    Validity
        f >= 0, V > 0.
    Source
        [iec61400-1] ed. 3 annex B.
    Example
        kaimal(0.0, 100.0, 5.0, 1.0) -> 80.0
    """
    x = scale_m / wind_m_s
    f = np.asarray(frequency_hz, dtype=np.float64)
    return np.asarray(sigma_m_s**2 * 4.0 * x / (1.0 + 6.0 * f * x) ** (5.0 / 3.0))


def kaimal_scale(height_m: float) -> float:
    """Longitudinal scale parameter Lambda of the wind-turbine standard.

    0.7 z to 60 m, then 42 m.

    Parameters
        height_m : float - above ground. [m]
    Returns
        scale_m : float - Lambda. [m]
    Validity
        Neutral air.
    Source
        [iec61400-1] ed. 3 eq 5.
    Example
        kaimal_scale(30.0) -> 21.0
    """
    return 0.7 * min(height_m, 60.0)


def normal_turbulence_sigma(wind_m_s: float, reference_intensity: float) -> float:
    """Along-wind standard deviation of the wind-turbine standard, a cautious second opinion.

    sigma = I (0.75 V + 5.6), the 90 % quantile at wind V.

    Parameters
        wind_m_s : float - mean wind. [m/s]
        reference_intensity : float - 0.12, 0.14 or 0.16 for classes C, B, A. [-]
    Returns
        sigma_m_s : float - standard deviation. [m/s]
    Validity
        3 to 25 m/s.
    Source
        [iec61400-1] ed. 3 eq 11.
    Example
        normal_turbulence_sigma(10.0, 0.16) -> 2.096
    """
    return reference_intensity * (0.75 * wind_m_s + 5.6)
