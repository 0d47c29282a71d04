"""The best plan of work, proven: earliest finish, then slack, then fewest late evenings.

Each task has one unknown for every slot it may be done in: 1 if it is done there. Waiting for a
cure compares what is done by two slots, so that the relaxed problem is close to the true one, and
the minutes of a slot stand in one line of plain unknowns, on which a solver's cuts for full boxes
act. The finish is searched from the least day the relaxed problem allows; every refused day is a
proof.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from goodflight.studies.calendar.canonical import canonical_order, reordered
from goodflight.studies.calendar.problem import Ints, Problem, Windows, windows

TIME_S = 20.0  # given to one question put to the solver; what is not proven by then is said
LONGEST_D = 1e4  # slack before one point of no return, beyond any calendar
FEASIBLE, REFUSED, OPEN = "feasible", "refused", "open"


@dataclass(frozen=True, eq=False)
class Solved:
    """A plan of work. start : (n,) slots; finish : day; slack : days before points of no return;
    late : slots that get longer; proven : whether no better plan exists; earliest : day before
    which it is proven that none finishes."""

    start: Ints
    finish: int
    slack: int
    late: tuple[int, ...]
    proven: bool
    earliest: int


class _Model:
    """The unknowns and what binds them, for one day by which all is cured."""

    def __init__(self, problem: Problem, window: Windows, finish: int) -> None:
        self.p = p = problem
        may = p.allowed & (p.cured <= finish)
        may &= p.minutes[:, None] <= (p.capacity + p.extra)[None, :]
        slot = np.arange(p.slots)
        may &= (window.first[:, None] <= slot) & (slot <= window.last[:, None])
        self.own = [np.flatnonzero(row) for row in may]  # slots of every task
        edges = np.concatenate([[0], np.cumsum([len(own) for own in self.own])])
        self.at = [np.arange(a, b) for a, b in pairwise(edges)]  # its unknowns
        self.count = int(edges[-1])
        self.rows: list[tuple[Ints, NDArray[np.float64]]] = []
        self.least: list[float] = []
        self.most: list[float] = []
        self.late = np.zeros(0, dtype=np.int64)
        self.late_first = 0
        for at in self.at:
            self.line(at, np.ones(len(at)), 1.0, 1.0)

    def line(self, at: Ints, factors: NDArray[np.float64], least: float, most: float) -> None:
        """One line: least <= sum of factors times unknowns <= most."""
        used = factors != 0.0
        if used.any() or not least - 1e-9 <= 0.0 <= most + 1e-9:
            self.rows.append((at[used], factors[used]))
            self.least.append(least)
            self.most.append(most)

    def done(self, terms: list[tuple[int, int, float]], most: float) -> None:
        """Sum of factors times "task is done by slot" <= most, in as few unknowns as may be."""
        at, factors = [], []
        for i, t, factor in terms:
            by = (self.own[i] <= t).astype(float)
            if 2 * by.sum() > len(by):  # done by then = 1 - done later
                most -= factor
                by -= 1.0
            at.append(self.at[i])
            factors.append(factor * by)
        self.line(np.concatenate(at), np.concatenate(factors), -np.inf, most)

    def bind(self) -> None:
        """Order of the tasks."""
        p = self.p
        for i, j in p.after:
            self._wait(i, j, p.ready)
            self._one_sitting(i, j)
        for i, j in p.full:
            self._wait(i, j, p.whole)
        for i, j in p.within:
            assert p.latest is not None
            for t in map(int, self.own[j]):
                self.done([(j, t, 1.0), (i, int(p.latest[j, t]), -1.0)], 0.0)
        for i, later in p.either:
            for t in range(p.slots):
                self.done([*((k, t, 1.0) for k in later), (i, t, -1.0)], len(later) - 1.0)

    def _wait(self, i: int, j: int, ready: Ints) -> None:
        """Task i waits until what task j left is ready."""
        binds: dict[int, int] = {}  # slot by which j must be done -> last slot of i that needs it
        for t in map(int, self.own[i]):
            in_time = np.flatnonzero(ready[j, : t + 1] <= t)
            binds[int(in_time[-1]) if len(in_time) else -1] = t
        for until, t in binds.items():
            self.done([(i, t, 1.0), (j, until, -1.0)], 0.0)

    def _one_sitting(self, i: int, j: int) -> None:
        """Task i in the sitting of task j or on a later day, not beside it on the same day."""
        p = self.p
        for n, t in enumerate(self.own[i]):
            own = self.own[j]
            beside = self.at[j][(own < t) & (p.day[own] == p.day[t]) & (p.ready[j, own] <= t)]
            if len(beside):
                both = np.append(beside, self.at[i][n])
                self.line(both, np.ones(len(both)), -np.inf, 1.0)

    def room(self, late: bool) -> None:
        """Minutes of every slot; late : with an unknown for every slot that may get longer."""
        p = self.p
        if late:
            self.late = np.flatnonzero(p.extra > 0)
        self.late_first = self.count
        self.count += len(self.late)
        slots = np.concatenate(self.own)
        minutes = np.repeat(p.minutes, [len(own) for own in self.own]).astype(float)
        for t in range(p.slots):
            here = np.flatnonzero(slots == t)
            at, factors, most = here, minutes[here], float(p.capacity[t] + p.extra[t])
            if t in self.late:
                at = np.append(at, self.late_first + int(np.searchsorted(self.late, t)))
                factors = np.append(factors, -float(p.extra[t]))
                most = float(p.capacity[t])
            self.line(at, factors, -np.inf, most)

    def slacks(self) -> list[int]:
        """One unknown for every point of no return: whole days between ready and shut."""
        p, found = self.p, []
        for n in p.keep:
            before = [j for i, j in p.after if i == n]
            if not before:
                continue
            gap = self.count
            self.count += 1
            found.append(gap)
            for j in before:
                at = np.concatenate([[gap], self.at[n], self.at[j]])
                shut, touch = p.day[self.own[n]], p.touch[j, self.own[j]]
                self.line(at, np.concatenate([[1], -shut, touch]).astype(float), -np.inf, 0.0)
        return found

    def solve(
        self, cost: dict[int, float], whole: bool = True, gaps: list[int] | None = None
    ) -> tuple[str, NDArray[np.float64] | None]:
        """What the solver says, and the unknowns."""
        if self.count == 0:
            fits = all(low <= 0.0 <= high for low, high in zip(self.least, self.most))
            return (FEASIBLE, np.zeros(0)) if fits else (REFUSED, None)
        weights, upper, kind = np.zeros(self.count), np.ones(self.count), np.ones(self.count)
        weights[list(cost)] = list(cost.values())
        upper[gaps or []], kind[gaps or []] = LONGEST_D, 0.0
        ends = np.cumsum([0, *(len(at) for at, _ in self.rows)])
        matrix = csr_array(  # type: ignore[no-untyped-call]
            (
                np.concatenate([f for _, f in self.rows]),
                np.concatenate([a for a, _ in self.rows]),
                ends,
            ),
            shape=(len(self.rows), self.count),
        )
        answer = milp(  # type: ignore[no-untyped-call]
            weights,
            integrality=kind if whole else None,
            bounds=Bounds(0.0, upper),  # type: ignore[no-untyped-call]
            constraints=LinearConstraint(matrix, self.least, self.most),  # type: ignore[no-untyped-call]
            options={"time_limit": TIME_S},
        )
        state = {0: FEASIBLE, 2: REFUSED}.get(int(answer.status), OPEN)
        return state, answer.x

    def starts(self, found: NDArray[np.float64]) -> Ints:
        """The slot of every task."""
        return np.array([own[np.argmax(found[at])] for own, at in zip(self.own, self.at)])


def _model(problem: Problem, finish: int, late: bool = False) -> _Model | None:
    window = windows(problem, finish)
    if window.empty:
        return None
    model = _Model(problem, window, finish)
    model.bind()
    model.room(late)
    return model


def relaxed_finish(problem: Problem, most: int) -> int | None:
    """Least day the relaxed problem allows for all to be cured; None = none up to `most`."""

    def fits(finish: int) -> bool:
        model = _model(problem, finish)
        return model is not None and model.solve({}, whole=False)[0] != REFUSED

    if not fits(most):
        return None
    low, high = 0, most
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle + 1, high)
    return low


def feasible(problem: Problem, finish: int) -> tuple[str, Ints | None]:
    """Whether all can be cured by a day, and a plan that does it."""
    order = canonical_order(problem)
    model = _model(reordered(problem, order), finish)
    if model is None:
        return REFUSED, None
    state, found = model.solve({})
    return (state, None) if found is None else (FEASIBLE, model.starts(found)[np.argsort(order)])


def solve(problem: Problem, most: int) -> Solved | None:
    """The best plan of work up to a day; None = proven that there is none.

    Parameters
        problem : Problem - tasks and slots. [-]
        most : int - last day by which all must be cured. [d]
    Returns
        solved : Solved or None - proven says whether the solver could close every question. [-]
    Raises
        TimeoutError - the solver found no plan in its time, nor proved that there is none
    Validity
        Whole minutes; a task is not split over slots. Plan and time do not hang on the order in
        which the tasks are written.
    Source
        Time-indexed scheduling with disaggregated precedence, common practice; HiGHS.
    """
    order = canonical_order(problem)
    found = _solve(reordered(problem, order), most)
    return None if found is None else replace(found, start=found.start[np.argsort(order)])


def _solve(problem: Problem, most: int) -> Solved | None:
    finish = relaxed_finish(problem, most)
    if finish is None:
        return None
    proven, start, earliest = True, None, finish
    while start is None:
        model = _model(problem, finish)
        if model is not None:
            gaps = model.slacks()
            state, found = model.solve(dict.fromkeys(gaps, -1.0), gaps=gaps)
            proven &= state != OPEN
            start = None if found is None else model.starts(found)
        if start is None:
            earliest += proven  # as long as every day so far was refused, not given up
            finish += 1
            if finish > most:
                if proven:
                    return None
                raise TimeoutError("the solver found no plan of work in its time")
    slack = slack_of(problem, start)
    late: tuple[int, ...] = late_of(problem, start)
    if late:
        model = _model(problem, finish, late=True)
        assert model is not None
        gaps = model.slacks()
        if gaps:
            model.line(np.array(gaps), np.ones(len(gaps)), slack - 1e-6, np.inf)
        first = model.late_first
        state, found = model.solve({first + k: 1.0 for k in range(len(model.late))}, gaps=gaps)
        proven &= state == FEASIBLE
        if found is not None:
            start = model.starts(found)
        late = late_of(problem, start)
    return Solved(
        start=start, finish=finish, slack=slack, late=late, proven=proven, earliest=earliest
    )


def slack_of(problem: Problem, start: Ints) -> int:
    """Whole days, in all, between what points of no return wait for being ready and they."""
    total = 0
    for n in problem.keep:
        before = [int(problem.touch[j, start[j]]) for i, j in problem.after if i == n]
        total += int(problem.day[start[n]]) - max(before) if before else 0
    return total


def late_of(problem: Problem, start: Ints) -> tuple[int, ...]:
    """Slots that get longer than they should."""
    used = np.bincount(start, weights=problem.minutes, minlength=problem.slots)
    return tuple(int(t) for t in np.flatnonzero(used > problem.capacity + 1e-9))
