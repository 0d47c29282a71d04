"""What is left to build, as jobs: time at the bench, what each waits for, what it leaves to cure.

What the project does not say is asked for, or stands on common practice and is said to.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import product
from typing import Final

from goodflight.project import Project, defaults
from goodflight.project.bench_files import BuildFile
from goodflight.project.calendar_files import WorkplaceTable, day_of
from goodflight.project.workshop_files import StepTable
from goodflight.quantity import Quantity
from goodflight.quantity.said import Convertible
from goodflight.studies.bench.coats import Coat, coats_in
from goodflight.studies.bench.done import done_steps
from goodflight.studies.bench.gluing import HOUR_S, MINUTE_S
from goodflight.studies.bench.order import CURED, Step, find_order
from goodflight.studies.bench.steps import steps_of
from goodflight.studies.calendar.coats import sittings_of
from goodflight.studies.calendar.hours import longest_min
from goodflight.studies.calendar.job import Job
from goodflight.studies.calendar.places import Cure

OUTDOORS: Final = "outdoors"  # what a step with paint needs of its place
DAY_S: Final = 86400.0


@dataclass(frozen=True)
class Ask:
    """A figure that the calendar waits for."""

    key: str
    label: str
    example: str


@dataclass(frozen=True)
class Parcel:
    """Something ordered: the day it is promised for, and one standard deviation [d]."""

    name: str
    day: date
    sigma_d: float


@dataclass(frozen=True)
class Left:
    """All that is left to do. notes : what stands on common practice; done : steps ticked."""

    jobs: tuple[Job, ...]
    parcels: tuple[Parcel, ...]
    asks: tuple[Ask, ...]
    notes: tuple[str, ...]
    done: int


class _Makes:
    """Jobs from steps, with what they lack."""

    def __init__(self, build: BuildFile) -> None:
        self.build = build
        self.asks: dict[str, Ask] = {}
        self.notes: dict[str, None] = {}
        self.coats = coats_in(build)
        self.glues = {glue.name: glue for glue in build.glue}
        self.told: dict[str, StepTable] = {}
        for table in build.step:
            self.told.setdefault(table.name, table)
            if len(table.does) == 1:
                self.told.setdefault(table.does[0], table)

    def ask(self, key: str, label: str, example: str) -> None:
        self.asks.setdefault(key, Ask(key, label, example))

    def minutes(self, table: StepTable) -> float:
        """Time at the bench of a step of the builder's own."""
        if table.takes is None:
            key = f"step[{table.name}].takes"
            self.ask(key, f'time at the bench for "{table.name}"', '"40 min"')
            return 0.0
        return table.takes.value / MINUTE_S

    def cure(self, step: Step) -> tuple[Cure | None, float]:
        """What a step leaves to cure, and how far the activation energy scatters, as a share."""
        if step.glued is None:
            return None, 0.0
        sheet = step.glued.sheet
        if sheet.known == "practice":
            self.notes[f"{sheet.name}: its times are common practice, no sheet entered"] = None
        if sheet.cure_s is None:
            self.ask(f"glue[{sheet.name}].cure", f"full cure of {sheet.name}", '"24 h label"')
            return None, 0.0
        handling = sheet.cure_s if sheet.handling_s is None else min(sheet.handling_s, sheet.cure_s)
        if sheet.handling_s is None:
            self.notes[f"{sheet.name}: no handling time entered, so all waits for the cure"] = None
        glue = self.glues.get(sheet.name)
        damp = None if glue is None or glue.max_humidity is None else glue.max_humidity.value
        made = Cure(
            name=sheet.name,
            handling_h=handling / HOUR_S,
            full_h=sheet.cure_s / HOUR_S,
            reference_k=sheet.reference_k,
            min_k=sheet.min_k,
            activation_j_mol=sheet.activation_j_mol,
            max_humidity=damp,
            dew=True,
            working_s=sheet.working_s,
        )
        return made, sheet.activation_sigma_j_mol / sheet.activation_j_mol

    def painted(self, jobs: list[tuple[Job, Coat]]) -> list[Job]:
        """Painting as sittings, with what the coats do not say."""
        if not jobs:
            return []
        if len(self.coats) < 2:
            words = f"{jobs[0][0].title}: one sitting; recoat windows count once each coat is told"
            self.notes[words] = None
        last = self.coats[-1].key
        for _, coat in jobs:
            can = coat.table
            if can is None or coat.key == last:
                continue
            if can.recoat_min is None:
                key = f"paint[{can.name}].recoat_min"
                self.ask(key, f"earliest next coat after {can.name}", '"1 h label"')
            if can.recoat_max is None:
                self.notes[f"{can.name}: no latest next coat entered, so none is kept"] = None
        self._after_tick(jobs[0][1])
        return sittings_of(jobs, self.build.workplace, longest_min(self.build.person))

    def _after_tick(self, first: Coat) -> None:
        """Say what the plan cannot keep: the window of a coat that is on already."""
        at = self.coats.index(first)
        can = self.coats[at - 1].table if at else None
        if can is not None and can.recoat_max is not None:
            until = can.recoat_max.value / HOUR_S
            self.notes[
                f"{can.name} is on: the next coat within {until:g} h of it is yours to keep, since "
                "no file says when it went on"
            ] = None

    def places(self, key: str, needs: tuple[str, ...], cures: bool) -> tuple[str, ...]:
        """Where it may be done: where the step says, where the coat does, else what fits."""
        table, there = self.told.get(key), self.build.workplace
        named = [coat.place for coat in self.coats if coat.key == key and coat.place]
        if table is not None and table.workplace is not None:
            named = [table.workplace]
        if not named:
            indoors = [place.name for place in there if place.kind == "indoor"]
            roofed = [place.name for place in there if place.kind != "outdoor"]
            airy = [name for name in roofed if name not in indoors]
            named = airy if airy and {"dust", OUTDOORS} & set(needs) else roofed
        if not cures:
            return tuple(named)
        known = tuple(name for name in named if any(_warm(p) for p in there if p.name == name))
        if not known:
            for name in named or ["shed"]:
                words = f"temperature of the {name}"
                self.ask(
                    f"workplace[{name}].temperature",
                    words,
                    Convertible('"[[9 degC ± 2 degC|48 degF ± 4 degF]]"'),
                )
        return known


def _warm(place: WorkplaceTable) -> bool:
    return place.temperature is not None or bool(place.month) or bool(place.day)


def _of(quantity: Quantity | None, left_out: float) -> float:
    return left_out if quantity is None else quantity.value


def left_to_do(project: Project, plan: str | None, build: BuildFile) -> Left:
    """Every step that is not ticked, with its access turned into what must come later."""
    makes = _Makes(build)
    all_steps = steps_of(project, plan)
    order = find_order(all_steps)
    done = {key for key, each in done_steps(project).items() if each.done}
    open_ = [step for step in order if step.key not in done]
    parcels = _parcels(makes, build, {step.key for step in all_steps})
    single, either = _access(open_)
    here = {step.key for step in open_}
    jobs: list[Job] = []
    painted: list[tuple[Job, Coat]] = []
    coats = {coat.key: coat for coat in makes.coats}
    for step in open_:
        cure, sigma = makes.cure(step)
        table = makes.told.get(step.key)
        before = dict.fromkeys([*(k for k in step.after if k in here), *single.get(step.key, ())])
        if step.takes_known == "guess":
            makes.notes["times at the bench that you did not measure are guesses"] = None
        job = Job(
            key=step.key,
            title=step.title,
            minutes=step.takes_s / MINUTE_S,
            minutes_sigma=step.takes_sigma_s / max(step.takes_s, 1.0),
            guessed=step.takes_known == "guess",
            after=tuple(before),
            waits_cured=step.waits_for == CURED,
            either=either.get(step.key, ()),
            cure=cure,
            cure_sigma=sigma,
            places=makes.places(step.key, step.place_needs, cure is not None),
            parcels=tuple(
                each.name for each in build.delivery if step.key in each.steps and not each.arrived
            ),
            no_return=bool(step.closes),
            may_be_cut=bool(table and table.may_be_cut),
            without=tuple(table.without) if table else (),
            sprayed=OUTDOORS in step.place_needs,
        )
        coat = coats.get(step.key)
        if coat is None:
            jobs.append(job)
        else:
            painted.append((job, coat))
            if not here & {each.key for each in makes.coats[makes.coats.index(coat) + 1 :]}:
                jobs += makes.painted(painted)
    jobs += _own(makes, build, {step.key for step in all_steps}, done)
    return Left(
        tuple(jobs),
        parcels,
        tuple(makes.asks.values()),
        tuple(makes.notes),
        len(all_steps) - len(open_),
    )


def _own(makes: _Makes, build: BuildFile, keys: set[str], done: set[str]) -> list[Job]:
    """Steps of the builder's own, one after the other as they are written."""
    jobs: list[Job] = []
    for table in build.step:
        if table.done or table.does or table.name in keys or table.name in done:
            continue
        before = (jobs[-1].key,) if jobs else ()
        sigma = 0.0 if table.takes is None else defaults.sigma_of("time", table.takes)
        minutes = makes.minutes(table)
        jobs.append(
            Job(
                table.name,
                table.name,
                minutes,
                sigma / (MINUTE_S * minutes) if minutes else 0.0,
                after=before,
                places=makes.places(table.name, (), False),
                may_be_cut=table.may_be_cut,
                without=tuple(table.without),
            )
        )
    return jobs


def _parcels(makes: _Makes, build: BuildFile, keys: set[str]) -> tuple[Parcel, ...]:
    found = []
    own = {table.name for table in build.step}
    for each in build.delivery:
        day = day_of(each.day)
        strange = [key for key in each.steps if key not in keys | own]
        for key in strange:
            makes.ask(
                f"delivery[{each.name}].steps",
                f'"{key}" is no step of `goodflight order`',
                f'["{min(keys)}"]',
            )
        if day is None:
            makes.ask(f"delivery[{each.name}].day", f"the day {each.name} comes", '"2026-10-02"')
        elif not each.arrived:
            if each.spread is None:
                makes.notes[
                    f"{each.name}: no spread entered, so it is taken to come on its day"
                ] = None
            found.append(Parcel(each.name, day, _of(each.spread, 0.0) / DAY_S))
    return tuple(found)


def _access(
    steps: Sequence[Step],
) -> tuple[dict[str, list[str]], dict[str, tuple[tuple[str, ...], ...]]]:
    """What closes a way must come after what needs it: for sure, or one of several must."""
    closers: dict[str, list[str]] = {}
    for step in steps:
        for door in step.closes:
            closers.setdefault(door, []).append(step.key)
    single: dict[str, list[str]] = {}
    either: dict[str, tuple[tuple[str, ...], ...]] = {}
    earlier = _ancestors(steps)
    for step in steps:
        for reach in step.reaches:
            ways = [[k for k in closers.get(door, []) if k != step.key] for door in reach.doors]
            if any(not way for way in ways):
                continue
            for pick in product(*ways):
                later = tuple(dict.fromkeys(k for k in pick if k not in earlier[step.key]))
                if len(later) == 1:
                    single.setdefault(later[0], []).append(step.key)
                elif later:
                    either[step.key] = (*either.get(step.key, ()), later)
    return single, either


def _ancestors(steps: Sequence[Step]) -> dict[str, set[str]]:
    after = {step.key: set(step.after) for step in steps}
    found: dict[str, set[str]] = {}

    def of(key: str) -> set[str]:
        if key not in found:
            found[key] = set()
            for each in after.get(key, set()):
                found[key] |= {each} | of(each)
        return found[key]

    return {step.key: of(step.key) for step in steps}
