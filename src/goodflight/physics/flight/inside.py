"""Greatest values inside a step, where they can be greater than at both of its ends.

A rocket swings through half a period in three or four steps, so the highest angle of attack and the
highest side load lie between their ends, up to a fifth higher. A step near them is looked into: at
its middle, and at the top of the parabola through both ends and the middle. What is written down is
the motion's own value there, never the parabola's. The same where a greatest value begins or ends
to count, and at the fastest moment.
"""

import math
from typing import Any

from goodflight.physics.flight import monitor
from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.forces import PRESSURE
from goodflight.physics.flight.monitor import (
    FELT_BEFORE,
    FELT_SHARE,
    INCIDENCE,
    LEANT,
    NEAR_RATIO2,
    PRESSED,
    PUSHED2,
    QUIET_SHARE,
    SIDE,
    SPUN2,
    swing,
)
from goodflight.physics.flight.record import (
    AHEAD,
    APOGEE_DONE,
    AUX,
    AUX_ROOM,
    FREE,
    INSIDE,
    KEPT,
    LAST,
    LAST_SEGMENT,
    NOW,
    SEGMENT,
    STAGES,
    K,
    Y,
)
from goodflight.physics.flight.stepper import dense, rates

NEAR2 = 0.64  # of the square of the greatest so far, 0.8 of it: a step's top is at most a fifth up
CLEAR = 1e-4  # so much inside the limit from which a value counts
EDGE_LOOKS = 5  # to find it


@compiled
def look(share: float, step: float, w: Any, out: Any) -> None:
    """Take greatest and least values at a share of the step just made (spoils errors, notes)."""
    t = w[NOW] + share * step
    dense(FREE, step, share, w, INSIDE)
    rates(FREE, t, w, INSIDE, STAGES, int(w[SEGMENT]))  # into MISS
    monitor.note_ascent(t, w, INSIDE, out, True, w[SEGMENT] < w[LAST_SEGMENT])


@compiled_inside
def fastest(w: Any) -> float:
    """Where in the step just made the speed over the ground is greatest; 0 if at an end."""
    start = w[Y + 3] * w[K + 3] + w[Y + 4] * w[K + 4] + w[Y + 5] * w[K + 5]
    end = w[AHEAD + 3] * w[LAST + 3] + w[AHEAD + 4] * w[LAST + 4] + w[AHEAD + 5] * w[LAST + 5]
    return start / (start - end) if start > 0.0 > end else 0.0


@compiled_inside
def crest(start: float, middle: float, end: float) -> float:
    """Where a parabola through values at 0, 1/2 and 1 is highest; 0 if at an end."""
    bend, slope = start - 2.0 * middle + end, end - start
    return 0.5 - 0.25 * slope / bend if abs(slope) < -2.0 * bend else 0.0


@compiled_inside
def passes(start: float, end: float, level: float) -> bool:
    """Whether a level lies between two values."""
    return (start - level) * (end - level) < 0.0


@compiled
def look_at_edge(
    place: int, start: float, end: float, limit: float, part: float, step: float, w: Any, out: Any
) -> None:
    """Look where a value passes the limit from which others count, a little inside of it.

    place : of the value at the last reading; its root goes nearly straight through a step.
    """
    low, high, before, after = 0.0, part, math.sqrt(start), math.sqrt(end)
    aim = math.sqrt(limit) * (1.0 + CLEAR)
    for _ in range(EDGE_LOOKS):
        share = low + (high - low) * (aim - before) / (after - before)
        share = min(max(share, low), high)
        look(share, step, w, out)
        found = math.sqrt(w[place])
        if abs(found - aim) < CLEAR * aim:
            break
        if (found > aim) == (before > aim):
            low, before = share, found
        else:
            high, after = share, found


@compiled_inside
def near(start: float, end: float, greatest: float) -> bool:
    """Whether a step's inside may be greater than what was seen so far."""
    return max(start, end) > NEAR2 * max(greatest, end)


@compiled_inside
def swings_wide(w: Any, out: Any) -> bool:
    """Whether incidence or side load may be greatest inside the step, or begin or end to count."""
    angle, side2, ratio2 = swing(w, AHEAD)
    before, after = w[FELT_BEFORE], w[PRESSURE]
    quiet, felt = QUIET_SHARE * out[PRESSED], FELT_SHARE * out[PRESSED]
    if max(before, after) > quiet and near(w[LEANT], angle, out[INCIDENCE]):
        return True
    if max(before, after) > felt and near(w[PUSHED2], side2, out[SIDE]):
        return True
    if passes(before, after, quiet) or passes(before, after, felt):
        return True
    return after > felt and passes(w[SPUN2], ratio2, NEAR_RATIO2)


@compiled
def look_around(part: float, step: float, w: Any, out: Any) -> None:
    """Look for the highest incidence and side load in the first part of the step just made."""
    angle, side2, ratio2, before = w[LEANT], w[PUSHED2], w[SPUN2], w[FELT_BEFORE]
    if part < 1.0:
        look(part, step, w, out)
        last_angle, last_side2, last_ratio2 = w[LEANT], w[PUSHED2], w[SPUN2]
    else:
        last_angle, last_side2, last_ratio2 = swing(w, AHEAD)
    after = w[PRESSURE]
    look(0.5 * part, step, w, out)
    top = crest(angle, w[LEANT], last_angle)
    push = crest(side2, w[PUSHED2], last_side2)
    if top > 0.0:
        look(part * top, step, w, out)
    if push > 0.0:
        look(part * push, step, w, out)
    for share in (QUIET_SHARE, FELT_SHARE):
        limit = share * out[PRESSED]
        if passes(before, after, limit):
            look_at_edge(FELT_BEFORE, before, after, limit, part, step, w, out)
    if passes(ratio2, last_ratio2, NEAR_RATIO2):
        look_at_edge(SPUN2, ratio2, last_ratio2, NEAR_RATIO2, part, step, w, out)


@compiled_inside
def worth_a_look(w: Any, out: Any) -> bool:
    """Whether the free step just made may hold a greatest value inside."""
    return fastest(w) > 0.0 or (w[APOGEE_DONE] == 0 and swings_wide(w, out))


@compiled
def note_inside(step: float, part: float, w: Any, out: Any) -> None:
    """Greatest values inside the first part of the free step just made."""
    fast = fastest(w)
    wide = w[APOGEE_DONE] == 0 and swings_wide(w, out)
    for i in range(AUX_ROOM):
        w[KEPT + i] = w[AUX + i]
    if wide:
        look_around(part, step, w, out)
    if 0.0 < fast < part:
        look(fast, step, w, out)
    for i in range(AUX_ROOM):
        w[AUX + i] = w[KEPT + i]
