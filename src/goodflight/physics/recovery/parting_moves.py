"""What every step of the motion after ejection does: drift, air, the fore cord, kick."""

import math
from typing import Any

from goodflight.physics.flight.compiled import compiled_inside
from goodflight.physics.recovery.parting_lane import (
    AIR_B0,
    AIR_B1,
    AIR_N0,
    AIR_N1,
    AIR_P0,
    AIR_P1,
    BAX,
    BAY,
    BVX,
    BVY,
    BX,
    BY,
    C1,
    DOWN_X,
    DOWN_Y,
    FARTHEST,
    K1,
    LIGHT_B,
    LIGHT_N,
    LIGHT_P,
    NAX,
    NAY,
    NOW,
    NVX,
    NVY,
    NX,
    NY,
    OX,
    OY,
    PAX,
    PAY,
    PER_TUMBLE,
    PVX,
    PVY,
    PX,
    PY,
    QX,
    QY,
    REST1,
    SLOWS,
    SPIN,
    STEP,
    TUBE_X,
    TUBE_Y,
    TURN,
    TURNING,
    UX,
    UY,
    VEER,
    air_turn,
    cord_pull,
)


@compiled_inside
def drift(w: Any, n: int) -> None:
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
def air(w: Any, n: int, grown: float, out: float) -> float:
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
    spin = abs(w[SPIN + n])
    veers, spins = w[VEER + n] * speed, 0.5 * spin
    slows = w[SLOWS + n] * (speed + w[FARTHEST + n] * spin)
    veers = veers if veers > slows else slows
    most = most if most > veers else veers
    return most if most > spins else spins


@compiled_inside
def fore_cord(w: Any, n: int) -> Any:
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
def tube_cord(
    w: Any, n: int, lever: float, x: float, y: float, vx: float, vy: float, of: Any
) -> Any:
    """A cord from a place on the tube, a lever ahead of a body, to another body; of: its figures.

    x, y, vx, vy : the other one's place and speed seen from the body. of : places of the cord's
    length, stiffness and damping in the record.
    """
    lx, ly = lever * w[TUBE_X + n], lever * w[TUBE_Y + n]
    spin, (rest, k, c) = w[SPIN + n], of
    return cord_pull(
        x - lx,
        y - ly,
        vx + spin * ly,
        vy - spin * lx,
        w[rest + n],
        w[k + n],
        w[c + n],
    )


@compiled_inside
def kick(w: Any, n: int) -> None:
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
def pull_all(
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
