"""Every way to fail that is computed: when it fails, what it needs, and what that stands on.

A reference without a project: what holds for any rocket. Limits of a code come with the site.
"""

from dataclasses import dataclass
from typing import Annotated

from goodflight.physics.sources import Constant, cited
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Phase, RowKind
from goodflight.studies.rows import LIMIT_STATES, LimitState
from goodflight.studies.rows.model import NAMED
from goodflight.studies.sampling.quantity import Family, Quantity


@dataclass(frozen=True)
class RowFigure:
    """A figure that stands in a formula."""

    name: Annotated[str, "as the formula has it, in braces"]
    value: Annotated[float, "its value [SI]"]
    dimension: Annotated[str, "what it is, e.g. speed"]
    source: Annotated[str, "where it comes from"]


@dataclass(frozen=True)
class RowNeed:
    """An uncertain quantity that goes into a row."""

    key: Annotated[str, "name of the quantity; with a colon at its end: one for each part"]
    label: Annotated[str, "the same in words"]
    dimension: Annotated[str, "what it is, e.g. length"]
    how: Annotated[str, "how it is measured, or why it cannot be"]
    instrument: Annotated[str, "with what; empty = it cannot be measured"]
    minutes: Annotated[float | None, "work it takes [min], our guess; null = cannot be measured"]
    because: Annotated[str, "what its spread stands on: key in docs/bibliography.md or a word"]


@dataclass(frozen=True)
class RowSource:
    """What a formula comes from."""

    key: Annotated[str, "key in docs/bibliography.md, or a word as practice, guess"]
    text: Annotated[str, "the same in words, and whether it was read or is cited from memory"]


@dataclass(frozen=True)
class RowReference:
    """One way to fail, as any rocket may."""

    key: Annotated[str, "name of the row, for `ledger --why`"]
    title: Annotated[str, "the same in words"]
    phase: Annotated[Phase, "pad, boost, coast, deployment, descent, code or workmanship"]
    kind: Annotated[RowKind, "failure (counts in the total), rule (met or not) or statement"]
    dimension: Annotated[str, "what demand and capacity are, e.g. speed"]
    more_is_worse: Annotated[bool, "true: fails when the demand is above the capacity"]
    formula: Annotated[str, "demand, against capacity; {name} stands for a figure"]
    figures: Annotated[tuple[RowFigure, ...], "those that hold everywhere"]
    by_code: Annotated[tuple[str, ...], "names in the formula that the site's code set gives"]
    needs: Annotated[tuple[RowNeed, ...], "uncertain quantities that go in"]
    sources: Annotated[tuple[RowSource, ...], "what the formula comes from"]


@dataclass(frozen=True)
class RowList:
    """Every way to fail, in the order of the flight."""

    rows: Annotated[tuple[RowReference, ...], "every way to fail, in the order of the flight"]


def rows(phase: str | None = None) -> RowList:
    """Every way to fail that is computed, with what it needs and what it stands on.

    Parameters
        phase : str or None - only this phase of the flight, e.g. "pad"; None = all. [-]
    Returns
        found : RowList - as the registry has them. [SI]
    Raises
        StudyRefused - no phase has this name.
    Example
        >>> found = goodflight.rows("pad")
        >>> {row.phase for row in found.rows}
        {'pad'}
    """
    phases = tuple(dict.fromkeys(limit.phase for limit in LIMIT_STATES))
    if phase is not None and phase not in phases:
        raise StudyRefused(repr(phase), "one of " + ", ".join(phases), "take one of these", "phase")
    kept = [limit for limit in LIMIT_STATES if phase in (None, limit.phase)]
    return RowList(tuple(_reference(limit) for limit in kept))


def _reference(limit: LimitState) -> RowReference:
    return RowReference(
        key=limit.key,
        title=limit.title,
        phase=limit.phase,
        kind=limit.kind,
        dimension=limit.unit,
        more_is_worse=limit.more_is_worse,
        formula=limit.formula,
        figures=tuple(_figure(*each) for each in limit.constants.items()),
        by_code=tuple(sorted(set(NAMED.findall(limit.formula)) - limit.constants.keys())),
        needs=tuple(map(_need, limit.needs)),
        sources=tuple(RowSource(key, cited(key)) for key in limit.sources),
    )


def _figure(name: str, constant: Constant) -> RowFigure:
    return RowFigure(name, constant.value, constant.dimension, constant.said)


def _need(quantity: Quantity | Family) -> RowNeed:
    way = quantity.measured_by
    return RowNeed(
        key=quantity.key,
        label=label_of(quantity),
        dimension=quantity.dimension,
        how=quantity.not_measurable if way is None else way.how,
        instrument="" if way is None else way.instrument,
        minutes=None if way is None else way.minutes,
        because=quantity.because,
    )


def label_of(quantity: Quantity | Family) -> str:
    """A quantity in words, where no part of a rocket gives it a name."""
    label = quantity.label
    if isinstance(quantity, Family) and label == "{}":
        return f"each {quantity.key.rstrip(':')}"
    return label.format("each part")
