"""Spin from cant and twist of the fins: how much cant brings it near the pitch frequency.

The roll rate and the pitch frequency themselves are flown, see `flight.forces`.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# of the pitch frequency: the trim incidence is twice its still value, 1 / (1 - ratio^2) = 2
DOUBLED: Final = 0.5**0.5
MIN_CANT_RAD: Final = 1e-5  # below it the ratio of roll to cant is noise
MAX_CANT_RAD: Final = 0.5


def cant_for_ratio_rad(cant_rad: Array, ratio: Array, wanted: float = DOUBLED) -> float | None:
    """Mean cant of all fins that brings the spin to a ratio, from flights with known cants.

    Roll goes with mean cant, so wanted / median(ratio / |cant|).

    Parameters
        cant_rad : array, (n,) - mean cant of each flight, either sign. [rad]
        ratio : array, (n,) - roll over pitch frequency of each flight. [-]
        wanted : float - ratio to be reached. [-]
    Returns
        cant : float or None - at most half a radian; None when no flight tells. [rad]
    Raises
        nothing
    Validity
        Roll proportional to cant: below about 5 deg.
    Source
        Linear roll balance; derived.
    Example
        >>> round(cant_for_ratio_rad(np.array([0.01, -0.02]), np.array([0.5, 1.0]), 0.7), 9)
        0.014
    """
    cant = np.abs(cant_rad)
    good = np.isfinite(ratio) & (cant > MIN_CANT_RAD)
    if not good.any():
        return None
    per_rad = float(np.median(ratio[good] / cant[good]))
    return min(wanted / per_rad, MAX_CANT_RAD) if per_rad > 0.0 else None


def turns_per_s(roll_rad_s: float) -> float:
    """Turns a second of a roll rate [1/s].

    Parameters
        roll_rad_s : float - roll rate. [rad/s]
    Returns
        turns : float. [1/s]
    Source
        Definition.
    """
    return roll_rad_s / (2.0 * np.pi)


def tip_offset_m(outline_m: tuple[tuple[float, float], ...], cant_rad: float) -> float:
    """How far the tip's trailing edge stands beside its line at a cant, root's front on the line.

    Parameters
        outline_m : tuple of (aft, outward) - corners, root leading edge first. [m]
        cant_rad : float - of the fin. [rad]
    Returns
        offset : float - sideways. [m]
    Source
        Geometry.
    """
    tip = max(corner[1] for corner in outline_m)
    trailing = max(x for x, y in outline_m if y > tip - 1e-9)
    return trailing * float(np.sin(cant_rad))
