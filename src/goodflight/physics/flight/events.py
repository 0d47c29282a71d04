"""Events inside a step: guides leaving the rail, apogee, the second canopy's height, the ground.

And a height of another flight's descent, to go on as that one did (`alike`).
"""

from typing import Any

from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.rail import rail_direction
from goodflight.physics.flight.record import (
    AHEAD,
    APOGEE_DONE,
    DESCENT,
    FREE,
    FROM,
    INSIDE,
    LIMIT,
    MAIN_DONE,
    PHASE,
    PIVOT,
    SEEK,
    SLIDING,
    Y,
)
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.flight.stepper import dense

NO_EVENT, GUIDE, EXIT, APOGEE, MAIN, GROUND, SLID_BACK, JOIN = 0, 1, 2, 3, 4, 5, 6, 7
_MAIN_HEIGHT = PARAMETER_INDEX["main_height_m"]


@compiled
def event_value(kind: int, at: int, w: Any) -> float:
    """Positive before an event of this kind, negative after; of the state at a place."""
    if kind == APOGEE:
        return w[at + 5]
    if kind == GROUND:
        return w[at + 2]
    if kind == MAIN:
        return w[at + 2] - w[_MAIN_HEIGHT]
    if kind == JOIN:
        return w[at + 2] - w[SEEK]
    dx, dn, du = rail_direction(w)
    if kind == SLID_BACK:
        return w[at + 3] * dx + w[at + 4] * dn + w[at + 5] * du + 1e-3
    gone = (w[at] - w[FROM]) * dx + (w[at + 1] - w[FROM + 1]) * dn + (w[at + 2] - w[FROM + 2]) * du
    return w[LIMIT] - gone


@compiled
def locate(kind: int, step: float, w: Any) -> float:
    """Share of the step at which an event happens (Illinois method on the dense output)."""
    a, b = 0.0, 1.0
    fa, fb = event_value(kind, Y, w), event_value(kind, AHEAD, w)
    side = 0
    c = 1.0
    for _ in range(40):
        c = (a * fb - b * fa) / (fb - fa)
        dense(int(w[PHASE]), step, c, w, INSIDE)
        fc = event_value(kind, INSIDE, w)
        if abs(fc) < 1e-9 or b - a < 1e-10:
            break
        if fc > 0.0:
            a, fa = c, fc
            if side == 1:
                fb *= 0.5
            side = 1
        else:
            b, fb = c, fc
            if side == -1:
                fa *= 0.5
            side = -1
    return c


@compiled
def may_happen(kind: int, w: Any) -> bool:
    """Whether an event of this kind can happen in the step just made."""
    phase = w[PHASE]
    if kind in (GUIDE, SLID_BACK):
        return phase == SLIDING
    if kind == EXIT:
        return phase == PIVOT
    if kind == APOGEE:
        return w[APOGEE_DONE] == 0 and phase >= FREE
    if kind == MAIN:
        return w[MAIN_DONE] == 0 and phase == DESCENT and w[AHEAD + 5] < 0.0
    if kind == JOIN:
        return w[SEEK] > 0.0
    return phase >= FREE


@compiled_inside
def nothing_near(w: Any) -> bool:
    """Whether a step off the rail stays clear of every event, as nearly all do."""
    climbs = w[APOGEE_DONE] == 1 or w[AHEAD + 5] > 0.0
    above = w[PHASE] != DESCENT or w[MAIN_DONE] == 1 or w[AHEAD + 2] > w[_MAIN_HEIGHT]
    return w[PHASE] >= FREE and climbs and above and w[AHEAD + 2] > w[SEEK]


@compiled
def first_event(step: float, w: Any) -> tuple[int, float]:
    """The first event inside the step just made, and its share of the step (1 if there is none)."""
    found, share = NO_EVENT, 1.0
    for kind in (GUIDE, EXIT, APOGEE, MAIN, GROUND, SLID_BACK, JOIN):
        if not may_happen(kind, w) or event_value(kind, AHEAD, w) > 0.0:
            continue
        at = locate(kind, step, w) if event_value(kind, Y, w) > 0.0 else 0.0
        if found == NO_EVENT or at < share:
            found, share = kind, at
    return found, share
