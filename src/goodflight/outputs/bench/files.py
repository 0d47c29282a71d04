"""One answer as one file: which formats and papers it has, and what is said about it."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from goodflight.outputs.bench.book import build_book
from goodflight.outputs.bench.dxf import template_dxf
from goodflight.outputs.bench.list_pdf import list_pdf, packing_pdf
from goodflight.outputs.bench.mesh import stl, three_mf
from goodflight.outputs.bench.paper import PAPERS, Scale
from goodflight.outputs.bench.pdf import template_pdf
from goodflight.outputs.bench.records import PRINTED, SKETCH, mesh_of_guide, notes_of, size_m
from goodflight.outputs.bench.spoken import spoken
from goodflight.outputs.bench.svg import template_svg
from goodflight.outputs.debrief.paper import debrief_pdf
from goodflight.outputs.field_sheets.evidence_pdf import evidence_pdf
from goodflight.outputs.field_sheets.evidence_words import counted
from goodflight.outputs.field_sheets.ground_pdf import ground_pdf
from goodflight.outputs.field_sheets.imposed import SHEETS
from goodflight.outputs.field_sheets.papers_pdf import papers_pdf
from goodflight.outputs.record import record
from goodflight.quantity import show
from goodflight.studies.bench.answers import Answer, Book
from goodflight.studies.bench.cutlist import CutList
from goodflight.studies.bench.guide_parts import for_cutter
from goodflight.studies.bench.guide_print import PrintedGuide
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.bench.stamp import stamp_of
from goodflight.studies.lists.cards import PAPERS as CARDS
from goodflight.studies.lists.cards import FieldPapers
from goodflight.studies.lists.ground import GroundTests
from goodflight.studies.questions.debrief import DebriefStudy
from goodflight.studies.questions.evidence import Evidence

ALLOWED: Final[dict[str, tuple[str, ...]]] = {
    "templates": ("pdf", "svg", "dxf"),
    "guides": ("pdf", "svg", "dxf", "stl", "3mf"),
    "cutlist": ("pdf", "svg", "dxf"),
    "packing": ("pdf", "svg", "dxf"),
    "labels": ("pdf", "svg", "dxf"),
    "book": ("pdf",),
    "evidence": ("pdf",),
    "cards": ("pdf",),
    "lists": ("pdf",),
    "carry": ("pdf",),
    "tests": ("pdf",),
    "debrief": ("pdf",),
}
SOLIDS: Final = ("stl", "3mf")


@dataclass(frozen=True)
class Request:
    """In which form an answer is wanted."""

    kind: str = "pdf"
    paper: str = "a4"
    scale: Scale = field(default_factory=Scale)
    cut_lines: bool = False  # SVG and DXF: moved out by half the kerf
    day: str = ""  # of the print, for the foot of a sheet; empty: no foot
    units: str = "metric"  # of drawings, sizes, lists, evidence and debrief


@dataclass(frozen=True)
class Made:
    """A file's content and what to say about it."""

    content: bytes
    summary: str
    record: dict[str, Any]
    stamp: str  # mark of the figures it shows


def make(answer: Answer, request: Request) -> Made:
    """Turn an answer into a file.

    Parameters
    ----------
    answer : Answer - from the study. [-]
    request : Request - format and paper; see ALLOWED. [-]

    Returns
    -------
    made : Made - the file, a summary, and the same as data. [-]
    """
    other = answer.stamp if isinstance(answer, FieldPapers) else ""
    stamp = other or stamp_of(answer)
    content, summary = _file(answer, request, foot_of(stamp, request.day))
    return Made(content, summary, record(answer, PRINTED), stamp)


def _file(answer: Answer, request: Request, foot: tuple[str, ...]) -> tuple[bytes, str]:
    """Content, and what to say about it."""
    if isinstance(answer, Book):
        words = f"{answer.rocket}: build book with {len(answer.order.steps)} steps"
        content = build_book(answer, request.paper, request.scale, foot, request.units)
        return content, "\n".join([words, *answer.cuts.left_out])
    if isinstance(answer, Evidence):
        summary = f"{answer.rocket}, evidence for plan {answer.plan}: {counted(answer)}"
        return evidence_pdf(answer, request.paper, foot, request.units), summary
    if isinstance(answer, GroundTests):
        summary = f"{answer.rocket}, ground tests for plan {answer.plan}: {len(answer.tests)}"
        return ground_pdf(answer, request.paper, foot, request.units), summary
    if isinstance(answer, DebriefStudy):
        summary = f"{answer.rocket}, debrief: {answer.flight or 'no flight noted yet'}"
        return debrief_pdf(answer, request.paper, foot[:1], request.units), summary
    if isinstance(answer, FieldPapers):
        content, words = papers_pdf(answer, request.paper, foot)
        return content, f"{answer.rocket}, plan {answer.plan}: {words}"
    if isinstance(answer, CutList):
        return _cut_list(answer, request, foot)
    if isinstance(answer, PrintedGuide):
        return _printed(answer, request)
    return _templates(answer, request, foot)


def papers_of(what: str) -> tuple[str, ...]:
    """The papers that something can be printed on: small ones for what is made of cards."""
    if what in ("evidence", "debrief"):
        return tuple(paper for paper in PAPERS if paper != "a5")
    return tuple(SHEETS) if what in CARDS else tuple(PAPERS)


def foot_of(stamp: str, day: str) -> tuple[str, ...]:
    """The lines in the foot of a sheet: the day it was made, the stamp of its figures."""
    return (f"made {day}", f"figures {stamp}") if day else ()


def _templates(of: TemplateSet, request: Request, foot: Sequence[str]) -> tuple[bytes, str]:
    of = spoken(of, request.units)
    words = f"{of.rocket}, {of.subject}: {len(of.templates)} drawings"
    return _written(of, request, foot), "\n".join([words, *map(str, notes_of(of))])


def _written(of: TemplateSet, request: Request, foot: Sequence[str]) -> bytes:
    if request.kind == "pdf" and all(each.reduced for each in of.templates):
        return packing_pdf(of, request.paper, foot)
    if request.kind == "pdf":
        return template_pdf(of, request.paper, request.scale, foot, request.units)
    of = replace(of, templates=tuple(t for t in of.templates if t.key != SKETCH))
    if request.cut_lines:
        of = replace(
            of, templates=tuple(for_cutter(t, of.kerf_m) if t.flat else t for t in of.templates)
        )
    text = template_svg(of) if request.kind == "svg" else template_dxf(of)
    return text.encode("utf-8")


def _printed(guide: PrintedGuide, request: Request) -> tuple[bytes, str]:
    mesh = mesh_of_guide(guide)
    content = stl([mesh]) if request.kind == "stl" else three_mf([mesh])
    words = " x ".join(f"{1e3 * each:.1f}" for each in size_m(mesh))
    bound = show(guide.fin_bound_rad, "angle", unit="deg")
    summary = (
        f"Fin guide in one piece, {words} mm, sits on the {guide.seat}.\n"
        f"Print it standing, ring down. A fin can lean less than {bound} by clearance; the "
        "printer's error is not in it."
    )
    return content, summary


def _cut_list(cuts: CutList, request: Request, foot: Sequence[str]) -> tuple[bytes, str]:
    if request.kind == "pdf":
        content = list_pdf(cuts, request.paper, foot, request.units)
    else:
        drawn = tuple(each.template() for each in cuts.sheets)
        sheets = TemplateSet(
            rocket=cuts.rocket,
            subject="cut sheets",
            templates=drawn,
            invented=cuts.invented,
            notes=(),
            kerf_m=cuts.kerf_m,
        )
        content = _written(sheets, request, foot)
    words = f"{cuts.rocket}: {len(cuts.cuts)} pieces to cut, {len(cuts.sheets)} sheets"
    summary = "\n".join([words, *cuts.left_out])
    return content, summary
