"""A motor brought in: its thrust table by file or paste, looked at first, written when asked."""

from typing import Any

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.motors.thrust import thrust_svg
from goodflight.page import drawing_page, forms, room
from goodflight.page.open_project import ChangedElsewhereError
from goodflight.page.part_page import faulty
from goodflight.page.view import units_of
from goodflight.project import Fault, ProjectErrors
from goodflight.project.motor_table import ENTRIES, add_motor, preview


def entry_of(fault: Fault) -> str | None:
    """The entry of the form that a fault speaks of; the other files were sound before."""
    known = fault.file.startswith("motors/") and fault.key in {key for key, _, _ in ENTRIES}
    return fault.key if known else None


async def bring_in(request: Request) -> Response:
    """Show what was read with its curve; write the motor when that is asked for."""
    form = await forms.read(request)
    upload = (await request.form()).get("file")
    if isinstance(upload, UploadFile) and upload.filename:
        form["table"] = (await upload.read()).decode("utf-8", "replace")
    read = preview(form.get("table", ""), form.get("propellant", ""))
    more: dict[str, Any] = {"preview": read, "motor_form": form, "motor_moved": ()}
    if read.curve is not None and read.figures is not None:
        points = (read.curve.times_s, read.curve.thrusts_n)
        more["thrust"] = thrust_svg(*points, read.figures.mean_n, units_of(request))
    if form.get("act") != "write" or read.curve is None:
        return await drawing_page.show(request, 200 if read.curve else 422, **more)
    try:
        room.of(request).store.change(
            f"motor {form.get('name', '')} added",
            form.get("hash", ""),
            lambda project: add_motor(project, form, form["table"]),
        )
    except ProjectErrors as errors:
        own, others = faulty(errors.faults, entry_of)
        return await drawing_page.show(request, 422, **more, motor_wrong=own, motor_faults=others)
    except ChangedElsewhereError as error:
        more["motor_moved"] = error.changes or ("",)
        return await drawing_page.show(request, 409, **more)
    return forms.back(request)


ROUTES = (Route("/motor", bring_in, methods=["POST"]),)
