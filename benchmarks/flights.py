"""How fast the flights are: 10 000 dispersed ones, pad to ground, against a plain Python loop.

    python benchmarks/flights.py

The floor is counted, not guessed: right-hand sides evaluated in each phase x the measured time of
one of that phase that waits for the one before, as in a flight flown alone; and steps of each phase
x the measured time of one in a full block of flights. Processor time on one
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
from goodflight.physics.flight.block import climb, come_down, enter
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.compiled import compiled_owner
from goodflight.physics.flight.descent import FILL, STRETCH, descent_rates
from goodflight.physics.flight.forces import free_rates
from goodflight.physics.flight.history import HISTORY_COLUMNS
from goodflight.physics.flight.kernel import OUTCOME_COUNT
from goodflight.physics.flight.loop import climb_all, fly_runs, land_all, start_runs
from goodflight.physics.flight.record import (
    AHEAD,
    BLOCK,
    DESCENT,
    FREE,
    LANES,
    NEW,
    NOW,
    PIVOT,
    SEGMENT,
    SLIDING,
    STAGES,
    TRIED,
    TRIES,
    WIDE,
    K,
    Y,
    blank_record,
    fill_record,
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
STEPS = 2_000  # of a full block
AIRS = 99
PIECE = 32  # flights, some milliseconds
PIECES = 25
ROUNDS = 12  # pairs of a piece and its parts


@compiled_owner
def many_rates(w: Array, falling: bool, count: int) -> None:
    """Evaluate one flight `count` times, each state a little off by the rates of the one before."""
    for _ in range(count):
        if falling:
            descent_rates(5.0, w, AHEAD)
        else:
            free_rates(5.0, w, AHEAD, 99)
        for j in range(WIDE):
            w[AHEAD + j] += 1e-12 * w[NEW + j]


@compiled_owner
def many_steps(ws: Array, q: Array, falling: bool, count: int) -> None:
    """`count` steps of a full block, nothing noted; each a little off by the one before."""
    rows = np.arange(len(ws))
    for _ in range(count):
        if falling:
            come_down(ws, rows, len(ws), q)
        else:
            climb(ws, rows, len(ws), q)
        for n in range(len(ws)):
            for j in range(WIDE):
                ws[n, Y + j] += 1e-12 * ws[n, AHEAD + j]


@compiled_owner
def count_tries(parameters: Array, blank: Array, air: Array, seeds: Array, how: Array) -> Array:
    """Steps tried in each of the four phases by a piece of flights."""
    ws, rows, q = (
        np.empty((len(parameters), len(blank))),
        np.empty(LANES, np.int64),
        np.zeros(BLOCK),
    )
    out, tracks = np.empty((len(parameters), OUTCOME_COUNT)), np.empty((1, 0, 1))
    ends = np.arange(len(parameters) + 1)
    start_runs(ws, parameters, blank, air, seeds, ends, out, how)
    count = climb_all(ws, parameters, len(parameters), rows, out, tracks, how, q)
    land_all(ws, count, False, ends, rows, out, tracks, how, q)
    tries = np.zeros(4)
    for w in ws:
        tries += w[TRIES : TRIES + 4]
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
    w[K : K + WIDE], w[NOW], w[SEGMENT], w[TRIED] = 0.0, 5.0, 99, 1e-6
    return w


def counted(case: Case, sample: Trials) -> None:
    """One core: time of a flight against its evaluations x the time of one.

    What is counted: (stages - 1) evaluations for each step tried; not those at events, before
    lift-off and for the greatest values. Twice: with the time of one evaluation of one flight that
    waits for the one before, and with what a step of a full block takes per flight, sums included
    (those on the rail are flown alone). A piece of flights and the parts it is held against run in
    turn, so that a busy hour slows both; the ratio is the median of all pairs. The parts have all
    they read in the nearest cache.
    """
    spacing = column_spacing(sample.parameters, case.motor)
    air = ladder(spacing)
    blank = blank_record(
        burn_curve(case.motor), case.tables.mach_table, case.tables.scalars, spacing
    )
    how = np.array([case.deployment.by, 0.0, TOLERANCE, 1.0])
    w = np.empty(len(blank))
    fill_record(w, sample.parameters[0], blank)
    fill_column(w, air, sample.seeds[0], True)
    up, down = in_flight(w, False), in_flight(w, True)
    blocks = {falling: np.tile(in_flight(w, falling), (LANES, 1)) for falling in (False, True)}
    q = np.zeros(BLOCK)
    for n in range(LANES):
        enter(blocks[False][n], q, n)
    parts: dict[str, tuple[Callable[[], object], int]] = {
        "one right-hand side, body": (lambda: many_rates(up, False, RATES), RATES),
        "one right-hand side, descent": (lambda: many_rates(down, True, RATES), RATES),
        "a step side by side, body": (
            lambda: many_steps(blocks[False], q, False, STEPS),
            STEPS * LANES,
        ),
        "a step side by side, descent": (
            lambda: many_steps(blocks[True], q, True, STEPS),
            STEPS * LANES,
        ),
        "one column of air": (
            lambda: [fill_column(w, air, sample.seeds[0], True) for _ in range(AIRS)],
            AIRS,
        ),
    }
    for work, _ in parts.values():
        work()  # compiled before it is timed
    times: dict[str, list[float]] = {name: [] for name in parts}
    flights, alone, beside = [], [], []
    out, none = np.empty((PIECE, OUTCOME_COUNT)), np.empty((1, 0, HISTORY_COLUMNS))
    starts = np.arange(PIECE + 1)
    for piece in range(PIECES):
        part = slice(piece * PIECE, (piece + 1) * PIECE)
        rows, seeds = sample.parameters[part], sample.seeds[part]
        tries = count_tries(rows, blank, air, seeds, how) / PIECE
        falls, rail = tries[DESCENT], tries[SLIDING] + tries[PIVOT]

        def fly(rows: Array = rows, seeds: NDArray[np.uint64] = seeds) -> None:
            fly_runs(rows, blank, seeds, starts, out, none, how)

        for _ in range(ROUNDS):
            flights.append(once_s(fly) / PIECE)
            for name, (work, count) in parts.items():
                times[name].append(once_s(work) / count)
            body, descent, step, fall, column = (each[-1] for each in times.values())
            alone.append((STAGES - 1) * ((rail + tries[FREE]) * body + falls * descent))
            on_rail = (STAGES - 1) * rail * body
            beside.append(on_rail + tries[FREE] * step + falls * fall + column)
    for name, each in times.items():
        line(name, min(each), f"{min(each) * 1e9:.0f} ns, median {np.median(each) * 1e9:.0f}")
    flight = np.array(flights)
    line("one flight, processor time", flight.min(), f"median {np.median(flight) * 1e6:.0f} us")
    for title, each in (
        ("floor: its evaluations one by one", np.array(alone)),
        ("floor: its steps side by side, air", np.array(beside)),
    ):
        low, middle, high = np.quantile(flight / each, (0.25, 0.5, 0.75))
        note = f"flight x {middle:.2f}, half of pairs {low:.2f} to {high:.2f}"
        line(title, float(np.median(each)), note)


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
