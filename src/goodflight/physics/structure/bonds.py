"""Glue joints that carry the flight: fin roots, thrust rings, bulkheads with anchors.

Loads are spread evenly over each joint, which real joints do not do; strengths below are means of
scattered sources. Left out: peel at the ends, creep, heat (see cure for the glue itself).
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# what gives way first, not the glue
KRAFT_PLY_PA: Final = 0.45e6  # plies of a paper tube pulled apart, 0.3 to 0.6; memory
PLY_ROLLING_SHEAR_PA: Final = 2.5e6  # birch plywood in its plane, 2 to 3; memory
PANEL_SHEAR_PA: Final = 8.34e6  # paper birch, shear parallel to the grain: Wood Handbook, seen
FOREMOST: Final = 1.5  # middle of 1 (even) and 2 (the foremost ring carries twice); our guess
SUDDEN: Final = 1.3  # thrust rises within some hundredths of a second, 1 to 2; our guess
FILLET_SHARE: Final = 0.06  # radius over root chord where none is given: 4 to 8 %, practice
LEGS: Final = 2  # a U-bolt, or an eyebolt through two plates
WASHER_M: Final = 0.012  # outside, of one leg


def ring_bond_stress_pa(
    force_n: Values, diameter_m: Values, glued_width_m: Values, count: Values = 1.0
) -> Array:
    """Shear in the glue line of thrust rings or a bulkhead.

    stress = F / (count x pi D x width).

    Parameters
        force_n : float or array - thrust, or pull of the cord. [N]
        diameter_m : float or array - of the glue line: tube bore, or motor tube outside. [m]
        glued_width_m : float or array - along the axis: thickness plus the feet of fillets. [m]
        count : float or array - rings that share it. [-]
    Returns
        stress : array - shear. [Pa]
    Raises
        nothing
    Validity
        Even share; the foremost ring takes more: allow a factor 2.
    Source
        Definition; derived.
    Example
        >>> round(float(ring_bond_stress_pa(205.0, 0.076, 0.008, 1)) / 1e3)
        107
    """
    area = np.asarray(count) * pi * np.asarray(diameter_m, dtype=np.float64) * glued_width_m
    return np.asarray(np.asarray(force_n) / area)


def anchor_stress_pa(force_n: Values, washer_diameter_m: Values, thickness_m: Values) -> Array:
    """Shear in a bulkhead round the washer of an eyebolt or one leg of a U-bolt.

    stress = F / (pi d t).

    Parameters
        force_n : float or array - pull on this washer. [N]
        washer_diameter_m : float or array - outside. [m]
        thickness_m : float or array - of the bulkhead. [m]
    Returns
        stress : array - punching shear. [Pa]
    Raises
        nothing
    Validity
        Thin plates bend before they punch; see the sheet's bending strength.
    Source
        Definition; derived.
    Example
        >>> round(float(anchor_stress_pa(500.0, 0.012, 0.004)) / 1e6, 2)
        3.32
    """
    area = pi * np.asarray(washer_diameter_m, dtype=np.float64) * thickness_m
    return np.asarray(np.asarray(force_n) / area)


def glued_width_m(thickness_m: Values, fillets: Values = 1.0) -> Array:
    """Glued width of a ring or plate along the axis: the sheet and a fillet as wide on both sides.

    t (1 + 2 fillets) [m].

    Parameters
        thickness_m : float or array - of the sheet t. [m]
        fillets : float or array - size of the fillets over the sheet's thickness. [-]
    Returns
        width : array - along the axis. [m]
    Source
        Geometry.
    """
    return np.asarray(thickness_m * (1.0 + 2.0 * np.asarray(fillets, dtype=np.float64)))


def thrust_on_glue_n(peak_thrust_n: Values, motor_kg: Values, liftoff_kg: Values) -> Array:
    """Force that a motor's thrust puts into the glue of its rings.

    peak x (1 - motor / whole) x SUDDEN: what the motor itself weighs is pushed by no glue joint.

    Parameters
        peak_thrust_n : float or array - greatest thrust. [N]
        motor_kg : float or array - loaded motor. [kg]
        liftoff_kg : float or array - whole rocket, motor included. [kg]
    Returns
        force : array - through the rings. [N]
    Raises
        nothing
    Validity
        Rigid rocket; drag at lift-off is nothing.
    Source
        Newton; derived. SUDDEN: our guess.
    Example
        >>> round(float(thrust_on_glue_n(200.0, 0.4, 2.0)), 9)
        208.0
    """
    carried = 1.0 - motor_kg / np.maximum(np.asarray(liftoff_kg, dtype=np.float64), 1e-6)
    return np.asarray(peak_thrust_n * carried * SUDDEN)


def rings_hold_n(
    strength_pa: Values, diameter_m: Values, width_m: Values, count: int, share: Values = 1.0
) -> Array:
    """Thrust that the glue lines of the motor's rings stand.

    count x pi d w x strength, over FOREMOST x share where several rings share it.

    Parameters
        strength_pa : float or array - of the weakest layer under the glue. [Pa]
        diameter_m : float or array - of the glue line d. [m]
        width_m : float or array - along the axis w. [m]
        count : int - rings. [-]
        share : float or array - scatter of the uneven load, about 1. [-]
    Returns
        force : array - at which the rings come loose. [N]
    Raises
        nothing
    Validity
        As ring_bond_stress_pa.
    Source
        Definition of shear; derived. FOREMOST: our guess.
    Example
        >>> round(float(rings_hold_n(0.45e6, 0.042, 0.009, 2)))
        713
    """
    shared = FOREMOST * np.asarray(share, dtype=np.float64) if count > 1 else 1.0
    return np.asarray(strength_pa / (ring_bond_stress_pa(1.0, diameter_m, width_m, count) * shared))


def anchor_holds_n(
    glue_pa: Values,
    outer_m: float,
    inner_m: float,
    width_m: Values,
    thickness_m: float,
    panel_factor: Values = 1.0,
) -> Array:
    """Pull that the anchor of a cord stands: its plate's glue lines, or washers through the sheet.

    Lesser of pi (D + d) w x strength of the glue line and LEGS pi WASHER_M t x PANEL_SHEAR_PA.

    Parameters
        glue_pa : float or array - of the weakest layer under the glue. [Pa]
        outer_m : float - outside diameter of ring or bulkhead D. [m]
        inner_m : float - bore of a ring, glued too, 0 for a bulkhead d. [m]
        width_m : float or array - of the glue lines along the axis w. [m]
        thickness_m : float - of the sheet t. [m]
        panel_factor : float or array - scatter of the sheet's shear strength. [-]
    Returns
        force : array - at which the anchor tears out. [N]
    Raises
        nothing
    Validity
        As anchor_stress_pa.
    Source
        Definition of shear; derived.
    Example
        >>> round(float(anchor_holds_n(0.45e6, 0.076, 0.042, 0.009, 0.003)))
        1501
    """
    bond = glue_pa / ring_bond_stress_pa(1.0, outer_m + inner_m, width_m)
    punch = PANEL_SHEAR_PA * np.asarray(panel_factor, dtype=np.float64)
    return np.minimum(bond, punch / anchor_stress_pa(1.0 / LEGS, WASHER_M, thickness_m))
