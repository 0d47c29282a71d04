"""The scale page: what was weighed, entered at the bench, and what that changed."""

from datetime import date
from typing import Any, Final

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.scale import ballast_text, text
from goodflight.outputs.scale.instruments import drawing_of, instrument_svg
from goodflight.outputs.scale.picture import state_svg
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, page, plan_of
from goodflight.project import Project, ProjectErrors, read_project, write_files
from goodflight.project.parts.bay import BayTable
from goodflight.project.parts.buttons import ButtonsTable
from goodflight.project.weighing_checks import WHOLE
from goodflight.project.weighing_entry import FILE, with_instrument
from goodflight.quantity import QuantityError, parse
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.questions.ballast import USUAL_CAL, ballast, setting_of
from goodflight.studies.questions.scale import entered, weigh
from goodflight.studies.refusal import StudyRefused

FLIGHTS: Final = 1000
KEYS: Final = (
    "motor", "mass", "balance", "swing.spacing", "swing.wires", "swing.period", "instrument",
    "date",
)  # fmt: skip
ON: Final = "on:"  # before a part's name: it was on the scale


async def get(request: Request) -> Response:
    """What was weighed and what it changed, with a form for one more."""
    return await _show(request, 200, {}, ())


async def _show(
    request: Request, status: int, texts: dict[str, str], wrong: tuple[str, ...]
) -> Response:
    state = room.of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)
    files = inputs_hash(project)
    more: dict[str, Any] = {"study": None, "words": "", "asked": "", "unread": "", "ballast": None}
    try:
        more["study"] = await state.workers.in_thread(
            lambda: state.answers.of_project(
                files, "scale", plan, lambda: weigh(project, plan, FLIGHTS)
            )
        )
        more |= await state.workers.in_thread(lambda: _ballast(request, project, plan))
    except StudyRefused as refusal:  # what stands in the file contradicts itself
        more["words"], status = str(refusal), 422
    on = _ticked(project, plan, texts)
    pictures = await state.workers.in_thread(lambda: _pictures(request, project, on, texts))
    return page(request, state.store, "scale", "scale.html", status, **more, **pictures,
                wrong=wrong, hash=files, texts=texts, on=ON, ticked=on,
                motors=sorted(project.motors), names=_on_a_scale(project),
                flown=_flown(project, plan), today=date.today().isoformat(),
                instruments=[each.name for each in project.weighings.instrument],
                told_next=text.worth_words, sentence=text.sentence, told_ballast=ballast_text,
                setting=setting_of, usual=f"{USUAL_CAL:g} cal",
                instrument=lambda kind: Markup(instrument_svg(kind)),
                drawing=lambda name: Markup(drawing_of(name)))  # fmt: skip


def _ballast(request: Request, project: Project, plan: str | None) -> dict[str, Any]:
    """Ballast for the margin that the address asks for, or why there is no answer."""
    asked = request.query_params.get("margin", "").strip()
    if not asked:
        return {}
    state, files = room.of(request), inputs_hash(project)
    try:
        margin = parse(asked, "calibre").value
        found = state.answers.of_project(
            files, "ballast", plan, lambda: ballast(project, plan, margin, FLIGHTS), margin=asked
        )
    except (QuantityError, StudyRefused) as refusal:
        return {"asked": asked, "unread": str(refusal)}
    return {"asked": asked, "ballast": found}


def _pictures(
    request: Request, project: Project, on: set[str], texts: dict[str, str]
) -> dict[str, Any]:
    """The rocket with what is on the scale lit, lying and upright; none where it has no shape."""
    state = room.of(request)
    try:
        layout = state.answers.layout(plan_of(request, state.store), {})
    except (StudyRefused, ValueError):
        return {"lying": "", "upright": ""}
    guides = next((p.name for p in project.parts if isinstance(p, ButtonsTable)), "")
    motor = bool(texts.get("motor"))
    return {
        "lying": Markup(state_svg(layout, on, guides, motor)),
        "upright": Markup(state_svg(layout, on, guides, motor, upright=True)),
    }


async def enter(request: Request) -> Response:
    """Write one more weighing; one that contradicts the rest comes back with the reason."""
    state, form = room.of(request), await forms.read(request)
    plan = plan_of(request, state.store)
    named = [key.removeprefix(ON) for key in form if key.startswith(ON)]

    def act(project: Project) -> Project:
        return write_files(project, _texts(project, plan, form, named))

    if not named:
        return await _show(request, 422, form, ("Tick what was on the scale.",))
    try:
        state.store.change("weighing entered", form.get("hash", ""), act)
    except StudyRefused as refusal:
        return await _show(request, 422, form, (str(refusal),))
    except ProjectErrors as errors:
        return await _show(request, 422, form, tuple(f.sentence for f in errors.faults))
    return RedirectResponse(address("/scale", plan, {}), 303)


def _texts(
    project: Project, plan: str | None, form: dict[str, str], named: list[str]
) -> dict[str, str]:
    """The files with one more weighing, and with the instrument where it is a new one."""
    given = {key: form[key].strip() for key in KEYS if form.get(key, "").strip()}
    flown = set(_flown(project, None)) & set(_on_a_scale(project))  # "all" is of the first plan
    what, without = named, []
    if form.get("state") == "all":
        what = [WHOLE, *(name for name in named if name not in flown)]
        without = [name for name in _on_a_scale(project) if name in flown - set(named)]
    name, share = (form.get(key, "").strip() for key in ("new_instrument", "calibration"))
    if not name:
        return entered(project, plan, what, given, without)
    named_too = with_instrument(project.texts.get(FILE), name, share)
    known = read_project({**project.texts, FILE: named_too}, project.root)
    return entered(known, plan, what, {**given, "instrument": name}, without)


def _on_a_scale(project: Project) -> list[str]:
    """Parts that can lie on a scale: a bay is empty room."""
    return [part.name for part in project.parts if not isinstance(part, BayTable)]


def _flown(project: Project, plan: str | None) -> list[str]:
    return [item.name for item in project.rocket(plan=plan).parts]


def _ticked(project: Project, plan: str | None, texts: dict[str, str]) -> set[str]:
    """Parts on the scale: as the form says, else what the plan flies."""
    if texts:
        return {key.removeprefix(ON) for key in texts if key.startswith(ON)}
    return set(_flown(project, plan)) & set(_on_a_scale(project))


PAGE = Page("scale", "Scale", 25)
ROUTES = (Route("/scale", get), Route("/weigh", enter, methods=["POST"]))
