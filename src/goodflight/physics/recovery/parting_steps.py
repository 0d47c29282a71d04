"""The steps of the motion after ejection: the pack out of its tube, then eight flights together.

While the pack slides each flight is by itself. From there on eight are taken together, step by
step, in straight lines of arithmetic without a branch, so that the processor works on them at once;
one that ends makes room for the next. Each has its own time and step and reads nothing of its
neighbours: who stands beside whom changes nothing.
"""

import math
from typing import Any, Final

import numpy as np

from goodflight.physics.flight.compiled import compiled_inside, compiled_owner
from goodflight.physics.recovery.parting_lane import (
    AFT_NOW,
    AFT_ON,
    AIR_B0,
    AIR_B1,
    AIR_N0,
    AIR_N1,
    AIR_P0,
    AIR_P1,
    AXIS_X,
    AXIS_Y,
    BAX,
    BAY,
    BVX,
    BVY,
    BX,
    BY,
    C1,
    C2,
    CLEARED,
    DOWN_X,
    DOWN_Y,
    EDGE,
    FILL_M,
    FILLING,
    FORE,
    FORE_NOW,
    FORE_ON,
    FRICTION_N,
    GAP,
    HANGING,
    K1,
    K2,
    LANES,
    LIGHT_B,
    LIGHT_N,
    LIGHT_P,
    LINES,
    MOST,
    MOUTH,
    NAX,
    NAY,
    NOW,
    NVX,
    NVY,
    NX,
    NY,
    OPENED,
    OVER,
    OX,
    OY,
    PACK,
    PAX,
    PAY,
    PER_FILL,
    PER_INERTIA,
    PER_TUMBLE,
    PLACES,
    POWER,
    PVX,
    PVY,
    PX,
    PY,
    QX,
    QY,
    RADIUS,
    REACH,
    REST1,
    REST2,
    RUB,
    SLOW1,
    SLOW2,
    SLOW12,
    SNATCH,
    SPIN,
    STEP,
    STRAIGHT,
    STREAMED,
    STRETCH,
    SWING,
    TUBE_X,
    TUBE_Y,
    TURN,
    TURNING,
    UX,
    UY,
    VEER,
    air_turn,
    begin_lane,
    cord_pull,
    edge_share,
    missed_pull,
)

LONGEST_S: Final = 5.0
HANGS_S: Final = 1.0  # after the canopy is open: the tube hangs, later pulls are smaller; sooner
# where its cord has stayed tight for a whole swing of the tube on it
SETTLE_S: Final = 0.1  # after the pack is out: from then a booster that comes near is coming back
GROWTHS: Final = (0.5, 1.0, 2.0)  # exponents of a canopy's drag area over time
_SLACK_STEP_S = 0.01
_LEAST_STEP_S = 2e-6  # so that every motion ends
_SLIDING_STEP_S = 0.002  # while the pack slides out
_SHOCK_S = 0.10  # after the cord is straight: its greatest pull is over
_FINE, _COARSE = 0.12, 0.3  # step over 1/omega up to then, and after
_TOUCH = 0.04  # least step over 1/omega towards a cord that is about to be tight
_FELT = 0.15  # step over the time in which drag would use up a speed, or the tube turns by half
_SLIP_M_S = 0.05  # below this speed friction fades out


@compiled_inside
def _drift(w: Any, n: int) -> None:
    """Half a kick by what acted before, the way of the step, and the speeds foretold at its end."""
    dt, h = w[STEP + n], 0.5 * w[STEP + n]
    w[NOW + n] += dt
    for x, v, by, foretold in (
        (NX, NVX, NAX, UX),
        (NY, NVY, NAY, UY),
        (BX, BVX, BAX, OX),
        (BY, BVY, BAY, OY),
        (PX, PVX, PAX, QX),
        (PY, PVY, PAY, QY),
    ):
        half = w[v + n] + h * w[by + n]
        w[x + n] += dt * half
        w[v + n], w[foretold + n] = half, half + h * w[by + n]
    turn = w[TURN + n] + h * w[TURNING + n]
    w[TURN + n], w[SPIN + n] = turn, turn + h * w[TURNING + n]
    a = dt * turn  # a small angle: by its series, and back to the length of one
    s, c = a * (1.0 - a * a / 6.0), 1.0 - 0.5 * a * a * (1.0 - a * a / 12.0)
    ax = w[TUBE_X + n] * c - w[TUBE_Y + n] * s
    ay = w[TUBE_Y + n] * c + w[TUBE_X + n] * s
    unit = 1.5 - 0.5 * (ax * ax + ay * ay)
    w[TUBE_X + n], w[TUBE_Y + n] = ax * unit, ay * unit


@compiled_inside
def _canopy(w: Any, n: int, vx: float, vy: float) -> float:
    """Growth of the canopy's drag area: lines stretch once a cord pulls, then it fills."""
    dt, t, speed = w[STEP + n], w[NOW + n], math.sqrt(vx * vx + vy * vy)
    streamed = w[STREAMED + n] + (dt * speed if w[FORE_ON + n] + w[AFT_ON + n] > 0.0 else 0.0)
    past = streamed - w[LINES + n]
    quick = speed if speed > 1.0 else 1.0
    closed = w[FILLING + n] == np.inf
    w[STRETCH + n] = speed if closed else w[STRETCH + n]
    begins = closed and past >= 0.0
    filling = t - past / quick if begins else w[FILLING + n]
    per_fill = quick / w[FILL_M + n] if begins else w[PER_FILL + n]
    part = (t - filling) * per_fill
    part = part if part > 0.0 else 0.0
    part = part if part < 1.0 else 1.0
    power, root = w[POWER + n], math.sqrt(part)
    full = part >= 1.0 and w[OPENED + n] == np.inf
    w[OPENED + n] = filling + 1.0 / per_fill if full else w[OPENED + n]
    w[STREAMED + n], w[FILLING + n], w[PER_FILL + n] = streamed, filling, per_fill
    grown: float = part * part if power > 1.5 else (part if power > 0.75 else root)
    return grown


@compiled_inside
def _air(w: Any, n: int, grown: float, out: float) -> float:
    """Gravity and drag of the three, what turns the booster; how fast the fastest of it changes."""
    wide = w[NOW + n] * w[PER_TUMBLE + n]
    wide = wide if wide < 1.0 else 1.0
    ux, uy, ox, oy = w[UX + n], w[UY + n], w[OX + n], w[OY + n]
    qx, qy, speed = w[QX + n], w[QY + n], math.sqrt(ox * ox + oy * oy)
    one = (w[AIR_N0 + n] + w[AIR_N1 + n] * wide) * math.sqrt(ux * ux + uy * uy)
    two = (w[AIR_B0 + n] + w[AIR_B1 + n] * wide) * speed
    three = out * (w[AIR_P0 + n] + w[AIR_P1 + n] * grown) * math.sqrt(qx * qx + qy * qy)
    w[NAX + n], w[NAY + n] = w[DOWN_X + n] - one * ux, w[DOWN_Y + n] - one * uy
    w[BAX + n], w[BAY + n] = w[DOWN_X + n] - two * ox, w[DOWN_Y + n] - two * oy
    w[PAX + n], w[PAY + n] = w[DOWN_X + n] - three * qx, w[DOWN_Y + n] - three * qy
    w[TURNING + n] = air_turn(w, n)
    most: float = one if one > two else two
    most = most if most > three else three
    veers, spins = w[VEER + n] * speed, 0.5 * abs(w[SPIN + n])
    most = most if most > veers else veers
    return most if most > spins else spins


@compiled_inside
def _fore(w: Any, n: int) -> Any:
    """The cord between nose and pack."""
    return cord_pull(
        w[NX + n] - w[PX + n],
        w[NY + n] - w[PY + n],
        w[UX + n] - w[QX + n],
        w[UY + n] - w[QY + n],
        w[REST1 + n],
        w[K1 + n],
        w[C1 + n],
    )


@compiled_inside
def _aft(w: Any, n: int) -> Any:
    """The cord between pack and the booster's mouth."""
    lx, ly = w[MOUTH + n] * w[TUBE_X + n], w[MOUTH + n] * w[TUBE_Y + n]
    return cord_pull(
        w[PX + n] - w[BX + n] - lx,
        w[PY + n] - w[BY + n] - ly,
        w[QX + n] - w[OX + n] + w[SPIN + n] * ly,
        w[QY + n] - w[OY + n] - w[SPIN + n] * lx,
        w[REST2 + n],
        w[K2 + n],
        w[C2 + n],
    )


@compiled_inside
def _kick(w: Any, n: int) -> None:
    """The other half, by what acts now."""
    h = 0.5 * w[STEP + n]
    for v, by in (
        (NVX, NAX),
        (NVY, NAY),
        (BVX, BAX),
        (BVY, BAY),
        (PVX, PAX),
        (PVY, PAY),
        (TURN, TURNING),
    ):
        w[v + n] += h * w[by + n]


@compiled_inside
def _pull(
    w: Any, n: int, fore: float, x1: float, y1: float, aft: float, x2: float, y2: float, turn: float
) -> None:
    """Adds the cords' pulls to what acts, or, times a time, to the speeds (which stand beside)."""
    w[NAX + n] -= fore * x1 * w[LIGHT_N + n]
    w[NAY + n] -= fore * y1 * w[LIGHT_N + n]
    w[BAX + n] += aft * x2 * w[LIGHT_B + n]
    w[BAY + n] += aft * y2 * w[LIGHT_B + n]
    w[PAX + n] += (fore * x1 - aft * x2) * w[LIGHT_P + n]
    w[PAY + n] += (fore * y1 - aft * y2) * w[LIGHT_P + n]
    w[TURNING + n] += aft * turn


@compiled_inside
def _slide(p: Any, w: Any, n: int) -> bool:
    """Until the pack is out of its tube, or not before the end: friction, air, the fore cord."""
    begin_lane(p, w, n)
    reduced = 1.0 / (w[LIGHT_B + n] + w[LIGHT_P + n])
    ax, ay, pack = w[AXIS_X + n], w[AXIS_Y + n], w[PACK + n]
    fore, reach, on = 0.0, 0.0, 0.0
    while True:
        _drift(w, n)
        _air(w, n, 0.0, 0.0)
        slip = (w[QX + n] - w[OX + n]) * ax + (w[QY + n] - w[OY + n]) * ay
        hold = p[FRICTION_N] * math.tanh(slip / _SLIP_M_S)
        stops = 0.5 * abs(slip) * reduced / _SLIDING_STEP_S  # it stops, no more
        hold = max(min(hold, stops), -stops)
        w[BAX + n] += hold * ax * w[LIGHT_B + n]
        w[BAY + n] += hold * ay * w[LIGHT_B + n]
        w[PAX + n] -= hold * ax * w[LIGHT_P + n]
        w[PAY + n] -= hold * ay * w[LIGHT_P + n]
        pull, x, y, stretch, _, tight_s = _fore(w, n)
        _pull(w, n, pull, x, y, 0.0, 0.0, 0.0, 0.0)
        _kick(w, n)
        way = (w[PX + n] - w[BX + n]) * ax + (w[PY + n] - w[BY + n]) * ay + pack - w[MOUTH + n]
        fore, reach = max(fore, pull), max(reach, way)
        on = 1.0 if pull > 0.0 else on
        if not (way < pack and w[NOW + n] < LONGEST_S):
            break
        slip = (w[PVX + n] - w[BVX + n]) * ax + (w[PVY + n] - w[BVY + n]) * ay
        dt = _FINE * w[SLOW1 + n] if stretch > 0.0 else max(tight_s, _TOUCH * w[SLOW1 + n])
        dt = dt if dt > _LEAST_STEP_S else _LEAST_STEP_S
        out_s = _LEAST_STEP_S + max((pack - way) / max(slip, 1e-3), 0.0)
        w[STEP + n] = min(dt, out_s, _SLIDING_STEP_S)
    w[FORE_ON + n], w[REACH + n], w[STEP + n] = on, reach, 0.0
    w[FORE + n] = w[MOST + n] = w[SNATCH + n] = fore
    w[FORE_NOW + n] = 1.0 if stretch > 0.0 else 0.0
    w[STRETCH + n] = math.sqrt(w[PVX + n] ** 2 + w[PVY + n] ** 2)
    out: bool = way >= pack
    w[CLEARED + n] = w[NOW + n] if out else np.inf
    return out


@compiled_inside
def _watch(w: Any, n: int, fore: float, aft: float, bears: float, before: bool) -> None:
    """What it has come to, and whether that is all."""
    dt, t, opened = w[STEP + n], w[NOW + n], w[OPENED + n]
    w[FORE_ON + n] = 1.0 if fore > 0.0 else w[FORE_ON + n]
    w[AFT_ON + n] = 1.0 if aft > 0.0 else w[AFT_ON + n]
    ax, ay = w[AXIS_X + n], w[AXIS_Y + n]
    gap = (w[PX + n] - w[BX + n]) * ax + (w[PY + n] - w[BY + n]) * ay - w[MOUTH + n]
    way = gap + w[PACK + n]
    bent = w[STRAIGHT + n] == np.inf
    straightens = bent and w[FORE_ON + n] + w[AFT_ON + n] > 1.5
    w[STRAIGHT + n] = t if straightens else w[STRAIGHT + n]
    since = t - w[CLEARED + n] - SETTLE_S
    late = since if since < dt else 0.0  # the first time: as it was when it had settled
    gap -= (late if late > 0.0 else 0.0) * (
        (w[QX + n] - w[OX + n]) * ax + (w[QY + n] - w[OY + n]) * ay
    )
    gap = gap if bent and opened == np.inf and (straightens or since > 0.0) else np.inf
    w[GAP + n] = gap if gap < w[GAP + n] else w[GAP + n]
    w[REACH + n] = way if way > w[REACH + n] else w[REACH + n]
    w[FORE + n] = fore if fore > w[FORE + n] else w[FORE + n]
    most = fore if fore > aft else aft
    most = most if most > w[MOST + n] else w[MOST + n]
    w[MOST + n] = most
    w[SNATCH + n] = most if before else w[SNATCH + n]
    w[EDGE + n] = bears if bears > w[EDGE + n] else w[EDGE + n]
    hanging = w[HANGING + n] + dt if aft > 0.0 and t > opened else 0.0
    end = opened + HANGS_S if opened + HANGS_S < LONGEST_S else LONGEST_S
    w[HANGING + n] = hanging
    w[OVER + n] = 1.0 if t >= end or hanging >= w[SWING + n] else 0.0


@compiled_inside
def _next(w: Any, n: int, stretch1: float, tight1: float, stretch2: float, tight2: float) -> float:
    """Up to where a cord becomes tight, fine while it is."""
    fine = _FINE if w[NOW + n] < w[STRAIGHT + n] + _SHOCK_S else _COARSE
    slow1, slow2 = w[SLOW1 + n], w[SLOW2 + n]
    soon1 = tight1 if tight1 > _TOUCH * slow1 else _TOUCH * slow1
    soon2 = tight2 if tight2 > _TOUCH * slow2 else _TOUCH * slow2
    soon1 = fine * slow1 if stretch1 > 0.0 else soon1
    soon2 = fine * slow2 if stretch2 > 0.0 else soon2
    soon1 = fine * w[SLOW12 + n] if stretch1 > 0.0 and stretch2 > 0.0 else soon1
    return soon1 if soon1 < soon2 else soon2


@compiled_inside
def _step(w: Any) -> None:
    """One step of each lane: kick, drift, kick, each force at the end of the drift."""
    for n in range(LANES):
        _drift(w, n)
        felt = _air(w, n, _canopy(w, n, w[QX + n], w[QY + n]), 1.0)
        fore, x1, y1, stretch1, grows1, tight1 = _fore(w, n)
        aft, x2, y2, stretch2, grows2, tight2 = _aft(w, n)
        tx, ty = w[TUBE_X + n], w[TUBE_Y + n]
        across = tx * y2 - ty * x2  # sine of the angle between tube and cord
        bends = edge_share(tx * x2 + ty * y2, w[RUB + n])
        radius = w[RADIUS + n] if across >= 0.0 else -w[RADIUS + n]  # the edge on its side
        turn = (w[MOUTH + n] * across + radius * bends) * w[PER_INERTIA + n]
        less1 = missed_pull(w, n, fore, w[K1 + n], stretch1, grows1)
        less2 = missed_pull(w, n, aft, w[K2 + n], stretch2, grows2)
        less1 = less1 if w[FORE_NOW + n] == 0.0 else 0.0
        less2 = less2 if w[AFT_NOW + n] == 0.0 else 0.0
        _pull(w, n, fore - less1, x1, y1, aft - less2, x2, y2, turn)
        _kick(w, n)
        _pull(w, n, less1, x1, y1, less2, x2, y2, turn)
        w[FORE_NOW + n] = 1.0 if stretch1 > 0.0 else 0.0
        w[AFT_NOW + n] = 1.0 if stretch2 > 0.0 else 0.0
        _watch(w, n, fore, aft, aft * bends, w[FILLING + n] == np.inf)
        step = _FELT / (felt + _FELT / _SLACK_STEP_S)
        soon = _next(w, n, stretch1, tight1, stretch2, tight2)
        step = soon if soon < step else step
        w[STEP + n] = step if step > _LEAST_STEP_S else _LEAST_STEP_S


@compiled_inside
def _told(w: Any, n: int, out: Any) -> None:
    """Outcomes of a lane, in the order of PARTING_OUTCOMES."""
    out[0], out[1], out[2] = w[CLEARED + n], w[REACH + n], w[STRAIGHT + n]
    out[3] = w[GAP + n] if w[GAP + n] < np.inf else np.nan
    out[4], out[5], out[6] = w[SNATCH + n], w[MOST + n], w[EDGE + n]
    out[7], out[8], out[9] = w[STRETCH + n], w[FORE + n], w[OPENED + n]


@compiled_owner
def part_all(rows: Any, out: Any) -> None:
    """Every flight of `rows` to the end of its motion, outcomes into `out`."""
    w, who = np.zeros(PLACES), np.full(LANES, -1)
    count, following, under_way = rows.shape[0], 0, 0
    w[OVER : OVER + LANES] = 1.0
    while True:
        for n in range(LANES):
            if w[OVER + n] == 0.0:
                continue
            if who[n] >= 0:
                _told(w, n, out[who[n]])
                under_way -= 1
            who[n] = -1
            while following < count and who[n] < 0:
                if _slide(rows[following], w, n):
                    who[n] = following
                    under_way += 1
                else:
                    _told(w, n, out[following])
                following += 1
        if under_way == 0:
            return
        _step(w)
