"""The debrief page: what a flight said, noted in the field; predictions kept and judged."""

from collections.abc import Callable
from datetime import date, datetime
from typing import Any, Final

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.debrief import right_words, words
from goodflight.outputs.debrief.picture import overlay_svg
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, page, plan_of, units_of
from goodflight.project import Project, ProjectErrors, SaveRefused, write_files
from goodflight.project.bench_files import NotesFile
from goodflight.project.flight_notes import TEXTS, TIMES, notes_with
from goodflight.project.predictions import keep_prediction
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.debriefing.carry import carry_over
from goodflight.studies.debriefing.predicting import prediction
from goodflight.studies.questions.debrief import TITLES, DebriefStudy, debrief
from goodflight.studies.refusal import StudyRefused

AFTER: Final = "after_"  # before the name of a time: heights have names like it
SEEN: Final = {
    "burnout": "end of thrust", "apogee": "highest point", "charge": "charge heard or smoke seen",
    "canopy": "canopy full", "second_canopy": "second canopy full", "landing": "on the ground",
}  # fmt: skip
RESULTS: Final = ("", "passed", "failed", "not attempted")
BLANK: Final = 2  # rows for damage not noted yet


async def get(request: Request) -> Response:
    """All flights, and what one of them said."""
    return await _show(request, 200, ())


async def _show(
    request: Request, status: int, wrong: tuple[str, ...], texts: dict[str, str] | None = None
) -> Response:
    state = room.of(request)
    project, units = state.store.sound(), units_of(request)
    names = list(project.notes) + [n for n in project.predictions if n not in project.notes]
    wanted = (texts or request.query_params).get("flight", "").strip()
    flight = wanted if wanted in names else ""
    study, refusal = await state.workers.in_thread(lambda: _study(request, project, flight))
    shown = overlay_svg(study.places, study.kept, units) if study and study.places else ""
    return page(
        request, state.store, "debrief", "debrief.html", status, study=study, words=refusal,
        wrong=wrong, names=names, flight=flight, new=wanted if wanted not in names else "",
        picture=Markup(shown), hash=inputs_hash(project), mine=texts or _noted(project, flight),
        times=SEEN, results=RESULTS, rows=TITLES, damage=_damage(project, flight, texts),
        said=words, right=right_words, today=date.today().isoformat(),
        kept=project.predictions.get(flight), plans_there=[p.name for p in project.plan_tables],
    )  # fmt: skip


def _study(request: Request, project: Project, flight: str) -> tuple[DebriefStudy | None, str]:
    """What the flight said; without it, the log book alone, and why."""
    notes, state = project.notes.get(flight), room.of(request)
    seen = notes is not None and (notes.apogee is not None or notes.seen is not None)

    def asked(name: str | None) -> DebriefStudy:
        return state.answers.of_project(
            inputs_hash(project), "debrief", None, lambda: debrief(project, flight=name),
            flight=name or "", kept=repr(sorted(project.predictions.items())),
        )  # fmt: skip

    try:
        return asked(flight if seen else None), ""
    except StudyRefused as error:
        refusal = str(error)
    try:
        return asked(None), refusal
    except StudyRefused as error:  # the notes themselves cannot be read as a log book
        return None, str(error)


def _noted(project: Project, flight: str) -> dict[str, str]:
    """What the notes say, as texts of the form."""
    notes = project.notes.get(flight, NotesFile())
    found = {"flight": flight, "looked_over": "yes" if notes.looked_over else ""}
    found |= {key: getattr(notes, key) or "" for key in ("date", "plan", "result", "note")}
    found["apogee"] = "" if notes.apogee is None else notes.apogee.text
    for key in TIMES:
        value = getattr(notes.seen, key, None)
        found[AFTER + key] = "" if value is None else value.text
    return found


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


async def note(request: Request) -> Response:
    """Write what was seen of a flight into its notes."""
    form = await forms.read(request)
    texts: dict[str, str] = {key: form[key].strip() for key in TEXTS if key in form}
    times = {key: form[AFTER + key].strip() for key in TIMES if AFTER + key in form}

    def act(project: Project) -> Project:
        looked = form.get("looked_over") == "yes"
        name, damage = _flight(form), _typed(form)
        return write_files(project, notes_with(project, name, texts, times, looked, damage))

    return await _changed(request, "flight noted", form, act)


async def keep(request: Request) -> Response:
    """Keep what is predicted of a flight, before it is flown."""
    form = await forms.read(request)
    plan = plan_of(request, room.of(request).store)
    now = datetime.now().astimezone().isoformat(timespec="seconds")

    def act(project: Project) -> Project:
        flight = _flight(form)
        flights = room.of(request).answers.flights
        return keep_prediction(
            project, flight, lambda logged: prediction(project, flight, plan, now, logged, flights)
        )

    return await _changed(request, "prediction kept", form, act)


async def carry(request: Request) -> Response:
    """Write what a flight says of the rocket into its readings."""
    form = await forms.read(request)

    def act(project: Project) -> Project:
        found = carry_over(project, debrief(project, flight=_flight(form)))
        return write_files(project, found.texts)

    return await _changed(request, f"carried over from {_flight(form)}", form, act)


def _flight(form: dict[str, str]) -> str:
    return form.get("flight", "").strip()


async def _changed(
    request: Request, words: str, form: dict[str, str], act: Callable[[Project], Project]
) -> Response:
    """Do it, or show the page again with the reason."""
    state = room.of(request)
    try:
        await state.workers.in_thread(lambda: state.store.change(words, form.get("hash", ""), act))
    except (StudyRefused, SaveRefused) as refusal:
        return await _show(request, 422, (str(refusal),), form)
    except ProjectErrors as errors:
        return await _show(request, 422, tuple(f.sentence for f in errors.faults), form)
    plan: dict[str, Any] = {"flight": _flight(form)}
    return RedirectResponse(address("/debrief", plan_of(request, state.store), plan), 303)


PAGE = Page("debrief", "Debrief", 60)
ROUTES = (
    Route("/debrief", get),
    Route("/debrief/note", note, methods=["POST"]),
    Route("/debrief/keep", keep, methods=["POST"]),
    Route("/debrief/carry", carry, methods=["POST"]),
)
