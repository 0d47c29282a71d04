"""How a patch is walked: how far apart, how long it takes, how likely the walk finds the rocket.

Left out: slopes, hedges and ditches on the way, tired eyes.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

ALOFT_M_S: Final = 2.0  # how well wind aloft is known from other flights; practice, no source
WALK_M_S: Final = 0.8  # looking to both sides, on level ground; our guess


@dataclass(frozen=True)
class Cover:
    """What stands on the ground: how far apart two lanes may lie. Practice figures, no source."""

    key: str
    words: str
    spacing_m: float


COVERS: Final = (
    Cover("short", "stubble, ploughed ground or short grass", 20.0),
    Cover("knee", "crop or grass to the knee", 8.0),
    Cover("hip", "crop to the hip, rough scrub", 4.0),
    Cover("tall", "maize or reed above your head, row by row", 2.0),
)
COVER: Final = {each.key: each for each in COVERS}


def walk_s(length_m: Values, people: Values, speed_m_s: Values = WALK_M_S) -> Array:
    """Time to walk a length of lanes shared among people [s]: t = L / (n v).

    Raises nothing. Source: definition.
    """
    return np.asarray(np.asarray(length_m, dtype=np.float64) / (speed_m_s * np.asarray(people)))


def found_share(area_m2: Values, walked_m: Values, width_m: Values) -> Array:
    """Chance that a walk finds what lies in a patch: P = 1 - exp(-W L / A).

    Parameters
        area_m2 : float or array - the patch A. [m2]
        walked_m : float or array - length of all lanes walked L. [m]
        width_m : float or array - strip that one walker sees W. [m]
    Returns
        share : array - 0 to 1. [-]
    Raises
        nothing
    Validity
        It lies in the patch, and the walk is no more regular than chance; tidy lanes do better.
    Source
        Koopman, random search, Operations Research 5, 1957, memory [koopman1957].
    Example
        >>> round(float(found_share(2000.0, 100.0, 20.0)), 4)
        0.6321
    """
    return np.asarray(-np.expm1(-np.asarray(width_m) * np.asarray(walked_m) / np.asarray(area_m2)))


def search_s(
    area_m2: Values, width_m: Values, people: Values, score: Values, speed_m_s: Values = WALK_M_S
) -> Array:
    """Time until a search finds the rocket, at one score of luck: t = -ln(1 - u) A / (W v n).

    The time at which `found_share` reaches u = Phi(score).

    Parameters
        area_m2 : float or array - patch to search A. [m2]
        width_m : float or array - strip that one walker sees W. [m]
        people : float or array - who search n. [-]
        score : float or array - standard normal; 0 = as long as half of all searches. [-]
        speed_m_s : float or array - walking v. [m/s]
    Returns
        time : array - of walking in the patch. [s]
    Raises
        nothing
    Validity
        As `found_share`.
    Source
        [koopman1957] solved for the time; derived.
    Example
        >>> round(float(search_s(1600.0, 20.0, 1.0, 0.0)), 2)
        69.31
    """
    from scipy.special import log_ndtr  # slow to import

    luck = -np.asarray(log_ndtr(-np.asarray(score, dtype=np.float64)))
    return np.asarray(luck * np.asarray(area_m2) / (width_m * speed_m_s * np.asarray(people)))


def sighted_strip_m2(
    distance_m: Values, distance_sigma_m: Values, bearing_sigma_rad: float
) -> Array:
    """Ground that holds 9 in 10 landings seen to go down along a bearing.

    A = pi k^2 s_d d s_b, k^2 = -2 ln 0.1: an ellipse along the bearing.

    Parameters
        distance_m : float or array - how far away it comes down d. [m]
        distance_sigma_m : float or array - spread of that s_d. [m]
        bearing_sigma_rad : float - of the observer s_b. [rad]
    Returns
        area : array. [m2]
    Raises
        nothing
    Validity
        Normal spreads, bearings good to some degrees.
    Source
        Area of the 90 % ellipse of two independent normal errors; exact.
    Example
        >>> round(float(sighted_strip_m2(300.0, 100.0, 0.1)))
        43403
    """
    across = np.asarray(distance_m, dtype=np.float64) * bearing_sigma_rad
    return np.asarray(-2.0 * math.log(0.1) * np.pi * np.asarray(distance_sigma_m) * across)


def drift_error_m(descent_s: Values, error_m_s: float = ALOFT_M_S) -> Array:
    """How far off a drift is when the wind is off by so much for the whole descent [m].

    Raises nothing. Source: definition, s = dv t.
    """
    return np.asarray(error_m_s * np.asarray(descent_s))
