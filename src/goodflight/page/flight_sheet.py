"""The flight sheet: curves as bands of the ensemble, trims of the delay, landings on the field."""

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.responses import StreamingResponse as Stream

from goodflight.outputs.curves_json import bands_record
from goodflight.outputs.figures import FIGURES, dimension
from goodflight.outputs.svg_field import field_svg
from goodflight.outputs.svg_trim import trim_svg
from goodflight.page import pencil, room
from goodflight.page.view import page, plan_of, settings_of, units_of
from goodflight.page.work import Progress


async def sheet(request: Request) -> Response:
    """Events and figures of the middle flight; curves, trims and map follow in a stream."""
    state = room.of(request)
    plan, settings = plan_of(request, state.desk), settings_of(request)
    report = await state.bench.away(lambda: state.answers.nominal(plan, settings))
    figures = [
        (part, words, report.figures[name], dimension(name))
        for name, (part, words) in FIGURES.items()
        if report.figures.get(name) is not None
    ]
    above = await state.bench.away(lambda: pencil.head(request))
    return page(
        request, state.desk, "flight", "flight.html", **above, report=report, figures=figures
    )


async def flown(request: Request) -> Response:
    """Everything that takes a moment, each part as soon as it is there."""
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.desk), settings_of(request)

    def work(tell: Progress) -> dict[str, Any]:
        bands = state.answers.bands(plan, settings, tell)
        tell("flying the landings", 0.5)
        landings = state.answers.landings(plan, settings)
        tell("flying every trim", 0.6)
        trims = state.answers.trims(plan, settings, tell)
        return {
            "bands": bands_record(bands, units),
            "field": field_svg(landings, units),
            "trims": trim_svg(trims, units) if trims else "",
        }

    events = state.bench.stream(request.query_params.get("tab", ""), work, room.in_words)
    return Stream(events, media_type="text/event-stream")
