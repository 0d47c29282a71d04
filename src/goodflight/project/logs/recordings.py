"""Several recordings in one file: a clock that starts again, or flights with a rest between them.

Which of them are flights is told by reading them; where several are, one has to be chosen.
Thresholds are common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.recorded_series import running_median
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.sensors import Clock

Array = NDArray[np.float64]

OUT_OF_ORDER: Final = 0.02  # share of readings: fewer are left out, more start a recording anew
SILENT_S, SILENT_STEPS = 600.0, 100.0  # without a reading, and usual steps: another recording
LEAST_READINGS: Final = 20  # of a recording
LEAST_S: Final = 2.0
MOST: Final = 20  # recordings looked at, the longest
STEP_S: Final = 0.25  # of the heights looked at for rests
REST_S, REST_M = 5.0, 4.0  # at rest: this long within this height
FAST_MPS: Final = 15.0  # a rocket's rise
AROUND_S: Final = 60.0  # of a rest that is kept with a flight: in hours the weather moves the level


@dataclass(frozen=True)
class Recording:
    """One flight in a file that holds several."""

    number: Annotated[int, "by which it is chosen, from 1"]
    line: Annotated[int, "line of the file with its first reading"]
    lasts_s: Annotated[float, "from its first reading to its last [s]"]
    apogee_m: Annotated[float, "peak, standard atmosphere [m]"]
    top_s: Annotated[float, "peak after lift-off [s]"]

    @property
    def words(self) -> str:
        """Where it is, and how high it went."""
        return f"from line {self.line}, to {self.apogee_m:.0f} m {self.top_s:.1f} s after lift-off"


class SeveralFlights(LogRefused):
    """A file with several flights of which none was chosen."""

    def __init__(self, there: Sequence[Recording]) -> None:
        super().__init__(
            f"{len(there)} flights in one file: " + _listed(there),
            "one of them",
            "choose it: --recording NUMBER, or on the page",
            "recording",
        )
        self.there = tuple(there)


def _listed(there: Sequence[Recording]) -> str:
    return "; ".join(f"{each.number} {each.words}" for each in there)


def no_such(number: int, there: Sequence[Recording]) -> LogRefused:
    """The refusal of a number that no flight of the file has."""
    words = _listed(there) or "1, there is one flight in this file"
    return LogRefused(f"recording {number}", f"one of: {words}", "take its number", "recording")


def runs_of(clock: Clock) -> tuple[list[Clock], list[str]]:
    """Recordings by their clock: one that starts again or is silent for long begins another."""
    said = list[str]()
    back = np.flatnonzero(np.diff(clock.seconds) < 0.0)
    if len(back):
        late = clock.seconds < np.maximum.accumulate(clock.seconds)
        if late.sum() < OUT_OF_ORDER * len(late) + 3:
            clock, back = clock.part(np.flatnonzero(~late)), back[:0]
            said.append(f"{int(late.sum())} readings out of order left out")
    steps = np.diff(clock.seconds)
    silent = np.flatnonzero(steps > max(SILENT_S, SILENT_STEPS * float(np.median(steps))))
    edges = [0, *(np.union1d(back, silent) + 1), len(clock.seconds)]
    runs = [clock.part(slice(a, b)) for a, b in pairwise(edges)]
    long = [
        run for run in runs if len(run.rows) >= LEAST_READINGS and np.ptp(run.seconds) >= LEAST_S
    ] or [max(runs, key=lambda run: len(run.rows))]
    kept = sorted(long, key=lambda run: -float(np.ptp(run.seconds)))[:MOST]
    return [run for run in long if any(run is each for each in kept)], said


def flights_in(seconds: Array, heights_m: Array) -> list[tuple[float, float]]:
    """Where one flight ends and the next begins [s]: in the rest between them, a minute at most.

    Parameters
        seconds, heights_m : array, (n,) - of one run of the clock; NaN is no height. [s, m]
    Returns
        cuts : list of (end, start) - between flights; empty with one flight or none. [s]
    Raises
        nothing
    Validity
        5 s at rest between two flights.
    Source
        Common practice, no source.
    Example
        >>> flights_in(np.arange(100.0), np.zeros(100))
        []
    """
    known = np.isfinite(heights_m)
    if known.sum() < LEAST_READINGS:
        return []
    time = np.arange(seconds[0], seconds[-1], STEP_S)
    if len(time) < 4 * REST_S / STEP_S:
        return []
    height = running_median(np.interp(time, seconds[known], heights_m[known]), 7)
    second, rest = round(1.0 / STEP_S), round(REST_S / STEP_S)
    rise = np.r_[height[second:] - height[:-second], np.zeros(second)]
    windows = np.lib.stride_tricks.sliding_window_view(height, rest)
    still = np.ptp(windows, axis=-1) < REST_M
    cuts, rested = list[tuple[float, float]](), None
    for at in np.flatnonzero(rise > FAST_MPS):
        if rested is not None:
            between = np.flatnonzero(still[rested : at + 1])
            if len(between):
                down, up = (time[rested + int(between[i])] for i in (0, -1))
                middle = 0.5 * (down + min(up + REST_S, time[at]))
                cuts.append((min(middle, down + AROUND_S), max(middle, up - AROUND_S)))
        rested = int(at)
    return cuts
