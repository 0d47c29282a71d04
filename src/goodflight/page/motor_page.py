"""A motor brought in: by its thrust table, or by its label where a plan has none yet."""

from functools import partial
from typing import Any

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.motors.thrust import thrust_svg
from goodflight.page import drawing_page, forms, room
from goodflight.page.open_project import ChangedElsewhereError
from goodflight.page.part_page import faulty
from goodflight.page.view import address, page, plan_of, units_of
from goodflight.project import Fault, ProjectErrors
from goodflight.project.motor_table import ADAPTER, ENTRIES, add_motor, preview
from goodflight.project.motor_told import TOLD, check_told, choose_motor
from goodflight.project.newcomer_fit import AnswersError
from goodflight.studies.rows import LIMIT_STATES


def entry_of(fault: Fault) -> str | None:
    """The entry of the form that a fault speaks of; the other files were sound before."""
    known = fault.file.startswith("motors/") and fault.key in {
        key for key, _, _ in ENTRIES + ADAPTER
    }
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


def ask(request: Request, texts: dict[str, str], wrong: dict[str, str]) -> Response:
    """A plan without a motor asks for one, and says what stays unknown."""
    store = room.of(request).store
    project = store.sound()
    more: dict[str, Any] = {
        "unknown": [row.title for row in LIMIT_STATES],
        "at_hand": tuple(project.motor_files),
        "motor_asked": TOLD,
        "texts": texts,
        "wrong": wrong,
    }
    return page(request, store, "ledger", "no_motor.html", 422 if wrong else 200, **more)


async def on_none(request: Request, _: Exception) -> Response:
    """A question about a plan that has no motor yet."""
    return ask(request, {}, {})


async def choose(request: Request) -> Response:
    """Give a plan its motor: one that is there, or one told by its label."""
    store, texts = room.of(request).store, await forms.first(request)
    plan = plan_of(request, store) or ""
    wrong = forms.refused({each.id: partial(check_told, each) for each in TOLD}, texts)
    if wrong:
        return ask(request, texts, wrong)
    try:
        store.change(
            f"motor of plan {plan}",
            texts.get("hash", ""),
            lambda project: choose_motor(project, plan, texts),
        )
    except AnswersError as error:
        return ask(request, texts, error.faults)
    return RedirectResponse(address("/ledger", plan, {}), 303)


ROUTES = (
    Route("/motor", bring_in, methods=["POST"]),
    Route("/plan/motor", choose, methods=["POST"]),
)
