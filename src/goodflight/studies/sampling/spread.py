"""How an uncertain quantity scatters: from standard-normal scores to drawn values.

Every kind of spread is one small class; what becomes of a strength, a mass or a factor that may
not turn negative stands in `positive`.
"""

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.sampling.positive import positive

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Spread:
    """One standard deviation by how a figure is known, when the project itself gives none.

    sigma : of a guess, in SI, or as a share of the middle where `relative`; label and measured :
    the same for figures that are known better, None = no better than guessed.
    Raises ValueError where a figure known better would scatter more.
    """

    sigma: float
    label: float | None = None
    measured: float | None = None

    relative: ClassVar[bool] = False
    middle: ClassVar[float] = 0.0  # where neither the quantity nor the project states one

    def __post_init__(self) -> None:
        label = self.sigma if self.label is None else self.label
        measured = label if self.measured is None else self.measured
        if not 0.0 <= measured <= label <= self.sigma:
            raise ValueError(f"{self}: known better, a figure may not scatter more")

    def sigma_of(self, known: str) -> float:
        """One standard deviation of a figure known as a guess, by label or measured."""
        label = self.sigma if self.label is None else self.label
        if known == "measured":
            return label if self.measured is None else self.measured
        return label if known == "label" else self.sigma

    def drawn(self, middle: float, sigma: float, scores: Array) -> Array:
        """Drawn values, (n,) [SI]; `sigma` in SI."""
        raise NotImplementedError


@dataclass(frozen=True)
class Normal(Spread):
    """Middle and a normal error, cut at `low` and `high`."""

    low: float = -math.inf
    high: float = math.inf

    def drawn(self, middle: float, sigma: float, scores: Array) -> Array:
        """Drawn values, (n,) [SI]."""
        return np.clip(middle + sigma * scores, self.low, self.high)


@dataclass(frozen=True)
class Positive(Spread):
    """A figure that cannot turn negative: mass, strength, pull. `sigma` in SI."""

    def drawn(self, middle: float, sigma: float, scores: Array) -> Array:
        """Drawn values, (n,) [SI]."""
        return positive(middle, sigma, scores)


@dataclass(frozen=True)
class Relative(Spread):
    """A factor about one, or a middle times such a factor; `sigma` is a share of the middle."""

    relative: ClassVar[bool] = True
    middle: ClassVar[float] = 1.0

    def drawn(self, middle: float, sigma: float, scores: Array) -> Array:
        """Drawn values, (n,) [SI]."""
        share = sigma / middle if middle != 0.0 else 0.0
        return middle * positive(1.0, share, scores)


@dataclass(frozen=True)
class Folded(Spread):
    """Size of a normal error about the middle (half-normal about zero): a tilt, a wind speed."""

    def drawn(self, middle: float, sigma: float, scores: Array) -> Array:
        """Drawn values, (n,) [SI]."""
        return np.abs(middle + sigma * scores)


@dataclass(frozen=True)
class Even(Spread):
    """Any value from 0 to 1, each as likely; shown as one spread of its scores."""

    def drawn(self, middle: float, sigma: float, scores: Array) -> Array:
        """Drawn values, (n,) [-]."""
        from scipy.special import ndtr  # slow to import; one flight needs no scores

        found: Array = ndtr(sigma * scores)
        return found
