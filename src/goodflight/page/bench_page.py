"""The bench page: the order of assembly, what is done of it, ticked in its turn."""

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.bench import order_text as words
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.scale_page import PAPERS, sizes_of
from goodflight.page.view import address, page, plan_of
from goodflight.studies.bench.steps import assembly_order
from goodflight.studies.bench.ticking import TooEarly
from goodflight.studies.bench.ticking import tick as tick_step
from goodflight.studies.refusal import StudyRefused


async def get(request: Request) -> Response:
    """Every step in its order."""
    return await _shown(request)


async def _shown(request: Request, early: TooEarly | None = None) -> Response:
    state = room.of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)
    order, refused = None, ""
    try:
        order = await state.workers.in_thread(lambda: assembly_order(project, plan))
    except StudyRefused as refusal:
        refused = str(refusal)
    status = 422 if early or refused else 200
    return page(
        request,
        state.store,
        "bench",
        "bench.html",
        status,
        order=order,
        refused=refused,
        early=early,
        papers=PAPERS,
        sizes=sizes_of(PAPERS),
        said=words,
        care=words.care(order) if order else (),
    )


async def tick(request: Request) -> Response:
    """Tick a step, or take its tick back; one whose turn has not come is asked about."""
    store, form = room.of(request).store, await forms.read(request)
    key, done, anyway = form.get("key", ""), form.get("done") != "no", form.get("anyway") == "yes"
    try:
        store.change(
            f"{'done' if done else 'not done'}: {key}",
            form.get("hash", ""),
            lambda project: tick_step(project, key, done, anyway=anyway),
        )
    except TooEarly as early:
        return await _shown(request, early)
    return RedirectResponse(
        address("/bench", plan_of(request, store), {}) + f"#step-{key.replace(' ', '-')}", 303
    )


PAGE = Page("bench", "Bench", 26)
ROUTES = (Route("/bench", get), Route("/bench/tick", tick, methods=["POST"]))
