"""Two plans of the rocket side by side."""

from functools import partial

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.ledger import beside_text
from goodflight.page import room
from goodflight.page.view import page, plan_of
from goodflight.studies.questions.beside import beside


async def get(request: Request) -> Response:
    """The plan of the address and another one, row by row; the next plan where none is named."""
    state = room.of(request)
    plan, project = plan_of(request, state.store), state.store.sound()
    names = [each.name for each in project.plan_tables]
    asked = request.query_params.get("with", "")
    other = asked if asked in names else names[(names.index(plan or names[0]) + 1) % len(names)]
    act = partial(beside, project, plan, other, flights=min(1000, state.answers.flights))
    found = await state.workers.in_thread(
        lambda: state.answers.of_project(state.store.hash, "beside", plan, act, other=other)
    )
    return page(
        request,
        state.store,
        "beside",
        "beside.html",
        found=found,
        other=other,
        told_beside=beside_text,
    )


ROUTES = (Route("/beside", get),)
