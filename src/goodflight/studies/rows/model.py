"""What a limit state is: one way to fail, as demand against capacity on every flight."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.registry import OUTCOME_INDEX
from goodflight.physics.sources import Constant, cited
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Basis, Figured, Phase, RowKind
from goodflight.studies.sampling.trials import Trials

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class View:
    """What a limit state may look at: the case, its flights, and how each of them flew."""

    case: Case
    trials: Trials
    outcomes: Array  # (n, len(OUTCOMES))

    @property
    def count(self) -> int:
        """Number of flights."""
        return int(self.outcomes.shape[0])

    def outcome(self, name: str) -> Array:
        """One outcome of every flight, (n,), NaN where it did not happen."""
        column: Array = self.outcomes[:, OUTCOME_INDEX[name]]
        return column

    def parameter(self, name: str) -> Array:
        """One parameter of every flight, (n,)."""
        return self.trials.parameter(name)

    def side(self, name: str) -> Array | None:
        """One side quantity of every flight, (n,), or None when the project does not give it."""
        return self.trials.side.get(name)

    def side_or_one(self, name: str) -> Array:
        """One drawn factor of every flight, (n,), one when it is not drawn."""
        found = self.trials.side.get(name)
        return np.ones(self.count) if found is None else found

    def error(self, name: str) -> Array:
        """One drawn error of a capacity, (n,), zero when it is not drawn."""
        found = self.trials.side.get(name)
        return np.zeros(self.count) if found is None else found


@dataclass(frozen=True, eq=False)
class Evaluation:
    """Demand and capacity of every flight.

    applies : flights that can fail this way; the others hold NaN in the row and do not fail it.
    reserve : what the drivers explain, when capacity - demand jumps; negative fails.
    not_here : why this rocket cannot fail this way at all; the figures then mean nothing.
    limits : figures of the site's code set that were asked for, by the name the formula has.
    """

    demand: Array
    capacity: Array
    applies: Mask | None = None
    reserve: Array | None = None
    warnings: tuple[str, ...] = ()
    valid: bool = True
    not_here: str = ""
    limits: Mapping[str, Figured] = field(default_factory=dict)


@dataclass(frozen=True)
class Missing:
    """A figure the row waits for."""

    advice: str


@dataclass(frozen=True)
class LimitState:
    """One row of the ledger before it is evaluated.

    formula : demand and capacity in words; a figure stands in it as {name}, of `constants` or of
    the code set's limits, so that no number is typed beside the one that is used.
    sources : keys of the bibliography, or of what has no source ("practice", "guess", ...).
    kind : a failure of the flight counts in the total; a rule is met or not; a statement is
    confirmed by the builder or not.
    inputs : keys of factors (or prefixes ending in ":") and names of plan figures shown with it.
    """

    key: str
    title: str
    phase: Phase
    unit: str
    more_is_worse: bool
    evaluate: Callable[[View], Evaluation | Missing]
    formula: str
    sources: str | tuple[str, ...]
    inputs: tuple[str, ...] = ()
    constants: Mapping[str, Constant] = field(default_factory=dict)
    kind: RowKind = "failure"

    def basis(self, found: Evaluation | Missing) -> Basis:
        """What this row stands on for one flight: formula, its figures, its sources."""
        figures = {
            name: Figured(constant.value, constant.dimension, constant.said)
            for name, constant in self.constants.items()
        }
        if isinstance(found, Evaluation):
            figures |= found.limits
        keys = (self.sources,) if isinstance(self.sources, str) else self.sources
        words = tuple(cited(key) for key in keys)
        return Basis(self.formula, figures, keys, words)


def full(view: View, value: float) -> Array:
    """The same value for every flight."""
    return np.full(view.count, value)
