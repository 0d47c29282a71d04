"""One row of a ledger in words: its answer, and how near what happens comes to what is allowed.

A failure has a chance. A rule is met or not, a statement is confirmed by the builder or not: no
chance is said of either.
"""

import math

import numpy as np
from numpy.typing import NDArray

from goodflight.outputs.figures import figure
from goodflight.outputs.words import change, speak
from goodflight.studies.judging.drivers import TOO_FEW, TOO_FEW_LABEL
from goodflight.studies.results import Row


def answer(row: Row) -> str:
    """`about 7 in 100 (5–9)`; of a rule `met`, of a statement `confirmed by you`, with its day."""
    if row.kind == "failure" or (row.chance is not None and 0.0 < row.chance < 1.0):
        return speak(row.chance, row.low, row.high)
    if row.chance is None:
        return "not confirmed" if row.kind == "statement" else "not known"
    if row.answered is not None:
        said = "confirmed by you" if row.chance == 0.0 else "not so, as you say"
        return f"{said}, {row.answered}" if row.answered else said
    return "met" if row.chance == 0.0 else "not met"


def against(row: Row, units: str = "metric") -> str:
    """`6.10 of 8.00 m/s allowed`: the middle flight and the limit; empty where nothing is known.

    A statement has no figures, and neither has a rule that the builder answers.
    """
    demand, capacity = _middle(row.demand), _middle(row.capacity)
    if row.kind == "statement" or row.answered is not None or demand is None or capacity is None:
        return ""
    happens, allowed = _alike(figure(demand, row.unit, units), figure(capacity, row.unit, units))
    if not row.more_is_worse:
        return f"{happens}, at least {allowed} needed"
    number, _, unit = happens.partition(" ")
    if allowed.partition(" ")[0] == "0":
        return f"{happens[1:]} to spare" if happens[0] == "-" else f"{happens}, none allowed"
    if unit and unit == allowed.partition(" ")[2]:
        happens = number
    return f"{happens} of {allowed} allowed"


def _alike(one: str, other: str) -> tuple[str, str]:
    """Two figures, a nothing in the unit of the other: `119 m of 0 m`."""
    (left, _, unit), (right, _, wanted) = one.partition(" "), other.partition(" ")
    if unit and wanted and unit != wanted:
        if float(left) == 0.0:
            return f"0 {wanted}", other
        if float(right) == 0.0:
            return one, f"0 {unit}"
    return one, other


def driver_words(row: Row, most: int) -> str:
    """`mainly: alignment of the fins (known: 4 → under 1 in 100), or wind (known: 4 → 1 in 100)`.

    Without a change of the chance that could be told, the share of the spread; and that flights are
    too few where that is so.
    """
    if any(driver.key == TOO_FEW for driver in row.drivers):
        return f"what drives it: {TOO_FEW_LABEL}"
    helping = [d for d in row.drivers if d.chance is not None and d.chance < (row.chance or 0.0)]
    said = ""
    for driver in (helping or row.drivers)[:most]:
        if driver.chance is not None and driver in helping:
            worth = f"(known: {change(row.chance or 0.0, driver.chance)})"
        else:
            worth = f"{driver.share * 100:.0f}\u00a0%"
        said += (", or " if driver.tied else ", ") if said else ""
        said += f"{driver.label} {worth}"
    return f"mainly: {said}" if said else ""


def deviations(row: Row) -> str:
    """How many standard deviations lie between demand and limit; empty where nothing varies."""
    if row.margin is None or row.kind == "statement":
        return ""
    where = "inside" if row.margin >= 0.0 else "beyond"
    return f"the middle lies {abs(row.margin):.1f} standard deviations {where} the limit"


def _middle(values: NDArray[np.float64]) -> float | None:
    known = values[np.isfinite(values)]
    middle = float(np.median(known)) if known.size else math.nan
    return middle if math.isfinite(middle) else None
