"""Which of many uncertain quantities stands out of chance in a row, and with how many flights.

Some hundred quantities are asked of every row, so the bound is set by what a row without any driver
would name. Left out: effects that are neither straight, nor even, nor a product of two.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FALSE_NAMES: Final = 0.01  # of rows without any driver: those that name one all the same
MAX_IN_PRODUCTS: Final = 80  # scores with the strongest effects of their own
_WORTH_A_NAME: Final = 0.1  # with flights that cannot show even such a share, that is said


def standing(scores: Array, target: Array) -> NDArray[np.bool_]:
    """Which scores move which rows more than chance would, straight or both ways alike.

    A sum over flights of a standard-normal score times figures that have nothing to do with it is
    normal, whatever the figures: so is that of the score's size, made normal. Each of the two is
    asked of every score, so each may err in its share of `FALSE_NAMES` alone (Bonferroni).

    Parameters
        scores : Array, (n, k) - independent standard-normal scores. [-]
        target : Array, (n, r) - middle 0, mean square 1; or all 0. [-]
    Returns
        stands : bool array, (r, k). [-]
    Raises
        nothing
    Validity
        Any number of flights. An effect that is neither straight nor even (products) is not seen.
    Source
        Normal distribution of a weighted sum of normal scores, exact; Bonferroni's inequality.
    Example
        >>> z = np.random.default_rng(1).standard_normal((100, 2))
        >>> standing(z, z[:, :1]).tolist()
        [[True, False]]
    """
    from scipy.special import ndtr, ndtri  # slow to import; one flight needs no drivers

    count = scores.shape[0]
    even = ndtri(np.clip(2.0 * ndtr(np.abs(scores)) - 1.0, 1e-12, 1.0 - 1e-12))
    limit = score_sigmas(scores.shape[1]) * np.sqrt(count)
    found: NDArray[np.bool_] = (np.abs(target.T @ scores) > limit) | (
        np.abs(target.T @ even) > limit
    )
    return found


def score_sigmas(factors: int) -> float:
    """How far one of `factors` scores must stand out, straight or even, to have a name."""
    return _two_sided(FALSE_NAMES / 2.0 / (2 * max(1, factors)))


def product_sigmas(factors: int) -> float:
    """How far a product of two of the strongest scores must stand out."""
    near = min(factors, MAX_IN_PRODUCTS)
    return _two_sided(FALSE_NAMES / 2.0 / max(1, near * (near - 1) // 2))


def _two_sided(chance: float) -> float:
    from scipy.special import ndtri  # slow to import; one flight needs no drivers

    return float(-ndtri(chance / 2.0))


def enough_flights(flights: int, factors: int) -> bool:
    """Whether a figure behind a tenth of a row's spread stands out of chance in these flights."""
    return flights * _WORTH_A_NAME >= score_sigmas(factors) ** 2
