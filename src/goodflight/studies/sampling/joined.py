"""The samples of several cases of one rocket, read as one."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.sampling.drawn import Drawn
from goodflight.studies.sampling.quantity import Factor, Family, Quantity
from goodflight.studies.sampling.trials import Trials

Array = NDArray[np.float64]


class Joined(Drawn):
    """Drawn values of several samples, one behind the other; each has its own middles."""

    def __init__(self, parts: Sequence[Drawn]) -> None:
        scores = np.empty((sum(part.count for part in parts), 0))
        super().__init__(parts[0].case, scores, (), (), scores)
        self._parts = tuple(parts)

    def has(self, quantity: Quantity | Family, name: str = "") -> bool:
        """Whether the flights have this quantity."""
        return self._parts[0].has(quantity, name)

    def score(self, quantity: Quantity | Family, name: str = "") -> Array:
        """Its standard-normal scores, (n,) [-]."""
        return self._each(lambda part: part.score(quantity, name))

    def values(self, factor: Factor) -> Array:
        """Values of one of its factors, (n,) [SI]."""
        return self._each(lambda part: part.values(factor))

    def _value(self, quantity: Quantity | Family, key: str) -> Array:
        name = quantity.member(key) if isinstance(quantity, Family) else ""
        return self._each(lambda part: part.of(quantity, name))

    def _each(self, read: Callable[[Drawn], Array]) -> Array:
        return np.concatenate([read(part) for part in self._parts])


def joined(trials: Sequence[Trials]) -> Trials:
    """Several samples as one, for rows that read the flights' own figures alone."""
    return Trials(
        np.concatenate([each.parameters for each in trials]),
        np.concatenate([each.seeds for each in trials]),
        Joined([each.drawn for each in trials]),
    )
