"""The debrief page: what a flight said, noted in the field; predictions kept and judged."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, Final

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.debrief import next_words, right_words, words
from goodflight.outputs.debrief.curve import bands_of, curve_svg
from goodflight.outputs.debrief.picture import overlay_svg
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, page, plan_of, units_of
from goodflight.project import Project, ProjectErrors, SaveRefused, write_files
from goodflight.project.bench_files import NotesFile
from goodflight.project.flight_notes import DAY, FRAMES, TEXTS, TIMES, Noted, notes_with
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.kept import logs_of, lying
from goodflight.project.logs.read import LogRead
from goodflight.project.plan_forms import day_entries, label, plan_written
from goodflight.project.predictions import PredictionFile, keep_prediction
from goodflight.quantity import Quantity
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.debriefing.book import TITLES
from goodflight.studies.debriefing.carry import carry_over
from goodflight.studies.debriefing.logged import drawn_curve
from goodflight.studies.debriefing.next_flight import FLIGHTS as NEXT_FLIGHTS
from goodflight.studies.debriefing.predicting import prediction
from goodflight.studies.questions.debrief import DebriefStudy, debrief_there, with_next
from goodflight.studies.refusal import NoMotorChosen, StudyRefused

if TYPE_CHECKING:
    from goodflight.page.log_page import Asked

ON_FILM: Final = "film_"  # before the name of a frame
AFTER: Final = "after_"  # before the name of a time: heights have names like it
ON_DAY: Final = "day_"  # before the name of an entry of the weather
SEEN: Final = {
    "burnout": "end of thrust", "apogee": "highest point",
    "charge": "smoke of the charge (a bang is late)", "canopy": "canopy full",
    "second_canopy": "second canopy full", "landing": "on the ground",
}  # fmt: skip
ON: Final = {
    "rate": "frames a second",
    "lift_off": "frame at lift-off",
    "charge": "smoke of the charge",
}
RESULTS: Final = ("", "passed", "failed", "not attempted")
BLANK: Final = 2  # rows for damage not noted yet


async def get(request: Request) -> Response:
    """All flights, and what one of them said."""
    return await show(request, 200, ())


async def show(
    request: Request,
    status: int,
    wrong: tuple[str, ...],
    texts: dict[str, str] | None = None,
    asked: "Asked | None" = None,
) -> Response:
    """The page; what was typed into it comes back with what is wrong with it."""
    state = room.of(request)
    project, units, lie = state.store.sound(), units_of(request), await _lying(request)
    names = list(dict.fromkeys([*project.notes, *project.predictions, *lie]))
    wanted = (texts or request.query_params).get("flight", "").strip()
    flight = wanted if wanted in names else ""
    said = await state.workers.in_thread(lambda: _said(request, project, flight, lie))
    typed = texts if texts and "apogee" in texts else None
    return page(
        request,
        state.store,
        "debrief",
        "debrief.html",
        status,
        study=said.study,
        words=said.refusal,
        wrong=wrong,
        names=names,
        flight=flight,
        new=wanted if wanted not in names else "",
        picture=Markup(said.picture(units)),
        curves=said.curves(units),
        lying=_names(lie.get(flight)),
        asked=asked,
        hash=inputs_hash(project),
        mine=typed or _noted(project, flight),
        times=SEEN,
        frames={each: ON.get(each) or SEEN[each] for each in FRAMES},
        expect=_expected(request, said.study, units),
        results=RESULTS,
        weather=_weather(project, plan_of(request, state.store)),
        rows=TITLES,
        damage=_damage(project, flight, typed),
        said=words,
        right=right_words,
        ahead=next_words,
        today=date.today().isoformat(),
        kept=project.predictions.get(flight),
        plans_there=[p.name for p in project.plan_tables],
    )


def _expected(request: Request, study: DebriefStudy | None, units: str) -> dict[str, str]:
    """What is predicted of what is noted, as a hint; nothing for a plan without a motor."""
    state = room.of(request)
    try:
        report = state.answers.nominal(plan_of(request, state.store), {})
    except (StudyRefused, NoMotorChosen):
        report = None
    return words.predicted_words(report, study.kept if study else None, units)


async def _lying(request: Request) -> dict[str, tuple[str, ...]]:
    state = room.of(request)
    return await state.workers.in_thread(lambda: lying(state.store.sound()))


def _names(logs: tuple[str, ...] | None) -> list[str]:
    return [each.rsplit(" ", 2)[0] for each in logs or ()]


@dataclass(frozen=True)
class Said:
    """What a flight said; without it the log book alone, and why."""

    study: DebriefStudy | None
    refusal: str
    logs: tuple[LogRead, ...] = ()
    bands: Mapping[str, tuple[float, float, float]] = field(default_factory=dict)

    def picture(self, units: str) -> str:
        """The figures over their bands; the log's own picture has the times."""
        if self.study is None or not self.study.places:
            return ""
        places = [each for each in self.study.places if not (self.logs and each.timed)]
        return overlay_svg(places, self.study.kept, units) if places else ""

    def curves(self, units: str) -> dict[str, Markup]:
        """Each log as a curve; what was predicted stands in the first, which is fitted."""
        return {
            log.file: Markup(curve_svg(drawn_curve(log), {} if n else self.bands, units))
            for n, log in enumerate(self.logs)
        }


async def said_of(request: Request, flight: str) -> Said:
    """What a flight said; the log book alone for one that is not there."""
    state, lie = room.of(request), await _lying(request)
    return await state.workers.in_thread(lambda: _said(request, state.store.sound(), flight, lie))


def _said(
    request: Request, project: Project, flight: str, lie: Mapping[str, tuple[str, ...]]
) -> Said:
    """What the flight said of which a log lies there, or something was noted."""
    notes, state = project.notes.get(flight), room.of(request)
    files, refusal, logs = inputs_hash(project), "", tuple[LogRead, ...]()
    stamp = {"flight": flight, "lie": repr(lie), "kept": repr(sorted(project.predictions.items()))}
    try:
        logs = (
            state.answers.of_project(files, "logs", None, lambda: logs_of(project, flight), **stamp)
            if lie.get(flight)
            else ()
        )
    except (LogRefused, SaveRefused) as error:
        refusal = str(error)
    seen = logs or (notes is not None and notes.seen_of_it)
    if seen:
        try:
            study = state.answers.of_project(
                files, "debrief", None, lambda: debrief_there(project, flight, logs), **stamp
            )
            study = state.answers.of_project(
                files, "next", None, lambda: _with_next(request, project, study), **stamp
            )
            return Said(study, refusal, logs, _bands(request, project, study) if logs else {})
        except StudyRefused as error:
            refusal = f"{refusal} {error}".strip()
    try:
        return Said(
            state.answers.of_project(
                files,
                "log book",
                None,
                lambda: debrief_there(project),
                kept=stamp["kept"],
                lie=stamp["lie"],
            ),
            refusal,
        )
    except StudyRefused as error:  # the notes themselves cannot be read as a log book
        return Said(None, f"{refusal} {error}".strip())


def _with_next(request: Request, project: Project, study: DebriefStudy) -> DebriefStudy:
    """The next delay, motor and level besides, with no more flights than the page's ledger."""
    return with_next(project, study, min(NEXT_FLIGHTS, room.of(request).answers.flights))


def _noted(project: Project, flight: str) -> dict[str, str]:
    """What the notes say, as texts of the form."""
    notes = project.notes.get(flight, NotesFile())
    found = {"flight": flight, "looked_over": "yes" if notes.looked_over else ""}
    found |= {key: getattr(notes, key) or "" for key in ("date", "plan", "result", "note")}
    found["apogee"] = "" if notes.apogee is None else notes.apogee.text
    for key in TIMES:
        value = None if notes.seen is None else getattr(notes.seen, key)
        found[AFTER + key] = "" if value is None else value.text
    for key in FRAMES:
        frame = None if notes.film is None else getattr(notes.film, key)
        found[ON_FILM + key] = "" if frame is None else frame.text
    for key in DAY:
        said = None if notes.day is None else getattr(notes.day, key)
        found[ON_DAY + key] = (said.text if isinstance(said, Quantity) else said) or ""
    return found


def _weather(project: Project, plan: str | None) -> dict[str, tuple[str, str]]:
    """What the weather of a flight is asked by: its words, and what the plan counted on."""
    planned = plan_written(project, plan or project.plan_tables[0].name)
    return {
        key: (label(f"day.{key}"), planned.get(f"day.{key}", "") or entry.wanted)
        for key, entry in day_entries().items()
    }


def _damage(project: Project, flight: str, texts: dict[str, str] | None) -> list[tuple[str, str]]:
    """Damage typed, or noted, and rows for more."""
    if texts is not None:
        return _typed(texts) + [("", "")] * BLANK
    noted = project.notes.get(flight, NotesFile()).damage
    return [(each.row, each.what) for each in noted] + [("", "")] * BLANK


def _typed(texts: dict[str, str]) -> list[tuple[str, str]]:
    numbers = sorted(int(k[3:]) for k in texts if k.startswith("row") and k[3:].isdecimal())
    pairs = [(texts[f"row{n}"].strip(), texts.get(f"what{n}", "").strip()) for n in numbers]
    return [(row, what) for row, what in pairs if row]


def _bands(
    request: Request, project: Project, study: DebriefStudy
) -> dict[str, tuple[float, float, float]]:
    """What was predicted of the flight: kept before it, else by the fit, else by its plan now."""
    kept = study.kept.bands if study.kept and not study.kept.afterwards else {}
    if study.places or kept or study.flight in project.predictions:
        return bands_of(study.places, kept)
    answers, now = room.of(request).answers, datetime.now().astimezone().isoformat("T", "seconds")
    made: PredictionFile = answers.of_project(
        inputs_hash(project),
        "expected",
        study.plan,
        lambda: prediction(
            project,
            flight=study.flight,
            plan=study.plan,
            made=now,
            logged=True,
            flights=answers.flights,
        ),
    )
    return bands_of((), made.bands)


async def note(request: Request) -> Response:
    """Write what was seen of a flight into its notes."""
    form = await forms.read(request)
    texts: dict[str, str] = {key: form[key].strip() for key in TEXTS if key in form}
    times = {key: form[AFTER + key].strip() for key in TIMES if AFTER + key in form}
    film = {key: form[ON_FILM + key].strip() for key in FRAMES if ON_FILM + key in form}
    day = {key: form[ON_DAY + key].strip() for key in DAY if ON_DAY + key in form}

    def act(project: Project) -> Project:
        looked = form.get("looked_over") == "yes"
        name, noted = _flight(form), Noted(texts, times, looked, _typed(form), film=film, day=day)
        return write_files(project, notes_with(project, name, noted))

    return await changed(request, "flight noted", form, act)


async def keep(request: Request) -> Response:
    """Keep what is predicted of a flight, before it is flown."""
    form = await forms.read(request)
    plan = plan_of(request, room.of(request).store)
    now = datetime.now().astimezone().isoformat(timespec="seconds")

    def act(project: Project) -> Project:
        flight = _flight(form)
        flights = room.of(request).answers.flights
        return keep_prediction(
            project,
            flight,
            lambda logged: prediction(
                project, flight, plan, made=now, logged=logged, flights=flights
            ),
        )

    return await changed(request, "prediction kept", form, act)


async def carry(request: Request) -> Response:
    """Write what a flight says of the rocket into its readings."""
    form = await forms.read(request)

    def act(project: Project) -> Project:
        flight = _flight(form)
        found = carry_over(project, debrief_there(project, flight, logs_of(project, flight)))
        return write_files(project, found.texts)

    return await changed(request, f"carried over from {_flight(form)}", form, act)


def _flight(form: dict[str, str]) -> str:
    return form.get("flight", "").strip()


async def changed(
    request: Request,
    words: str,
    form: dict[str, str],
    act: Callable[[Project], Project],
    asked: "Asked | None" = None,
) -> Response:
    """Do it, or show the page again with the reason."""
    state = room.of(request)
    try:
        await state.workers.in_thread(lambda: state.store.change(words, form.get("hash", ""), act))
    except (StudyRefused, SaveRefused, LogRefused) as refusal:
        return await show(request, 422, (str(refusal),), form, asked)
    except ProjectErrors as errors:
        return await show(request, 422, tuple(f.sentence for f in errors.faults), form, asked)
    plan: dict[str, Any] = {"flight": _flight(form)}
    return RedirectResponse(address("/debrief", plan_of(request, state.store), plan), 303)


PAGE = Page("debrief", "Debrief", 60)
ROUTES = (
    Route("/debrief", get),
    Route("/debrief/note", note, methods=["POST"]),
    Route("/debrief/keep", keep, methods=["POST"]),
    Route("/debrief/carry", carry, methods=["POST"]),
)
