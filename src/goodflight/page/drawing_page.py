"""The drawing page: the rocket to scale, its parts list, its plan, and a motor brought in."""

from datetime import date
from typing import Any

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from goodflight.outputs.asked.across import across_svg
from goodflight.outputs.drawing.svg import drawing_svg
from goodflight.page import forms, room, what_if
from goodflight.page.navigation import Page
from goodflight.page.view import page, plan_of, units_of
from goodflight.project import Project
from goodflight.project.head_forms import head_entries, head_label, head_written
from goodflight.project.motor_table import ADAPTER, ENTRIES
from goodflight.project.not_computed import LISTED
from goodflight.project.part_apart import all_within
from goodflight.project.part_forms import entries_of, written
from goodflight.project.parts import KINDS_BY_GROUP, PART_TABLES
from goodflight.project.plan_forms import FIRST, label, plan_entries, plan_written
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.questions.canopy_size import canopy_size
from goodflight.studies.refusal import NoMotorChosen, StudyRefused


async def get(request: Request) -> Response:
    """The drawing with its parts list; `part` opens one part, `add` an empty form of a kind."""
    return await show(request)


async def show(
    request: Request, status: int = 200, now: Project | None = None, **more: Any
) -> Response:
    """The page, perhaps with a form that was refused; `now` is what that form is merged on."""
    state, units = room.of(request), units_of(request)
    project = now or state.store.sound()  # before the work: what changes meanwhile is noticed
    above: dict[str, Any] = {}
    try:
        above = await state.workers.in_thread(lambda: what_if.head(request))
        day = date.today().isoformat()
        above["wide"] = drawing_svg(above["layout"], units, "wide", day)
        above["narrow"] = drawing_svg(above["layout"], units, "narrow", day)
    except StudyRefused as refusal:  # the files are sound, the rocket cannot be flown
        above = {"words": str(refusal), "no_motor": isinstance(refusal, NoMotorChosen)}
        status = 422 if status == 200 else status
    context = {
        **above,
        "hash": inputs_hash(project),
        "parts": [written(project, part.name) for part in project.parts],
        "weighed_in": all_within(project),
        "kinds": KINDS_BY_GROUP,
        "not_computed": LISTED,
        "elsewhere": (),
        "after": "",
        **part_of(request, project),
        **head_of(request, project),
        **plan_box(project, more.pop("plan", None) or plan_of(request, state.store)),
        **{
            "motor_entries": ENTRIES + ADAPTER,
            "motor_form": {},
            "preview": None,
            "motor_faults": (),
        },
        "motor_wrong": {},
    }
    context |= more
    if "words" in above:
        return page(request, state.store, "drawing", "parts.html", status, canopy=None, **context)
    context["canopy"] = canopy_of(context, above["layout"].burnout_mass_kg)
    return page(request, state.store, "drawing", "drawing.html", status, **context)


def canopy_of(context: dict[str, Any], hanging_kg: float) -> dict[str, Any] | None:
    """How the canopy of an open form is measured, drawn, and what its entries come to."""
    texts = context["part_form"]["texts"]
    if (context["adding"] or (context["opened"] and texts.get("kind"))) != "canopy":
        return None
    size = canopy_size(texts, hanging_kg)
    return {"size": size, "drawing": Markup(across_svg(size.kind, size.ways))}


def part_of(request: Request, project: Project) -> dict[str, Any]:
    """Which part form is open, if any, and with which texts."""
    opened, kind = request.query_params.get("part", ""), request.query_params.get("add", "")
    form: dict[str, Any] = {"opened": "", "adding": "", "part_form": forms.state_of({})}
    if opened in [part.name for part in project.parts]:
        texts = written(project, opened)
        part_form = forms.state_of(texts)
        form.update(opened=opened, part_form=part_form, entries=entries_of(texts["kind"]))
    elif kind in PART_TABLES:
        form.update(adding=kind, entries=entries_of(kind))
    return form


def head_of(request: Request, project: Project) -> dict[str, Any]:
    """The form of what the rocket says beside its parts, where it is open."""
    form = forms.state_of(head_written(project)) if request.query_params.get("head") else None
    return {"head_form": form, "head_groups": head_entries(), "head_label": head_label}


def plan_box(project: Project, plan: str | None) -> dict[str, Any]:
    """The form of the plan, and that of its copy."""
    name = project.plan(plan).name
    return {
        "of_plan": name,
        "plan_form": forms.state_of(plan_written(project, name)),
        "plan_entries": plan_entries(project, name),
        "plan_first": FIRST,
        "plan_label": label,
        "copy_name": "",
        "copy_wrong": None,
        "only_plan": len(project.plan_tables) == 1,
    }


PAGE = Page("drawing", "Drawing", 20, ("total", "prints", "what_if_foot"))
ROUTES = (Route("/drawing", get),)
