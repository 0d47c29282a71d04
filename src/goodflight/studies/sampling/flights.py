"""Sample and fly a case: the one place where a study calls the kernel for an ensemble."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import TOLERANCE, Launch, column_spacing, fly_ensemble
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.registry import (
    AFTER_ASCENT,
    COMPLETE,
    NOTHING_OPENS,
    PARAMETER_INDEX,
)
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import View
from goodflight.studies.sampling.remembered import Remembered
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
FLIGHTS: Final = Remembered()
Progress = Callable[[str, float], None]
COARSE_TOLERANCE: Final = 1e-3  # of the steps: heights within about 1 m, a quarter fewer steps
AT_ONCE: Final = 200  # flights between two looks at whether anybody still waits


@dataclass(frozen=True)
class Told:
    """Who is told how far the flights are, in which words, and after how many of them."""

    progress: Progress | None
    words: str = "simulating the flights"
    at_once: int = AT_ONCE


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
        case,
        sample,
        fly_first(
            case,
            sample,
            flights=count,
            deployment=case.deployment.by,
            tolerance=tolerance,
            told=Told(progress),
        ),
    )


def fly_first(
    case: Case,
    sample: Trials,
    flights: int,
    deployment: int,
    tolerance: float = TOLERANCE,
    told: Told = Told(None),
) -> Array:
    """Fly the first flights of a sample in the air column of them all; (flights, outcomes).

    Where progress is told, some of them at once: the same flights bit for bit.
    A flight that was flown before with the same figures is remembered.
    """
    count = min(flights, len(sample.parameters))
    step = max(count, 1) if told.progress is None else told.at_once
    flown, launch = [], _launch(case, sample, deployment, tolerance)
    for start in range(0, count, step):
        if told.progress is not None:
            told.progress(f"{told.words}, {start} of {count}", start / count)
        part = slice(start, min(start + step, count))
        flown.append(_flown(launch, sample.parameters[part], sample.seeds[part]))
    return np.concatenate(flown)


def fly_together(
    cases: Sequence[Case],
    samples: Sequence[Trials],
    tolerance: float = TOLERANCE,
    progress: Progress | None = None,
) -> tuple[View, ...]:
    """Fly a sample of each case; where only what acts from ejection on differs, on one way up.

    Until its canopies are full each flight is bit for bit what it is with its sample flown by
    itself; see `fly_ensemble`. With `progress`, some of every sample at a time.
    """
    launches = [
        _launch(case, each, case.deployment.by, tolerance) for case, each in zip(cases, samples)
    ]
    alike: dict[bytes, list[int]] = {}
    for i, launch in enumerate(launches):
        alike.setdefault(_shared(launch), []).append(i)
    found: list[list[Array]] = [[] for _ in samples]
    longest = max(len(each.parameters) for each in samples)
    step = AT_ONCE if progress is not None else longest
    for start in range(0, longest, step):
        if progress is not None:
            progress(f"simulating the flights, {start} of {longest}", start / longest)
        part = slice(start, start + step)
        for places in alike.values():
            rows = [samples[i].parameters[part] for i in places]
            seeds = np.concatenate([samples[i].seeds[part] for i in places])
            outcomes = _flown(launches[places[0]], np.concatenate(rows), seeds)
            ends = np.cumsum([len(each) for each in rows])[:-1]
            for i, each in zip(places, np.split(outcomes, ends)):
                found[i].append(each)
    return tuple(
        View(case, sample, np.concatenate(each))
        for case, sample, each in zip(cases, samples, found)
    )


def unopened(view: View, tolerance: float) -> Array:
    """The same flights if nothing opened, as far as apogee; (flights, outcomes).

    A flight that ejects after its apogee has the same one, but for what a step does that its
    ejection cuts short: only the others are flown again, in the air column of all.
    """
    case, sample, found = view.case, view.trials, view.outcomes.copy()
    after = view.outcome("ejection_s") - view.outcome("apogee_s")
    late = (after > 0.0) & (view.outcome("status") == COMPLETE)
    again = np.flatnonzero(~late)
    if again.size:
        launch = _launch(case, sample, NOTHING_OPENS, tolerance)
        found[again] = _flown(launch, sample.parameters[again], sample.seeds[again])
    return found


def _launch(case: Case, sample: Trials, deployment: int, tolerance: float) -> Launch:
    """How a sample is flown, in the air column of all of it."""
    return replace(
        case.launch,
        deployment=deployment,
        tolerance=tolerance,
        node_spacing_m4=column_spacing(sample.parameters, case.motor),
    )


def _shared(launch: Launch) -> bytes:
    """What all flights of a launch share: motor, air, coefficients, and how they are flown."""
    how = np.array([launch.node_spacing_m4, launch.deployment, launch.tolerance])
    tables = launch.tables
    arrays = (burn_curve(launch.motor), tables.mach_table, tables.scalars, how)
    return b"".join(each.tobytes() for each in arrays)


def _flown(launch: Launch, parameters: Array, seeds: NDArray[np.uint64]) -> Array:
    """What flights come to, those flown before as remembered."""
    rows = np.ascontiguousarray(parameters, dtype=np.float64)
    if launch.deployment == NOTHING_OPENS:  # whatever would open, and when, is the same flight
        rows = rows.copy()
        rows[:, [PARAMETER_INDEX[name] for name in AFTER_ASCENT]] = 0.0
    figures = np.column_stack([rows.view(np.uint64), seeds.astype(np.uint64)])

    def fly(new: NDArray[np.int64]) -> Array:
        outcomes: Array = fly_ensemble(launch, rows[new], seeds[new])
        return outcomes

    return FLIGHTS.of(figures, fly, _shared(launch))


def fly_trials(
    case: Case,
    flights: int,
    seed: int,
    chosen: NDArray[np.int64] | None = None,
    progress: Progress | None = None,
) -> View:
    """Sample a case and fly every flight (or the chosen ones of the sample)."""
    return fly_sample(case, make_trials(case, flights, seed, chosen), progress=progress)
