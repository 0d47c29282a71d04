"""What can be sent: the answer as a file to read, the project as an archive; both downloads."""

from datetime import date

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.page import room
from goodflight.page.sent_file import Answer, sent_html
from goodflight.page.view import plan_of, units_of
from goodflight.project.archive import archive
from goodflight.studies.refusal import StudyRefused


async def answer(request: Request) -> Response:
    """Ledger, drawing and evidence of the plan as its files have it: what is tried is not sent."""
    state, units = room.of(request), units_of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)

    def made() -> str:
        asked = state.answers
        parts = Answer(
            asked.full(plan, {}), asked.layout(plan, {}), asked.landings(plan, {}),
            asked.delays(plan, {}),
        )  # fmt: skip
        return sent_html(project, parts, units, date.today().isoformat())

    try:
        text = await state.workers.in_thread(made)
    except StudyRefused as refusal:
        return room.refused(request, str(refusal), 422, "Not made")
    return _download(text.encode(), "text/html; charset=utf-8", "answer.html")


async def project(request: Request) -> Response:
    """The whole project as one zip file."""
    state = room.of(request)
    content = await state.workers.in_thread(lambda: archive(state.store.root))
    return _download(content, "application/zip", "project.zip")


def _download(content: bytes, kind: str, name: str) -> Response:
    head = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type=kind, headers=head)


ROUTES = (Route("/send/answer.html", answer), Route("/send/project.zip", project))
