"""The drawn values of declared quantities: one sample's scores, read by the declaration itself."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.estimate import square_root
from goodflight.studies.case.planned import Case, Joint
from goodflight.studies.sampling.declared import DECLARED
from goodflight.studies.sampling.quantity import (
    Factor,
    Family,
    NotGivenError,
    Quantity,
    UndeclaredError,
)
from goodflight.studies.sampling.scores import MAX_KEPT, normal_scores

Array = NDArray[np.float64]


class Drawn:
    """Drawn values of one sample of one flight.

    factors : quantities with a spread, one column of `scores` (n, k) each; fixed : those without.
    mixed : the scores with what was weighed together scattering together; None = made here.
    """

    def __init__(
        self,
        case: Case,
        scores: Array,
        factors: tuple[Factor, ...],
        fixed: tuple[Factor, ...],
        mixed: Array | None = None,
    ) -> None:
        self.case = case
        self.count = scores.shape[0]
        self.factors, self.scores, self.fixed = factors, scores, fixed
        self._places = {factor.key: place for place, factor in enumerate(factors)}
        joint = case.uncertainty.joint
        if mixed is None and joint is not None:
            mixed = together(joint, tuple(factor.key for factor in factors), scores)
        self._mixed = scores if mixed is None else mixed
        self._fixed = {factor.key: factor for factor in fixed}
        self._values: dict[str, Array] = {}

    def of(self, quantity: Quantity | Family, name: str = "") -> Array:
        """Values of a quantity, (n,) [SI]; of a family's member by its name.

        A quantity that this flight does not have stays at its middle. Raises NotGivenError where
        the project must state it and does not, UndeclaredError where no module declares it.
        """
        _declared(quantity)
        return self._cached(quantity, quantity.key + name)

    def _cached(self, quantity: Quantity | Family, key: str) -> Array:
        found = self._values.get(key)
        if found is None:
            found = self._values[key] = self._value(quantity, key)
            found.setflags(write=False)
        return found

    def has(self, quantity: Quantity | Family, name: str = "") -> bool:
        """Whether the flight has this quantity: given, or with a middle of its own."""
        _declared(quantity)
        key = quantity.key + name
        return key in self._places or key in self._fixed

    def values(self, factor: Factor) -> Array:
        """Values of one of its factors, (n,) [SI]."""
        return self._cached(factor.of, factor.key)

    def score(self, quantity: Quantity | Family, name: str = "") -> Array:
        """Its standard-normal scores, (n,) [-]; zero where it has no spread."""
        _declared(quantity)
        place = self._places.get(quantity.key + name)
        return np.zeros(self.count) if place is None else self.scores[:, place]

    def _value(self, quantity: Quantity | Family, key: str) -> Array:
        spread, place = quantity.spread, self._places.get(key)
        factor = self._fixed.get(key) if place is None else self.factors[place]
        if factor is None:
            if isinstance(quantity, Family):
                raise UndeclaredError(f"this flight has no {key}")
            if quantity.given is not None and quantity.middle is None:
                raise NotGivenError(quantity.missing(self.case))
            middle = spread.middle if quantity.middle is None else quantity.middle
            return spread.drawn(middle, 0.0, np.zeros(self.count))
        middle = spread.middle if factor.value is None else factor.value
        scores = np.zeros(self.count) if place is None else self._mixed[:, place]
        return spread.drawn(middle, factor.sigma, scores)

    def part(self, chosen: NDArray[np.int64]) -> "Drawn":
        """The chosen flights, bit for bit."""
        mixed = self._mixed[chosen]
        return Drawn(self.case, self.scores[chosen], self.factors, self.fixed, mixed)


def together(joint: Joint, keys: tuple[str, ...], scores: Array) -> Array:
    """Scores (n, k) whose columns scatter together as `joint` says; the others stay as they are."""
    known = {key: place for place, key in enumerate(joint.keys)}
    columns = [place for place, key in enumerate(keys) if key in known]
    chosen = tuple(known[keys[place]] for place in columns)
    if not columns:
        return scores
    mixed = scores.copy()
    mixed[:, columns] = scores[:, columns] @ _root(joint, chosen)
    return mixed


def mixed_scores(joint: Joint, keys: tuple[str, ...], flights: int, seed: int) -> Array:
    """The scores of a sample with what was weighed together scattering together; read-only."""
    make = _kept_mixed if flights * len(keys) <= MAX_KEPT else _kept_mixed.__wrapped__
    return make(joint, keys, flights, seed)


@lru_cache(maxsize=4)
def _kept_mixed(joint: Joint, keys: tuple[str, ...], flights: int, seed: int) -> Array:
    mixed = together(joint, keys, normal_scores(keys, flights, seed))
    mixed.setflags(write=False)
    return mixed


@lru_cache(maxsize=64)
def _root(joint: Joint, chosen: tuple[int, ...]) -> Array:
    return square_root(joint.correlation[np.ix_(chosen, chosen)])


def _declared(quantity: Quantity | Family) -> None:
    if DECLARED.get(quantity.key) is not quantity:
        raise UndeclaredError(f"no module of sampling declares {quantity.key}")
