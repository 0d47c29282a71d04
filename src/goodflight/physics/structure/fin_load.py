"""Side load on a fin and what it does at the root: bending of the panel.

Left out: torsion from load off the elastic axis (see flutter), inertia of the fin in a fast roll,
landing (see landing).
"""

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]


def fin_side_load_n(
    dynamic_pressure_pa: Values,
    fin_area_m2: Values,
    slope_per_rad: Values,
    incidence_rad: Values,
    greatest_coefficient: Values = 1.2,
) -> Array:
    """Force square to one fin at an incidence, for its root and its bond.

    F = q S min(slope x incidence, greatest coefficient).

    Parameters
        dynamic_pressure_pa : float or array - q. [Pa]
        fin_area_m2 : float or array - one exposed panel. [m2]
        slope_per_rad : float or array - normal-force slope on the panel's own area. [1/rad]
        incidence_rad : float or array - of the flow against this fin, cant included. [rad]
        greatest_coefficient : float or array - where the panel stalls. [-]
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
        np.asarray(slope_per_rad, dtype=np.float64) * np.abs(incidence_rad), greatest_coefficient
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
