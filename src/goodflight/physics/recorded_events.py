"""Events of one flight from its readings: lift-off, burnout, apogee, charge, canopies, landing.

Heights are of the standard atmosphere, above the level before lift-off. A barometer sits in a bay:
a charge and drag brakes change its pressure without moving the rocket. Short spikes are taken out
by a running median; the apogee is the highest of the whole flight, so a false drop before it stays
one. Left out: wind over the vents, lag of the bay. Thresholds are common practice, no source, and
were checked on the real logs of tests/published/data/flights.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import STANDARD_GRAVITY_M_S2 as GRAVITY
from goodflight.physics.air.atmosphere import shown_height_true_m
from goodflight.physics.recorded import Array, Happened, Measured, Recorded
from goodflight.physics.recorded_descent import landing, rates, touch_s
from goodflight.physics.recorded_series import SHORT_S, STEP_S, Even, evenly, thrust_onset

LEAST_RISE_M: Final = 20.0  # less is no flight
HEIGHT_ERROR: Final = (1.0, 0.003)  # of a barometer: m and share of the height, one sd; practice
FALSE_DROP_M: Final = 15.0
SPIKE_M: Final = 8.0  # off the running median: a charge
MISSED_S: Final = 1.0  # after a charge in a gap, its canopy's jerk is seen
JERK_MPS2: Final = 4.0 * GRAVITY  # of a cord that comes taut
KNOCK_MPS2: Final = 2.5 * GRAVITY  # of the ground
NO_PUSH: Final = 0.02  # of the hardest push
BEFORE_S: Final = 10.0  # before lift-off: the level of the pad
ROUND_TOP_S: Final = 1.0  # either side of the apogee, where a parabola holds
ERRORS_S: Final = {  # of events on the log's own clock, one sd; common practice, no source
    "thrust": 0.05, "rise": 0.3, "burnout": 0.1, "charge": 0.03, "canopy": 0.5, "second": 0.5,
    "landing": 0.3,
}  # fmt: skip
# of the charge besides: the usual step between two readings


@dataclass(frozen=True)
class Events:
    """What the readings show.

    lift_off_s, lift_off_error_s : on the clock of the readings, and its standard error. [s]
    ground_standard_m : level before lift-off, above the standard's sea level; None where the logger
    gave heights only. [m]
    climb_mps : the most it rose in one second. [m/s]
    highest_mps2 : the largest reading along the rocket in the thrust, None without. [m/s2]
    false_drops : from and to [s after lift-off], by how much the height seemed to fall [m].
    """

    happened: Happened
    lift_off_s: float
    ground_standard_m: float | None
    climb_mps: float
    highest_mps2: float | None = None
    false_drops: tuple[tuple[float, float, float], ...] = ()
    lift_off_error_s: float = ERRORS_S["rise"]


def events_of(recorded: Recorded) -> Events | None:
    """Find a flight's events.

    Parameters
        recorded : Recorded - readings of one logger. [-]
    Returns
        events : Events - None where nothing rises by 20 m or too few readings are there. [-]
    Raises
        nothing
    Validity
        4 readings a second or more; up to the tropopause.
    Source
        Derived; thresholds are common practice, no source.
    """
    even = evenly(recorded)
    if even is None:
        return None
    top = int(np.argmax(even.smooth_m))
    first = float(np.median(even.smooth_m[: max(1, min(top // 2, 20))]))
    if even.smooth_m[top] - first < LEAST_RISE_M:
        return None
    lift_off, error_s = _lift_off(even, top, first)
    before = (even.time_s < lift_off) & (even.time_s > lift_off - BEFORE_S)
    ground = float(np.median(even.raw_m[before])) if before.sum() >= 5 else first
    even = even.moved(lift_off, ground)
    return Events(
        happened=_happened(even, top, error_s, recorded.time_s - lift_off),
        lift_off_s=lift_off,
        ground_standard_m=ground if recorded.pressure_pa is not None else None,
        climb_mps=_climb(even, top),
        highest_mps2=None if even.axial is None else float(even.axial[: top + 1].max()),
        false_drops=_false_drops(even, top),
        lift_off_error_s=error_s,
    )


def in_the_air_as_it_was(
    happened: Happened, temperature_k: float, elevation_m: float, error_k: float
) -> Happened:
    """Events with heights and rates brought from the standard atmosphere to the day's air.

    h = shown x T / T_std, for rates the same; the standard-atmosphere apogee stays beside it.

    Parameters
        happened : Happened - heights and rates of the standard atmosphere. [m, m/s]
        temperature_k : float - of the air at the field, as told. [K]
        elevation_m : float - of the field above the sea. [m]
        error_k : float - of that temperature, one standard deviation. [K]
    Returns
        happened : Happened - with `apogee_m`. [m, m/s]
    Raises
        nothing
    Validity
        The temperature of the air, in the shade; a board's or a bay's is not that.
    Source
        [usstd1976], hydrostatic equation, as `shown_height_true_m`.
    Example
        >>> warm = Happened(apogee_standard_m=Measured(500.0, 1.0))
        >>> round(in_the_air_as_it_was(warm, 302.56, 0.0, 1.0).apogee_m.value, 1)
        525.0
    """
    factor = float(shown_height_true_m(1.0, temperature_k, elevation_m))
    share = error_k / temperature_k

    def brought(each: Measured | None) -> Measured | None:
        if each is None:
            return None
        value = factor * each.value
        return Measured(value, math.hypot(factor * each.error, share * value))

    return replace(
        happened,
        apogee_m=brought(happened.apogee_standard_m),
        second_canopy_m=brought(happened.second_canopy_m),
        first_rate_mps=brought(happened.first_rate_mps),
        last_rate_mps=brought(happened.last_rate_mps),
    )


def _lift_off(even: Even, top: int, first: float) -> tuple[float, float]:
    """Time of lift-off and its error: by thrust, else back along s = a t^2 / 2."""
    rise = even.smooth_m[: top + 1] - first
    small = np.flatnonzero(rise < 0.05 * rise[-1])
    low = int(small[-1]) if len(small) else 0
    if even.axial is not None:
        from_s = even.time_s[low] - 10.0  # before: carried, knocked
        away = int(np.searchsorted(even.time_s, from_s))
        start = thrust_onset(even.time_s[away : top + 1], even.axial[away : top + 1])
        if start is not None:
            step = float(even.time_s[1] - even.time_s[0])  # it began within the one before
            return float(even.time_s[away + start]) - 0.5 * step, ERRORS_S["thrust"]
    lower = np.flatnonzero(rise[: low + 1] < 0.0125 * rise[-1])
    # a fourth of the way in half of the time, from rest: as far back again
    back = 2 * (int(lower[-1]) if len(lower) else 0) - low
    return float(even.time_s[max(0, back)]), ERRORS_S["rise"]


def _happened(even: Even, top: int, error_s: float, read_s: Array) -> Happened:
    apogee_s, apogee_m, off_s, off_m = _apogee(even, top)
    least, share = HEIGHT_ERROR
    burnout = _burnout(even, apogee_s)
    charge = _charge(even, apogee_s, 0.0 if burnout is None else burnout)
    canopy = None if charge is None else _jerk(even, charge)
    landed, level = landing(even, top)
    start = apogee_s if charge is None else max(apogee_s, charge)
    first, second, split = rates(even, start, float(even.time_s[-1]) if landed is None else landed)
    last = second or first
    if landed is not None and last is not None:
        landed = touch_s(even, landed, level, last.value)
        knock = _knock(even, landed)
        landed = landed if knock is None else knock

    def at(value: float | None, own: float) -> Measured | None:
        return None if value is None else Measured(float(value), math.hypot(own, error_s))

    height = None if split is None else float(np.interp(split, even.time_s, even.smooth_m))
    return Happened(
        burnout_s=at(burnout, ERRORS_S["burnout"]),
        apogee_s=at(apogee_s, off_s),
        charge_s=at(charge, _charge_error_s(read_s, charge)),
        canopy_s=at(canopy, ERRORS_S["canopy"]),
        second_canopy_s=at(split, ERRORS_S["second"]),
        landing_s=at(landed, ERRORS_S["landing"]),
        apogee_standard_m=Measured(apogee_m, math.hypot(off_m, least, share * apogee_m)),
        second_canopy_m=None if height is None else Measured(height, 10.0),
        first_rate_mps=first,
        last_rate_mps=last,
    )


def _apogee(even: Even, top: int) -> tuple[float, float, float, float]:
    """Time and height of the top of a parabola round it, spikes left out, and their errors."""
    centre = float(even.time_s[top])
    for _ in range(6):
        near = np.abs(even.time_s - centre) < ROUND_TOP_S
        time, height = even.time_s[near] - centre, even.raw_m[near]
        keep = np.abs(height - even.smooth_m[near]) < SPIKE_M
        if keep.sum() < 8:
            break
        curve = np.polyfit(time[keep], height[keep], 2)
        if curve[0] > -0.5:
            break
        best = -0.5 * float(curve[1] / curve[0])
        if abs(best) < 0.5 * ROUND_TOP_S:
            noise = float(np.std(height[keep] - np.polyval(curve, time[keep])))
            flat = 0.5 * math.sqrt(max(noise, 0.1) / abs(float(curve[0])))  # as good as the top
            return centre + best, float(np.polyval(curve, best)), max(0.1, flat), noise
        centre += min(max(best, -0.5 * ROUND_TOP_S), 0.5 * ROUND_TOP_S)
    return float(even.time_s[top]), float(even.smooth_m[top]), 0.5, 2.0


def _burnout(even: Even, apogee_s: float) -> float | None:
    """When drag first exceeds thrust, within 2 % of the hardest push, for 0.1 s."""
    if even.axial is None:
        return None
    inside = (even.time_s > 0.1) & (even.time_s < apogee_s)
    axial, time = even.axial[inside], even.time_s[inside]
    low = axial < NO_PUSH * float(axial.max(initial=0.0))
    slowing = low[:-2] & low[1:-1] & low[2:]
    return float(time[int(np.argmax(slowing))]) if slowing.any() else None


def _charge(even: Even, apogee_s: float, burnout_s: float) -> float | None:
    """First pressure spike or jerk from late in the coast to some seconds past the apogee.

    A spike lasts; one wrong reading is taken for one only in a log that has no others.
    """
    inside = (even.time_s > max(burnout_s + 0.5, 0.7 * apogee_s)) & (even.time_s < apogee_s + 15.0)
    off = np.abs(even.raw_m - even.smooth_m)
    least = max(SPIKE_M, 8.0 * float(np.median(off)))
    lasting = np.abs(even.short_m - even.smooth_m) > least
    near = max(1, round(SHORT_S / STEP_S))
    wide = np.convolve(lasting, np.ones(2 * near + 1), "same") > 0.5
    signs = (off > least) & wide
    if even.axial is not None:
        signs = signs | (np.abs(even.axial) > JERK_MPS2)
    found = np.flatnonzero(signs & inside)
    if not len(found):
        single = (off > least) & (even.time_s > 0.0)
        found = np.flatnonzero(single & inside)
        if (single & ~inside).any():
            return None
    return float(even.time_s[found[0]]) if len(found) else None


def _charge_error_s(read_s: Array, charge_s: float | None) -> float:
    """Error of a charge's time: the usual step between readings, or a gap it may lie in."""
    steps = np.diff(read_s)
    usual = float(np.median(steps))
    if charge_s is None:
        return usual
    near = (read_s[1:] > charge_s - MISSED_S) & (read_s[:-1] < charge_s + 0.5 * MISSED_S)
    gap = float(steps[near].max(initial=usual))
    return math.hypot(ERRORS_S["charge"], usual if gap < 3.0 * usual else 0.5 * gap)


def _jerk(even: Even, charge_s: float) -> float | None:
    """The strongest jerk between 0.2 and 4 s after the charge, or None."""
    if even.axial is None:
        return None
    inside = np.flatnonzero((even.time_s > charge_s + 0.2) & (even.time_s < charge_s + 4.0))
    if not len(inside):
        return None
    most = int(inside[np.argmax(np.abs(even.axial[inside]))])
    return float(even.time_s[most]) if abs(even.axial[most]) > JERK_MPS2 else None


def _knock(even: Even, landed_s: float) -> float | None:
    """The first hard knock within 2 s of where the height says that it landed."""
    if even.axial is None:
        return None
    near = (np.abs(even.time_s - landed_s) < 2.0) & (np.abs(even.axial) > KNOCK_MPS2)
    return float(even.time_s[int(np.argmax(near))]) if near.any() else None


def _climb(even: Even, top: int) -> float:
    step = float(even.time_s[1] - even.time_s[0])
    ahead = max(1, round(1.0 / step))
    rise = even.smooth_m[: top + 1]
    return float((rise[ahead:] - rise[:-ahead]).max(initial=0.0) / (ahead * step))


def _false_drops(even: Even, top: int) -> tuple[tuple[float, float, float], ...]:
    """Where the height seems to fall before the apogee and comes back: not flight."""
    rise = even.short_m[: top + 1]
    highest = np.maximum.accumulate(rise)
    lost = highest - rise
    low: NDArray[np.bool_] = lost > FALSE_DROP_M
    edges = np.flatnonzero(np.diff(np.r_[False, low, False].astype(int)))
    return tuple(
        (float(even.time_s[a]), float(even.time_s[min(b, top)]), float(lost[a:b].max()))
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    )
