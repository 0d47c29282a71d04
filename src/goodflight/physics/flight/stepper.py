"""One adaptive step of the motion, with a continuous solution inside it.

Dormand and Prince's 5(4) pair with the fourth-order dense output of Hairer, Norsett and Wanner,
Solving Ordinary Differential Equations I, 2nd ed., II.5 and II.6 (coefficients from memory; the
observed order is tested). The right-hand side depends on the phase of the flight.
"""

from typing import Any

import numpy as np

from goodflight.physics.flight.compiled import compiled, compiled_inside, compiled_per_constant
from goodflight.physics.flight.descent import descent_rates
from goodflight.physics.flight.forces import free_rates
from goodflight.physics.flight.rail import pivot_rates, sliding_rates
from goodflight.physics.flight.record import (
    AHEAD,
    DESCENT,
    DESCENT_COUNT,
    FREE,
    MISS,
    NARROW,
    NOW,
    PHASE,
    PIVOT,
    SEGMENT,
    STAGES,
    STATE_COUNT,
    WIDE,
    K,
    Y,
)

MOMENTS = np.array([0.0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1.0, 1.0])
WEIGHTS = np.array(
    [
        [0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
        [1 / 5, 0.0, 0.0, 0.0, 0.0, 0.0],
        [3 / 40, 9 / 40, 0.0, 0.0, 0.0, 0.0],
        [44 / 45, -56 / 15, 32 / 9, 0.0, 0.0, 0.0],
        [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729, 0.0, 0.0],
        [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656, 0.0],
        [35 / 384, 0.0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
    ]
)
ERROR_WEIGHTS = np.array(
    [71 / 57600, 0.0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40]
)

# error scale of each state variable for a tolerance of one
SCALE = np.array(
    [50.0, 50.0, 50.0, 20.0, 20.0, 20.0, 1.0, 1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 1.0, 1.0, 1.0]
)


A, E = WEIGHTS, ERROR_WEIGHTS
K1, K2, K3, K4, K5, K6 = (K + WIDE * _i for _i in range(1, STAGES))


@compiled
def rates(phase: int, t: float, w: Any, at: int, row: int, segment: int) -> None:
    """Right-hand side of a phase for the state at a place of the record, with its notes."""
    if phase == DESCENT:
        descent_rates(t, w, at, row)
    elif phase == FREE:
        free_rates(t, w, at, row, segment, True)
    elif phase == PIVOT:
        pivot_rates(t, w, at, row, segment)
    else:
        sliding_rates(t, w, at, row, segment)


@compiled
def refresh(w: Any) -> None:
    """Rates and notes of the present moment."""
    rates(int(w[PHASE]), w[NOW], w, Y, 0, int(w[SEGMENT]))


@compiled_per_constant
def advance(stage: int, h: float, wide: int, w: Any) -> None:
    """State of one stage of a step into AHEAD; that of the last stage is the step's end.

    Written out, so that each stage is one sweep over the state.
    """
    if stage == 1:
        for j in range(wide):
            w[AHEAD + j] = w[Y + j] + h * (A[1, 0] * w[K + j])
    elif stage == 2:
        for j in range(wide):
            w[AHEAD + j] = w[Y + j] + h * (A[2, 0] * w[K + j] + A[2, 1] * w[K1 + j])
    elif stage == 3:
        for j in range(wide):
            w[AHEAD + j] = w[Y + j] + h * (
                A[3, 0] * w[K + j] + A[3, 1] * w[K1 + j] + A[3, 2] * w[K2 + j]
            )
    elif stage == 4:
        for j in range(wide):
            w[AHEAD + j] = w[Y + j] + h * (
                A[4, 0] * w[K + j] + A[4, 1] * w[K1 + j] + A[4, 2] * w[K2 + j] + A[4, 3] * w[K3 + j]
            )
    elif stage == 5:
        for j in range(wide):
            w[AHEAD + j] = w[Y + j] + h * (
                A[5, 0] * w[K + j]
                + A[5, 1] * w[K1 + j]
                + A[5, 2] * w[K2 + j]
                + A[5, 3] * w[K3 + j]
                + A[5, 4] * w[K4 + j]
            )
    else:
        for j in range(wide):
            w[AHEAD + j] = w[Y + j] + h * (
                A[6, 0] * w[K + j]
                + A[6, 2] * w[K2 + j]
                + A[6, 3] * w[K3 + j]
                + A[6, 4] * w[K4 + j]
                + A[6, 5] * w[K5 + j]
            )


@compiled_per_constant
def max_miss(h: float, wide: int, w: Any) -> float:
    """Estimated error of the step, the greatest over the state, in units of tolerance 1."""
    for j in range(wide):
        error = (
            E[0] * w[K + j]
            + E[2] * w[K2 + j]
            + E[3] * w[K3 + j]
            + E[4] * w[K4 + j]
            + E[5] * w[K5 + j]
            + E[6] * w[K6 + j]
        )
        w[MISS + j] = abs(h * error) / (SCALE[j] + abs(w[Y + j]))
    worst = 0.0
    for j in range(wide):
        worst = max(worst, w[MISS + j])
    return worst


@compiled_inside
def try_step(phase: int, t: float, h: float, segment: int, w: Any) -> float:
    """Advance the state by h into AHEAD; row 0 must hold the rates at t.

    Returns error / tolerance 1. One call of the right-hand side in a loop compiles several times
    faster than six calls.
    """
    if phase == DESCENT:
        for stage in range(1, STAGES):
            advance(stage, h, NARROW, w)
            descent_rates(t + MOMENTS[stage] * h, w, AHEAD, stage)
        return max_miss(h, NARROW, w)
    for stage in range(1, STAGES):
        advance(stage, h, WIDE, w)
        if phase == FREE:
            free_rates(t + MOMENTS[stage] * h, w, AHEAD, stage, segment, stage == STAGES - 1)
        else:
            rates(phase, t + MOMENTS[stage] * h, w, AHEAD, stage, segment)
    return max_miss(h, WIDE, w)


@compiled
def dense(phase: int, h: float, share: float, w: Any, into: int) -> None:
    """State at a share (0 ... 1) of the last step, fourth order, to a place of the record."""
    n = DESCENT_COUNT if phase == DESCENT else STATE_COUNT
    rest = 1.0 - share
    for j in range(n):
        rise = w[AHEAD + j] - w[Y + j]
        bend = h * w[K + j] - rise
        five = h * (
            -12715105075.0 / 11282082432.0 * w[K + j]
            + 87487479700.0 / 32700410799.0 * w[K2 + j]
            - 10690763975.0 / 1880347072.0 * w[K3 + j]
            + 701980252875.0 / 199316789632.0 * w[K4 + j]
            - 1453857185.0 / 822651844.0 * w[K5 + j]
            + 69997945.0 / 29380423.0 * w[K6 + j]
        )
        four = rise - h * w[K6 + j] - bend
        w[into + j] = w[Y + j] + share * (rise + rest * (bend + share * (four + rest * five)))
    for j in range(n, STATE_COUNT):
        w[into + j] = w[Y + j]
