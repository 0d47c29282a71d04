"""How fast the flights are: 10 000 dispersed ones, pad to ground, against a plain Python loop.

    python benchmarks/flights.py

The floor is counted, not guessed: right-hand sides evaluated in each phase x the measured time of
one of that phase. Each evaluation waits for the one before, as in a flight. Processor time on one
core, the least of many short pieces: on a shared machine it tells more than wall time. The
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
    STAGES,
    TRIES,
    WIDE,
    K,
    blank_record,
    new_flight,
)
from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
FLIGHTS = 10_000
SLOW_FLIGHTS = 3
RATES = 20_000
PIECE = 20  # flights, some milliseconds
PIECES = 25


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


def processor_s(work: Callable[[], object]) -> float:
    """Least time on the processor of many runs, in s."""
    return best_s(work, 40, time.thread_time)


def counted(case: Case, sample: Trials) -> None:
    """One core: time of a flight against its evaluations x the time of one."""
    spacing = column_spacing(sample.parameters, case.motor)
    rows = ladder(spacing)
    blank = blank_record(
        burn_curve(case.motor), case.tables.mach_table, case.tables.scalars, spacing
    )
    w = new_flight(sample.parameters[0], blank)
    fill_column(w, rows, sample.seeds[0], True)
    each = {}
    for name, falling, speed in (("body", False, 90.0), ("descent", True, -6.0)):
        w[AHEAD : AHEAD + WIDE] = 0.0
        w[AHEAD + 2], w[AHEAD + 5], w[AHEAD + 6], w[AHEAD + 8] = 100.0, speed, 0.7, -0.71
        w[STRETCH], w[FILL], w[STRETCH + 2], w[FILL + 2] = -1e9, 1.0, np.inf, 1.0
        many_rates(w, falling, 10)
        each[name] = processor_s(lambda falling=falling: many_rates(w, falling, RATES)) / RATES
        line(f"one right-hand side, {name}", each[name], f"{each[name] * 1e9:.0f} ns")
    air = processor_s(lambda: [fill_column(w, rows, sample.seeds[0], True) for _ in range(99)]) / 99
    line("one column of air", air, f"{air * 1e6:.1f} us")
    total, floor = 0.0, 0.0
    for piece in range(PIECES):
        part = slice(piece * PIECE, (piece + 1) * PIECE)
        given = (sample.parameters[part], blank, rows, sample.seeds[part], case.deployment.by)
        tries = many_flights(*given, TOLERANCE)
        falls = tries[DESCENT] * (STAGES - 1) * each["descent"]
        floor += falls + (tries.sum() - tries[DESCENT]) * (STAGES - 1) * each["body"]
        total += processor_s(lambda given=given: many_flights(*given, TOLERANCE))
    flown = PIECES * PIECE
    line("one flight, processor time", total / flown, f"{total / flown * 1e6:.0f} us")
    line("floor: its evaluations x their time", floor / flown, f"x {total / floor:.2f} above")


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
