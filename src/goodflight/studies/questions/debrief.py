"""After the flight: what it says of the rocket, and the log book of all flights."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

from goodflight.physics.recorded import Happened
from goodflight.physics.recorded_curve import HeightCurve, curve_of
from goodflight.project import Project
from goodflight.project.bench_files import NotesFile
from goodflight.project.logs.kept import logs_of, logs_of_predicted, lying
from goodflight.project.logs.read import LogRead
from goodflight.quantity.said import Words
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.debriefing.as_flown import as_flown, without_own
from goodflight.studies.debriefing.book import BookLine, Kept, book_of, kept_of
from goodflight.studies.debriefing.calibration import Calibration, Flight, calibrated
from goodflight.studies.debriefing.coasting import drag_changed
from goodflight.studies.debriefing.fit import ODD, Fit, Fitted, OfRocket, Place, fit
from goodflight.studies.debriefing.follow import CurveFit
from goodflight.studies.debriefing.loads import Again, again, agreeing
from goodflight.studies.debriefing.logged import LogShown, apart, happened_in, shown
from goodflight.studies.debriefing.next_flight import FLIGHTS, NextFlight, next_flight
from goodflight.studies.debriefing.order import Order, order_of
from goodflight.studies.debriefing.told import happened_of
from goodflight.studies.debriefing.weather import pressure_words, setting_words
from goodflight.studies.debriefing.why import Why
from goodflight.studies.refusal import StudyRefused

DEFER: Final = (
    "Repair and look over every damaged part before the next flight; whoever signs, the motor "
    "maker's sheet and the range safety officer decide whether it flies again."
)
NOT_LOOKED: Final = "not looked over after the flight: that nothing is noted does not mean sound"
CHECK: Final = (
    "Check units, lift-off, the plan and its motor before you believe any figure of this flight"
)
DAY: Final = "the weather is taken as the plan has it; note it as it was in [day] of the notes"
NO_CURVE: Final = (
    "the whole height curve of the log fits no flight of this plan; its events are fitted"
)
TWO_SPEEDS: Final = (
    "the log shows two speeds down, as of two canopies; the plan opens one: correct the plan"
)


@dataclass(frozen=True)
class DebriefStudy:
    """The answer: the log book, and what one flight says."""

    rocket: Annotated[str, "name of the rocket"]
    invented: Annotated[bool, "whether anything in it is invented"]
    book: Annotated[tuple[BookLine, ...], "all flights of the folder, by day"]
    attempts: Annotated[int, "flights that passed or failed"]
    passed: Annotated[int, "flights that passed"]
    flight: Annotated[str, "the flight looked at; empty = only what was typed, or none"]
    plan: Annotated[str, "the plan it was flown by; empty = no flight was looked at"]
    kept: Annotated[Kept | None, "prediction kept with the flight; null = none"]
    right: Annotated[Calibration, "were the predictions of all flights right?"]
    logs: Annotated[tuple[LogShown, ...], "logs of the flight; the first is fitted"]
    fitted: Annotated[tuple[Fitted, ...], "quantities before and after the flight"]
    of_rocket: Annotated[tuple[OfRocket, ...], "what it says of the rocket itself, to carry over"]
    carried: Annotated[tuple[str, ...], "flights already carried over to the rocket"]
    tied: Annotated[tuple[str, ...], "what this flight cannot part"]
    places: Annotated[tuple[Place, ...], "where each thing seen fell among the flights predicted"]
    curve: Annotated[CurveFit | None, "the log's height beside the fit's; null = events alone"]
    why: Annotated[Why | None, "why the charge came when it did; null = no flight was looked at"]
    again: Annotated[Again | None, "where to look before it flies again; null = no flight"]
    order: Annotated[Order | None, "cord, canopy and booster after the charge; null = no flight"]
    next: Annotated[
        NextFlight | None, "next delay, motor and level with the rocket as found; null = not asked"
    ]
    doubts: Annotated[tuple[str, ...], "what speaks against what was entered, or the model"]
    left_out: Annotated[tuple[str, ...], "seen, but not used"]
    taken: Annotated[tuple[Words, ...], "what was taken for granted"]
    cautions: Annotated[tuple[Words, ...], "what always holds"]


def debrief(
    project: Project,
    plan: str | None = None,
    flight: str | None = None,
    *,
    peak: str = "",
    seen: Mapping[str, str] | None = None,
    others: Sequence[Project] = (),
    logs: Sequence[LogRead] = (),
    recorded: Sequence[Mapping[str, LogRead]] = (),
    film: Mapping[str, str] | None = None,
) -> DebriefStudy:
    """What did the flight say, and which flights were flown?

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan was flown; None = as the notes say, else the first. [-]
        flight : str or None - folder of the flight in flights/; None = what is typed alone. [-]
        peak : str - as the altimeter showed it, "431 m ± 5 m"; empty = as noted. [-]
        seen : mapping or None - burnout, apogee, charge, canopy, second_canopy, landing -> time
            after lift-off, "9.6 s ± 0.3 s"; before those noted. [-]
        others : sequence of Project - further folders whose flights count as predictions too. [-]
        logs : sequence of LogRead - of this flight, from `logs_of` or `read_log`; the first is
            fitted. Of log and notes the figure with the smaller error counts. [SI]
        recorded : sequence of mapping - flight -> its log, of this project and then of `others`,
            from `logs_of_predicted`: predictions are judged by them too. [SI]
        film : mapping or None - rate (frames a second), lift_off and events -> frame of a film,
            "551 ± 2"; before that noted. [-]
    Returns
        study : DebriefStudy - the log book, and what the flight says. [SI]
    Raises
        StudyRefused - no such flight, plan or motor, or nothing that fits; NotSeenError - texts
            that cannot be read, all of them.
    Validity
        Events and figures. The weather is the notes' [day], else the plan's. See `fit`.
    Source
        See `fit`.
    Example
        >>> study = goodflight.debrief(goodflight.load("fieldfare"), peak="560 m ± 5 m")
        >>> study.why.verdict
        'cannot be decided'
    """
    own = {flight: logs[0]} if flight and logs else {}
    book = book_of(project, {**(recorded[0] if recorded else {}), **own})
    notes = _notes(project, flight, bool(logs))
    asked = flight is not None or bool(peak.strip()) or bool(seen) or bool(film) or bool(logs)
    told: Fit | None = None
    fit_again: Again | None = None
    order: Order | None = None
    planned, doubts, doubted = plan or notes.plan, tuple[str, ...](), tuple[Words, ...]()
    log_shown = tuple[LogShown, ...]()
    if asked:
        known = without_own(project, flight or "")
        case = case_of(as_flown(known, planned, notes, flight), planned)
        planned = case.plan
        in_logs = [happened_in(each, case) for each in logs]
        log_shown = tuple(shown(each, what) for each, what in zip(logs, in_logs, strict=True))
        happened, taken = happened_of(notes, peak, seen, in_logs[0] if logs else None, film)
        curve = curve_of(logs[0].recorded, logs[0].events, happened.charge_s) if logs else None
        told, doubts = fit_or_doubt(case, happened, bool(logs), curve)
        if logs:
            doubts = (*doubts, *drag_changed(logs[0], case.rail.tilt_rad))
        taken = (*taken, *setting_words(case, notes))
        doubted = pressure_words(known, case, notes, logs)
        if told is not None and (flight is not None or logs):
            view, damaged = agreeing(case, told), [each.row for each in notes.damage]
            fit_again = again(view, damaged)
            order = order_of(view, logs[0] if logs else None, damaged)
    else:
        _, taken = happened_of(notes)
    line = next((each for each in book if each.name == flight), None)
    cautions: list[Words] = [DAY] if (told or logs) and notes.day is None else [*doubted]
    cautions += [NOT_LOOKED] if line is not None and not line.looked_over else []
    return DebriefStudy(
        rocket=project.name,
        invented=project.invented,
        book=book,
        attempts=sum(each.result in ("passed", "failed") for each in book),
        passed=sum(each.result == "passed" for each in book),
        flight=flight or "",
        plan=(asked and planned) or "",
        kept=kept_of(project.predictions.get(flight or "")),
        right=right((project, *others), recorded),
        logs=log_shown,
        fitted=told.fitted if told else (),
        of_rocket=told.of_rocket if told else (),
        carried=carried_from(project),
        tied=told.tied if told else (),
        places=told.places if told else (),
        curve=told.curve if told else None,
        why=told.why if told else None,
        again=fit_again,
        order=order,
        next=None,
        doubts=doubts,
        left_out=told.left_out if told else (),
        taken=(*taken, *apart(log_shown)),
        cautions=(*cautions, DEFER),
    )


def right(
    projects: Sequence[Project], recorded: Sequence[Mapping[str, LogRead]] = ()
) -> Calibration:
    """Were the predictions of all flights of these folders right? By notes and logs."""
    flights, without = list[Flight](), list[str]()
    logs = [*recorded, *({} for _ in projects[len(recorded) :])]
    for project, read in zip(projects, logs, strict=True):
        names = [*project.notes, *(each for each in read if each not in project.notes)]
        for name in names:
            notes = project.notes.get(name, NotesFile())
            shown = name if len(projects) == 1 else f"{project.name}, {name}"
            said = project.predictions.get(name)
            if said is None:
                without.append(shown)
            else:
                log = _seen_by(project, name, notes, read.get(name))
                flights.append((shown, said, notes, happened_of(notes, log=log)[0]))
    return calibrated(flights, without)


def _seen_by(project: Project, name: str, notes: NotesFile, log: LogRead | None) -> Happened | None:
    """What a log saw, in the air of that day; heights of the standard alone where no plan fits."""
    if log is None:
        return None
    try:
        return happened_in(log, case_of(as_flown(project, notes.plan, notes, name), notes.plan))
    except StudyRefused:
        return replace(log.events.happened, first_rate_mps=None, last_rate_mps=None)


def carried_from(project: Project) -> tuple[str, ...]:
    """Flights whose word on the rocket stands among its readings."""
    flights = (row.flight for row in project.weighings.reading)
    return tuple(dict.fromkeys(each for each in flights if each))


def fit_or_doubt(
    case: Case, happened: Happened, logged: bool, curve: HeightCurve | None
) -> tuple[Fit | None, tuple[str, ...]]:
    """The fit and its doubts; a log that fits no flight of the plan is shown all the same."""
    if not logged:
        found = fit(case, happened)
        return found, doubts_of(found)
    doubts = list[str]()
    if happened.second_canopy_s is not None and case.deployment.main_canopy is None:
        happened = replace(happened, second_canopy_s=None)
        doubts.append(TWO_SPEEDS)
    for whole in (curve, None):
        try:
            found = fit(case, happened, whole)
            break
        except StudyRefused as error:
            if whole is None:
                return None, (*doubts, f"{error.found}: {error.advice}")
            doubts.append(NO_CURVE)
    return found, (*doubts, *doubts_of(found))


def last_debrief(project: Project) -> DebriefStudy:
    """What the last flight said of which anything was seen; the log book alone before the first."""
    lie = lying(project)
    seen = [
        each.name
        for each in book_of(project)
        if each.name in lie or project.notes[each.name].seen_of_it
    ]
    flight = seen[-1] if seen else None
    study = debrief_there(project, flight, logs_of(project, flight) if flight else ())
    return with_next(project, study)


def with_next(project: Project, study: DebriefStudy, flights: int = FLIGHTS) -> DebriefStudy:
    """The same with the next delay, motor and level asked."""
    return replace(study, next=next_flight(project, study, flights))


def debrief_there(
    project: Project, flight: str | None = None, logs: Sequence[LogRead] = ()
) -> DebriefStudy:
    """A flight of the folder with its own logs; predictions are judged by all that lie there."""
    read = {flight: logs[0]} if flight and logs else {}
    return debrief(project, flight=flight, logs=logs, recorded=(logs_of_predicted(project, read),))


def doubts_of(found: Fit) -> tuple[str, ...]:
    """What was seen, or what it makes of the rocket, that is far from what was taken before."""
    moved = [
        each.words
        for each in found.fitted
        if abs(each.after.value - each.before.value) > ODD * each.before.error
    ]
    odd = [each.words for each in found.places if each.odd]
    said = [f"far from the flights predicted and all else seen: {', '.join(odd)}"] if odd else []
    said += [f"far from what was taken before the flight: {', '.join(moved)}"] if moved else []
    return tuple(f"{each}. {CHECK}" for each in said)


def _notes(project: Project, flight: str | None, logged: bool) -> NotesFile:
    if flight is None or (logged and flight not in project.notes):
        return NotesFile()
    if flight not in project.notes:
        there = ", ".join(sorted(project.notes)) or "none yet"
        advice = f"write flights/{flight}/notes.toml, or name one that is there"
        raise StudyRefused(f'no flight "{flight}"', f"a folder of flights/: {there}", advice)
    return project.notes[flight]
