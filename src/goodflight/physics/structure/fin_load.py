"""Side load on a fin and what it does at the root: bending of the panel.

Left out: torsion from load off the elastic axis (see flutter), inertia of the fin in a fast roll,
landing (see landing).
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

GUST_SIGMAS: Final = 2.0  # near the greatest speed a flight spends seconds, not ten minutes
# middle of 1 (even) and 1.5 (the aft part of a swept root carries more); our guess
UNEVEN: Final = 1.25


def fin_side_load_n(
    dynamic_pressure_pa: Values,
    fin_area_m2: Values,
    slope_per_rad: Values,
    incidence_rad: Values,
    max_coefficient: Values = 1.2,
) -> Array:
    """Force square to one fin at an incidence, for its root and its bond.

    F = q S min(slope x incidence, greatest coefficient).

    Parameters
        dynamic_pressure_pa : float or array - q. [Pa]
        fin_area_m2 : float or array - one exposed panel. [m2]
        slope_per_rad : float or array - normal-force slope on the panel's own area. [1/rad]
        incidence_rad : float or array - of the flow against this fin, cant included. [rad]
        max_coefficient : float or array - where the panel stalls. [-]
    Returns
        force : array - magnitude. [N]
    Raises
        nothing
    Validity
        Steady incidence; a gust reached within half a fin chord of travel loads up to half of it
        at first, so this is on the safe side.
    Source
        Definition of the coefficient; 1.2 is a flat plate broadside (Hoerner 1965, memory).
    Example
        >>> round(float(fin_side_load_n(9000.0, 0.0084, 3.0, 0.1)), 2)
        22.68
    """
    coefficient = np.minimum(
        np.asarray(slope_per_rad, dtype=np.float64) * np.abs(incidence_rad), max_coefficient
    )
    return np.asarray(dynamic_pressure_pa) * fin_area_m2 * coefficient


def fin_root_moment_nm(side_load_n: Values, arm_m: Values) -> Array:
    """Bending moment at the root, load x distance of its centre from the body [N m].

    For an even load the arm is the panel's centroid, `vehicle.panel(outline).w_m`.

    Parameters
        side_load_n : float or array - normal force of one panel. [N]
        arm_m : float or array - its centre outward of the root. [m]
    Returns
        moment : array - at the root. [N m]
    Source
        Statics.
    """
    return np.asarray(side_load_n, dtype=np.float64) * arm_m


def fin_root_stress_pa(moment_nm: Values, root_chord_m: Values, thickness_m: Values) -> Array:
    """Bending stress at the fin's root, to compare with the sheet's bending strength.

    sigma = 6 M / (c t^2), the plate's full root chord taking part.

    Parameters
        moment_nm : float or array - bending moment at the root. [N m]
        root_chord_m : float or array - root length. [m]
        thickness_m : float or array - of the fin. [m]
    Returns
        stress : array - at the outer fibres. [Pa]
    Raises
        nothing
    Validity
        Straight edges, no notch at the tab; swept fins load the aft part of the root more: allow
        a factor 1.5. Plywood's strength is that along its face grain if the grain runs outward.
    Source
        Textbook beam bending; derived.
    Example
        >>> round(float(fin_root_stress_pa(1.0, 0.15, 0.004)) / 1e6, 2)
        2.5
    """
    moment = np.asarray(moment_nm, dtype=np.float64)
    return np.asarray(6.0 * moment / (np.asarray(root_chord_m) * np.asarray(thickness_m) ** 2))


def gust_incidence_rad(gust_sigma_m_s: Values, speed_m_s: Values, cant_rad: Values = 0.0) -> Array:
    """Incidence of the flow against one fin in a gust, its own cant added.

    GUST_SIGMAS x sigma / v + cant.

    Parameters
        gust_sigma_m_s : float or array - of the gusts across the path. [m/s]
        speed_m_s : float or array - air speed; below 1 m/s counts as 1. [m/s]
        cant_rad : float or array - of the fin, either side. [rad]
    Returns
        incidence : array - worst side. [rad]
    Raises
        nothing
    Validity
        Gusts small against the speed; the strongest second of a flight is not known.
    Source
        Kinematics; the number of standard deviations is our guess.
    Example
        >>> round(float(gust_incidence_rad(1.0, 100.0, 0.01)), 9)
        0.03
    """
    gust = GUST_SIGMAS * np.asarray(gust_sigma_m_s, dtype=np.float64)
    return np.asarray(gust / np.maximum(speed_m_s, 1.0) + cant_rad)


def fin_root_stands_nm(
    strength_pa: Values, root_chord_m: Values, thickness_m: Values, share: Values = 1.0
) -> Array:
    """Bending moment that a fin's root stands.

    strength c t^2 / 6 / (UNEVEN x share).

    Parameters
        strength_pa : float or array - bending strength of the sheet. [Pa]
        root_chord_m : float or array - root length c. [m]
        thickness_m : float or array - of the fin t. [m]
        share : float or array - scatter of the uneven load, about 1. [-]
    Returns
        moment : array - at which the root breaks. [N m]
    Raises
        nothing
    Validity
        As fin_root_stress_pa.
    Source
        Textbook beam bending; derived. UNEVEN: our guess.
    Example
        >>> round(float(fin_root_stands_nm(50e6, 0.15, 0.004)), 9)
        16.0
    """
    stress_of_one = fin_root_stress_pa(1.0, root_chord_m, thickness_m)
    return np.asarray(strength_pa / (stress_of_one * UNEVEN * np.asarray(share)))
