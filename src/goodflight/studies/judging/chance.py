"""How likely, how sure, and what that is called: the one place of every threshold.

Answers: what chance do the flights show, between which bounds, how far is the row from failing
when no flight fails, and is that ok, marginal or failing. Leaves out how rows are computed.
Main source: Wilson 1927 (score interval) and the reliability index of structural reliability.
"""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.results import State

Array = NDArray[np.float64]

FAILS_ABOVE: Final = 0.05  # chance; more than 1 flight in 20
MARGINAL_ABOVE: Final = 0.01  # chance; more than 1 flight in 100
TOTAL_FAILS_ABOVE: Final = 0.25  # chance that any of some seventy rows fails; 1 flight in 4
MARGINAL_BELOW_INDEX: Final = 2.326  # reliability index of a chance of 1 in 100
COUNTABLE: Final = 10  # failing (and standing) flights needed to take the index from the count
INDEX_LIMIT: Final = 9.0  # an index beyond this says nothing: there is none
CONFIDENCE: Final = 0.95
_TAIL_QUANTILES: Final = np.array([0.01, 0.02, 0.05, 0.10, 0.20])
_NORMAL: Final = NormalDist()
_TAIL_SCORES: Final = np.array([_NORMAL.inv_cdf(share) for share in _TAIL_QUANTILES])
_OFF_MIDDLE: Final = _TAIL_SCORES - _TAIL_SCORES.mean()
_TAIL_PULL: Final = _OFF_MIDDLE / (_OFF_MIDDLE @ _OFF_MIDDLE)  # least squares: slope of the line


@dataclass(frozen=True)
class Interval:
    """A chance with its bounds."""

    chance: float
    low: float
    high: float


def wilson(failed: int, flights: int, confidence: float = CONFIDENCE) -> Interval:
    """Chance of failing and its Wilson score interval, from a count of flights.

    The bounds are the two chances p that solve |failed/flights - p| = z sqrt(p (1 - p) / flights);
    unlike the textbook interval they stay inside 0 ... 1 and are of use at zero counts.

    Parameters
        failed : int - flights that fail. [-]
        flights : int - all flights, at least 1. [-]
        confidence : float - two-sided confidence. [-]
    Returns
        interval : Interval - chance, low, high. [-]
    Raises
        ValueError - no flights, or more failures than flights.
    Validity
        Independent flights. Stratified ones (ours) scatter less: the interval is on the wide side.
    Source
        [wilson1927], as written in [newcombe1998] method 3.
    Example
        >>> round(wilson(0, 20).high, 4)
        0.1611
    """
    if flights < 1 or not 0 <= failed <= flights:
        raise ValueError(
            f"{failed} failures of {flights} flights: give at least one flight and no more failures"
        )
    z = _NORMAL.inv_cdf(0.5 + confidence / 2.0)
    share = failed / flights
    bottom = 1.0 + z * z / flights
    middle = (share + z * z / (2.0 * flights)) / bottom
    half = z / bottom * math.sqrt(share * (1.0 - share) / flights + (z / (2.0 * flights)) ** 2)
    low = 0.0 if failed == 0 else middle - half
    high = 1.0 if failed == flights else middle + half
    return Interval(share, low, high)


def reliability_index(reserve: Array, failed: int) -> float | None:
    """Distance from failing in standard deviations, for chances too small to count.

    With at least `COUNTABLE` flights on both sides it is the normal quantile of the counted chance,
    beta = -Phi^-1(failed / flights), so that margin and chance never disagree. Otherwise the lower
    tail of the reserve (its 1, 2, 5, 10 and 20 % quantiles) is laid on normal probability paper
    and the straight line through it is followed to zero. For a normal reserve this equals the
    first-order index mean / standard deviation; for a skewed one it follows the side that fails.

    Parameters
        reserve : Array, (n,) - capacity - demand, signed so that negative fails. [unit of the row]
        failed : int - flights that fail. [-]
    Returns
        index : float or None - beta; None where nothing scatters, or where the line would have to
            be followed so far (INDEX_LIMIT) that it says nothing. [-]
    Raises
        nothing
    Validity
        The straight-line continuation is an extrapolation: beyond about 4 it says "far", no more.
    Source
        Definition of the index: structural reliability, first-order second-moment; the probability
        paper is our choice, see docs/decisions.
    Example
        >>> reliability_index(np.full(100, 3.0), 0) is None
        True
    """
    flights = reserve.size
    if COUNTABLE <= failed <= flights - COUNTABLE:
        return -_NORMAL.inv_cdf(failed / flights)
    if failed > flights // 2:  # nearly all fail: follow the side that stands
        other = reliability_index(-reserve, flights - failed)
        return None if other is None else -other
    finite = reserve[np.isfinite(reserve)]
    if finite.size < 2:
        return None
    ordered = np.sort(finite)
    middle = ordered[ordered.size // 2]
    tail = _quantiles(ordered, _TAIL_QUANTILES)
    slope = float(_TAIL_PULL @ tail)
    level = float(tail.mean() - slope * _TAIL_SCORES.mean())
    scale = max(abs(float(middle)), float(np.abs(tail).max()), 1e-300)
    if slope < 1e-9 * scale:
        return None
    index = level / slope
    return index if abs(index) < INDEX_LIMIT else None


def state_of(chance: float | None, index: float | None, valid: bool) -> State:
    """What a chance is called: ok, marginal, fails, or unknown when there is no chance to call."""
    if chance is None:
        return "unknown"
    if chance > FAILS_ABOVE:
        return "fails"
    if chance > MARGINAL_ABOVE or (index is not None and index < MARGINAL_BELOW_INDEX) or not valid:
        return "marginal"
    return "ok"


def _quantiles(ordered: Array, levels: Array) -> Array:
    place = levels * (ordered.size - 1)
    below = place.astype(np.int64)
    above = np.minimum(below + 1, ordered.size - 1)
    part = place - below
    out: Array = ordered[below] * (1.0 - part) + ordered[above] * part
    return out
