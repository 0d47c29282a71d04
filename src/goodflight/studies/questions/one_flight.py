"""One flight of the ledger's sample, flown by itself: what happened, and what is odd about it.

The number of a flight is its place in the sample of the full ledger, so that its scores, gusts,
canopy and landing are those that the ledger counted.
"""

import math
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import column_spacing, fly_history
from goodflight.physics.flight.registry import OUTCOMES
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.questions.bands import EVERY_S, SAMPLE, Line, end_s, line_of
from goodflight.studies.questions.fly import events_of
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.sampling.quantity import Factor
from goodflight.studies.sampling.trials import Trials, make_trials

Form = Literal["value", "share", "off", "spreads"]

MAX_ODD: Final = 6
ODD_FROM: Final = 1.5  # spreads; nearer to the middle is nothing to tell


@dataclass(frozen=True)
class Oddity:
    """One uncertain quantity of a flight, far from its middle.

    form : "value" - the quantity itself, beside its middle; "share" - by how large a share it is
        off; "off" - by how much; "spreads" - a quantity with no unit of its own.
    beyond : share of all flights that lie nearer to the middle.
    """

    label: str
    form: Form
    figure: float
    middle: float | None
    dimension: str
    spreads: float
    beyond: float


@dataclass(frozen=True)
class Failing:
    """A row of the ledger that this flight fails."""

    key: str
    title: str
    phase: str
    demand: float
    capacity: float
    unit: str
    more_is_worse: bool


@dataclass(frozen=True, eq=False)
class OneFlight:
    """One flight flown: its curves, events, outcomes, what is odd about it, what it fails."""

    number: int
    sample: int
    line: Line
    outcomes: dict[str, float]
    odd: tuple[Oddity, ...]
    failing: tuple[Failing, ...]
    unknown: int  # rows that have no figures, so nothing is said about them


def one_flight(
    case: Case, number: int, sample: int = SAMPLE, seed: int = 1, close_s: float | None = None
) -> OneFlight:
    """Fly exactly one flight of the ledger's sample, gusts and canopy included.

    Parameters
        case : Case - the planned flight. [SI]
        number : int - 1 is the first flight. [-]
        sample : int - flights of the ledger. [-]
        seed : int - of the ledger. [-]
        close_s : float or None - end of the close look at its curves; None: its own. [s]
    Returns
        flown : OneFlight - curves, events, outcomes, oddities, rows that it fails. [SI]
    Raises
        StudyRefused - no such flight, or the rocket lacks what a flight needs.
    Validity
        As the ledger.
    Source
        The flight kernel with the ensemble's own air column: bit for bit the ledger's flight.
    """
    number_of(str(number), sample)
    whole = make_trials(case, sample, seed)
    spacing = column_spacing(whole.parameters, case.motor)
    alone = whole.part(np.array([number - 1], dtype=np.int64))
    launch = replace(case.launch, node_spacing_m4=spacing)
    flown = fly_history(launch, alone.parameters[0], int(alone.seeds[0]), EVERY_S)
    outcomes = np.array([[flown.outcomes[name] for name in OUTCOMES]])
    rows = evaluate(View(case, alone, outcomes))
    end = end_s(_known(flown.outcomes)) if close_s is None else close_s
    line = line_of(flown.history, events_of(flown.outcomes, flown.history), end)
    shown = [row for row in rows if not row.not_here]
    return OneFlight(
        number=number,
        sample=sample,
        line=line,
        outcomes=flown.outcomes,
        odd=oddities(alone),
        failing=tuple(_failing(row) for row in shown if row.failing[0]),
        unknown=sum(not row.known for row in shown),
    )


def number_of(text: str, sample: int = SAMPLE) -> int:
    """The number of a flight from what was typed; a StudyRefused says which numbers there are."""
    typed = text.strip()
    number = int(typed) if typed.isascii() and typed.isdecimal() and len(typed) < 10 else 0
    if not 1 <= number <= sample:
        raise StudyRefused(
            f"flight number {typed[:20]!r}",
            f"a whole number from 1 to {sample}",
            "the full ledger flies that many flights",
            "flight",
        )
    return number


def _known(outcomes: dict[str, float]) -> dict[str, float | None]:
    return {name: value if math.isfinite(value) else None for name, value in outcomes.items()}


def _failing(row: Evaluated) -> Failing:
    limit = row.limit
    demand, capacity = (float(v[0]) for v in (row.demand, row.capacity))
    return Failing(
        key=limit.key,
        title=limit.title,
        phase=limit.phase,
        demand=demand,
        capacity=capacity,
        unit=limit.unit,
        more_is_worse=limit.more_is_worse,
    )


def oddities(alone: Trials, most: int = MAX_ODD) -> tuple[Oddity, ...]:
    """The quantities of one flight that lie furthest from their middle, at most one of a group."""
    scores: NDArray[np.float64] = alone.z[0]
    found: dict[str, Oddity] = {}
    for i in np.argsort(-np.abs(scores)):
        factor, score = alone.factors[i], float(scores[i])
        if abs(score) < ODD_FROM or len(found) >= most:
            break
        found.setdefault(factor.group, _oddity(factor, score))
    return tuple(found.values())


def _oddity(factor: Factor, score: float) -> Oddity:
    form, figure, middle = _told(factor, score)
    return Oddity(
        label=factor.label,
        form=form,
        figure=figure,
        middle=middle,
        dimension=factor.dimension,
        spreads=score,
        beyond=math.erf(abs(score) / math.sqrt(2.0)),
    )


def _told(factor: Factor, score: float) -> tuple[Form, float, float | None]:
    off, value = factor.sigma * score, factor.value
    if value is not None and value != 0.0:
        return "value", float(factor.of.spread.drawn(value, factor.sigma, np.array(score))), value
    if factor.dimension == "ratio":
        return ("share", off, None) if factor.relative else ("spreads", score, None)
    return "off", off, None
