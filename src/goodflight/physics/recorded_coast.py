"""The coast of a recorded flight: its drag moment by moment, where that changes, the way still up.

Speed along the rocket is reckoned from rest on the pad by the accelerometer, which no pressure in a
bay disturbs. What is told of a moment uses readings up to it, a running median's 0.2 s more. Left
out: wind (the rocket flies along its axis and turns by gravity), warmth (heights are the standard
atmosphere's), Mach number.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from goodflight.constants import STANDARD_GRAVITY_M_S2 as GRAVITY
from goodflight.physics.air.atmosphere import standard_atmosphere
from goodflight.physics.recorded import Array, Measured, Recorded
from goodflight.physics.recorded_curve import VENT_PRESSURE, ZERO_M
from goodflight.physics.recorded_events import HEIGHT_ERROR, Events
from goodflight.physics.recorded_series import Even, evenly

LOOK_S: Final = 1.0  # drag and climb of a moment are those of the second before it
PAD_S: Final = (8.0, 0.5)  # before lift-off: the sensor at rest
PAD_FAR: Final = 0.05  # of gravity: further off, the reading is not along the rocket
RAIL_RAD: Final = math.radians(5.0)  # off the vertical where it is not told; common practice
TURNS_FROM_MPS: Final = 15.0  # slower, the rail holds it
TILT_ERROR_RAD: Final = math.radians(10.0)  # of what gravity alone turns: wind; our guess
SPEED_ERROR: Final = 0.015  # an accelerometer's scale, one standard deviation; common practice
ZERO_MPS2: Final = 0.15  # its zero in flight; common practice
CLIMB_ERROR_MPS: Final = 1.0  # of a line through a second of heights; common practice
FASTEST_FOR_VENTS_MPS: Final = 20.0  # a false drop below this speed tells nothing of the flow
STEP_S, LAYER_M = 0.02, 5.0  # of the way still up
LEAST_SPEED: Final = 0.4  # of the fastest: slower, the drag is lost in the sensor's zero
BIN_S: Final = 0.5
LASTING: Final = 3  # bins on either side of a change
CHANGED: Final = 1.4  # times more or less; below Mach 0.8 no growth with speed does that
SURE: Final = 4.0  # standard errors


@dataclass(frozen=True, eq=False)
class Coast:
    """Moments from a second after burnout to the apogee, (n,) each.

    time_s : from lift-off. [s] height_m, climb_mps : by the barometer. [m, m/s] speed_mps,
    tilt_rad : along the rocket and off the vertical, as reckoned. [m/s, rad] slowed_mps2 : by drag.
    [m/s2] drag_per_m : that over the speed squared, in the air of the pad. [1/m] thinner : density
    over that of the pad. [-] ground_m : the pad above the standard's sea level. [m] vents : the
    flow's pressure in the bay over the dynamic one, one sd: what a false drop showed of it. [-]
    """

    time_s: Array
    height_m: Array
    climb_mps: Array
    speed_mps: Array
    tilt_rad: Array
    slowed_mps2: Array
    drag_per_m: Array
    thinner: Array
    ground_m: float
    vents: float


@dataclass(frozen=True)
class Changed:
    """Drag in the coast that became another.

    at_s : after lift-off. [s] times : drag after over drag before. [-]
    """

    at_s: float
    times: Measured


def coast_of(recorded: Recorded, events: Events, rail_rad: float = RAIL_RAD) -> Coast | None:
    """The coast of one flight, moment by moment.

    dV/dt = a - g cos(tilt); d tilt/dt = g sin(tilt) / V; drag -a = k (rho / rho_pad) V^2.

    Parameters
        recorded : Recorded - readings of one logger. [-]
        events : Events - of the same readings. [-]
        rail_rad : float - the rail's angle off the vertical. [rad]
    Returns
        coast : Coast - None without an accelerometer that shows gravity on the pad. [-]
    Raises
        nothing
    Validity
        An accelerometer that does not reach its limit; Mach below 0.8.
    Source
        Derived: a point mass that turns by gravity; the sensor's zero is set on the pad.
    """
    even, happened = evenly(recorded), events.happened
    if even is None or even.axial is None or not (happened.burnout_s and happened.apogee_s):
        return None
    if recorded.saturated_mps2 and (events.highest_mps2 or 0.0) > 0.98 * recorded.saturated_mps2:
        return None
    along = even.axial
    even = even.moved(events.lift_off_s, _level(even, events))
    still = along[(even.time_s > -PAD_S[0]) & (even.time_s < -PAD_S[1])]
    off = float(np.median(still)) - GRAVITY * math.cos(rail_rad) if len(still) else math.inf
    if abs(off) > PAD_FAR * GRAVITY:
        return None
    fly = (even.time_s >= 0.0) & (even.time_s < happened.apogee_s.value)
    time, height, axial = even.time_s[fly], even.short_m[fly], along[fly] - off
    ends = np.flatnonzero(time >= happened.burnout_s.value + LOOK_S)
    if len(ends) < 2:
        return None
    speed, tilt = _reckoned(time, axial, rail_rad)
    ground = events.ground_standard_m or 0.0
    air = standard_atmosphere(ground + height).density_kg_m3
    thin = air / air[0]
    rows = ends[:, None] - np.arange(max(2, round(LOOK_S / float(time[1] - time[0]))))[None, :]
    push, square = axial[rows], thin[rows] * speed[rows] ** 2
    slowed = -push.mean(axis=1)
    drag = -(push * square).sum(axis=1) / np.maximum((square**2).sum(axis=1), 1.0)
    seen, climb = _seen(time[rows], height[rows], GRAVITY + slowed * np.cos(tilt[ends]))
    return Coast(
        time_s=time[ends],
        height_m=seen,
        climb_mps=climb,
        speed_mps=speed[ends],
        tilt_rad=tilt[ends],
        slowed_mps2=slowed,
        drag_per_m=drag,
        thinner=thin[ends],
        ground_m=ground,
        vents=_vents(events, time, speed),
    )


def _level(even: Even, events: Events) -> float:
    before = even.raw_m[even.time_s < events.lift_off_s]
    if events.ground_standard_m is not None:
        return events.ground_standard_m
    return float(np.median(before)) if len(before) else float(even.raw_m[0])


def _reckoned(time: Array, axial: Array, rail_rad: float) -> tuple[Array, Array]:
    """Speed along the rocket and its angle off the vertical at each moment."""
    speed, tilt = np.zeros(time.size), np.full(time.size, rail_rad)
    step = float(time[1] - time[0])
    for i in range(1, time.size):
        now, angle = speed[i - 1], tilt[i - 1]
        speed[i] = max(0.0, now + (axial[i - 1] - GRAVITY * math.cos(angle)) * step)
        turned = GRAVITY * math.sin(angle) / now * step if now > TURNS_FROM_MPS else 0.0
        tilt[i] = angle + turned
    return speed, tilt


def _seen(time: Array, height: Array, falls: Array) -> tuple[Array, Array]:
    """Height and climb at the end of each row: a parabola of known bend through its heights."""
    since = time - time[:, :1]
    middle = since.mean(axis=1)
    about = since - middle[:, None]
    spread = (about**2).mean(axis=1)
    climb = (about * height).mean(axis=1) / spread
    bend = 0.5 * falls * (middle**2 - spread)
    return height.mean(axis=1) - climb * middle - bend, climb + falls * middle


def _vents(events: Events, time: Array, speed: Array) -> float:
    sizes = [VENT_PRESSURE]
    for begin, end, metres in events.false_drops:
        fastest = float(speed[(time >= begin) & (time <= end)].max(initial=0.0))
        if fastest > FASTEST_FOR_VENTS_MPS:
            sizes.append(metres * 2.0 * GRAVITY / fastest**2)
    return max(sizes)


def apogee_from(coast: Coast, at_s: float) -> Measured:
    """Apogee in the standard atmosphere above the pad, as it shows at one moment of the coast [m].

    With the drag of the second before to the end: dv/dt = -g - k (rho / rho_pad) |v| v.

    Parameters
        coast : Coast - of one flight. [-]
        at_s : float - the moment, after lift-off. [s]
    Returns
        apogee : Measured - and its standard error. [m]
    Raises
        nothing
    Validity
        As long as nothing opens, closes or comes off afterwards.
    Source
        Derived: a point mass. Speed upward: as reckoned and as the barometer has it, by their
        errors.
    """
    i = min(int(np.searchsorted(coast.time_s, at_s)), len(coast.time_s) - 1)
    speed, tilt = max(float(coast.speed_mps[i]), 1.0), float(coast.tilt_rad[i])
    turned = speed * TILT_ERROR_RAD * math.hypot(math.sin(tilt), 0.5 * TILT_ERROR_RAD)
    off = math.hypot(SPEED_ERROR * speed, turned)
    changes = 1.0 + max(float(coast.slowed_mps2[i]), 0.0) / GRAVITY
    shown = math.hypot(coast.vents * speed * changes, CLIMB_ERROR_MPS)
    share = shown**2 / (shown**2 + off**2)
    up = share * speed * math.cos(tilt) + (1.0 - share) * float(coast.climb_mps[i])
    up, off = min(max(up, 0.0), speed), off * math.sqrt(share)
    drag = max(float(coast.drag_per_m[i]), 0.0)
    more = drag * (1.0 + 2.0 * SPEED_ERROR) + ZERO_MPS2 / (coast.thinner[i] * speed**2)
    top = _top(coast, i, up, speed, drag)
    apart = (
        _top(coast, i, up + off, speed + off, drag) - top,
        _top(coast, i, up, speed, float(more)) - top,
        HEIGHT_ERROR[1] * top,
        coast.vents * up * up / (2.0 * GRAVITY),
    )
    return Measured(top, math.hypot(ZERO_M, *apart))


def _top(coast: Coast, i: int, up: float, speed: float, drag: float) -> float:
    across, start = math.sqrt(max(speed * speed - up * up, 0.0)), float(coast.height_m[i])
    layers = np.arange(0.0, up * up / (2.0 * GRAVITY) + 2.0 * LAYER_M, LAYER_M)
    air = standard_atmosphere(coast.ground_m + start + layers).density_kg_m3
    drags, risen = drag * float(coast.thinner[i]) * air / air[0], 0.0
    while up > 0.0:
        slow = float(drags[int(risen / LAYER_M)]) * math.hypot(up, across)
        after = up - (GRAVITY + slow * up) * STEP_S
        risen += 0.5 * (up + max(after, 0.0)) * STEP_S
        up, across = after, across - slow * across * STEP_S
    return start + risen


def changed(coast: Coast) -> Changed | None:
    """Where the drag of the coast became another, or None where one drag tells it.

    Parameters
        coast : Coast - of one flight. [-]
    Returns
        changed : Changed - the clearest change. [-]
    Raises
        nothing
    Validity
        While the speed is above 0.4 of the fastest; each state lasts 1.5 s; the reading of the
        accelerometer's zero stays within 0.15 m/s2 of that on the pad.
    Source
        Two means against one over half seconds, least squares; thresholds are our guess, checked
        on the real logs of tests/published/data/flights.
    """
    fast = coast.speed_mps > LEAST_SPEED * float(coast.speed_mps.max())
    time, drag = coast.time_s[fast], coast.drag_per_m[fast]
    bins = np.floor((time - time[0]) / BIN_S).astype(int)
    parts = [np.flatnonzero(bins == each) for each in range(int(bins[-1]))]
    if len(parts) < 2 * LASTING:
        return None
    means = np.array([drag[each].mean() for each in parts])
    if (means <= 0.0).any():
        return None
    logs = np.log(means)
    splits = range(LASTING, len(parts) - LASTING + 1)
    left = [float(logs[:k].var() * k + logs[k:].var() * (len(logs) - k)) for k in splits]
    at = splits[int(np.argmin(left))]
    grown = float(logs[at:].mean() - logs[:at].mean())
    slowed = np.array([coast.slowed_mps2[fast][each].min() for each in parts[at:]])
    zero = float(np.mean(ZERO_MPS2 / np.maximum(slowed, ZERO_MPS2)))
    scatter = math.sqrt(min(left) / (len(logs) - 2) * 2.0 / LASTING)
    error = math.hypot(scatter, zero)
    if abs(grown) < max(math.log(CHANGED), SURE * error):
        return None
    times = math.exp(grown)
    return Changed(float(time[parts[at][0]]) - 0.5 * LOOK_S, Measured(times, times * error))
