"""What is kept of one flight on its way: its history at regular moments, or its track."""

import math
from typing import Any

from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.forces import NOTED_COUNT
from goodflight.physics.flight.record import (
    AHEAD,
    AUX,
    DESCENT_COUNT,
    INSIDE,
    LINES,
    NOW,
    PHASE,
    SEGMENT,
    STAGES,
    STATE_COUNT,
    Y,
)
from goodflight.physics.flight.stepper import dense, rates

HISTORY_COLUMNS = 2 + STATE_COUNT + NOTED_COUNT  # time, phase, state, notes


@compiled
def write_history(record: Any, t: float, phase: int, w: Any) -> None:
    """Append INSIDE and its notes as one line of history, while there is room."""
    count = int(w[LINES])
    if count >= len(record):
        return
    row = record[count]
    row[0], row[1] = t, phase
    for i in range(STATE_COUNT):
        row[2 + i] = w[INSIDE + i]
    for i in range(NOTED_COUNT):
        row[2 + STATE_COUNT + i] = w[AUX + i]
    w[LINES] += 1.0


@compiled
def keep_place(track: Any, w: Any) -> None:
    """Append the present moment, place and velocity to a track, while there is room."""
    count = int(track[0, 0]) + 1
    if count >= len(track):
        return
    track[count, 0] = w[NOW]
    for i in range(DESCENT_COUNT):
        track[count, 1 + i] = w[Y + i]
    track[0, 0] = count


@compiled
def record_step(record: Any, step: float, share: float, every: float, w: Any) -> None:
    """Write the regular moments inside the accepted part of a step (spoils the errors)."""
    t, phase, segment = w[NOW], int(w[PHASE]), int(w[SEGMENT])
    n = math.ceil(t / every - 1e-9)
    while n * every < t + share * step - 1e-12:
        if n * every >= t:
            dense(phase, step, (n * every - t) / step, w, INSIDE)
            rates(phase, n * every, w, INSIDE, STAGES, segment)  # into MISS
            write_history(record, n * every, phase, w)
        n += 1
    if share >= 1.0:
        rates(phase, t + step, w, AHEAD, STAGES - 1, segment)
