"""What is next: delay and motor asked once more with the rocket as this flight has it.

Nothing is written: the rocket's figures are those the flight and all before it say together, the
field, rail, canopy and weather those of the plan.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Final

from goodflight.project import Project
from goodflight.project.bench_files import NotesFile
from goodflight.studies.case.project_case import case_of
from goodflight.studies.debriefing.as_flown import as_flown
from goodflight.studies.debriefing.corrected import corrected
from goodflight.studies.debriefing.fit import OfRocket
from goodflight.studies.debriefing.next_level import NextLevel, next_level
from goodflight.studies.motor_results import DelayRow, MotorRow
from goodflight.studies.questions.delay import delay_of
from goodflight.studies.questions.motors import motors_of
from goodflight.studies.refusal import StudyRefused

if TYPE_CHECKING:
    from goodflight.studies.questions.debrief import DebriefStudy

FLIGHTS: Final = 600  # simulated for each delay and motor
Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class NextFlight:
    """The next delay, the next motor and what the next level waits for."""

    taken_over: Annotated[
        tuple[OfRocket, ...], "figures of the rocket as the flight has them; none = as before"
    ]
    why_not: Annotated[str, "why the flight's figures are not taken over; empty = they are"]
    plan: Annotated[str, "plan whose field, rail, canopy and weather hold"]
    motor: Annotated[str, "motor that was flown"]
    flown_out_s: Annotated[float, "taken out of its delay on that flight [s]"]
    delays: Annotated[tuple[DelayRow, ...], "of that motor, the lowest chance first"]
    no_delay: Annotated[str, "why no delay can be chosen; empty = one can"]
    same: Annotated[tuple[float, ...], "seconds out that do as well as the first [s]"]
    motors: Annotated[tuple[MotorRow, ...], "of the folder, the lowest chance first"]
    level: Annotated[NextLevel, "what the next certificate level waits for"]
    flights: Annotated[int, "flights simulated for each"]


def next_flight(
    project: Project,
    study: "DebriefStudy",
    flights: int = FLIGHTS,
    seed: int = 1,
    progress: Progress | None = None,
) -> NextFlight | None:
    """Which delay and which motor are next, with the rocket as this flight has it.

    Parameters
        project : Project - as loaded from its folder. [-]
        study : DebriefStudy - of one flight of it, from `debrief`. [SI]
        flights : int - size of the ensemble for each delay and motor. [-]
        seed : int - same seed, same answer on one machine. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        next : NextFlight or None - None where no flight was looked at. [SI]
    Raises
        nothing
    Validity
        As `delay` and `motors`. A doubted flight corrects nothing, as it is not carried over.
    Source
        The studies `delay` and `motors`.
    Example
        >>> project = goodflight.load("fieldfare")
        >>> study = goodflight.debrief(project, peak="560 m ± 5 m")
        >>> found = goodflight.next_flight(project, study, flights=50)
        >>> found.motor, found.level.level
        ('H-b', 'L2')
    """
    if study.why is None:
        return None
    told = tuple(each for each in study.of_rocket if each.alone is not None)
    why_not = ""
    if study.doubts:
        why_not = f"the flight is doubted: {study.doubts[0]}"
    elif not told:
        why_not = "this flight says nothing new of the rocket itself"
    told = () if why_not else told
    noted = project.notes.get(study.flight, NotesFile())
    flown = NotesFile(motor=noted.motor, delay_out=noted.delay_out)
    known = corrected(project, study.flight, told)
    case = case_of(as_flown(known, study.plan, flown, study.flight), study.plan)
    delays, no_delay = tuple[DelayRow, ...](), ""
    try:
        delays = delay_of(case, flights, seed, progress).rows
    except StudyRefused as error:
        no_delay = error.found
    ladder = motors_of(case, flights, seed, progress).rows
    return NextFlight(
        taken_over=told,
        why_not=why_not,
        plan=case.plan,
        motor=case.motor.name,
        flown_out_s=case.deployment.delay_out_s,
        delays=delays,
        no_delay=no_delay,
        same=tuple(each.delay_out_s for each in delays if each.tied),
        motors=ladder,
        level=next_level(case, ladder, study.book, seed),
        flights=flights,
    )
