"""A row's reserve as a polynomial of some uncertain figures, and what all else adds to it.

From it the row's failures follow with those figures held at any value, without flying again: the
polynomial moves, what the flights added to it stays. Only terms that stand out of the noise are
kept. Left out: what is no smooth function of the figures (the weaker of two, the size of a sum).
Main source: Sudret 2008 (polynomials in standard-normal scores).
"""

from collections.abc import Sequence
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
    """Scores, (n, k), and their orthonormal Hermite polynomials of degree 1 to 3.

    whole : (n, 3 k), those of degree 1 first.
    """

    def __init__(self, scores: Array) -> None:
        self.scores = scores
        self.whole = np.hstack([_hermite(scores, degree) for degree in (1, 2, 3)])


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

    def held(self, scores: Array, figures: Sequence[Sequence[int]]) -> list[Mask]:
        """For each of some sets of figures the flights that fail with it at its middle, (n,)."""
        columns = _columns(scores, self.terms)
        whole, found = columns @ self.coefficients, []
        for known in figures:
            made = whole
            for place, (degree, one, other) in enumerate(self.terms, 1):
                if one in known or other in known:
                    middle = _hermite(np.zeros(1), degree)[0] if degree else 0.0
                    made = made + (middle - columns[:, place]) * self.coefficients[place]
            found.append(made < -self.chance)
        return found


@dataclass(eq=False)
class _Fit:
    """A reserve while its polynomial is found; `there` : flights where the row applies."""

    values: Array
    there: Mask
    terms: Terms
    coefficients: Array
    rest: Array

    @property
    def left(self) -> float:
        """Share of the variance that is left."""
        return float(np.var(self.rest[self.there]) / np.var(self.values[self.there]))


def parts_of_rows(rows: Sequence[Evaluated], powers: Powers) -> list[Part | None]:
    """The split of each row; None where few flights fail, or where it is a yes or no on each.

    All rows are fitted side by side, so that one product of matrices asks all of them.
    """
    begun = [_begun(row) for row in rows]
    _fit([fit for fits in begun for fit in fits], powers)
    found = list[Part | None]()
    for fits in begun:
        best = min(fits, key=lambda fit: fit.left, default=None)
        found.append(
            None
            if best is None
            else Part(best.terms, best.coefficients, np.where(best.there, best.rest, np.inf))
        )
    return found


def _begun(row: Evaluated) -> list[_Fit]:
    """What is to be split: the reserve, and its logarithm where it has one; or nothing."""
    there = np.isfinite(row.reserve)
    if row.failing.sum() < _FEW or np.any(row.failing & ~there):
        return []
    if np.unique(row.reserve[there]).size < _FEWEST_VALUES:
        return []
    wanted = [row.reserve]
    with np.errstate(invalid="ignore", divide="ignore"):
        if np.all(row.demand[there] > 0.0) and np.all(row.capacity[there] > 0.0):
            sign = sign_of(row.limit.more_is_worse)  # products are sums of logarithms
            wanted.append(sign * np.log(row.capacity / row.demand))
    middles = [float(values[there].mean()) for values in wanted]
    return [
        _Fit(values, there, (), np.array([middle]), np.where(there, values - middle, 0.0))
        for values, middle in zip(wanted, middles)
    ]


def _fit(fits: Sequence[_Fit], powers: Powers) -> None:
    """Find terms that stand out of the noise, their least-squares coefficients, what they leave.

    In a few rounds; flights where the row does not apply take no part.
    """
    for _ in range(_ROUNDS):
        if not fits:
            break
        moments = np.abs(np.stack([fit.rest for fit in fits]) @ powers.whole)
        fits = [fit for fit, each in zip(fits, moments) if _more(fit, each, powers.scores)]


def _more(fit: _Fit, moments: Array, scores: Array) -> bool:
    """Take in what stands out of the rest; whether anything did. moments : (3 k,), of its rest."""
    count, figures = int(fit.there.sum()), scores.shape[1]
    noise = _STANDS_OUT * float(np.sqrt(fit.rest @ fit.rest)) / count
    moments = moments / count
    found = [
        (moments[k], (k // figures + 1, k % figures, k % figures))
        for k in np.flatnonzero(moments > noise).tolist()
    ]
    named = sorted({each[1] for each in fit.terms} | {each[1][1] for each in found})
    near = scores[:, named]
    cross = np.abs((near * fit.rest[:, None]).T @ near / count)
    found += [
        (cross[i, j], (0, named[i], named[j]))
        for i, j in zip(*np.nonzero(np.triu(cross > noise, 1)))
    ]
    new = [term for _, term in sorted(found, reverse=True) if term not in fit.terms]
    if not new:
        return False
    fit.terms += tuple(new[:_TERMS])
    columns = _columns(scores, fit.terms)
    whole = bool(fit.there.all())
    seen, values = (columns, fit.values) if whole else (columns[fit.there], fit.values[fit.there])
    solved = np.linalg.lstsq(seen.T @ seen, seen.T @ values, rcond=None)[0]
    fit.coefficients = np.asarray(solved, dtype=np.float64)
    fit.rest = np.where(fit.there, fit.values - columns @ fit.coefficients, 0.0)
    return True


def _columns(scores: Array, terms: Terms) -> Array:
    """Hermite columns of the terms, (n, terms + 1), and the constant before them."""
    out = np.ones((len(terms) + 1, scores.shape[0]))  # a column at a time is written
    straight = {figure: scores[:, figure].copy() for term in terms for figure in term[1:]}
    for place, (degree, one, other) in enumerate(terms, 1):
        z = straight[one]
        out[place] = z * straight[other] if degree == 0 else _hermite(z, degree)
    return out.T


def _hermite(z: Array, degree: int) -> Array:
    """Orthonormal Hermite polynomial of degree 1, 2 or 3."""
    if degree == 1:
        return z
    found: Array = (z * z - 1.0) / np.sqrt(2.0) if degree == 2 else (z * z - 3.0) * z / np.sqrt(6.0)
    return found
