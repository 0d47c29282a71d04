"""Readings of one logger made even: steps of one length, spikes out, the axis along the rocket.

Left out: lag of the bay's pressure, wind over its vents. Thresholds are common practice, no source.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from goodflight.constants import STANDARD_GRAVITY_M_S2 as GRAVITY
from goodflight.physics.air.atmosphere import standard_height_m
from goodflight.physics.recorded import Array, Recorded

STEP_S: Final = 0.05  # of the even steps readings are brought to
MOST_STEPS: Final = 200_000
MEDIAN_S: Final = 1.5  # of the running median: spikes up to half of it are taken out
SHORT_S: Final = 0.35  # of the short one: single wrong readings are taken out
LEAST_READINGS: Final = 20
WIDEST_STEP_S: Final = 0.5  # usual step of a log that tells events


@dataclass(frozen=True, eq=False)
class Even:
    """Readings in even steps.

    time_s, raw_m, smooth_m, short_m, axial : (n,) heights of the standard atmosphere as read, with
    the long and with the short running median; reading along the rocket, None without.
    """

    time_s: Array
    raw_m: Array
    smooth_m: Array
    short_m: Array
    axial: Array | None

    def moved(self, time_s: float, height_m: float) -> "Even":
        """The same from another zero of time and height."""
        raw, smooth, short = (each - height_m for each in (self.raw_m, self.smooth_m, self.short_m))
        return Even(self.time_s - time_s, raw, smooth, short, self.axial)


def running_median(values: Array, width: int) -> Array:
    """Median of each value with its neighbours, `width` in all, ends repeated [any].

    Parameters
        values : array - in order. [any]
        width : int - how many together, odd. [-]
    Returns
        medians : array - as many. [any]
    Source
        Definition.
    """
    half = max(1, width // 2)
    padded = np.pad(values, half, mode="edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * half + 1)
    return np.asarray(np.median(windows, axis=-1))


def rocket_axis(readings: Array, onset: int, count: int) -> Array | None:
    """Unit vector along the rocket from an accelerometer that sits in it anyhow.

    Just after lift-off thrust is nearly all there is and points along the rocket: the mean of these
    readings, which later spin and gravity on a tilted rail do not turn.

    Parameters
        readings : array, (readings, axes). [any]
        onset : int - first reading of the thrust. [-]
        count : int - how many readings from there count. [-]
    Returns
        axis : array, (axes,) - towards the nose; None where the readings cancel. [-]
    Raises
        nothing
    Validity
        Thrust several times the weight; side loads below a tenth of it.
    Source
        Derived: a reading is (thrust - drag) / mass along the axis.
    Example
        >>> rocket_axis(np.array([[0.0, 0.0, -50.0], [0.0, 0.0, -70.0]]), 0, 2).tolist()
        [0.0, 0.0, -1.0]
    """
    part = readings[onset : onset + max(1, count)]
    part = part[np.isfinite(part).all(axis=1)]
    if not len(part):
        return None
    mean = part.mean(axis=0)
    length = float(np.linalg.norm(mean))
    return np.asarray(mean / length + 0.0) if length > 0.0 else None


def thrust_onset(time_s: Array, strength_mps2: Array) -> int | None:
    """First reading of a pull that stays above twice gravity for 0.15 s, or None.

    From there back to the last reading that shows no more than rest (1.2 g).

    Parameters
        time_s, strength_mps2 : array, (n,) - of the readings, and their size. [s, m/s2]
    Returns
        onset : int or None - number of the reading. [-]
    Raises
        nothing
    Validity
        10 readings a second or more; a knock on the pad is shorter.
    Source
        Common practice, no source.
    """
    size = np.nan_to_num(strength_mps2)
    strong = size > 2.0 * GRAVITY
    starts = np.flatnonzero(strong & ~np.r_[False, strong[:-1]])
    for start in starts[:2000]:
        end = int(np.searchsorted(time_s, time_s[start] + 0.15))
        if end < len(strong) and end - start >= 1 and strong[start : end + 1].mean() > 0.8:
            still = np.flatnonzero(size[:start] < 1.2 * GRAVITY)
            near = len(still) > 0 and time_s[start] - time_s[still[-1]] < 0.3
            return int(still[-1]) + 1 if near else int(start)
    return None


def heights_of(recorded: Recorded) -> Array | None:
    """Standard-atmosphere height of each reading, not yet above the ground; None without [m].

    Parameters
        recorded : Recorded - as it came off the device. [-]
    Returns
        heights : array or None. [m]
    Source
        the standard atmosphere, see air.atmosphere.
    """
    if recorded.pressure_pa is not None:
        return standard_height_m(np.where(recorded.pressure_pa > 0.0, recorded.pressure_pa, np.nan))
    return recorded.standard_height_m


def evenly(recorded: Recorded) -> Even | None:
    """The readings in even steps, gaps bridged by straight lines.

    Parameters
        recorded : Recorded - readings of one logger. [-]
    Returns
        even : Even - None where too few readings are there, or too seldom. [m]
    Raises
        nothing
    Validity
        Two readings a second or more.
    Source
        Common practice, no source.
    """
    height = heights_of(recorded)
    if height is None or np.isfinite(height).sum() < LEAST_READINGS:
        return None
    known, time = np.isfinite(height), recorded.time_s
    span = float(time[-1] - time[0])
    if not math.isfinite(span) or span < 2.0 or np.median(np.diff(time)) > WIDEST_STEP_S:
        return None
    step = max(STEP_S, span / MOST_STEPS)
    grid = np.arange(0.0, span, step) + time[0]
    raw = np.interp(grid, time[known], height[known])
    axial = recorded.axial_mps2
    if axial is not None:
        heard = np.isfinite(axial)
        enough = heard.sum() >= LEAST_READINGS
        axial = np.interp(grid, time[heard], axial[heard]) if enough else None
    long, short = (running_median(raw, max(3, round(each / step))) for each in (MEDIAN_S, SHORT_S))
    return Even(grid, raw, long, short, axial)
