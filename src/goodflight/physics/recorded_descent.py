"""Landing and rates of descent of one flight from its readings in even steps, above the pad.

Thresholds are common practice, no source.
"""

import math
from typing import Final

import numpy as np

from goodflight.physics.recorded import Array, Measured
from goodflight.physics.recorded_series import Even

SETTLED_M: Final = 3.0  # from the last level: landed
LEAST_FALL_M: Final = 20.0
RATES_DIFFER: Final = 1.4  # two rates of descent that are not one
LEAST_DESCENT_S: Final = 4.0  # of one rate
SWING_S: Final = 2.0  # after the charge, before the rate is steady
RATE_ERROR: Final = (0.1, 0.02)  # m/s and share: air thinner above, one sd; common practice
_SPLITS: Final = 80


def landing(even: Even, top: int) -> tuple[float | None, float]:
    """When the height comes to its last level, and that level.

    Parameters
        even : Even - readings, above the pad. [m]
        top : int - step of the apogee. [-]
    Returns
        landing_s, level_m : float - None where the log ends before. [s, m]
    Raises
        nothing
    Validity
        The log goes on 2 s after the landing.
    Source
        Common practice, no source.
    """
    after = even.smooth_m[top:]
    last = even.time_s > even.time_s[-1] - 1.5
    level = float(np.median(even.smooth_m[last]))
    if after.max() - level < LEAST_FALL_M or np.ptp(even.smooth_m[last]) > 2.0:
        return None, level
    away = np.flatnonzero(np.abs(after - level) > SETTLED_M)
    return float(even.time_s[top + int(away[-1])]), level


def touch_s(even: Even, settled_s: float, level_m: float, rate_mps: float) -> float:
    """Where a rate of descent meets the ground, from the height at the last step above it [s].

    Parameters
        even : Even - recording in even steps. [-]
        settled_s : float - the last step above the ground. [s]
        level_m : float - of the ground. [m]
        rate_mps : float - of the descent. [m/s]
    Returns
        time : float - of touch-down. [s]
    Source
        Geometry.
    """
    left = float(np.interp(settled_s, even.time_s, even.smooth_m)) - level_m
    return settled_s + min(max(left, 0.0) / max(rate_mps, 1.0), 2.0)


def rates(
    even: Even, start_s: float, end_s: float
) -> tuple[Measured | None, Measured | None, float | None]:
    """First and second rate of descent, and when the one becomes the other.

    The broken line that leaves the smallest squares; one line where that does as well. A first
    piece whose quarters fall at rates that are not one is no rate but the fall before a charge that
    was not seen: the descent begins where it ends.

    Parameters
        even : Even - readings, above the pad. [m]
        start_s, end_s : float - charge or apogee, whichever is later, and landing. [s]
    Returns
        first, second, change_s : rates downward, the second and its start None with one. [m/s, s]
    Raises
        nothing
    Validity
        Each rate lasts 4 s or more.
    Source
        Least squares.
    """
    inside = (even.time_s > start_s + SWING_S) & (even.time_s < end_s)
    time, height = even.time_s[inside], even.smooth_m[inside]
    if len(time) < 8 or time[-1] - time[0] < LEAST_DESCENT_S:
        return None, None, None
    left = _squares(time, height)
    parts = [
        (
            _squares(time[time < at], height[time < at])
            + _squares(time[time >= at], height[time >= at]),
            float(at),
        )
        for at in np.linspace(time[0], time[-1], _SPLITS + 2)[1:-1]
        if min(at - time[0], time[-1] - at) > LEAST_DESCENT_S
    ]
    if parts:
        squares, at = min(parts)
        before, after = time < at, time >= at
        first, second = _rate(time[before], height[before]), _rate(time[after], height[after])
        if first.value > RATES_DIFFER * second.value and squares < 0.5 * left:
            quarters = _quarters(time[before], height[before])
            if max(quarters) > RATES_DIFFER * min(quarters):
                return rates(even, at - SWING_S, end_s)
            return first, second, at
    return _rate(time, height), None, None


def _squares(time: Array, height: Array) -> float:
    """What a straight line leaves."""
    line = np.polyfit(time, height, 1)
    return float(((height - np.polyval(line, time)) ** 2).sum())


def _rate(time: Array, height: Array) -> Measured:
    """Rate of descent; its error from the scatter of the rates of its quarters."""
    rate = -float(np.polyfit(time, height, 1)[0])
    scatter = float(np.std(_quarters(time, height))) / 2.0
    least, share = RATE_ERROR
    return Measured(rate, math.hypot(scatter, least, share * rate))


def _quarters(time: Array, height: Array) -> list[float]:
    """Rate of descent of each quarter."""
    pieces = zip(np.array_split(time, 4), np.array_split(height, 4), strict=True)
    return [-float(np.polyfit(t, h, 1)[0]) for t, h in pieces]
