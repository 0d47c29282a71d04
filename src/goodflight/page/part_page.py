"""Parts changed, added, moved and taken out; a form that met other changes comes back merged."""

import re
from collections.abc import Callable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.page import drawing_page, forms, room
from goodflight.page.open_project import ChangedElsewhereError
from goodflight.project import Fault, Project, ProjectErrors, remove_part
from goodflight.project.conflicts import Conflict, part_conflict
from goodflight.project.part_forms import (
    change_part,
    entries_of,
    fault_key,
    move_part,
    new_part,
)
from goodflight.project.parts import PART_TABLES


def faulty(
    faults: tuple[Fault, ...], key_of: Callable[[Fault], str | None]
) -> tuple[dict[str, Fault], tuple[Fault, ...]]:
    """Faults by field of a form, and those that stand elsewhere."""
    own: dict[str, Fault] = {}
    elsewhere = []
    for fault in faults:
        key = key_of(fault)
        if key is None:
            elsewhere.append(fault)
        else:
            own.setdefault(key, fault)
    return own, tuple(elsewhere)


def own_key(fault: Fault, name: str) -> str | None:
    """The field a fault stands at; None when the form has none for it.

    A part that has no name yet is the only one known by its number; its kind has no field.
    """
    key = fault_key(fault, name)
    if not name and (found := re.match(r"part\[#[0-9]+\]\.(\w+)", fault.key)):
        key = found[1]
    return None if key == "kind" else key


async def save_part(request: Request) -> Response:
    """Change one part; a fault or another's change comes back at its field, with what was typed."""
    name, form = request.path_params["name"], await forms.read(request)
    texts = forms.entries(form)
    new_name = texts.get("name") or name
    shown = {"opened": name, "adding": "", "entries": entries_of(form.get("kind", "added_mass"))}
    try:
        return await change(
            request,
            f"{name} changed",
            form,
            lambda p: change_part(p, name, texts),
            new_name,
            shown=shown,
        )
    except ChangedElsewhereError as error:
        return await _merged(request, name, form, error)


async def _merged(
    request: Request, name: str, form: Mapping[str, str], error: ChangedElsewhereError
) -> Response:
    """The form again, on the files as they are now."""
    store = room.of(request).store
    now = store.sound()
    texts, kind = forms.entries(form), form.get("kind", "added_mass")
    found = part_conflict(store.known.get(form.get("hash", "")), now, name, kind, texts)
    shown: dict[str, Any] = {
        "opened": found.name,
        "adding": "" if found.name else kind,
        "entries": entries_of(kind) if kind in PART_TABLES else (),
        "after": form.get("after", ""),
        "now": now,
    }
    return await drawing_page.show(
        request, 409, **shown, part_form=_again(found, name, texts, kind, error)
    )


def _again(
    found: Conflict, name: str, typed: Mapping[str, str], kind: str, error: ChangedElsewhereError
) -> dict[str, Any]:
    notice = {"conflict": found, "was": name, "changes": error.changes, "typed": typed}
    merged = found.merged
    return forms.state_of(
        {**merged.texts, "kind": kind}, clashes=merged.clashes, theirs=merged.theirs, notice=notice
    )


async def add(request: Request) -> Response:
    """Add one part."""
    form = await forms.read(request)
    kind, texts = form.get("kind", ""), forms.entries(form)
    name = texts.get("name", "")

    def act(project: Project) -> Project:
        return new_part(project, kind, texts, form.get("after") or None)

    entries = entries_of(kind) if kind in PART_TABLES else ()
    shown = {"opened": "", "adding": kind, "entries": entries, "after": form.get("after", "")}
    try:
        return await change(request, f"{name or kind} added", form, act, name, shown=shown)
    except ChangedElsewhereError as error:
        now = room.of(request).store.sound()
        notice = {"conflict": None, "was": name, "changes": error.changes, "typed": texts}
        part_form = forms.state_of(form, notice=notice)
        return await drawing_page.show(request, 409, **shown, now=now, part_form=part_form)


async def change(
    request: Request,
    words: str,
    form: Mapping[str, str],
    act: Callable[[Project], Project],
    name: str,
    shown: Mapping[str, Any],
) -> Response:
    """Write a change; when the files would not be valid, show the form again with the faults."""
    try:
        room.of(request).store.change(words, form.get("hash", ""), act)
    except ProjectErrors as errors:
        own, elsewhere = faulty(errors.faults, lambda fault: own_key(fault, name))
        part_form = forms.state_of(form, wrong=own)
        return await drawing_page.show(
            request, 422, **shown, part_form=part_form, elsewhere=elsewhere
        )
    return forms.back(request)


async def remove(request: Request) -> Response:
    """Take a part out; its text stays in the earlier version."""
    name, form = request.path_params["name"], await forms.read(request)
    shown: dict[str, Any] = {"opened": "", "adding": ""}
    return await change(
        request, f"{name} deleted", form, lambda p: remove_part(p, name), name, shown=shown
    )


async def move(request: Request) -> Response:
    """Move a part one place in the file."""
    name, form = request.path_params["name"], await forms.read(request)
    by = -1 if form.get("way") == "up" else 1
    shown: dict[str, Any] = {"opened": "", "adding": ""}
    return await change(
        request, f"{name} moved", form, lambda p: move_part(p, name, by), name, shown=shown
    )


ROUTES = (
    Route("/part", add, methods=["POST"]),
    Route("/part/{name:path}/remove", remove, methods=["POST"]),
    Route("/part/{name:path}/move", move, methods=["POST"]),
    Route("/part/{name:path}", save_part, methods=["POST"]),  # a name may hold a slash
)
