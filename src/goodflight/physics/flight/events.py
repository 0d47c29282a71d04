"""Events inside a step: guides leaving the rail, apogee, the second canopy's height, the ground."""

from typing import Any

from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.rail import rail_direction
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.flight.stepper import (
    APOGEE_DONE,
    DESCENT,
    FREE,
    FROM,
    LIMIT,
    MAIN_DONE,
    PHASE,
    PIVOT,
    SLIDING,
    Flight,
    dense,
)

NO_EVENT, GUIDE, EXIT, APOGEE, MAIN, GROUND, SLID_BACK = 0, 1, 2, 3, 4, 5, 6
_MAIN_HEIGHT = PARAMETER_INDEX["main_height_m"]


@compiled
def event_value(kind: int, y: Any, w: Flight) -> float:
    """Positive before an event of this kind, negative after."""
    if kind == APOGEE:
        return y[5]
    if kind == GROUND:
        return y[2]
    if kind == MAIN:
        return y[2] - w.p[_MAIN_HEIGHT]
    dx, dn, du = rail_direction(w.p)
    if kind == SLID_BACK:
        return y[3] * dx + y[4] * dn + y[5] * du + 1e-3
    c = w.clock
    gone = (y[0] - c[FROM]) * dx + (y[1] - c[FROM + 1]) * dn + (y[2] - c[FROM + 2]) * du
    return c[LIMIT] - gone


@compiled
def locate(kind: int, step: float, w: Flight) -> float:
    """Share of the step at which an event happens (Illinois method on the dense output)."""
    a, b = 0.0, 1.0
    fa, fb = event_value(kind, w.y, w), event_value(kind, w.ahead, w)
    side = 0
    c = 1.0
    for _ in range(40):
        c = (a * fb - b * fa) / (fb - fa)
        dense(w.count[PHASE], step, c, w, w.trial)
        fc = event_value(kind, w.trial, w)
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
def may_happen(kind: int, w: Flight) -> bool:
    """Whether an event of this kind can happen in the step just made."""
    n = w.count
    phase = n[PHASE]
    if kind in (GUIDE, SLID_BACK):
        return phase == SLIDING
    if kind == EXIT:
        return phase == PIVOT
    if kind == APOGEE:
        return n[APOGEE_DONE] == 0 and phase >= FREE
    if kind == MAIN:
        return n[MAIN_DONE] == 0 and phase == DESCENT and w.ahead[5] < 0.0
    return phase >= FREE


@compiled_inside
def first_event(step: float, w: Flight) -> tuple[int, float]:
    """The first event inside the step just made, and its share of the step (1 if there is none)."""
    found, share = NO_EVENT, 1.0
    for kind in (GUIDE, EXIT, APOGEE, MAIN, GROUND, SLID_BACK):
        if not may_happen(kind, w) or event_value(kind, w.ahead, w) > 0.0:
            continue
        at = locate(kind, step, w) if event_value(kind, w.y, w) > 0.0 else 0.0
        if found == NO_EVENT or at < share:
            found, share = kind, at
    return found, share
