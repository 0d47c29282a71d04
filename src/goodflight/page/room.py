"""What all pages reach through the request, and what they answer when something is wrong."""

from dataclasses import dataclass, field

from starlette.requests import Request
from starlette.responses import Response

from goodflight.page.answers import Answers
from goodflight.page.guard import Access
from goodflight.page.held import Held
from goodflight.page.open_project import OpenProject
from goodflight.page.view import page
from goodflight.page.work import Workers
from goodflight.project import ProjectErrors, SaveRefused


@dataclass(frozen=True)
class Room:
    """The store, the workers, the access of one server, and the files it holds for a moment."""

    store: OpenProject
    answers: Answers
    workers: Workers
    access: Access
    held: Held = field(default_factory=Held)


def of(request: Request) -> Room:
    """The room a request is served in."""
    found = request.app.state.room
    assert isinstance(found, Room)
    return found


def in_words(error: Exception) -> str:
    """An error as a sentence for the reader; a fault of the program says so."""
    if isinstance(error, ProjectErrors):
        if not error.faults:
            return "There is no project in this folder any more."
        return f"{len(error.faults)} faults in the project; load the page again to see them."
    if isinstance(error, UnicodeError):
        return "This holds characters that are no text in UTF-8."
    if isinstance(error, RecursionError):
        return "Too many brackets stand inside each other; take some out."
    if isinstance(error, OSError):
        return f"The disk refused: {error.strerror or error}. Look at the folder, then try again."
    if isinstance(error, ValueError | KeyError | SaveRefused):
        return str(error.args[0]) if error.args else str(error)
    return f"An unexpected error ({type(error).__name__}: {error}). Nothing was written."


def refused(
    request: Request, words: str, status: int = 409, title: str = "Nothing was written"
) -> Response:
    """A change that was not made, and why; who has not shown a code sees nothing of the project."""
    if not of(request).access.known(request):
        return Response(words + "\n", status, media_type="text/plain")
    return page(request, of(request).store, "", "refused.html", status, words=words, title=title)


async def on_refused(request: Request, error: Exception) -> Response:
    """Nothing was written: say why, on a whole page."""
    return refused(request, in_words(error))


async def on_twice(request: Request, error: Exception) -> Response:
    """It was written, and so was what another program saved: say where that is kept."""
    words = f"{in_words(error)} Earlier versions stand below the parts list."
    return refused(request, words, title="Written, and saved elsewhere, too")


async def on_unfinished(request: Request, error: Exception) -> Response:
    """The disk failed in the middle of a save: say what becomes of it."""
    return refused(request, in_words(error), title="The save was cut off")


async def on_value(request: Request, error: Exception) -> Response:
    """Something in the address or the project cannot be used."""
    return refused(request, in_words(error), 422)


async def on_form(request: Request, error: Exception) -> Response:
    """A form that cannot be taken apart."""
    why = str(getattr(error, "detail", error))
    return refused(request, f"This form could not be read. {why}", 400)


async def on_end(_request: Request, _error: Exception) -> Response:
    """The server stops."""
    return Response("The server has stopped.\n", 503, media_type="text/plain")


async def on_unexpected(_request: Request, error: Exception) -> Response:
    """A fault of the program; its trace goes to the terminal that serves the page."""
    words = f"An unexpected error ({type(error).__name__}: {error}). Nothing was written; the "
    words += "trace stands in the terminal that serves this page.\n"
    return Response(words, 500, media_type="text/plain")
