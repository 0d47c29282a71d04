"""Sample and fly a case: the one place where a study calls the kernel for an ensemble."""

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import TOLERANCE, column_spacing, fly_ensemble
from goodflight.physics.flight.burn import burn_curve
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import View
from goodflight.studies.sampling.remembered import Remembered
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
FLIGHTS: Final = Remembered()
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
    A flight that was flown before with the same figures is remembered.
    """
    count = min(flights, len(sample.parameters))
    step = at_once if progress is not None else max(count, 1)
    spacing = column_spacing(sample.parameters, case.motor)
    flown, besides = [], _shared(case, spacing, deployment, tolerance)
    parameters = np.ascontiguousarray(sample.parameters[:count], dtype=np.float64)
    seeds = sample.seeds[:count].astype(np.uint64)
    figures = np.column_stack([parameters.view(np.uint64), seeds])
    for start in range(0, count, step):
        if progress is not None:
            progress(f"{words}, {start} of {count}", start / count)
        part = slice(start, start + step)

        def fly(new: NDArray[np.int64], part: slice = part) -> Array:
            outcomes: Array = fly_ensemble(
                parameters[part][new],
                case.motor,
                case.tables,
                seeds[part][new],
                deployment,
                tolerance=tolerance,
                node_spacing_m4=spacing,
            )
            return outcomes

        flown.append(FLIGHTS.of(figures[part], fly, besides))
    return np.concatenate(flown)


def _shared(case: Case, spacing: float, deployment: int, tolerance: float) -> bytes:
    """What all flights of a case share: motor, air, coefficients, and how they are flown."""
    how = np.array([spacing, deployment, tolerance])
    arrays = (burn_curve(case.motor), case.tables.mach_table, case.tables.scalars, how)
    return b"".join(each.tobytes() for each in arrays)


def fly_trials(
    case: Case,
    flights: int,
    seed: int,
    chosen: NDArray[np.int64] | None = None,
    progress: Progress | None = None,
) -> View:
    """Sample a case and fly every flight (or the chosen ones of the sample)."""
    return fly_sample(case, make_trials(case, flights, seed, chosen), progress=progress)
