"""The ledger sheet: rows by phase of the flight, why, and remedies kept."""

from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from goodflight.page import room
from goodflight.page.pencil import answer, head
from goodflight.page.view import address, common, page, piece, plan_of, settings_of
from goodflight.project.part_forms import keep


async def sheet(request: Request) -> Response:
    """The whole sheet: the full answer when it is there, few draws until it is."""
    state = room.of(request)
    more = await state.bench.away(lambda: head(request))
    row = next((r for r in more["ledger"].rows if r.key == more["opened"]), None)
    return page(request, state.desk, "ledger", "ledger.html", **more, row=row)


async def why(request: Request) -> Response:
    """One row opened: formula, inputs, source, draws, drivers, remedies."""
    state = room.of(request)
    plan, settings = plan_of(request, state.desk), settings_of(request)
    ledger, full = await state.bench.away(lambda: state.answers.best_known(plan, settings))
    row = next((r for r in ledger.rows if r.key == request.path_params["key"]), None)
    if row is None:
        return HTMLResponse("<p>There is no such row in this ledger.</p>", 404)
    more = await state.bench.away(lambda: answer(request, ledger, full))
    context = {**common(request, state.desk, "ledger"), **more, "row": row}
    return HTMLResponse(piece("_why.html", context))


async def keep_remedy(request: Request) -> Response:
    """Write one remedy of the ledger into the project."""
    state = room.of(request)
    form = await request.form()
    plan = plan_of(request, state.desk)
    ledger, _ = await state.bench.away(lambda: state.answers.best_known(plan, {}))
    wanted = str(form.get("remedy", ""))
    steps = (ledger.cheapest.remedy,) if ledger.cheapest else ()
    remedies = [*steps, *(r for row in ledger.rows for r in row.remedies)]
    remedy = next((each for each in remedies if each.key == wanted), None)
    if remedy is None:
        return room.refused(request, "This remedy is no longer in the ledger; look at it again.")
    change = remedy.change
    state.desk.change(remedy.title, str(form.get("hash", "")), lambda p: keep(p, change))
    return RedirectResponse(address("/ledger", plan, {}), 303)
