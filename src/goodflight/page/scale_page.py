"""The scale page: what was weighed, entered at the bench, and what that changed."""

from typing import Any, Final

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, page, plan_of
from goodflight.project import Project, ProjectErrors, write_files
from goodflight.project.parts.bay import BayTable
from goodflight.project.weighing_checks import WHOLE
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.questions.scale import entered, weigh
from goodflight.studies.refusal import StudyRefused

FLIGHTS: Final = 400
KEYS: Final = ("motor", "mass", "balance", "date")
ON: Final = "on:"  # before a part's name: it was on the scale


async def get(request: Request) -> Response:
    """What was weighed and what it changed, with a form for one more."""
    return await _show(request, 200, {}, ())


async def _show(
    request: Request, status: int, texts: dict[str, str], wrong: tuple[str, ...]
) -> Response:
    state = room.of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)
    more: dict[str, Any] = {"study": None, "words": ""}
    try:
        more["study"] = await state.workers.in_thread(lambda: weigh(project, plan, FLIGHTS))
    except StudyRefused as refusal:  # what stands in the file contradicts itself
        more["words"], status = str(refusal), 422
    return page(request, state.store, "scale", "scale.html", status, **more, wrong=wrong,
                hash=inputs_hash(project), texts=texts, on=ON, motors=sorted(project.motors),
                names=_on_a_scale(project),
                flown=[item.name for item in project.rocket(plan=plan).parts])  # fmt: skip


async def enter(request: Request) -> Response:
    """Write one more weighing; one that contradicts the rest comes back with the reason."""
    state, form = room.of(request), await forms.read(request)
    plan = plan_of(request, state.store)
    given = {key: form[key].strip() for key in KEYS if form.get(key, "").strip()}
    named = [key.removeprefix(ON) for key in form if key.startswith(ON)]

    def act(project: Project) -> Project:
        flown = {part.name for part in project.rocket().parts} & set(_on_a_scale(project))
        what, without = named, []
        if form.get("state") == "all":
            what = [WHOLE, *(name for name in named if name not in flown)]
            without = [name for name in _on_a_scale(project) if name in flown - set(named)]
        return write_files(project, entered(project, plan, what, given, without))

    if not named:
        return await _show(request, 422, form, ("Tick what was on the scale.",))
    try:
        state.store.change("weighing entered", form.get("hash", ""), act)
    except StudyRefused as refusal:
        return await _show(request, 422, form, (str(refusal),))
    except ProjectErrors as errors:
        return await _show(request, 422, form, tuple(f.sentence for f in errors.faults))
    return RedirectResponse(address("/scale", plan, {}), 303)


def _on_a_scale(project: Project) -> list[str]:
    """Parts that can lie on a scale: a bay is empty room."""
    return [part.name for part in project.parts if not isinstance(part, BayTable)]


PAGE = Page("scale", "Scale", 25)
ROUTES = (Route("/scale", get), Route("/weigh", enter, methods=["POST"]))
