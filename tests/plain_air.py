"""The air in plain numpy, the twin that the flight's compiled column of air is compared with.

Published tables are checked on these functions, and the column against them.
"""

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class Terrain:
    """One terrain category: roughness length and the height below which the profile is held."""

    name: str
    roughness_m: float
    min_height_m: float
    exponent: float  # power law through 2 m and 100 m, fitted to the logarithmic profile here
    description: str

    def __post_init__(self) -> None:
        if not 0.0 < self.roughness_m < self.min_height_m:
            raise ValueError(f"terrain {self.name}: need 0 < roughness < least height")


# EN 1991-1-4:2005 table 4.1; exponents derived: ln(ln(100/z0)/ln(zl/z0))/ln(100/zl), zl the
# greater of 2 m and the least height.
TERRAINS: Final = (
    Terrain("0", 0.003, 1.0, 0.120, "open sea or its shore"),
    Terrain("I", 0.01, 1.0, 0.141, "lakes, flat land with almost no plants"),
    Terrain("II", 0.05, 2.0, 0.185, "low plants such as grass or stubble, single obstacles"),
    Terrain("III", 0.3, 5.0, 0.242, "villages, forest, regular cover"),
    Terrain("IV", 1.0, 10.0, 0.301, "towns"),
)
NEUTRAL_OPEN_EXPONENT: Final = 0.16  # Hellmann, neutral air over flat open land
_DURST: Final = (0.977, 0.64, 38.14, 0.685)


def wind_profile(
    height_m: ArrayLike, wind_m_s: float, wind_height_m: float, exponent: float
) -> NDArray[np.float64]:
    """Mean wind at a height by the power law, from one reading.

    v = v_ref (h / h_ref)^a, held below 0.5 m, because the law goes to zero there and the reading
    was taken above it.

    Parameters
        height_m : float or array - above ground. [m]
        wind_m_s : float - mean reading at `wind_height_m`. [m/s]
        wind_height_m : float - height of the reading above ground. [m]
        exponent : float - 0.10 over water to 0.34 over towns. [-]
    Returns
        wind_m_s : array - mean wind. [m/s]
    Validity
        0.5 to about 300 m in neutral air; above that it overstates.
    Source
        [hellmann], exponents as tabulated by [kaltschmitt2007].
    Example
        wind_profile(100.0, 3.5, 2.0, 0.16) -> 6.54
    """
    h = np.maximum(np.asarray(height_m, dtype=np.float64), 0.5)
    return np.asarray(wind_m_s * (h / wind_height_m) ** exponent)


def roughness_factor(height_m: ArrayLike, terrain: Terrain) -> NDArray[np.float64]:
    """Mean wind over the base wind (10 m, open grass) by the logarithmic profile.

    cr = kr ln(z / z0), kr = 0.19 (z0 / 0.05)^0.07; constant below the least height.

    Parameters
        height_m : float or array - above ground. [m]
        terrain : Terrain - category. [-]
    Returns
        factor : array - mean wind over base wind. [-]
    Validity
        Up to 200 m, flat land.
    Source
        [en1991-1-4] eqs 4.3 to 4.5.
    Example
        roughness_factor(10.0, TERRAINS[2]) -> 1.007
    """
    z = np.maximum(np.asarray(height_m, dtype=np.float64), terrain.min_height_m)
    kr = 0.19 * (terrain.roughness_m / 0.05) ** 0.07
    return np.asarray(kr * np.log(z / terrain.roughness_m))


def turbulence_intensity(height_m: ArrayLike, terrain: Terrain) -> NDArray[np.float64]:
    """Standard deviation of the along-wind turbulence over the mean wind.

    Iv = 1 / ln(z / z0), flat land, turbulence factor 1.

    Parameters
        height_m : float or array - above ground. [m]
        terrain : Terrain - category. [-]
    Returns
        intensity : array - sigma over mean. [-]
    Validity
        Strong wind in neutral air, up to 200 m; light wind with thermals has more.
    Source
        [en1991-1-4] eq 4.7.
    Example
        turbulence_intensity(10.0, TERRAINS[2]) -> 0.189
    """
    z = np.maximum(np.asarray(height_m, dtype=np.float64), terrain.min_height_m)
    return np.asarray(1.0 / np.log(z / terrain.roughness_m))


def peak_pressure(
    height_m: float, base_wind_m_s: float, terrain: Terrain, density_kg_m3: float = 1.25
) -> float:
    """Peak dynamic pressure of the wind, for what stands on the ground.

    qp = (1 + 7 Iv) rho vm^2 / 2.

    Parameters
        height_m : float - above ground. [m]
        base_wind_m_s : float - ten-minute mean at 10 m over open grass. [m/s]
        terrain : Terrain - category. [-]
        density_kg_m3 : float - air density. [kg/m3]
    Returns
        pressure_pa : float - peak dynamic pressure. [Pa]
    Validity
        As the profile.
    Source
        [en1991-1-4] eq 4.8; check value of the JRC example SX016a, 911 Pa.
    Example
        peak_pressure(7.3, 26.0, TERRAINS[2]) -> 910.9
    """
    mean = float(roughness_factor(height_m, terrain)) * base_wind_m_s
    intensity = float(turbulence_intensity(height_m, terrain))
    return (1.0 + 7.0 * intensity) * 0.5 * density_kg_m3 * mean**2


def gust_ratio_cem(averaging_s: ArrayLike) -> NDArray[np.float64]:
    """Wind averaged over a short time, as expected greatest in an hour, over the hourly mean.

    1.277 + 0.296 tanh(0.9 log10(45 / t)).

    Parameters
        averaging_s : float or array - averaging time. [s]
    Returns
        ratio : array - to the hourly mean. [-]
    Validity
        1 to 3600 s, strong wind over flat open land.
    Source
        [cem] figure II-2-1.
    Example
        gust_ratio_cem(3.0) -> 1.5094
    """
    t = np.asarray(averaging_s, dtype=np.float64)
    return np.asarray(1.277 + 0.296 * np.tanh(0.9 * np.log10(45.0 / t)))


def gust_ratio_durst(averaging_s: ArrayLike) -> NDArray[np.float64]:
    """The same ratio by a curve fit to Durst's measurements.

    F(t) / F(3600 s), F = 0.977 + 0.64 / (1 + (t / 38.14)^0.685).

    Parameters
        averaging_s : float or array - averaging time. [s]
    Returns
        ratio : array - to the hourly mean. [-]
    Validity
        1 to 3600 s, strong wind over flat open land.
    Source
        [durst1960], curve fit.
    Example
        gust_ratio_durst(3.0) -> 1.5152
    """
    t = np.asarray(averaging_s, dtype=np.float64)
    base, height, scale, power = _DURST
    hour = base + height / (1.0 + (3600.0 / scale) ** power)
    return np.asarray((base + height / (1.0 + (t / scale) ** power)) / hour)


def gust_sigma(
    wind_m_s: float,
    gust_factor: float,
    gust_averaging_s: float = 3.0,
    mean_averaging_s: float = 600.0,
) -> float:
    """Standard deviation of the along-wind turbulence that a gust factor stands for.

    The factor is first carried to 3 s gusts over a ten-minute mean by the ratio of the averaging
    curve; then G^2 = 1 + 7 I (peak pressure of the wind code) gives I = (G^2 - 1) / 7.

    Parameters
        wind_m_s : float - mean wind. [m/s]
        gust_factor : float - greatest gust over mean, at least 1. [-]
        gust_averaging_s : float - averaging time of the gust. [s]
        mean_averaging_s : float - averaging time of the mean. [s]
    Returns
        sigma_m_s : float - standard deviation of the turbulence. [m/s]
    Raises
        ValueError - gust factor below 1 or wind below 0.
    Validity
        Factors 1 to 2; gust averaging from 1 to 60 s; carried on outside.
    Source
        [en1991-1-4] eq 4.8; [cem] for other averaging times.
    Example
        gust_sigma(3.5, 1.6) -> 0.78
    """
    if gust_factor < 1.0 or wind_m_s < 0.0:
        raise ValueError(
            f"gust factor {gust_factor:g} over a wind of {wind_m_s:g} m/s: the factor must be at "
            "least 1 and the wind not negative; enter the greatest gust over the mean"
        )
    given = float(gust_ratio_cem(gust_averaging_s) / gust_ratio_cem(mean_averaging_s)) - 1.0
    standard = float(gust_ratio_cem(3.0) / gust_ratio_cem(600.0)) - 1.0
    factor = 1.0 + (gust_factor - 1.0) * (standard / given if given > 0.0 else 1.0)
    return wind_m_s * (factor**2 - 1.0) / 7.0


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
