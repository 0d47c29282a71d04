"""What the rocket says beside its parts, changed: separations, charges, retention, surface."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.page import drawing_page, forms, room
from goodflight.page.part_page import faulty
from goodflight.project import ProjectErrors
from goodflight.project.head_forms import change_head, head_fault_key


async def save(request: Request) -> Response:
    """Write the form; faults come back at their entries with what was typed."""
    form = await forms.read(request)
    texts = forms.entries(form)
    try:
        room.of(request).store.change(
            "separation, charges and what holds changed",
            form.get("hash", ""),
            lambda project: change_head(project, texts),
        )
    except ProjectErrors as errors:
        own, elsewhere = faulty(errors.faults, head_fault_key)
        head_form = forms.state_of(texts, wrong=own)
        return await drawing_page.show(request, 422, head_form=head_form, elsewhere=elsewhere)
    return forms.back(request)


ROUTES = (Route("/rocket", save, methods=["POST"]),)
