"""The application: the pages put together, with what answers when something is wrong."""

import asyncio
from collections.abc import AsyncIterator, Callable
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.responses import StreamingResponse as Stream
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from goodflight.page import files_page, motor_page, room
from goodflight.page.answers import FULL_FLIGHTS, Answers
from goodflight.page.guard import Access, Guard
from goodflight.page.navigation import routes
from goodflight.page.open_project import ChangedElsewhereError, OpenProject
from goodflight.page.view import HOME
from goodflight.page.work import SupersededError, Workers, event
from goodflight.project import ProjectErrors, SavedTwice, SaveRefused, SaveUnfinished
from goodflight.studies.refusal import NoMotorChosen

LOOK_EVERY_S = 0.5
RETRY_MS = 500  # after which a page that has lost the server asks again


async def watch(request: Request) -> Response:
    """Tell the page when the files are no longer those it was drawn from, and that all is well.

    A beat comes every half second, however long a look at the files takes: a page that hears none
    knows that the server is gone.
    """
    state, drawn = room.of(request), request.query_params.get("hash", "")

    async def look() -> AsyncIterator[str]:
        yield f"retry: {RETRY_MS}\n" + event("watching", {})
        looking: asyncio.Future[str] | None = None
        while not state.workers.stopping.is_set():
            looking = looking or asyncio.ensure_future(
                state.workers.in_thread(lambda: state.store.hash)
            )
            await asyncio.sleep(LOOK_EVERY_S)
            if looking.done():
                if looking.exception() is not None or looking.result() != drawn:
                    yield event("changed", {"broken": bool(state.store.faults)})
                    return
                looking = None
            if await request.is_disconnected():
                return
            yield event("beat", {})

    return Stream(look(), media_type="text/event-stream")


async def icon(_request: Request) -> Response:
    """The mark in the browser's tab."""
    return FileResponse(HOME / "static" / "mark.svg", media_type="image/svg+xml")


async def not_found(request: Request, _error: Exception) -> Response:
    """No such page."""
    return room.refused(request, "There is no page at this address.", 404)


def make_app(
    root: Path,
    port: int,
    lan: bool = False,
    say: Callable[[str], None] = print,
    flights: int = FULL_FLIGHTS,
) -> Guard:
    """The application for one project folder.

    Parameters
    ----------
    root : Path - the project folder; need not exist yet. [-]
    port : int - the port it is served on, which the Host header must name. [-]
    lan : bool - other machines may come in with a code. [-]
    say : callable - told each new code. [-]
    flights : int - simulated for a full answer. [-]

    Returns
    -------
    app : Guard - the application behind its guard. [-]
    """
    store, access, bench = OpenProject(root), Access(lan, say), Workers()
    static = Mount("/static", StaticFiles(directory=HOME / "static"), name="static")
    beside = [
        Route(each.path, bench.beside(each.endpoint), methods=list(each.methods or ()))
        for each in routes()
    ]
    every = [*beside, Route("/watch", watch), Route("/favicon.ico", icon), static]
    handlers = {
        ProjectErrors: bench.beside(files_page.on_faults),
        ChangedElsewhereError: bench.beside(files_page.on_changed),
        SaveRefused: bench.beside(room.on_refused),
        SavedTwice: bench.beside(room.on_twice),
        SaveUnfinished: bench.beside(room.on_unfinished),
        NoMotorChosen: bench.beside(motor_page.on_none),
        ValueError: bench.beside(room.on_value),
        KeyError: bench.beside(room.on_value),
        RecursionError: bench.beside(room.on_value),
        OSError: bench.beside(room.on_refused),
        400: bench.beside(room.on_form),
        SupersededError: room.on_end,
        404: bench.beside(not_found),
        Exception: room.on_unexpected,
    }
    app = Starlette(
        routes=every,
        middleware=[Middleware(GZipMiddleware, minimum_size=2000, compresslevel=3)],
        exception_handlers=handlers,
    )
    app.state.room = room.Room(store, Answers(store, flights), bench, access)
    return Guard(app, access, port, app.state.room.workers.stopping)
