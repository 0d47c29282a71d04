"""How fast the flights are: 10 000 dispersed ones, pad to ground, against a plain Python loop.

    python benchmarks/flights.py

The floor is counted, not guessed: right-hand sides evaluated in each phase x the measured time of
one of that phase. Each evaluation waits for the one before, as in a flight. Processor time on one
core, flights and evaluations in turn, the median of many pairs: on a shared machine two least
times need not be from the same hour, and their ratio moved by a tenth. The
comparison is the slow scipy model of tests/independent (RK45 at the same order of tolerance, mean
wind only), flown in the same run.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from measure import best_s, line
from numpy.typing import NDArray

from goodflight.physics.flight import (
    OUTCOME_INDEX,
    PARAMETERS,
    TOLERANCE,
    column_spacing,
    fly_ensemble,
)
from goodflight.physics.flight.alike import fly_alike
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.compiled import compiled_owner
from goodflight.physics.flight.descent import FILL, STRETCH, descent_rates
from goodflight.physics.flight.forces import free_rates
from goodflight.physics.flight.kernel import OUTCOME_COUNT
from goodflight.physics.flight.record import (
    AHEAD,
    DESCENT,
    NARROW,
    STAGES,
    TRIES,
    WIDE,
    K,
    Y,
    blank_record,
    new_flight,
)
from goodflight.physics.flight.stepper import advance, max_miss
from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
FLIGHTS = 10_000
SLOW_FLIGHTS = 3
RATES = 20_000
SUMS = 20_000
AIRS = 99
PIECE = 20  # flights, some milliseconds
PIECES = 25
ROUNDS = 12  # pairs of a piece and its parts


@compiled_owner
def many_rates(w: Array, falling: bool, count: int) -> None:
    """Evaluate `count` times, each state a little off by the rates of the one before."""
    for i in range(count):
        if falling:
            descent_rates(5.0, w, AHEAD, i % STAGES)
        else:
            free_rates(5.0, w, AHEAD, i % STAGES, 99, i % STAGES == STAGES - 1)
        for j in range(WIDE):
            w[AHEAD + j] += 1e-12 * w[K + (i % STAGES) * WIDE + j]


@compiled_owner
def many_sums(w: Array, falling: bool, count: int) -> None:
    """The sums of `count` steps, without their right-hand sides; each step a little off."""
    for _ in range(count):
        if falling:
            for stage in range(1, STAGES):
                advance(stage, 1e-3, NARROW, w)
            w[Y] += 1e-12 * max_miss(1e-3, NARROW, w)
        else:
            for stage in range(1, STAGES):
                advance(stage, 1e-3, WIDE, w)
            w[Y] += 1e-12 * max_miss(1e-3, WIDE, w)


@compiled_owner
def many_flights(
    parameters: Array, blank: Array, rows: Array, seeds: Array, deployment: int, tolerance: float
) -> Array:
    """Fly one after the other; steps tried in each of the four phases."""
    tries = np.zeros(4)
    out, track = np.empty((1, OUTCOME_COUNT)), np.empty((0, 1))
    for i in range(len(parameters)):
        w = new_flight(parameters[i], blank)
        fill_column(w, rows, seeds[i], True)
        fly_alike(w, w, parameters[i : i + 1], out, deployment, track, 0.0, tolerance)
        for j in range(4):
            tries[j] += w[TRIES + j]
    return tries


def once_s(work: Callable[[], object]) -> float:
    """Time of one run on the processor, in s."""
    start = time.thread_time()
    work()
    return time.thread_time() - start


def in_flight(w: Array, falling: bool) -> Array:
    """A copy of a record 100 m up: coasting at 90 m/s, nearly upright, or under a canopy."""
    w = w.copy()
    w[AHEAD : AHEAD + WIDE] = 0.0
    w[AHEAD + 2], w[AHEAD + 5], w[AHEAD + 6], w[AHEAD + 8] = 100.0, 90.0, 0.7, -0.71
    if falling:
        w[AHEAD + 5] = -6.0
    w[STRETCH], w[FILL], w[STRETCH + 2], w[FILL + 2] = -1e9, 1.0, np.inf, 1.0
    w[Y : Y + WIDE] = w[AHEAD : AHEAD + WIDE]
    return w


def counted(case: Case, sample: Trials) -> None:
    """One core: time of a flight against its evaluations x the time of one.

    What is counted: (stages - 1) evaluations for each step tried, those on the rail as free ones;
    not those at events, before lift-off and for the greatest values. A piece of flights and the
    parts it is held against run in turn, so that a busy hour slows both; the ratio is the median
    of all pairs. The single evaluations have all they read in the nearest cache, as a flight has
    (20 kB).
    """
    spacing = column_spacing(sample.parameters, case.motor)
    rows = ladder(spacing)
    blank = blank_record(
        burn_curve(case.motor), case.tables.mach_table, case.tables.scalars, spacing
    )
    w = new_flight(sample.parameters[0], blank)
    fill_column(w, rows, sample.seeds[0], True)
    up, down = in_flight(w, False), in_flight(w, True)
    parts: dict[str, tuple[Callable[[], object], int]] = {
        "one right-hand side, body": (lambda: many_rates(up, False, RATES), RATES),
        "one right-hand side, descent": (lambda: many_rates(down, True, RATES), RATES),
        "sums of one step, body": (lambda: many_sums(up, False, SUMS), SUMS),
        "sums of one step, descent": (lambda: many_sums(down, True, SUMS), SUMS),
        "one column of air": (
            lambda: [fill_column(w, rows, sample.seeds[0], True) for _ in range(AIRS)],
            AIRS,
        ),
    }
    for work, _ in parts.values():
        work()  # compiled before it is timed
    times: dict[str, list[float]] = {name: [] for name in parts}
    flights, floors, sums = [], [], []
    for piece in range(PIECES):
        part = slice(piece * PIECE, (piece + 1) * PIECE)
        given = (sample.parameters[part], blank, rows, sample.seeds[part], case.deployment.by)
        tries = many_flights(*given, TOLERANCE) / PIECE
        falls, others = tries[DESCENT], tries.sum() - tries[DESCENT]
        for _ in range(ROUNDS):
            flights.append(once_s(lambda given=given: many_flights(*given, TOLERANCE)) / PIECE)
            for name, (work, count) in parts.items():
                times[name].append(once_s(work) / count)
            body, descent, body_sums, descent_sums, air = (each[-1] for each in times.values())
            floors.append((STAGES - 1) * (others * body + falls * descent))
            sums.append(others * body_sums + falls * descent_sums + air)
    for name, each in times.items():
        line(name, min(each), f"{min(each) * 1e9:.0f} ns, median {np.median(each) * 1e9:.0f}")
    flight, floor, rest = np.array(flights), np.array(floors), np.array(sums)
    line("one flight, processor time", flight.min(), f"median {np.median(flight) * 1e6:.0f} us")
    low, middle, high = np.quantile(flight / floor, (0.25, 0.5, 0.75))
    note = f"flight x {middle:.2f} above, half of pairs {low:.2f} to {high:.2f}"
    line("floor: its evaluations x their time", float(np.median(floor)), note)
    note = f"flight x {np.median(flight / (floor + rest)):.2f} above"
    line("floor, sums of the steps, air", float(np.median(floor + rest)), note)


def main() -> None:
    sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "independent"))
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        case = case_of(load(Path(folder) / "demo"))
    sample = make_trials(case, FLIGHTS, 1)

    def all_flights() -> np.ndarray:
        return fly_ensemble(case.launch, sample.parameters, sample.seeds)

    out = all_flights()
    fast = best_s(all_flights)
    steps = float(out[:, OUTCOME_INDEX["steps"]].mean())
    line(f"{FLIGHTS} flights, pad to ground, gusts", fast, f"{steps:.0f} steps a flight")
    counted(case, sample)

    from slow_flight import SlowFlight
    from slow_vehicle import SlowVehicle

    values = dict(zip(PARAMETERS, map(float, sample.parameters[0]), strict=True))
    vehicle = SlowVehicle(values, case.motor, case.tables)

    def slow() -> None:
        flight = SlowFlight(vehicle, case.deployment.by)
        flight.solver = {"method": "RK45", "rtol": 1e-4, "atol": 1e-4}
        flight.run()

    one = best_s(slow, SLOW_FLIGHTS)
    line("one flight in plain Python with scipy", one, f"{1 / one:.1f} a second")
    print(f"ratio, flight for flight: {one / (fast / FLIGHTS):.0f}")


if __name__ == "__main__":
    main()
