"""Mean wind with height, and what a gust factor says about turbulence.

Answers: if the meter reads this at head height, how much wind is there at 100 m, and how strong
are the gusts? Neutral stability only; a sounding replaces the profile where there is one.
Main sources: EN 1991-1-4, Hellmann power law, Coastal Engineering Manual, Durst 1960.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class Terrain:
    """One terrain category: roughness length and the height below which the profile is held."""

    name: str
    roughness_m: float
    least_height_m: float
    exponent: float  # power law through 2 m and 100 m, fitted to the logarithmic profile here
    description: str

    def __post_init__(self) -> None:
        if not 0.0 < self.roughness_m < self.least_height_m:
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
    z = np.maximum(np.asarray(height_m, dtype=np.float64), terrain.least_height_m)
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
    z = np.maximum(np.asarray(height_m, dtype=np.float64), terrain.least_height_m)
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
