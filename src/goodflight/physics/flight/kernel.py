"""One flight from ignition to the ground.

Steps stop at every corner of the thrust curve, at burnout, at ejection, at line stretch and when a
canopy is full; the guides leaving, apogee, the second canopy's height and the ground are found on
the dense output of the step that passes them.
"""

import math
from typing import Any

from goodflight.physics.flight import monitor
from goodflight.physics.flight.block import bring_rates, climb, come_down
from goodflight.physics.flight.column import UP, air_at
from goodflight.physics.flight.compiled import (
    compiled,
    compiled_inside,
)
from goodflight.physics.flight.descent import (
    FILL,
    FIRST,
    SECOND,
    STRETCH,
    all_open,
    fall_nose_first,
    open_area,
)
from goodflight.physics.flight.events import (
    APOGEE,
    EXIT,
    GUIDE,
    JOIN,
    MAIN,
    NO_EVENT,
    SLID_BACK,
    first_event,
    nothing_near,
)
from goodflight.physics.flight.forces import PRESSURE, SPEED
from goodflight.physics.flight.history import keep_place, record_step
from goodflight.physics.flight.inside import note_inside, worth_a_look
from goodflight.physics.flight.pad import FIRST_STEP_S, set_ejection
from goodflight.physics.flight.record import (
    AHEAD,
    APOGEE_DONE,
    BEFORE,
    BRANCHES,
    CURVE,
    DESCENT,
    DESCENT_COUNT,
    EJECT,
    ERROR,
    FREE,
    INSIDE,
    KEEPS,
    LAST,
    LAST_SEGMENT,
    LIMIT,
    MAIN_DONE,
    NOW,
    OPENED,
    OVER,
    PAUSED,
    PHASE,
    PIVOT,
    PLACE,
    SEGMENT,
    STATE_COUNT,
    STEP,
    STOP,
    STRETCH_FIRST,
    STRETCH_SECOND,
    TRACK,
    TRIED,
    TRIES,
    WHOLE,
    WIDE,
    K,
    Y,
)
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    GAVE_UP,
    NEVER_LEFT,
    NOTHING_OPEN,
    NOTHING_OPENS,
    OUTCOME_INDEX,
    OUTCOMES,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.rigid import normalise_attitude
from goodflight.physics.flight.stepper import (
    dense,
    growth,
    log_size,
    refresh,
    try_step,
)

STEP_LIMIT = 20000
LONGEST_STEP_S = 1.0
GROUND_SHARE = 0.4  # of the way to the ground a step may take
MIN_GROUND_STEP_S = 0.02
FILL_STEPS = 12.0  # at least so many steps while a canopy fills

_FORE, _AFT = PARAMETER_INDEX["guide_fore_m"], PARAMETER_INDEX["guide_aft_m"]
_BURN_TIME = PARAMETER_INDEX["burn_time_factor"]
_STRETCH, _GRAVITY = PARAMETER_INDEX["stretch_s"], PARAMETER_INDEX["gravity_m_s2"]
_DIAMETERS = (PARAMETER_INDEX["canopy_diameter_m"], PARAMETER_INDEX["main_diameter_m"])
_FILLS = (PARAMETER_INDEX["canopy_fill"], PARAMETER_INDEX["main_fill"])
_OVERSHOOTS = (PARAMETER_INDEX["canopy_overshoot"], PARAMETER_INDEX["main_overshoot"])
_OPEN_V = (OUTCOME_INDEX["opening_m_s"], OUTCOME_INDEX["main_opening_m_s"])
_OPEN_F = (OUTCOME_INDEX["opening_force_n"], OUTCOME_INDEX["main_opening_force_n"])
_OPEN_H = OUTCOME_INDEX["opening_m"]
_MAIN_S, _MAIN_H = OUTCOME_INDEX["main_s"], OUTCOME_INDEX["main_m"]
_DESCENT_V = OUTCOME_INDEX["descent_m_s"]
OUTCOME_COUNT = len(OUTCOMES)
# places of how an ensemble is flown: when the canopy is let out, moments of its history (0: none),
# error of a step that is allowed, whether there is turbulence
DEPLOYED, EVERY, TOLERATED, TURBULENT = 0, 1, 2, 3


@compiled
def stretch_canopy(which: int, t: float, w: Any, out: Any) -> None:
    """Line stretch: fix the fill time from the air speed then.

    n D / v, but never longer than falling n D from rest takes.
    """
    path = w[_FILLS[which]] * w[_DIAMETERS[which]]
    longest = math.sqrt(2.0 * path / w[_GRAVITY])
    speed = w[SPEED]
    w[STRETCH + 2 * which] = t
    w[FILL + 2 * which] = max(min(path / max(speed, 1e-3), longest), 1e-3)
    out[_OPEN_V[which]] = speed
    out[_OPEN_F[which]] = 0.0
    if which == FIRST:
        out[_OPEN_H] = w[Y + 2]


@compiled
def note_filling(t: float, w: Any, out: Any) -> None:
    """Greatest canopy force while it fills."""
    for which in (FIRST, SECOND):
        since = t - w[STRETCH + 2 * which]
        if 0.0 <= since <= w[FILL + 2 * which] * 1.0001:
            force = w[PRESSURE] * open_area(t, w, which) * w[_OVERSHOOTS[which]]
            out[_OPEN_F[which]] = max(out[_OPEN_F[which]], force)


@compiled_inside
def next_stop(w: Any) -> float:
    """The next moment a step may not pass.

    Shortens the step while a canopy fills and close to the ground, where the wind falls to nothing
    with ever steeper slope.
    """
    last = w[LAST_SEGMENT]
    if w[SEGMENT] < last:
        return w[CURVE + 4 * int(w[SEGMENT]) + 4] * w[_BURN_TIME]
    if w[Y + 5] < 0.0 and w[PHASE] >= FREE:
        w[STEP] = min(w[STEP], max(GROUND_SHARE * w[Y + 2] / -w[Y + 5], MIN_GROUND_STEP_S))
    if w[PHASE] != DESCENT:
        return w[EJECT]
    stop = min(w[STRETCH_FIRST], w[STRETCH_SECOND])
    for which in (FIRST, SECOND):
        full = w[STRETCH + 2 * which] + w[FILL + 2 * which]
        if w[STRETCH + 2 * which] <= w[NOW] < full - 1e-9:
            stop = min(stop, full)
            w[STEP] = min(w[STEP], w[FILL + 2 * which] / FILL_STEPS)
    return stop


@compiled
def pass_stop(stop: float, w: Any, out: Any) -> None:
    """Cross the moment a step had to end at: a thrust corner, ejection, line stretch, full."""
    t = w[NOW]
    last = w[LAST_SEGMENT]
    if w[SEGMENT] < last:
        w[SEGMENT] += 1
        if w[SEGMENT] == last:
            monitor.note_burnout(t, w, out)
    elif w[PHASE] != DESCENT:
        monitor.note_ejection(t, w, out)
        w[PHASE] = DESCENT
        w[STRETCH_FIRST] = t + w[_STRETCH]
        w[STEP] = FIRST_STEP_S
    elif stop == w[STRETCH_FIRST]:
        stretch_canopy(FIRST, t, w, out)
        w[STRETCH_FIRST] = math.inf
    elif stop == w[STRETCH_SECOND]:
        stretch_canopy(SECOND, t, w, out)
        w[STRETCH_SECOND] = math.inf
    refresh(w)


@compiled_inside
def take_step(step: float, share: float, stop: float, w: Any) -> None:
    """Move the present to a share of the step just made, and make k[0] and aux fit it."""
    if share < 1.0:
        dense(int(w[PHASE]), step, share, w, INSIDE)
        for i in range(STATE_COUNT):
            w[Y + i] = w[INSIDE + i]
        w[NOW] += share * step
    else:
        for i in range(DESCENT_COUNT if w[PHASE] == DESCENT else STATE_COUNT):
            w[Y + i] = w[AHEAD + i]
        w[NOW] = stop if step == stop - w[NOW] else w[NOW] + step
    if w[PHASE] != DESCENT:
        normalise_attitude(w, Y)
    if share < 1.0:
        refresh(w)
    else:
        for i in range(WIDE):
            w[K + i] = w[LAST + i]


@compiled
def handle_event(found: int, deployment: int, w: Any, out: Any) -> bool:
    """Act on an event at the present moment. Returns whether the flight is over."""
    t = w[NOW]
    if found == GUIDE:
        monitor.note_guide(t, w, out)
        w[PHASE] = PIVOT
        w[LIMIT] += w[_AFT] - w[_FORE]
        w[STEP] = 0.1 * FIRST_STEP_S
    elif found == EXIT:
        w[PHASE] = FREE
        refresh(w)
        monitor.note_exit(t, w, out)
        monitor.note_ascent(t, w, Y, out, True, w[SEGMENT] < w[LAST_SEGMENT])
        w[STEP] = 0.5 * FIRST_STEP_S
    elif found == APOGEE:
        w[APOGEE_DONE] = 1
        monitor.note_apogee(t, w, out)
        if deployment == BY_ALTIMETER:
            set_ejection(deployment, w, out)
        elif deployment == NOTHING_OPENS:
            fall_nose_first(w)
    elif found == MAIN:
        w[MAIN_DONE] = 1
        out[_MAIN_S], out[_MAIN_H] = t, w[Y + 2]
        w[STRETCH_SECOND] = t + w[_STRETCH]
    elif found == JOIN:
        w[OVER] = PAUSED
    elif found == SLID_BACK:
        out[monitor.STATUS] = NEVER_LEFT
        return True
    else:
        monitor.note_landing(t, w, out)
        out[_DESCENT_V] = air_at(w, 0.0)[UP] - w[Y + 5]
        if w[PHASE] != DESCENT or deployment == NOTHING_OPENS:
            out[monitor.STATUS] = NOTHING_OPEN
        return True
    refresh(w)
    return False


@compiled
def end_flight(w: Any, out: Any) -> None:
    """What is noted last."""
    out[monitor.STEPS] = steps_of(w)
    monitor.end_notes(out)


@compiled_inside
def steps_of(w: Any) -> float:
    """Steps tried so far."""
    steps: float = w[TRIES] + w[TRIES + 1] + w[TRIES + 2] + w[TRIES + 3]
    return steps


@compiled_inside
def set_step(w: Any, out: Any) -> bool:
    """Cross stops that are reached and set the next step; returns whether there is one.

    There is none for a flight that has ended, or from which others part if ejection would cut the
    step short.
    """
    while w[OVER] == 0:
        stop = next_stop(w)
        step = min(w[STEP], LONGEST_STEP_S)
        cut = w[NOW] + step > stop - 1e-7
        if cut and w[BRANCHES] > 0 and stop == w[EJECT]:
            return False
        if stop - w[NOW] <= 1e-9:
            pass_stop(stop, w, out)
            continue
        w[TRIED], w[STOP], w[WHOLE] = (stop - w[NOW] if cut else step), stop, (0.0 if cut else 1.0)
        return True
    return False


@compiled_inside
def accept(w: Any, how: Any) -> bool:
    """Judge the step just tried and set the length of the next; returns whether it is taken."""
    w[TRIES + int(w[PHASE])] += 1.0
    size = log_size(w[ERROR] / how[TOLERATED])
    factor = growth(size, w)
    if not w[ERROR] <= how[TOLERATED]:
        w[STEP] = w[TRIED] * max(factor, 0.2)
        return False
    w[BEFORE] = size
    grown = w[TRIED] * min(factor, 4.0)
    w[STEP] = grown if w[WHOLE] != 0.0 else max(w[STEP], grown)
    return True


@compiled_inside
def use_step(w: Any, out: Any, tracks: Any, how: Any, q: Any, n: int) -> None:
    """Take the step just tried with all that is noted, if it is good enough.

    q, n : the block it was tried in, and where; n < 0 if it was tried in the record itself.
    """
    if steps_of(w) >= STEP_LIMIT:
        out[monitor.STATUS] = GAVE_UP
        w[OVER] = 1
        return
    if not accept(w, how):
        return
    step, found, share = w[TRIED], NO_EVENT, 1.0
    near, looks = not nothing_near(w), w[PHASE] == FREE and worth_a_look(w, out)
    if n >= 0 and (near or looks or how[EVERY] > 0.0):
        bring_rates(w, q, n)
    if near:
        found, share = first_event(step, w)
    if how[EVERY] > 0.0:
        record_step(tracks[int(w[TRACK])], step, share, how[EVERY], w)
    if looks:
        note_inside(step, share, w, out)
    take_step(step, share, w[STOP], w)
    if w[PHASE] == DESCENT:
        note_filling(w[NOW], w, out)
    else:
        burning = w[SEGMENT] < w[LAST_SEGMENT]
        monitor.note_ascent(w[NOW], w, Y, out, w[PHASE] == FREE, burning)
    if found != NO_EVENT and handle_event(found, int(how[DEPLOYED]), w, out):
        w[OVER] = 1
    if w[OPENED] != 0 and w[PHASE] == DESCENT and all_open(w):
        if w[OPENED] == KEEPS:
            keep_place(tracks[int(w[TRACK])], w)
        elif w[OVER] == 0:
            w[OPENED], w[OVER] = 0, PAUSED


@compiled
def leave_rail(w: Any, out: Any, tracks: Any, how: Any) -> None:
    """Fly one record until it is free of the rail, or ends there."""
    while w[PHASE] < FREE and set_step(w, out):
        try_step(w)
        use_step(w, out, tracks, how, w, -1)


@compiled
def fly_on(
    phase: int, ws: Any, rows: Any, count: int, outs: Any, tracks: Any, how: Any, q: Any
) -> int:
    """Fly records side by side until one leaves the phase they are in, pauses or ends.

    rows, count : which of the records stand in the block q. Returns the place of the one that
    stopped. Each takes the very steps that it takes beside any other.
    """
    for n in range(count):
        w = ws[rows[n]]
        if not set_step(w, outs[int(w[PLACE])]) or w[PHASE] != phase:
            return n
    while True:
        if phase == FREE:
            climb(ws, rows, count, q)
        else:
            come_down(ws, rows, count, q)
        stopped = -1
        for n in range(count):
            w = ws[rows[n]]
            out = outs[int(w[PLACE])]
            use_step(w, out, tracks, how, q, n)
            if not set_step(w, out) or w[PHASE] != phase:
                stopped = n
        if stopped >= 0:
            return stopped
