"""Is it fit to fly again? Loads of this flight against what each part stands, and what to look at.

The rows of the ledger are worked out once more on flights that agree with what was seen. They say
where to look first; only looking says whether a part is sound.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from goodflight.studies.case.planned import Case
from goodflight.studies.debriefing.fit import Fit
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.reserve import share_of
from goodflight.studies.rows import LIMIT_STATES, View
from goodflight.studies.sampling.declared import factors_of
from goodflight.studies.sampling.flights import fly_sample
from goodflight.studies.sampling.trials import assemble

FLIGHTS: Final = 60  # that agree with what was seen
FIRST: Final = 0.5  # of what a part stands: looked at first; our guess


@dataclass(frozen=True)
class Load:
    """What one part met on this flight, against what it stands."""

    row: Annotated[str, "key of the way to fail"]
    title: Annotated[str, "the same in words"]
    dimension: Annotated[str, "of demand and capacity"]
    demand: Annotated[float, "middle of the flights that agree with what was seen [SI]"]
    capacity: Annotated[float, "what it stands, or needs at least, middle [SI]"]
    least: Annotated[bool, "true: the demand has to be above the capacity"]
    share: Annotated[float, "the one over the other, middle; 1 = at the limit"]
    beyond: Annotated[float, "share of those flights beyond the limit, 0 to 1"]
    look: Annotated[str, "what to look at"]
    damaged: Annotated[bool, "damage that speaks for it is noted"]

    @property
    def first(self) -> bool:
        """Whether it is among the things to look at first."""
        return self.damaged or self.share > FIRST


@dataclass(frozen=True)
class Again:
    """Where to look before it flies again."""

    loads: Annotated[tuple[Load, ...], "most loaded first"]
    unknown: Annotated[tuple[str, ...], "titles of loads with no figure: look at these too"]
    push_mps2: Annotated[float, "hardest push of those flights, without gravity, middle [m/s2]"]


def agreeing(case: Case, fit: Fit, seed: int = 1) -> View:
    """Flights drawn from the fit: they agree with what was seen."""
    random = np.random.default_rng(seed)
    scores = random.multivariate_normal(fit.scores.mean, fit.scores.covariance, FLIGHTS)
    seeds = np.arange(1, FLIGHTS + 1, dtype=np.uint64)
    return fly_sample(case, assemble(case, factors_of(case), scores, seeds))


def again(view: View, damaged: Sequence[str] = ()) -> Again:
    """Loads of a flight that was fitted, against what each part stands.

    Parameters
        view : View - flights that agree with what was seen. [SI]
        damaged : sequence of str - rows that damage was noted for. [-]
    Returns
        found : Again - most loaded first. [SI]
    Raises
        nothing
    Validity
        As the rows; strengths as they were known before the flight, nothing of earlier flights.
    Source
        The rows of the ledger on flights drawn from the fit.
    Example
        none
    """
    rows = evaluate(view, [each for each in LIMIT_STATES if each.look])
    there = [row for row in rows if not row.not_here]
    loads = [_load(row, row.limit.key in damaged) for row in there if row.known and _has(row)]
    loads.sort(key=lambda each: (not each.damaged, -each.share))
    push = float(np.nanmedian(view.outcome("max_acceleration_m_s2")))
    return Again(tuple(loads), tuple(row.limit.title for row in there if not row.known), push)


def _has(row: Evaluated) -> bool:
    return bool((np.isfinite(row.demand) & np.isfinite(row.capacity)).any())


def _load(row: Evaluated, damaged: bool) -> Load:
    limit = row.limit
    there = np.isfinite(row.demand) & np.isfinite(row.capacity)
    demand, capacity = row.demand[there], row.capacity[there]
    share = share_of(demand, capacity, limit.more_is_worse)
    return Load(
        row=limit.key,
        title=limit.title,
        dimension=limit.unit,
        demand=float(np.median(demand)),
        capacity=float(np.median(capacity)),
        least=not limit.more_is_worse,
        share=float(np.median(share)),
        beyond=float(row.failing[there].mean()),
        look=limit.look,
        damaged=damaged,
    )
