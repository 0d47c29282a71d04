"""After ejection: nose, canopy and booster on an elastic cord, until the booster hangs.

Answers who is ahead of whom, whether the packed canopy clears its tube, when the cord is straight
and how hard it snatches, and how hard it bears on the tube's edge. Nose and canopy are points, the
booster a rigid body, in the plane of the path (along it and across it upwards), in air at rest: the
packed canopy slides out of the booster, guided by it, against friction, its lines stretch, it fills
as (t / tf)^j, and the cord, which leaves the booster at its mouth, turns the tube into its own line
against what the air does to it. Left out: turning of the nose, wind shear, air mass in the canopy,
cord mass, half the width of the mouth in the cord's lever.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.cores import on_cores
from goodflight.physics.recovery.parting_steps import GROWTHS, part_all

Array = NDArray[np.float64]

# one row per flight; areas are drag areas Cd S; angles from the path, upwards positive
PARTING_INPUTS: Final = (
    "nose_kg", "booster_kg", "gear_kg",
    "speed_m_s", "climb_rad", "axis_rad", "turn_rad_s",
    "parting_m_s", "gear_rides",  # 1: the pack leaves with the nose, 0: it lies still in the tube
    "nose_start_m2", "nose_m2", "booster_start_m2", "booster_m2", "gear_m2", "tumble_s",
    "pack_friction_n", "pack_length_m",
    "fore_cord_m", "aft_cord_m", "fore_stiffness_n_m", "aft_stiffness_n_m", "cord_damping",
    "line_length_m", "canopy_m2", "canopy_diameter_m", "canopy_fill", "canopy_growth",
    "density_kg_m3", "gravity_m_s2",
    "mouth_m", "booster_inertia_kg_m2",  # from the CG to it; about the CG
    "tube_m", "tube_side_m2",  # mouth to tail; cross-flow drag area of the tube broadside
    "fins_behind_m", "fins_side_m2", "fins_lift_m2",  # CG to their CP; broadside; slope x area
    "edge_friction",  # of the cord on the edge
)  # fmt: skip
PARTING_OUTCOMES: Final = (
    "cleared_s",  # pack out of the tube; inf = not before the end
    "reach_m",  # greatest way of the pack out of its place
    "straight_s",  # both lengths of cord have been tight
    "min_gap_m",  # pack ahead of the tube's mouth, least from SETTLE_S out until straight or open
    "snatch_n",  # greatest cord force until the canopy begins to fill
    "max_n",  # greatest cord force until the booster hangs
    "edge_n",  # greatest push of the cord into the tube's edge until then
    "stretch_m_s",  # air speed of the canopy as it begins to fill
    "fore_n",  # greatest pull on the forward part until the booster hangs
    "open_s",  # canopy open; inf = not before the end
)
INPUT_INDEX: Final = {name: i for i, name in enumerate(PARTING_INPUTS)}
OUTCOME_INDEX: Final = {name: i for i, name in enumerate(PARTING_OUTCOMES)}
_NOT_NOTHING = (  # a body without mass or inertia cannot be moved
    "nose_kg", "booster_kg", "gear_kg", "booster_inertia_kg_m2",
    "fore_stiffness_n_m", "aft_stiffness_n_m", "tumble_s",
)  # fmt: skip
_MIN_SHARE = 50  # flights that are worth a thread


def part_bodies(rows: Array) -> Array:
    """Motion of nose, canopy and booster after ejection, for every flight.

    Point masses with drag 1/2 rho CdS v^2, gravity, and two lengths of cord that pull
    F = k (r - L) + c r' when longer than L. In its tube the pack is a bead on an axis that turns:
    m2 (s'' - s w^2) is what acts along it, friction and the fore cord; across it the tube pushes
    with what gives the pack s w' + 2 s' w, and is pushed back at the pack's place. The aft cord
    runs from its anchor, the pack's length inside the booster, over the edge of the mouth, the
    lever l ahead of the booster's CG. At the angle a between tube and cord, friction leaves
    F exp(-mu a) inside and the edge takes E = F (exp(-mu a) - cos a) along its wall; what anchor
    and edge do to the booster together is F at the mouth, whatever the friction. It turns with
    l F sin a and the air's moment over its inertia: cross-flow drag of the tube station by
    station, and the fins' lift and plate drag, each with the speed that the turning adds.
    Kick-drift-kick with the speed foretold at the end of a step, second order (a cord is damped by
    the speed it leaves; its first and last pull act for their part of a step): 0.12/omega while a
    cord is tight, omega^2 = k (1/m1 + 1/m2 + l^2/I), 0.3/omega from 0.1 s after it is straight;
    slack, up to where it becomes tight, a hundredth of a second at most; never more than 0.15 over
    the rate at which drag, damping, turning or a pull across the tube would use up a speed; on
    until HANGS_S after the canopy is open, or until the aft cord has stayed tight
    from then on for 2 pi sqrt(m / k) of the booster.

    Parameters
        rows : array (n, len(PARTING_INPUTS)) - one flight a row, columns as named there. [SI]
    Returns
        outcomes : array (n, len(PARTING_OUTCOMES)). [SI]
    Raises
        ValueError - another shape, a figure that is not finite, a mass, inertia or stiffness
            of nothing, another growth than GROWTHS.
    Validity
        Greatest pull within 3 % of an exact integration, the edge's push within 10 % or 5 N (it
        hangs on how the tube has turned after many jerks); where the pack leaves half a second late
        and more, within 5 % in 19 of 20. Sections from 5 g. Up to 5 s after ejection.
    Source
        Newton, derived; bead on a turning rod: textbook; friction round an edge: Euler's
        belt formula, textbook; cord as in `cord`, filling as in `opening`; cross-flow drag as in
        [jorgensen1977].
    Example
        >>> part_bodies(np.empty((0, len(PARTING_INPUTS)))).shape
        (0, 10)
    """
    rows = np.ascontiguousarray(rows, dtype=np.float64)
    if rows.ndim != 2 or rows.shape[1] != len(PARTING_INPUTS):
        raise ValueError(f"rows must be (n, {len(PARTING_INPUTS)}), found {rows.shape}")
    bad = [PARTING_INPUTS[i] for i in np.flatnonzero(~np.isfinite(rows).all(axis=0))]
    if bad:
        raise ValueError(f"rows must be finite numbers, found other values in {bad}")
    empty = [name for name in _NOT_NOTHING if (rows[:, INPUT_INDEX[name]] <= 0.0).any()]
    if empty:
        raise ValueError(f"rows must be above nothing in {empty}, found 0 or less")
    if not np.isin(rows[:, INPUT_INDEX["canopy_growth"]], GROWTHS).all():
        raise ValueError(f"canopy_growth must be one of {GROWTHS}")
    out = np.empty((rows.shape[0], len(PARTING_OUTCOMES)))

    def part(first: int, end: int) -> None:
        part_all(rows[first:end], out[first:end])

    on_cores(part, len(rows), _MIN_SHARE)
    return out
