"""How fast the calendar is proven best: 60 steps over 8 weeks, and the whole answer of a project.

    python benchmarks/work_plan.py

Random plans of 60 steps: 20 to 70 min each, half of them to cure 1 to 4 days, one or two that each
waits for, six points of no return, evenings of 2 to 4 h and weekends of 5 h, some days without.
"""

import time

import numpy as np
from measure import best_s, line

from goodflight.studies.calendar.problem import Problem
from goodflight.studies.calendar.solve import solve

AIM_S = 3.0
STEPS, DAYS = 60, 56
SEEDS, RUNS = 24, 2


def plan(seed: int, evening: int, late: int) -> Problem:
    """One random plan of work."""
    r = np.random.default_rng(seed)
    day = np.arange(DAYS)
    capacity = np.where(day % 7 >= 5, 300, evening)
    capacity[r.random(DAYS) < 0.15] = 0
    lag = np.where(r.random(STEPS) < 0.5, 0, r.integers(1, 5, STEPS))[:, None]
    ready = np.where(lag == 0, day, day + lag)
    after = tuple(
        (i, int(j))
        for i in range(1, STEPS)
        for j in r.choice(i, min(i, int(r.integers(1, 3))), replace=False)
    )
    return Problem(
        r.integers(2, 8, STEPS) * 10,
        capacity,
        np.where(capacity > 0, late, 0),
        day,
        np.ones((STEPS, DAYS), dtype=bool),
        ready,
        ready,
        day + 2 * lag + 1,
        ready,
        after,
        keep=tuple(int(k) for k in r.choice(STEPS, 6, replace=False)),
    )


def main() -> None:
    for seed in range(SEEDS):
        evening, late = (120, 180, 240)[seed % 3], (0, 60)[seed % 2]
        problem = plan(seed, evening, late)
        solved = solve(problem, DAYS)
        spent = best_s(lambda p=problem: solve(p, DAYS), RUNS, time.process_time)
        waited = best_s(lambda p=problem: solve(p, DAYS), RUNS)
        state = "no plan" if solved is None else "proven" if solved.proven else "NOT PROVEN"
        name = f"{STEPS} steps, {evening} min evenings, {late} late, seed {seed}: {state}"
        line(name, spent, f"aim {AIM_S:g} s; wall {waited:.2f} s")


if __name__ == "__main__":
    main()
