"""How fast the studies answer on the demo: ledger with and without remedies, delays, one flight.

    python benchmarks/ledger.py

The floor of a ledger is its flights alone: no row, no driver, no remedy.
"""

import tempfile
from pathlib import Path

from measure import best_s, line

from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.delay import delay_of
from goodflight.studies.questions.fly import nominal_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.sampling.flights import fly_trials

FLIGHTS = 2000
RUNS = 3


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        project = load(Path(folder) / "demo")
    ledger_of(case_of(project), 50, 1)
    line("project to case, with the effects of lengths", best_s(lambda: case_of(project), RUNS))
    case = case_of(project)
    floor = best_s(lambda: fly_trials(case, FLIGHTS, 1), RUNS)
    line(f"{FLIGHTS} flights alone (floor)", floor)
    plain = best_s(lambda: ledger_of(case, FLIGHTS, 1, False), RUNS)
    line("ledger, rows and drivers", plain, f"x {plain / floor:.1f} of the floor")
    full = best_s(lambda: ledger_of(case, FLIGHTS, 1, True), RUNS)
    line("ledger with remedies", full, f"x {full / floor:.1f}")
    line("delays, 1000 flights each", best_s(lambda: delay_of(case, 1000, 1), RUNS))
    line("one nominal flight", best_s(lambda: nominal_of(case), RUNS))


if __name__ == "__main__":
    main()
