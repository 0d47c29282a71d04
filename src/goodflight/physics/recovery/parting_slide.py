"""The way of the pack out of its tube, which guides it as it turns.

The pack is a bead on the booster's axis: it slides along it against friction, and goes across with
the tube, which feels the push at the place of the pack's rear end. Behind it is what it lay on. Its
front stands in the mouth at the start, so the cord to the nose runs from there, clear of the edge.
"""

import math
from typing import Any, Final

from goodflight.physics.flight.compiled import compiled_inside
from goodflight.physics.recovery.parting_lane import (
    AXIS_X,
    AXIS_Y,
    BAX,
    BAY,
    BVX,
    BVY,
    BX,
    BY,
    C1,
    CLEARED,
    FORE,
    FORE_NOW,
    FORE_ON,
    FORE_PULL,
    FRICTION_N,
    K1,
    LIGHT_B,
    LIGHT_N,
    LIGHT_P,
    MOST,
    MOUTH,
    NAX,
    NAY,
    NOW,
    NX,
    NY,
    OX,
    OY,
    PACK,
    PAX,
    PAY,
    PER_INERTIA,
    PVX,
    PVY,
    PX,
    PY,
    QX,
    QY,
    REACH,
    REST1,
    SLACK_STEP_S,
    SLOW_IN,
    SNATCH,
    SPIN,
    STEP,
    STRETCH,
    TUBE_X,
    TUBE_Y,
    TURN,
    TURNING,
    UX,
    UY,
    before_s,
    begin_lane,
    cut_pull,
    held_pull,
    late_pull,
    missed_pull,
)
from goodflight.physics.recovery.parting_moves import air, drift, kick, tube_cord

LONGEST_S: Final = 5.0
LEAST_STEP_S = 2e-6  # so that every motion ends
FINE = 0.12  # step over 1/omega while a cord is tight
TOUCH = 0.04  # least step over 1/omega towards a cord that is about to be tight
STABLE = 0.5  # step over 1/omega at the most; from 2 on figures would grow without end (textbook)
FELT = 0.15  # step over the time in which drag would use up a speed, or the tube turns by half
_SLIDING_STEP_S = 0.002
_RUBS = 0.2  # step over the time in which friction would stop the pack, where that is longer
_SLIP_M_S = 0.05  # below this speed friction fades out


@compiled_inside
def slide(p: Any, w: Any, n: int) -> bool:
    """Until the pack is out of its tube, or not before the end: friction, air, the fore cord."""
    begin_lane(p, w, n)
    start, pack, friction_n = w[MOUTH + n] - w[PACK + n], w[PACK + n], p[FRICTION_N]
    most, reach, on, was, pulled = 0.0, 0.0, 0.0, 0.0, 0.0
    while True:
        drift(w, n)
        at = _back_on_axis(w, n)
        felt = air(w, n, 0.0, 0.0)
        _rub(w, n, friction_n)
        pull, x, y, stretch, grows, tight_s, speed = _nose_cord(w, n)
        if was <= 0.0:
            missed = missed_pull(w, n, pull, w[K1 + n], stretch, grows)
        else:
            full = w[K1 + n] * stretch + w[C1 + n] * grows
            ends = held_pull(w, n, pulled, full, w[C1 + n], w[LIGHT_N + n] + w[LIGHT_P + n])
            pull, missed = cut_pull(ends, stretch), late_pull(pulled, ends)
        was, pulled = stretch, pull
        _nose_pulls(w, n, pull - missed, x, y)
        felt = max(felt, math.sqrt(pull * pack * w[PER_INERTIA + n]), _swerves(w, n, at))
        _guide(w, n, at, at <= start)
        kick(w, n)
        slip = _keep_guided(w, n, at, at <= start)
        if missed != 0.0:  # from here on it pulls in full
            _nose_pulls(w, n, missed, x, y)
            _guide(w, n, at, at <= start)
        most, reach = max(most, pull), max(reach, at - start)
        on = 1.0 if pull > 0.0 else on
        if not (at - start < pack and w[NOW + n] < LONGEST_S):
            break
        slow = w[SLOW_IN + n]
        soon = before_s(tight_s, pack * w[SPIN + n] ** 2, slow, speed)
        dt = FINE * slow if stretch > 0.0 else max(soon, TOUCH * slow)
        rubs = friction_n * (w[LIGHT_B + n] + w[LIGHT_P + n])
        longest = max(_SLIDING_STEP_S, min(_RUBS * slip / max(rubs, 1e-3), SLACK_STEP_S))
        dt = min(dt, longest, FELT / (felt + FELT / SLACK_STEP_S))
        out_s = LEAST_STEP_S + max((start + pack - at) / max(slip, 1e-3), 0.0)
        w[STEP + n] = min(max(dt, min(LEAST_STEP_S, STABLE * slow)), out_s)
    w[FORE_ON + n], w[REACH + n], w[STEP + n] = on, reach, 0.0
    w[FORE + n] = w[MOST + n] = w[SNATCH + n] = most
    w[FORE_NOW + n] = 1.0 if stretch > 0.0 else 0.0
    w[FORE_PULL + n] = pulled
    w[STRETCH + n] = math.sqrt(w[PVX + n] ** 2 + w[PVY + n] ** 2)
    w[AXIS_X + n], w[AXIS_Y + n] = w[TUBE_X + n], w[TUBE_Y + n]
    w[NX + n] -= pack * w[TUBE_X + n]  # from here on the pack is a point, its front where its rear
    w[NY + n] -= pack * w[TUBE_Y + n]
    out: bool = at - start >= pack
    w[CLEARED + n] = w[NOW + n] if out else math.inf
    return out


@compiled_inside
def _back_on_axis(w: Any, n: int) -> float:
    """Place of the pack along the tube; what a step left it beside the axis is taken back."""
    tx, ty = w[TUBE_X + n], w[TUBE_Y + n]
    x, y = w[PX + n] - w[BX + n], w[PY + n] - w[BY + n]
    at, beside = x * tx + y * ty, y * tx - x * ty
    beside /= w[LIGHT_B + n] + w[LIGHT_P + n]
    w[BX + n] -= beside * w[LIGHT_B + n] * ty
    w[BY + n] += beside * w[LIGHT_B + n] * tx
    w[PX + n] += beside * w[LIGHT_P + n] * ty
    w[PY + n] -= beside * w[LIGHT_P + n] * tx
    return float(at)


@compiled_inside
def _between(w: Any, n: int, pack: float, x: float, y: float) -> None:
    """A force on the pack, and back on the booster, added to what acts."""
    w[PAX + n] += pack * x * w[LIGHT_P + n]
    w[PAY + n] += pack * y * w[LIGHT_P + n]
    w[BAX + n] -= pack * x * w[LIGHT_B + n]
    w[BAY + n] -= pack * y * w[LIGHT_B + n]


@compiled_inside
def _slip(w: Any, n: int) -> float:
    """Speed of the pack along the tube, foretold."""
    x, y = w[QX + n] - w[OX + n], w[QY + n] - w[OY + n]
    return float(x * w[TUBE_X + n] + y * w[TUBE_Y + n])


@compiled_inside
def _rub(w: Any, n: int, friction_n: float) -> None:
    """Friction along the tube: it stops the pack, no more."""
    slip = _slip(w, n)
    hold = friction_n * math.tanh(slip / _SLIP_M_S)
    stops = 0.5 * abs(slip) / (w[LIGHT_B + n] + w[LIGHT_P + n]) / _SLIDING_STEP_S
    hold = max(min(hold, stops), -stops)
    _between(w, n, -hold, w[TUBE_X + n], w[TUBE_Y + n])


@compiled_inside
def _nose_cord(w: Any, n: int) -> Any:
    """The fore cord, from the pack's front to the nose."""
    px, py = w[NX + n] - w[PX + n], w[NY + n] - w[PY + n]
    vx, vy = w[UX + n] - w[QX + n], w[UY + n] - w[QY + n]
    return tube_cord(w, n, w[PACK + n], px, py, vx, vy, (REST1, K1, C1))


@compiled_inside
def _nose_pulls(w: Any, n: int, pull: float, x: float, y: float) -> None:
    """A pull of the fore cord, added to what acts on nose, pack and the tube around it."""
    lx, ly = w[PACK + n] * w[TUBE_X + n], w[PACK + n] * w[TUBE_Y + n]
    w[NAX + n] -= pull * x * w[LIGHT_N + n]
    w[NAY + n] -= pull * y * w[LIGHT_N + n]
    w[PAX + n] += pull * x * w[LIGHT_P + n]
    w[PAY + n] += pull * y * w[LIGHT_P + n]
    w[TURNING + n] += pull * (lx * y - ly * x) * w[PER_INERTIA + n]


@compiled_inside
def _swerves(w: Any, n: int, at: float) -> float:
    """How fast a pack that slides outwards uses up the turning of a light tube."""
    light, turns = w[LIGHT_B + n] + w[LIGHT_P + n], abs(at) * w[PER_INERTIA + n]
    return float(2.0 * abs(_slip(w, n)) * turns / (light + abs(at) * turns))


@compiled_inside
def _guide(w: Any, n: int, at: float, lies: bool) -> None:
    """Push of the tube that keeps the pack on its axis, and of what it lies on behind it."""
    tx, ty, turn, light = w[TUBE_X + n], w[TUBE_Y + n], w[SPIN + n], w[LIGHT_B + n] + w[LIGHT_P + n]
    x, y = w[PAX + n] - w[BAX + n], w[PAY + n] - w[BAY + n]
    slip = _slip(w, n)
    gains = x * tx + y * ty + at * turn * turn
    if lies and slip <= 0.0 and gains < 0.0:
        _between(w, n, -gains / light, tx, ty)
    wanted = 2.0 * slip * turn + at * w[TURNING + n] - (y * tx - x * ty)
    push = wanted / (light + at * at * w[PER_INERTIA + n])
    _between(w, n, push, -ty, tx)
    w[TURNING + n] -= push * at * w[PER_INERTIA + n]


@compiled_inside
def _keep_guided(w: Any, n: int, at: float, lies: bool) -> float:
    """Speed along the tube; the speeds agree with the guide again, momentum stays."""
    tx, ty, light = w[TUBE_X + n], w[TUBE_Y + n], w[LIGHT_B + n] + w[LIGHT_P + n]
    x, y = w[PVX + n] - w[BVX + n], w[PVY + n] - w[BVY + n]
    slip = x * tx + y * ty
    push = (at * w[TURN + n] - (y * tx - x * ty)) / (light + at * at * w[PER_INERTIA + n])
    along = -slip / light if lies and slip < 0.0 else 0.0
    x, y = along * tx - push * ty, along * ty + push * tx
    w[PVX + n] += x * w[LIGHT_P + n]
    w[PVY + n] += y * w[LIGHT_P + n]
    w[BVX + n] -= x * w[LIGHT_B + n]
    w[BVY + n] -= y * w[LIGHT_B + n]
    w[TURN + n] -= push * at * w[PER_INERTIA + n]
    return float(slip)
