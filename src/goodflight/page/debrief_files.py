"""What the debrief page gives out: one flight on a printed sheet, the log book as a table."""

from datetime import date

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.debrief.paper import debrief_pdf
from goodflight.outputs.debrief.table import book_csv
from goodflight.page import debrief_page, room
from goodflight.page.view import units_of
from goodflight.studies.questions.debrief import DebriefStudy


async def _study(request: Request) -> DebriefStudy | None:
    return (await debrief_page.said_of(request, request.query_params.get("flight", ""))).study


async def sheet(request: Request) -> Response:
    """One flight on paper."""
    study = await _study(request)
    if study is None:
        return room.refused(request, "Correct the notes of this flight.", 422, "Not printed")
    units, foot = units_of(request), (date.today().isoformat(),)
    content = await room.of(request).workers.in_thread(
        lambda: debrief_pdf(study, units=units, foot=foot)
    )
    head = {"content-disposition": 'inline; filename="debrief.pdf"'}
    return Response(content, media_type="application/pdf", headers=head)


async def book(request: Request) -> Response:
    """The log book as a table."""
    study = await _study(request)
    if study is None:
        return room.refused(request, "Correct the notes of this flight.", 422, "No table")
    head = {"content-disposition": 'attachment; filename="log-book.csv"'}
    return Response(book_csv(study), media_type="text/csv; charset=utf-8", headers=head)


ROUTES = (Route("/debrief/sheet.pdf", sheet), Route("/debrief/book.csv", book))
