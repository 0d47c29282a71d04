"""The best plan of work, proven: earliest finish, then slack, then fewest late evenings.

Each task has one unknown for every slot it may be done in: 1 once it is done by then. Waiting for
a cure is a comparison of two of them, so that the relaxed problem is close to the true one. The
finish is searched from the least day the relaxed problem allows; every refused day is a proof.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[attr-defined]
from scipy.sparse import coo_array

from goodflight.studies.calendar.problem import Ints, Problem, Windows, windows

TIME_S = 20.0  # given to one question put to the solver; what is not proven by then is said
FEASIBLE, REFUSED, OPEN = "feasible", "refused", "open"


@dataclass(frozen=True, eq=False)
class Solved:
    """A plan of work. start : (n,) slots; finish : day; slack : days before points of no return;
    late : slots that get longer; proven : whether no better plan exists."""

    start: Ints
    finish: int
    slack: int
    late: tuple[int, ...]
    proven: bool


class _Model:
    """The unknowns and what binds them, for one day by which all is cured."""

    def __init__(self, problem: Problem, window: Windows, finish: int) -> None:
        self.p, self.w = problem, window
        p = problem
        self.count = 0
        self.index = np.full((p.tasks, p.slots), -1, dtype=np.int64)  # -1 not yet, -2 surely done
        may = p.allowed & (p.cured <= finish)
        may &= p.minutes[:, None] <= (p.capacity + p.extra)[None, :]
        for i in range(p.tasks):
            last = window.last[i]
            self.index[i, last:] = -2
            slots = np.flatnonzero(may[i, window.first[i] : last]) + window.first[i]
            for number, slot in enumerate(slots):
                until = slots[number + 1] if number + 1 < len(slots) else last
                self.index[i, slot:until] = self.count + number
            self.count += len(slots)
        self.may = may
        self.rows: list[list[tuple[int, float]]] = []
        self.least: list[float] = []
        self.most: list[float] = []
        self.late = np.zeros(0, dtype=np.int64)
        self.late_first = 0

    def add(self, terms: list[tuple[int, float]], least: float, most: float) -> None:
        """One line: least <= sum of terms <= most; an index of -1 is 0, of -2 is 1."""
        sure = sum(factor for index, factor in terms if index == -2)
        open_ = [(index, factor) for index, factor in terms if index >= 0]
        if open_ or not least - 1e-9 <= sure <= most + 1e-9:
            self.rows.append(open_)
            self.least.append(least - sure)
            self.most.append(most - sure)

    def bind(self) -> None:
        """Order of the slots, of the tasks, and the time there is."""
        p, index = self.p, self.index
        for i in range(p.tasks):
            own = np.unique(index[i][index[i] >= 0])
            for a, b in pairwise(own):
                self.add([(a, 1.0), (b, -1.0)], -np.inf, 0.0)
        for i, j in p.after:
            self._wait(i, j, p.ready)
            self._one_sitting(i, j)
        for i, j in p.full:
            self._wait(i, j, p.whole)
        for i, j in p.within:
            assert p.latest is not None
            for t in range(p.slots):
                done = int(index[j, t])
                soon = int(index[i, p.latest[j, t]])
                if done != -1 and soon != -2:
                    self.add([(done, 1.0), (soon, -1.0)], -np.inf, 0.0)
        for i, later in p.either:
            for t in range(p.slots):
                terms = [(int(index[k, t]), 1.0) for k in later]
                done = int(index[i, t])
                self.add([*terms, (done, -1.0)], -np.inf, len(later) - 1.0)

    def _wait(self, i: int, j: int, ready: Ints) -> None:
        """Task i waits until what task j left is ready."""
        index = self.index
        seen = None
        for t in range(self.w.first[i], self.w.last[i] + 1):
            in_time = np.flatnonzero(ready[j, : t + 1] <= t)
            until = int(index[j, in_time[-1]]) if len(in_time) else -1
            pair = (int(index[i, t]), until)
            if pair != seen and until != -2 and pair[0] != -1:
                self.add([(pair[0], 1.0), (until, -1.0)], -np.inf, 0.0)
            seen = pair

    def _one_sitting(self, i: int, j: int) -> None:
        """Task i in the sitting of task j or on a later day, not beside it on the same day."""
        p, index = self.p, self.index
        for t in np.flatnonzero(self.may[i]):
            for s in np.flatnonzero(self.may[j] & (p.day == p.day[t])):
                if s < t and p.ready[j, s] <= t:
                    terms = [
                        (int(index[i, t]), 1.0),
                        (int(index[i, t - 1]), -1.0),
                        (int(index[j, s]), 1.0),
                        (int(index[j, s - 1]) if s else -1, -1.0),
                    ]
                    self.add(terms, -np.inf, 1.0)

    def room(self, late: bool) -> None:
        """Minutes of every slot; late : with an unknown for every slot that may get longer."""
        p = self.p
        longer = np.flatnonzero(p.extra > 0) if late else np.zeros(0, dtype=np.int64)
        self.late = longer
        self.late_first = self.count
        place = {int(t): self.count + k for k, t in enumerate(longer)}
        self.count += len(longer)
        for t in range(p.slots):
            terms: dict[int, float] = {}
            for i in np.flatnonzero(self.may[:, t]):
                if not self.w.first[i] <= t <= self.w.last[i]:
                    continue
                for index, sign in (
                    (int(self.index[i, t]), 1.0),
                    (int(self.index[i, t - 1]) if t else -1, -1.0),
                ):
                    terms[index] = terms.get(index, 0.0) + sign * float(p.minutes[i])
            if t in place:
                terms[place[t]] = -float(p.extra[t])
            most = float(p.capacity[t] + (0 if late else p.extra[t]))
            self.add(list(terms.items()), -np.inf, most)

    def day_terms(self, i: int, days: Ints) -> tuple[list[tuple[int, float]], float]:
        """The day a task's slot means, as terms and a constant."""
        own = self.index[i]
        slots = [t for t in range(self.w.first[i], self.w.last[i] + 1) if self.may[i, t]]
        constant = float(days[slots[-1]])
        terms = [(int(own[t]), float(days[t] - days[u])) for t, u in pairwise(slots) if own[t] >= 0]
        return terms, constant

    def slacks(self) -> list[int]:
        """One unknown for every point of no return: whole days between ready and shut."""
        found = []
        for n in self.p.keep:
            before = [j for i, j in self.p.after if i == n]
            if not before:
                continue
            gap = self.count
            self.count += 1
            found.append(gap)
            shut, c0 = self.day_terms(n, self.p.day)
            for j in before:
                touch, c1 = self.day_terms(j, self.p.touch[j])
                terms = [(gap, 1.0), *((k, -f) for k, f in shut), *touch]
                self.add(terms, -np.inf, c0 - c1)
        return found

    def solve(
        self,
        cost: dict[int, float],
        whole: bool = True,
        gaps: list[int] | None = None,
        seconds: float = TIME_S,
    ) -> tuple[str, NDArray[np.float64] | None]:
        """What the solver says, and the unknowns."""
        weights = np.zeros(self.count)
        for index, weight in cost.items():
            weights[index] = weight
        upper, kind = np.ones(self.count), np.ones(self.count)
        for gap in gaps or ():
            upper[gap], kind[gap] = 1e4, 0.0
        if self.count == 0:
            fits = all(low <= 0.0 <= high for low, high in zip(self.least, self.most))
            return (FEASIBLE, np.zeros(0)) if fits else (REFUSED, None)
        rows = [n for n, row in enumerate(self.rows) for _ in row]
        columns = [index for row in self.rows for index, _ in row]
        values = [factor for row in self.rows for _, factor in row]
        shape = len(self.rows), self.count
        matrix = coo_array((values, (rows, columns)), shape=shape)  # type: ignore[no-untyped-call]
        least, most = np.array(self.least), np.array(self.most)
        bound = LinearConstraint(matrix, least, most)  # type: ignore[no-untyped-call]
        answer = milp(  # type: ignore[no-untyped-call]
            weights,
            integrality=kind if whole else None,
            bounds=Bounds(0.0, upper),  # type: ignore[no-untyped-call]
            constraints=bound if self.rows else (),
            options={"time_limit": seconds},
        )
        state = {0: FEASIBLE, 2: REFUSED}.get(int(answer.status), OPEN)
        return state, answer.x

    def starts(self, found: NDArray[np.float64]) -> Ints:
        """The slot of every task."""
        start = self.w.last.copy()
        for i in range(self.p.tasks):
            for t in range(self.w.first[i], self.w.last[i]):
                index = self.index[i, t]
                if index >= 0 and found[index] > 0.5:
                    start[i] = t
                    break
        return start


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
    model = _model(problem, finish)
    if model is None:
        return REFUSED, None
    state, found = model.solve({})
    return (state, None) if found is None else (FEASIBLE, model.starts(found))


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
        Whole minutes; a task is not split over slots.
    Source
        Time-indexed scheduling with disaggregated precedence, common practice; HiGHS.
    """
    finish = relaxed_finish(problem, most)
    if finish is None:
        return None
    proven = True
    start = None
    while start is None:
        state, start = feasible(problem, finish)
        proven &= state != OPEN
        if start is None:
            finish += 1
            if finish > most:
                if proven:
                    return None
                raise TimeoutError("the solver found no plan of work in its time")
    model = _model(problem, finish)
    assert model is not None
    gaps = model.slacks()
    slack = 0
    if gaps:
        state, found = model.solve(dict.fromkeys(gaps, -1.0), gaps=gaps)
        proven &= state == FEASIBLE
        if found is not None:
            start = model.starts(found)
        slack = slack_of(problem, start)
    late: tuple[int, ...] = late_of(problem, start)
    if late:
        model = _model(problem, finish, late=True)
        assert model is not None
        gaps = model.slacks()
        if gaps:
            model.add([(gap, 1.0) for gap in gaps], slack - 1e-6, np.inf)
        first = model.late_first
        state, found = model.solve({first + k: 1.0 for k in range(len(model.late))}, gaps=gaps)
        proven &= state == FEASIBLE
        if found is not None:
            start = model.starts(found)
        late = late_of(problem, start)
    return Solved(start, finish, slack, late, proven)


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
