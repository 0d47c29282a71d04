"""A row's reserve as a polynomial of some uncertain figures, and what all else adds to it.

From it the row's failures follow with those figures held at any value, without flying again: the
polynomial moves, what the flights added to it stays. Only terms that stand out of the noise are
kept. Left out: what is no smooth function of the figures (the weaker of two, the size of a sum).
Main source: Sudret 2008 (polynomials in standard-normal scores).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.evaluate import Evaluated
from goodflight.studies.reserve import sign_of

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Terms = tuple[tuple[int, int, int], ...]

_FEW: Final = 5  # failing flights; a row with fewer is not split
_FEWEST_VALUES: Final = 100  # of a reserve; fewer are a yes or no, not a matter of degree
_STANDS_OUT: Final = 4.0  # standard errors: there are some hundred figures in a row
_TERMS: Final = 25  # of a row's polynomial in one round
_ROUNDS: Final = 3


class Powers:
    """Scores, (n, k), and their orthonormal Hermite polynomials of degree 1 to 3."""

    def __init__(self, scores: Array) -> None:
        self.scores = scores
        self.by_degree = tuple(_hermite(scores, degree) for degree in (1, 2, 3))


@dataclass(frozen=True, eq=False)
class Part:
    """One row: a polynomial of the unknown figures, and what chance adds, (n,); below 0 fails.

    terms : (degree, figure, other figure); a degree of 0 is the product of two.
    """

    terms: Terms
    coefficients: Array
    chance: Array  # infinite where the row does not apply

    def of(self, scores: Array) -> Array:
        """What the unknown figures make of the reserve, (n,)."""
        found: Array = _columns(scores, self.terms) @ self.coefficients
        return found

    def failing(self, scores: Array) -> Mask:
        """Flights that fail with these scores and their own rest, (n,)."""
        found: Mask = self.of(scores) < -self.chance
        return found


def part_of_row(row: Evaluated, powers: Powers) -> Part | None:
    """The split of one row; None where few flights fail, or where it is a yes or no on each."""
    there = np.isfinite(row.reserve)
    if row.failing.sum() < _FEW or np.any(row.failing & ~there):
        return None
    if np.unique(row.reserve[there]).size < _FEWEST_VALUES:
        return None
    wanted = [row.reserve]
    with np.errstate(invalid="ignore", divide="ignore"):
        if np.all(row.demand[there] > 0.0) and np.all(row.capacity[there] > 0.0):
            sign = sign_of(row.limit.more_is_worse)  # products are sums of logarithms
            wanted.append(sign * np.log(row.capacity / row.demand))
    found = [(values, *_fitted(powers, values, there)) for values in wanted]
    _, terms, coefficients, rest = min(
        found, key=lambda each: float(np.var(each[3][there]) / np.var(each[0][there]))
    )
    return Part(terms, coefficients, np.where(there, rest, np.inf))


def _fitted(powers: Powers, values: Array, there: Mask) -> tuple[Terms, Array, Array]:
    """Terms that stand out of the noise, their least-squares coefficients, and what they leave.

    In a few rounds; flights where the row does not apply (`there` is false) take no part.
    """
    scores, count = powers.scores, int(there.sum())
    middle = float(values[there].mean())
    terms: Terms = ()
    coefficients, rest = np.array([middle]), np.where(there, values - middle, 0.0)
    for _ in range(_ROUNDS):
        noise = _STANDS_OUT * float(np.sqrt(rest @ rest)) / count
        found = [
            (abs(moments[k]), (degree, int(k), int(k)))
            for degree, power in enumerate(powers.by_degree, 1)
            for moments in (rest @ power / count,)
            for k in np.flatnonzero(np.abs(moments) > noise)
        ]
        named = sorted({each[1] for each in terms} | {each[1][1] for each in found})
        cross = np.abs((scores[:, named] * rest[:, None]).T @ scores[:, named] / count)
        found += [
            (cross[i, j], (0, named[i], named[j]))
            for i, j in zip(*np.nonzero(np.triu(cross > noise, 1)))
        ]
        new = [term for _, term in sorted(found, reverse=True) if term not in terms]
        if not new:
            break
        terms += tuple(new[:_TERMS])
        columns = _columns(scores, terms)
        seen = columns[there]
        coefficients = np.linalg.lstsq(seen.T @ seen, seen.T @ values[there], rcond=None)[0]
        rest = np.where(there, values - columns @ coefficients, 0.0)
    return terms, coefficients, rest


def _columns(scores: Array, terms: Terms) -> Array:
    """Hermite columns of the terms, (n, terms + 1), and the constant before them."""
    out = np.ones((scores.shape[0], len(terms) + 1))
    for place, (degree, one, other) in enumerate(terms, 1):
        z = scores[:, one]
        out[:, place] = z * scores[:, other] if degree == 0 else _hermite(z, degree)
    return out


def _hermite(z: Array, degree: int) -> Array:
    """Orthonormal Hermite polynomial of degree 1, 2 or 3."""
    if degree == 1:
        return z
    found: Array = (z * z - 1.0) / np.sqrt(2.0) if degree == 2 else (z * z - 3.0) * z / np.sqrt(6.0)
    return found
