"""What is written down while a flight goes on: greatest and least values, and the events."""

import math
from typing import Any

from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.forces import (
    ALONG,
    FELT,
    MACH,
    MARGIN,
    MARGIN_INCIDENCE,
    PITCH_RATE2,
    PRESSURE,
    SIDE_Y,
    SIDE_Z,
    SIN2,
    SPEED,
)
from goodflight.physics.flight.record import APOGEE_DONE, START, START_COUNT, Y
from goodflight.physics.flight.registry import OUTCOME_INDEX

_O = OUTCOME_INDEX
STATUS, STEPS = _O["status"], _O["steps"]
_SPEED, _SPEED_T, _SPEED_H = (
    _O["max_speed_m_s"],
    _O["max_speed_s"],
    _O["max_speed_height_m"],
)
_MACH, PRESSED, _FELT = (
    _O["max_mach"],
    _O["max_pressure_pa"],
    _O["max_acceleration_m_s2"],
)
INCIDENCE, _ROLL = _O["max_incidence_rad"], _O["max_roll_rad_s"]
_LEAST, _MIN_T, _MIN_I = (
    _O["min_margin_cal"],
    _O["min_margin_s"],
    _O["min_margin_incidence_cal"],
)
_LIFTOFF, _MARGIN_LIFTOFF = _O["liftoff_s"], _O["margin_liftoff_cal"]
_GUIDE_T, _GUIDE_V = _O["guide_exit_s"], _O["guide_exit_m_s"]
_EXIT_T, _EXIT_V, _EXIT_W, _EXIT_I, _EXIT_R, _EXIT_M, _EXIT_MI = (
    _O["rail_exit_s"],
    _O["rail_exit_m_s"],
    _O["rail_exit_wind_m_s"],
    _O["rail_exit_incidence_rad"],
    _O["rail_exit_rate_rad_s"],
    _O["margin_exit_cal"],
    _O["margin_exit_incidence_cal"],
)
_BURN_T, _BURN_H, _BURN_V, _BURN_ROLL, _BURN_TILT, _BURN_M = (
    _O["burnout_s"],
    _O["burnout_m"],
    _O["burnout_m_s"],
    _O["burnout_roll_rad_s"],
    _O["burnout_tilt_rad"],
    _O["margin_burnout_cal"],
)
_RATIO, _SPINNING, SIDE = (
    _O["max_spin_ratio"],
    _O["spin_incidence_rad"],
    _O["max_side_load_n"],
)
_APOGEE_VE, _APOGEE_VN = _O["apogee_east_m_s"], _O["apogee_north_m_s"]
APOGEE_T, _APOGEE_H, _APOGEE_V, _APOGEE_E, _APOGEE_N = (
    _O["apogee_s"],
    _O["apogee_m"],
    _O["apogee_m_s"],
    _O["apogee_east_m"],
    _O["apogee_north_m"],
)
_EJECT_T, _EJECT_H, _EJECT_V, _EJECT_C = (
    _O["ejection_s"],
    _O["ejection_m"],
    _O["ejection_m_s"],
    _O["ejection_climb_m_s"],
)
_LAND_T, _LAND_V, _LAND_E, _LAND_N = (
    _O["landing_s"],
    _O["landing_m_s"],
    _O["landing_east_m"],
    _O["landing_north_m"],
)
# places of what is read inside steps, as it was at the last reading, see `swing`
LEANT, PUSHED2, SPUN2, FELT_BEFORE = range(START, START + START_COUNT)
FELT_SHARE = 0.10  # of the greatest dynamic pressure so far: below it spin does little
NEAR_RATIO = 0.5  # from here spin adds a third and more to the incidence, 1 / (1 - ratio^2)
NEAR_RATIO2 = NEAR_RATIO**2
QUIET_SHARE = 0.05  # of the greatest dynamic pressure so far: below it incidence is not counted


@compiled_inside
def incidence(w: Any) -> float:
    """Angle between the axis and the air speed, rad."""
    angle = math.asin(math.sqrt(min(w[SIN2], 1.0)))
    return angle if w[ALONG] >= 0.0 else math.pi - angle


@compiled_inside
def ground_speed(w: Any, at: int) -> float:
    """Speed over the ground, m/s."""
    return math.sqrt(w[at + 3] ** 2 + w[at + 4] ** 2 + w[at + 5] ** 2)


@compiled_inside
def note_speed(t: float, w: Any, at: int, out: Any) -> None:
    """Keep the speed over the ground if it is the greatest so far."""
    speed = ground_speed(w, at)
    if speed > out[_SPEED]:
        out[_SPEED], out[_SPEED_T], out[_SPEED_H] = speed, t, w[at + 2]


@compiled_inside
def swing(w: Any, at: int) -> tuple[float, float, float]:
    """How far a free rocket swings, in forms that take no root.

    1 - cos(incidence), side load squared, and the square of the roll rate over the one that would
    meet the pitch frequency (0 where nothing swings back).
    """
    ratio2 = w[at + 10] ** 2 / w[PITCH_RATE2] if w[PITCH_RATE2] > 0.0 else 0.0
    return 1.0 - w[ALONG] / w[SPEED], w[SIDE_Y] ** 2 + w[SIDE_Z] ** 2, ratio2


@compiled_inside
def note_free(w: Any, at: int, out: Any) -> None:
    """Incidence, roll against the pitch frequency, incidence while it is near, and side load.

    As `swing` has them until `end_notes`; what was read stays for the next step.
    """
    angle, side2, ratio2 = swing(w, at)
    w[LEANT], w[PUSHED2], w[SPUN2], w[FELT_BEFORE] = angle, side2, ratio2, w[PRESSURE]
    if w[PRESSURE] > QUIET_SHARE * out[PRESSED]:
        out[INCIDENCE] = max(out[INCIDENCE], angle)
    if w[PRESSURE] > FELT_SHARE * out[PRESSED]:
        out[SIDE] = max(out[SIDE], side2)
        out[_RATIO] = max(out[_RATIO], ratio2)
        if ratio2 >= NEAR_RATIO2:
            out[_SPINNING] = max(out[_SPINNING], angle)


@compiled_inside
def note_ascent(t: float, w: Any, at: int, out: Any, free: bool, burning: bool) -> None:
    """Take greatest and least values of the state at a place of the record, before ejection."""
    note_speed(t, w, at, out)
    out[_MACH] = max(out[_MACH], w[MACH])
    out[PRESSED] = max(out[PRESSED], w[PRESSURE])
    out[_FELT] = max(out[_FELT], w[FELT])
    out[_ROLL] = max(out[_ROLL], abs(w[at + 10]))
    if not free:
        return
    if w[APOGEE_DONE] == 0:
        note_free(w, at, out)
    if burning:
        if not w[MARGIN] >= out[_LEAST]:
            out[_LEAST], out[_MIN_T] = w[MARGIN], t
        if not w[MARGIN_INCIDENCE] >= out[_MIN_I]:
            out[_MIN_I] = w[MARGIN_INCIDENCE]


@compiled
def start_notes(out: Any) -> None:
    """Blank outcomes: nothing has happened, greatest values zero."""
    for i in range(len(out)):
        out[i] = math.nan
    for i in (_SPEED, _MACH, PRESSED, _FELT, INCIDENCE, _ROLL, STEPS, STATUS):
        out[i] = 0.0
    for i in (_RATIO, _SPINNING, SIDE):
        out[i] = 0.0
    # a least value that any number undercuts
    out[_LEAST], out[_MIN_I] = math.inf, math.inf


@compiled
def end_notes(out: Any) -> None:
    """Least values that were never taken become 'did not happen'; angles and roots are taken."""
    for i in (INCIDENCE, _SPINNING):
        out[i] = math.acos(max(1.0 - out[i], -1.0))
    for i in (SIDE, _RATIO):
        out[i] = math.sqrt(out[i])
    for i in (_LEAST, _MIN_I):
        if math.isinf(out[i]):
            out[i] = math.nan


@compiled
def note_liftoff(t: float, w: Any, out: Any) -> None:
    out[_LIFTOFF], out[_MARGIN_LIFTOFF] = t, w[MARGIN]


@compiled
def note_guide(t: float, w: Any, out: Any) -> None:
    out[_GUIDE_T], out[_GUIDE_V] = t, ground_speed(w, Y)


@compiled
def note_exit(t: float, w: Any, out: Any) -> None:
    out[_EXIT_T], out[_EXIT_V] = t, ground_speed(w, Y)
    out[_EXIT_W] = w[SPEED] * math.sqrt(w[SIN2])
    out[_EXIT_I] = incidence(w)
    out[_EXIT_R] = math.sqrt(w[Y + 11] ** 2 + w[Y + 12] ** 2)
    out[_EXIT_M], out[_EXIT_MI] = w[MARGIN], w[MARGIN_INCIDENCE]


@compiled
def note_burnout(t: float, w: Any, out: Any) -> None:
    out[_BURN_T], out[_BURN_H], out[_BURN_V] = t, w[Y + 2], ground_speed(w, Y)
    out[_BURN_ROLL], out[_BURN_M] = w[Y + 10], w[MARGIN]
    up = 2.0 * (w[Y + 7] * w[Y + 9] - w[Y + 6] * w[Y + 8])
    out[_BURN_TILT] = math.acos(min(max(up, -1.0), 1.0))


@compiled
def note_apogee(t: float, w: Any, out: Any) -> None:
    out[APOGEE_T], out[_APOGEE_H], out[_APOGEE_V] = t, w[Y + 2], w[SPEED]
    out[_APOGEE_E], out[_APOGEE_N] = w[Y], w[Y + 1]
    out[_APOGEE_VE], out[_APOGEE_VN] = w[Y + 3], w[Y + 4]


@compiled
def note_ejection(t: float, w: Any, out: Any) -> None:
    out[_EJECT_T], out[_EJECT_H], out[_EJECT_V] = t, w[Y + 2], w[SPEED]
    out[_EJECT_C] = w[Y + 5]


@compiled
def note_landing(t: float, w: Any, out: Any) -> None:
    out[_LAND_T], out[_LAND_V], out[_LAND_E], out[_LAND_N] = t, ground_speed(w, Y), w[Y], w[Y + 1]
