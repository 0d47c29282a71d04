"""Were chances right? A share and its exact interval, and a score of chances that were said.

And chances that were too sure or not sure enough, made to agree with what happened.
What is left out: that several chances said of one flight hang together.
Main sources: Clopper and Pearson 1934; Brier 1950; Murphy 1973; Kull et al. 2017.
"""

import math
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_STEPS: Final = 50
_CLOSE: Final = 1e-9  # a step below ends the search


def exact_share(count: int, of: int, confidence: float = 0.95) -> tuple[float, float]:
    """Bounds of a chance from a count, exact for the binomial, for few trials.

    The lower bound p makes `count` or more of n as rare as (1 - confidence) / 2, the upper one
    `count` or fewer: quantiles of the beta distributions (k, n - k + 1) and (k + 1, n - k).

    Parameters
        count : int - how often it happened. [-]
        of : int - of how many, at least 1. [-]
        confidence : float - two-sided, at least this. [-]
    Returns
        low, high : float - bounds of the chance. [-]
    Raises
        ValueError - no trials, or more than there are happened
    Validity
        Independent trials of one chance; on the wide side.
    Source
        [clopper1934]
    Example
        >>> tuple(round(each, 4) for each in exact_share(0, 20))
        (0.0, 0.1684)
    """
    from scipy.special import betaincinv  # slow to import

    if of < 1 or not 0 <= count <= of:
        raise ValueError(f"{count} of {of}: give one trial or more, and no more that happened")
    tail = 0.5 * (1.0 - confidence)
    low = 0.0 if count == 0 else float(betaincinv(count, of - count + 1, tail))
    high = 1.0 if count == of else float(betaincinv(count + 1, of - count, 1.0 - tail))
    return low, high


def inside_band(
    found: tuple[float, float], middle: float, edges: tuple[float, float], spread: float
) -> bool:
    """Whether a figure lies in the band predicted for it, its own error allowed for.

    Each edge lies farther from the middle by the error: sqrt((edge - middle)^2 + (z e)^2).

    Parameters
        found : two floats - the figure and its standard error e. [any]
        middle : float - of the band, half of the flights lie below. [the same]
        edges : two floats - lower and upper. [the same]
        spread : float - z, standard deviations of a normal that hold the band's share. [-]
    Returns
        inside : bool - between the edges. [-]
    Raises
        nothing
    Validity
        Exact for normal bands and errors.
    Source
        Variances of independent errors add up, textbook.
    Example
        >>> inside_band((10.4, 1.0), 10.0, (9.9, 10.1), 0.6745)
        True
    """
    value, error = found
    low, high = (math.hypot(edge - middle, spread * error) for edge in edges)
    return -low <= value - middle <= high


@dataclass(frozen=True)
class BrierScore:
    """Mean square of chance said less what happened (1 or 0), and its parts.

    score = reliability - resolution + uncertainty + within.
    """

    score: Annotated[float, "0 = always right and sure, 1 = always wrong and sure"]
    reliability: Annotated[float, "chances said against shares that happened; 0 is best"]
    resolution: Annotated[float, "how far the groups' shares differ; more is better"]
    uncertainty: Annotated[float, "of what happened, whatever was said"]
    within: Annotated[float, "chances that differ inside one group"]


def brier_score(said: Array, happened: Array, group: Array) -> BrierScore:
    """How good chances were, and why: Brier's score and its parts by groups of like chances.

    With mean chance f and share o of each group of n_k, o_all of all N: reliability
    = sum n_k (f - o)^2 / N, resolution = sum n_k (o - o_all)^2 / N, uncertainty
    = o_all (1 - o_all); what is left is the spread of chances inside the groups: variance less
    twice the covariance.

    Parameters
        said : array (n,) - chances, 0 to 1. [-]
        happened : array (n,) - 1 or 0. [-]
        group : array (n,) - number of the group of each. [-]
    Returns
        score : BrierScore - the score and its parts. [-]
    Raises
        ValueError - nothing was said
    Validity
        The parts are exact for these groups; few flights make every part uncertain.
    Source
        [murphy1973]; the part inside the groups: derived, sum of squares about the groups' means.
    Example
        >>> brier_score(np.array([0.0, 1.0]), np.array([0.0, 1.0]), np.array([0, 1])).score
        0.0
    """
    if not said.size:
        raise ValueError("nothing was said: give one chance or more.")
    share = float(happened.mean())
    reliability = resolution = within = 0.0
    for each in np.unique(group):
        chances, did = said[group == each], happened[group == each]
        weight, middle, mean = chances.size / said.size, float(chances.mean()), float(did.mean())
        reliability += weight * (middle - mean) ** 2
        resolution += weight * (mean - share) ** 2
        off = chances - middle
        within += weight * float(np.mean(off * off) - 2.0 * np.mean(off * (did - mean)))
    score = float(np.mean((said - happened) ** 2))
    return BrierScore(score, reliability, resolution, share * (1.0 - share), within)


def agreed(said: Array, happened: NDArray[np.bool_], least: float) -> Array:
    """Chances made to agree with what happened, by three figures fitted to all of them.

    The odds of p are exp(c) s^a / (1 - s)^b with a, b >= 0, most likely with what happened where a
    and b are known beforehand to be 1 +- 1 (as it was said; else a chance that was always right
    would have no end of them). The mean is that of what happened.

    Parameters
        said : array (n,) - chances s, 0 to 1; none below `least` or above 1 - `least` is held. [-]
        happened : array (n,) - whether it did. [-]
        least : float - the least chance that can be told, above 0. [-]
    Returns
        chances : array (n,) - in the order of `said`. [-]
    Raises
        ValueError - nothing was said
    Validity
        Exact where chances said of what happened and of what did not are beta distributed; right
        in the mean always.
    Source
        [kull2017], the three figures; that a and b are near 1 is ours.
    Example
        >>> agreed(np.full(4, 0.1), np.array([True, False, False, False]), 0.01).round(6).tolist()
        [0.25, 0.25, 0.25, 0.25]
    """
    if not said.size:
        raise ValueError("nothing was said: give one chance or more.")
    share = float(happened.mean())
    if share in (0.0, 1.0):
        return np.full(said.size, share)
    held = np.clip(said, least, 1.0 - least)
    columns = np.column_stack([np.ones_like(held), np.log(held), -np.log1p(-held)])
    taken = [0, 1, 2]
    while True:
        found = _most_likely(columns[:, taken], happened.astype(np.float64))
        below = [place for place, value in zip(taken, found) if place and value < 0.0]
        if not below:
            return _logistic(columns[:, taken] @ found)
        taken.remove(below[0])


def _most_likely(columns: Array, happened: Array) -> Array:
    """Coefficients of the columns, the first one free, the others known to be 1 +- 1.

    Newton's steps, halved until they gain: the likelihood has one summit.
    """
    known = np.array([0.0] + [1.0] * (columns.shape[1] - 1))
    sign = 2.0 * happened - 1.0

    def cost(at: Array) -> float:
        likely = np.logaddexp(0.0, -sign * (columns @ at)).sum()
        return float(likely + 0.5 * (known * (at - 1.0) ** 2).sum())

    found = known.copy()
    for _ in range(_STEPS):
        chances = _logistic(columns @ found)
        slope = columns.T @ (happened - chances) - known * (found - 1.0)
        bend = (columns.T * (chances * (1.0 - chances))) @ columns + np.diag(known)
        step, before = np.linalg.lstsq(bend, slope, rcond=None)[0], cost(found)
        while cost(found + step) > before and float(np.max(np.abs(step))) > _CLOSE:
            step = 0.5 * step
        found = found + step
        if float(np.max(np.abs(step))) < _CLOSE:
            break
    return found


def _logistic(odds: Array) -> Array:
    chances: Array = 0.5 * (1.0 + np.tanh(0.5 * odds))
    return chances
