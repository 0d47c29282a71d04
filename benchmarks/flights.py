"""How fast the flights are: 10 000 dispersed ones, pad to ground, against a plain Python loop.

    python benchmarks/flights.py

The floor is counted, not guessed: right-hand sides evaluated x the measured time of one, over the
cores. The comparison is the slow scipy model of tests/independent (RK45 at the same order of
tolerance, mean wind only), flown in the same run.
"""

import os
import sys
import tempfile
from pathlib import Path

import numpy as np
from measure import best_s, line

from goodflight.physics.flight import OUTCOME_INDEX, PARAMETERS, fly_ensemble
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.column import fill_column
from goodflight.physics.flight.compiled import compiled_owner
from goodflight.physics.flight.ensemble import column_spacing
from goodflight.physics.flight.kernel import new_flight
from goodflight.physics.flight.stepper import DESCENT, FREE, rates
from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling.trials import make_trials

FLIGHTS = 10_000
SLOW_FLIGHTS = 3
RATES = 200_000
STAGES_PER_STEP = 6


@compiled_owner
def many_rates(p, curve, table, scalars, spacing, generator, phase, count):
    w = new_flight(p, curve, table, scalars, spacing)
    w.generator[0] = generator
    fill_column(w.column, p, spacing, w.generator, True)
    w.canopies[:, 0], w.canopies[:, 1] = -1e9, 1.0
    w.y[2], w.y[5], w.y[6] = 100.0, 90.0, 0.7
    w.y[8] = -0.71
    for i in range(count):
        rates(phase, 0.5, w.y, i % 7, 2, 1.6, w)
        w.y[2] += 1e-5
    return w.k[0, 3]


def main() -> None:
    sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "independent"))
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        case = case_of(load(Path(folder) / "demo"))
    sample = make_trials(case, FLIGHTS, 1)

    def all_flights() -> np.ndarray:
        return fly_ensemble(
            sample.parameters, case.motor, case.tables, sample.seeds, case.deployment
        )

    out = all_flights()
    fast = best_s(all_flights)
    steps = float(out[:, OUTCOME_INDEX["steps"]].mean())
    line(f"{FLIGHTS} flights, pad to ground, gusts", fast, f"{steps:.0f} steps a flight")

    spacing = column_spacing(sample.parameters, case.motor)
    arguments = (sample.parameters[0], burn_curve(case.motor), case.tables.mach_table,
                 case.tables.scalars, spacing, sample.seeds[0])  # fmt: skip
    each = {}
    for name, phase in (("free", FREE), ("descent", DESCENT)):
        many_rates(*arguments, phase, 10)
        each[name] = best_s(lambda phase=phase: many_rates(*arguments, phase, RATES)) / RATES
        line(f"one right-hand side, {name}", each[name], f"{each[name] * 1e9:.0f} ns")
    cores = os.cpu_count() or 1
    # about half of the steps are free flight, half descent
    floor = FLIGHTS * steps * STAGES_PER_STEP * 0.5 * (each["free"] + each["descent"]) / cores
    line(f"floor: evaluations x their time / {cores} cores", floor, f"x {fast / floor:.2f} above")

    from slow_flight import SlowFlight
    from slow_vehicle import SlowVehicle

    values = dict(zip(PARAMETERS, map(float, sample.parameters[0]), strict=True))
    vehicle = SlowVehicle(values, case.motor, case.tables)

    def slow() -> None:
        flight = SlowFlight(vehicle, case.deployment)
        flight.solver = {"method": "RK45", "rtol": 1e-4, "atol": 1e-4}
        flight.run()

    one = best_s(slow, SLOW_FLIGHTS)
    line("one flight in plain Python with scipy", one, f"{1 / one:.1f} a second")
    print(f"ratio, flight for flight: {one / (fast / FLIGHTS):.0f}")


if __name__ == "__main__":
    main()
