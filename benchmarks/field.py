"""How fast the grid under the field card is made: 12 winds x 5 leans x 5 delays, 200 flights each.

    python benchmarks/field.py

Processor time beside wall time: on a shared machine the first tells more; on two free cores the
wall time is a little above half of it. The floor is the 60 000 flights alone, every one from the
pad, without a row.
"""

import math
import tempfile
import time
from pathlib import Path

from measure import best_s, line

from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.grid import FLIGHTS, grid_of
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_sample
from goodflight.studies.sampling.trials import make_trials

WINDS = tuple(0.5 + 0.75 * i for i in range(12))
DELAYS = (0.0, 1.0, 2.0, 3.0, 4.0)
TILTS = tuple(math.radians(each) for each in (0.0, 2.0, 4.0, 6.0, 8.0))
AIM_S = 3.0  # wall time on two cores
RUNS = 2


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        case = case_of(load(Path(folder) / "demo"))
    cells = len(WINDS) * len(DELAYS) * len(TILTS)
    sample = make_trials(case, FLIGHTS, 1)
    grid_of(case, (1.0,), (2.0,), flights=20)

    def grid() -> None:
        assert len(grid_of(case, WINDS, DELAYS, TILTS, ("H-b",)).cells) == cells

    def floor() -> None:
        for _ in range(cells):
            fly_sample(case, sample, COARSE_TOLERANCE)

    line(f"{cells * FLIGHTS} flights alone, processor", best_s(floor, RUNS, time.process_time))
    line(f"grid of {cells} cells x {FLIGHTS}, processor", best_s(grid, RUNS, time.process_time))
    line("the same, wall time", best_s(grid, RUNS), f"aim {AIM_S:g} s on two free cores")


if __name__ == "__main__":
    main()
