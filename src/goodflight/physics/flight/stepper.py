"""One adaptive step of the motion, with a continuous solution inside it.

Tsitouras' 5(4) pair and its fourth-order dense output, Computers and Mathematics with Applications
62 (2011) 770 (coefficients from memory; the conditions of order and the observed order are tested).
The right-hand side depends on the phase of the flight.
"""

import math
from typing import Any

import numpy as np

from goodflight.physics.flight.compiled import compiled, compiled_inside, compiled_per_constant
from goodflight.physics.flight.descent import descent_rates
from goodflight.physics.flight.forces import free_rates
from goodflight.physics.flight.rail import pivot_rates, sliding_rates
from goodflight.physics.flight.record import (
    AHEAD,
    BEFORE,
    DESCENT,
    DESCENT_COUNT,
    ERROR,
    FREE,
    LAST,
    LENGTH,
    MISS,
    NEW,
    NOW,
    PHASE,
    PIVOT,
    SCALES,
    SEGMENT,
    STAGES,
    STATE_COUNT,
    TRIED,
    WIDE,
    K,
    Y,
)

MOMENTS = np.array([0.0, 0.161, 0.327, 0.9, 0.9800255409045097, 1.0, 1.0])
WEIGHTS = np.zeros((7, 6))
WEIGHTS[1, :1] = (0.161,)
WEIGHTS[2, :2] = -0.008480655492356989, 0.335480655492357
WEIGHTS[3, :3] = 2.8971530571054935, -6.359448489975075, 4.3622954328695815
WEIGHTS[4, :4] = (5.325864828439257, -11.748883564062828, 7.4955393428898365, -0.09249506636175525)
WEIGHTS[5, :5] = (
    5.86145544294642, -12.92096931784711, 8.159367898576159, -0.071584973281401,
    -0.028269050394068383,
)  # fmt: skip
WEIGHTS[6] = (
    0.09646076681806523, 0.01, 0.4798896504144996, 1.379008574103742, -3.290069515436081,
    2.324710524099774,
)  # fmt: skip
ERROR_WEIGHTS = np.array([
    -0.00178001105222577714, -0.0008164344596567469, 0.007880878010261995, -0.1447110071732629,
    0.5823571654525552, -0.45808210592918697, 1 / 66,
])  # fmt: skip
# weight of each row of the rates inside the step: factors of share, its square, cube, fourth power
INSIDE_WEIGHTS = np.array([
    [1.0, -2.763706197274826, 2.9132554618219126, -1.0530884977290216],
    [0.0, 0.1317, -0.2234, 0.1017],
    [0.0, 3.9302962368947516, -5.941033872131505, 2.490627285651253],
    [0.0, -12.411077166933676, 30.33818863028232, -16.548102889244902],
    [0.0, 37.50931341651104, -88.1789048947664, 47.37952196281928],
    [0.0, -27.896526289197286, 65.09189467479366, -34.87065786149661],
    [0.0, 1.5, -4.0, 2.5],
])  # fmt: skip

# error scale of each state variable for a tolerance of one
SCALE = np.array(
    [50.0, 50.0, 50.0, 20.0, 20.0, 20.0, 1.0, 1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 1.0, 1.0, 1.0]
)


A, E, D = WEIGHTS, ERROR_WEIGHTS, INSIDE_WEIGHTS
K1, K2, K3, K4, K5 = (K + WIDE * _i for _i in range(1, STAGES - 1))


# The next step from the errors of this step and of the one before, so that steps do not swing about
# what stability allows (Hairer, Norsett, Wanner, Solving Ordinary Differential Equations II, IV.2)
SAFETY = 0.95
DAMPING = 0.05
SLOPE = 0.2 - 0.75 * DAMPING
SMALL, GREAT = math.log(1e-4), math.log(1e6)


@compiled
def work_out(phase: int, t: float, w: Any, at: int, segment: int) -> None:
    """Right-hand side of a phase for the state at a place of the record into NEW; its notes."""
    if phase == DESCENT:
        descent_rates(t, w, at)
    elif phase == FREE:
        free_rates(t, w, at, segment)
    elif phase == PIVOT:
        pivot_rates(t, w, at, segment)
    else:
        sliding_rates(t, w, at, segment)


@compiled
def rates(phase: int, t: float, w: Any, at: int, row: int, segment: int) -> None:
    """Right-hand side of a phase for the state at a place into a row of the rates, and notes."""
    work_out(phase, t, w, at, segment)
    for j in range(WIDE):
        w[K + WIDE * row + j] = w[NEW + j]


@compiled
def refresh(w: Any) -> None:
    """Rates and notes of the present moment."""
    rates(int(w[PHASE]), w[NOW], w, Y, 0, int(w[SEGMENT]))


@compiled_per_constant
def advance(stage: int, wide: int, q: Any, s: int) -> None:
    """State of one stage of a step into AHEAD; that of the last stage is the step's end.

    Of s flights side by side; the rates just worked out (NEW) go to their row. Written out, so that
    each stage is one sweep over the state.
    """
    y, h, to, new = Y * s, LENGTH * s, AHEAD * s, NEW * s
    k0, k1, k2, k3, k4, k5 = K * s, K1 * s, K2 * s, K3 * s, K4 * s, K5 * s
    if stage == 1:
        for j in range(wide * s):
            q[to + j] = q[y + j] + q[h + j] * (A[1, 0] * q[k0 + j])
    elif stage == 2:
        for j in range(wide * s):
            rate = q[new + j]
            q[k1 + j] = rate
            q[to + j] = q[y + j] + q[h + j] * (A[2, 0] * q[k0 + j] + A[2, 1] * rate)
    elif stage == 3:
        for j in range(wide * s):
            rate = q[new + j]
            q[k2 + j] = rate
            q[to + j] = q[y + j] + q[h + j] * (
                A[3, 0] * q[k0 + j] + A[3, 1] * q[k1 + j] + A[3, 2] * rate
            )
    elif stage == 4:
        for j in range(wide * s):
            rate = q[new + j]
            q[k3 + j] = rate
            q[to + j] = q[y + j] + q[h + j] * (
                A[4, 0] * q[k0 + j] + A[4, 1] * q[k1 + j] + A[4, 2] * q[k2 + j] + A[4, 3] * rate
            )
    elif stage == 5:
        for j in range(wide * s):
            rate = q[new + j]
            q[k4 + j] = rate
            q[to + j] = q[y + j] + q[h + j] * (
                A[5, 0] * q[k0 + j]
                + A[5, 1] * q[k1 + j]
                + A[5, 2] * q[k2 + j]
                + A[5, 3] * q[k3 + j]
                + A[5, 4] * rate
            )
    else:
        for j in range(wide * s):
            rate = q[new + j]
            q[k5 + j] = rate
            q[to + j] = q[y + j] + q[h + j] * (
                A[6, 0] * q[k0 + j]
                + A[6, 1] * q[k1 + j]
                + A[6, 2] * q[k2 + j]
                + A[6, 3] * q[k3 + j]
                + A[6, 4] * q[k4 + j]
                + A[6, 5] * rate
            )


@compiled_per_constant
def max_miss(wide: int, q: Any, s: int) -> None:
    """Estimated error of each part of the state, in units of tolerance 1, into MISS.

    The rates at the end of the step (NEW) go to their row.
    """
    y, h, scale, to, new = Y * s, LENGTH * s, SCALES * s, MISS * s, NEW * s
    k0, k1, k2, k3, k4, k5, k6 = K * s, K1 * s, K2 * s, K3 * s, K4 * s, K5 * s, LAST * s
    for j in range(wide * s):
        rate = q[new + j]
        q[k6 + j] = rate
        error = q[h + j] * (
            E[0] * q[k0 + j]
            + E[1] * q[k1 + j]
            + E[2] * q[k2 + j]
            + E[3] * q[k3 + j]
            + E[4] * q[k4 + j]
            + E[5] * q[k5 + j]
            + E[6] * rate
        )
        q[to + j] = abs(error) / (q[scale + j] + abs(q[y + j]))


@compiled_inside
def log_size(error: float) -> float:
    """Logarithm of a step's error over what is allowed, within bounds."""
    return min(max(math.log(error + 1e-30), SMALL), GREAT)


@compiled_inside
def growth(size: float, w: Any) -> float:
    """How much longer the next step may be, by the size of this step's error."""
    return SAFETY * math.exp(DAMPING * w[BEFORE] - SLOPE * size)


@compiled
def try_step(w: Any) -> None:
    """Advance one record by its step (TRIED) into AHEAD; row 0 must hold the rates now."""
    phase, segment = int(w[PHASE]), int(w[SEGMENT])
    for j in range(WIDE):
        w[LENGTH + j], w[SCALES + j] = w[TRIED], SCALE[j]
    for stage in range(1, STAGES):
        advance(stage, WIDE, w, 1)
        work_out(phase, w[NOW] + MOMENTS[stage] * w[TRIED], w, AHEAD, segment)
    max_miss(WIDE, w, 1)
    w[ERROR] = 0.0
    for j in range(WIDE):
        w[ERROR] = max(w[ERROR], w[MISS + j])


@compiled_inside
def inside_weight(row: int, share: float) -> float:
    """Weight of a row of the rates at a share of the step."""
    weight: float = share * (
        D[row, 0] + share * (D[row, 1] + share * (D[row, 2] + share * D[row, 3]))
    )
    return weight


@compiled
def dense(phase: int, h: float, share: float, w: Any, into: int) -> None:
    """State at a share (0 ... 1) of the last step, fourth order, to a place of the record."""
    n = DESCENT_COUNT if phase == DESCENT else STATE_COUNT
    for j in range(STATE_COUNT):
        w[into + j] = w[Y + j]
    for row in range(STAGES):
        weight = h * inside_weight(row, share)
        for j in range(n):
            w[into + j] += weight * w[K + WIDE * row + j]
