"""The middle flight as the flight page follows it: its curves, its events, its figures."""

from typing import Any

from starlette.requests import Request

from goodflight.outputs.flight.curves import event_records, line_record
from goodflight.page import room
from goodflight.page.view import common, piece, plan_of, settings_of, units_of
from goodflight.studies.questions.bands import report_line


def followed(request: Request) -> dict[str, Any]:
    """What the page shows of the middle flight of what is tried, at once."""
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    report = state.answers.nominal(plan, settings)
    context = {**common(request, state.store, "flight"), **shown(request)}
    return {
        "flight": line_record(report_line(report), units),
        "parts": {name: piece(f"_{name}.html", context) for name in ("middle", "events")},
    }


def shown(request: Request) -> dict[str, Any]:
    """The middle flight for the page's templates, beside the planned one when they differ."""
    state, units = room.of(request), units_of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    report, planned = (state.answers.nominal(plan, each) for each in (settings, {}))
    return {
        "report": report,
        "as_planned": planned,
        "events": event_records(report.events, units),
        "events_planned": {e["words"]: e for e in event_records(planned.events, units)},
    }
