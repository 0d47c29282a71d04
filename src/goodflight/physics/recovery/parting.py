"""After ejection: nose, canopy and booster on an elastic cord, until the booster hangs.

Answers who is ahead of whom, whether the packed canopy clears its tube, when the cord is straight
and how hard it snatches, and how hard it bears on the tube's edge. Nose and canopy are points, the
booster a rigid body, in the plane of the path (along it and across it upwards), in air at rest: the
packed canopy slides out of the booster against friction, its lines stretch, it fills as (t / tf)^j,
and the cord, which leaves the booster over the edge of its mouth, turns the tube into its own line
against what the air does to it. Left out: turning of the nose, wind shear, air mass in the canopy,
cord mass.
"""

import math
import os
from concurrent.futures import ThreadPoolExecutor
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.compiled import compiled_inside, compiled_owner

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
    "mouth_m", "edge_radius_m", "booster_inertia_kg_m2",  # CG to mouth; tube; about its CG
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
LONGEST_S: Final = 5.0
HANGS_S: Final = 1.0  # after the canopy is open: the tube hangs, later pulls are smaller; sooner
# where its cord has stayed tight for a whole swing of the tube on it
SETTLE_S: Final = 0.1  # after the pack is out: from then a booster that comes near is coming back
SLACK_STEP_S: Final = 0.006
_MIN_SHARE = 50  # flights that are worth a thread
_SLIDING_STEP_S = 0.002  # while the pack slides out
_SHOCK_S = 0.10  # after the cord is straight: its greatest pull is over
_FINE, _COARSE = 0.15, 0.6  # step over 1/omega up to then, and after
_SLIP_M_S = 0.05  # below this speed friction fades out
# Gauss's three stations of a length, from its middle over the half of it, and their weights
_STATIONS, _WEIGHTS = (-math.sqrt(0.6), 0.0, math.sqrt(0.6)), (5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0)


# state: places (x along the path, y across) of nose, booster, pack and the booster's angle, then
# their rates
_NOSE, _BOOSTER, _PACK, _ANGLE, _VELOCITY, _STATE = 0, 2, 4, 6, 7, 14
# what the motion has come to
_CLEARED, _STREAMED, _FILLING, _FILL_TIME, _OPENED, _STRAIGHT, _TIGHT_FORE, _TIGHT_AFT = range(8)
_PULL_FORE, _PULL_AFT, _BEARS, _WAY, _AIR = range(8, 13)
_AXIS_X, _AXIS_Y, _GRAVITY_X, _GRAVITY_Y = range(13, 17)  # directions that stay
_TUBE_X, _TUBE_Y, _SEEN = range(17, 20)  # direction of the tube now


@compiled_inside
def _free_m(p: Any) -> float:
    """Aft cord outside the tube: what is left of it between mouth and canopy, the rest inside."""
    free: float = max(p[18] - p[16], 0.05 * p[18])
    return free


@compiled_inside
def _cord(dx: float, dy: float, vx: float, vy: float, rest: float, k: float, c: float) -> Any:
    """Pull of a cord with these ends apart and leaving each other so, and its direction."""
    length = math.sqrt(dx * dx + dy * dy)
    if length <= rest or length <= 0.0:
        return 0.0, 0.0, 0.0
    ux, uy = dx / length, dy / length
    return max(k * (length - rest) + c * (vx * ux + vy * uy), 0.0), ux, uy


@compiled_inside
def _begin(p: Any, y: Any, seen: Any) -> None:
    """Momentum along the path stays as it was; the pack rides with the nose or lies still."""
    y[:], seen[:] = 0.0, 0.0
    seen[_CLEARED] = seen[_FILLING] = seen[_FILL_TIME] = np.inf
    seen[_OPENED] = seen[_STRAIGHT] = np.inf
    seen[_AXIS_X], seen[_AXIS_Y] = math.cos(p[5]), math.sin(p[5])
    seen[_GRAVITY_X], seen[_GRAVITY_Y] = -p[28] * math.sin(p[4]), -p[28] * math.cos(p[4])
    share = (p[0] + p[2] * p[8]) / (p[0] + p[1] + p[2])
    back, ahead = -p[7] * share, p[7] * (1.0 - share)
    y[_ANGLE], y[_VELOCITY + _ANGLE] = p[5], p[6]
    for body in (_NOSE, _PACK):  # at the pack's place in the tube
        y[body] = (p[29] - p[16]) * seen[_AXIS_X]
        y[body + 1] = (p[29] - p[16]) * seen[_AXIS_Y]
    for body, extra in ((_NOSE, ahead), (_BOOSTER, back), (_PACK, ahead if p[8] > 0.5 else back)):
        y[_VELOCITY + body] = p[3] + extra * seen[_AXIS_X]
        y[_VELOCITY + body + 1] = extra * seen[_AXIS_Y]


@compiled_inside
def _canopy_area(t: float, dt: float, p: Any, seen: Any) -> float:
    """Drag area of pack and canopy: lines stretch once the cord pulls, then the canopy fills."""
    if seen[_TIGHT_FORE] + seen[_TIGHT_AFT] > 0.0:
        seen[_STREAMED] += dt * seen[_AIR]
    if seen[_FILLING] == np.inf:
        if seen[_STREAMED] < p[22]:
            area: float = p[13]
            return area
        seen[_FILLING] = t
        seen[_FILL_TIME] = p[25] * p[24] / max(seen[_AIR], 1.0)
    part = min((t - seen[_FILLING]) / seen[_FILL_TIME], 1.0)
    if part >= 1.0:
        seen[_OPENED] = min(seen[_OPENED], t)
    grown = part * part if p[26] == 2.0 else part ** p[26]
    area = p[13] + p[23] * grown
    return area


@compiled_inside
def _forces(t: float, dt: float, p: Any, y: Any, rate: Any, seen: Any) -> None:
    """Accelerations of the three bodies."""
    ax, ay, gx, gy = seen[_AXIS_X], seen[_AXIS_Y], seen[_GRAVITY_X], seen[_GRAVITY_Y]
    wide = min(t / p[14], 1.0)
    way = (y[_PACK] - y[_BOOSTER]) * ax + (y[_PACK + 1] - y[_BOOSTER + 1]) * ay + p[16] - p[29]
    vx, vy = y[_VELOCITY + _PACK], y[_VELOCITY + _PACK + 1]
    seen[_WAY], seen[_AIR] = way, math.sqrt(vx * vx + vy * vy)
    if seen[_CLEARED] == np.inf and way >= p[16]:
        seen[_CLEARED] = t
    inside = seen[_CLEARED] == np.inf
    areas = (
        p[9] + (p[10] - p[9]) * wide,
        p[11] + (p[12] - p[11]) * wide,
        0.0 if inside else _canopy_area(t, dt, p, seen),
    )
    for i in range(3):
        vx, vy = y[_VELOCITY + 2 * i], y[_VELOCITY + 2 * i + 1]
        drag = 0.5 * p[27] * areas[i] * math.sqrt(vx * vx + vy * vy) / p[i]
        rate[2 * i], rate[2 * i + 1] = gx - drag * vx, gy - drag * vy
    if inside:
        slip = (y[_VELOCITY + _PACK] - y[_VELOCITY + _BOOSTER]) * ax
        slip += (y[_VELOCITY + _PACK + 1] - y[_VELOCITY + _BOOSTER + 1]) * ay
        hold = p[15] * math.tanh(slip / _SLIP_M_S)
        most = 0.5 * abs(slip) * p[1] * p[2] / (p[1] + p[2]) / _SLIDING_STEP_S  # stops, no more
        hold = max(min(hold, most), -most)
        rate[_PACK] -= hold * ax / p[2]
        rate[_PACK + 1] -= hold * ay / p[2]
        rate[_BOOSTER] += hold * ax / p[1]
        rate[_BOOSTER + 1] += hold * ay / p[1]


@compiled_inside
def _air_moment(p: Any, y: Any, seen: Any) -> float:
    """Moment of the air on the booster: cross-flow along its tube, lift and plate drag of fins."""
    ax, ay, turn = seen[_TUBE_X], seen[_TUBE_Y], y[_VELOCITY + _ANGLE]
    vx, vy = y[_VELOCITY + _BOOSTER], y[_VELOCITY + _BOOSTER + 1]
    along, across = abs(vx * ax + vy * ay), vy * ax - vx * ay
    moment = 0.0
    for i in range(3):
        ahead = p[29] - 0.5 * p[32] * (1.0 - _STATIONS[i])
        speed = across + turn * ahead
        moment -= ahead * _WEIGHTS[i] * p[33] * abs(speed) * speed
    speed = across - turn * p[34]
    moment += p[34] * (p[35] * abs(speed) + p[36] * along) * speed
    felt: float = 0.5 * p[27] * moment
    return felt


@compiled_inside
def _pulls(p: Any, y: Any, rate: Any, seen: Any, c1: float, c2: float) -> None:
    """The two lengths of cord act on the bodies; the aft one turns the booster over its edge."""
    v = _VELOCITY
    pull1, ux1, uy1 = _cord(
        y[_NOSE] - y[_PACK],
        y[_NOSE + 1] - y[_PACK + 1],
        y[v + _NOSE] - y[v + _PACK],
        y[v + _NOSE + 1] - y[v + _PACK + 1],
        p[17],
        p[19],
        c1,
    )
    ax, ay, turn = seen[_TUBE_X], seen[_TUBE_Y], y[v + _ANGLE]
    pull2, ux2, uy2 = 0.0, 0.0, 0.0
    if seen[_CLEARED] < np.inf:
        pull2, ux2, uy2 = _cord(
            y[_PACK] - y[_BOOSTER] - p[29] * ax,
            y[_PACK + 1] - y[_BOOSTER + 1] - p[29] * ay,
            y[v + _PACK] - y[v + _BOOSTER] + turn * p[29] * ay,
            y[v + _PACK + 1] - y[v + _BOOSTER + 1] - turn * p[29] * ax,
            _free_m(p),
            p[20],
            c2,
        )
    rate[_NOSE] -= pull1 * ux1 / p[0]
    rate[_NOSE + 1] -= pull1 * uy1 / p[0]
    rate[_PACK] += (pull1 * ux1 - pull2 * ux2) / p[2]
    rate[_PACK + 1] += (pull1 * uy1 - pull2 * uy2) / p[2]
    rate[_BOOSTER] += pull2 * ux2 / p[1]
    rate[_BOOSTER + 1] += pull2 * uy2 / p[1]
    across = ax * uy2 - ay * ux2  # sine of the angle between tube and cord
    bears = 0.0
    if pull2 > 0.0:
        cosine = max(min(ax * ux2 + ay * uy2, 1.0), -1.0)
        bears = max(pull2 * (math.exp(-p[37] * math.acos(cosine)) - cosine), 0.0)
    lever = p[30] if across >= 0.0 else -p[30]  # the edge on the cord's side
    rate[_ANGLE] = (p[29] * pull2 * across + lever * bears + _air_moment(p, y, seen)) / p[31]
    seen[_PULL_FORE], seen[_PULL_AFT], seen[_BEARS] = pull1, pull2, bears
    seen[_TIGHT_FORE] = max(seen[_TIGHT_FORE], 1.0 if pull1 > 0.0 else 0.0)
    seen[_TIGHT_AFT] = max(seen[_TIGHT_AFT], 1.0 if pull2 > 0.0 else 0.0)


@compiled_inside
def _watch(t: float, p: Any, seen: Any, out: Any) -> None:
    """Extremes so far, in the order of PARTING_OUTCOMES."""
    out[1] = max(out[1], seen[_WAY])
    if seen[_STRAIGHT] == np.inf:
        if seen[_TIGHT_FORE] > 0.0 and seen[_TIGHT_AFT] > 0.0:
            seen[_STRAIGHT] = t
        out_since = t - seen[_CLEARED] if seen[_OPENED] == np.inf else -1.0
        if out_since > SETTLE_S or (out_since >= 0.0 and seen[_STRAIGHT] < np.inf):
            gap = seen[_WAY] - p[16]
            out[3] = gap if out[3] != out[3] else min(out[3], gap)
    most = max(seen[_PULL_FORE], seen[_PULL_AFT])
    out[5] = max(out[5], most)
    if seen[_FILLING] == np.inf:
        out[4] = max(out[4], most)
        out[7] = seen[_AIR]
    out[6] = max(out[6], seen[_BEARS])
    out[8] = max(out[8], seen[_PULL_FORE])


@compiled_inside
def _next_step(t: float, p: Any, y: Any, seen: Any, omega: float) -> float:
    """Fine steps while a cord is tight or about to be, long ones else."""
    v = _VELOCITY
    mx, my = y[_BOOSTER] + p[29] * seen[_TUBE_X], y[_BOOSTER + 1] + p[29] * seen[_TUBE_Y]
    fore = math.sqrt((y[_NOSE] - y[_PACK]) ** 2 + (y[_NOSE + 1] - y[_PACK + 1]) ** 2)
    aft = math.sqrt((y[_PACK] - mx) ** 2 + (y[_PACK + 1] - my) ** 2)
    least = min(p[17] - fore, _free_m(p) - aft)
    rush = 0.1 + abs(y[v + _ANGLE]) * p[29]
    for a, b in ((_NOSE, _PACK), (_PACK, _BOOSTER)):
        rush = max(rush, abs(y[v + a] - y[v + b]) + abs(y[v + a + 1] - y[v + b + 1]))
    fine = (_FINE if t < seen[_STRAIGHT] + _SHOCK_S else _COARSE) / omega
    slack = SLACK_STEP_S if seen[_CLEARED] < np.inf else _SLIDING_STEP_S
    step: float = max(min(slack, 0.7 * least / rush), min(fine, slack))
    return step


@compiled_inside
def _part_one(p: Any, out: Any, y: Any, rate: Any, seen: Any) -> None:
    """One flight: kick, drift, kick until the booster hangs from its open canopy."""
    out[:] = 0.0
    out[3] = np.nan
    _begin(p, y, seen)
    c1 = 2.0 * p[21] * math.sqrt(p[19] * p[0] * p[2] / (p[0] + p[2]))
    c2 = 2.0 * p[21] * math.sqrt(p[20] * p[1] * p[2] / (p[1] + p[2]))
    sideways = 1.0 / (1.0 / p[1] + p[29] ** 2 / p[31])  # what the booster's mouth weighs
    omega = math.sqrt((p[19] + p[20]) / min(p[0], p[2], sideways))
    swing = 2.0 * math.pi * math.sqrt(p[1] / p[20])
    t, dt, tight = 0.0, 0.0, 0.0
    rate[:] = 0.0
    while t < min(LONGEST_S, seen[_OPENED] + HANGS_S) and tight < swing:
        for i in range(_VELOCITY):
            y[_VELOCITY + i] += 0.5 * dt * rate[i]
            y[i] += dt * y[_VELOCITY + i]
        t += dt
        seen[_TUBE_X], seen[_TUBE_Y] = math.cos(y[_ANGLE]), math.sin(y[_ANGLE])
        _forces(t, dt, p, y, rate, seen)
        _pulls(p, y, rate, seen, c1, c2)
        for i in range(_VELOCITY):
            y[_VELOCITY + i] += 0.5 * dt * rate[i]
        _watch(t, p, seen, out)
        tight = tight + dt if seen[_PULL_AFT] > 0.0 and t > seen[_OPENED] else 0.0
        dt = _next_step(t, p, y, seen, omega)
    out[0], out[2], out[9] = seen[_CLEARED], seen[_STRAIGHT], seen[_OPENED]


@compiled_owner
def _part_all(rows: Any, out: Any) -> None:
    y, rate, seen = np.empty(_STATE), np.empty(_VELOCITY), np.empty(_SEEN)
    for i in range(rows.shape[0]):
        _part_one(rows[i], out[i], y, rate, seen)


def part_bodies(rows: Array) -> Array:
    """Motion of nose, canopy and booster after ejection, for every flight.

    Point masses with drag 1/2 rho CdS v^2, gravity, and two lengths of cord that pull
    F = k (r - L) + c r' when longer than L; the pack leaves the tube against friction. The aft cord
    runs from its anchor, the pack's length inside the booster, over the edge of the mouth, the
    lever l ahead of the booster's CG. At the angle a between tube and cord, friction leaves
    F exp(-mu a) inside, the edge takes E = F (exp(-mu a) - cos a) along its wall, and the booster
    turns with
    l F sin a + r E and the air's moment over its inertia: cross-flow drag of the tube station by
    station, and the fins' lift and plate drag, each with the speed that the turning adds.
    Kick-drift steps of 0.15/omega while a cord is tight; on until HANGS_S after the canopy is open,
    or until the aft cord has stayed tight from then on for 2 pi sqrt(m / k) of the booster.

    Parameters
        rows : array (n, len(PARTING_INPUTS)) - one flight a row, columns as named there. [SI]
    Returns
        outcomes : array (n, len(PARTING_OUTCOMES)). [SI]
    Raises
        ValueError - another shape, or a figure that is not finite.
    Validity
        Greatest force within 3 % of much finer steps; up to 5 s after ejection.
    Source
        Newton, derived; friction round an edge: Euler's belt formula, textbook; cord as in `cord`,
        filling as in `opening`; cross-flow drag as in [jorgensen1977].
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
    out = np.empty((rows.shape[0], len(PARTING_OUTCOMES)))
    workers = min(os.cpu_count() or 1, rows.shape[0] // _MIN_SHARE)
    if workers < 2:
        _part_all(rows, out)
        return out
    with ThreadPoolExecutor(
        workers
    ) as pool:  # every flight by itself, so the split changes nothing
        tuple(pool.map(_part_all, np.array_split(rows, workers), np.array_split(out, workers)))
    return out
