"""What touches the ground first, and the moment a fin's bonds stand.

Left out: bouncing, stones, dragging by the canopy.
"""

from math import pi

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.structure.bonds import KRAFT_PLY_PA, PLY_ROLLING_SHEAR_PA
from goodflight.physics.structure.fin_load import UNEVEN

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]


def fin_touch_tilt_rad(
    outline_m: tuple[tuple[float, float], ...],
    fin_station_m: float,
    body_radius_m: float,
    tail_m: float,
    tail_radius_m: float,
    roll_rad: Values = 0.0,
) -> tuple[Array, Array]:
    """Tilt of a tail hung from its forward end beyond which a fin touches before the tail's edge.

    A point at station x and radius r, turned by p from the way the tail tilts, lies
    x cos f + r cos p sin f below the cord's tie; a fin's corner is lower than the tail's edge when
    tan f > (tail - x)/(r cos p - tail radius).

    Parameters
        outline_m : tuple of (aft, outward) - corners of the fin. [m]
        fin_station_m : float - front of the root. [m]
        body_radius_m : float - at the root. [m]
        tail_m : float - station of the tail end. [m]
        tail_radius_m : float - radius there. [m]
        roll_rad : float or array - of the fin from the way the tail tilts. [rad]
    Returns
        tilt, outward : arrays - least tilt over the corners, 0 when a fin hangs below the tail, and
            how far outward that corner stands; (pi/2, 0) when no corner can touch. [rad, m]
    Raises
        nothing
    Validity
        Flat ground.
    Source
        Geometry; derived.
    Example
        >>> tilt, out = fin_touch_tilt_rad(
        ...     ((0, 0), (0.07, 0.08), (0.13, 0.08), (0.15, 0)), 1.06, 0.0395, 1.22, 0.0395)
        >>> round(float(tilt), 4), float(out)
        (0.3588, 0.08)
    """
    toward = np.cos(np.asarray(roll_rad, dtype=np.float64))
    least, outward = np.full(toward.shape, pi / 2.0), np.zeros(toward.shape)
    for aft, out in outline_m:
        ahead = tail_m - (fin_station_m + aft)
        beside = (body_radius_m + out) * toward - tail_radius_m
        reach = np.maximum(np.arctan2(ahead, np.maximum(beside, 1e-9)), 0.0)
        nearer = (beside > 1e-9) & (reach < least)
        least, outward = np.where(nearer, reach, least), np.where(nearer, out, outward)
    return least, outward


def fin_bond_moment_nm(
    root_chord_m: Values,
    thickness_m: Values,
    fillet_radius_m: Values,
    tab_length_m: Values = 0.0,
    tab_depth_m: Values = 0.0,
    ply_shear_pa: Values = PLY_ROLLING_SHEAR_PA,
    skin_pa: Values = KRAFT_PLY_PA,
) -> Array:
    """Bending moment at which a fin's glue joints let go: fillets on the skin plus the tab's foot.

    Skin: c r min(tau t, sigma (t + r)), the ply of the fin sheared in its plane or the skin pulled
    off; tab: d l r tau at its foot.

    Parameters
        root_chord_m : float or array - glued length c. [m]
        thickness_m : float or array - of the fin t. [m]
        fillet_radius_m : float or array - r, outside and inside. [m]
        tab_length_m : float or array - l, 0 without a tab. [m]
        tab_depth_m : float or array - from skin to motor tube d. [m]
        ply_shear_pa : float or array - rolling shear of the plywood tau. [Pa]
        skin_pa : float or array - pull that parts the plies of the skin sigma. [Pa]
    Returns
        moment : array - at the root. [N m]
    Raises
        nothing
    Validity
        Glue stronger than wood and paper: cured, sanded. Rings beside the tab are left out.
    Source
        Moment balance; derived. Strengths from memory, see bonds.
    Example
        >>> round(float(fin_bond_moment_nm(0.15, 0.004, 0.008)), 2)
        6.48
    """
    ply = np.asarray(ply_shear_pa, dtype=np.float64)
    face = np.asarray(root_chord_m) * np.asarray(fillet_radius_m)
    couple = np.minimum(
        ply * thickness_m, np.asarray(skin_pa) * (np.asarray(thickness_m) + fillet_radius_m)
    )
    foot = np.asarray(tab_depth_m) * tab_length_m * np.asarray(fillet_radius_m) * ply
    return np.asarray(face * couple + foot)


def tilted_fin_lever_m(
    tail_m: Values, cg_m: Values, tail_radius_m: Values, outward_m: Values, tilt_rad: Values
) -> Array:
    """How far past the centre of gravity the blow on a tilted fin's corner acts.

    (tail - CG) sin f + (tail radius + outward) cos f.

    Parameters
        tail_m : float or array - station of the tail end. [m]
        cg_m : float or array - station of the CG. [m]
        tail_radius_m : float or array - radius at the tail. [m]
        outward_m : float or array - of the fin's corner from the body. [m]
        tilt_rad : float or array - of the tail f. [rad]
    Returns
        lever : array - square to the blow. [m]
    Raises
        nothing
    Validity
        The corner lies near the tail's end.
    Source
        Geometry; derived.
    Example
        >>> float(tilted_fin_lever_m(1.2, 0.7, 0.04, 0.08, 0.0))
        0.12
    """
    tilt, reach = np.asarray(tilt_rad, dtype=np.float64), np.asarray(tail_radius_m) + outward_m
    return np.asarray((np.asarray(tail_m) - cg_m) * np.sin(tilt) + reach * np.cos(tilt))


def fin_blow_nm(force_n: Values, tilt_rad: Values, roll_rad: Values, outward_m: Values) -> Array:
    """Bending moment at a fin's root from the ground's push on its corner.

    F sin(tilt) sin(roll) x outward: the part of the push that is square to the fin.

    Parameters
        force_n : float or array - along the vertical. [N]
        tilt_rad : float or array - of the tail. [rad]
        roll_rad : float or array - of the fin from the way the tail tilts. [rad]
        outward_m : float or array - of the corner from the body. [m]
    Returns
        moment : array - at the root. [N m]
    Raises
        nothing
    Validity
        Flat ground without friction.
    Source
        Geometry; derived.
    Example
        >>> round(float(fin_blow_nm(100.0, pi / 6, pi / 6, 0.08)), 9)
        2.0
    """
    square = np.sin(np.asarray(tilt_rad, dtype=np.float64)) * np.sin(np.asarray(roll_rad))
    return np.asarray(force_n * square * outward_m)


def fin_bond_stands_nm(
    moment_nm: Values, workmanship: Values, cured: Values, share: Values = 1.0
) -> Array:
    """Bending moment that a fin's glue joints stand as made.

    moment of sound joints x workmanship x share cured / (UNEVEN x share of the load).

    Parameters
        moment_nm : float or array - of sound, cured joints, see fin_bond_moment_nm. [N m]
        workmanship : float or array - scatter of a hand-made joint, about 1. [-]
        cured : float or array - share of the cure, 0 to 1. [-]
        share : float or array - scatter of the uneven load, about 1. [-]
    Returns
        moment : array - at which the joints let go. [N m]
    Raises
        nothing
    Validity
        Strength goes with the share cured: rough below a half.
    Source
        Our guess.
    Example
        >>> float(fin_bond_stands_nm(5.0, 1.0, 0.5))
        2.0
    """
    made = np.asarray(moment_nm, dtype=np.float64) * workmanship * cured
    return np.asarray(made / (UNEVEN * np.asarray(share)))
