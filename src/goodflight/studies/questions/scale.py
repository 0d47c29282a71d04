"""The rocket as built: what was weighed, what does not add up, and what that changed.

Beside the estimate itself (`studies/case/weighed`) the ledger is made twice on the same flights,
once from the design alone and once as weighed, so that what a weighing changed is seen row by row.
"""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Annotated

from goodflight.physics.vehicle import combine
from goodflight.project import Project, read_project
from goodflight.project.bench_files import WeighingsFile
from goodflight.project.weighing_entry import FILE, text_with, with_reading
from goodflight.quantity.said import Said
from goodflight.studies.bench.stamps import of_weighing
from goodflight.studies.case.measured import as_measured
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of, measured_case
from goodflight.studies.case.readings import MeasuredFigure
from goodflight.studies.case.weighed import as_built
from goodflight.studies.case.weighed_model import NOT_ENTERED, Reading
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.questions.layout import Layout, layout_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.measurable import entered_as
from goodflight.studies.questions.measuring import NextFigure, next_of
from goodflight.studies.questions.part_apart import taken_out
from goodflight.studies.questions.scale_findings import (
    agreement_of,
    findings_of,
    measured_findings,
)
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Ledger, Row
from goodflight.studies.sampling.flights import fly_trials


@dataclass(frozen=True)
class Weighed:
    """One reading beside what was expected."""

    place: Annotated[str, "file and entry"]
    words: Annotated[str, "what was on the scale"]
    date: Annotated[str, "day of the reading; empty = not given"]
    dimension: Annotated[str, "mass, length (a balance point, from the nose tip) or time (a swing)"]
    value: Annotated[float, "as read [SI]"]
    sigma: Annotated[float, "one standard deviation of the reading [SI]"]
    design: Annotated[float, "what the design says [SI]"]
    rest: Annotated[float, "what the design and all other readings say [SI]"]
    apart: Annotated[float, "reading less the rest, in standard deviations"]


@dataclass(frozen=True)
class MeasuredOne:
    """One figure that was measured by itself, beside what the design says."""

    place: Annotated[str, "file and entry"]
    of: Annotated[str, "the figure: its key in rocket.toml, or its name where no file has it"]
    words: Annotated[str, "the figure in words"]
    dimension: Annotated[str, "what it is; ratio of a factor on what the design takes"]
    read: Annotated[tuple[str, ...], "what the instrument showed, as written"]
    readings: Annotated[tuple[float, ...], "each reading as the figure itself [SI]"]
    date: Annotated[str, "days of the readings; empty = not given"]
    note: Annotated[str, "remarks: tape, humidity"]
    design: Annotated[float | None, "what the design says, null = nothing [SI]"]
    design_sigma: Annotated[float, "one standard deviation of that [SI]"]
    value: Annotated[float, "the figure now [SI]"]
    sigma: Annotated[float, "one standard deviation of it now [SI]"]
    apart: Annotated[float, "readings less the design, in standard deviations of both"]


@dataclass(frozen=True)
class PartBuilt:
    """One part, designed and as built."""

    name: Annotated[str, "the part"]
    design_kg: Annotated[float, "mass in the design [kg]"]
    mass_kg: Annotated[float, "mass as built [kg]"]
    sigma_kg: Annotated[float, "one standard deviation of it [kg]"]
    station_m: Annotated[float, "balance point, from the nose tip [m]"]
    station_sigma_m: Annotated[float, "one standard deviation of it [m]"]


@dataclass(frozen=True)
class FigureChanged:
    """One figure, from the design alone and as weighed."""

    name: Annotated[str, "the figure"]
    dimension: Annotated[str, "what it is"]
    before: Annotated[float, "from the design alone [SI]"]
    now: Annotated[float, "as weighed [SI]"]


@dataclass(frozen=True)
class RowChanged:
    """One row of the ledger whose chance the weighings changed."""

    key: Annotated[str, "name of the row"]
    title: Annotated[str, "the same in words"]
    before: Annotated[int | None, "flights that fail, from the design alone; null = not known"]
    now: Annotated[int | None, "flights that fail, as built; null = not known"]


@dataclass(frozen=True)
class SheetNow:
    """One printed sheet that shows weighed figures, and what the last weighing made of it."""

    what: Annotated[str, "drawing or labels"]
    stamp: Annotated[str, "stamp of its figures as weighed"]
    before: Annotated[str, "stamp before the last weighing; empty: nothing weighed, or refused"]


@dataclass(frozen=True)
class ScaleStudy:
    """What was weighed and what it changed."""

    rocket: Annotated[str, "its name"]
    plan: Annotated[str, "planned flight that before and after are of"]
    invented: Annotated[bool, "whether the project says it is made up"]
    readings: Annotated[tuple[Weighed, ...], "everything read off, in the order of the file"]
    misfit: Annotated[float, "chi-square of the readings, one degree of freedom each"]
    agreement: Annotated[Said, "whether they agree, and which one stands farthest off, in words"]
    measured: Annotated[tuple[MeasuredOne, ...], "figures measured by themselves, in turn"]
    findings: Annotated[tuple[Said, ...], "what does not add up, in words"]
    parts: Annotated[tuple[PartBuilt, ...], "masses of this plan's rocket, designed and as built"]
    figures: Annotated[tuple[FigureChanged, ...], "mass, balance and margins, before and now"]
    flights: Annotated[int, "flights simulated, for the design and as weighed"]
    rows: Annotated[tuple[RowChanged, ...], "rows whose count of failing flights changed"]
    chance_before: Annotated[float, "chance that a flight fails, from the design alone"]
    chance_now: Annotated[float, "chance that a flight fails, as weighed"]
    next: Annotated[tuple[NextFigure, ...], "what to measure next, most for a minute's work first"]
    stop: Annotated[Said, "whether to go on measuring, in words"]
    sheets: Annotated[tuple[SheetNow, ...], "printed sheets that show what was weighed"]


def weigh(
    project: Project, plan: str | None = None, flights: int = 1000, seed: int = 1
) -> ScaleStudy:
    """What was weighed, what does not add up, and what that changed in the ledger.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - size of the ensemble. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        study : ScaleStudy - readings, parts, figures and rows before and now. [SI]
    Raises
        NoSuchPlan; StudyRefused - a reading that contradicts the rest, in its place.
    Validity
        As `as_built`; both ledgers are of the same flights.
    Source
        [aitken1936].
    Example
        >>> study = goodflight.weigh(goodflight.load("fieldfare"), flights=100)
        >>> len(study.readings)
        3
    """
    case, figures = measured_case(project, plan)
    design = case_of(replace(project, weighings=WeighingsFile(), weighed=None), plan)
    built = as_built(as_measured(project)[0])
    laid = (layout_of(design), layout_of(case))
    doubts = findings_of(built, laid[0].length_m, project) if built is not None else ()
    before = evaluate(fly_trials(design, flights, seed))
    now = ledger_of(case, flights, seed, remedies=False)
    nexts, stop = next_of(now)
    return ScaleStudy(
        rocket=case.rocket.name,
        plan=case.plan,
        invented=case.origin.invented,
        readings=tuple(map(_reading, built.readings)) if built is not None else (),
        misfit=built.misfit if built is not None else 0.0,
        agreement=agreement_of(built),
        measured=tuple(map(_measured, figures)),
        findings=doubts + measured_findings(figures, project),
        parts=_parts(design, case),
        figures=_figures((design, case), laid),
        flights=flights,
        rows=_rows(before, now),
        chance_before=judged_alone(before, flights).total.chance,
        chance_now=now.chance,
        next=tuple(replace(each, of=entered_as(project, case, each.key)) for each in nexts),
        stop=stop,
        sheets=_sheets(project, plan, case),
    )


def entered(
    project: Project,
    plan: str | None,
    what: Sequence[str],
    entries: Mapping[str, str | Sequence[str]],
    without: Sequence[str] = (),
) -> dict[str, str]:
    """Texts of the files with one more weighing or reading; what contradicts the rest is refused.

    A part that an entry for the whole holds gets its own mass, taken out of that entry.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - planned flight whose rocket must agree with it. [-]
        what : sequence of str - "all", or parts on the scale; empty = a figure, its entry `of`. [-]
        entries : mapping - other keys of the weighing or reading and what they say. [-]
        without : sequence of str - parts that were not on it. [-]
    Returns
        texts : dict of str - by file, to be written. [-]
    Raises
        ProjectErrors - an entry is not valid; StudyRefused - it contradicts the rest.
    Validity
        Nothing is written.
    Source
        `as_built`.
    """
    text = text_with(project, what, entries, without) if what else with_reading(project, entries)
    texts = taken_out(project, plan, what, entries) | {FILE: text}
    case_of(read_project({**project.texts, **texts}, project.root), plan)
    return texts


def _sheets(project: Project, plan: str | None, case: Case) -> tuple[SheetNow, ...]:
    rows, before = project.weighings.weighing, dict[str, str]()
    if rows:
        earlier = project.weighings.model_copy(update={"weighing": rows[:-1]})
        with suppress(StudyRefused):
            old = of_weighing(replace(project, weighings=earlier), plan)
            before = {each.what: each.stamp for each in old}
    return tuple(
        SheetNow(each.what, each.stamp, before.get(each.what, ""))
        for each in of_weighing(project, plan, case)
    )


def _reading(reading: Reading) -> Weighed:
    return Weighed(
        place=reading.path,
        words=reading.words,
        date=reading.date,
        dimension=reading.dimension,
        value=reading.value,
        sigma=reading.sigma,
        design=reading.design,
        rest=reading.rest,
        apart=reading.apart,
    )


def _measured(figure: MeasuredFigure) -> MeasuredOne:
    return MeasuredOne(
        place=figure.path,
        of=figure.of,
        words=figure.label,
        dimension=figure.dimension,
        read=figure.read,
        readings=figure.readings,
        date=figure.date,
        note=figure.note,
        design=figure.design,
        design_sigma=figure.design_sigma,
        value=figure.value,
        sigma=figure.sigma,
        apart=figure.apart,
    )


def _parts(design: Case, case: Case) -> tuple[PartBuilt, ...]:
    before = {item.name: item for item in design.items}
    return tuple(
        PartBuilt(
            name=item.name,
            design_kg=before[item.name].mass_kg if item.name != NOT_ENTERED else 0.0,
            mass_kg=item.mass_kg,
            sigma_kg=item.mass_sigma_kg,
            station_m=item.station_m,
            station_sigma_m=item.station_sigma_m,
        )
        for item in case.items
    )


def _figures(cases: Sequence[Case], laid: Sequence[Layout]) -> tuple[FigureChanged, ...]:
    bare = [combine(each.items) for each in cases]
    pairs: Mapping[str, tuple[str, list[float]]] = {
        "mass without motor": ("mass", [each.mass_kg for each in bare]),
        "balance without motor": ("length", [each.cg_m for each in bare]),
        "mass ready to fly": ("mass", [each.liftoff_mass_kg for each in laid]),
        "balance ready to fly": ("length", [each.cg_liftoff.station_m for each in laid]),
        "margin at lift-off": ("calibre", [each.margin_liftoff_cal for each in laid]),
        "margin at burnout": ("calibre", [each.margin_burnout_cal for each in laid]),
    }
    return tuple(FigureChanged(name, kind, *values) for name, (kind, values) in pairs.items())


def _rows(before: Sequence[Evaluated], now: Ledger) -> tuple[RowChanged, ...]:
    old = {row.limit.key: int(row.failing.sum()) if row.known else None for row in before}
    return tuple(
        RowChanged(row.key, row.title, old[row.key], _failed(row))
        for row in now.rows
        if row.key in old and old[row.key] != _failed(row)
    )


def _failed(row: Row) -> int | None:
    return None if row.chance is None else row.failed
