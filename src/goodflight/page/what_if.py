"""What if: what is tried on every page, answered at once with few flights, then with all."""

from datetime import date
from itertools import groupby
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.responses import StreamingResponse as Stream
from starlette.routing import Route

from goodflight.outputs.drawing.alone import side_svg
from goodflight.outputs.drawing.svg import drawing_svg
from goodflight.outputs.flight.curves import height_record
from goodflight.outputs.ledger.text import in_flight_order, severity
from goodflight.page import flight_curve, room
from goodflight.page.navigation import parts_of
from goodflight.page.view import common, piece, plan_of, settings_of, units_of
from goodflight.page.work import Progress
from goodflight.studies.questions.quick import FEW_FLIGHTS, QUICK_FLIGHTS
from goodflight.studies.results import Ledger, Row


def rows_of(ledger: Ledger, order: str) -> list[tuple[str, list[Row]]]:
    """The rows in groups: by phase of the flight, or all in one, worst first."""
    if order == "worst":
        return [("", sorted(ledger.rows, key=severity))]
    return [(k, list(rows)) for k, rows in groupby(in_flight_order(ledger), lambda r: r.phase)]


def head(request: Request) -> dict[str, Any]:
    """The total of the title block, the fullest that is there at once."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    drawn = state.store.hash  # of before the work: what changes meanwhile is noticed afterwards
    ledger, full = state.answers.best_known(plan, settings)
    return {**answer(request, ledger, full), "hash": drawn}


def answer(request: Request, ledger: Ledger, full: bool) -> dict[str, Any]:
    """What the templates of ledger and what-if need."""
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    before = state.answers.before(plan, settings, ledger)
    layout = state.answers.layout(plan, settings)
    trial = state.answers.tried(plan, settings)
    order = request.query_params.get("order", "flight")
    return {
        "ledger": ledger,
        "full": full,
        "groups": rows_of(ledger, order),
        "order": order,
        "before": before,
        "old": {row.key: row for row in before.rows} if before else {},
        "titles": {row.key: row.title for row in ledger.rows},
        "trial": trial,
        "layout": layout,
        "planned": state.answers.layout(plan, {}) if trial.changed else None,
        "side": side_svg(layout, units),
        "settings_for": lambda remedy: {**settings, **dict(remedy.settings)},
        "settings_of_way": lambda way: {**settings, **dict(way.settings)},
        "asked": None,
        "opened": request.query_params.get("why", ""),
        "shut": () if full else tuple(request.query_params.get("shut", "").split()),
    }


def fragments(request: Request, ledger: Ledger, full: bool) -> dict[str, str]:
    """The parts of a page that a what-if moves, as HTML by id."""
    state, units = room.of(request), units_of(request)
    page = request.query_params.get("on", "ledger")
    context = {**common(request, state.store, page), **answer(request, ledger, full)}
    names = parts_of(page)
    if "prints" in names:
        day = date.today().isoformat()
        context["wide"] = drawing_svg(context["layout"], units, "wide", day)
        context["narrow"] = drawing_svg(context["layout"], units, "narrow", day)
    if "controls" in request.query_params:
        names = (*names, "controls")
    return {name: piece(f"_{name}.html", context) for name in names}


def curve(request: Request) -> dict[str, Any]:
    """The height curve of what is tried, and as planned; the flight page follows all curves."""
    if request.query_params.get("on") == "flight":
        return flight_curve.followed(request)
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    return {
        "now": height_record(state.answers.nominal(plan, settings), units),
        "planned": height_record(state.answers.nominal(plan, {}), units) if settings else None,
    }


async def height(request: Request) -> Response:
    """The height curve alone."""
    return JSONResponse(await room.of(request).workers.in_thread(lambda: curve(request)))


async def moved(request: Request) -> Response:
    """What a control that moves gets back at once: few flights, fewer still while it is dragged."""
    state = room.of(request)
    flights = FEW_FLIGHTS if "few" in request.query_params else QUICK_FLIGHTS
    plan, settings = plan_of(request, state.store), settings_of(request)
    state.workers.take(request.query_params.get("tab", ""))

    def work() -> dict[str, Any]:
        ledger = state.answers.quick(plan, settings, flights)
        return {"parts": fragments(request, ledger, False), "curve": curve(request)}

    try:
        return JSONResponse(await state.workers.in_thread(work))
    except (ValueError, KeyError) as error:
        return JSONResponse({"fault": room.in_words(error)})


async def settled(request: Request) -> Response:
    """What a control at rest gets back: all flights, with progress, as server-sent events."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)

    def work(tell: Progress) -> dict[str, Any]:
        state.answers.full(plan, {}, tell)
        ledger = state.answers.full(plan, settings, tell)
        state.answers.quick(plan, {}, FEW_FLIGHTS)  # so that a drag finds what it compares with
        return {"parts": fragments(request, ledger, True), "curve": curve(request)}

    events = state.workers.stream(request.query_params.get("tab", ""), work, room.in_words)
    return Stream(events, media_type="text/event-stream")


ROUTES = (
    Route("/moved", moved),
    Route("/height", height),
    Route("/settled", settled),
)
