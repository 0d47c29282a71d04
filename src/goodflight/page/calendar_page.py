"""The calendar of the build: when to do what, whether launch day holds, what helps."""

from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import Final

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.calendar import words
from goodflight.outputs.calendar.ics import calendar_ics
from goodflight.outputs.calendar.sheet import calendar_pdf
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, page, plan_of, units_of
from goodflight.project import ProjectErrors, answering
from goodflight.quantity.refusal import Record
from goodflight.studies.calendar.results import CalendarStudy
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.questions.calendar import calendar
from goodflight.studies.refusal import StudyRefused


async def get(request: Request) -> Response:
    """The plan of work, or what it waits for."""
    return await _shown(request)


async def _shown(
    request: Request, wrong: tuple[str, ...] = (), typed: Mapping[str, str] | None = None
) -> Response:
    study, faults = await _study(request)
    return page(
        request,
        room.of(request).store,
        "calendar",
        "calendar.html",
        422 if faults or wrong else 200,
        study=study,
        faults=faults,
        said=words,
        start=request.query_params.get("start", ""),
        launch=_launch_day(request),
        query=request.url.query,
        wrong=wrong,
        typed=typed or {},
    )


def _launch_day(request: Request) -> str:
    build = room.of(request).store.sound().build
    return build.launch_day if build else ""


async def answer(request: Request) -> Response:
    """Write the figures that the plan of work waits for."""
    store, form = room.of(request).store, await forms.read(request)
    study, _ = await _study(request)
    asked = study.wanted if study else ()
    typed = {each.key: form[each.key].strip() for each in asked if form.get(each.key, "").strip()}
    if not typed:
        return await _shown(request, ("nothing was entered",))
    label = ", ".join(each.label for each in asked if each.key in typed)
    try:
        store.change(
            f"entered: {label}"[:200],
            form.get("hash", ""),
            lambda project: answering.answer(project, answering.in_build(project, typed)),
        )
    except ProjectErrors as errors:
        return await _shown(request, tuple(f.sentence for f in errors.faults), typed)
    start = request.query_params.get("start", "")
    more = {"start": start} if start else {}
    return RedirectResponse(address("/calendar", plan_of(request, store), more), 303)


async def launch(request: Request) -> Response:
    """Write launch day; empty takes it out."""
    store, form = room.of(request).store, await forms.read(request)
    day = form.get("launch_day", "").strip()
    try:
        store.change(
            f"launch day {day or 'taken out'}"[:200],
            form.get("hash", ""),
            lambda project: answering.answer(project, {LAUNCH: day}),
        )
    except ProjectErrors as errors:
        return await _shown(request, tuple(f.sentence for f in errors.faults))
    start = request.query_params.get("start", "")
    return RedirectResponse(
        address("/calendar", plan_of(request, store), {"start": start} if start else {}), 303
    )


async def _study(request: Request) -> tuple[CalendarStudy | None, tuple[Record, ...]]:
    state = room.of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)
    told = project.build.starts if project.build else ""
    start = request.query_params.get("start", "") or told or date.today().isoformat()
    try:
        study = await state.workers.in_thread(
            lambda: state.answers.of_project(
                inputs_hash(project),
                "calendar",
                plan,
                lambda: calendar(project, plan, start),
                start=start,
            )
        )
    except StudyRefused as refusal:
        return None, refusal.records
    return study, ()


async def text(request: Request) -> Response:
    """The plan as iCalendar text."""
    study, _ = await _study(request)
    if study is None:
        return room.refused(request, "Correct the first day.", 422, "No calendar file")
    content = calendar_ics(study, datetime.now(UTC))
    head = {"content-disposition": 'attachment; filename="build.ics"'}
    return Response(content, media_type="text/calendar; charset=utf-8", headers=head)


async def sheet(request: Request) -> Response:
    """The plan on paper."""
    study, _ = await _study(request)
    if study is None:
        return room.refused(request, "Correct the first day.", 422, "Not printed")
    units, foot = units_of(request), (date.today().isoformat(),)
    content = await room.of(request).workers.in_thread(
        lambda: calendar_pdf(study, units, foot=foot)
    )
    head = {"content-disposition": 'inline; filename="calendar.pdf"'}
    return Response(content, media_type="application/pdf", headers=head)


LAUNCH: Final = "build.toml:launch_day"
PAGE = Page("calendar", "Calendar", 27)
ROUTES = (
    Route("/calendar", get),
    Route("/calendar/answer", answer, methods=["POST"]),
    Route("/calendar/launch", launch, methods=["POST"]),
    Route("/calendar/build.ics", text),
    Route("/calendar/sheet.pdf", sheet),
)
