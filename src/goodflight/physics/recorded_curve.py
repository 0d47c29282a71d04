"""Height against time of one recorded flight, thinned to points with errors that a fit can use.

Each point is the middle of a short window of readings, outliers taken out. What is not flight (the
charge's spike, brakes' false drop, gaps) gives no point. Errors that all points share are kept
apart from each point's own: a barometer's scale, its zero, air moving over the vents, the moment of
lift-off. Left out: lag of the bay's pressure. Sizes are common practice or our guess, as said.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from goodflight.constants import STANDARD_GRAVITY_M_S2 as GRAVITY
from goodflight.physics.recorded import Array, Happened, Measured, Recorded
from goodflight.physics.recorded_events import HEIGHT_ERROR, Events
from goodflight.physics.recorded_series import heights_of

RISE_EVERY_S: Final = 0.5  # between points on the way up, and the width of their windows
FALL_EVERY_S: Final = 3.0  # on the way down
MOST_POINTS: Final = 90
FALL_WINDOW_S: Final = 2.0
AFTER_LIFT_OFF_S: Final = 0.5  # first point
BEFORE_LANDING_M: Final = 12.0  # last point, above the level of landing
QUIET_S: Final = (0.4, 1.6)  # before and after a charge: its pressure in the bay
ROUND_DROP_S: Final = 0.6  # before and after a false drop
OUTLYING: Final = 4.0  # of a window's scatter
FAR_M: Final = 6.0  # off the line through a window, at least: a wrong reading
LEAST_READINGS: Final = 4  # of a window
LEAST_M: Final = 0.3  # error of a point: resolution and gusts over the vents; common practice
ZERO_M: Final = 0.5  # of the level before lift-off; common practice
VENT_PRESSURE: Final = 0.02  # pressure at the vents over the flow's dynamic one, one sd; our guess
_MAD: Final = 1.4826  # standard deviation over median absolute deviation, of a normal


@dataclass(frozen=True, eq=False)
class HeightCurve:
    """Points of one flight's height, and what they share.

    time_s : (n,) from lift-off. [s] height_m : (n,) of the standard atmosphere above the pad. [m]
    error_m : (n,) of each point alone. [m] lift_off_error_s : of the zero of time. [s]
    events : on the same clock.
    """

    time_s: Array
    height_m: Array
    error_m: Array
    lift_off_error_s: float
    events: Happened

    def shared(self, rate_mps: Array) -> Array:
        """Errors that all points share, a column each, one standard deviation, (n, 4) [m].

        The zero of time, the scale, the zero of height, the flow over the vents on the way up:
        c V^2 / (2 g) for a pressure c times the dynamic one. The rate upward is the flight's, (n,);
        as read it would hold what the vents add.
        """
        up = np.maximum(rate_mps, 0.0)
        return np.column_stack(
            [
                self.lift_off_error_s * rate_mps,
                HEIGHT_ERROR[1] * self.height_m,
                np.full(self.time_s.shape, ZERO_M),
                VENT_PRESSURE * up * up / (2.0 * GRAVITY),
            ]
        )


def curve_of(
    recorded: Recorded, events: Events, charge: Measured | None = None
) -> HeightCurve | None:
    """Points of the height from lift-off to shortly before the landing.

    Parameters
        recorded : Recorded - readings of one logger. [-]
        events : Events - of the same readings. [-]
        charge : Measured or None - by watch or film; counts where the readings show none. [s]
    Returns
        curve : HeightCurve - None where too few windows hold readings. [-]
    Raises
        nothing
    Validity
        8 readings a second or more on the way up; a slower log gives fewer points.
    Source
        Least squares over short windows, outliers beyond 4 scatters out; practice.
    """
    height = heights_of(recorded)
    if height is None:
        return None
    known = np.isfinite(height)
    time = recorded.time_s[known] - events.lift_off_s
    height = height[known]
    ground = events.ground_standard_m
    height = height - (_level(time, height) if ground is None else ground)
    centres, widths = _places(events.happened, float(time[-1]))
    points = []
    for at, width in zip(centres, widths, strict=True):
        if _not_flight(at, width, events, charge):
            continue
        inside = slice(*np.searchsorted(time, (at - 0.5 * width, at + 0.5 * width)))
        point = _point(time[inside] - at, height[inside], width)
        if point is not None:
            points.append((at, *point))
    if len(points) < LEAST_READINGS:
        return None
    return _trimmed(np.array(points), events)


def _level(time: Array, height: Array) -> float:
    before = height[time < 0.0]
    return float(np.median(before)) if len(before) else float(height[0])


def _places(happened: Happened, last_s: float) -> tuple[Array, Array]:
    """Middles and widths of the windows."""
    assert happened.apogee_s is not None
    top = happened.apogee_s.value
    down = last_s if happened.landing_s is None else min(last_s, happened.landing_s.value)
    room = MOST_POINTS // 2
    rise = np.arange(AFTER_LIFT_OFF_S, top + 2.0, max(RISE_EVERY_S, top / room))
    fall = np.arange(top + 2.5, down, max(FALL_EVERY_S, (down - top) / room))
    widths = (np.full(rise.size, RISE_EVERY_S), np.full(fall.size, FALL_WINDOW_S))
    return np.concatenate([rise, fall]), np.concatenate(widths)


def _not_flight(at: float, width: float, events: Events, told: Measured | None) -> bool:
    charge, half = events.happened.charge_s, 0.5 * width
    if charge is None and told is not None:  # as late or early as it may have been seen
        charge, half = told, half + told.error
    if charge is not None and -QUIET_S[0] - half < at - charge.value < QUIET_S[1] + half:
        return True
    return any(a - ROUND_DROP_S < at < b + ROUND_DROP_S for a, b, _ in events.false_drops)


def _point(time: Array, height: Array, width: float) -> tuple[float, float] | None:
    """Height in the middle of a window and its error; None with a gap in it."""
    if time.size < LEAST_READINGS:
        return None
    steady = height - _slope(time, height) * time  # spikes out before a parabola can bend to them
    off = np.abs(steady - np.median(steady))
    keep = off < max(FAR_M, 2.0 * OUTLYING * _MAD * float(np.median(off)))
    for _ in range(3):
        if keep.sum() < LEAST_READINGS or np.ptp(time[keep]) < 0.5 * width:
            return None
        if time[keep].min() > 0.0 or time[keep].max() < 0.0:
            return None
        curve = np.polyfit(time[keep], height[keep], 2 if keep.sum() > LEAST_READINGS + 2 else 1)
        off = np.abs(height - np.polyval(curve, time))
        scatter = max(_MAD * float(np.median(off[keep])), 0.1)
        within = off < OUTLYING * scatter
        if (within == keep).all():
            break
        keep = within
    error = max(LEAST_M, 1.5 * scatter / float(np.sqrt(keep.sum())))  # 1.5: middle of a parabola
    return float(curve[-1]), error


def _slope(time: Array, height: Array) -> float:
    """Median of the slopes between readings half a window apart [m/s]."""
    half = time.size // 2
    return float(np.median((height[half:] - height[:-half]) / (time[half:] - time[:-half])))


def _trimmed(points: Array, events: Events) -> HeightCurve:
    """Without the last metres above the ground."""
    time, height, error = points.T
    happened = events.happened
    assert happened.apogee_s is not None
    up = time < happened.apogee_s.value
    low = np.where(up, True, height > BEFORE_LANDING_M + min(0.0, float(height.min())))
    return HeightCurve(time[low], height[low], error[low], events.lift_off_error_s, happened)
