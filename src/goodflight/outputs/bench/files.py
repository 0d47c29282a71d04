"""One request, one file: which study answers it and which format it becomes."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from goodflight.outputs.bench.book import Book, build_book
from goodflight.outputs.bench.dxf import template_dxf
from goodflight.outputs.bench.list_pdf import list_pdf
from goodflight.outputs.bench.mesh import mesh_of, stl, three_mf
from goodflight.outputs.bench.paper import Scale
from goodflight.outputs.bench.pdf import template_pdf
from goodflight.outputs.bench.svg import template_svg
from goodflight.project import Project
from goodflight.studies.bench.choices import choices_of
from goodflight.studies.bench.cutlist import CutList, cut_list
from goodflight.studies.bench.guide_parts import for_cutter
from goodflight.studies.bench.outlines import DoesNotFitError
from goodflight.studies.bench.packing import packing_set
from goodflight.studies.bench.section import parts_list, section_template
from goodflight.studies.bench.sets import Points, guide_set, printed_set, template_set
from goodflight.studies.bench.shapes import Template, TemplateSet
from goodflight.studies.bench.steps import assembly_order

ALLOWED: Final[dict[str, tuple[str, ...]]] = {
    "templates": ("pdf", "svg", "dxf"),
    "guides": ("pdf", "svg", "dxf", "stl", "3mf"),
    "cutlist": ("pdf", "svg", "dxf"),
    "packing": ("pdf", "svg", "dxf"),
    "book": ("pdf",),
}


class NotInThisFormatError(ValueError):
    """A thing that has no such format."""

    def __init__(self, what: str, kind: str) -> None:
        self.allowed = f"for {what}: " + ", ".join(ALLOWED[what])
        super().__init__(f"{what} cannot be written as {kind}; take one of those formats.")


@dataclass(frozen=True)
class Request:
    """What is wanted."""

    what: str = "templates"
    kind: str = "pdf"
    paper: str = "a4"
    scale: Scale = field(default_factory=Scale)
    cut_lines: bool = False  # SVG and DXF: moved out by half the kerf


@dataclass(frozen=True)
class Made:
    """A file's content and what to say about it."""

    content: bytes
    summary: str
    record: dict[str, Any]


def make(project: Project, request: Request, plan: str | None = None) -> Made:
    """Answer a request from a project.

    Parameters
    ----------
    project : Project - as loaded. [-]
    request : Request - what, in which format. [-]
    plan : str or None - whose rocket; None takes the first. [-]

    Returns
    -------
    made : Made - the file and a summary. [-]

    Raises
    ------
    NotInThisFormatError - this cannot be written so.
    DoesNotFitError - parts or guides have no room.
    """
    if request.kind not in ALLOWED[request.what]:
        raise NotInThisFormatError(request.what, request.kind)
    if request.what == "book":
        return _book(project, request, plan)
    if request.what == "cutlist":
        return _cut_list(project, request, plan)
    if request.kind in ("stl", "3mf"):
        return _printed(project, request, plan)
    return _templates(_set(project, request.what, plan), request, project)


def points_of(project: Project, plan: str | None) -> Points:
    """CG and CP ready to fly, for the station strips."""
    from goodflight.studies.layout import layout

    found = layout(project, plan)
    return Points(found.cg_liftoff.station_m, found.cp.station_m)


def _set(project: Project, what: str, plan: str | None) -> TemplateSet:
    if what == "guides":
        return guide_set(project, plan)
    if what == "packing":
        drawn = tuple(packing_set(project.rocket(plan=plan)))
        return TemplateSet(project.name, "packing", drawn, project.invented)
    return template_set(project, points_of(project, plan), plan)


def _templates(of: TemplateSet, request: Request, project: Project) -> Made:
    if request.cut_lines and request.kind != "pdf":
        kerf = choices_of(project).kerf_m
        of = replace(of, templates=tuple(for_cutter(t, kerf) for t in of.templates))
    content = _written(of, request)
    rows = [_row(t) for t in of.templates]
    notes = [note for t in of.templates if t.key == "guide-assembly" for note in t.notes]
    words = f"{of.rocket}, {of.subject}: {len(rows)} drawings, 1:1"
    summary = "\n".join([words, *of.notes, *notes])
    record = {"rocket": of.rocket, "what": request.what, "templates": rows, "notes": notes}
    return Made(content, summary, record)


def _written(of: TemplateSet, request: Request) -> bytes:
    if request.kind == "svg":
        return template_svg(of).encode("utf-8")
    if request.kind == "dxf":
        return template_dxf(of).encode("utf-8")
    return template_pdf(of, request.paper, request.scale)


def _row(template: Template) -> dict[str, Any]:
    return {
        "key": template.key,
        "title": template.title,
        "count": template.count,
        "material": template.material,
        "thickness_m": template.thickness_m,
        "sizes_m": dict(template.sizes),
        "notes": list(template.notes),
    }


def _printed(project: Project, request: Request, plan: str | None) -> Made:
    guide = printed_set(project, plan)
    mesh = mesh_of(f"fin guide of {project.name}", guide.prisms)
    content = stl([mesh]) if request.kind == "stl" else three_mf([mesh])
    size = mesh.vertices_mm.max(axis=0) - mesh.vertices_mm.min(axis=0)
    words = " x ".join(f"{each:.1f}" for each in size)
    summary = (
        f"{project.name}: fin guide in one piece, {words} mm, sits on the {guide.seat}.\n"
        f"Print it standing, ring down. A fin leans less than "
        f"{57.29578 * guide.fin_bound_rad:.3f} deg by clearance; the printer's error is not in it."
    )
    record = {
        "rocket": project.name,
        "what": "guides",
        "size_m": [float(each) / 1e3 for each in size],
        "triangles": len(mesh.triangles),
        "fin_bound_rad": guide.fin_bound_rad,
    }
    return Made(content, summary, record)


def _all_flat(project: Project, plan: str | None) -> tuple[TemplateSet, TemplateSet | None]:
    """Templates and guides; no guide when it has no room, which the caller's notes say."""
    templates = template_set(project, points_of(project, plan), plan)
    try:
        return templates, guide_set(project, plan)
    except DoesNotFitError as error:
        return replace(templates, notes=(*templates.notes, f"No fin guide of sheet: {error}")), None


def _cuts(project: Project, sets: Sequence[TemplateSet | None], plan: str | None) -> CutList:
    flat = [t for each in sets if each for t in each.templates]
    return cut_list(project.rocket(plan=plan), flat, choices_of(project), project.invented)


def _cut_list(project: Project, request: Request, plan: str | None) -> Made:
    sets = _all_flat(project, plan)
    cuts = _cuts(project, sets, plan)
    if request.kind == "pdf":
        content = list_pdf(cuts, request.paper)
    else:
        drawn = tuple(each.template() for each in cuts.sheets)
        if request.cut_lines:
            drawn = tuple(for_cutter(t, cuts.kerf_m) for t in drawn)
        content = _written(TemplateSet(cuts.rocket, "cut sheets", drawn, cuts.invented), request)
    summary = f"{cuts.rocket}: {len(cuts.cuts)} pieces to cut, {len(cuts.sheets)} sheets"
    record = {
        "rocket": cuts.rocket,
        "what": "cutlist",
        "kerf_m": cuts.kerf_m,
        "cuts": [vars(each) for each in cuts.cuts],
        "buys": [vars(each) for each in cuts.buys],
        "sheets": [
            {"number": s.number, "material": s.material, "thickness_m": s.thickness_m,
             "used": s.used, "pieces": [laid.template.key for laid in s.laid]}
            for s in cuts.sheets
        ],
    }  # fmt: skip
    return Made(content, summary, record)


def _book(project: Project, request: Request, plan: str | None) -> Made:
    rocket = project.rocket(plan=plan)
    templates, guides = _all_flat(project, plan)
    book = Book(
        project.name, section_template(rocket), parts_list(rocket),
        _cuts(project, (templates, guides), plan), assembly_order(project, plan),
        tuple(packing_set(rocket)), templates, guides, project.invented, templates.notes,
    )  # fmt: skip
    content = build_book(book, request.paper, request.scale)
    summary = f"{project.name}: build book with {len(book.order.steps)} steps"
    return Made(content, summary, {"rocket": project.name, "what": "book"})
