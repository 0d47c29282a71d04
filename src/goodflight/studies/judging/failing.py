"""The flights that fail in a row: what they have in common, and which of them to look at.

Every uncertain quantity is a column of standard-normal scores. Where the failing flights lie in it
on average, against the flights that stand, tells them apart; a quantity that fails either way is
told by how far it lies from its middle. Left out: quantities that act only together.
"""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.evaluate import Evaluated
from goodflight.studies.results import Failing, NumberedFlight, Trait
from goodflight.studies.rows import View
from goodflight.studies.sampling.quantity import Factor

Array = NDArray[np.float64]

FEWEST: Final = 5  # flights on either side; fewer have nothing in common that could be told
STANDS_OUT: Final = 4.5  # standard errors: there are some hundred quantities in each of sixty rows
MIN_APART: Final = 0.3  # spreads between the two middles; less is not worth telling
MAX_TRAITS: Final = 3
EITHER_WAY: Final = 0.5  # failing flights whose mean lies nearer than this share of their distance
_FOLDED_VARIANCE: Final = 1.0 - 2.0 / math.pi  # of |z|
_PARAMETERS: Final = {"delay": ("delay_s", "time")}  # factor key -> what the builder knows it as


def failing_of(view: View, row: Evaluated) -> Failing | None:
    """What the failing flights of a row have in common, and the numbers of some flights of it.

    Parameters
        view : View - all flights of the ledger. [-]
        row : Evaluated - one row on them. [unit of the row]
    Returns
        failing : Failing or None - None where nothing is known or nothing varies. [-]
    Raises
        nothing
    Validity
        Numbers are places in this sample, from 1; another sample numbers other flights.
    Source
        Difference of two means against its standard error.
    """
    if not row.known:
        return None
    flights = _draws(row)
    stands = np.isfinite(row.reserve) & ~row.failing
    traits: tuple[Trait, ...] = ()
    if min(int(row.failing.sum()), int(stands.sum())) >= FEWEST:
        traits = _traits(view, row.failing, stands)
    return Failing(traits, flights) if traits or flights else None


def _draws(row: Evaluated) -> tuple[NumberedFlight, ...]:
    """The worst, the middle one and the one that only just fails; the nearest that stands."""
    reserve = row.reserve
    found: list[NumberedFlight] = []
    failed = np.flatnonzero(row.failing & np.isfinite(reserve))
    if failed.size:
        order = failed[np.argsort(reserve[failed], kind="stable")]
        places = (("worst", 0), ("middle", order.size // 2), ("just", order.size - 1))
        found += [NumberedFlight(int(order[place]) + 1, which) for which, place in places]
    stands = np.flatnonzero(np.isfinite(reserve) & ~row.failing)
    if stands.size and np.ptp(reserve[stands]) > 0.0:
        found.append(NumberedFlight(int(stands[np.argmin(reserve[stands])]) + 1, "near"))
    once = {each.number: each for each in reversed(found)}
    return tuple(each for each in found if once[each.number] is each)


def _traits(view: View, failing: NDArray[np.bool_], stands: NDArray[np.bool_]) -> tuple[Trait, ...]:
    """The quantities in which failing and standing flights lie furthest apart, one of a group."""
    z = view.trials.z
    error = math.sqrt(1.0 / failing.sum() + 1.0 / stands.sum())
    means = z[failing].mean(axis=0), z[stands].mean(axis=0)
    folded = np.abs(z[failing]).mean(axis=0), np.abs(z[stands]).mean(axis=0)
    moved, spread = means[0] - means[1], (folded[0] - folded[1]) / math.sqrt(_FOLDED_VARIANCE)
    apart = np.maximum(np.abs(moved), spread)
    found: dict[str, Trait] = {}
    for place in np.argsort(-apart, kind="stable"):
        if apart[place] < max(STANDS_OUT * error, MIN_APART) or len(found) == MAX_TRAITS:
            break
        factor = view.trials.factors[place]
        if factor.group in found:
            continue
        if abs(means[0][place]) < EITHER_WAY * folded[0][place]:
            far, near = (float(side[place]) for side in folded)
            found[factor.group] = Trait(factor.label, "either way", far, near)
        else:
            found[factor.group] = _trait(view, factor, int(place), (failing, stands))
    return tuple(found.values())


def _trait(view: View, factor: Factor, place: int, sides: Sequence[NDArray[np.bool_]]) -> Trait:
    """One quantity in the builder's units where it has one, else as a share or in spreads."""
    off = False
    if factor.key in _PARAMETERS:
        name, dimension = _PARAMETERS[factor.key]
        values: Array = view.parameter(name)
    elif factor.value:
        values, dimension = view.trials.drawn.values(factor), factor.dimension
    elif factor.dimension != "ratio":
        values, dimension, off = factor.sigma * view.trials.z[:, place], factor.dimension, True
    elif factor.relative:
        values, dimension, off = factor.sigma * view.trials.z[:, place], "share", True
    else:
        values, dimension, off = view.trials.z[:, place], "spreads", True
    failing, standing = (float(values[side].mean()) for side in sides)
    return Trait(factor.label, dimension, failing, standing, off)
