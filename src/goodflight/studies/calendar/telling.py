"""A plan of work told: steps at their days, the chain that sets the finish, what it stands on."""

from collections.abc import Collection, Iterator
from datetime import date

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.structure import time_factor
from goodflight.quantity.said import Convertible
from goodflight.studies.calendar.clash import celsius
from goodflight.studies.calendar.hours import MINUTES
from goodflight.studies.calendar.job import Job
from goodflight.studies.calendar.jobs import Left
from goodflight.studies.calendar.places import HOURS, Place
from goodflight.studies.calendar.problem import NEVER, Ints
from goodflight.studies.calendar.results import CalendarStep, Link
from goodflight.studies.calendar.retime import Conditions
from goodflight.studies.calendar.setting import OVERRUN, Builds, Planned, job_traces
from goodflight.studies.calendar.solve import Solved


def steps_told(
    plan: Planned, solved: Solved, slack: NDArray[np.int64], chain: Collection[str]
) -> tuple[CalendarStep, ...]:
    """Every step at its day, in the order of time; within a sitting in the order of work."""
    found, which = job_traces(plan, Builds(1))
    spent: dict[int, float] = {}
    rows = []
    for i in sorted(range(len(plan.jobs)), key=lambda i: _turn(plan, solved, i)):
        t, job = int(solved.start[i]), plan.jobs[i]
        begin = plan.begins_min(t) % (HOURS * MINUTES) + spent.get(t, 0.0)
        spent[t] = spent.get(t, 0.0) + job.minutes
        name = job.places[int(which[i][0, t])] if job.places else ""
        place = plan.setting.places.get(name)
        kelvin = _kelvin(place, begin, int(plan.slots.day[t]))
        rows.append(
            CalendarStep(
                key=job.key,
                title=job.title,
                day=_iso(plan, int(plan.slots.day[t])),
                begins=clock(begin),
                ends=clock(begin + job.minutes),
                person=plan.setting.people[int(plan.slots.person[t])].name,
                minutes=job.minutes,
                place=name,
                place_k=None if kelvin is None else round(kelvin, 2),
                glue=job.cure.name if job.cure else "",
                touch=_iso(plan, int(found[i].touch[0, t])),
                cured=_iso(plan, int(found[i].cured[0, t])),
                slack_days=int(slack[i]),
                critical=job.key in chain,
                no_return=job.no_return,
                spare_days=_spare(plan, i, solved, [trace.touch[0] for trace in found]),
                late=t in solved.late,
                working_min=_working_min(job, kelvin),
            )
        )
    return tuple(rows)


def _turn(plan: Planned, solved: Solved, i: int) -> tuple[int, bool, int, int]:
    """Place of a step in the telling: a coat with a window to keep comes first in its sitting."""
    slot = int(solved.start[i])
    waits = any(k == i and solved.start[j] == slot for k, j in plan.after)
    kept = any(k == i for k, _ in plan.within) and not waits
    return slot, not kept, _depth(plan, i), i


def _depth(plan: Planned, i: int) -> int:
    before = [j for k, j in plan.after if k == i]
    return 1 + max((_depth(plan, j) for j in before), default=-1)


def clock(minutes: float) -> str:
    """Minutes after midnight as a time of day."""
    whole = round(minutes) % (HOURS * MINUTES)
    return f"{whole // MINUTES:02d}:{whole % MINUTES:02d}"


def _iso(plan: Planned, number: int) -> str:
    return "" if number >= NEVER else plan.setting.date_of(number).isoformat()


def _kelvin(place: Place | None, minute: float, day: int) -> float | None:
    if place is None:
        return None
    hour = min(int(minute) // MINUTES, HOURS - 1) + HOURS * day
    found = float(place.temperature_k(np.zeros(1))[0, hour])
    return found if np.isfinite(found) else None


def _working_min(job: Job, kelvin: float | None) -> float | None:
    cure = job.cure
    if cure is None or cure.working_s is None or kelvin is None:
        return None
    slower = float(time_factor(kelvin, cure.activation_j_mol, cure.reference_k))
    return round(cure.working_s / 60.0 * slower, 1)


def _spare(plan: Planned, i: int, solved: Solved, touch: list[Ints]) -> int | None:
    before = [int(touch[j][solved.start[j]]) for k, j in plan.after if k == i]
    if not plan.jobs[i].no_return or not before:
        return None
    return int(plan.slots.day[solved.start[i]]) - max(before)


def chain_of(plan: Planned, drawn: Conditions, start: Ints, shown: Ints) -> tuple[Link, ...]:
    """From the last to finish back to the first: what each step waited for, told first to last.

    start : slots with every step as early as it can be; shown : those of the plan, for the days.
    """
    cured = [
        int(trace.cured[0, min(t, len(trace.cured[0]) - 1)])
        for trace, t in zip(drawn.traces, start)
    ]
    at = int(np.argmax(cured))
    links: list[Link] = [Link("", _end(plan, at, cured[at]))]
    seen: set[int] = set()
    while at not in seen:
        seen.add(at)
        cause, words = _cause(plan, drawn, start, at)
        links.append(
            Link(plan.jobs[at].key, f"{_day(plan, shown[at])}: {plan.jobs[at].title}{words}")
        )
        if cause is None:
            break
        at = cause
    return tuple(reversed(links))


def _end(plan: Planned, i: int, cured: int) -> str:
    job = plan.jobs[i]
    what = f"{job.cure.name} has cured" if job.cure else "all is done"
    return f"{_date(plan.setting.date_of(cured))}: {what}, ready to fly"


def _date(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"


def _day(plan: Planned, slot: int) -> str:
    return _date(plan.setting.date_of(int(plan.slots.day[slot])))


def _cause(plan: Planned, drawn: Conditions, start: Ints, i: int) -> tuple[int | None, str]:
    """The step that this one waited for, and in words."""
    at, job = int(start[i]), plan.jobs[i]
    waits = {
        j: int((trace.whole if (i, j) in plan.full else trace.ready)[0, start[j]])
        for k, j in plan.after
        if k == i
        for trace in (drawn.traces[j],)
    }
    bound = max(waits.values(), default=0)
    parcel = int(drawn.first[0, i])
    if parcel >= bound and parcel > 0 and _next_open(plan, drawn, i, parcel) == at:
        return None, f", once {' and '.join(job.parcels)} has come"
    if bound and _next_open(plan, drawn, i, bound) == at and bound > max(parcel - 1, 0):
        j = max(waits, key=lambda j: waits[j])
        cold = at > bound
        cure = plan.jobs[j].cure
        words = f', once the {cure.name} of "{plan.jobs[j].title}" may be handled' if cure else ""
        return j, words + (", the first sitting warm, dry and light enough" if cold else "")
    before = [
        k
        for k in range(len(plan.jobs))
        if max(bound, parcel) <= start[k] < at or (start[k] == at and k in waits)
    ]
    if not before:
        return None, "" if at == 0 else ", the first sitting warm, dry and light enough"
    j = max(before, key=lambda k: (int(start[k]), k in waits))
    return j, "" if j in waits else ", the next free sitting"


def _next_open(plan: Planned, drawn: Conditions, i: int, least: int) -> int:
    """First slot from `least` on that is allowed and, empty, long enough."""
    trace, minutes = drawn.traces[i], drawn.minutes[0, i]
    fits = trace.allowed[0] & (drawn.room[0] >= minutes)
    found = np.flatnonzero(fits[least:])
    return int(found[0]) + least if len(found) else NEVER


def stands_on(plan: Planned, left: Left) -> tuple[str, ...]:
    """What the plan and its chance stand on, in sentences."""
    places = plan.setting.places
    used = _cures_in(plan)
    told = [
        f"{name}: {places[name].told}, ± {places[name].sigma_k:.1f} K, one error for all days"
        for name in used
    ]
    if left.done:
        told.append(f"{left.done} steps ticked are taken as cured")
    return (
        *left.notes,
        *told,
        f"time at the bench: ± {100 * OVERRUN:.0f} % together where guessed, each step by its own",
        "a cure counts from the end of the sitting; what builds on it waits for the next one",
    )


def warnings_of(plan: Planned, steps: Collection[CalendarStep]) -> tuple[str, ...]:
    """What to look at: glue that sets too soon, daylight, days without a temperature."""
    return tuple(map(Convertible, dict.fromkeys(_warnings(plan, steps))))


def _warnings(plan: Planned, steps: Collection[CalendarStep]) -> Iterator[str]:
    setting = plan.setting
    for step in steps:
        if step.working_min is not None and step.minutes > step.working_min:
            at = "its place" if step.place_k is None else celsius(step.place_k)
            yield (
                f'"{step.title}": {step.minutes:.0f} min at the bench, the glue leaves '
                f"{step.working_min:.0f} min at {at}: mix it last, or in two goes"
            )
    for name in _cures_in(plan):
        count = int(np.sum(~np.isfinite(setting.places[name].mean_k)))
        if count:
            yield f"temperature of the {name} is not known on {count} days: nothing cures then"
    used = {name for job in plan.jobs for name in job.places}
    outdoors = any(setting.places[name].kind == "outdoor" for name in used)
    if setting.where is not None and outdoors and isinstance(setting.where.zone, float):
        yield (
            f"sunrise and sunset are by a clock {setting.where.zone:g} h ahead of universal time "
            "on every day: where the clock is changed before the last of them, write the zone's "
            'name in build.toml, like "Europe/Berlin"'
        )
    if setting.where is None and outdoors:
        yield (
            "daylight is not known, so nothing is planned outdoors: it needs zone in build.toml, "
            "and the pad of the field as longitude and latitude"
        )


def _cures_in(plan: Planned) -> list[str]:
    return sorted({name for job in plan.jobs if job.cure is not None for name in job.places})


def not_known(plan: Planned) -> tuple[str, ...]:
    """What is not known and may only make the chance lower."""
    found = []
    for name in _cures_in(plan):
        place = plan.setting.places[name]
        if not np.isfinite(place.humidity).any():
            found.append(f"humidity of the {name}, so the dew point is not checked")
        if place.kind != "indoor" and bool(np.all(place.night_k == place.mean_k)):
            found.append(f"nights in the {name}, taken as warm as its days")
    found += [f"spread of {each.name}" for each in plan.setting.parcels if each.sigma_d == 0.0]
    return tuple(found)
