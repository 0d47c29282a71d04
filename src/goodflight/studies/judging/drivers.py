"""What drives a row: the share of its reserve's variance each uncertain quantity takes part in.

All rows share one polynomial in the standard-normal scores of the flights (orthonormal Hermite:
every score to the second degree, products of the strongest), fitted once. The squares of its
coefficients add up to variances, so total-effect indices are sums over the terms that name a
quantity. What the fit leaves (gust pattern, kinks) is reported as a driver of its own.
Only what stands out of chance is named: where nothing drives a row, one in a hundred names any.
Main sources: Sudret 2008 (indices from polynomial coefficients), Homma & Saltelli 1996 (total
effect), Jansen 1999 (the sampling estimator used to check).
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.evaluate import Evaluated
from goodflight.studies.judging.parted import Part, Powers
from goodflight.studies.judging.stands_out import MAX_IN_PRODUCTS, product_sigmas, standing
from goodflight.studies.results import Driver

Array = NDArray[np.float64]

LEFT_OUT: Final = "left_out"
LEFT_OUT_LABEL: Final = "gusts and what is not attributed"
TOO_FEW: Final = "too_few"
TOO_FEW_LABEL: Final = "too few flights to tell"
_MAX_PRODUCTS: Final = 60
_WORTH_A_SEARCH: Final = 0.01  # of a row's variance: what squares leave before products are sought
_FLIGHTS_A_TERM: Final = 5  # flights needed for every term of the polynomial
_HEAVY_TAIL: Final = 3.0  # excess kurtosis above which a reserve is replaced by its normal scores
_TIED: Final = 2.0  # standard errors of a paired difference
_MIN_SHARE: Final = 0.005  # drivers below this are not listed
_FEW_A_SCORE: Final = 5  # failing and standing flights for every score that is held


def total_effects(
    scores: Array, reserves: Array, places: NDArray[np.int64] | None = None
) -> tuple[Array, Array]:
    """Total-effect index of every score, or group of scores, for every row, and what is left.

    The coefficients are corrected for noise: the expected square of a fitted coefficient exceeds
    the true square by its own variance, which is taken off (and never below zero). What does not
    stand out of chance (`standing`) has no share of its own: it is left.

    Parameters
        scores : Array, (n, k) - independent standard-normal scores. [-]
        reserves : Array, (n, r) - finite, one column a row. [unit of each row]
        places : int array, (k,), or None - group of every score, from 0; None = each its own. [-]
    Returns
        shares : Array, (r, groups) - total-effect indices, 0 where the reserve does not vary. [-]
        left : Array, (r,) - share of the variance outside the polynomial, or without a name. [-]
    Raises
        nothing
    Validity
        Needs n of at least 3 k or so; with fewer flights squares and then products are left out and
        their share moves to `left`.
    Source
        [sudret2008] eq. for total indices from chaos coefficients; noise correction: derived.
    Example
        >>> z = np.random.default_rng(1).standard_normal((400, 2))
        >>> total_effects(z, z[:, :1])[0].round(2).tolist()
        [[1.0, 0.0]]
    """
    count, factors = scores.shape
    places = np.arange(factors) if places is None else places
    centred = reserves - reserves.mean(axis=0)
    variance = np.einsum("nr,nr->r", centred, centred) / count
    scale = np.sqrt(np.where(variance > 0.0, variance, 1.0))
    varies = variance > 1e-18 * np.maximum(1.0, np.abs(reserves).max(axis=0)) ** 2
    target = np.where(varies, centred / scale, 0.0)
    power, noise, member, product = _powers(scores, target)
    grouped = member @ np.eye(places.max() + 1)[places] > 0.0
    alone = standing(scores, target) @ np.eye(places.max() + 1)[places] > 0.0
    named = alone | ((power * product[:, None]).T @ grouped > 0.0)
    # the model's own variance, free of the flights' chance correlations
    whole = np.maximum(power.sum(axis=0), 0.0) + noise
    whole = np.where(whole > 0.0, whole, 1.0)
    shares = np.where(named, np.clip(power.T @ grouped / whole[:, None], 0.0, 1.0), 0.0)
    told = np.where(grouped @ named.T, power, 0.0)
    left = np.clip(1.0 - told.sum(axis=0) / whole, 0.0, 1.0)
    shares[~varies] = 0.0
    left[~varies] = 0.0
    return shares, left


def _powers(scores: Array, target: Array) -> tuple[Array, Array, Array, NDArray[np.bool_]]:
    """Variance of every term in every row, what the fit leaves, who takes part, the products."""
    count = scores.shape[0]
    basis, member, product = _basis(scores, target)
    basis = basis - basis.mean(axis=0)  # takes the constant out
    # the columns are nearly orthonormal by construction, so the normal equations are safe and
    # several times faster than an orthogonal factorisation
    inverse = np.linalg.inv(basis.T @ basis)
    moments = basis.T @ target
    coefficients = inverse @ moments
    residual = np.maximum(0.0, count - np.einsum("pr,pr->r", moments, coefficients))
    noise = residual / max(1, count - basis.shape[1] - 1)
    variance_of_fit = np.diag(inverse)[:, None] * noise[None, :]
    power = coefficients**2 - variance_of_fit
    weak = coefficients**2 < product_sigmas(scores.shape[1]) ** 2 * variance_of_fit
    # a few flights apart from all others meet a great product too often by chance
    weak |= np.mean((target**2) ** 2, axis=0) - 3.0 > _HEAVY_TAIL
    return np.where(product[:, None] & weak, 0.0, power), noise, member, product


def group_effects(
    scores: Array, groups: Sequence[str], reserves: Array
) -> tuple[tuple[str, ...], Array, Array]:
    """Total effects of groups of scores (all fins together), in order of first appearance."""
    names = tuple(dict.fromkeys(groups))
    place = {name: i for i, name in enumerate(names)}
    shares, left = total_effects(scores, reserves, np.array([place[g] for g in groups]))
    return names, shares, left


def smooth_tails(reserve: Array) -> Array:
    """A reserve fit for a polynomial: itself, or its normal scores when its tails are heavy.

    Flights that do not apply (NaN) take the middle. Winsorised to five robust deviations first.
    """
    from scipy.special import ndtri  # slow to import; one flight needs no drivers

    finite = np.isfinite(reserve)
    if not finite.any():
        return np.zeros_like(reserve)
    out = reserve if finite.all() else np.where(finite, reserve, np.median(reserve[finite]))
    spread = out.std()
    if spread <= 0.0:
        return np.zeros_like(out)
    kurtosis = float(np.mean((((out - out.mean()) / spread) ** 2) ** 2)) - 3.0
    if kurtosis <= _HEAVY_TAIL:
        return out
    order = np.argsort(out, kind="stable")
    ranks = np.empty(out.size)
    ranks[order] = np.arange(out.size)
    _, inverse, counts = np.unique(out, return_inverse=True, return_counts=True)
    ranks = (np.bincount(inverse, ranks) / counts)[inverse]
    scores: Array = ndtri((ranks + 0.5) / out.size)
    return scores


def total_index_jansen(base: Array, changed: Array) -> float:
    """Total-effect index of one quantity from pairs of runs that differ in it alone (Jansen).

    Parameters
        base : Array, (n,) - results of the flights. [any]
        changed : Array, (n,) - results with that one quantity drawn anew. [same]
    Returns
        index : float - E[(base - changed)^2] / (2 Var base). [-]
    Raises
        nothing
    Validity
        Costs one more ensemble a quantity; used to check the polynomial, not in the ledger.
    Source
        [jansen1999]; recommended in [saltelli2010].
    Example
        >>> total_index_jansen(np.array([0.0, 2.0]), np.array([2.0, 0.0]))
        2.0
    """
    return float(np.mean((base - changed) ** 2) / (2.0 * np.var(base)))


def named_drivers(
    names: Sequence[str],
    labels: Sequence[str],
    shares: Array,
    left: float,
    enough: bool = True,
    most: int = 6,
) -> tuple[Driver, ...]:
    """The strongest drivers of one row, the part the fit leaves among them.

    enough : whether there are flights enough (`enough_flights`); if not and nothing has a name,
    that is what is said.
    """
    found = [Driver(n, t, float(s)) for n, t, s in zip(names, labels, shares) if s >= _MIN_SHARE]
    if not found and left > 0.0 and not enough:
        return (Driver(TOO_FEW, TOO_FEW_LABEL, left),)
    if left >= _MIN_SHARE:
        found.append(Driver(LEFT_OUT, LEFT_OUT_LABEL, left))
    return tuple(sorted(found, key=lambda d: -d.share)[:most])


def by_chance(
    drivers: Sequence[Driver],
    row: Evaluated,
    part: Part | None,
    powers: Powers,
    groups: Sequence[str],
) -> tuple[Driver, ...]:
    """The drivers in order of what the row's chance becomes once each is known, least first.

    Known at its middle: the flights that fail then are told by the row's polynomial in all scores,
    each with what its own flight added. Two that lie within twice the standard error of their
    paired difference are tied; one whose own difference lies within it has no chance told, nor has
    one with fewer than five failing or five standing flights for every score that is held. Drivers
    keep their order where the row cannot be split.

    Parameters
        drivers : sequence of Driver - of one row, by share. [-]
        row : Evaluated - the row on its flights. [unit of the row]
        part : Part or None - its split by all scores; None where it cannot be. [unit of the row]
        powers : Powers - all scores. [-]
        groups : sequence of str - group of every score. [-]
    Returns
        drivers : tuple of Driver - those without a chance (gusts cannot be held) last. [-]
    Raises
        nothing
    Validity
        As the polynomial; checked by flights with the figure held.
    Source
        Definition: change of the chance, on the same flights.
    """
    if part is None:
        return tuple(drivers)
    few = min(int(row.failing.sum()), int((~row.failing).sum()))
    asked = list[tuple[Driver, list[int]]]()
    for driver in drivers:
        columns = [place for place, group in enumerate(groups) if group == driver.key]
        if columns and few >= _FEW_A_SCORE * len(columns):
            asked.append((driver, columns))
    known = part.held(powers.scores, [columns for _, columns in asked])
    held = [
        (float(fails.mean()), driver, fails)
        for (driver, _), fails in zip(asked, known)
        if abs(fails.mean() - row.failing.mean()) >= _error(fails, row.failing)
    ]
    held.sort(key=lambda each: (each[0], -each[1].share))
    found, before = [], None
    for chance, driver, fails in held:
        tied = before is not None and chance - before.mean() <= _error(fails, before)
        found.append(replace(driver, chance=chance, tied=bool(tied)))
        before = fails
    told = {driver.key for driver in found}
    return (*found, *(driver for driver in drivers if driver.key not in told))


def _error(one: NDArray[np.bool_], other: NDArray[np.bool_]) -> float:
    """What two counts of the same flights may differ by through chance."""
    return _TIED * float(np.sqrt(np.sum(one != other))) / max(1, one.size)


def _basis(scores: Array, target: Array) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Columns of the polynomial, who takes part in each (0/1), and which are products."""
    count, factors = scores.shape
    room = max(1, count // _FLIGHTS_A_TERM)
    linear = scores.T @ target / count
    if factors > room:  # far too few flights: only the strongest straight terms
        keep = np.argsort(-np.abs(linear).max(axis=1), kind="stable")[:room]
        return scores[:, keep], np.eye(factors)[keep], np.zeros(keep.size, dtype=bool)
    columns, members = [scores], [np.eye(factors)]
    squares = (scores**2 - 1.0) / np.sqrt(2.0)
    bent = squares.T @ target / count
    order = np.argsort(-np.abs(bent).max(axis=1), kind="stable")[: room - factors]
    columns.append(squares[:, order])
    members.append(np.eye(factors)[order])
    rest = target - scores @ linear - squares @ bent
    main = np.maximum(linear**2, bent**2).max(axis=1)
    near = np.sort(np.argsort(-main, kind="stable")[:MAX_IN_PRODUCTS])
    most = min(_MAX_PRODUCTS, room - 2 * factors)
    first, second = (near[place] for place in _strongest_products(scores[:, near], rest, most))
    columns.append(scores[:, first] * scores[:, second])
    member = np.zeros((first.size, factors))
    member[np.arange(first.size), first] = 1.0
    member[np.arange(first.size), second] = 1.0
    members.append(member)
    product = np.arange(factors + order.size + first.size) >= factors + order.size
    return np.hstack(columns), np.vstack(members), product


def _strongest_products(
    scores: Array, rest: Array, most: int
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Pairs of scores whose product moves some row more than chance would."""
    count, factors = scores.shape
    empty = np.zeros(0, dtype=np.int64)
    if most < 1 or factors < 2:
        return empty, empty
    first, second = np.triu_indices(factors, 1)
    strength: Array = np.zeros(first.size)
    left = np.mean(rest**2, axis=0)
    worth = left > _WORTH_A_SEARCH
    if worth.any():
        wanted = (rest[:, worth] / np.sqrt(left[worth] * count)).astype(np.float32)
        columns = np.ascontiguousarray(scores.T, dtype=np.float32)  # a search, not a fit
        products = (columns[place + 1 :] * columns[place] for place in range(factors - 1))
        strength = np.concatenate([np.max((each @ wanted) ** 2, axis=1) for each in products])
    order = np.argsort(-strength, kind="stable")[:most]
    order = order[strength[order] > product_sigmas(factors) ** 2]
    return first[order].astype(np.int64), second[order].astype(np.int64)
