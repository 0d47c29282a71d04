"""What a limit state is: one way to fail, as demand against capacity on every flight."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.registry import OUTCOME_INDEX
from goodflight.physics.sources import Constant, cited
from goodflight.quantity.said import Convertible, Words
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Basis, Figured, Phase, RowKind
from goodflight.studies.sampling.quantity import Family, Missing, Quantity
from goodflight.studies.sampling.trials import Trials

__all__ = [
    "Array", "Evaluation", "LimitState", "Mask", "Missing", "View", "full",
]  # fmt: skip

NAMED: Final = re.compile(r"\{([a-z_0-9]+)\}")
Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class View:
    """What a limit state may look at: the case, its flights, and how each of them flew.

    masks_only : nobody reads the warnings; what only they need is not worked out.
    """

    case: Case
    trials: Trials
    outcomes: Array  # (n, len(OUTCOMES))
    masks_only: bool = False

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

    def of(self, quantity: Quantity | Family, name: str = "") -> Array:
        """Drawn values of a quantity, (n,) [SI]; of a family's member by its name.

        Raises NotGivenError where the project must state it: the row is unknown and asks for it.
        """
        return self.trials.of(quantity, name)

    def given(self, quantity: Quantity | Family, name: str = "") -> Array | None:
        """Drawn values of a quantity, (n,) [SI], or None where the project does not state it."""
        has = self.trials.drawn.has(quantity, name)
        return self.trials.of(quantity, name) if has else None

    def stated(self, quantity: Quantity) -> Array | Missing:
        """The same, or what to do where the project does not state it, to be asked with others."""
        found = self.given(quantity)
        return quantity.missing(self.case) if found is None else found


@dataclass(frozen=True, eq=False)
class Evaluation:
    """Demand and capacity of every flight.

    applies : flights that can fail this way; the others hold NaN in the row and do not fail it.
    reserve : what the drivers explain, when capacity - demand jumps; negative fails.
    not_here : why this rocket cannot fail this way at all; the figures then mean nothing.
    answered : the day of the builder's answer ("" = no day given); None = figures show it.
    limits : figures of the site's code set that were asked for, by the name the formula has.
    """

    demand: Array
    capacity: Array
    applies: Mask | None = None
    reserve: Array | None = None
    warnings: tuple[Words, ...] = ()
    valid: bool = True
    not_here: str = ""
    answered: str | None = None
    limits: Mapping[str, Figured] = field(default_factory=dict)


@dataclass(frozen=True)
class LimitState:
    """One row of the ledger before it is evaluated.

    formula : demand and capacity in words; a figure stands in it as {name}, of `constants` or of
    the code set's limits, so that no number is typed beside the one that is used.
    sources : keys of the bibliography, or of what has no source ("practice", "guess", ...).
    kind : a failure of the flight counts in the total; a rule is met or not; a statement is
    confirmed by the builder or not.
    needs : the uncertain quantities that go in; they are shown with it.
    parts : names of the parts whose own masses go in, where it is not the mass of the whole.
    thumb : a rule of practice whose mechanism other rows judge: outside it is a caution, never
    a failing plan.
    look : what to look at before it flies again; empty where no part bears a load.
    """

    key: str
    title: str
    phase: Phase
    unit: str
    more_is_worse: bool
    evaluate: Callable[[View], Evaluation | Missing]
    formula: str
    sources: tuple[str, ...]
    needs: tuple[Quantity | Family, ...] = ()
    constants: Mapping[str, Constant] = field(default_factory=dict)
    kind: RowKind = "failure"
    thumb: bool = False
    look: str = ""
    parts: Callable[[Case], Iterable[str]] | None = None

    def __post_init__(self) -> None:
        named = set(NAMED.findall(self.formula))
        if self.constants.keys() - named:
            raise ValueError(f"{self.key}: {self.constants.keys() - named} not in its formula")
        for key in self.sources:
            cited(key)  # a key that is none is a programmer's fault

    def basis(self, found: Evaluation | Missing) -> Basis:
        """What this row stands on for one flight: formula, its figures, its sources."""
        figures = {
            name: Figured(constant.value, constant.dimension, Convertible(constant.said))
            for name, constant in self.constants.items()
        }
        if isinstance(found, Evaluation):
            figures |= found.limits
        return Basis(self.formula, figures, self.sources, tuple(map(cited, self.sources)))


def full(view: View, value: float) -> Array:
    """The same value for every flight."""
    return np.full(view.count, value)
