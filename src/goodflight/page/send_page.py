"""What can be sent or carried: the answer, the project, the field card; each a download."""

from datetime import date

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.page import room
from goodflight.page.card_file import card_html
from goodflight.page.sent_file import Answer, sent_html
from goodflight.page.view import plan_of, units_of
from goodflight.project.archive import archive
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.field.card import card
from goodflight.studies.questions.evidence import evidence
from goodflight.studies.refusal import StudyRefused


async def answer(request: Request) -> Response:
    """Ledger, drawing and evidence of the plan as its files have it: what is tried is not sent."""
    state, units = room.of(request), units_of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)

    def made() -> str:
        asked = state.answers
        parts = Answer(
            asked.full(plan, {}),
            asked.layout(plan, {}),
            asked.landings(plan, {}),
            asked.of_project(
                inputs_hash(project), "evidence", plan, lambda: evidence(project, plan)
            ),
            asked.delays(plan, {}),
        )
        return sent_html(project, parts, units, date.today().isoformat())

    try:
        text = await state.workers.in_thread(made)
    except StudyRefused as refusal:
        return room.refused(request, str(refusal), 422, "Not made")
    return _download(text.encode(), "text/html; charset=utf-8", "answer.html")


async def field_card(request: Request) -> Response:
    """The field card of the plan as its files have it."""
    state, units = room.of(request), units_of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)

    def made() -> str:
        found = state.answers.of_project(
            inputs_hash(project), "card", plan, lambda: card(project, plan, units=units), u=units
        )
        return card_html(project, found, units)

    try:
        text = await state.workers.in_thread(made)
    except StudyRefused as refusal:
        return room.refused(request, str(refusal), 422, "Not made")
    return _download(text.encode(), "text/html; charset=utf-8", "card.html")


async def project(request: Request) -> Response:
    """The whole project as one zip file."""
    state = room.of(request)
    content = await state.workers.in_thread(lambda: archive(state.store.root))
    return _download(content, "application/zip", "project.zip")


def _download(content: bytes, kind: str, name: str) -> Response:
    head = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type=kind, headers=head)


ROUTES = (
    Route("/send/answer.html", answer),
    Route("/send/card.html", field_card),
    Route("/send/project.zip", project),
)
