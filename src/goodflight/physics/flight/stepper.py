"""One adaptive step of the motion, with a continuous solution inside it.

Dormand and Prince's 5(4) pair with the fourth-order dense output of Hairer, Norsett and Wanner,
Solving Ordinary Differential Equations I, 2nd ed., II.5 and II.6 (coefficients from memory; the
observed order is tested). The right-hand side depends on the phase of the flight.
"""

from typing import Any, NamedTuple

import numpy as np

from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.descent import descent_rates
from goodflight.physics.flight.forces import free_rates
from goodflight.physics.flight.rail import pivot_rates, sliding_rates

SLIDING, PIVOT, FREE, DESCENT = 0, 1, 2, 3
STATE_COUNT = 13
DESCENT_COUNT = 6
STAGES = 7
# the flight's clock (floats) and counters (integers), kept between steps
NOW, STEP, EJECT, STRETCH_FIRST, STRETCH_SECOND, LIMIT, DRY_MASS, FROM = 0, 1, 2, 3, 4, 5, 6, 7
# FROM: where the CG stood on the pad; LIMIT: travel to the next guide's exit
CLOCK_COUNT = FROM + 3
PHASE, SEGMENT, APOGEE_DONE, MAIN_DONE = 0, 1, 2, 3
COUNT_COUNT = 4

NODES = np.array([0.0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1.0, 1.0])
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
SCALE = (50.0, 50.0, 50.0, 20.0, 20.0, 20.0, 1.0, 1.0, 1.0, 1.0, 2.0, 2.0, 2.0)


class Flight(NamedTuple):
    """Everything one flight reads, and its scratch space."""

    p: Any  # (len(PARAMETERS),)
    curve: Any  # (n, 4)
    table: Any  # (MACH_COUNT, len(AERO_COLUMNS))
    scalars: Any  # (len(AERO_SCALARS),)
    column: Any  # (NODES + 2, 5)
    spacing: float
    canopies: Any  # (2, 2)
    y: Any  # (13,) state at the start of the step
    ahead: Any  # (13,) state at its end
    trial: Any  # (13,)
    k: Any  # (7, 13)
    aux: Any  # (AUX_COUNT,)
    generator: Any  # (1,) uint64, state of the gusts' random numbers
    clock: Any  # floats kept between steps, see `kernel`
    count: Any  # integers kept between steps


@compiled_inside
def rates(phase: int, t: float, y: Any, row: int, segment: int, mass: float, w: Flight) -> None:
    """Right-hand side of the phase the flight is in, into w.k[row].

    The arrays go one by one, so that the phases do not know the record.
    """
    if phase == DESCENT:
        descent_rates(t, y, w.k, row, w.aux, w.p, w.canopies, mass, w.column, w.spacing)
    elif phase == FREE:
        free_rates(
            t, y, w.k, row, w.aux, w.p, segment, w.curve, w.table, w.scalars, w.column, w.spacing
        )
    elif phase == PIVOT:
        pivot_rates(
            t, y, w.k, row, w.aux, w.p, segment, w.curve, w.table, w.scalars, w.column, w.spacing
        )
    else:
        sliding_rates(
            t, y, w.k, row, w.aux, w.p, segment, w.curve, w.table, w.scalars, w.column, w.spacing
        )


@compiled
def refresh(w: Flight) -> None:
    """Rates at the present moment into k[0], and what goes with them into aux."""
    rates(w.count[PHASE], w.clock[NOW], w.y, 0, w.count[SEGMENT], w.clock[DRY_MASS], w)


@compiled_inside
def try_step(phase: int, t: float, h: float, segment: int, mass: float, w: Flight) -> float:
    """Advance w.y by h into w.ahead; k[0] must hold the rates at t. Returns error / tolerance 1."""
    n = DESCENT_COUNT if phase == DESCENT else STATE_COUNT
    y, k = w.y, w.k
    # one call of the right-hand side in a loop compiles several times faster than seven calls
    for stage in range(1, STAGES):
        u = w.ahead if stage == STAGES - 1 else w.trial
        for j in range(n):
            rise = 0.0
            for i in range(stage):
                rise += WEIGHTS[stage, i] * k[i, j]
            u[j] = y[j] + h * rise
        rates(phase, t + NODES[stage] * h, u, stage, segment, mass, w)
    worst = 0.0
    for j in range(n):
        error = 0.0
        for i in range(STAGES):
            error += ERROR_WEIGHTS[i] * k[i, j]
        worst = max(worst, abs(h * error) / (SCALE[j] + abs(y[j])))
    return worst


@compiled
def dense(phase: int, h: float, share: float, w: Flight, into: Any) -> None:
    """State at a share (0 ... 1) of the last step, fourth order."""
    n = DESCENT_COUNT if phase == DESCENT else STATE_COUNT
    k = w.k
    rest = 1.0 - share
    for j in range(n):
        rise = w.ahead[j] - w.y[j]
        bend = h * k[0, j] - rise
        five = h * (
            -12715105075.0 / 11282082432.0 * k[0, j]
            + 87487479700.0 / 32700410799.0 * k[2, j]
            - 10690763975.0 / 1880347072.0 * k[3, j]
            + 701980252875.0 / 199316789632.0 * k[4, j]
            - 1453857185.0 / 822651844.0 * k[5, j]
            + 69997945.0 / 29380423.0 * k[6, j]
        )
        four = rise - h * k[6, j] - bend
        into[j] = w.y[j] + share * (rise + rest * (bend + share * (four + rest * five)))
    for j in range(n, STATE_COUNT):
        into[j] = w.y[j]
