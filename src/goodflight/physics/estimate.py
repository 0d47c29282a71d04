"""Generalised least squares on a prior: several measurements with errors, one best estimate.

Answers what a set of readings says together about quantities that were known roughly before, how
far each reading stands from what all others say, and what remains uncertain. Normal errors.
Main source: Aitken 1936 (generalised least squares); with a prior, Rodgers 2000.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Predict = Callable[[Array], tuple[Array, Array]]

_STEPS: Final = 50
_CLOSE: Final = 1e-10  # of the prior's spreads: a step below ends the search


@dataclass(frozen=True, eq=False)
class Estimate:
    """What prior and readings say together.

    mean, covariance : (k,), (k, k) of the quantities. chi_square : of the readings against prior
    and each other, with as many degrees of freedom as readings. apart, apart_sigma : (n,) each
    reading less what prior and all other readings say it should be, and the spread of that.
    """

    mean: Array
    covariance: Array
    chi_square: float
    apart: Array
    apart_sigma: Array


def generalised_least_squares(
    mean: Array,
    covariance: Array,
    observed: Array,
    error: Array,
    predict: Predict,
    close: float = _CLOSE,
) -> Estimate:
    """Best estimate of several quantities from a prior and readings with correlated errors.

    Minimises (x - m)' P^-1 (x - m) + (y - h(x))' R^-1 (y - h(x)) by Gauss-Newton steps in the form
    that needs no inverse of P, so quantities known exactly may take part:
    x = m + P H' (H P H' + R)^-1 (y - h(x) - H (m - x)); covariance P - P H' (H P H' + R)^-1 H P.
    With S = H P H' + R and v = y - h(x) - H (m - x), a reading stands (S^-1 v)_i / (S^-1)_ii from
    what the rest says, with the variance 1 / (S^-1)_ii.

    Parameters
        mean : array (k,) - the prior's middle. [unit of each quantity]
        covariance : array (k, k) - of the prior; rows of zeros = known exactly. [their products]
        observed : array (n,) - the readings. [unit of each reading]
        error : array (n, n) - covariance of the readings' errors, positive definite. [products]
        predict : callable - quantities to what would be read (n,) and its slopes (n, k). [-]
        close : float - a step this small ends the search, in the prior's spreads. [-]
    Returns
        estimate : Estimate - mean, covariance, and how far each reading stands apart. [as given]
    Raises
        ValueError - the steps do not settle: readings far from anything the prior allows
    Validity
        Exact where `predict` is linear; else to first order about the estimate.
    Source
        [aitken1936]; with a prior [rodgers2000] eq. 5.10. The distance of one reading from the
        rest: derived, by taking it out of the sum (block inverse of S).
    Example
        >>> two = lambda x: (np.array([x[0], x[0]]), np.ones((2, 1)))
        >>> e = generalised_least_squares(np.zeros(1), np.eye(1) * 1e12, np.array([1.0, 2.0]),
        ...                               np.eye(2), two)
        >>> float(e.mean[0].round(6)), float(e.covariance[0, 0].round(6))
        (1.5, 0.5)
    """
    scale = np.sqrt(np.diag(covariance))
    scale = np.where(scale > 0.0, scale, 1.0)
    here = mean.copy()
    for _ in range(_STEPS):
        would, slopes = predict(here)
        innovation = observed - would - slopes @ (mean - here)
        carried = covariance @ slopes.T
        total = slopes @ carried + error
        after = mean + carried @ np.linalg.solve(total, innovation)
        moved = float(np.max(np.abs(after - here) / scale, initial=0.0))
        here = after
        if moved < close:
            break
    else:
        raise ValueError("no estimate settles: the readings are far from what is possible")
    weight = np.linalg.inv(total)
    weighted = weight @ innovation
    gain = carried @ weight
    left = np.eye(mean.size) - gain @ slopes
    narrowed = left @ covariance @ left.T + gain @ error @ gain.T  # the same, but rounds less
    return Estimate(
        mean=here,
        covariance=0.5 * (narrowed + narrowed.T),
        chi_square=float(innovation @ weighted),
        apart=weighted / np.diag(weight),
        apart_sigma=1.0 / np.sqrt(np.diag(weight)),
    )


def square_root(covariance: Array) -> Array:
    """Symmetric square root A of a covariance, A A' = C: mixes independent scores into joint ones.

    Of all roots it moves every score least, so a column stays nearly its own quantity's.

    Parameters
        covariance : array (k, k) - symmetric, no variance below zero. [products of units]
    Returns
        root : array (k, k) - symmetric. [units]
    Raises
        nothing
    Validity
        Rounding below zero is taken as zero.
    Source
        Spectral decomposition.
    Example
        >>> square_root(np.array([[4.0, 0.0], [0.0, 9.0]])).round(6).tolist()
        [[2.0, 0.0], [0.0, 3.0]]
    """
    values, vectors = np.linalg.eigh(covariance)
    root: Array = (vectors * np.sqrt(np.maximum(values, 0.0))) @ vectors.T
    return root


def one_more(values: Array, usual: float, worth: float = 2.0) -> tuple[float, float]:
    """Middle and spread of one more of what several were measured of: the next pull, the next tube.

    With n values of mean m, and a usual scatter u that counts as w values: variance
    s2 = (w u2 + sum (x - m)2) / (w + n - 1); the next one is m + t sqrt(s2 (1 + 1/n)) with
    Student's t of w + n - 1 degrees of freedom. One standard deviation is
    told so that +-1.96 of it hold 95 in 100: t_95 / 1.96 of that.

    Parameters
        values : array (n,) - at least one, or two where `worth` is 0. [any]
        usual : float - scatter such things have, before any was measured. [the same]
        worth : float - how many values the usual scatter counts as; 2 is our guess. [-]
    Returns
        middle, sigma : float - of the next one. [the same]
    Raises
        ValueError - nothing tells the scatter
    Validity
        Normal scatter; each value another specimen, no error shared by all of them.
    Source
        Student's t for few readings: [jcgm100] G.3; with a scatter known before: conjugate normal
        and inverse chi-square, textbook.
    Example
        >>> middle, sigma = one_more(np.array([30.0, 32.0, 34.0]), 0.0, 0.0)
        >>> round(middle, 3), round(sigma, 2)
        (32.0, 5.07)
    """
    from scipy.special import stdtrit  # slow to import

    count = values.size
    degrees = worth + count - 1.0
    if count == 0 or degrees <= 0.0:
        raise ValueError("one reading alone tells no scatter.")
    middle = float(values.mean())
    variance = (worth * usual**2 + float(((values - middle) ** 2).sum())) / degrees
    wider = float(stdtrit(degrees, 0.975)) / 1.959964
    return middle, wider * float(np.sqrt(variance * (1.0 + 1.0 / count)))


def told_alone(
    before: tuple[float, float], after: tuple[float, float]
) -> tuple[float, float] | None:
    """What readings say of a quantity by themselves, from what was known before and after them.

    Precisions add up: 1/e2 = 1/s2 - 1/p2 and x/e2 = m/s2 - u/p2.

    Parameters
        before : two floats - middle u and standard deviation p before the readings. [any]
        after : two floats - middle m and standard deviation s with them. [the same]
    Returns
        value, error : float - or None where the readings narrow it by less than 5 %. [the same]
    Raises
        nothing
    Validity
        Normal errors, nothing else learnt of the quantity from the prior of others.
    Source
        Product of normal densities, textbook.
    Example
        >>> told_alone((0.0, 1.0), (1.0, 0.5 ** 0.5))
        (2.0, 1.0)
    """
    (usual, wide), (middle, narrow) = before, after
    if not 0.0 < narrow < 0.95 * wide:
        return None
    precision = 1.0 / narrow**2 - 1.0 / wide**2
    value = (middle / narrow**2 - usual / wide**2) / precision
    return round(value, 12), round(precision**-0.5, 12)
