"""What the total becomes as what is not known turns out one way or another.

Every uncertain quantity says whether its spread is missing knowledge or chance from flight to
flight. Held at one set of the unknown figures, chance alone gives a total; over all sets it gives
an interval, and with every guess at its middle the part of the total that rests on none. Flying
some hundred flights for each set would take minutes. Here each row's reserve is split into a
polynomial of the unknown figures and what chance adds to it; every set meets the chance of many
flights; and how that agrees with the flights themselves corrects it (isotonic).
Left out: figures nobody gave a spread; rows that are not known.
Main source: nested simulation of knowledge and chance, Helton 1994 (idea); docs/decisions/011.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.evaluate import FAILURE, Evaluated, any_failing, evaluate
from goodflight.studies.results import Knowledge
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_sample
from goodflight.studies.sampling.quantity import KNOWLEDGE
from goodflight.studies.sampling.trials import assemble

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Terms = tuple[tuple[int, int, int], ...]

ENDS: Final = (0.10, 0.90)  # of the sets of unknown figures: 8 of 10 lie between
FEWEST: Final = 400  # flights; fewer tell knowledge and chance not apart
CHANCES: Final = 250  # flights whose chance every set meets
FLOWN: Final = 400  # flights flown again with every guess at its middle
_FEW: Final = 5  # failing flights; a row with fewer is left to chance
_STANDS_OUT: Final = 4.0  # standard errors: there are some hundred figures in a row
_TERMS: Final = 25  # of a row's polynomial in one round
_ROUNDS: Final = 3
_STEPS: Final = 40  # of the correction: flights of like total


def knowledge_of(view: View, rows: Sequence[Evaluated]) -> Knowledge | None:
    """The interval of the total over what is not known, and the part that rests on guesses.

    Parameters
        view : View - flown flights. [-]
        rows : sequence of Evaluated - every row on them. [-]
    Returns
        knowledge : Knowledge or None - None with too few flights, or where nothing is guessed. [-]
    Raises
        nothing
    Validity
        Against nested flights of the demo's plans: ends within about 5 in 100, see the test. A row
        whose reserve is no smooth function of the figures counts in part as chance.
    Source
        Two loops, knowledge outside and chance inside: [helton1994].
    """
    factors = view.trials.factors
    unknown = np.array([factor.of.nature == KNOWLEDGE for factor in factors])
    guessed = np.array([factor.guessed for factor in factors])
    failing = any_failing(rows)
    total = float(failing.mean())
    if view.count < FEWEST or not guessed.any():
        return None
    split = Split(view, rows, unknown)
    low, high = np.quantile(corrected(split.totals(view.trials.z), failing), ENDS)
    middles = np.where(guessed, 0.0, view.trials.z)
    frozen = _frozen(view, split, middles)
    share = min(1.0, max(0.0, 1.0 - frozen / total)) if total > 0.0 else 0.0
    return Knowledge(float(min(low, total)), float(max(high, total)), frozen, share)


class Split:
    """The failures of the flight, each as what the unknown figures make of it, and chance."""

    def __init__(self, view: View, rows: Sequence[Evaluated], unknown: Mask) -> None:
        self.columns = unknown
        powers = _Powers(view.trials.z[:, unknown])
        failures = [row for row in rows if row.limit.kind in FAILURE and row.failing.any()]
        parted = [_part(row, powers) for row in failures]
        self.parts = [part for part in parted if part is not None]
        whole = [row.failing for row, part in zip(failures, parted) if part is None]
        self.whole: Mask = np.any(whole, axis=0) if whole else np.zeros(view.count, dtype=bool)

    def totals(self, scores: Array) -> Array:
        """Chance of any failure with the unknown figures of each flight, (n,), before correction.

        Every set of figures meets the chance of the same flights, so rows that fail together do.
        """
        taken = slice(0, min(CHANCES, self.whole.size))
        fails = np.broadcast_to(self.whole[taken], (len(scores), self.whole[taken].size)).copy()
        for part in self.parts:
            fails |= part.of(scores[:, self.columns])[:, None] < -part.chance[taken]
        found: Array = fails.mean(axis=1)
        return found

    def failing(self, scores: Array) -> Mask:
        """Flights that fail with these scores and their own chance, (n,)."""
        fails = self.whole.copy()
        for part in self.parts:
            fails |= part.of(scores[:, self.columns]) < -part.chance
        return fails


class _Powers:
    """Scores, (n, k), and their orthonormal Hermite polynomials of degree 1 to 3."""

    def __init__(self, scores: Array) -> None:
        square = scores * scores
        self.scores = scores
        self.by_degree = (
            scores,
            (square - 1.0) / np.sqrt(2.0),
            (square - 3.0) * scores / np.sqrt(6.0),
        )


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


def _part(row: Evaluated, powers: _Powers) -> Part | None:
    """The split of one row; None where few flights fail, or where it is a yes or no on each."""
    there = np.isfinite(row.reserve)
    if row.failing.sum() < _FEW or np.any(row.failing & ~there):
        return None
    if np.unique(row.reserve[there]).size < FEWEST // 4:
        return None
    wanted = [row.reserve]
    with np.errstate(invalid="ignore", divide="ignore"):
        if np.all(row.demand[there] > 0.0) and np.all(row.capacity[there] > 0.0):
            sign = 1.0 if row.limit.more_is_worse else -1.0  # products are sums of logarithms
            wanted.append(sign * np.log(row.capacity / row.demand))
    found = [(values, *_fitted(powers, values, there)) for values in wanted]
    _, terms, coefficients, rest = min(
        found, key=lambda each: float(np.var(each[3][there]) / np.var(each[0][there]))
    )
    return Part(terms, coefficients, np.where(there, rest, np.inf))


def _fitted(powers: _Powers, values: Array, there: Mask) -> tuple[Terms, Array, Array]:
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
        if degree == 0:
            out[:, place] = z * scores[:, other]
        elif degree == 1:
            out[:, place] = z
        elif degree == 2:
            out[:, place] = (z * z - 1.0) / np.sqrt(2.0)
        else:
            out[:, place] = (z * z - 3.0) * z / np.sqrt(6.0)
    return out


def corrected(totals: Array, failing: Mask) -> Array:
    """Totals that agree with the flights: of like total as many fail as it says, (n,).

    Flights in order of their total, in steps of equal number; the share that fails in each, made
    rising by pooling neighbours that fall (isotonic regression), is the total of that step.
    """
    order = np.argsort(totals, kind="stable")
    out = np.empty_like(totals)
    blocks: list[tuple[float, int]] = []
    for step in np.array_split(failing[order].astype(np.float64), _STEPS):
        blocks.append((float(step.mean()), step.size))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (a, n), (b, m) = blocks[-2], blocks.pop()
            blocks[-1] = ((a * n + b * m) / (n + m), n + m)
    out[order] = np.repeat([share for share, _ in blocks], [size for _, size in blocks])
    return out


def _frozen(view: View, split: Split, middles: Array) -> float:
    """Chance of any failure with these scores: by the split, corrected by some that are flown."""
    taken = slice(0, min(FLOWN, view.count))
    trials = view.trials
    sample = assemble(view.case, trials.factors, middles[taken], trials.seeds[taken])
    flown = any_failing(evaluate(fly_sample(view.case, sample)))
    told = split.failing(middles)
    off = float(flown.mean()) - float(told[taken].mean())
    return min(1.0, max(0.0, float(told.mean()) + off))
