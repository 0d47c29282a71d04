"""How a patch is walked: how far apart, how long it takes, how likely the walk finds the rocket.

Left out: slopes, hedges and ditches on the way, tired eyes.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

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

    Parameters
        length_m : float or array - of the lanes L. [m]
        people : float or array - who walk n. [-]
        speed_m_s : float or array - of one v. [m/s]
    Returns
        time : array. [s]
    Source
        Definition.
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
