"""The flight page: curves as bands of the ensemble, one flight, landings on the field, delays."""

from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.responses import StreamingResponse as Stream
from starlette.routing import Route

from goodflight.outputs.field_map import field_words
from goodflight.outputs.field_map.svg import SHAPES, field_svg
from goodflight.outputs.figures import FIGURES, dimension
from goodflight.outputs.flight import one_flight_words
from goodflight.outputs.flight.curves import bands_record, event_records, line_record
from goodflight.outputs.flight.delay import delay_svg
from goodflight.outputs.flight.table import curves_table
from goodflight.page import room, what_if
from goodflight.page.flight_curve import shown
from goodflight.page.navigation import Page
from goodflight.page.view import common, page, piece, plan_of, settings_of, units_of
from goodflight.page.work import Reporter
from goodflight.studies.questions.bands import Bands, report_line
from goodflight.studies.questions.landings import Landings
from goodflight.studies.questions.one_flight import OneFlight, number_of


async def get(request: Request) -> Response:
    """Events and figures of the middle flight; curves, map and delays follow in a stream."""
    state = room.of(request)
    above = await state.workers.in_thread(lambda: {**what_if.head(request), **shown(request)})
    report = above["report"]
    figures = [
        (part, words, report.figures[name], dimension(name))
        for name, (part, words) in FIGURES.items()
        if report.figures.get(name) is not None
    ]
    asked = {"chosen": request.query_params.get("number", ""), "sample": state.answers.flights}
    return page(
        request, state.store, "flight", "flight.html", **{**above, **asked, "figures": figures}
    )


async def flown(request: Request) -> Response:
    """Everything that takes a moment, each part as soon as it is there."""
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)

    def work(tell: Reporter) -> dict[str, Any]:
        tell.part(_curves(request, state.answers.bands(plan, settings, tell)))
        landings = state.answers.landings(plan, settings, tell)
        tell.part({"field": _field(request, landings, _asked(request))})
        delays = state.answers.delays(plan, settings, tell)
        return {"delays": delay_svg(delays, units) if delays else piece("_no_delay.html", {})}

    events = state.workers.stream(request.query_params.get("tab", ""), work, room.in_words)
    return Stream(events, media_type="text/event-stream")


async def one_flight(request: Request) -> Response:
    """One flight of the ledger's sample: its curves, what is odd about it, where it lands."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)

    def work() -> dict[str, Any]:
        number = number_of(request.query_params.get("number", ""), state.answers.flights)
        found = state.answers.one_flight(plan, settings, number)
        landings = state.answers.known("landings", plan, settings)
        return {
            "number": number,
            "line": line_record(found.line, units_of(request)),
            "words": _words(request, found),
            "field": _field(request, landings, found) if landings else "",
        }

    try:
        return JSONResponse(await state.workers.in_thread(work))
    except (ValueError, KeyError) as error:
        return JSONResponse({"fault": room.in_words(error)})


async def stop(request: Request) -> Response:
    """Stop the work a tab waits for; what it has been given already stays."""
    stopped = room.of(request).workers.stop(request.query_params.get("tab", ""))
    return JSONResponse({"stopped": stopped})


def _curves(request: Request, bands: Bands) -> dict[str, Any]:
    """The bands, the planned flight when something is tried, and all of it as a table."""
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    heads, lines = curves_table(bands, units)
    planned = state.answers.nominal(plan, {})
    return {
        "bands": bands_record(bands, units),
        "planned": line_record(report_line(planned), units) if settings else None,
        "times": piece("_times.html", {"heads": heads, "lines": lines}),
    }


def _asked(request: Request) -> OneFlight | None:
    """The flight that the address names; None without one, or when there is no such flight."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    try:
        number = number_of(request.query_params.get("number", ""), state.answers.flights)
    except ValueError:
        return None
    return state.answers.one_flight(plan, settings, number)


def _field(request: Request, landings: Landings, chosen: OneFlight | None) -> str:
    units = units_of(request)
    maps = [field_svg(landings, units, shape, chosen) for shape in SHAPES]
    context = {"maps": maps, "landings": landings, "landing": field_words}
    return piece(
        "_field_map.html", {**common(request, room.of(request).store, "flight"), **context}
    )


def _words(request: Request, found: OneFlight) -> str:
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    middle = state.answers.nominal(plan, settings)
    context = {
        "found": found,
        "said": one_flight_words,
        "landing": field_words,
        "events": event_records(found.line.events, units),
        "middle": {e["words"]: e for e in event_records(middle.events, units)},
    }
    return piece("_one_flight.html", {**common(request, state.store, "flight"), **context})


PAGE = Page("flight", "Flight", 30, ("total", "what_if_foot"))
ROUTES = (
    Route("/flight", get),
    Route("/flown", flown),
    Route("/one-flight", one_flight),
    Route("/stop", stop, methods=["POST"]),
)
