"""Before there is a project: the demo, or the questions that make a first one; and the choices."""

from collections.abc import Sequence
from functools import partial
from typing import Any

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.asked.start import asked_svg
from goodflight.page import forms, room
from goodflight.page.guard import COOKIE
from goodflight.page.view import MODES, UNITS, page
from goodflight.project.demo import write_demo
from goodflight.project.idea_texts import motors_at_hand
from goodflight.project.motor_told import TOLD, check_told, stems_of
from goodflight.project.newcomer import (
    GROUPS,
    QUESTIONS,
    WEIGHED,
    Question,
    check_answer,
    defaults_of,
    drawn_answers,
    project_files,
)
from goodflight.project.newcomer_assumed import ASSUMED
from goodflight.project.newcomer_fit import AnswersError
from goodflight.project.newcomer_known import KNOWN, check_known
from goodflight.project.saving import write_first

A_YEAR = 365 * 24 * 3600
FINISHED = "finished"


async def home(request: Request) -> Response:
    """To the ledger, or to the start when there is no project yet."""
    return RedirectResponse("/start" if room.of(request).store.empty else "/ledger", 303)


async def start(request: Request) -> Response:
    """The ways to begin: an idea, a rocket being built, one that is finished, the demo."""
    state = room.of(request)
    if not state.store.empty:
        return RedirectResponse("/ledger", 303)
    return show(request, {}, {}, request.query_params.get("rocket") == FINISHED)


def show(
    request: Request, texts: dict[str, str], wrong: dict[str, str], finished: bool
) -> Response:
    """The questions, with what was answered and what is wrong with it."""
    numbers = {each.id: number for number, each in enumerate(QUESTIONS, 1)}
    figures = drawn_answers(texts)

    def drawing(key: str, asked: Sequence[Question]) -> Markup:
        own = {each.id: numbers[each.id] for each in asked if each.dimension != "text"}
        return Markup(asked_svg(key, figures, own))

    more: dict[str, Any] = {
        "at_hand": stems_of(_at_hand(request)),
        "motor_asked": TOLD,
        "known": KNOWN,
        "assumed": ASSUMED,
        "groups": [(words, drawing(key, asked), asked) for key, words, asked in GROUPS],
        "numbers": numbers,
        "texts": texts,
        "wrong": wrong,
        "finished": finished,
        "weighed": WEIGHED,
    }
    status = 422 if wrong else 200
    return page(request, room.of(request).store, "start", "start.html", status, **more)


async def offered(request: Request) -> Response:
    """What the questions offer beside the answers typed so far, by question."""
    return JSONResponse(defaults_of(dict(request.query_params)))


def _at_hand(request: Request) -> dict[str, str]:
    """Texts of the motors of the folder and of its idea, by path."""
    return motors_at_hand(room.of(request).store.root)


async def make(request: Request) -> Response:
    """Make a project from the answers; every fault stands at its question."""
    state = room.of(request)
    texts = await forms.first(request)
    finished = texts.get("rocket") == FINISHED
    checks = {each.id: partial(check_answer, each, finished=finished) for each in QUESTIONS}
    checks |= {each.id: partial(check_known, each) for each in (*KNOWN, *ASSUMED)}
    checks |= {each.id: partial(check_told, each) for each in TOLD}
    wrong = forms.refused(checks, texts)
    if wrong:
        return show(request, texts, wrong, finished)
    try:
        files = project_files(texts, finished, _at_hand(request))
    except AnswersError as error:
        return show(request, texts, error.faults, finished)
    write_first(state.store.root, files)
    return RedirectResponse("/ledger", 303)


async def make_demo(request: Request) -> Response:
    """Write the demo project into the folder."""
    write_demo(room.of(request).store.root)
    return RedirectResponse("/ledger", 303)


async def choose(request: Request) -> Response:
    """Keep the reader's units and light in a cookie of this browser."""
    form = await request.form()
    here = str(form.get("here", "/"))
    inside = here.startswith("/") and not here.startswith(("//", "/\\"))
    answer = RedirectResponse(here if inside else "/", 303)
    for key, allowed in (("units", UNITS), ("mode", tuple(MODES))):
        if form.get(key) in allowed:
            answer.set_cookie(
                f"goodflight-{key}", str(form[key]), A_YEAR, samesite="strict", httponly=True
            )
    return answer


async def code(request: Request) -> Response:
    """The access for other machines: asks for the code, and takes each code once."""
    state = room.of(request)
    if request.method == "GET":
        return page(request, state.store, "code", "code.html", wrong=False, shut=state.access.shut)
    key = state.access.enter(str((await request.form()).get("code", "")))
    if key is None:
        return page(
            request, state.store, "code", "code.html", 403, wrong=True, shut=state.access.shut
        )
    answer = RedirectResponse("/", 303)
    answer.set_cookie(COOKIE, key, samesite="strict", httponly=True)
    return answer


ROUTES = (
    Route("/", home),
    Route("/start", start),
    Route("/start/offered", offered),
    Route("/start", make, methods=["POST"]),
    Route("/demo", make_demo, methods=["POST"]),
    Route("/choices", choose, methods=["POST"]),
    Route("/code", code, methods=["GET", "POST"]),
)
