"""What a limit state is: one way to fail, as demand against capacity on every draw."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.registry import OUTCOME_INDEX
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Phase
from goodflight.studies.sampling.draws import Draws

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class View:
    """What a limit state may look at: the case, its draws, and how each of them flew."""

    case: Case
    draws: Draws
    outcomes: Array  # (n, len(OUTCOMES))

    @property
    def count(self) -> int:
        """Number of draws."""
        return int(self.outcomes.shape[0])

    def outcome(self, name: str) -> Array:
        """One outcome of every flight, (n,), NaN where it did not happen."""
        column: Array = self.outcomes[:, OUTCOME_INDEX[name]]
        return column

    def parameter(self, name: str) -> Array:
        """One parameter of every flight, (n,)."""
        return self.draws.parameter(name)

    def side(self, name: str) -> Array | None:
        """One side quantity of every draw, (n,), or None when the project does not give it."""
        return self.draws.side.get(name)

    def side_or_one(self, name: str) -> Array:
        """One drawn factor of every draw, (n,), one when it is not drawn."""
        found = self.draws.side.get(name)
        return np.ones(self.count) if found is None else found

    def error(self, name: str) -> Array:
        """One drawn error of a capacity, (n,), zero when it is not drawn."""
        found = self.draws.side.get(name)
        return np.zeros(self.count) if found is None else found


@dataclass(frozen=True, eq=False)
class Evaluation:
    """Demand and capacity of every draw.

    applies : draws that can fail this way; the others hold NaN in the row and do not fail it.
    reserve : what the drivers explain, when capacity - demand jumps; negative fails.
    not_here : why this rocket cannot fail this way at all; the figures then mean nothing.
    """

    demand: Array
    capacity: Array
    applies: Mask | None = None
    reserve: Array | None = None
    warnings: tuple[str, ...] = ()
    valid: bool = True
    not_here: str = ""


@dataclass(frozen=True)
class Missing:
    """A figure the row waits for."""

    advice: str


@dataclass(frozen=True)
class LimitState:
    """One row of the ledger before it is evaluated.

    inputs : keys of factors (or prefixes ending in ":") and names of plan figures shown with it.
    flies : False when it needs no flight.
    """

    key: str
    title: str
    phase: Phase
    unit: str
    more_is_worse: bool
    evaluate: Callable[[View], Evaluation | Missing]
    formula: str
    source: str
    inputs: tuple[str, ...] = ()


def full(view: View, value: float) -> Array:
    """The same value for every draw."""
    return np.full(view.count, value)
