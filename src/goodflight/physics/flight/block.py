"""The steps of flights side by side: one sweep of arithmetic for all of them.

Each place of a block stands once for each flight (`record.LANES`), so that the compiler turns the
arithmetic into whole-register operations. What each flight reads from its own tables (air, thrust,
coefficients) is fetched one by one between the sweeps. A flight's figures do not depend on who
stands beside it.
"""

from typing import Any

from goodflight.physics.flight.burn import read_thrust
from goodflight.physics.flight.column import find_node, read_air
from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.descent import FIRST, SECOND, open_area, sink
from goodflight.physics.flight.forces import NOTED_COUNT, meet_air, move_freely, read_table
from goodflight.physics.flight.record import (
    AHEAD,
    AUX,
    DESCENT_COUNT,
    DRAGS,
    ERROR,
    LANES,
    LAST,
    LAST_SEGMENT,
    LENGTH,
    MISS,
    NARROW,
    NOW,
    SCALES,
    SEGMENT,
    STAGES,
    STATE_COUNT,
    TABLE,
    TRIED,
    WIDE,
    K,
    Y,
)
from goodflight.physics.flight.stepper import MOMENTS, SCALE, advance, max_miss


@compiled
def enter(w: Any, q: Any, n: int) -> None:
    """Make a record flight n of a block."""
    for i in range(TABLE):
        q[i * LANES + n] = w[i]
    for j in range(STATE_COUNT):
        q[(SCALES + j) * LANES + n] = SCALE[j]


@compiled_inside
def begin_step(w: Any, q: Any, n: int, parts: int) -> None:
    """Bring state, rates and length of its next step from a record."""
    for j in range(parts):
        q[(Y + j) * LANES + n] = w[Y + j]
        q[(K + j) * LANES + n] = w[K + j]
        q[(LENGTH + j) * LANES + n] = w[TRIED]


@compiled_inside
def end_step(w: Any, q: Any, n: int, parts: int) -> None:
    """Take the step's end, the rates there, notes and error into a record."""
    worst = 0.0
    for j in range(parts):
        w[AHEAD + j] = q[(AHEAD + j) * LANES + n]
        w[LAST + j] = q[(LAST + j) * LANES + n]
        miss = q[(MISS + j) * LANES + n]
        worst = worst if worst > miss else miss
    w[ERROR] = worst
    for j in range(NOTED_COUNT):
        w[AUX + j] = q[(AUX + j) * LANES + n]


@compiled
def bring_rates(w: Any, q: Any, n: int) -> None:
    """Take the rates inside the step just made into a record, to look into it."""
    for row in range(1, STAGES - 1):
        for j in range(STATE_COUNT):
            w[K + WIDE * row + j] = q[(K + WIDE * row + j) * LANES + n]


@compiled
def climb(ws: Any, rows: Any, count: int, q: Any) -> None:
    """One step of free flight of the records in the block, each by its own length."""
    lanes = len(q) // TABLE  # not a constant: loops of constant length are written out instead
    for n in range(count):
        begin_step(ws[rows[n]], q, n, STATE_COUNT)
    for stage in range(1, STAGES):
        advance(stage, WIDE, q, LANES)
        for n in range(lanes):
            find_node(q, LANES, n, AHEAD)
        for n in range(count):
            w = ws[rows[n]]
            read_air(w, q, LANES, n)
            if stage == 1 or w[SEGMENT] < w[LAST_SEGMENT]:
                read_thrust(w, q, LANES, n, int(w[SEGMENT]), w[NOW] + MOMENTS[stage] * w[TRIED])
        for n in range(lanes):
            meet_air(q, LANES, n, AHEAD)
        for n in range(count):
            read_table(ws[rows[n]], q, LANES, n)
        for n in range(lanes):
            move_freely(q, LANES, n, AHEAD)
    max_miss(WIDE, q, LANES)
    for n in range(count):
        end_step(ws[rows[n]], q, n, STATE_COUNT)


@compiled
def come_down(ws: Any, rows: Any, count: int, q: Any) -> None:
    """One step of the descent of the records in the block, each by its own length."""
    lanes = len(q) // TABLE  # not a constant: loops of constant length are written out instead
    for n in range(count):
        begin_step(ws[rows[n]], q, n, DESCENT_COUNT)
    for stage in range(1, STAGES):
        advance(stage, NARROW, q, LANES)
        for n in range(lanes):
            find_node(q, LANES, n, AHEAD)
        for n in range(count):
            w = ws[rows[n]]
            t = w[NOW] + MOMENTS[stage] * w[TRIED]
            read_air(w, q, LANES, n)
            q[DRAGS * LANES + n] = open_area(t, w, FIRST) + open_area(t, w, SECOND)
        for n in range(lanes):
            sink(q, LANES, n, AHEAD)
    max_miss(NARROW, q, LANES)
    for n in range(count):
        end_step(ws[rows[n]], q, n, DESCENT_COUNT)
