"""The search: what was seen, typed or tapped by the clock, and where to look."""

from collections.abc import Mapping
from typing import Any, Final

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.find import find_words
from goodflight.outputs.find.gpx import find_gpx
from goodflight.outputs.find.map_svg import find_svg
from goodflight.outputs.find.sheet import find_pdf
from goodflight.page import room
from goodflight.page.view import page, plan_of, units_of
from goodflight.quantity.refusal import Record
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.finding.asked import GROUND, Asked
from goodflight.studies.finding.sightings import EVENTS, NotSeenError
from goodflight.studies.questions.find import FindStudy, find_asked

BUTTONS: Final = {
    "apogee": "highest point", "ejection": "charge", "canopy": "canopy open",
    "last_seen": "lost sight", "landing": "landed",
}  # fmt: skip
SIGHTS: Final = (1, 2, 3)  # observers with a bearing each


def asked_of(texts: Mapping[str, str]) -> Asked:
    """What the form says."""
    seen = {event: _with_unit(texts.get(event, ""), "s") for event in EVENTS}
    people = texts.get("people", "").strip() or "1"
    return Asked(
        seen=seen,
        bearings=tuple(filter(None, (_sight(texts, n) for n in SIGHTS))),
        declination=texts.get("declination", ""),
        nothing_opened=texts.get("nothing_opened") == "yes",
        wind=texts.get("wind", ""),
        wind_from=texts.get("wind_from", ""),
        cover=texts.get("cover") or "short",
        people=int(people) if people.isdecimal() and len(people) < 3 else 0,
        pad=texts.get("pad", ""),
        at=texts.get("at", ""),
        zone=texts.get("zone", ""),
    )


def _with_unit(text: str, unit: str) -> str:
    """A bare number has the unit that stands beside its box."""
    text = text.strip()
    return f"{text} {unit}" if text.replace(".", "", 1).isdecimal() else text


def _sight(texts: Mapping[str, str], number: int) -> str:
    """One observer's row as the text that is read."""
    bearing = texts.get(f"bearing{number}", "").strip()
    if not bearing:
        return ""
    who, place = (texts.get(f"{key}{number}", "").strip() for key in ("who", "place"))
    kind = texts.get(f"kind{number}", "compass")
    when = "last seen " if texts.get(f"when{number}") == "last" else ""
    what = f"over {bearing}" if kind == "over" else f"{_with_unit(bearing, 'deg')} {kind}"
    return f"{when}{who or 'pad'}{f' ({place})' if place else ''}: {what}"


async def get(request: Request) -> Response:
    """The form, and where to look once anything is entered."""
    study, faults = await _study(request)
    texts = dict(request.query_params)
    units = units_of(request)
    maps = [Markup(find_svg(study, units, shape)) for shape in ("wide", "narrow")] if study else []
    more: dict[str, Any] = {"study": study, "faults": faults, "texts": texts, "maps": maps}
    return page(
        request,
        room.of(request).store,
        "find",
        "find.html",
        422 if faults else 200,
        **more,
        said=find_words,
        buttons=BUTTONS,
        events=EVENTS,
        sights=SIGHTS,
        covers=GROUND,
        query=request.url.query,
    )


async def _study(request: Request) -> tuple[FindStudy | None, tuple[Record, ...]]:
    """The answer, or what cannot be read; neither before anything is entered."""
    texts = {key: text for key, text in request.query_params.items() if key != "plan"}
    if "look" not in texts:
        return None, ()
    state = room.of(request)
    project, plan, asked = state.store.sound(), plan_of(request, state.store), asked_of(texts)
    try:
        study = await state.workers.in_thread(
            lambda: state.answers.of_project(
                inputs_hash(project),
                "find",
                plan,
                lambda: find_asked(project, plan, asked),
                **texts,
            )
        )
    except NotSeenError as error:
        return None, error.records
    return study, ()


def _first(faults: tuple[Record, ...]) -> str:
    """What to do before there is anything to take along."""
    return "Correct what is entered first." if faults else "Enter what was seen first."


async def lanes(request: Request) -> Response:
    """The lanes as a route file."""
    study, faults = await _study(request)
    if study is None:
        return room.refused(request, _first(faults), 422, "No route file")
    if study.pad_lonlat is None:
        return room.refused(request, find_words.NO_GPX, 422, "No route file")
    head = {"content-disposition": 'attachment; filename="lanes.gpx"'}
    return Response(find_gpx(study), media_type="application/gpx+xml", headers=head)


async def sheet(request: Request) -> Response:
    """The strip map on one sheet."""
    study, faults = await _study(request)
    if study is None:
        return room.refused(request, _first(faults), 422, "Not printed")
    content = await room.of(request).workers.in_thread(lambda: find_pdf(study, units_of(request)))
    head = {"content-disposition": 'inline; filename="search.pdf"'}
    return Response(content, media_type="application/pdf", headers=head)


ROUTES = (
    Route("/find", get),
    Route("/find/lanes.gpx", lanes),
    Route("/find/sheet.pdf", sheet),
)
