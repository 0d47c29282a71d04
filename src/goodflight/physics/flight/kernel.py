"""One flight from ignition to the ground, and the loop over an ensemble of them.

Steps stop at every corner of the thrust curve, at burnout, at ejection, at line stretch and when a
canopy is full; the guides leaving, apogee, the second canopy's height and the ground are found on
the dense output of the step that passes them.
"""

import math
from typing import Any

import numba
import numpy as np

from goodflight.physics.flight import monitor
from goodflight.physics.flight.column import NODES, UP, air_at, fill_column
from goodflight.physics.flight.compiled import (
    compiled,
    compiled_inside,
    compiled_owner,
    compiled_parallel,
)
from goodflight.physics.flight.descent import FILL, FIRST, SECOND, STRETCH, open_area
from goodflight.physics.flight.events import (
    APOGEE,
    EXIT,
    GUIDE,
    MAIN,
    NO_EVENT,
    SLID_BACK,
    first_event,
)
from goodflight.physics.flight.forces import AUX_COUNT, PRESSURE, SPEED
from goodflight.physics.flight.pad import FIRST_STEP_S, start_flight
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    OUTCOME_INDEX,
    OUTCOMES,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.rigid import normalise_attitude
from goodflight.physics.flight.stepper import (
    APOGEE_DONE,
    CLOCK_COUNT,
    COUNT_COUNT,
    DESCENT,
    DESCENT_COUNT,
    DRY_MASS,
    EJECT,
    FREE,
    LIMIT,
    MAIN_DONE,
    NOW,
    PHASE,
    PIVOT,
    SEGMENT,
    STAGES,
    STATE_COUNT,
    STEP,
    STRETCH_FIRST,
    STRETCH_SECOND,
    Flight,
    dense,
    rates,
    refresh,
    try_step,
)

# of one step; held to the promised accuracy in tests/unit/test_flight_accuracy.py
TOLERANCE = 4e-5
STEP_LIMIT = 20000
LONGEST_STEP_S = 1.0
GROUND_SHARE = 0.4  # of the way to the ground a step may take
LEAST_GROUND_STEP_S = 0.02
FILL_STEPS = 12.0  # at least so many steps while a canopy fills

_FORE, _AFT = PARAMETER_INDEX["guide_fore_m"], PARAMETER_INDEX["guide_aft_m"]
_BURN_TIME, _LAG = PARAMETER_INDEX["burn_time_factor"], PARAMETER_INDEX["apogee_lag_s"]
_STRETCH, _GRAVITY = PARAMETER_INDEX["stretch_s"], PARAMETER_INDEX["gravity_m_s2"]
_DIAMETERS = (PARAMETER_INDEX["canopy_diameter_m"], PARAMETER_INDEX["main_diameter_m"])
_FILLS = (PARAMETER_INDEX["canopy_fill"], PARAMETER_INDEX["main_fill"])
_OVERSHOOTS = (PARAMETER_INDEX["canopy_overshoot"], PARAMETER_INDEX["main_overshoot"])
_OPEN_V = (OUTCOME_INDEX["opening_m_s"], OUTCOME_INDEX["main_opening_m_s"])
_OPEN_F = (OUTCOME_INDEX["opening_force_n"], OUTCOME_INDEX["main_opening_force_n"])
_OPEN_H = OUTCOME_INDEX["opening_m"]
_DESCENT_V = OUTCOME_INDEX["descent_m_s"]
OUTCOME_COUNT = len(OUTCOMES)
HISTORY_COLUMNS = 2 + STATE_COUNT + AUX_COUNT  # time, phase, state, aux


@compiled
def stretch_canopy(which: int, t: float, w: Flight, out: Any) -> None:
    """Line stretch: fix the fill time from the air speed then.

    n D / v, but never longer than falling n D from rest takes.
    """
    path = w.p[_FILLS[which]] * w.p[_DIAMETERS[which]]
    longest = math.sqrt(2.0 * path / w.p[_GRAVITY])
    speed = w.aux[SPEED]
    w.canopies[which, STRETCH] = t
    w.canopies[which, FILL] = max(min(path / max(speed, 1e-3), longest), 1e-3)
    out[_OPEN_V[which]] = speed
    out[_OPEN_F[which]] = 0.0
    if which == FIRST:
        out[_OPEN_H] = w.y[2]


@compiled
def note_filling(t: float, w: Flight, out: Any) -> None:
    """Greatest canopy force while it fills."""
    for which in (FIRST, SECOND):
        since = t - w.canopies[which, STRETCH]
        if 0.0 <= since <= w.canopies[which, FILL] * 1.0001:
            force = w.aux[PRESSURE] * open_area(t, w.p, w.canopies, which) * w.p[_OVERSHOOTS[which]]
            out[_OPEN_F[which]] = max(out[_OPEN_F[which]], force)


@compiled
def write_history(record: Any, count: int, t: float, phase: int, y: Any, aux: Any) -> int:
    """Append one line of history; returns the new count."""
    if count >= len(record):
        return count
    row = record[count]
    row[0], row[1] = t, phase
    for i in range(STATE_COUNT):
        row[2 + i] = y[i]
    for i in range(AUX_COUNT):
        row[2 + STATE_COUNT + i] = aux[i]
    return count + 1


@compiled
def record_step(record: Any, count: int, step: float, share: float, every: float, w: Flight) -> int:
    """Write the regular moments inside the accepted part of a step (spoils k[1] and aux)."""
    t, phase = w.clock[NOW], w.count[PHASE]
    n = math.ceil(t / every - 1e-9)
    while n * every < t + share * step - 1e-12:
        if n * every >= t:
            dense(phase, step, (n * every - t) / step, w, w.trial)
            rates(phase, n * every, w.trial, 1, w.count[SEGMENT], w.clock[DRY_MASS], w)
            count = write_history(record, count, n * every, phase, w.trial, w.aux)
        n += 1
    if share >= 1.0:
        rates(phase, t + step, w.ahead, STAGES - 1, w.count[SEGMENT], w.clock[DRY_MASS], w)
    return count


@compiled_inside
def next_stop(w: Flight) -> float:
    """The next moment a step may not pass.

    Shortens the step while a canopy fills and close to the ground, where the wind falls to nothing
    with ever steeper slope.
    """
    c, n = w.clock, w.count
    last = len(w.curve) - 1
    if n[SEGMENT] < last:
        return w.curve[n[SEGMENT] + 1, 0] * w.p[_BURN_TIME]
    if w.y[5] < 0.0 and n[PHASE] >= FREE:
        c[STEP] = min(c[STEP], max(GROUND_SHARE * w.y[2] / -w.y[5], LEAST_GROUND_STEP_S))
    if n[PHASE] != DESCENT:
        return c[EJECT]
    stop = min(c[STRETCH_FIRST], c[STRETCH_SECOND])
    for which in (FIRST, SECOND):
        full = w.canopies[which, STRETCH] + w.canopies[which, FILL]
        if w.canopies[which, STRETCH] <= c[NOW] < full - 1e-9:
            stop = min(stop, full)
            c[STEP] = min(c[STEP], w.canopies[which, FILL] / FILL_STEPS)
    return stop


@compiled
def pass_stop(stop: float, w: Flight, out: Any) -> None:
    """Cross the moment a step had to end at: a thrust corner, ejection, line stretch, full."""
    c, n = w.clock, w.count
    t = c[NOW]
    last = len(w.curve) - 1
    if n[SEGMENT] < last:
        n[SEGMENT] += 1
        if n[SEGMENT] == last:
            monitor.note_burnout(t, w.y, w.aux, out)
    elif n[PHASE] != DESCENT:
        monitor.note_ejection(t, w.y, w.aux, out)
        n[PHASE] = DESCENT
        c[STRETCH_FIRST] = t + w.p[_STRETCH]
        c[STEP] = FIRST_STEP_S
    elif stop == c[STRETCH_FIRST]:
        stretch_canopy(FIRST, t, w, out)
        c[STRETCH_FIRST] = math.inf
    elif stop == c[STRETCH_SECOND]:
        stretch_canopy(SECOND, t, w, out)
        c[STRETCH_SECOND] = math.inf
    refresh(w)


@compiled_inside
def take_step(step: float, share: float, stop: float, w: Flight) -> None:
    """Move the present to a share of the step just made, and make k[0] and aux fit it."""
    c, n = w.clock, w.count
    if share < 1.0:
        dense(n[PHASE], step, share, w, w.trial)
        for i in range(STATE_COUNT):
            w.y[i] = w.trial[i]
        c[NOW] += share * step
    else:
        for i in range(DESCENT_COUNT if n[PHASE] == DESCENT else STATE_COUNT):
            w.y[i] = w.ahead[i]
        c[NOW] = stop if step == stop - c[NOW] else c[NOW] + step
    if n[PHASE] != DESCENT:
        normalise_attitude(w.y)
    if share < 1.0:
        refresh(w)
    else:
        for i in range(STATE_COUNT):
            w.k[0, i] = w.k[STAGES - 1, i]


@compiled_inside
def note_peak(step: float, w: Flight, out: Any) -> None:
    """Greatest speed over the ground inside the step just made, if it lies there."""
    start = w.y[3] * w.k[0, 3] + w.y[4] * w.k[0, 4] + w.y[5] * w.k[0, 5]
    last = STAGES - 1
    end = w.ahead[3] * w.k[last, 3] + w.ahead[4] * w.k[last, 4] + w.ahead[5] * w.k[last, 5]
    if start > 0.0 > end:
        share = start / (start - end)
        dense(w.count[PHASE], step, share, w, w.trial)
        monitor.note_speed(w.clock[NOW] + share * step, w.trial, out)


@compiled
def handle_event(found: int, deployment: int, w: Flight, out: Any) -> bool:
    """Act on an event at the present moment. Returns whether the flight is over."""
    c, n = w.clock, w.count
    t = c[NOW]
    if found == GUIDE:
        monitor.note_guide(t, w.y, out)
        n[PHASE] = PIVOT
        c[LIMIT] += w.p[_AFT] - w.p[_FORE]
        c[STEP] = 0.1 * FIRST_STEP_S
    elif found == EXIT:
        n[PHASE] = FREE
        refresh(w)
        monitor.note_exit(t, w.y, w.aux, out)
        monitor.note_ascent(t, w.y, w.aux, out, True, n[SEGMENT] < len(w.curve) - 1)
        c[STEP] = 0.5 * FIRST_STEP_S
    elif found == APOGEE:
        n[APOGEE_DONE] = 1
        monitor.note_apogee(t, w.y, w.aux, out)
        if deployment == BY_ALTIMETER:
            c[EJECT] = t + max(w.p[_LAG], 0.0)
    elif found == MAIN:
        n[MAIN_DONE] = 1
        c[STRETCH_SECOND] = t + w.p[_STRETCH]
    elif found == SLID_BACK:
        out[monitor.STATUS] = monitor.NEVER_LEFT
        return True
    else:
        monitor.note_landing(t, w.y, out)
        out[_DESCENT_V] = air_at(w.column, w.spacing, 0.0)[UP] - w.y[5]
        if n[PHASE] != DESCENT:
            out[monitor.STATUS] = monitor.NOTHING_OPEN
        return True
    refresh(w)
    return False


@compiled
def fly_one(
    w: Flight, out: Any, deployment: int, record: Any, every: float, tolerance: float
) -> int:
    """Fly from ignition to the ground; fills out (and record, if it has room).

    Returns the length of the record.
    """
    c, n = w.clock, w.count
    count, steps = 0, 0
    over = not start_flight(deployment, w, out)
    while not over:
        stop = next_stop(w)
        if stop - c[NOW] <= 1e-9:
            pass_stop(stop, w, out)
            continue
        step = min(c[STEP], LONGEST_STEP_S)
        whole = True  # the controller's own step, not one cut short by a stop
        if c[NOW] + step > stop - 1e-7:
            step, whole = stop - c[NOW], False
        error = try_step(n[PHASE], c[NOW], step, n[SEGMENT], c[DRY_MASS], w) / tolerance
        steps += 1
        if steps > STEP_LIMIT:
            out[monitor.STATUS] = monitor.GAVE_UP
            break
        factor = 0.9 * min(max(error, 1e-6), 1e6) ** -0.2
        if not error <= 1.0:
            c[STEP] = step * max(factor, 0.2)
            continue
        found, share = first_event(step, w)
        if every > 0.0:
            count = record_step(record, count, step, share, every, w)
        if n[PHASE] == FREE:
            note_peak(step, w, out)
        grown = step * min(factor, 4.0)
        c[STEP] = grown if whole else max(c[STEP], grown)
        take_step(step, share, stop, w)
        if n[PHASE] == DESCENT:
            note_filling(c[NOW], w, out)
        else:
            burning = n[SEGMENT] < len(w.curve) - 1
            monitor.note_ascent(c[NOW], w.y, w.aux, out, n[PHASE] == FREE, burning)
        if found != NO_EVENT:
            over = handle_event(found, deployment, w, out)
    out[monitor.STEPS] = steps
    monitor.end_notes(out)
    return count


@compiled_owner
def new_flight(p: Any, curve: Any, table: Any, scalars: Any, spacing: float) -> Flight:
    """Scratch space of one flight."""
    return Flight(
        p,
        curve,
        table,
        scalars,
        np.empty((NODES + 2, 5)),
        spacing,
        np.empty((2, 2)),
        np.zeros(STATE_COUNT),
        np.zeros(STATE_COUNT),
        np.zeros(STATE_COUNT),
        np.zeros((STAGES, STATE_COUNT)),
        np.zeros(AUX_COUNT),
        np.empty(1, np.uint64),
        np.zeros(CLOCK_COUNT),
        np.zeros(COUNT_COUNT, np.int64),
    )


@compiled_parallel
def fly_all(
    parameters: Any,
    curve: Any,
    table: Any,
    scalars: Any,
    spacing: float,
    seeds: Any,
    deployment: int,
    turbulence: bool,
    tolerance: float,
) -> Any:
    """Outcomes (n, len(OUTCOMES)) of n flights, spread over the cores."""
    n = len(parameters)
    out = np.empty((n, OUTCOME_COUNT))
    nothing = np.empty((0, HISTORY_COLUMNS))
    for i in numba.prange(n):
        w = new_flight(parameters[i], curve, table, scalars, spacing)
        w.generator[0] = seeds[i]
        fill_column(w.column, w.p, spacing, w.generator, turbulence)
        fly_one(w, out[i], deployment, nothing, 0.0, tolerance)
    return out


@compiled_owner
def fly_recorded(
    p: Any,
    curve: Any,
    table: Any,
    scalars: Any,
    spacing: float,
    seed: Any,
    deployment: int,
    turbulence: bool,
    tolerance: float,
    every: float,
    room: int,
) -> Any:
    """Outcomes and history of one flight."""
    out = np.empty(OUTCOME_COUNT)
    record = np.empty((room, HISTORY_COLUMNS))
    w = new_flight(p, curve, table, scalars, spacing)
    w.generator[0] = seed
    fill_column(w.column, w.p, spacing, w.generator, turbulence)
    count = fly_one(w, out, deployment, record, every, tolerance)
    return out, record[:count]
