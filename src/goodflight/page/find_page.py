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
from goodflight.quantity import Refused
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.finding.asked import GROUND, Asked
from goodflight.studies.finding.sightings import EVENTS, NotSeenError
from goodflight.studies.questions.find import FindStudy, find_asked

BUTTONS: Final = {
    "apogee": "highest point", "ejection": "charge", "canopy": "canopy open",
    "last_seen": "lost sight", "landing": "landed",
}  # fmt: skip
SIGHTS: Final = (1, 2, 3)  # observers with a bearing each
OTHER: Final = ("declination", "wind", "wind_from", "cover", "people", "pad", "at", "zone")


def asked_of(texts: Mapping[str, str]) -> Asked:
    """What the form says."""
    seen = {event: _timed(texts.get(event, "")) for event in EVENTS if texts.get(event, "").strip()}
    people = texts.get("people", "").strip() or "1"
    return Asked(
        seen, tuple(filter(None, (_sight(texts, n) for n in SIGHTS))),
        texts.get("declination", ""), texts.get("nothing_opened") == "yes",
        texts.get("wind", ""), texts.get("wind_from", ""), texts.get("cover") or "short",
        int(people) if people.isdecimal() and len(people) < 3 else 0,
        texts.get("pad", ""), texts.get("at", ""), texts.get("zone", ""),
    )  # fmt: skip


def _timed(text: str) -> str:
    """A bare number is seconds, as the clock writes it."""
    bare = text.strip().replace(".", "", 1)
    return f"{text.strip()} s" if bare.isdecimal() else text


def _sight(texts: Mapping[str, str], number: int) -> str:
    """One observer's row as the text that is read."""
    bearing = texts.get(f"bearing{number}", "").strip()
    if not bearing:
        return ""
    who, place = (texts.get(f"{key}{number}", "").strip() for key in ("who", "place"))
    kind = texts.get(f"kind{number}", "compass")
    when = "last seen " if texts.get(f"when{number}") == "last" else ""
    angle = f"{bearing} deg" if bearing.replace(".", "", 1).isdecimal() else bearing
    what = f"over {bearing}" if kind == "over" else f"{angle} {kind}"
    return f"{when}{who or 'pad'}{f' ({place})' if place else ''}: {what}"


async def get(request: Request) -> Response:
    """The form, and where to look once anything is entered."""
    study, faults = await _study(request)
    texts = dict(request.query_params)
    units = units_of(request)
    maps = [Markup(find_svg(study, units, shape)) for shape in ("wide", "narrow")] if study else []
    more: dict[str, Any] = {"study": study, "faults": faults, "texts": texts, "maps": maps}
    return page(
        request, room.of(request).store, "find", "find.html", 422 if faults else 200, **more,
        said=find_words, buttons=BUTTONS, events=EVENTS, sights=SIGHTS, covers=GROUND,
        query=request.url.query, entered=any(texts.get(each, "").strip() for each in EVENTS),
    )  # fmt: skip


async def _study(request: Request) -> tuple[FindStudy | None, tuple[Mapping[str, object], ...]]:
    """The answer, or what cannot be read; neither before anything is entered."""
    texts = {key: text for key, text in request.query_params.items() if key != "plan"}
    if "look" not in texts:
        return None, ()
    state = room.of(request)
    project, plan, asked = state.store.sound(), plan_of(request, state.store), asked_of(texts)
    try:
        study = await state.workers.in_thread(
            lambda: state.answers.of_project(
                inputs_hash(project), "find", plan, lambda: find_asked(project, plan, asked),
                **texts,
            )
        )  # fmt: skip
    except NotSeenError as error:
        return None, error.records
    return study, ()


async def lanes(request: Request) -> Response:
    """The lanes as a route file."""
    study, faults = await _study(request)
    if study is None or study.pad_lonlat is None:
        words = find_words.NO_GPX if not faults else "Correct what is entered first."
        return room.refused(request, words, 422, "No route file")
    head = {"content-disposition": 'attachment; filename="lanes.gpx"'}
    return Response(find_gpx(study), media_type="application/gpx+xml", headers=head)


async def sheet(request: Request) -> Response:
    """The strip map on one sheet."""
    try:
        study, _ = await _study(request)
    except Refused as refusal:
        return room.refused(request, str(refusal), 422, "Not printed")
    if study is None:
        return room.refused(request, "Enter what was seen first.", 422, "Not printed")
    content = await room.of(request).workers.in_thread(lambda: find_pdf(study, units_of(request)))
    head = {"content-disposition": 'inline; filename="search.pdf"'}
    return Response(content, media_type="application/pdf", headers=head)


ROUTES = (
    Route("/find", get),
    Route("/find/lanes.gpx", lanes),
    Route("/find/sheet.pdf", sheet),
)
