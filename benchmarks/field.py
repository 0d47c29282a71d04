"""How fast the day board answers, and the grid under the field card: 12 winds x 5 leans x 5 delays.

    python benchmarks/field.py

200 flights of each cell of the grid, 100 of each hour and choice of the board. Processor time
beside wall time: on a shared machine the first tells more. The floor of the grid is its 60 000
flights alone, the delays of a lean on one way up and, under full canopies, one way down, without a
row.
"""

import math
import tempfile
import time
from pathlib import Path

from measure import anew, best_s, line

from goodflight.project import load
from goodflight.project.day_typed import typed_now
from goodflight.project.demo import write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.asking import asked_of
from goodflight.studies.field.conditions import Conditions, under
from goodflight.studies.field.day import day_of
from goodflight.studies.field.grid import FLIGHTS, Over, grid_of
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_together
from goodflight.studies.sampling.trials import make_trials

WINDS = tuple(0.5 + 0.75 * i for i in range(12))
DELAYS = (0.0, 1.0, 2.0, 3.0, 4.0)
TILTS = tuple(math.radians(each) for each in (0.0, 2.0, 4.0, 6.0, 8.0))
AIM_S, BOARD_AIM_S = 3.0, 1.0  # wall time on two cores
NOON = {"wind": "3.5 m/s", "gust": "5.6 m/s", "wind_from": "230 deg", "cloud_base": "950 m",
        "hour": "12:30", "confirmed": ["visibility"]}  # fmt: skip
RUNS = 2


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        project = load(Path(folder) / "demo")
    case, noon = case_of(project), case_of(project, "midday")
    asked = asked_of(typed_now(NOON))
    cells = len(WINDS) * len(DELAYS) * len(TILTS)
    delays = [under(case, Conditions(delay_out_s=each)) for each in DELAYS]
    samples = [make_trials(each, FLIGHTS, 1) for each in delays]
    grid_of(case, Over((1.0,), (2.0,)), flights=20)

    def grid() -> None:
        assert len(grid_of(case, Over(WINDS, DELAYS, TILTS, ("H-b",))).cells) == cells

    def floor() -> None:
        for _ in range(len(WINDS) * len(TILTS)):
            anew(lambda: fly_together(delays, samples, COARSE_TOLERANCE))()

    def board() -> None:
        day_of(project, noon, asked)

    line("day board, processor", best_s(anew(board), 3, time.process_time))
    line("the same, of its first thread", best_s(anew(board), 3, time.thread_time))
    line("the same, wall time", best_s(anew(board), 3), f"aim {BOARD_AIM_S:g} s on two free cores")
    line(f"{cells * FLIGHTS} flights alone, processor", best_s(floor, RUNS, time.process_time))
    line(
        f"grid of {cells} cells x {FLIGHTS}, processor", best_s(anew(grid), RUNS, time.process_time)
    )
    line("the same, wall time", best_s(anew(grid), RUNS), f"aim {AIM_S:g} s on two free cores")


if __name__ == "__main__":
    main()
