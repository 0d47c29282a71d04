"""The field page: go, change, wait or walk away; what is measured stands in the address."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.field import day_words
from goodflight.outputs.field_map import field_words
from goodflight.outputs.field_map.allowed_words import AllowedWords, allowed_words
from goodflight.outputs.field_map.svg import SHAPES, field_svg
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import page, plan_of, units_of
from goodflight.project import Project, ProjectErrors
from goodflight.project.codes import CONFIRM_WORDS
from goodflight.project.day_forms import (
    hour_entries,
    hour_label,
    hours_written,
    limit_entries,
    limit_label,
    limits_written,
)
from goodflight.project.day_typed import entries, typed_now
from goodflight.project.parts import KINDS, kind_of
from goodflight.quantity import Refused
from goodflight.studies.field.asking import asked_of
from goodflight.studies.field.checks import AGREE
from goodflight.studies.field.day import DayBoard, allowed_on, day_of, ground_of
from goodflight.studies.questions.landings import Landings
from goodflight.studies.rows import LIMIT_STATES

MEASURED: Final = ("wind", "gust", "at", "wind_from", "cloud_base", "cloud_cover", "temperature",
                   "pressure", "queue")  # fmt: skip
CHOSEN: Final = ("motor", "delay_out", "canopy", "rail", "tilt", "lean")
ROWS: Final = frozenset(limit.key for limit in LIMIT_STATES)
LINES: Final = "seen"  # a line each
BOXES: Final = {  # check -> the entry that answers it, where their names differ
    "own_wind": "wind", "own_gust": "gust", "own_cloud_base": "cloud_base",
    "own_cold": "temperature", "own_warm": "temperature", "own_wait": "queue",
}  # fmt: skip


async def get(request: Request) -> Response:
    """The answer for what the address says is measured, and the form for more."""
    return await show(request, "field.html")


async def answer(request: Request) -> Response:
    """The answer alone, while the form is typed into."""
    return await show(request, "_day.html")


async def show(
    request: Request, template: str, sent: Mapping[str, Any] = MappingProxyType({})
) -> Response:
    """The page, or its answer alone; perhaps with a form before the day as it was refused."""
    state = room.of(request)
    typed = _typed(request)
    found = await state.workers.in_thread(lambda: _answered(request, typed))
    whole = template == "field.html"
    allowed = await state.workers.in_thread(lambda: _allowed(request, typed)) if whole else None
    project, plan = state.store.sound(), plan_of(request, state.store)
    more = {
        "allowed": allowed,
        **found,
        "typed": {key: _text(value) for key, value in typed.items()},
        "said": day_words,
        "landing": field_words,
        "entries": entries(),
        "boxes": BOXES,
        "rows": ROWS,
        "agree": AGREE,
        "measured": MEASURED,
        "chosen": CHOSEN,
        "hours": [hour.time for hour in project.day.hour],
        "confirm": _open(project, plan),
        "ticked": typed.get("confirmed", ()),
        "offered": _offered(project),
        **(_prepared(project, sent) if whole else {}),
    }
    status = 422 if found["wrong"] or sent else 200
    return page(request, state.store, "field", template, status, **more)


async def allowed_apogees(request: Request) -> Response:
    """The highest apogee in each wind alone, while the form is typed into."""
    state, typed = room.of(request), _typed(request)
    found = await state.workers.in_thread(lambda: _allowed(request, typed))
    return page(request, state.store, "field", "_allowed_now.html", allowed=found)


def _allowed(request: Request, typed: dict[str, str | tuple[str, ...]]) -> AllowedWords | None:
    """The highest apogee in each wind, as typed; None where nothing can be flown."""
    state, plan = room.of(request), plan_of(request, room.of(request).store)
    key = {name: _text(value) for name, value in typed.items() if value}
    try:
        asked = asked_of(typed_now(typed))
        project = state.store.sound()
        files, case = state.store.case_now(plan)
        found = state.answers.of_project(
            files, "allowed", plan, lambda: allowed_on(project, case, asked), **key
        )
    except (ProjectErrors, Refused):  # the answer beside it says what is wrong
        return None
    return allowed_words(found, units_of(request), typed=bool(key))


def _prepared(project: Project, sent: Mapping[str, Any]) -> dict[str, Any]:
    """The forms of what is entered before the day: own limits, each hour of the forecast."""
    hours = [forms.state_of(texts) for texts in hours_written(project)]
    hours.append(forms.state_of({}))
    limits = forms.state_of(limits_written(project))
    number, refused = sent.get("forecast", (-1, None))
    if refused is not None and 0 <= number < len(hours):
        hours[number] = refused
    return {
        "limits_form": sent.get("own-limits", (-1, limits))[1],
        "hour_forms": hours,
        "limit_entries": limit_entries(),
        "hour_entries": hour_entries(),
        "limit_label": limit_label,
        "hour_label": hour_label,
        "elsewhere": sent.get("", ()),
    }


def _typed(request: Request) -> dict[str, str | tuple[str, ...]]:
    """What the address holds, by entry."""
    query, found = request.query_params, dict[str, str | tuple[str, ...]]()
    for key, (_, several) in entries().items():
        if key == LINES:
            found[key] = tuple(line for line in query.get(key, "").splitlines() if line.strip())
        elif several:
            found[key] = tuple(query.getlist(key))
        else:
            found[key] = query.get(key, "").strip()
    return found


def _text(value: str | tuple[str, ...]) -> str:
    return value if isinstance(value, str) else "\n".join(value)


def _answered(request: Request, typed: dict[str, str | tuple[str, ...]]) -> dict[str, Any]:
    """The board and its map, or what is wrong with what was typed."""
    state, plan = room.of(request), plan_of(request, room.of(request).store)
    project, units = state.store.sound(), units_of(request)
    nothing: dict[str, Any] = {
        "board": None,
        "landings": None,
        "maps": [],
        "wrong": {},
        "fault": "",
    }
    try:
        asked = asked_of(typed_now(typed))
        files, case = state.store.case_now(plan)

        def ask() -> tuple[DayBoard, Landings]:
            board = day_of(project, case, asked)
            choice = board.now.planned if board.now.changed is None else board.now.changed
            return board, ground_of(project, case, asked, choice)

        key = {name: _text(value) for name, value in typed.items() if value}
        board, landings = state.answers.of_project(files, "day", plan, ask, **key)
    except ProjectErrors as errors:
        wrong = {fault.key.partition("[")[0]: fault.in_form for fault in errors.faults}
        return {**nothing, "wrong": wrong}
    except Refused as refusal:
        return {**nothing, "wrong": {"": str(refusal)}, "fault": str(refusal)}
    maps = [field_svg(landings, units, shape) for shape in SHAPES]
    return {**nothing, "board": board, "landings": landings, "maps": maps}


def _open(project: Project, plan: str | None) -> dict[str, str]:
    """Rules that the plan has not answered, by key."""
    says = project.plan(plan).says
    return {
        key: words
        for key, words in CONFIRM_WORDS.items()
        if key not in says.confirmed and key not in says.denied
    }


def _offered(project: Project) -> dict[str, list[str]]:
    """What an entry may be, where the project knows."""
    canopies = [part.name for part in project.parts if kind_of(part) is KINDS["canopy"]]
    rails = sorted({rail.text for site, _ in project.site_files.values() for rail in site.rails})
    return {"motor": sorted(project.motor_files), "canopy": canopies, "rail": rails}


PAGE = Page("field", "Field", 40)
ROUTES = (
    Route("/field", get),
    Route("/field-answer", answer),
    Route("/field-allowed", allowed_apogees),
)
