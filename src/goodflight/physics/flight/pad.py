"""Before the first step: thrust to weight, the rocket at rest on the rail, and lift-off."""

import math
from typing import Any

from goodflight.physics.flight import monitor
from goodflight.physics.flight.burn import mass_at
from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.descent import FILL, FIRST, SECOND, STRETCH
from goodflight.physics.flight.rail import rail_direction
from goodflight.physics.flight.registry import BY_DELAY, OUTCOME_INDEX, PARAMETER_INDEX
from goodflight.physics.flight.rigid import set_attitude
from goodflight.physics.flight.stepper import (
    APOGEE_DONE,
    DRY_MASS,
    EJECT,
    FROM,
    LIMIT,
    MAIN_DONE,
    NOW,
    PHASE,
    SEGMENT,
    SLIDING,
    STATE_COUNT,
    STEP,
    STRETCH_FIRST,
    STRETCH_SECOND,
    Flight,
    rates,
    refresh,
)

FIRST_STEP_S = 0.02
FIRST_THRUST_S = 0.5  # the part of the burn that counts for thrust to weight

_RAIL, _STOP, _BASE = (
    PARAMETER_INDEX["rail_length_m"],
    PARAMETER_INDEX["stop_height_m"],
    PARAMETER_INDEX["rail_base_m"],
)
_TAIL, _FORE = PARAMETER_INDEX["tail_m"], PARAMETER_INDEX["guide_fore_m"]
_BURN_TIME, _DELAY = PARAMETER_INDEX["burn_time_factor"], PARAMETER_INDEX["delay_s"]
_THRUST, _DRY = PARAMETER_INDEX["thrust_factor"], PARAMETER_INDEX["dry_mass_kg"]
_GRAVITY, _MAIN_AREA = PARAMETER_INDEX["gravity_m_s2"], PARAMETER_INDEX["main_area_m2"]
_MASS, _TW, _TW_MEAN = (
    OUTCOME_INDEX["liftoff_mass_kg"],
    OUTCOME_INDEX["thrust_to_weight"],
    OUTCOME_INDEX["thrust_to_weight_mean"],
)


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
    out[_TW_MEAN] = w.p[_THRUST] * w.curve[last, 2] / (w.curve[last, 0] * w.p[_BURN_TIME]) / weight


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
    """Time when thrust first beats weight and friction, and its segment (-1: never)."""
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
def start_flight(deployment: int, w: Flight, out: Any) -> bool:
    """Blank the notes, stand on the pad and wait for lift-off. Returns whether there is one."""
    monitor.start_notes(out)
    note_thrust(w, out)
    set_on_pad(w)
    for which in (FIRST, SECOND):
        w.canopies[which, STRETCH], w.canopies[which, FILL] = math.inf, 1.0
    t, segment = find_liftoff(w)
    if segment < 0:
        out[monitor.STATUS] = monitor.NEVER_LEFT
        return False
    monitor.note_liftoff(t, w.aux, out)
    c, n = w.clock, w.count
    burnout = w.curve[len(w.curve) - 1, 0] * w.p[_BURN_TIME]
    c[NOW], c[STEP] = t, FIRST_STEP_S
    c[EJECT] = burnout + max(w.p[_DELAY], 0.0) if deployment == BY_DELAY else math.inf
    c[STRETCH_FIRST], c[STRETCH_SECOND] = math.inf, math.inf
    c[LIMIT] = max(w.p[_RAIL] - w.p[_STOP] - w.p[_TAIL] + w.p[_FORE], 1e-6)
    c[DRY_MASS] = w.p[_DRY]
    for i in range(3):
        c[FROM + i] = w.y[i]
    n[PHASE], n[SEGMENT], n[APOGEE_DONE] = SLIDING, segment, 0
    n[MAIN_DONE] = 1 if w.p[_MAIN_AREA] <= 0.0 else 0
    refresh(w)
    return True
