"""Two plans, or two rockets, side by side: the same rows, each with both chances."""

from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.studies.questions.fly import nominal_flight
from goodflight.studies.questions.ledger import ledger
from goodflight.studies.results import Ledger, Phase, Row, RowKind, State


@dataclass(frozen=True)
class Side:
    """One of the two."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the plan"]
    motor: Annotated[str, "name of the motor"]
    chance: Annotated[float, "chance that anything fails"]
    low: Annotated[float, "its interval, lower end"]
    high: Annotated[float, "its interval, upper end"]
    unknown: Annotated[int, "ways to fail that are not known: the chance is a lower bound"]
    version: Annotated[str, "earlier file it is flown with; empty = as it is now"] = ""


@dataclass(frozen=True)
class BesideFigure:
    """One figure of both nominal flights."""

    key: Annotated[str, "name of the figure, with its unit"]
    first: Annotated[float | None, "of the first [SI]; null = did not happen"]
    second: Annotated[float | None, "of the second [SI]; null = did not happen"]


@dataclass(frozen=True)
class BesideRow:
    """One row in both."""

    key: Annotated[str, "name of the row"]
    title: Annotated[str, "the same in words"]
    phase: Annotated[Phase, "when in the flight"]
    kind: Annotated[RowKind, "failure, rule or statement"]
    first: Annotated[float | None, "chance in the first; null = not known or not there"]
    second: Annotated[float | None, "chance in the second; null = not known or not there"]
    first_state: Annotated[State | None, "of the first; null = this rocket has no such row"]
    second_state: Annotated[State | None, "of the second; null = this rocket has no such row"]


@dataclass(frozen=True)
class Beside:
    """Two ledgers, row by row."""

    first: Annotated[Side, "the plan that was asked for"]
    second: Annotated[Side, "the one beside it"]
    flights: Annotated[int, "simulated of each, drawn alike"]
    figures: Annotated[tuple[BesideFigure, ...], "mass, margins, speeds, height, landing"]
    rows: Annotated[tuple[BesideRow, ...], "what differs most first"]


FIGURES: Final = (
    "liftoff_mass_kg",
    "thrust_to_weight",
    "margin_liftoff_cal",
    "min_margin_cal",
    "rail_exit_m_s",
    "apogee_m",
    "ejection_after_apogee_s",
    "descent_m_s",
    "landing_distance_m",
)


def beside(
    project: Project,
    plan: str | None = None,
    against: str | None = None,
    other: Project | None = None,
    flights: int = 1000,
    seed: int = 1,
    version: str = "",
) -> Beside:
    """What differs between two plans, or between two rockets, row by row?

    Parameters
        project : Project - the first. [-]
        plan : str or None - of the first; None = its first plan. [-]
        against : str or None - plan of the second; None = the first of another rocket, or the
            next plan of the same. [-]
        other : Project or None - the second rocket; None = the same. [-]
        flights : int - simulated of each, with the same random figures. [-]
        seed : int - same seed, same answer on one machine. [-]
        version : str - earlier file that the second is flown with, to be shown. [-]
    Returns
        beside : Beside - both totals, figures and every row in both. [-]
    Raises
        NoSuchPlan; StudyRefused - a rocket lacks what a flight needs.
    Validity
        As the ledger; a row that one of them does not have is shown as not there.
    Source
        The same rows as the ledger.
    Example
        >>> found = goodflight.beside(goodflight.load("fieldfare"), "morning", "breezy", flights=50)
        >>> found.first.chance < found.second.chance
        True
    """
    first_plan = project.plan(plan).name
    names = [each.name for each in project.plans]
    if against is None and other is None:
        against = names[(names.index(first_plan) + 1) % len(names)]
    one = ledger(project, first_plan, flights, seed, remedies=False)
    two = ledger(other or project, against, flights, seed, remedies=False)
    mine, theirs = ({row.key: row for row in each.rows} for each in (one, two))
    rows = [_row(mine.get(key), theirs.get(key)) for key in {**mine, **theirs}]
    rows.sort(key=lambda row: -abs((row.first or 0.0) - (row.second or 0.0)))
    flown = [
        nominal_flight(project, first_plan).figures,
        nominal_flight(other or project, two.plan).figures,
    ]
    figures = tuple(BesideFigure(key, *(each.get(key) for each in flown)) for key in FIGURES)
    return Beside(_side(one), _side(two, version), flights, figures, tuple(rows))


def _row(one: Row | None, two: Row | None) -> BesideRow:
    said = one or two
    assert said is not None
    return BesideRow(
        key=said.key,
        title=said.title,
        phase=said.phase,
        kind=said.kind,
        first=one.chance if one else None,
        second=two.chance if two else None,
        first_state=one.state if one else None,
        second_state=two.state if two else None,
    )


def _side(found: Ledger, version: str = "") -> Side:
    return Side(
        rocket=found.rocket,
        plan=found.plan,
        motor=found.motor,
        chance=found.chance,
        low=found.low,
        high=found.high,
        unknown=len(found.unknown),
        version=version,
    )
