"""Draw and fly a case: the one place where a study calls the kernel for an ensemble."""

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import TOLERANCE, fly_ensemble
from goodflight.studies.case import Case
from goodflight.studies.draws import Draws, draw
from goodflight.studies.limit_states import View


def fly_sample(case: Case, sample: Draws, tolerance: float = TOLERANCE) -> View:
    """Fly every draw of a sample; `tolerance` is that of the kernel's steps."""
    outcomes = fly_ensemble(
        sample.parameters, case.motor, case.tables, sample.seeds, case.deployment,
        tolerance=tolerance,
    )  # fmt: skip
    return View(case, sample, outcomes)


def fly_draws(case: Case, draws: int, seed: int, chosen: NDArray[np.int64] | None = None) -> View:
    """Sample a case and fly every draw (or the chosen ones of the sample)."""
    return fly_sample(case, draw(case, draws, seed, chosen))


def part_of(view: View, chosen: NDArray[np.int64]) -> View:
    """The chosen draws of a view, without flying again."""
    return View(view.case, view.draws.part(chosen), view.outcomes[chosen])
