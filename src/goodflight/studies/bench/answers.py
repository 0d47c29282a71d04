"""What the workbench can be asked of a project: templates, guides, cuts, packing, labels, book.

One question, one answer record; `goodflight.outputs.bench.files` turns each into a file.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Annotated, Final

from goodflight.physics.flight.registry import BY_ALTIMETER
from goodflight.project import Project
from goodflight.project.bench_files import BuildFile
from goodflight.quantity.said import Words
from goodflight.studies.bench.choices import choices_of
from goodflight.studies.bench.cutlist import CutList, cut_list
from goodflight.studies.bench.guide_print import PrintedGuide
from goodflight.studies.bench.labels import label_set
from goodflight.studies.bench.order import Order
from goodflight.studies.bench.packing import not_packed, packing_set, stacks_of
from goodflight.studies.bench.section import Listed, parts_list
from goodflight.studies.bench.sets import Points, guide_set, printed_set, template_set
from goodflight.studies.bench.shapes import DoesNotFitError, Template, TemplateSet
from goodflight.studies.bench.shopping import consumables, priced
from goodflight.studies.bench.stamp import stamp_of
from goodflight.studies.bench.steps import assembly_order
from goodflight.studies.bench.wiring import wiring
from goodflight.studies.bench.workshop import Topic, workshop
from goodflight.studies.case.project_case import case_of
from goodflight.studies.evidence.seen import see
from goodflight.studies.lists.cards import PAPERS, FieldPapers, Paper, papers_of
from goodflight.studies.lists.ground import GroundTests, ground_tests
from goodflight.studies.packing import Stack
from goodflight.studies.questions.debrief import DebriefStudy, last_debrief
from goodflight.studies.questions.evidence import FLIGHTS, Evidence, evidence
from goodflight.studies.questions.layout import Layout, layout
from goodflight.studies.refusal import NoMotorChosen


@dataclass(frozen=True)
class Book:
    """Everything the book shows."""

    rocket: Annotated[str, "name of the rocket"]
    layout: Layout
    parts: tuple[Listed, ...]
    cuts: CutList
    order: Order
    packing: tuple[Template, ...]
    templates: TemplateSet
    guides: TemplateSet | None
    invented: bool = False
    notes: tuple[Words, ...] = field(default_factory=tuple)
    cut_error_m: float = 0.0  # one standard deviation of where a cut edge lies
    workshop: tuple[Topic, ...] = ()
    wiring: Template | None = None


NO_MOTOR: Final = (
    "The plan names no motor: a bay shows only what rocket.toml states (roll, stowed_length), not "
    "what the ledger works out by weight."
)
NO_POINTS: Final = (
    "The plan names no motor: CG and CP are not on the station strips. Print those again once "
    "it does."
)
NOTHING_HELD: Final = (
    "Nothing to draw: no bay of rocket.toml holds a part of it (kind bay, holds = names of parts, "
    "in the order from the front)."
)
Answer = (
    TemplateSet
    | PrintedGuide
    | CutList
    | Book
    | Evidence
    | FieldPapers
    | GroundTests
    | DebriefStudy
)


def answer(
    project: Project,
    what: str,
    printed: bool = False,
    plan: str | None = None,
    *,
    units: str = "metric",
) -> Answer:
    """Answer one question of the workbench.

    Parameters
    ----------
    project : Project - as loaded. [-]
    what : str - "templates", "guides", "cutlist", "packing", "labels", "book", or of the field
        "evidence", "cards", "lists", "carry", "tests", "debrief". [-]
    printed : bool - of the guides: the piece to print instead of those of sheet. [-]
    plan : str or None - whose rocket; None takes the first. [-]
    units : str - "metric" or "imperial", of the words on cards and lists. [-]

    Returns
    -------
    answer : Answer - ready for a format. [SI]

    Raises
    ------
    DoesNotFitError - parts or guides have no room.
    ProjectErrors - the `[bench]` table is not valid.
    KeyError - no such question.
    """
    if what == "guides":
        return printed_set(project, plan) if printed else guide_set(project, plan)
    if what == "packing":
        return _packing(project, plan)
    if what == "labels":
        return label_set(project, plan)
    if what == "cutlist":
        return _cuts(project, all_flat(project, plan), plan)
    if what == "book":
        return _book(project, plan)
    if what == "debrief":
        return last_debrief(project)
    if what == "tests":
        return ground_tests(project, plan)
    if what == "evidence":
        return evidence(project, plan)
    if what in PAPERS:
        return _field_paper(project, what, plan, units)
    if what == "templates":
        return _templates(project, plan)
    raise KeyError(f"nothing is called {what!r} at the bench")


def _field_paper(project: Project, what: Paper, plan: str | None, units: str) -> FieldPapers:
    """One of the field papers; in other units with the stamp that it has in metric ones."""
    seen = see(project, case_of(project, plan), FLIGHTS, 1)
    metric = papers_of(seen).only(what)
    if units == "metric":
        return metric
    return replace(papers_of(seen, units).only(what), stamp=stamp_of(metric))


def _packing(project: Project, plan: str | None) -> TemplateSet:
    """Drawings of the bays, and what those wait for that are not drawn."""
    rocket = project.rocket(plan=plan)
    stacks: Sequence[Stack] = ()
    notes: tuple[Words, ...] = (NO_MOTOR,)
    try:
        case = case_of(project, plan)
    except NoMotorChosen:  # no ledger either that packs it
        pass
    else:
        stacks, notes = stacks_of(case), not_packed(case)
    drawn = tuple(packing_set(rocket, stacks))
    told = notes if drawn else (*notes, NOTHING_HELD)
    return TemplateSet(project.name, "packing", drawn, project.invented, told)


def points_of(project: Project, plan: str | None) -> Points:
    """CG and CP ready to fly, for the station strips."""
    found = layout(project, plan)
    return Points(found.cg_liftoff.station_m, found.cp.station_m)


def _templates(project: Project, plan: str | None) -> TemplateSet:
    """Templates, the strips with CG and CP where a motor is chosen to fly."""
    try:
        return template_set(project, points_of(project, plan), plan)
    except NoMotorChosen:
        made = template_set(project, plan=plan)
        return replace(made, notes=(*made.notes, NO_POINTS))


def all_flat(project: Project, plan: str | None) -> tuple[TemplateSet, TemplateSet | None]:
    """Templates and the guide of sheet; when a guide has no room, a note says so."""
    templates = _templates(project, plan)
    try:
        return templates, guide_set(project, plan)
    except DoesNotFitError as error:
        return replace(templates, notes=(*templates.notes, f"No fin guide of sheet: {error}")), None


def _cuts(
    project: Project, sets: tuple[TemplateSet, TemplateSet | None], plan: str | None
) -> CutList:
    templates, guides = sets
    flat = (*templates.templates, *(guides.templates if guides else ()))
    rocket, choices = project.rocket(plan=plan), choices_of(project)
    cuts = cut_list(rocket, flat, choices, project.invented)
    cuts = priced(cuts, consumables(rocket, project.build or BuildFile()), choices.prices)
    return cuts if guides else replace(cuts, left_out=(*cuts.left_out, str(templates.notes[-1])))


def _book(project: Project, plan: str | None) -> Book:
    rocket = project.rocket(plan=plan)
    templates, guides = all_flat(project, plan)
    order, case = assembly_order(project, plan), case_of(project, plan)
    devices = [device.name for device in project.head.device if device.kind == "on_board"]
    fired, main = case.deployment.by == BY_ALTIMETER, case.deployment.main_canopy is not None
    return Book(
        rocket=project.name,
        layout=layout(project, plan),
        parts=parts_list(rocket),
        cuts=_cuts(project, (templates, guides), plan),
        order=order,
        packing=tuple(packing_set(rocket, stacks_of(case))),
        templates=templates,
        guides=guides,
        invented=project.invented,
        notes=templates.notes,
        cut_error_m=choices_of(project).cut_error_m,
        workshop=workshop(project, order, plan),
        wiring=wiring(rocket, devices, fired, main),
    )
