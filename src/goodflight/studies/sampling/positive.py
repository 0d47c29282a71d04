"""What cannot be negative is spread about its median and kept above zero: the one place for it.

"±" is one standard deviation of a normal spread. Its lower half is cut at a tenth of the figure
and what is cut off is spread over the rest of that half, so that the figure written stays the
middle one (the nominal flight has it), nothing piles up at the cut, and spreads of up to a tenth
are as normal as before. The wind may be calm: a normal error, folded at zero. Why not another
distribution, and what moved: docs/decisions/009.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
MIN_SHARE: Final = 0.1  # of the figure written: nothing drawn falls below
_NARROW: Final = 0.12  # relative spread whose cut lies beyond every score (7 standard deviations)
_WIDEST: Final = 1.0  # relative; a shape figure near 0 may be moved by more than itself


def positive_factor(score: Array, relative: float) -> Array:
    """Return a factor of median 1 with a relative spread, never below a tenth.

    Parameters
        score : (n,) - standard-normal. [-]
        relative : float - one standard deviation as a share of the figure, 0 or more. [-]
    Returns
        factor : (n,) - 0.1 and more. [-]
    Validity
        Any spread; one of more than 1 is taken as 1.
    Source
        Normal distribution with its lower half truncated (inverse of the distribution function).
    Example
        >>> positive_factor(np.array([-8.0, 0.0, 1.0]), 0.5).round(2)
        array([0.1, 1. , 1.5])
    """
    relative = min(relative, _WIDEST)
    if relative <= _NARROW or not np.any(score < 0.0):
        return 1.0 + relative * score
    from scipy.special import ndtr, ndtri  # slow to import; the nominal flight needs neither

    below = ndtr((MIN_SHARE - 1.0) / relative)
    share = below + 2.0 * ndtr(np.minimum(score, 0.0)) * (0.5 - below)
    lower = np.maximum(1.0 + relative * ndtri(share), MIN_SHARE)
    return np.where(score < 0.0, lower, 1.0 + relative * score)


def positive(value: float, sigma: float, score: Array) -> Array:
    """Return drawn values of a positive quantity; of one that is 0, the error above 0.

    value, sigma : float - as written and one standard deviation, same unit; score : (n,). [SI]
    """
    if value <= 0.0:
        return np.maximum(sigma * score, 0.0)
    return value * positive_factor(score, sigma / value)


def moved_ratio(score: Array, effect: float, base: float) -> Array:
    """Return a shape figure over its nominal value, as one uncertain length moves it.

    score : (n,); effect : float - change for one standard deviation of the length; base : float -
    the figure's nominal value, not 0, same unit. [SI]
    """
    relative = effect / base
    return positive_factor(score if relative > 0.0 else -score, abs(relative))
