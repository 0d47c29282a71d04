"""A log brought in on the debrief page: read, shown to be confirmed or corrected, then kept."""

from dataclasses import dataclass
from typing import Any, Final

from markupsafe import Markup
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.debrief.curve import curve_svg
from goodflight.outputs.debrief.words import refused_words
from goodflight.page import debrief_page, forms, room
from goodflight.page.guard import LOGS_AT
from goodflight.page.view import plan_of, units_of
from goodflight.project import Project, SaveRefused
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.kept import (
    NewLog,
    keep_log,
    leave_out,
    log_in,
    recording_of,
    remembered,
)
from goodflight.project.logs.look import CHOICES, LogLook, look_at
from goodflight.studies.debriefing.logged import LogShown, drawn_curve, shown

GONE: Final = "this server holds the log no more: choose the file once more"
NONE: Final = "no file came: choose the log, then press read it"
COLUMN: Final = "column"  # before the number of a column in the form


@dataclass(frozen=True)
class Asked:
    """What the page shows of a log that is not kept yet."""

    key: str
    name: str
    flight: str
    look: LogLook | None
    refused: str
    shown: LogShown | None
    picture: Markup
    told: dict[int, str]
    recording: int | None
    choices: tuple[str, ...] = CHOICES


async def read(request: Request) -> Response:
    """Read a log that was sent, or the one held with its columns corrected; keep it when asked."""
    form, file = await forms.read(request), (await request.form()).get("file")
    state = room.of(request)
    key = form.get("log", "")
    if isinstance(file, UploadFile) and file.filename:
        key = state.held.put(file.filename, await file.read())
    held = state.held.get(key)
    if held is None:
        return await debrief_page.show(request, 422, (GONE if key else NONE,), form)
    name, raw = held
    asked = await state.workers.in_thread(lambda: _asked(request, key, name, raw, form))
    if form.get("act") == "keep" and asked.look is not None and asked.look.read is not None:
        look, flight = asked.look, form.get("flight", "").strip()
        plan = plan_of(request, state.store)
        told = {str(number): what for number, what in asked.told.items()}

        def act(project: Project) -> Project:
            return keep_log(
                project, flight, NewLog(name, raw, look.shape, told, asked.recording), plan
            )

        return await debrief_page.changed(request, f"log {name} of {flight}", form, act, asked)
    return await debrief_page.show(request, 422 if asked.refused else 200, (), form, asked)


async def look(request: Request) -> Response:
    """The columns of a log that is kept already, to be corrected."""
    state, query = room.of(request), request.query_params
    flight, name = query.get("flight", ""), query.get("name", "")
    form = {"flight": flight}
    try:
        project = state.store.sound()
        form["recording"] = str(recording_of(project, flight, name) or "")
        raw = log_in(project, flight, name)
    except (SaveRefused, OSError) as error:
        return await debrief_page.show(request, 422, (room.in_words(error),), form)
    key = state.held.put(name, raw)
    asked = await state.workers.in_thread(lambda: _asked(request, key, name, raw, form))
    return await debrief_page.show(request, 422 if asked.refused else 200, (), form, asked)


async def out(request: Request) -> Response:
    """Take a log out of the notes of its flight."""
    form = await forms.read(request)
    flight, name = form.get("flight", "").strip(), form.get("name", "")
    return await debrief_page.changed(
        request, f"log {name} left out", form, lambda project: leave_out(project, flight, name)
    )


def _asked(request: Request, key: str, name: str, raw: bytes, form: dict[str, str]) -> Asked:
    """A log as it reads with what was told of its columns."""
    project, flight = room.of(request).store.sound(), form.get("flight", "").strip()
    typed = {k.removeprefix(COLUMN): v for k, v in form.items() if k.startswith(COLUMN) and v}
    told = {int(k): v for k, v in typed.items() if k.isdecimal() and v in CHOICES}
    columns = {str(number): what for number, what in told.items()}
    number = form.get("recording", "")
    recording = int(number) if number.isdecimal() and number.isascii() and len(number) < 3 else None
    plain: dict[str, Any] = {
        "shown": None,
        "picture": Markup(),
        "told": told,
        "recording": recording,
    }
    try:
        found = look_at(raw, columns, remembered(project, flight), name, recording)
    except LogRefused as error:
        return Asked(key, name, flight, None, refused_words(error), **plain)
    if found.read is None and found.refused is not None:
        return Asked(key, name, flight, found, refused_words(found.refused), **plain)
    assert found.read is not None
    plain["shown"] = shown(found.read, found.read.events.happened)
    plain["picture"] = Markup(curve_svg(drawn_curve(found.read), {}, units_of(request)))
    return Asked(key, name, flight, found, "", **plain)


ROUTES = (
    Route(LOGS_AT, read, methods=["POST"]),
    Route(LOGS_AT, look),
    Route(f"{LOGS_AT}/out", out, methods=["POST"]),
)
