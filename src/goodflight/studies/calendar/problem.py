"""A plan of work as numbers: which task may be done in which slot, and what follows from it.

A slot is one sitting of one person at the bench; slots stand in the order of time. A task is done
within one slot. What it leaves behind (glue, paint) may be touched from a later slot on, and is
cured by a later day; both depend on the slot, since places are colder on one day than on another.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
NEVER = 10**6  # a slot or a day beyond any calendar


@dataclass(frozen=True, eq=False)
class Problem:
    """Tasks and slots.

    minutes : (n,) hands-on [min]; capacity, extra : (t,) of a slot, and how much longer it may get
    [min]; day : (t,) number of the slot's day; allowed : (n, t) whether the task may be done there;
    ready : (n, t) first slot in which what builds on it may be done; touch : (n, t) the day of
    that; cured : (n, t) the day by which all of it has cured; whole : (n, t) first slot after
    that; after : (task, task it waits for); full : those that wait until it has cured;
    either : (task, tasks of which at least one must come later); keep : points of no return;
    within : (task, task after which it must come soon); latest : (n, t) last slot for that.
    """

    minutes: Ints
    capacity: Ints
    extra: Ints
    day: Ints
    allowed: Flags
    ready: Ints
    touch: Ints
    cured: Ints
    whole: Ints
    after: tuple[tuple[int, int], ...] = ()
    full: tuple[tuple[int, int], ...] = ()
    either: tuple[tuple[int, tuple[int, ...]], ...] = ()
    keep: tuple[int, ...] = ()
    within: tuple[tuple[int, int], ...] = ()
    latest: Ints | None = None

    @property
    def tasks(self) -> int:
        """How many tasks there are."""
        return len(self.minutes)

    @property
    def slots(self) -> int:
        """How many slots there are."""
        return len(self.capacity)


@dataclass(frozen=True, eq=False)
class Windows:
    """First and last slot of every task that the others leave it."""

    first: Ints
    last: Ints

    @property
    def empty(self) -> bool:
        """Whether some task has no slot left."""
        return bool(np.any(self.first > self.last))


def windows(problem: Problem, finish: int) -> Windows:
    """Slots left to every task if all is cured by a day, from the longest paths both ways."""
    p = problem
    may = p.allowed & (p.minutes[:, None] <= (p.capacity + p.extra)[None, :]) & (p.cured <= finish)
    first, last = np.zeros(p.tasks, dtype=np.int64), np.full(p.tasks, p.slots - 1)
    while True:
        before = first.copy(), last.copy()
        for i in range(p.tasks):
            slots = np.flatnonzero(may[i, first[i] : last[i] + 1])
            if first[i] > last[i] or len(slots) == 0:
                return Windows(np.ones(p.tasks, np.int64), np.zeros(p.tasks, np.int64))
            first[i], last[i] = first[i] + slots[0], first[i] + slots[-1]
        waits = [*((i, j, p.ready) for i, j in p.after), *((i, j, p.whole) for i, j in p.full)]
        for i, j, ready in waits:
            first[i] = max(first[i], ready[j, min(first[j], p.slots - 1)])
            in_time = np.flatnonzero(ready[j, : last[j] + 1] <= last[i])
            last[j] = in_time[-1] if len(in_time) else -1
        for i, j in p.within:
            assert p.latest is not None
            soon = np.flatnonzero(p.latest[j] >= first[i])
            first[j] = max(first[j], soon[0] if len(soon) else p.slots)
            last[i] = min(last[i], p.latest[j, max(last[j], 0)])
        if np.array_equal(before[0], first) and np.array_equal(before[1], last):
            return Windows(first, last)
