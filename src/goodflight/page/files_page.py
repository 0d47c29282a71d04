"""The files themselves: changes taken back, met by others, broken, and brought back."""

import re
from collections.abc import Mapping
from typing import Any, Final
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import forms, room
from goodflight.page.open_project import ChangedElsewhereError
from goodflight.page.view import address, page, plan_of
from goodflight.project import Fault, ProjectErrors, keep_version
from goodflight.project.differences import entry_at
from goodflight.project.disk import read_files
from goodflight.project.history import around, earlier, files_with_versions, rows_of, that_mend
from goodflight.project.mending import fields_of

TYPED: Final = "e:"  # before the path of an entry, as the name of its field
MAX_SHOWN = 12  # versions of one file on one page
MAX_MENDED = 5  # faulty files whose earlier versions are tried and shown at once


async def undo(request: Request) -> Response:
    """Take the last change back."""
    form = await forms.read(request)
    room.of(request).store.undo(form.get("hash", ""))
    return RedirectResponse(forms.inside(form.get("here", "/")), 303)


async def redo(request: Request) -> Response:
    """Do the change taken back last once more."""
    form = await forms.read(request)
    room.of(request).store.redo(form.get("hash", ""))
    return RedirectResponse(forms.inside(form.get("here", "/")), 303)


async def versions(request: Request) -> Response:
    """The earlier texts of every file, with what each would change."""
    state = room.of(request)
    root = state.store.root
    project = state.store.sound()

    def work() -> list[tuple[str, Any]]:
        files = files_with_versions(root)
        return [(f, earlier(root, f, MAX_SHOWN)) for f in files if f in project.texts]

    kept = await state.workers.in_thread(work)
    return page(request, state.store, "", "versions.html", kept=kept)


async def bring_back(request: Request) -> Response:
    """Bring an earlier text of one file back; the present one is kept as a version."""
    store, form = room.of(request).store, await forms.read(request)
    number, file = form.get("version", ""), form.get("file", "")
    if not re.fullmatch("[0-9]{1,6}", number):
        return room.refused(request, "Name the version by its number.", 422)
    if file not in files_with_versions(store.root):
        words = f"{file[:80]} has no version {number}; no earlier text of such a file is kept."
        return room.refused(request, words)
    then = "/ledger" if store.look() is None else "/drawing"  # from the faults, or from the list
    store.bring_back(file, int(number), form.get("hash", ""))
    return RedirectResponse(then, 303)


async def keep(request: Request) -> Response:
    """Mark an earlier text as kept for good, or take the mark away."""
    store, form = room.of(request).store, await forms.read(request)
    number = form.get("version", "")
    if not re.fullmatch("[0-9]{1,6}", number):
        return room.refused(request, "Name the version by its number.", 422)
    keep_version(store.root, form.get("file", ""), int(number), bool(form.get("kept")))
    return RedirectResponse("/versions", 303)


async def on_faults(request: Request, error: Exception) -> Response:
    """The files hold faults, or a change would bring some in: show all of them."""
    assert isinstance(error, ProjectErrors)
    store = room.of(request).store
    if store.look() is not None:
        words = "Nothing was written: the project would no longer be valid."
        return page(
            request, store, "", "refused.html", 422, words=words, sentences=_said(error.faults)
        )
    return broken(request, error.faults)


def _said(faults: tuple[Fault, ...]) -> list[str]:
    return [fault.sentence for fault in faults]


async def mend(request: Request) -> Response:
    """Write faulty entries as they were typed; while faults are left, all of it is shown again."""
    store, form = room.of(request).store, await forms.read(request)
    typed = {key[2:]: text for key, text in form.items() if key.startswith(TYPED)}
    try:
        store.mend(typed, form.get("hash", ""))
    except ProjectErrors as errors:
        return broken(request, errors.faults, typed)
    except ChangedElsewhereError:
        if store.look() is not None:
            raise
        return broken(request, store.faults, typed)  # typed anew over the files as they are now
    return RedirectResponse("/ledger", 303)


def _fields_of(
    texts: Mapping[str, str], faults: tuple[Fault, ...], typed: Mapping[str, str]
) -> dict[str, str]:
    """The text of every entry that can be mended here, by path: as typed, or as in the file."""
    return {**fields_of(texts, faults), **typed}


def broken(
    request: Request, faults: tuple[Fault, ...], typed: Mapping[str, str] | None = None
) -> Response:
    """Every fault with its line and its field, and the earlier texts that would mend it.

    typed : what was typed into the fields, by path, when faults were left.
    """
    store = room.of(request).store
    if store.empty:  # the folder was taken away, or emptied
        if request.method == "GET":
            return RedirectResponse("/start", 303)
        return room.refused(request, room.in_words(ProjectErrors(())))
    texts, _ = read_files(store.root)
    files = list(dict.fromkeys(fault.file for fault in faults))
    rows = {file: rows_of(texts.get(file, "")) for file in files}
    shown = [(fault, around(rows[fault.file], fault)) for fault in faults]
    mends = [(file, that_mend(store.root, file)) for file in files[:MAX_MENDED]]
    more = {
        "faults": shown,
        "mends": mends,
        "files": files,
        "sent": None if typed is not None else _sent(request),
        "fields": _fields_of(texts, faults, typed or {}),
        "again": typed is not None,
        "mark": TYPED,
    }
    return page(request, store, "", "faults.html", 422, **more)


def _sent(request: Request) -> dict[str, Any] | None:
    """A form that met broken files, to be sent again once they are sound."""
    if request.method == "GET":
        return None
    return {"action": _where(request), "fields": _fields(request)}


def _where(request: Request) -> str:
    return quote(request.url.path) + (f"?{request.url.query}" if request.url.query else "")


def _fields(request: Request) -> list[tuple[str, str]]:
    """The texts of the form that was sent; it was read before the error came up."""
    form = getattr(request, "_form", None) or {}
    return [(key, value) for key, value in form.items() if isinstance(value, str)]


async def on_changed(request: Request, error: Exception) -> Response:
    """The files moved under the page: nothing was written; what differs, and do it again."""
    assert isinstance(error, ChangedElsewhereError)
    store = room.of(request).store
    project = store.look()
    if project is None:
        return broken(request, store.faults)
    named = request.query_params.get("plan")
    gone = "" if not named or named in [t.name for t in project.plan_tables] else named
    fields = [(key, value) for key, value in _fields(request) if key != "hash"]
    sent_from = forms.page_of(dict(fields))
    more = {
        "words": error.words,
        "changes": error.changes,
        "writes": [(path, entry_at(project.texts, path), text) for path, text in error.writes],
        "again": error.again and not gone,
        "gone": gone,
        "action": _where(request),
        "fields": fields,
        "back": address(f"/{sent_from}", plan_of(request, store), {}),
    }
    return page(request, store, "", "changed.html", 409, **more)


ROUTES = (
    Route("/undo", undo, methods=["POST"]),
    Route("/redo", redo, methods=["POST"]),
    Route("/versions", versions),
    Route("/versions", bring_back, methods=["POST"]),
    Route("/versions/keep", keep, methods=["POST"]),
    Route("/mend", mend, methods=["POST"]),
)
