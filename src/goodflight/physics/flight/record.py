"""One flight's record: everything it reads and keeps, side by side in one array.

One array, because each further one costs a pointer, a shape and the doubt whether it overlaps the
others, at every call and in every loop (docs/decisions/008). The names here are places in it.
Parameters stand first, so that a row of parameters can be read by the same names.
"""

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_SCALARS,
    MACH_COUNT,
    PARAMETERS,
)

STATE_COUNT: Final = 13  # position 3, velocity 3, attitude 4, body rates 3
DESCENT_COUNT: Final = 6
WIDE: Final = 16  # room of one state; what lies behind the state stays zero
NARROW: Final = 8
STAGES: Final = 7
AUX_ROOM: Final = 16

Y: Final = (len(PARAMETERS) + 7) // 8 * 8  # state at the start of the step
AHEAD: Final = Y + WIDE  # at its end
INSIDE: Final = AHEAD + WIDE  # inside it
K: Final = INSIDE + WIDE  # rates, one row of WIDE per stage
LAST: Final = K + (STAGES - 1) * WIDE  # the rates at the end of the step
MISS: Final = K + STAGES * WIDE  # error of each part of the state over its scale
AUX: Final = MISS + WIDE  # what an evaluation leaves behind, see `forces`
CANOPIES: Final = AUX + AUX_ROOM  # two rows of two, see `descent`
# the flight's clock and counters, kept between steps
NOW: Final = CANOPIES + 4
STEP: Final = NOW + 1
EJECT: Final = NOW + 2
STRETCH_FIRST: Final = NOW + 3
STRETCH_SECOND: Final = NOW + 4
LIMIT: Final = NOW + 5  # travel to the next guide's exit
FROM: Final = NOW + 6  # where the CG stood on the pad, 3
PHASE: Final = NOW + 9
SEGMENT: Final = NOW + 10  # of the thrust curve; LAST_SEGMENT after burnout
APOGEE_DONE: Final = NOW + 11
MAIN_DONE: Final = NOW + 12
BEFORE: Final = NOW + 13  # logarithm of the error of the step before
TRIES: Final = NOW + 14  # steps tried, one count per phase
SLIDING, PIVOT, FREE, DESCENT = 0, 1, 2, 3
OVER: Final = TRIES + 4  # 1 = the flight has ended, PAUSED = it waits to be told how to go on
PAUSED: Final = 2
OPENED: Final = OVER + 1  # what to do under full canopies: go on, keep each step, or pause once
KEEPS, PAUSES = 1, 2
SEEK: Final = OVER + 2  # height at which to pause on the way down; 0 = none
KEPT: Final = SEEK + 1  # what the evaluation at the end of the step left behind, see `inside`
START: Final = KEPT + AUX_ROOM  # what is read inside steps, as it was at the end of the last one
START_COUNT: Final = 4
TRIED: Final = START + START_COUNT  # length of the step being tried
STOP: Final = TRIED + 1  # the moment it may not pass
WHOLE: Final = TRIED + 2  # 1 = the controller's own step, not one cut short by the stop
ERROR: Final = TRIED + 3  # of the step tried, over that of tolerance 1
PLACE: Final = TRIED + 4  # of the flight among those that are flown
BRANCHES: Final = TRIED + 5  # flights that part from it on its way up, see `alike`
TRACK: Final = TRIED + 6  # number of its history or track
LINES: Final = TRIED + 7  # written there
TRACED: Final = TRIED + 8  # line of another's track that it is held against next
# what an evaluation works out on its way, see `column` and `forces`
NODE: Final = TRIED + 9  # of the air below, and the weights of four nodes
AIR_NOW: Final = NODE + 5  # AIR_COLUMNS of them
DRAGS: Final = AIR_NOW + 5  # area of the canopies
THRUST_NOW: Final = DRAGS + 1
GONE: Final = DRAGS + 2  # share of the propellant, and how fast
GONE_RATE: Final = DRAGS + 3
BURNING: Final = DRAGS + 4  # 1 while the motor does
MET_X: Final = DRAGS + 5  # air speed in body axes
MET_Y: Final = DRAGS + 6
MET_Z: Final = DRAGS + 7
MACH_ROW: Final = DRAGS + 8  # of the table, and the share of the way to the next
MACH_SHARE: Final = DRAGS + 9
CROSS_SPEED: Final = DRAGS + 10  # of the air across the middle of the body's side
ACROSS_CD: Final = DRAGS + 11  # cross-flow drag coefficient
PITCH_INERTIA: Final = DRAGS + 12
ROLL_INERTIA: Final = DRAGS + 13
JET: Final = DRAGS + 14  # jet damping
TABLE_NOW: Final = DRAGS + 15  # as AERO_COLUMNS
NEW: Final = TABLE_NOW + len(AERO_COLUMNS)  # the rates worked out, WIDE
# the length of a step and the scale of its error, once for each part of the state
LENGTH: Final = NEW + WIDE
SCALES: Final = LENGTH + WIDE
# common to all flights of an ensemble
LAST_SEGMENT: Final = SCALES + WIDE
SPACING: Final = LAST_SEGMENT + 1  # of the air's nodes, in the fourth root of height
SCALARS: Final = SPACING + 1
TABLE: Final = SCALARS + len(AERO_SCALARS)  # MACH_COUNT rows
AIR: Final = TABLE + MACH_COUNT * len(AERO_COLUMNS)  # NODES + 2 rows, see `column`
AIR_COLUMNS: Final = 5
NODES: Final = 128
CURVE: Final = AIR + (NODES + 2) * AIR_COLUMNS  # (time, thrust, impulse, slope), to the end

# flights that stand side by side: place p of the record of flight n is at p x LANES + n of a block
LANES: Final = 8
BLOCK: Final = TABLE * LANES


def blank_record(
    curve: NDArray[np.float64],
    table: NDArray[np.float64],
    scalars: NDArray[np.float64],
    spacing: float,
) -> NDArray[np.float64]:
    """What the flights of one motor and one vehicle share; each flies a copy."""
    w = np.zeros(CURVE + 4 * len(curve))
    w[LAST_SEGMENT], w[SPACING] = len(curve) - 1, spacing
    w[SCALARS : SCALARS + len(scalars)] = scalars
    w[TABLE:AIR] = table.ravel()
    w[CURVE:] = curve.ravel()
    return w


@compiled
def fill_record(w: Any, p: Any, blank: Any) -> None:
    """Make a record that of one flight, still without air."""
    for i in range(len(blank)):
        w[i] = blank[i]
    for i in range(len(p)):
        w[i] = p[i]
