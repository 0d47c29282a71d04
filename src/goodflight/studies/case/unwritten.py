"""Figures measured that no file has: crooked fins, shear pins, glue on an offcut, a packed length.

A declared quantity whose `Measured` says what its instrument shows is read; nothing else is needed.
"""

from collections.abc import Sequence
from dataclasses import replace

from goodflight.project import Project
from goodflight.project.measured_keys import in_file, read_as
from goodflight.project.sheets import near
from goodflight.quantity import Quantity as Text
from goodflight.quantity import QuantityError, parse
from goodflight.studies.case.planned import Case, Read
from goodflight.studies.case.readings import Before, MeasuredFigure, Readings
from goodflight.studies.case.shown import (
    Becomes,
    add_shown,
    by_figure,
    figure_of,
    path_of,
)
from goodflight.studies.refusal import StudyRefused, refused_at
from goodflight.studies.sampling.quantity import Factor, Family, Shown


def with_read(project: Project, case: Case) -> tuple[Case, tuple[MeasuredFigure, ...]]:
    """The flight with what was measured of figures that no file has.

    Raises
        StudyRefused - a name that none of them has, or a reading that contradicts the others.
    """
    rows = by_figure(project, lambda of: not in_file(of))
    if not rows:
        return case, ()
    found, order = [], list(readable(case))  # what another is compared with comes first
    for of in sorted(rows, key=lambda of: order.index(of) if of in order else -1):
        figure = _of_quantity(project, case, of, rows[of])
        found.append(figure)
        read = {
            **case.uncertainty.read,
            of: Read(figure.value, figure.sigma, figure.path, figure.known),
        }
        case = replace(case, uncertainty=replace(case.uncertainty, read=read))
    return case, tuple(found)


def readable(case: Case) -> dict[str, tuple[Factor, Shown]]:
    """What may be measured in this flight and stands in no file, by name."""
    from goodflight.studies.sampling.declared import stated_of

    return {
        factor.key: (factor, way.shows)
        for factor in stated_of(case)
        if (way := factor.measured_by) is not None and way.shows is not None
    }


def label_of(factor: Factor) -> str:
    """Words for a figure, with its name where several have the same words."""
    if isinstance(factor.of, Family) and "{}" not in factor.of.label:
        return f"{factor.label}: {factor.of.member(factor.key)}"
    return factor.label


def _of_quantity(project: Project, case: Case, of: str, numbers: Sequence[int]) -> MeasuredFigure:
    known = readable(case)
    if of not in known:
        raise _no_such(project, of, numbers[0], list(known))
    factor, shows = known[of]
    way = factor.of.measured_by
    assert way is not None
    middle = factor.of.spread.middle if factor.value is None else factor.value
    share = factor.sigma / abs(middle) if middle else 0.0
    usual = (0.0, 0.0) if shows.once else (way.error, share)
    before = Before(label_of(factor), factor.dimension, middle, factor.sigma, factor.known, *usual)
    readings = Readings()
    for number in numbers:
        row = project.weighings.reading[number]
        kinds = read_as(row, of, shows.dimension)
        if isinstance(kinds, str):
            raise refused_at(project, path_of(number), f"more keys than {of} takes", "none", kinds)
        for key, text, kind in (("over", row.over, kinds[1]), ("error", row.error, kinds[0])):
            if text and _parsed(project, number, text, kind, key).value <= 0.0:
                raise refused_at(
                    project, path_of(number, key), f'"{text}"', "more than 0", "check the number"
                )
        for text in row.read:
            shown = _parsed(project, number, text, kinds[0])
            error = way.error if shows.once else 0.0
            add_shown(
                project,
                number,
                readings,
                shown,
                kinds=kinds,
                usual=error,
                becomes=_becomes(project, case, number, before, shows),
            )
    return figure_of(project, of, numbers, before, readings)


def _no_such(project: Project, of: str, number: int, known: list[str]) -> StudyRefused:
    wanted = "a key of rocket.toml, or a figure of this rocket that is measured"
    return refused_at(project, path_of(number, "of"), f'"{of}"', wanted, near(of, known))


def _parsed(project: Project, number: int, text: str, dimension: str, key: str = "read") -> Text:
    try:
        return parse(text, dimension, "measured")
    except QuantityError as error:
        raise refused_at(
            project, path_of(number, key), error.found, error.expected, error.advice
        ) from None


def _becomes(project: Project, case: Case, number: int, before: Before, shows: Shown) -> Becomes:
    def becomes(shown: float) -> float:
        found = shows.becomes(case, shown)
        if found is None:
            raise refused_at(
                project,
                path_of(number),
                f"nothing to compare the {before.label} with",
                "a design with a figure for it",
                "enter it in rocket.toml first",
            )
        return found

    return becomes
