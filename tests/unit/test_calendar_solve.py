"""The solver's plan of work against all plans there are, on small random ones."""

import itertools
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from goodflight.studies.calendar.canonical import reordered
from goodflight.studies.calendar.problem import NEVER, Ints, Problem
from goodflight.studies.calendar.solve import OPEN, _Model, solve


def random_plan(seed: int) -> Problem:
    """Four or five tasks in five to seven slots, two of which may share a day."""
    r = np.random.default_rng(seed)
    n, slots = int(r.integers(3, 6)), int(r.integers(5, 8))
    day = np.sort(r.choice(np.repeat(np.arange(slots), 2), slots, replace=False))
    minutes = r.integers(2, 9, n) * 10
    lag = np.where(r.random(n) < 0.5, 0, r.integers(1, 3, n))
    cold = np.cumsum(r.random(slots) < 0.3)  # the later, the colder: a cure that grows
    touch = np.where(lag[:, None] == 0, day, day + lag[:, None] + (cold // 2)[None, :])
    ready = np.searchsorted(day, touch)
    ready = np.where(lag[:, None] == 0, np.arange(slots), np.where(ready < slots, ready, NEVER))
    after = tuple((i, int(j)) for i in range(1, n) for j in range(i) if r.random() < 0.4)
    either = ((0, (n - 1, n - 2)),) if r.random() < 0.4 else ()
    return Problem(
        minutes,
        r.choice([40, 60, 90, 120], slots),
        r.choice([0, 0, 30], slots),
        day,
        r.random((n, slots)) < 0.85,
        ready,
        touch,
        touch + lag[:, None] + 1,
        _later(day, touch, lag),
        after,
        tuple(pair for pair in after if r.random() < 0.7),
        either,
        tuple(int(k) for k in np.flatnonzero(r.random(n) < 0.4)),
        tuple(pair for pair in after if r.random() < 0.3),
        np.minimum(np.arange(slots) + r.integers(1, 4, n)[:, None], slots - 1),
    )


def _later(day: NDArray[np.int64], touch: NDArray[np.int64], lag: NDArray[np.int64]) -> Ints:
    """First slot in which all has cured, as many days again after it may be touched."""
    found = np.searchsorted(day, touch + lag[:, None])
    found = np.where(found < len(day), found, NEVER)
    return np.where(lag[:, None] == 0, np.arange(len(day)), found)


def _keeps(p: Problem, start: tuple[int, ...]) -> bool:
    used = [0] * p.slots
    for i, t in enumerate(start):
        used[t] += int(p.minutes[i])
        if not p.allowed[i, t]:
            return False
    if any(used[t] > p.capacity[t] + p.extra[t] for t in range(p.slots)):
        return False
    for i, j in p.after:
        if start[i] < p.ready[j, start[j]]:
            return False
        if start[i] != start[j] and p.day[start[i]] == p.day[start[j]]:
            return False
    assert p.latest is not None
    if any(start[i] > p.latest[j, start[j]] for i, j in p.within):
        return False
    if any(start[i] < p.whole[j, start[j]] for i, j in p.full):
        return False
    return all(any(start[k] >= start[i] for k in later) for i, later in p.either)


def _worth(p: Problem, start: tuple[int, ...]) -> tuple[int, int, int]:
    """Finish, slack with a minus, late evenings: the smaller, the better."""
    finish = max(int(p.cured[i, t]) for i, t in enumerate(start))
    slack = 0
    for n in p.keep:
        before = [int(p.touch[j, start[j]]) for i, j in p.after if i == n]
        slack += int(p.day[start[n]]) - max(before) if before else 0
    used = [0] * p.slots
    for i, t in enumerate(start):
        used[t] += int(p.minutes[i])
    return finish, -slack, sum(used[t] > p.capacity[t] for t in range(p.slots))


def best(p: Problem, most: int) -> tuple[int, int, int] | None:
    """The best of all plans, by trying each."""
    found = [
        _worth(p, start)
        for start in itertools.product(range(p.slots), repeat=p.tasks)
        if _keeps(p, start)
    ]
    fit = [worth for worth in found if worth[0] <= most]
    return min(fit) if fit else None


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_optimum_is_the_best_of_all_plans(first: int) -> None:
    """Exact: every assignment of tasks to slots is tried."""
    for seed in range(first, first + 20):
        p = random_plan(seed)
        wanted, solved = best(p, 12), solve(p, 12)
        if wanted is None:
            assert solved is None, seed
            continue
        assert solved is not None and solved.proven, seed
        start = tuple(int(t) for t in solved.start)
        assert _keeps(p, start), seed
        assert _worth(p, start) == wanted, seed
        assert (solved.finish, -solved.slack, len(solved.late)) == wanted, seed


def test_the_plan_does_not_hang_on_the_order_in_which_tasks_are_written() -> None:
    """Tasks turned round and shuffled: the same slot for each, so equal plans are not swapped."""
    shuffled = np.random.default_rng(1)
    for seed in range(20):
        p = random_plan(seed)
        told = solve(p, 12)
        for order in (np.arange(p.tasks)[::-1], shuffled.permutation(p.tasks)):
            other = solve(reordered(p, order), 12)
            assert (told is None) == (other is None), seed
            if told is not None and other is not None:
                assert np.array_equal(told.start[order], other.start), seed


def test_some_plans_are_possible_and_some_are_not() -> None:
    """The random plans above are of both kinds."""
    kinds = {best(random_plan(seed), 12) is None for seed in range(20)}
    assert kinds == {True, False}


@pytest.mark.parametrize("given_up", [0, 1, 2])
def test_what_the_solver_gives_up_leaves_the_day_that_none_can_beat(
    monkeypatch: pytest.MonkeyPatch, given_up: int
) -> None:
    """Every seed's optimum is known; the first questions are answered as if time had run out."""
    answer, left = _Model.solve, [0]

    def out_of_time(
        model: Any, cost: dict[int, float], whole: bool = True, gaps: list[int] | None = None
    ) -> tuple[NDArray[np.float64] | str | None, ...]:
        state, found = answer(model, cost, whole, gaps)
        if not whole or left[0] == 0:
            return state, found
        left[0] -= 1
        return OPEN, None

    monkeypatch.setattr(_Model, "solve", out_of_time)
    told = 0
    for seed in range(20):
        problem = random_plan(seed)
        left[0] = 0
        best = solve(problem, 12)
        if best is None:
            continue
        assert best.proven and best.earliest == best.finish
        left[0] = given_up
        try:
            found = solve(problem, 12)
        except TimeoutError:
            continue
        assert found is not None and found.earliest <= best.finish <= found.finish
        assert found.proven == (found.finish == best.finish and given_up == 0)
        told += 1
    assert told > 5
