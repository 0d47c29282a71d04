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
    AFT_PULL,
    AXIS_X,
    AXIS_Y,
    BX,
    BY,
    C1,
    C2,
    CLEARED,
    EDGE,
    FILL_M,
    FILLING,
    FORE,
    FORE_NOW,
    FORE_ON,
    FORE_PULL,
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
    NOW,
    OPENED,
    OVER,
    OX,
    OY,
    PACK,
    PER_FILL,
    PER_INERTIA,
    PLACES,
    POWER,
    PX,
    PY,
    QX,
    QY,
    REACH,
    REST2,
    RUB,
    SLACK_STEP_S,
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
    before_s,
    cut_pull,
    edge_share,
    held_pull,
    late_pull,
    missed_pull,
)
from goodflight.physics.recovery.parting_moves import (
    air,
    drift,
    fore_cord,
    kick,
    pull_all,
    tube_cord,
)
from goodflight.physics.recovery.parting_slide import (
    FELT,
    FINE,
    LEAST_STEP_S,
    LONGEST_S,
    STABLE,
    TOUCH,
    slide,
)

HANGS_S: Final = 1.0  # after the canopy is open: the tube hangs, later pulls are smaller; sooner
# where its cord has stayed tight for a whole swing of the tube on it
SETTLE_S: Final = 0.1  # after the pack is out: from then a booster that comes near is coming back
GROWTHS: Final = (0.5, 1.0, 2.0)  # exponents of a canopy's drag area over time
_SHOCK_S = 0.10  # after the cord is straight: its greatest pull is over
_COARSE = 0.3  # step over 1/omega after it


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
def _aft(w: Any, n: int) -> Any:
    """The cord between pack and the booster's mouth."""
    x, y = w[PX + n] - w[BX + n], w[PY + n] - w[BY + n]
    vx, vy = w[QX + n] - w[OX + n], w[QY + n] - w[OY + n]
    return tube_cord(w, n, w[MOUTH + n], x, y, vx, vy, (REST2, K2, C2))


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
    fine = FINE if w[NOW + n] < w[STRAIGHT + n] + _SHOCK_S else _COARSE
    slow1, slow2 = w[SLOW1 + n], w[SLOW2 + n]
    soon1 = tight1 if tight1 > TOUCH * slow1 else TOUCH * slow1
    soon2 = tight2 if tight2 > TOUCH * slow2 else TOUCH * slow2
    soon1 = fine * slow1 if stretch1 > 0.0 else soon1
    soon2 = fine * slow2 if stretch2 > 0.0 else soon2
    soon1 = fine * w[SLOW12 + n] if stretch1 > 0.0 and stretch2 > 0.0 else soon1
    return soon1 if soon1 < soon2 else soon2


@compiled_inside
def _step(w: Any) -> None:
    """One step of each lane: kick, drift, kick, each force at the end of the drift."""
    for n in range(LANES):
        drift(w, n)
        felt = air(w, n, _canopy(w, n, w[QX + n], w[QY + n]), 1.0)
        fore, x1, y1, stretch1, grows1, tight1, _ = fore_cord(w, n)
        aft, x2, y2, stretch2, grows2, tight2, speed = _aft(w, n)
        tx, ty = w[TUBE_X + n], w[TUBE_Y + n]
        across = tx * y2 - ty * x2  # sine of the angle between tube and cord
        bends = edge_share(tx * x2 + ty * y2, w[RUB + n])
        lever = w[MOUTH + n] * w[PER_INERTIA + n]
        was1, full1 = w[FORE_PULL + n], w[K1 + n] * stretch1 + w[C1 + n] * grows1
        was2, full2 = w[AFT_PULL + n], w[K2 + n] * stretch2 + w[C2 + n] * grows2
        light1 = w[LIGHT_N + n] + w[LIGHT_P + n]
        light2 = w[LIGHT_B + n] + w[LIGHT_P + n] + w[MOUTH + n] * lever * across * across
        ends1 = held_pull(w, n, was1, full1, w[C1 + n], light1)
        ends2 = held_pull(w, n, was2, full2, w[C2 + n], light2)
        less1 = missed_pull(w, n, fore, w[K1 + n], stretch1, grows1)
        less2 = missed_pull(w, n, aft, w[K2 + n], stretch2, grows2)
        held1, held2 = w[FORE_NOW + n] > 0.0, w[AFT_NOW + n] > 0.0
        fore, less1 = (
            (cut_pull(ends1, stretch1), late_pull(was1, ends1)) if held1 else (fore, less1)
        )
        aft, less2 = (cut_pull(ends2, stretch2), late_pull(was2, ends2)) if held2 else (aft, less2)
        turn, swings = lever * across, math.sqrt(aft * lever)
        pull_all(w, n, fore - less1, x1, y1, aft - less2, x2, y2, turn)
        kick(w, n)
        pull_all(w, n, less1, x1, y1, less2, x2, y2, turn)
        w[FORE_NOW + n] = 1.0 if stretch1 > 0.0 else 0.0
        w[AFT_NOW + n] = 1.0 if stretch2 > 0.0 else 0.0
        w[FORE_PULL + n], w[AFT_PULL + n] = fore, aft
        _watch(w, n, fore, aft, aft * bends, w[FILLING + n] == np.inf)
        felt = felt if felt > swings else swings
        step = FELT / (felt + FELT / SLACK_STEP_S)
        tight2 = before_s(tight2, w[MOUTH + n] * w[SPIN + n] * w[SPIN + n], w[SLOW2 + n], speed)
        soon = _next(w, n, stretch1, tight1, stretch2, tight2)
        least = STABLE * w[SLOW12 + n] if STABLE * w[SLOW12 + n] < LEAST_STEP_S else LEAST_STEP_S
        soon = soon if soon > least else least
        w[STEP + n] = soon if soon < step else step


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
                if slide(rows[following], w, n):
                    who[n] = following
                    under_way += 1
                else:
                    _told(w, n, out[following])
                following += 1
        if under_way == 0:
            return
        _step(w)
