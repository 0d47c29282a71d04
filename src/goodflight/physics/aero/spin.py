"""Spin from cant and twist of the fins against the rocket's pitch frequency.

Answers: how near does the roll rate come to the frequency at which a small trim angle grows, and
how much cant is that? Left out: damping of the coning motion, products of inertia.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

# of the pitch frequency: the trim incidence is twice its still value, 1 / (1 - ratio^2) = 2
DOUBLED: Final = 0.5**0.5
# roll lags the falling speed of the coast: until the dynamic pressure is down to a tenth the ratio
# grows by this; from the history of one flight, which a test repeats
COAST: Final = 1.15
MIN_CANT_RAD: Final = 1e-5  # below it the ratio of roll to cant is noise
MAX_CANT_RAD: Final = 0.5


def pitch_frequency_rad_s(
    dynamic_pressure_pa: Values,
    *,
    area_m2: float,
    diameter_m: float,
    slope_per_rad: Values,
    margin_cal: Values,
    pitch_inertia_kg_m2: Values,
    roll_inertia_kg_m2: Values,
) -> Array:
    """Roll rate at which a spinning rocket meets its own pitch frequency.

    A slender body of revolution that spins at p answers a small moment as if its stiffness
    q S d CNa m were lessened by p^2 (Iy - Ix): resonance at p = sqrt(q S d CNa m / (Iy - Ix)).

    Parameters
        dynamic_pressure_pa : float or array - q. [Pa]
        area_m2 : float - reference area S. [m2]
        diameter_m : float - reference length d. [m]
        slope_per_rad : float or array - CNa of the whole rocket. [1/rad]
        margin_cal : float or array - static margin m over d; below zero counts as zero. [-]
        pitch_inertia_kg_m2 : float or array - Iy about the CG. [kg m2]
        roll_inertia_kg_m2 : float or array - Ix. [kg m2]
    Returns
        rate : array - of roll. [rad/s]
    Raises
        nothing
    Validity
        Small incidence, Iy well above Ix.
    Source
        Equations of motion of a spinning symmetric body, linearised; derived.
    Example
        >>> rate = pitch_frequency_rad_s(
        ...     5000.0, area_m2=0.005, diameter_m=0.08, slope_per_rad=10.0, margin_cal=1.5,
        ...     pitch_inertia_kg_m2=0.121, roll_inertia_kg_m2=0.001)
        >>> round(float(rate), 3)
        15.811
    """
    margin = np.maximum(np.asarray(margin_cal, dtype=np.float64), 0.0)
    stiff = dynamic_pressure_pa * area_m2 * diameter_m * slope_per_rad * margin
    spread = np.asarray(pitch_inertia_kg_m2, dtype=np.float64) - roll_inertia_kg_m2
    return np.asarray(np.sqrt(stiff / np.maximum(spread, 1e-9)))


def spin_ratio(roll_rad_s: Values, pitch_rad_s: Values) -> Array:
    """Greatest roll rate over pitch frequency of a flight, from both at burnout.

    |p| / pitch frequency x COAST.

    Parameters
        roll_rad_s : float or array - roll rate at burnout. [rad/s]
        pitch_rad_s : float or array - roll rate that meets the pitch frequency then. [rad/s]
    Returns
        ratio : array - nan where the pitch frequency is zero. [-]
    Raises
        nothing
    Validity
        Until the dynamic pressure has fallen to a tenth; COAST from one rocket's history.
    Source
        Own derivation; our guess for other rockets.
    Example
        >>> round(float(spin_ratio(10.0, 23.0)), 9)
        0.5
    """
    pitch = np.asarray(pitch_rad_s, dtype=np.float64)
    out = np.full(np.broadcast_shapes(np.shape(roll_rad_s), pitch.shape), np.nan)
    np.divide(np.abs(roll_rad_s), pitch, out=out, where=pitch > 0.0)
    return COAST * out


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


def tip_offset_m(outline_m: tuple[tuple[float, float], ...], cant_rad: float) -> float:
    """How far the tip's trailing edge stands beside its line at a cant, root's front on the line.

    Parameters
        outline_m : tuple of (aft, outward) - corners, root leading edge first. [m]
        cant_rad : float - of the fin. [rad]
    Returns
        offset : float - sideways. [m]
    """
    tip = max(corner[1] for corner in outline_m)
    trailing = max(x for x, y in outline_m if y > tip - 1e-9)
    return trailing * float(np.sin(cant_rad))
