"""Every uncertain figure that flights are drawn from: how wide, why, how measured, where it acts.

A reference without a project: what is taken where a project says nothing better.
"""

from dataclasses import dataclass
from typing import Annotated

from goodflight.physics.sources import cited
from goodflight.studies.questions.rows import label_of
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import LIMIT_STATES
from goodflight.studies.sampling.declared import DECLARED
from goodflight.studies.sampling.quantity import Family, Nature, Quantity
from goodflight.studies.sampling.spread import Even


@dataclass(frozen=True)
class SpreadReference:
    """One uncertain figure, as any rocket may have it."""

    key: Annotated[str, "name of the figure; with a colon at its end: one for each part or fin"]
    label: Annotated[str, "the same in words"]
    dimension: Annotated[str, "what it is, e.g. length; ratio where it is a factor"]
    nature: Annotated[Nature, "knowledge (measuring takes it away) or chance (of each flight)"]
    relative: Annotated[bool, "true: the spreads are shares of the middle; false: SI"]
    even: Annotated[
        bool, "true: any value between two ends is as likely; the spreads are of scores"
    ]
    guess: Annotated[float, "one standard deviation where it is guessed"]
    on_label: Annotated[float, "the same where a label says it"]
    measured: Annotated[float, "the same where it was measured and no error is given"]
    reason: Annotated[str, "why the spread is that wide"]
    source: Annotated[str, "what that stands on, and whether it was read"]
    how: Annotated[str, "how it is measured, or why it cannot be"]
    instrument: Annotated[str, "with what; empty = it cannot be measured"]
    minutes: Annotated[float | None, "work it takes [min], our guess; null = cannot be measured"]
    rows: Annotated[tuple[str, ...], "rows that name it among what they need, for `ledger --why`"]


@dataclass(frozen=True)
class SpreadList:
    """Every uncertain figure, by subject."""

    spreads: Annotated[tuple[SpreadReference, ...], "every uncertain figure, by subject"]


def spreads(row: str | None = None) -> SpreadList:
    """Every uncertain figure, how wide it is taken and why.

    Parameters
        row : str or None - only those that this row needs, e.g. "zipper"; None = all. [-]
    Returns
        found : SpreadList - as they are declared. [SI]
    Raises
        StudyRefused - no row has this key.
    Example
        >>> [each.key for each in goodflight.spreads("coupler_short").spreads]
        ['coupler_need']
    """
    rows = {limit.key: limit for limit in LIMIT_STATES}
    if row is not None and row not in rows:
        raise StudyRefused(repr(row), "a row", "goodflight rows lists their keys", "row")
    kept = DECLARED.values() if row is None else rows[row].needs
    return SpreadList(tuple(_reference(each) for each in kept))


def _reference(quantity: Quantity | Family) -> SpreadReference:
    way, spread = quantity.measured_by, quantity.spread
    return SpreadReference(
        key=quantity.key,
        label=label_of(quantity),
        dimension=quantity.dimension,
        nature=quantity.nature,
        relative=spread.relative,
        even=isinstance(spread, Even),
        guess=spread.sigma_of("guess"),
        on_label=spread.sigma_of("label"),
        measured=spread.sigma_of("measured"),
        reason=quantity.reason,
        source=cited(quantity.because),
        how=quantity.not_measurable if way is None else way.how,
        instrument="" if way is None else way.instrument,
        minutes=None if way is None else way.minutes,
        rows=tuple(limit.key for limit in LIMIT_STATES if quantity in limit.needs),
    )
