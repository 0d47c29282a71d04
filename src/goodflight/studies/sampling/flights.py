"""Sample and fly a case: the one place where a study calls the kernel for an ensemble."""

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import TOLERANCE, column_spacing, fly_ensemble
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import View
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]
COARSE_TOLERANCE: Final = 1e-3  # of the steps: heights within about 1 m, 40 % fewer steps
AT_ONCE: Final = 200  # flights between two looks at whether anybody still waits


def fly_sample(
    case: Case,
    sample: Trials,
    tolerance: float = TOLERANCE,
    progress: Progress | None = None,
) -> View:
    """Fly every flight of a sample; `tolerance` is that of the kernel's steps.

    With `progress`, some at a time in the air column of them all: the same flights bit for bit.
    """
    count = len(sample.parameters)
    return View(
        case, sample, fly_first(case, sample, count, case.deployment.by, tolerance, progress)
    )


def fly_first(
    case: Case,
    sample: Trials,
    flights: int,
    deployment: int,
    tolerance: float = TOLERANCE,
    progress: Progress | None = None,
    words: str = "simulating the flights",
    at_once: int = AT_ONCE,
) -> Array:
    """Fly the first flights of a sample in the air column of them all; (flights, outcomes).

    With `progress`, `at_once` of them: the same flights bit for bit. `words` say what is going on.
    """
    count = min(flights, len(sample.parameters))
    step = at_once if progress is not None else max(count, 1)
    spacing = column_spacing(sample.parameters, case.motor)
    flown = []
    for start in range(0, count, step):
        if progress is not None:
            progress(f"{words}, {start} of {count}", start / count)
        part = slice(start, min(start + step, count))
        flown.append(
            fly_ensemble(
                sample.parameters[part],
                case.motor,
                case.tables,
                sample.seeds[part],
                deployment,
                tolerance=tolerance,
                node_spacing_m4=spacing,
            )
        )
    return np.concatenate(flown)


def fly_trials(
    case: Case,
    flights: int,
    seed: int,
    chosen: NDArray[np.int64] | None = None,
    progress: Progress | None = None,
) -> View:
    """Sample a case and fly every flight (or the chosen ones of the sample)."""
    return fly_sample(case, make_trials(case, flights, seed, chosen), progress=progress)
