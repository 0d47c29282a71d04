"""What can be tried on the ground before the flight, and the figure it has to reach.

Each pull, push and shake of this rocket, the run of its batteries, the drop of its canopy and its
charge. A strength has to be so high that its rows fail on one flight in a hundred at most, with
the spread it has now; what a flight asks is the demand that 95 in 100 stay below. Left out: what
nothing on a table shows (fins in the air, the landing itself).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.quantity.said import Said
from goodflight.studies.case.planned import canopy_of
from goodflight.studies.case.project_case import case_of
from goodflight.studies.evidence.reply import NOTHING
from goodflight.studies.evidence.seen import WORST, Seen, see
from goodflight.studies.lists.ground_table import DECLARED
from goodflight.studies.questions.evidence import FLIGHTS
from goodflight.studies.results import Entry, State

LEAD: Final = (
    "Hang a load a hand above the floor and add to it slowly (a bucket and water; a plank hinged "
    "at one end, the copy at a fifth of it, makes five times the bucket). Eyes covered, fingers "
    "and feet clear: what gives, comes off at once. Break copies glued to scraps; the rocket "
    "itself is loaded only to what a flight asks. With the figure to reach, its rows fail on one "
    "flight in a hundred at most, as well as it is known now: once measured, less may do, so "
    "enter it and print this again."
)


@dataclass(frozen=True)
class GroundTest:
    """One thing to try on the ground."""

    key: Annotated[str, "its name"]
    title: Annotated[str, "the same in words"]
    rows: Annotated[tuple[str, ...], "keys of the rows that it judges, of this rocket"]
    state: Annotated[State, "worst of them: ok, marginal, fails or unknown"]
    reach: Annotated[Said, "what it has to reach; empty = not known"]
    beside: Annotated[Said, "what a flight asks, and what is taken today"]
    do: Annotated[str, "what to do where no figure is known; empty = known"]
    asks: Annotated[tuple[Entry, ...], "what to enter then"]
    how: Annotated[str, "how it is set up"]
    write: Annotated[tuple[str, ...], "commands that enter what was read; none = tick it"]
    reads: Annotated[int, "readings to take"]
    unit: Annotated[
        str, "of a reading: force (in the units shown), s, min; empty = nothing is read"
    ]
    caution: Annotated[str, "key of its caution; empty = none of its own"]


@dataclass(frozen=True)
class GroundTests:
    """Everything to try on the ground for one plan."""

    rocket: Annotated[str, "its name"]
    plan: Annotated[str, "name of the plan"]
    motor: Annotated[str, "of the plan"]
    flights: Annotated[int, "flights simulated"]
    lead: Annotated[str, "how to go about all of them"]
    tests: Annotated[tuple[GroundTest, ...], "in the order of the bench, the charge last"]
    invented: Annotated[bool, "whether rocket and motor are made up"]


def ground_tests(
    project: Project, plan: str | None = None, flights: int = FLIGHTS, seed: int = 1
) -> GroundTests:
    """What can be tried on the ground before a planned flight, with the figure to reach.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - simulated. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        found : GroundTests - the tests of this rocket, in the order of the bench. [-]
    Raises
        NoSuchPlan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the rows. A test that holds is no permission: the local code, the motor maker's sheet
        and the range safety officer decide.
    Source
        Rows of the ledger; how each is set up is practice, no source.
    Example
        none
    """
    return tests_of(see(project, case_of(project, plan), flights, seed))


def tests_of(seen: Seen) -> GroundTests:
    """The same from flights that are flown already."""
    return GroundTests(
        rocket=seen.case.rocket.name,
        plan=seen.case.plan,
        motor=seen.case.motor.name,
        flights=seen.view.count,
        lead=LEAD,
        tests=tuple(_found(seen)),
        invented=seen.case.origin.invented,
    )


def _found(seen: Seen) -> Iterator[GroundTest]:
    canopy = canopy_of(seen.case)
    name = canopy.name if canopy else ""
    for each in DECLARED:
        rows = tuple(seen.rows[key] for key in each.rows if key in seen.rows)
        if not rows:
            continue  # this rocket cannot fail so
        known = tuple(row for row in rows if row.chance is not None)
        figures = each.figures(seen, known) if known or each.unasked else None
        lacks = [(row.advice, row.asks) for row in rows if row.chance is None and row.advice]
        lacks.append((f"goodflight ledger DIR --why {rows[0].key}", ()))
        do, asks = ("", ()) if figures is not None else lacks[0]
        if figures is not None and figures.of:
            rows = tuple(row for row in rows if row.key in figures.of)
        yield GroundTest(
            key=each.key,
            title=each.title,
            rows=tuple(row.key for row in rows),
            state=max((row.state for row in rows), key=WORST.index),
            reach=NOTHING if figures is None else figures.reach,
            beside=NOTHING if figures is None else figures.beside,
            do=do,
            asks=asks,
            how=each.how,
            write=tuple(
                f"weigh DIR --of {of.format(canopy=name)} --read READ{each.over}"
                for of in each.write
            ),
            reads=each.reads,
            unit=each.unit,
            caution=each.caution,
        )
