"""Own limits and the forecast, entered on the field page before the day."""

from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import field_page, forms, room
from goodflight.page.part_page import faulty
from goodflight.page.view import address, plan_of
from goodflight.project import Project, ProjectErrors
from goodflight.project.day_forms import change_hour, change_limits, day_fault_key, remove_hour

NUMBER = "number"


async def limits(request: Request) -> Response:
    """Write own limits; a fault comes back at its field."""
    form = await forms.read(request)
    texts = forms.entries(form)
    return await _change(
        request, "own limits entered", form, lambda p: change_limits(p, texts), "own-limits"
    )


async def hour(request: Request) -> Response:
    """Write an hour of the forecast, or a new one; a fault comes back at its field."""
    form = await forms.read(request)
    number = _number(form.pop(NUMBER, ""))
    texts = forms.entries(form)
    words = f"forecast of {texts.get('time', '')} entered"
    return await _change(
        request, words, form, lambda p: change_hour(p, number, texts), "forecast", number
    )


async def without_hour(request: Request) -> Response:
    """Take an hour out of the forecast."""
    form = await forms.read(request)
    number = _number(form.pop(NUMBER, ""))
    words = "an hour of the forecast deleted"
    return await _change(request, words, form, lambda p: remove_hour(p, number), "forecast", number)


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 4 else -1


async def _change(
    request: Request,
    words: str,
    form: dict[str, str],
    act: Callable[[Project], Project],
    place: str,
    number: int = -1,
) -> Response:
    store = room.of(request).store
    try:
        store.change(words[:200], form.get("hash", ""), act)
    except ProjectErrors as errors:
        own, elsewhere = faulty(errors.faults, day_fault_key)
        sent: dict[str, Any] = {place: (number, forms.state_of(form, wrong=own)), "": elsewhere}
        return await field_page.show(request, "field.html", sent)
    return RedirectResponse(address("/field", plan_of(request, store), {}) + f"#{place}", 303)


ROUTES = (
    Route("/field/limits", limits, methods=["POST"]),
    Route("/field/hour", hour, methods=["POST"]),
    Route("/field/hour/remove", without_hour, methods=["POST"]),
)
