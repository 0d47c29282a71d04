"""A calendar of the build, proven best, and the chance of being ready on launch day."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Final

import numpy as np

from goodflight.project import Project
from goodflight.project.bench_files import BuildFile
from goodflight.project.calendar_files import ForecastTable, day_of
from goodflight.studies.calendar.chance import (
    BUILDS,
    Policy,
    chance_by,
    effects,
    finish_of,
    slacks,
)
from goodflight.studies.calendar.clash import clash
from goodflight.studies.calendar.cutting import cuts
from goodflight.studies.calendar.jobs import Ask, Left, left_to_do
from goodflight.studies.calendar.later import explained
from goodflight.studies.calendar.places import place_of
from goodflight.studies.calendar.results import CalendarStudy, Wanted
from goodflight.studies.calendar.retime import Conditions
from goodflight.studies.calendar.setting import (
    Builds,
    Planned,
    Setting,
    Where,
    conditions,
    planned,
    problem_of,
)
from goodflight.studies.calendar.solve import Solved, late_of, solve
from goodflight.studies.calendar.telling import (
    chain_of,
    not_known,
    stands_on,
    steps_told,
    warnings_of,
)
from goodflight.studies.refusal import StudyRefused

WEEKS: Final = 12  # planned ahead where no launch day is entered
BEYOND_D: Final = 42  # days after launch day that are looked at, for what is ready too late
MOST_DAYS: Final = 400


def calendar(
    project: Project,
    plan: str | None = None,
    start: str = "",
    builds: int = BUILDS,
    forecasts: Mapping[str, tuple[ForecastTable, ...]] | None = None,
) -> CalendarStudy:
    """When is what done, does launch day hold, how likely, and what helps?

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - whose rocket; None takes the first. [-]
        start : str - first day of work, year-month-day; empty = as build.toml says. [-]
        builds : int - simulated builds behind the chance. [-]
        forecasts : mapping or None - by workplace, before what build.toml says of those days. [-]
    Returns
        study : CalendarStudy - the plan, its slack, chain, chance and levers. [-]
    Raises
        StudyRefused - no first day is given, or it is no day, or launch day is before it, or a
            forecast is for no workplace
    Validity
        Work in whole sittings; a step stays in its order when the plan is timed anew.
    Source
        Time-indexed scheduling, solved to proof; Arrhenius cure of the ledger.
    Example
        >>> goodflight.calendar(goodflight.load("fieldfare"), start="2026-09-01").state
        'built'
    """
    build = _forecast(project.build or BuildFile(), forecasts or {})
    first = _first(build, start)
    launch = day_of(build.launch_day)
    left = left_to_do(project, plan, build)
    asks = (*_people_asked(build), *left.asks) if left.jobs else ()
    if not left.jobs:
        return _nothing(project, left, first, launch, state="built", asks=())
    if asks:
        return _nothing(project, left, first, launch, state="not known", asks=asks)
    if launch is not None and launch <= first:
        found = f"launch day {launch.isoformat()} is not after the first day {first.isoformat()}"
        raise StudyRefused(found, "a first day before it", "give --from, or correct launch_day")
    days = BEYOND_D + ((launch - first).days if launch else 7 * WEEKS)
    if days > MOST_DAYS:
        raise StudyRefused(f"{days} days", f"at most {MOST_DAYS} days", "plan from a later day")
    setting = Setting(
        jobs=left.jobs,
        people=tuple(build.person),
        places={table.name: place_of(table, first, days) for table in build.workplace},
        parcels=left.parcels,
        first=first,
        days=days,
        where=_where(project, build, plan),
    )
    return _study(
        project,
        name=plan,
        build=build,
        left=left,
        setting=setting,
        launch=launch,
        builds=builds,
    )


def _forecast(build: BuildFile, told: Mapping[str, tuple[ForecastTable, ...]]) -> BuildFile:
    """The workshop with forecasts of its places."""
    names = [place.name for place in build.workplace]
    for name in told:
        if name not in names:
            there = ", ".join(names) or "none is entered"
            raise StudyRefused(
                f'forecast for "{name}"', f"a workplace ({there})", "name one", "--forecast"
            )
    places = [p.changed(day=[*told.get(p.name, ()), *p.day]) for p in build.workplace]
    return build.changed(workplace=places) if told else build


def _first(build: BuildFile, start: str) -> date:
    try:
        found = date.fromisoformat(start) if start else day_of(build.starts)
    except ValueError:
        found = None
    if found is None:
        raise StudyRefused(
            f'"{start}"' if start else "no first day",
            "a day like 2026-09-01",
            "give it with --from, or write starts in build.toml",
        )
    return found


def _people_asked(build: BuildFile) -> Iterable[Ask]:
    if not any(p.evening or p.weekend or p.hours_per_week for p in build.person):
        who = build.person[0].name if build.person else "builder"
        yield Ask(f"person[{who}].evening", "time at the bench on an evening", '"2 h"')
        yield Ask(f"person[{who}].weekend", "time at the bench on a weekend day", '"4 h"')


def _where(project: Project, build: BuildFile, plan: str | None) -> Where | None:
    if build.zone is None:
        return None
    for head, *_ in project.site_files.values():
        if head.coordinates == "lonlat" and head.pad is not None:
            return Where(head.pad[0], head.pad[1], build.zone)
    return None


def _nothing(
    project: Project,
    left: Left,
    first: date,
    launch: date | None,
    state: str,
    asks: Iterable[Ask],
) -> CalendarStudy:
    """A calendar without a plan: all is built, or figures are missing."""
    return CalendarStudy(
        rocket=project.name,
        invented=project.invented,
        state=state,
        first=first.isoformat(),
        launch=_iso(launch),
        ready="",
        slack_days=None,
        done=left.done,
        proven=False,
        earliest="",
        spare_days=0,
        late_evenings=0,
        steps=(),
        chain=(),
        clash=(),
        at_most=(),
        chances=(),
        levers=(),
        cuts=(),
        builds=0,
        stands_on=left.notes,
        warnings=(),
        wanted=tuple(Wanted(each.key, each.label, each.example) for each in asks),
    )


def _iso(day: date | None) -> str:
    return "" if day is None else day.isoformat()


def _study(
    project: Project,
    name: str | None,
    build: BuildFile,
    left: Left,
    setting: Setting,
    launch: date | None,
    builds: int,
) -> CalendarStudy:
    plan = planned(setting)
    solved = solve(problem_of(plan), setting.days) if len(plan.slots.day) else None
    number = setting.days if launch is None else setting.day_number(launch)
    told = _nothing(project, left, first=setting.first, launch=launch, state="impossible", asks=())
    late = solved is None or solved.finish > number
    why = clash(setting, launch or setting.date_of(setting.days)) if late else ()
    stands = stands_on(plan, left)
    if solved is None:
        warned = (*_membership(project, name, launch), *warnings_of(plan, ()))
        return replace(told, clash=why, stands_on=stands, warnings=warned)
    policy = _policy(plan, solved)
    drawn = conditions(plan, Builds(1))
    solved = _tidy(plan, policy, drawn, solved)
    start, _ = policy.timed(plan, drawn)
    chain = chain_of(plan, drawn, start[0], solved.start)
    limit = number if launch is not None and not late else solved.finish
    slack = slacks(plan, policy, drawn, start[0], limit)
    steps = steps_told(plan, solved, slack, {link.key for link in chain})
    many = Builds(builds)
    days = [launch] if launch else []
    days += sorted(
        d
        for d in (day_of(each.day) for each in build.range_day)
        if d and d > (launch or setting.first) and setting.day_number(d) < setting.days
    )
    finishes = finish_of(setting, policy, many) if days else np.zeros(0, dtype=np.int64)
    numbers = [setting.day_number(d) for d in days]
    chances = tuple(chance_by(finishes, n, d.isoformat()) for n, d in zip(numbers, days))
    chances = explained(setting, policy, many, finishes, chances=chances, numbers=numbers)
    helps = effects(setting, policy, number, many) if launch else ()
    return replace(
        told,
        state="impossible" if late else "planned",
        ready=setting.date_of(solved.finish).isoformat(),
        slack_days=None if launch is None else number - solved.finish,
        proven=solved.proven,
        earliest=setting.date_of(solved.earliest).isoformat(),
        spare_days=sum(step.spare_days or 0 for step in steps),
        late_evenings=len(solved.late),
        steps=steps,
        chain=chain,
        clash=why,
        at_most=not_known(plan),
        chances=chances,
        levers=helps,
        cuts=cuts(
            project,
            plan=name,
            setting=setting,
            policy=policy,
            launch=number if launch else -1,
            builds=many,
        ),
        builds=builds if days else 0,
        stands_on=stands,
        warnings=(*_membership(project, name, launch), *warnings_of(plan, steps)),
    )


def _membership(project: Project, plan: str | None, launch: date | None) -> tuple[str, ...]:
    """That the membership ends before the launch, where the plan gives its last day."""
    until = day_of(project.plan(plan).says.member_until)
    if until is None or launch is None or launch <= until:
        return ()
    return (f"the membership ends {until}, before launch day: renew it",)


def _policy(plan: Planned, solved: Solved) -> Policy:
    """The order of the plan, to be kept under other conditions."""
    jobs, start = plan.jobs, solved.start
    pairs = tuple((max(later, key=lambda k: int(start[k])), i) for i, later in plan.either)
    depth = [0] * len(jobs)
    for _ in jobs:
        for i, j in (*plan.after, *pairs):
            depth[i] = max(depth[i], depth[j] + 1)
    order = sorted(range(len(jobs)), key=lambda i: (int(start[i]), depth[i], i))
    late = tuple((int(plan.slots.day[t]), int(plan.slots.person[t])) for t in solved.late)
    named = tuple((jobs[i].key, jobs[j].key) for i, j in pairs)
    return Policy(tuple(jobs[i].key for i in order), named, late)


def _tidy(plan: Planned, policy: Policy, drawn: Conditions, solved: Solved) -> Solved:
    """The plan, every step as early as it can be; points of no return and coats stay."""
    first = drawn.first.copy()
    coats = {k for pair in plan.within for k in pair}
    held = [i for i, job in enumerate(plan.jobs) if job.no_return or i in coats]
    first[0, held] = np.maximum(first[0, held], solved.start[held])
    start, _ = policy.timed(plan, replace(drawn, first=first))
    tidied = replace(solved, start=start[0])
    return replace(tidied, late=late_of(problem_of(plan), start[0]))
