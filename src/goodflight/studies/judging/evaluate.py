"""Every limit state on one set of flown flights: who fails, how, and how far from failing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.registry import GAVE_UP, NEVER_LEFT
from goodflight.quantity.said import Words
from goodflight.studies.reserve import reserve_of
from goodflight.studies.results import Basis, Entry, RowKind
from goodflight.studies.rows import LIMIT_STATES, Evaluation, LimitState, Missing, View
from goodflight.studies.sampling.quantity import NotGivenError

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

FAILURE: Final[tuple[RowKind, ...]] = ("failure",)
AGAINST: Final[tuple[RowKind, ...]] = ("failure", "rule", "statement")
SHOWS: Final = {"thrust_to_weight": NEVER_LEFT, "model_range": GAVE_UP}  # row that fails for it
NO_FLIGHT: Final = (
    "no simulated flight left the rail, or none could be computed: see thrust_to_weight and "
    "model_range first"
)


@dataclass(frozen=True, eq=False)
class Evaluated:
    """One limit state with its figures; `missing` says why there are none."""

    limit: LimitState
    found: Evaluation | Missing
    demand: Array
    capacity: Array
    reserve: Array  # negative fails; NaN where the row does not apply
    metric: Array  # what the drivers explain
    failing: Mask
    warnings: tuple[Words, ...] = ()
    valid: bool = True
    missing: str = ""
    asks: tuple[Entry, ...] = ()  # figures to enter
    not_here: str = ""  # why this rocket cannot fail this way; then it is no row of the ledger
    answered: str | None = None  # the day of the builder's answer; None = figures show it

    @property
    def basis(self) -> Basis:
        """What the row stands on for this flight."""
        return self.limit.basis(self.found)

    @property
    def known(self) -> bool:
        """Whether the row has figures."""
        return not self.missing


def evaluate(view: View, limits: Sequence[LimitState] = LIMIT_STATES) -> tuple[Evaluated, ...]:
    """Evaluate limit states on a flown sample.

    A flight fails where demand passes capacity; where a row does not apply to it (no ejection,
    so no opening load) its figures are NaN and it does not fail in that row. A rocket that never
    leaves the rail fails in `thrust_to_weight`; a flight that could not be computed fails in
    `model_range`. When that is so for every flight, all other rows are unknown.
    """
    status = view.outcome("status")
    stays = {key: status == told for key, told in SHOWS.items()}
    grounded = bool(np.any(list(stays.values()), axis=0).all())
    stays = {key: there for key, there in stays.items() if there.any()}
    return tuple(_one(view, limit, stays, grounded) for limit in limits)


def evaluate_unflown(view: View, limit: LimitState) -> Evaluated:
    """A row that asks nothing of the flights, as if each of them flew."""
    return _one(view, limit, {}, grounded=False)


def _one(view: View, limit: LimitState, stays: Mapping[str, Mask], grounded: bool) -> Evaluated:
    """One row; `stays` : flights that count in one row only, by its key; `grounded` : all do."""
    try:
        found = limit.evaluate(view)
    except NotGivenError as error:
        found = error.missing
    if isinstance(found, Missing):
        return _unknown(view, limit, found, found.words)
    if grounded and limit.key not in SHOWS and not found.not_here:
        return _unknown(view, limit, found, NO_FLIGHT)
    applies = np.isfinite(found.demand)
    if found.applies is not None:
        applies = applies & found.applies
    for key, there in stays.items():
        if limit.key != key:
            applies = applies & ~there
    left = reserve_of(found.demand, found.capacity, limit.more_is_worse)
    reserve = np.where(applies, left, np.nan)
    failing = applies & (reserve < 0.0)
    if limit.key in stays:  # counted, though such a flight has no figures
        failing = failing | stays[limit.key]
    metric = reserve if found.reserve is None else np.where(applies, found.reserve, np.nan)
    demand = capacity = np.zeros(0)
    if not view.masks_only:
        demand = np.where(applies, found.demand, np.nan)
        capacity = np.where(applies, found.capacity, np.nan)
    return Evaluated(
        limit=limit,
        found=found,
        demand=demand,
        capacity=capacity,
        reserve=reserve,
        metric=metric,
        failing=failing,
        warnings=found.warnings,
        valid=found.valid,
        not_here=found.not_here,
        answered=found.answered,
    )


def _unknown(view: View, limit: LimitState, found: Evaluation | Missing, advice: str) -> Evaluated:
    empty = np.zeros(0)
    nobody = np.zeros(view.count, dtype=bool)
    asks = found.asks if isinstance(found, Missing) else ()
    return Evaluated(
        limit=limit,
        found=found,
        demand=empty,
        capacity=empty,
        reserve=empty,
        metric=empty,
        failing=nobody,
        missing=advice,
        asks=asks,
    )


def any_failing(rows: Sequence[Evaluated], kinds: Sequence[RowKind] = FAILURE) -> Mask:
    """Flights that fail in any row of these kinds that has figures: what the total counts.

    A rule that is not met, or a statement that is denied, is no failure of the flight.
    """
    found = [row.failing for row in rows if row.limit.kind in kinds]
    none = np.zeros(rows[0].failing.shape if rows else (0,), dtype=bool)
    out: Mask = np.any(found, axis=0) if found else none
    return out


def any_against(rows: Sequence[Evaluated]) -> Mask:
    """Flights with anything against them, rules and statements too: what a change may take away."""
    return any_failing([row for row in rows if not row.limit.thumb], AGAINST)
