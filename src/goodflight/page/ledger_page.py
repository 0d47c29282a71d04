"""The ledger page: rows by phase of the flight, why, and remedies kept."""

from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, common, page, piece, plan_of, settings_of
from goodflight.page.what_if import answer, head
from goodflight.project.newcomer_assumed import change_assumed, still_assumed
from goodflight.studies.questions.todo import todo
from goodflight.studies.unseen import UNSEEN, second_reader


async def get(request: Request) -> Response:
    """The whole page: the full answer when it is there, few flights until it is."""
    return await show(request)


async def show(request: Request, status: int = 200, asked: object = None) -> Response:
    """The page, perhaps with the boxes of a row as they were sent and refused."""
    state = room.of(request)
    more = await state.workers.in_thread(lambda: head(request))
    more["asked"] = asked
    row = next((r for r in more["ledger"].rows if r.key == more["opened"]), None)
    return page(
        request,
        state.store,
        "ledger",
        "ledger.html",
        status,
        **more,
        row=row,
        unseen=UNSEEN,
        second_reader=second_reader(),
        assumed=still_assumed(state.store.sound()),
        todos=todo(state.store.sound()),
    )


async def why(request: Request) -> Response:
    """One row opened: formula, inputs, source, flights, drivers, remedies."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    ledger, full = await state.workers.in_thread(lambda: state.answers.best_known(plan, settings))
    row = next((r for r in ledger.rows if r.key == request.path_params["key"]), None)
    if row is None:
        return HTMLResponse("<p>There is no such row in this ledger.</p>", 404)
    more = await state.workers.in_thread(lambda: answer(request, ledger, full))
    context = {**common(request, state.store, "ledger"), **more, "row": row}
    return HTMLResponse(piece("_why.html", context))


async def assumed(request: Request) -> Response:
    """Write a figure in the place of one that the first form assumed."""
    state, form = room.of(request), await forms.read(request)
    key, text = form.get("key", ""), form.get("text", "")
    state.store.change(
        f"assumed, now {text}"[:80], form.get("hash", ""), lambda p: change_assumed(p, key, text)
    )
    plan, settings = plan_of(request, state.store), settings_of(request)
    return RedirectResponse(address("/ledger", plan, settings) + "#assumed", 303)


PAGE = Page("ledger", "Ledger", 10, ("total", "course", "first", "rows", "side", "what_if_foot"))
ROUTES = (
    Route("/ledger", get),
    Route("/why/{key}", why),
    Route("/assumed", assumed, methods=["POST"]),
)
