"""Before the first step: thrust to weight, the rocket at rest on the rail, and lift-off."""

import math
from typing import Any

from goodflight.physics.flight import monitor
from goodflight.physics.flight.burn import mass_at
from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.descent import FILL, FIRST, SECOND, STRETCH
from goodflight.physics.flight.rail import rail_direction
from goodflight.physics.flight.record import (
    APOGEE_DONE,
    BEFORE,
    CURVE,
    EJECT,
    FROM,
    LAST_SEGMENT,
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
    K,
    Y,
)
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    BY_DELAY,
    NEVER_LEFT,
    OUTCOME_INDEX,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.rigid import set_attitude
from goodflight.physics.flight.stepper import rates, refresh

FIRST_STEP_S = 0.02
LIFTOFF_S, LIFTOFF_M_S2 = 1e-9, 1e-9  # how closely lift-off is found
FIRST_THRUST_S = 0.5  # the part of the burn that counts for thrust to weight

_RAIL, _STOP, _BASE = (
    PARAMETER_INDEX["rail_length_m"],
    PARAMETER_INDEX["stop_height_m"],
    PARAMETER_INDEX["rail_base_m"],
)
_TAIL, _FORE = PARAMETER_INDEX["tail_m"], PARAMETER_INDEX["guide_fore_m"]
_BURN_TIME, _DELAY = PARAMETER_INDEX["burn_time_factor"], PARAMETER_INDEX["delay_s"]
_THRUST = PARAMETER_INDEX["thrust_factor"]
_LAG = PARAMETER_INDEX["apogee_lag_s"]
_GRAVITY, _MAIN_AREA = PARAMETER_INDEX["gravity_m_s2"], PARAMETER_INDEX["main_area_m2"]
_MASS, _TW, _TW_MEAN = (
    OUTCOME_INDEX["liftoff_mass_kg"],
    OUTCOME_INDEX["thrust_to_weight"],
    OUTCOME_INDEX["thrust_to_weight_mean"],
)


@compiled
def impulse_to(w: Any, time_s: float) -> float:
    """Impulse N s of the undisturbed curve up to a time."""
    end = CURVE + 4 * int(w[LAST_SEGMENT])
    if time_s >= w[end]:
        return w[end + 2]
    at = CURVE
    while w[at + 4] < time_s:
        at += 4
    tau = time_s - w[at]
    return w[at + 2] + (w[at + 1] + 0.5 * w[at + 3] * tau) * tau


@compiled
def note_thrust(w: Any, out: Any) -> None:
    """Lift-off mass and both thrust-to-weight figures."""
    mass = mass_at(w, 1, 0, 0.0, 0.0)[0]
    weight = mass * w[_GRAVITY]
    end = CURVE + 4 * int(w[LAST_SEGMENT])
    first = min(FIRST_THRUST_S, w[end] * w[_BURN_TIME])
    out[_MASS] = mass
    out[_TW] = w[_THRUST] * impulse_to(w, first / w[_BURN_TIME]) / first / weight
    out[_TW_MEAN] = w[_THRUST] * w[end + 2] / (w[end] * w[_BURN_TIME]) / weight


@compiled
def set_on_pad(w: Any) -> None:
    """State at rest: tail on the stop, axis along the rail."""
    dx, dn, du = rail_direction(w)
    cg = mass_at(w, 1, 0, 0.0, 0.0)[1]
    up_rail = w[_STOP] + w[_TAIL] - cg
    for i in range(Y, Y + STATE_COUNT):
        w[i] = 0.0
    w[Y], w[Y + 1], w[Y + 2] = up_rail * dx, up_rail * dn, w[_BASE] + up_rail * du
    set_attitude(w, Y, dx, dn, du)


@compiled
def pull(t: float, segment: int, w: Any) -> float:
    """Acceleration up the rail at rest on the pad."""
    rates(SLIDING, t, w, Y, 0, segment)
    dx, dn, du = rail_direction(w)
    return w[K + 3] * dx + w[K + 4] * dn + w[K + 5] * du


@compiled
def find_liftoff(w: Any) -> tuple[float, int]:
    """Time when thrust first beats weight and friction, and its segment (-1: never)."""
    stretch = w[_BURN_TIME]
    for segment in range(int(w[LAST_SEGMENT])):
        low, high = w[CURVE + 4 * segment] * stretch, w[CURVE + 4 * segment + 4] * stretch
        at_high = pull(high, segment, w)
        if at_high <= 0.0:
            continue
        at_low = pull(low, segment, w)
        if at_low > 0.0:
            return low, segment
        for _ in range(40):  # false position: the pull is all but straight between two corners
            if high - low < LIFTOFF_S or at_high < LIFTOFF_M_S2:
                break
            middle = high - at_high * (high - low) / (at_high - at_low) + 0.1 * LIFTOFF_S
            at_middle = pull(middle, segment, w)
            if at_middle > 0.0:
                high, at_high = middle, at_middle
                at_low *= 0.5
            else:
                low, at_low = middle, at_middle
                at_high *= 0.5
        return high, segment
    return 0.0, -1


@compiled
def set_ejection(deployment: int, w: Any, out: Any) -> None:
    """What the parameters say of the descent: when the first canopy is let out, and of a second."""
    w[EJECT] = math.inf
    if deployment == BY_DELAY:
        w[EJECT] = w[CURVE + 4 * int(w[LAST_SEGMENT])] * w[_BURN_TIME] + max(w[_DELAY], 0.0)
    elif deployment == BY_ALTIMETER and w[APOGEE_DONE] == 1:
        w[EJECT] = out[monitor.APOGEE_T] + max(w[_LAG], 0.0)
    w[MAIN_DONE] = 1 if w[_MAIN_AREA] <= 0.0 else 0


@compiled
def start_flight(deployment: int, w: Any, out: Any) -> bool:
    """Blank the notes, stand on the pad and wait for lift-off. Returns whether there is one."""
    monitor.start_notes(out)
    note_thrust(w, out)
    set_on_pad(w)
    for which in (FIRST, SECOND):
        w[STRETCH + 2 * which], w[FILL + 2 * which] = math.inf, 1.0
    t, segment = find_liftoff(w)
    if segment < 0:
        out[monitor.STATUS] = NEVER_LEFT
        return False
    monitor.note_liftoff(t, w, out)
    w[NOW], w[STEP], w[BEFORE] = t, FIRST_STEP_S, 0.0
    w[STRETCH_FIRST], w[STRETCH_SECOND] = math.inf, math.inf
    w[LIMIT] = max(w[_RAIL] - w[_STOP] - w[_TAIL] + w[_FORE], 1e-6)
    for i in range(3):
        w[FROM + i] = w[Y + i]
    w[PHASE], w[SEGMENT], w[APOGEE_DONE] = SLIDING, segment, 0
    set_ejection(deployment, w, out)
    refresh(w)
    return True
