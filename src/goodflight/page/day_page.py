"""Own limits and the forecast, entered on the field page before the day."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import field_page, forms, room
from goodflight.page.part_page import faulty
from goodflight.page.view import address, plan_of
from goodflight.project import Project, ProjectErrors
from goodflight.project.day_forms import change_hour, change_limits, day_fault_key, remove_hour

NUMBER: Final = "number"  # of an hour, from 0


@dataclass(frozen=True)
class Change:
    """One change of the file: what is said of it, the form it is for, the number of its hour."""

    words: str
    place: str
    act: Callable[[Project], Project]
    number: int = -1


async def limits(request: Request) -> Response:
    """Write own limits; a fault comes back at its field."""
    form = await forms.read(request)
    texts = forms.entries(form)
    change = Change("own limits entered", "own-limits", lambda p: change_limits(p, texts))
    return await _written(request, form, change)


async def hour(request: Request) -> Response:
    """Write an hour of the forecast, or a new one; a fault comes back at its field."""
    form = await forms.read(request)
    number = _number(form.pop(NUMBER, ""))
    texts = forms.entries(form)
    words = f"forecast of {texts.get('time', '')} entered"
    change = Change(words, "forecast", lambda p: change_hour(p, number, texts), number)
    return await _written(request, form, change)


async def without_hour(request: Request) -> Response:
    """Take an hour out of the forecast."""
    form = await forms.read(request)
    number = _number(form.get(NUMBER, ""))
    words = "an hour of the forecast deleted"
    return await _written(
        request, form, Change(words, "forecast", lambda p: remove_hour(p, number))
    )


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 4 else -1


async def _written(request: Request, form: Mapping[str, str], change: Change) -> Response:
    store = room.of(request).store
    try:
        store.change(change.words[:200], form.get("hash", ""), change.act)
    except ProjectErrors as errors:
        own, elsewhere = faulty(errors.faults, day_fault_key)
        refused = (change.number, forms.state_of(form, wrong=own))
        return await field_page.show(request, "field.html", {change.place: refused, "": elsewhere})
    at = address("/field", plan_of(request, store), {})
    return RedirectResponse(f"{at}#{change.place}", 303)


ROUTES = (
    Route("/field/limits", limits, methods=["POST"]),
    Route("/field/hour", hour, methods=["POST"]),
    Route("/field/hour/remove", without_hour, methods=["POST"]),
)
