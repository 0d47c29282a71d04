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
from goodflight.physics.flight.burn import mass_at
from goodflight.physics.flight.column import NODES, fill_column
from goodflight.physics.flight.compiled import compiled, compiled_owner, compiled_parallel
from goodflight.physics.flight.descent import FILL, FIRST, SECOND, STRETCH, open_area
from goodflight.physics.flight.forces import AUX_COUNT, PRESSURE, SPEED
from goodflight.physics.flight.rail import rail_direction
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    BY_DELAY,
    OUTCOME_INDEX,
    OUTCOMES,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.rigid import normalise_attitude, set_attitude
from goodflight.physics.flight.stepper import (
    DESCENT,
    FREE,
    PIVOT,
    SLIDING,
    STAGES,
    STATE_COUNT,
    Flight,
    dense,
    rates,
    try_step,
)

TOLERANCE = 1e-6
STEP_LIMIT = 20000
LONGEST_STEP_S = 1.0
FIRST_STEP_S = 0.02
FILL_STEPS = 12.0  # at least so many steps while a canopy fills
NO_EVENT, GUIDE, EXIT, APOGEE, MAIN, GROUND, SLID_BACK = 0, 1, 2, 3, 4, 5, 6
COMPLETE, NEVER_LEFT, GAVE_UP, NOTHING_OPEN = 0.0, 1.0, 2.0, 3.0

_RAIL, _STOP, _BASE = (
    PARAMETER_INDEX["rail_length_m"],
    PARAMETER_INDEX["stop_height_m"],
    PARAMETER_INDEX["rail_base_m"],
)
_TAIL, _FORE, _AFT = (
    PARAMETER_INDEX["tail_m"],
    PARAMETER_INDEX["guide_fore_m"],
    PARAMETER_INDEX["guide_aft_m"],
)
_BURN_TIME, _DELAY, _LAG = (
    PARAMETER_INDEX["burn_time_factor"],
    PARAMETER_INDEX["delay_s"],
    PARAMETER_INDEX["apogee_lag_s"],
)
_STRETCH, _GRAVITY = PARAMETER_INDEX["stretch_s"], PARAMETER_INDEX["gravity_m_s2"]
_MAIN_HEIGHT = PARAMETER_INDEX["main_height_m"]
_DIAMETERS = (PARAMETER_INDEX["canopy_diameter_m"], PARAMETER_INDEX["main_diameter_m"])
_FILLS = (PARAMETER_INDEX["canopy_fill"], PARAMETER_INDEX["main_fill"])
_OVERSHOOTS = (PARAMETER_INDEX["canopy_overshoot"], PARAMETER_INDEX["main_overshoot"])
_AREAS = (PARAMETER_INDEX["canopy_area_m2"], PARAMETER_INDEX["main_area_m2"])
_OPEN_V = (OUTCOME_INDEX["opening_m_s"], OUTCOME_INDEX["main_opening_m_s"])
_OPEN_F = (OUTCOME_INDEX["opening_force_n"], OUTCOME_INDEX["main_opening_force_n"])
_OPEN_H = OUTCOME_INDEX["opening_m"]
_DESCENT_V = OUTCOME_INDEX["descent_m_s"]
_MASS, _TW, _TW_MEAN = (
    OUTCOME_INDEX["liftoff_mass_kg"],
    OUTCOME_INDEX["thrust_to_weight"],
    OUTCOME_INDEX["thrust_to_weight_mean"],
)
_THRUST, _DRY = PARAMETER_INDEX["thrust_factor"], PARAMETER_INDEX["dry_mass_kg"]
FIRST_THRUST_S = 0.5
OUTCOME_COUNT = len(OUTCOMES)
HISTORY_COLUMNS = 2 + STATE_COUNT + AUX_COUNT  # time, phase, state, aux


@compiled
def impulse_to(curve: Any, time_s: float) -> float:
    """Impulse N s of the undisturbed curve up to a time."""
    last = len(curve) - 1
    if time_s >= curve[last, 0]:
        return curve[last, 2]
    i = 0
    while curve[i + 1, 0] < time_s:
        i += 1
    tau = time_s - curve[i, 0]
    return curve[i, 2] + (curve[i, 1] + 0.5 * curve[i, 3] * tau) * tau


@compiled
def note_thrust(w: Flight, out: Any) -> None:
    """Lift-off mass and both thrust-to-weight figures."""
    mass = mass_at(w.p, 0.0, 0.0)[0]
    weight = mass * w.p[_GRAVITY]
    last = len(w.curve) - 1
    first = min(FIRST_THRUST_S, w.curve[last, 0] * w.p[_BURN_TIME])
    out[_MASS] = mass
    out[_TW] = w.p[_THRUST] * impulse_to(w.curve, first / w.p[_BURN_TIME]) / first / weight
    out[_TW_MEAN] = (
        w.p[_THRUST] * w.curve[last, 2] / (w.curve[last, 0] * w.p[_BURN_TIME]) / weight
    )


@compiled
def set_on_pad(w: Flight) -> None:
    """State at rest: tail on the stop, axis along the rail."""
    dx, dn, du = rail_direction(w.p)
    cg = mass_at(w.p, 0.0, 0.0)[1]
    up_rail = w.p[_STOP] + w.p[_TAIL] - cg
    for i in range(STATE_COUNT):
        w.y[i] = 0.0
    w.y[0], w.y[1], w.y[2] = up_rail * dx, up_rail * dn, w.p[_BASE] + up_rail * du
    set_attitude(w.y, dx, dn, du)


@compiled
def pull(t: float, segment: int, w: Flight) -> float:
    """Acceleration up the rail at rest on the pad."""
    rates(SLIDING, t, w.y, 0, segment, 0.0, w)
    dx, dn, du = rail_direction(w.p)
    return w.k[0, 3] * dx + w.k[0, 4] * dn + w.k[0, 5] * du


@compiled
def find_liftoff(w: Flight) -> tuple[float, int]:
    """Time when thrust first beats weight and friction, and its segment of the curve (-1: never)."""
    stretch = w.p[_BURN_TIME]
    for segment in range(len(w.curve) - 1):
        low, high = w.curve[segment, 0] * stretch, w.curve[segment + 1, 0] * stretch
        if pull(high, segment, w) <= 0.0:
            continue
        if pull(low, segment, w) > 0.0:
            return low, segment
        for _ in range(40):
            middle = 0.5 * (low + high)
            if pull(middle, segment, w) > 0.0:
                high = middle
            else:
                low = middle
        return high, segment
    return 0.0, -1


@compiled
def event_value(kind: int, y: Any, from_e: float, from_n: float, from_u: float, limit: float,
                w: Flight) -> float:
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
    return limit - ((y[0] - from_e) * dx + (y[1] - from_n) * dn + (y[2] - from_u) * du)


@compiled
def locate(kind: int, phase: int, h: float, from_e: float, from_n: float, from_u: float,
           limit: float, w: Flight) -> float:
    """Share of the step at which an event happens (Illinois method on the dense output)."""
    a, b = 0.0, 1.0
    fa = event_value(kind, w.y, from_e, from_n, from_u, limit, w)
    fb = event_value(kind, w.ahead, from_e, from_n, from_u, limit, w)
    side = 0
    c = 1.0
    for _ in range(40):
        c = (a * fb - b * fa) / (fb - fa)
        dense(phase, h, c, w, w.trial)
        fc = event_value(kind, w.trial, from_e, from_n, from_u, limit, w)
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
def first_event(phase: int, apogee_done: bool, main_done: bool, h: float, from_e: float,
                from_n: float, from_u: float, limit: float, w: Flight) -> tuple[int, float]:
    """The first event inside the last step, and its share of the step (1 if there is none)."""
    found, share = NO_EVENT, 1.0
    for kind in (GUIDE, EXIT, APOGEE, MAIN, GROUND, SLID_BACK):
        if kind in (GUIDE, SLID_BACK) and phase != SLIDING:
            continue
        if kind == EXIT and phase != PIVOT:
            continue
        if kind == APOGEE and (apogee_done or phase < FREE):
            continue
        if kind == MAIN and (main_done or phase != DESCENT or w.ahead[5] > 0.0):
            continue
        if kind == GROUND and phase < FREE:
            continue
        if event_value(kind, w.ahead, from_e, from_n, from_u, limit, w) > 0.0:
            continue
        if event_value(kind, w.y, from_e, from_n, from_u, limit, w) <= 0.0:
            at = 0.0
        else:
            at = locate(kind, phase, h, from_e, from_n, from_u, limit, w)
        if found == NO_EVENT or at < share:
            found, share = kind, at
    return found, share


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
            force = (
                w.aux[PRESSURE] * open_area(t, w.p, w.canopies, which) * w.p[_OVERSHOOTS[which]]
            )
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
def record_step(record: Any, count: int, t: float, h: float, share: float, every: float,
                phase: int, segment: int, mass: float, w: Flight) -> int:
    """Write the regular moments inside the accepted part of a step."""
    n = int(math.ceil(t / every - 1e-9))
    while n * every < t + share * h - 1e-12:
        if n * every >= t:
            dense(phase, h, (n * every - t) / h, w, w.trial)
            rates(phase, n * every, w.trial, 1, segment, mass, w)
            count = write_history(record, count, n * every, phase, w.trial, w.aux)
        n += 1
    return count


@compiled
def fly_one(w: Flight, out: Any, deployment: int, record: Any, every: float, tolerance: float
            ) -> int:
    """Fly from ignition to the ground; fills out (and record, if it has room). Returns its length."""
    monitor.start_notes(out)
    note_thrust(w, out)
    set_on_pad(w)
    for which in (FIRST, SECOND):
        w.canopies[which, STRETCH], w.canopies[which, FILL] = math.inf, 1.0
    t, segment = find_liftoff(w)
    if segment < 0:
        out[monitor.STATUS] = NEVER_LEFT
        monitor.end_notes(out)
        return 0
    monitor.note_liftoff(t, w.aux, out)
    last = len(w.curve) - 1
    burnout = w.curve[last, 0] * w.p[_BURN_TIME]
    eject = burnout + max(w.p[_DELAY], 0.0) if deployment == BY_DELAY else math.inf
    stretch_first, stretch_second = math.inf, math.inf
    from_e, from_n, from_u = w.y[0], w.y[1], w.y[2]
    reach = w.p[_RAIL] - w.p[_STOP] - w.p[_TAIL]
    limit = max(reach + w.p[_FORE], 1e-6)
    phase, mass = SLIDING, w.p[_DRY]
    apogee_done, main_done = False, w.p[_AREAS[SECOND]] <= 0.0
    count, steps = 0, 0
    h = FIRST_STEP_S
    rates(phase, t, w.y, 0, segment, mass, w)
    while True:
        # the next moment a step may not pass
        stop = math.inf
        if segment < last:
            stop = w.curve[segment + 1, 0] * w.p[_BURN_TIME]
        elif phase != DESCENT:
            stop = eject
        else:
            stop = min(stretch_first, stretch_second)
            for which in (FIRST, SECOND):
                full = w.canopies[which, STRETCH] + w.canopies[which, FILL]
                if w.canopies[which, STRETCH] <= t < full - 1e-9:
                    stop = min(stop, full)
                    h = min(h, w.canopies[which, FILL] / FILL_STEPS)
        if stop - t <= 1e-9:
            if segment < last:
                segment += 1
                if segment == last:
                    monitor.note_burnout(t, w.y, w.aux, out)
            elif phase != DESCENT:
                monitor.note_ejection(t, w.y, w.aux, out)
                phase = DESCENT
                stretch_first = t + w.p[_STRETCH]
                h = FIRST_STEP_S
            elif stop == stretch_first:
                stretch_canopy(FIRST, t, w, out)
                stretch_first = math.inf
            elif stop == stretch_second:
                stretch_canopy(SECOND, t, w, out)
                stretch_second = math.inf
            rates(phase, t, w.y, 0, segment, mass, w)
            continue
        step = min(h, LONGEST_STEP_S)
        if t + step > stop - 1e-7:
            step = stop - t
        error = try_step(phase, t, step, segment, mass, w) / tolerance
        steps += 1
        if steps > STEP_LIMIT:
            out[monitor.STATUS] = GAVE_UP
            break
        factor = 0.9 * max(error, 1e-6) ** -0.2
        if not error <= 1.0:
            h = step * (max(factor, 0.2) if error < 1e12 else 0.2)
            continue
        found, share = first_event(
            phase, apogee_done, main_done, step, from_e, from_n, from_u, limit, w
        )
        if every > 0.0:
            count = record_step(record, count, t, step, share, every, phase, segment, mass, w)
        if share < 1.0:
            dense(phase, step, share, w, w.trial)
            for i in range(STATE_COUNT):
                w.y[i] = w.trial[i]
            t += share * step
        else:
            for i in range(STATE_COUNT):
                w.y[i] = w.ahead[i] if phase != DESCENT or i < 6 else w.y[i]
            t = stop if step == stop - t else t + step
        h = step * min(factor, 4.0) if step == min(h, LONGEST_STEP_S) else max(h, step)
        if phase != DESCENT:
            normalise_attitude(w.y)
        if share < 1.0 or every > 0.0:
            rates(phase, t, w.y, 0, segment, mass, w)
        else:
            for i in range(STATE_COUNT):
                w.k[0, i] = w.k[6, i]
        if phase == DESCENT:
            note_filling(t, w, out)
        else:
            monitor.note_ascent(t, w.y, w.aux, out, phase == FREE, segment < last)
        if found == NO_EVENT:
            continue
        if found == GUIDE:
            monitor.note_guide(t, w.y, out)
            phase = PIVOT
            limit += w.p[_AFT] - w.p[_FORE]
            h = FIRST_STEP_S * 0.1
        elif found == EXIT:
            phase = FREE
            rates(phase, t, w.y, 0, segment, mass, w)
            monitor.note_exit(t, w.y, w.aux, out)
            monitor.note_ascent(t, w.y, w.aux, out, True, segment < last)
            h = FIRST_STEP_S * 0.5
        elif found == APOGEE:
            apogee_done = True
            monitor.note_apogee(t, w.y, w.aux, out)
            if deployment == BY_ALTIMETER:
                eject = t + max(w.p[_LAG], 0.0)
        elif found == MAIN:
            main_done = True
            stretch_second = t + w.p[_STRETCH]
        elif found == SLID_BACK:
            out[monitor.STATUS] = NEVER_LEFT
            break
        else:
            monitor.note_landing(t, w.y, out)
            # w.k[0] holds the rates at touch-down; air-relative sink from gravity balance is not
            # needed: the wind's vertical part is what the column says at the ground
            out[_DESCENT_V] = -w.y[5]
            if phase != DESCENT:
                out[monitor.STATUS] = NOTHING_OPEN
            break
        rates(phase, t, w.y, 0, segment, mass, w)
    out[monitor.STEPS] = steps
    monitor.end_notes(out)
    return count


@compiled_owner
def new_flight(p: Any, curve: Any, table: Any, scalars: Any, spacing: float) -> Flight:
    """Scratch space of one flight."""
    return Flight(
        p, curve, table, scalars, np.empty((NODES + 2, 5)), spacing, np.empty((2, 2)),
        np.zeros(STATE_COUNT), np.zeros(STATE_COUNT), np.zeros(STATE_COUNT),
        np.zeros((STAGES, STATE_COUNT)), np.zeros(AUX_COUNT), np.empty(1, np.uint64),
    )


@compiled_parallel
def fly_all(parameters: Any, curve: Any, table: Any, scalars: Any, spacing: float, seeds: Any,
            deployment: int, turbulence: bool, tolerance: float) -> Any:
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
def fly_recorded(p: Any, curve: Any, table: Any, scalars: Any, spacing: float, seed: Any,
                 deployment: int, turbulence: bool, tolerance: float, every: float, room: int
                 ) -> Any:
    """Outcomes and history of one flight."""
    out = np.empty(OUTCOME_COUNT)
    record = np.empty((room, HISTORY_COLUMNS))
    w = new_flight(p, curve, table, scalars, spacing)
    w.generator[0] = seed
    fill_column(w.column, w.p, spacing, w.generator, turbulence)
    count = fly_one(w, out, deployment, record, every, tolerance)
    return out, record[:count]
