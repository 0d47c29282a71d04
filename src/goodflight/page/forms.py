"""What the pages do with forms: read them, and go back to where they were sent from."""

from collections.abc import Callable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from goodflight.page import room
from goodflight.page.navigation import pages
from goodflight.page.view import address, plan_of, settings_of
from goodflight.quantity import QuantityError

HIDDEN = ("hash", "after", "kind", "act")


async def read(request: Request) -> dict[str, str]:
    """The texts of a form; files that came with it are left out."""
    form = await request.form()
    return {key: plain(value) for key, value in form.items() if isinstance(value, str)}


async def every(request: Request) -> dict[str, list[str]]:
    """All texts of a form by name, empty ones left out; of a file that came with it, its text."""
    found: dict[str, list[str]] = {}
    for key, value in (await request.form()).multi_items():
        text = value if isinstance(value, str) else (await value.read()).decode("utf-8", "replace")
        if text.strip():
            found.setdefault(key, []).append(plain(text).strip())
    return found


async def first(request: Request) -> dict[str, str]:
    """The first text of each name: what was typed before a file."""
    return {key: texts[0] for key, texts in (await every(request)).items()}


def plain(text: str) -> str:
    """A text without surrogates, which no file can hold."""
    return text.encode("utf-8", "replace").decode("utf-8")


def entries(form: Mapping[str, str]) -> dict[str, str]:
    """The entries a form writes: everything that is not the form's own."""
    return {key: text for key, text in form.items() if key not in HIDDEN}


def refused(
    checks: Mapping[str, Callable[[str], object]], texts: Mapping[str, str]
) -> dict[str, str]:
    """What is wrong with single answers, by question."""
    wrong = {}
    for key, check in checks.items():
        try:
            check(texts.get(key, ""))
        except QuantityError as error:
            wrong[key] = str(error)
    return wrong


def state_of(texts: Mapping[str, str], **more: Any) -> dict[str, Any]:
    """A form as its template wants it: texts, faults by entry, what two hands changed."""
    fresh: dict[str, Any] = {"wrong": {}, "clashes": {}, "theirs": (), "notice": None}
    return {"texts": texts, **fresh, **more}


def back(request: Request, **more: str) -> Response:
    """To the drawing, with what is being tried."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    return RedirectResponse(address("/drawing", plan, settings, **more), 303)


def page_of(form: Mapping[str, str]) -> str:
    """The page a form was sent from; the ledger when it does not say."""
    page = form.get("page", "")
    return page if page in {each.key for each in pages()} else "ledger"


def inside(here: str) -> str:
    """Where to go back to: a path on this server, nothing else."""
    return here if here.startswith("/") and not here.startswith(("//", "/\\")) else "/"
