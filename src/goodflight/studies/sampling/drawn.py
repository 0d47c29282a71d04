"""The drawn values of declared quantities: one sample's scores, read by the declaration itself."""

from functools import lru_cache
from typing import Final, NamedTuple

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
MAX_DRAWN: Final = 1_000_000  # values kept of one set of scores, 8 MB


class Scored(NamedTuple):
    """Scores of some flights, and what was drawn from them by quantity, middle and spread.

    scores : (n, k), one column a name; mixed : the same with what was weighed together scattering
    together. Plans that differ in one quantity share the values of all others.
    """

    scores: Array
    mixed: Array
    values: dict[tuple[str, float, float], Array]


class Drawn:
    """Drawn values of one sample of one flight.

    factors : quantities with a spread, one column of `scores` (n, k) each; fixed : those without.
    mixed : the scores with what was weighed together scattering together; None = made here.
    kept : values that other plans have drawn from the same scores.
    """

    def __init__(
        self,
        case: Case,
        scores: Array,
        factors: tuple[Factor, ...],
        fixed: tuple[Factor, ...],
        mixed: Array | None = None,
        kept: dict[tuple[str, float, float], Array] | None = None,
    ) -> None:
        self.case, self._kept = case, kept
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
        if place is None:
            return spread.drawn(middle, factor.sigma, np.zeros(self.count))
        asked = (key, middle, factor.sigma)
        found = None if self._kept is None else self._kept.get(asked)
        if found is None:
            found = spread.drawn(middle, factor.sigma, self._mixed[:, place])
            if self._kept is not None and len(self._kept) * self.count < MAX_DRAWN:
                self._kept[asked] = found
        return found

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


def scored(
    joint: Joint | None,
    keys: tuple[str, ...],
    flights: int,
    seed: int,
    chosen: NDArray[np.int64] | None = None,
) -> Scored:
    """The scores of a sample, or of the chosen flights of it bit for bit; read-only."""
    make = _kept_scored if flights * len(keys) <= MAX_KEPT else _kept_scored.__wrapped__
    places = None if chosen is None else chosen.astype(np.int64).tobytes()
    return make(joint, keys, flights, seed, places)


@lru_cache(maxsize=8)
def _kept_scored(
    joint: Joint | None,
    keys: tuple[str, ...],
    flights: int,
    seed: int,
    chosen: bytes | None,
) -> Scored:
    if chosen is not None:
        whole, places = scored(joint, keys, flights, seed), np.frombuffer(chosen, dtype=np.int64)
        scores, mixed = whole.scores[places], whole.mixed[places]
    else:
        scores = mixed = normal_scores(keys, flights, seed)
        if joint is not None:
            mixed = together(joint, keys, scores)
    for each in (scores, mixed):
        each.setflags(write=False)
    return Scored(scores, mixed, {})


@lru_cache(maxsize=64)
def _root(joint: Joint, chosen: tuple[int, ...]) -> Array:
    return square_root(joint.correlation[np.ix_(chosen, chosen)])


def _declared(quantity: Quantity | Family) -> None:
    if DECLARED.get(quantity.key) is not quantity:
        raise UndeclaredError(f"no module of sampling declares {quantity.key}")
