"""Plans changed, copied under a new name, taken out; a what-if kept as a plan of its own."""

from collections.abc import Callable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import drawing_page, forms, room
from goodflight.page.keeping import to_do_of
from goodflight.page.open_project import ChangedElsewhereError
from goodflight.page.part_page import faulty
from goodflight.page.view import address, page, plan_of, settings_of
from goodflight.project import Project, ProjectErrors
from goodflight.project.conflicts import plan_conflict
from goodflight.project.differences import plain
from goodflight.project.plan_forms import (
    BESIDE,
    change_plan,
    copy_plan,
    inside_plan,
    keep_as_plan,
    outside_plan,
    plan_fault_key,
    remove_plan,
)


def _plan(request: Request) -> str:
    """The plan the form is about, as the address names it, whether it is still there or not."""
    return request.query_params.get("plan") or plan_of(request, room.of(request).store) or ""


async def save_plan(request: Request) -> Response:
    """Change a plan; a fault, or another's change, comes back at its field with what was typed."""
    plan, form = _plan(request), await forms.read(request)
    beside: dict[str, str] = {key: form.pop(key) for key in BESIDE if key in form}
    texts = forms.entries(form)
    new_name = plain(texts.get("name", plan))
    words = f"plan {plan} changed"
    try:
        return await _change(
            request, words, form, lambda p: change_plan(p, plan, texts, beside), new_name
        )
    except ChangedElsewhereError as error:
        return await _merged(request, plan, texts, form.get("hash", ""), error)


async def _merged(
    request: Request, plan: str, texts: Mapping[str, str], drawn: str, error: ChangedElsewhereError
) -> Response:
    """The form again, on the files as they are now; a plan that is gone can only be looked for."""
    store = room.of(request).store
    now = store.sound()
    found = plan_conflict(store.known.get(drawn), now, plan, texts)
    if not found.name:
        raise ChangedElsewhereError(error.words, error.changes, again=False)
    merged = found.merged
    notice = {"conflict": found, "was": plan, "changes": error.changes, "typed": texts}
    plan_form = forms.state_of(
        merged.texts, clashes=merged.clashes, theirs=merged.theirs, notice=notice
    )
    return await drawing_page.show(request, 409, plan=found.name, now=now, plan_form=plan_form)


async def _change(
    request: Request,
    words: str,
    form: Mapping[str, str],
    act: Callable[[Project], Project],
    plan: str,
) -> Response:
    """Write a change of a plan; when it would not be valid, show the form with the faults."""
    try:
        room.of(request).store.change(words, form.get("hash", ""), act)
    except ProjectErrors as errors:
        names = (plan, _plan(request))
        own, elsewhere = faulty(
            errors.faults,
            lambda f: next((key for n in names if (key := plan_fault_key(f, n))), None),
        )
        plan_form = forms.state_of(form, wrong=own)
        return await drawing_page.show(request, 422, plan_form=plan_form, elsewhere=elsewhere)
    return RedirectResponse(address("/drawing", plan, settings_of(request)) + "#plan-box", 303)


async def copy(request: Request) -> Response:
    """Copy a plan under a new name; a name that cannot be is said at its field."""
    plan, form = _plan(request), await forms.read(request)
    name = plain(form.get("name", ""))
    try:
        room.of(request).store.change(
            f"plan {name} copied from {plan}",
            form.get("hash", ""),
            lambda project: copy_plan(project, plan, name),
        )
    except ProjectErrors as errors:
        more: dict[str, Any] = {"copy_name": form.get("name", ""), "copy_wrong": errors.faults[0]}
        return await drawing_page.show(request, 422, **more)
    return RedirectResponse(address("/drawing", name, {}) + "#plan-box", 303)


async def remove(request: Request) -> Response:
    """Take a plan out; the last one stays."""
    plan, form = _plan(request), await forms.read(request)
    room.of(request).store.change(
        f"plan {plan} deleted", form.get("hash", ""), lambda project: remove_plan(project, plan)
    )
    return RedirectResponse("/drawing#plan-box", 303)


async def keep_new(request: Request) -> Response:
    """Keep a what-if as a new plan; what cannot go into a plan changes the rocket or the motor."""
    state, form = room.of(request), await forms.read(request)
    plan, name = _plan(request), plain(form.get("name", ""))
    trial = await state.workers.in_thread(lambda: state.answers.tried(plan, settings_of(request)))
    outside = outside_plan(plan, trial.writes)
    if outside and form.get("rocket") != "yes":
        return _ask(request, form, trial.writes)
    try:
        state.store.change(
            f"what-if kept as plan {name}",
            form.get("hash", ""),
            lambda project: keep_as_plan(project, plan, name, trial.writes, to_do_of(trial)),
            trial.writes,
        )
    except ProjectErrors as errors:
        return _ask(request, form, trial.writes, errors)
    page = forms.page_of(form)
    return RedirectResponse(address(f"/{page}", name, {}), 303)


def _ask(
    request: Request,
    form: Mapping[str, str],
    writes: tuple[tuple[str, str], ...],
    errors: ProjectErrors | None = None,
) -> Response:
    """Ask for a name that can be, and say what changes for every plan."""
    store, plan = room.of(request).store, _plan(request)
    outside = outside_plan(plan, writes)
    more = {
        "new_name": form.get("name", ""),
        "drawn": form.get("hash", ""),
        "back": forms.page_of(form),
        "of_plan": inside_plan(plan, writes),
        "outside": outside,
        "faults": errors.faults if errors else (),
    }
    return page(request, store, "", "keep_plan.html", 422 if errors else 200, **more)


ROUTES = (
    Route("/keep-plan", keep_new, methods=["POST"]),
    Route("/plan", save_plan, methods=["POST"]),
    Route("/plan/copy", copy, methods=["POST"]),
    Route("/plan/remove", remove, methods=["POST"]),
)
