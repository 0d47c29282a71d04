"""The same order of work, timed anew under other conditions: each task as early as it can be.

Tasks are taken in the order of a plan; each goes into the first sitting that is allowed, that has
room, and that comes after what it waits for. Under the plan's own conditions nothing comes later
than planned. All drawn conditions are timed at once.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.calendar.places import HOURS, Cure, Place, gained_h, may_work
from goodflight.studies.calendar.problem import NEVER

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Pairs = tuple[tuple[int, int], ...]


@dataclass(frozen=True, eq=False)
class Slots:
    """Sittings in the order of time. begin_h, end_h : from the calendar's first midnight."""

    day: Ints
    begin_h: Ints
    end_h: Ints
    capacity: Ints
    extra: Ints
    person: Ints
    light: Flags  # whether all of it lies in daylight; False where that is not known
    days: int  # of the calendar, further than its last sitting
    some_hour: bool = False  # one hour that is warm and dry enough will do, else all must be


@dataclass(frozen=True, eq=False)
class Traces:
    """What work in each slot leaves: (d, t) each. Days are days of the calendar; NEVER is never."""

    allowed: Flags
    ready: Ints
    touch: Ints
    cured: Ints
    whole: Ints


def traces(
    slots: Slots,
    cure: Cure | None,
    place: Place | None,
    offset_k: Array,
    pace: Array,
    moist: Array,
    warm: tuple[float, int] | None = None,
) -> Traces:
    """What follows from doing a task in each slot, at one place, under drawn conditions.

    offset_k, pace, moist : (d,); warm : held at least so warm [K] for so many nights after it.
    It must be warm and dry enough all through the sitting: the task may have its turn at any time.
    """
    builds, count = len(offset_k), len(slots.day)
    if cure is None or place is None:
        there = np.ones((builds, count), dtype=bool)
        index = np.broadcast_to(np.arange(count), (builds, count))
        day = np.broadcast_to(slots.day, (builds, count))
        if place is not None and place.kind == "outdoor":
            there = there & slots.light
        return Traces(there, index, day, day + 1, index)
    cold = place.temperature_k(offset_k)
    heated = cold if warm is None else np.maximum(cold, warm[0])
    good = may_work(cure, place, heated, moist) & np.isfinite(cold)
    allowed = _through(good, slots)
    if place.kind == "outdoor":
        allowed &= slots.light
    starts, ends = (place.temperature_k(offset_k, at) for at in (0.0, 1.0))
    plain = gained_h(cure, starts, ends, pace)
    hot = plain
    if warm is not None:
        hot = gained_h(cure, np.maximum(starts, warm[0]), np.maximum(ends, warm[0]), pace)
    last = plain.shape[1] - 1
    end = np.minimum(slots.end_h, last)
    until = np.minimum(end + HOURS * (warm[1] if warm else 0), last)
    nights = hot[:, until] - hot[:, end]

    def hour(need_h: float) -> Ints:
        """First hour of the calendar by which so much has cured, for each slot."""
        later = _reach(plain, plain[:, until] + need_h - nights)
        found = (
            later
            if warm is None
            else np.where(nights >= need_h, _reach(hot, hot[:, end] + need_h), later)
        )
        return np.asarray(found)

    handled, full = hour(cure.handling_h), hour(cure.full_h)
    ready, whole = (np.searchsorted(slots.begin_h, each) for each in (handled, full))
    never = handled >= last
    return Traces(
        allowed,
        np.where(never | (ready >= count), NEVER, ready),
        np.where(never, NEVER, handled // HOURS),
        np.where(full >= last, NEVER, -(-full // HOURS)),
        np.where((full >= last) | (whole >= count), NEVER, whole),
    )


def _through(good: Flags, slots: Slots) -> Flags:
    """Whether all hours of each sitting are good, or one of them: (d, t) of (d, hours)."""
    count = np.concatenate([np.zeros((len(good), 1), dtype=np.int64), good.cumsum(axis=1)], axis=1)
    last = good.shape[1]
    begin, end = np.minimum(slots.begin_h, last), np.minimum(slots.end_h, last)
    held = count[:, end] - count[:, begin]
    return np.asarray(held > 0 if slots.some_hour else held == np.maximum(end - begin, 1))


def _reach(rising: Array, wanted: Array) -> Ints:
    """First column in which each row reaches what is wanted: (d, t) of (d, hours) and (d, t)."""
    step = float(rising.max()) + float(wanted.max()) + 1.0
    rows = step * np.arange(len(rising))[:, None]
    found = np.searchsorted((rising + rows).ravel(), (wanted + rows - 1e-9).ravel())
    return np.asarray(
        found.reshape(wanted.shape) - rising.shape[1] * np.arange(len(rising))[:, None]
    )


def best_of(found: list[Traces]) -> tuple[Traces, Ints]:
    """The place that is ready first, slot by slot, and which it was."""
    ready = np.stack([np.where(each.allowed, each.ready, 2 * NEVER) for each in found])
    which = ready.argmin(axis=0)

    keys = ("allowed", "ready", "touch", "cured", "whole")
    all_ = {key: np.stack([getattr(each, key) for each in found]) for key in keys}
    return Traces(**{k: np.take_along_axis(v, which[None], 0)[0] for k, v in all_.items()}), which


@dataclass(frozen=True, eq=False)
class Conditions:
    """Everything a plan is timed under, d builds. room, minutes, first : (d, t), (d, n), (d, n)."""

    minutes: Array
    room: Array
    first: Ints
    traces: tuple[Traces, ...]


def retime(
    order: list[int],
    after: Pairs,
    full: Pairs,
    day: Ints,
    conditions: Conditions,
    within: Pairs = (),
    latest: Ints | None = None,
) -> tuple[Ints, Ints]:
    """Slot of every task (d, n), NEVER where there is none, and the day all has cured (d,).

    A coat that misses its window goes on once the one before has cured.
    """
    c = conditions
    builds, slots = c.room.shape
    start = np.full((builds, len(order)), NEVER)
    room, index = c.room.copy(), np.arange(slots)
    rows = np.arange(builds)
    finish = np.zeros(builds, dtype=np.int64)
    for i in order:
        trace = c.traces[i]
        open_ = trace.allowed & (index[None, :] >= c.first[:, i, None])
        for j in (j for k, j in after if k == i):
            at = np.minimum(start[:, j], slots - 1)
            waited = c.traces[j].whole if (i, j) in full else c.traces[j].ready
            open_ &= index[None, :] >= waited[rows, at][:, None]
            if (i, j) in within and latest is not None:
                cured = c.traces[j].whole[rows, at][:, None]
                open_ &= (index[None, :] <= latest[j, at][:, None]) | (index[None, :] >= cured)
            beside = (day[None, :] == day[at][:, None]) & (index[None, :] != at[:, None])
            open_ &= ~beside & (start[:, j] < NEVER)[:, None]
        start[:, i] = _take(open_, room, c.room, c.minutes[:, i])
        done = start[:, i] < NEVER
        cured = trace.cured[rows, np.minimum(start[:, i], slots - 1)]
        finish = np.maximum(finish, np.where(done, cured, NEVER))
    return start, finish


def _take(open_: Flags, room: Array, whole: Array, minutes: Array) -> Ints:
    """First slot with room; what is longer than any sitting begins in an untouched one and goes on
    in the next. The room is used up."""
    rows, slots = np.arange(len(minutes)), room.shape[1]
    longest = whole.max(axis=1)
    big = minutes > longest
    fits = open_ & np.where(big[:, None], (room >= whole) & (whole > 0), room >= minutes[:, None])
    at = np.where(fits.any(axis=1), fits.argmax(axis=1), NEVER)
    there = at < NEVER
    room[rows[there & ~big], at[there & ~big]] -= minutes[there & ~big]
    for d in np.flatnonzero(big & there):
        left, t = float(minutes[d]), int(at[d])
        while left > 0 and t < slots:
            used = min(left, float(room[d, t]))
            room[d, t] -= used
            left, t = left - used, t + 1
        at[d] = t - 1 if left <= 0 else NEVER
    return at
