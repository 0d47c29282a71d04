"""From an idea to designs, before there is a rocket: the form, the search, a design opened."""

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.responses import StreamingResponse as Stream
from starlette.routing import Route

from goodflight.outputs.size import size_words
from goodflight.page import forms, room
from goodflight.page.view import common, page, piece, units_of
from goodflight.page.work import Reporter
from goodflight.project import ProjectErrors
from goodflight.project.idea import IDEA, beside_idea, idea_text, keep_idea, load_idea, read_idea
from goodflight.project.idea_form import first_texts, groups, placed, typed, written
from goodflight.project.saving import write_first
from goodflight.studies.questions.size import opened
from goodflight.studies.sizing.results import SizeStudy


async def form(request: Request) -> Response:
    """What is at hand: as the folder's idea has it, or an invented example."""
    state = room.of(request)
    if not state.store.empty:
        return RedirectResponse("/ledger", 303)
    texts = typed(idea_text(state.store.root))
    return _form(request, texts or first_texts(), {}, known=bool(texts))


def _form(
    request: Request, texts: Mapping[str, str], wrong: Mapping[str, str], known: bool
) -> Response:
    more: dict[str, Any] = {"groups": groups(texts), "texts": texts, "wrong": wrong, "known": known}
    status = 422 if wrong else 200
    return page(request, room.of(request).store, "idea", "idea.html", status, **more)


async def keep(request: Request) -> Response:
    """Write the idea into the folder and search; every fault stands at its box."""
    texts = await forms.read(request)
    text, at = written(texts)
    try:
        read_idea({IDEA: text, **beside_idea(room.of(request).store.root)})
    except ProjectErrors as error:
        return _form(request, texts, placed(error.faults, at, texts), known=True)
    if "more" in texts:  # a further row was asked for
        return _form(request, texts, {}, known=True)
    keep_idea(room.of(request).store.root, text)
    return RedirectResponse("/designs", 303)


async def designs(request: Request) -> Response:
    """The designs, as the search that follows in a stream finds them."""
    state = room.of(request)
    if not state.store.empty:
        return RedirectResponse("/ledger", 303)
    try:
        idea = load_idea(state.store.root)
    except ProjectErrors:
        return RedirectResponse("/idea", 303)
    return page(request, state.store, "designs", "designs.html", rocket=idea.said.name)


async def searched(request: Request) -> Response:
    """The search: how far it is, then the designs."""
    state = room.of(request)

    def work(tell: Reporter) -> dict[str, Any]:
        study = state.answers.designs(load_idea(state.store.root), tell)
        return {"designs": piece("_designs.html", _shown(request, study))}

    events = state.workers.stream(request.query_params.get("tab", ""), work, room.in_words)
    return Stream(events, media_type="text/event-stream")


def _shown(request: Request, study: SizeStudy) -> dict[str, Any]:
    own = {"study": study, "sized": size_words, "units": units_of(request)}
    return {**common(request, room.of(request).store, "designs"), **own}


async def open_design(request: Request) -> Response:
    """Write the files of one design into the folder: it is a project from then on."""
    state, sent = room.of(request), await forms.read(request)
    if not state.store.empty:
        return RedirectResponse("/ledger", 303)
    idea = load_idea(state.store.root)
    study = await state.workers.in_thread(lambda: state.answers.designs(idea))
    number = sent.get("number", "")
    design = next((each for each in study.designs if str(each.number) == number), None)
    if design is None:
        raise ValueError(f"there is no design {number[:20]!r}; take one of the list")
    write_first(state.store.root, opened(idea, design.choice))
    return RedirectResponse("/ledger", 303)


ROUTES = (
    Route("/idea", form),
    Route("/idea", keep, methods=["POST"]),
    Route("/designs", designs),
    Route("/designs-searched", searched),
    Route("/designs", open_design, methods=["POST"]),
)
