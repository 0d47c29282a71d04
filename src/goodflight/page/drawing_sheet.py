"""The drawing sheet: the rocket to scale, its parts as a list that can be changed, its motors."""

from collections.abc import Callable, Mapping
from typing import Any

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from goodflight.outputs.drawing_svg import drawing_svg
from goodflight.page import pencil, room
from goodflight.page.view import address, page, plan_of, settings_of, units_of
from goodflight.project import Fault, Project, ProjectErrors, edit_all, remove_part
from goodflight.project.motor_table import ENTRIES, Preview, add_motor, preview
from goodflight.project.part_forms import (
    change_part,
    entries_of,
    fault_key,
    move_part,
    new_part,
    written,
)
from goodflight.project.rocket_file import PART_TABLES, CanopyTable

HIDDEN = ("hash", "after", "kind")


async def sheet(request: Request) -> Response:
    """The drawing with its parts list; `part` opens one part, `add` an empty form of a kind."""
    return await show(request)


async def show(request: Request, status: int = 200, **more: Any) -> Response:
    """The sheet, perhaps with a form that was refused."""
    state = room.of(request)
    plan, units = plan_of(request, state.desk), units_of(request)
    above = await state.bench.away(lambda: pencil.head(request))
    project = state.desk.look()
    if project is None:
        raise ProjectErrors(state.desk.faults)
    context = {
        **above,
        "wide": drawing_svg(above["layout"], units, "wide"),
        "narrow": drawing_svg(above["layout"], units, "narrow"),
        "parts": [written(project, part.name) for part in project.parts],
        "kinds": list(PART_TABLES),
        "motors": project.motors,
        "flies": project.plan(plan),
        "sites": list(project.site_files),
        "canopies": [part.name for part in project.parts if isinstance(part, CanopyTable)],
        "motor_entries": ENTRIES,
        "motor_form": {},
        "preview": None,
        **form_of(request, project),
    }
    context.update(more)
    return page(request, state.desk, "drawing", "drawing.html", status, **context)


def form_of(request: Request, project: Project) -> dict[str, Any]:
    """Which part form is open, if any, and with which texts."""
    opened, kind = request.query_params.get("part", ""), request.query_params.get("add", "")
    names = [part.name for part in project.parts]
    form: dict[str, Any] = {"opened": "", "adding": "", "texts": {}, "wrong": {}, "elsewhere": ()}
    if opened in names:
        texts = written(project, opened)
        form.update(opened=opened, texts=texts, entries=entries_of(texts["kind"]))
    elif kind in PART_TABLES:
        form.update(adding=kind, entries=entries_of(kind))
    return form


def faulty(faults: tuple[Fault, ...], name: str) -> tuple[dict[str, Fault], tuple[Fault, ...]]:
    """Faults by field of the part, and those that stand elsewhere."""
    own: dict[str, Fault] = {}
    elsewhere = []
    for fault in faults:
        key = fault_key(fault, name)
        if key is None:
            elsewhere.append(fault)
        else:
            own.setdefault(key, fault)
    return own, tuple(elsewhere)


async def _form(request: Request) -> dict[str, str]:
    return {key: value for key, value in (await request.form()).items() if isinstance(value, str)}


def _back(request: Request, **more: str) -> Response:
    state = room.of(request)
    plan, settings = plan_of(request, state.desk), settings_of(request)
    return RedirectResponse(address("/drawing", plan, settings, **more), 303)


async def save_part(request: Request) -> Response:
    """Change one part; a fault comes back at its field, with what was typed."""
    name, form = request.path_params["name"], await _form(request)
    texts = {key: text for key, text in form.items() if key not in HIDDEN}

    def act(project: Project) -> Project:
        return change_part(project, name, texts)

    shown = {"opened": name, "adding": "", "entries": entries_of(form.get("kind", "lump"))}
    new_name = texts.get("name") or name
    return await _try(request, f"{name} changed", form, act, new_name, shown)


async def add(request: Request) -> Response:
    """Add one part."""
    form = await _form(request)
    kind = form.get("kind", "")
    texts = {key: text for key, text in form.items() if key not in HIDDEN}

    def act(project: Project) -> Project:
        return new_part(project, kind, texts, form.get("after") or None)

    entries = entries_of(kind) if kind in PART_TABLES else ()
    shown = {"opened": "", "adding": kind, "entries": entries}
    name = texts.get("name", "")
    return await _try(request, f"{name or kind} added", form, act, name, shown)


async def _try(
    request: Request, words: str, form: Mapping[str, str], act: Callable[[Project], Project],
    name: str, shown: Mapping[str, Any],
) -> Response:  # fmt: skip
    """Write a change; when the files would not be valid, show the form again with the faults."""
    try:
        room.of(request).desk.change(words, form.get("hash", ""), act)
    except ProjectErrors as errors:
        own, elsewhere = faulty(errors.faults, name)
        more = {**shown, "texts": form, "wrong": own, "elsewhere": elsewhere}
        return await show(request, 422, **more)
    return _back(request)


async def remove(request: Request) -> Response:
    """Take a part out; its text stays in the earlier version."""
    name, form = request.path_params["name"], await _form(request)
    shown: dict[str, Any] = {"opened": "", "adding": ""}
    return await _try(
        request, f"{name} taken out", form, lambda p: remove_part(p, name), name, shown
    )


async def move(request: Request) -> Response:
    """Move a part one place in the file."""
    name, form = request.path_params["name"], await _form(request)
    by = -1 if form.get("way") == "up" else 1
    shown: dict[str, Any] = {"opened": "", "adding": ""}
    return await _try(request, f"{name} moved", form, lambda p: move_part(p, name, by), name, shown)


async def undo(request: Request) -> Response:
    """Take the last change back."""
    form = await _form(request)
    room.of(request).desk.undo(form.get("hash", ""))
    return RedirectResponse(_here(form), 303)


async def redo(request: Request) -> Response:
    """Do the change taken back last once more."""
    form = await _form(request)
    room.of(request).desk.redo(form.get("hash", ""))
    return RedirectResponse(_here(form), 303)


def _here(form: Mapping[str, str]) -> str:
    """Where to go back to: a path on this server, nothing else."""
    here = form.get("here", "/")
    return here if here.startswith("/") and not here.startswith(("//", "/\\")) else "/"


async def save_plan(request: Request) -> Response:
    """Change which motor, canopy and field a plan flies with."""
    state, form = room.of(request), await _form(request)
    plan = plan_of(request, state.desk)
    keys = [key for key in ("motor", "trim", "canopy", "site", "rail", "level") if form.get(key)]
    writes = [(f"plans.toml:plan[{plan}].{key}", form[key]) for key in keys]

    def act(project: Project) -> Project:
        return edit_all(project, writes)

    return await _try(request, f"plan {plan} changed", form, act, "", {"opened": "", "adding": ""})


async def import_motor(request: Request) -> Response:
    """A thrust table by file or paste: shown first, written when it is asked for."""
    form = await request.form()
    upload = form.get("file")
    typed = {key: value for key, value in form.items() if isinstance(value, str)}
    if isinstance(upload, UploadFile) and upload.filename:
        typed["table"] = (await upload.read()).decode("utf-8", "replace")
    read: Preview = preview(typed.get("table", ""))
    more: dict[str, Any] = {"preview": read, "motor_form": typed}
    if typed.get("act") != "write" or read.curve is None:
        return await show(request, 200 if read.curve else 422, **more)
    try:
        room.of(request).desk.change(
            f"motor {typed.get('name', '')} added",
            typed.get("hash", ""),
            lambda project: add_motor(project, typed, typed.get("table", "")),
        )
    except ProjectErrors as errors:
        return await show(request, 422, **more, motor_faults=errors.faults)
    return _back(request)
