"""All a calendar stands on: jobs, people's sittings, places, parcels; what a lever changes."""

import math
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Final
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.sun import julian_day, sun_rises_s, sun_sinks_s
from goodflight.project.calendar_files import PersonTable
from goodflight.project.zones import ahead_h
from goodflight.studies.calendar.hours import MINUTES, sitting_of
from goodflight.studies.calendar.job import Job
from goodflight.studies.calendar.jobs import Parcel
from goodflight.studies.calendar.places import HOURS, Place
from goodflight.studies.calendar.problem import Problem
from goodflight.studies.calendar.retime import Conditions, Slots, Traces, best_of, traces
from goodflight.studies.sampling.workshop import glue_pace

Array = NDArray[np.float64]
OVERRUN: Final = glue_pace.spread.sigma  # the same guess as the ledger's: a first time


@dataclass(frozen=True)
class Where:
    """Longitude and latitude of the workshop [deg], and its clock: hours ahead, or a zone."""

    longitude: float
    latitude: float
    zone: float | str


@dataclass(frozen=True)
class Setting:
    """What is to be planned. warm : job -> (temperature it is held at [K], nights);
    longer : minutes more for every sitting; relaxed : names of rules left out of account."""

    jobs: tuple[Job, ...]
    people: tuple[PersonTable, ...]
    places: Mapping[str, Place]
    parcels: tuple[Parcel, ...]
    first: date
    days: int
    where: Where | None = None
    warm: Mapping[str, tuple[float, int]] = field(default_factory=dict)
    longer: int = 0
    relaxed: frozenset[str] = frozenset()

    def day_number(self, day: date) -> int:
        """The number of a day, 0 on the first."""
        return (day - self.first).days

    def date_of(self, number: int) -> date:
        """The date of a day by its number."""
        return self.first + timedelta(days=int(number))


@dataclass(frozen=True, eq=False)
class Builds:
    """Standard-normal scores by name, the same for every setting with the same seed."""

    count: int
    seed: int = 1
    kept: dict[Hashable, Traces] = field(default_factory=dict)  # traces worked out before

    def of(self, name: str) -> Array:
        """(count,) scores; zero where there is only one build, the middle of everything."""
        if self.count == 1:
            return np.zeros(1)
        return np.random.default_rng([self.seed, crc32(name.encode())]).standard_normal(self.count)


def slots_of(setting: Setting) -> Slots:
    """Every sitting of every person in the days of the calendar, in the order they begin."""
    rows: list[tuple[int, ...]] = []
    for n in range(setting.days):
        day = setting.date_of(n)
        for who, person in enumerate(setting.people):
            minutes, late, begins = sitting_of(person, day.weekday())
            if day.isoformat() in person.off and "off" not in setting.relaxed:
                continue
            if "hours" in setting.relaxed:
                minutes, late = HOURS * MINUTES, 0
            elif minutes:
                minutes += setting.longer
            if minutes <= 0:
                continue
            ends = begins + (minutes + late) / MINUTES
            light = "light" in setting.relaxed or _light(setting, day, begins, ends)
            rows.append(
                (
                    n,
                    HOURS * n + math.floor(begins),
                    HOURS * n + math.ceil(ends),
                    minutes,
                    late,
                    who,
                    light,
                )
            )
    columns = np.array(sorted(rows, key=lambda row: row[1]), dtype=np.int64).reshape(-1, 7).T
    end = (
        np.minimum(columns[2], HOURS * (columns[0] + 1))
        if "hours" in setting.relaxed
        else columns[2]
    )
    return Slots(
        day=columns[0],
        begin_h=columns[1],
        end_h=end,
        capacity=columns[3],
        extra=columns[4],
        person=columns[5],
        light=columns[6].astype(bool),
        days=setting.days,
        some_hour="hours" in setting.relaxed,
    )


def _light(setting: Setting, day: date, begins: float, ends: float) -> bool:
    """Whether all of a sitting lies between sunrise and sunset; where that is not known, it does
    not."""
    w = setting.where
    if w is None:
        return False
    start = julian_day(day.year, day.month, day.day)
    at = start, math.radians(w.latitude), math.radians(w.longitude)
    up, down = sun_rises_s(*at), sun_sinks_s(*at)
    if up is None or down is None:
        return False
    hour, ahead = float(MINUTES * MINUTES), ahead_h(w.zone, day)
    return up / hour + ahead <= begins and ends <= down / hour + ahead


def split(jobs: tuple[Job, ...], longest: int) -> tuple[Job, ...]:
    """Jobs cut to sittings; a glue-up stays whole, since glue does not wait."""
    found: list[Job] = []
    for job in jobs:
        parts = math.ceil(job.minutes / longest) if longest else 1
        if parts <= 1 or (job.cure is not None and job.cure.working_s is not None):
            found.append(job)
            continue
        each = job.minutes / parts
        for n in range(1, parts + 1):
            key = job.key if n == parts else f"{job.key}/{n}"
            before = job.after if n == 1 else (f"{job.key}/{n - 1}",)
            found.append(
                replace(
                    job,
                    key=key,
                    title=f"{job.title} ({n} of {parts})",
                    minutes=each,
                    after=before,
                    either=job.either if n == parts else (),
                    cure=job.cure if n == parts else None,
                    waits_cured=job.waits_cured and n == 1,
                    recoat_h=job.recoat_h if n == parts else None,
                    parcels=job.parcels if n == 1 else (),
                    no_return=job.no_return and n == 1,
                )
            )
    return tuple(found)


@dataclass(frozen=True, eq=False)
class Planned:
    """A setting made ready to be solved and timed. place : (task, slot) -> number of its place."""

    setting: Setting
    jobs: tuple[Job, ...]
    slots: Slots
    after: tuple[tuple[int, int], ...]
    full: tuple[tuple[int, int], ...]
    either: tuple[tuple[int, tuple[int, ...]], ...]
    within: tuple[tuple[int, int], ...] = ()

    def begins_min(self, slot: int) -> float:
        """When a sitting begins, from the calendar's first midnight [min]."""
        day, person = int(self.slots.day[slot]), self.setting.people[int(self.slots.person[slot])]
        hour = sitting_of(person, self.setting.date_of(day).weekday())[2]
        return MINUTES * (HOURS * day + hour)

    def latest(self) -> NDArray[np.int64]:
        """Last slot in which the next coat may go on, for every job and slot: (n, t).

        A coat may be done at the head of its sitting, and the next one is at the head of its own.
        """
        slots = self.slots
        found = np.full((len(self.jobs), len(slots.day)), len(slots.day) - 1)
        begins = np.array([self.begins_min(t) for t in range(len(slots.day))]) / MINUTES
        for j in {j for _, j in self.within}:
            until = begins + self.jobs[j].minutes / MINUTES + (self.jobs[j].recoat_h or 0.0)
            at = np.searchsorted(begins, until, side="right") - 1
            found[j] = np.maximum(at, np.arange(len(slots.day)))
        return found


def planned(setting: Setting) -> Planned:
    """Slots, jobs cut to them, and who waits for whom."""
    slots = slots_of(setting)
    longest = int((slots.capacity + slots.extra).max(initial=0))
    jobs = split(setting.jobs, longest)
    index = {job.key: i for i, job in enumerate(jobs)}
    after = tuple((index[j.key], index[k]) for j in jobs for k in j.after if k in index)
    either = tuple(
        (index[j.key], tuple(index[k] for k in later))
        for j in jobs
        for later in j.either
        if all(k in index for k in later)
    )
    if "order" in setting.relaxed:
        after, either = (), ()
    full = tuple((i, j) for i, j in after if jobs[i].waits_cured)
    within = tuple(
        (i, j)
        for i, j in after
        if jobs[j].recoat_h is not None and f"recoat:{jobs[j].key}" not in setting.relaxed
    )
    return Planned(
        setting=setting,
        jobs=jobs,
        slots=slots,
        after=after,
        full=full,
        either=either,
        within=within,
    )


def job_traces(
    plan: Planned, builds: Builds
) -> tuple[tuple[Traces, ...], tuple[NDArray[np.int64], ...]]:
    """What each job leaves in each slot, at the place that is ready first, and which that is."""
    kept: dict[object, tuple[Traces, NDArray[np.int64]]] = {}
    found = []
    for job in plan.jobs:
        warm = plan.setting.warm.get(job.key)
        key = job.cure, job.places, warm
        if key not in kept:
            kept[key] = best_of(
                [_trace(plan, job, name, builds, warm) for name in job.places or ("",)]
            )
        found.append(kept[key])
    return tuple(one for one, _ in found), tuple(which for _, which in found)


def _trace(
    plan: Planned, job: Job, name: str, builds: Builds, warm: tuple[float, int] | None
) -> Traces:
    place, relaxed = plan.setting.places.get(name), plan.setting.relaxed
    cure = None if job.cure is not None and f"cure:{job.cure.name}" in relaxed else job.cure
    zero = np.zeros(builds.count)
    offset = zero if place is None else place.sigma_k * builds.of(f"warmth:{name}")
    moist = zero if place is None else place.humidity_sigma * builds.of(f"damp:{name}")
    pace = (
        zero + 1.0 if job.cure is None else 1.0 + job.cure_sigma * builds.of(f"Ea:{job.cure.name}")
    )
    slots = plan.slots
    key = cure, job.cure_sigma, place, warm, slots.end_h.tobytes(), slots.light.tobytes()
    if key not in builds.kept:
        builds.kept[key] = traces(
            slots, cure, place, offset_k=offset, pace=pace, moist=moist, warm=warm
        )
    found = builds.kept[key]
    if f"cold:{name}" in relaxed:
        found = replace(found, allowed=np.ones_like(found.allowed))
    return found


def conditions(plan: Planned, builds: Builds) -> Conditions:
    """What every draw makes of times at the bench, cures and parcels."""
    slots, setting = plan.slots, plan.setting
    common = OVERRUN * builds.of("overrun")
    longer = np.stack(
        [
            np.exp(job.guessed * common + job.minutes_sigma * builds.of(f"overrun:{job.key}"))
            for job in plan.jobs
        ],
        axis=1,
    )
    minutes = longer * np.array([job.minutes for job in plan.jobs])[None, :]
    room = np.broadcast_to(slots.capacity.astype(np.float64), (builds.count, len(slots.day)))
    found, _ = job_traces(plan, builds)
    return Conditions(minutes, room, _first(plan, builds, setting), found)


def _first(plan: Planned, builds: Builds, setting: Setting) -> NDArray[np.int64]:
    """First slot of every job that its parcels allow, for each draw: (d, n)."""
    comes = {
        each.name: np.maximum(
            np.ceil(
                setting.day_number(each.day)
                + each.sigma_d * builds.of(f"parcel:{each.name}")
                - 1e-9
            ),
            0.0,
        )
        for each in setting.parcels
        if f"parcel:{each.name}" not in setting.relaxed
    }
    first = np.zeros((builds.count, len(plan.jobs)), dtype=np.int64)
    for i, job in enumerate(plan.jobs):
        for name in job.parcels:
            if name in comes:
                at = np.searchsorted(plan.slots.day, comes[name])
                first[:, i] = np.maximum(first[:, i], at)
    return first


def problem_of(plan: Planned) -> Problem:
    """The plan under its own figures, for the solver."""
    middle = Builds(1)
    found, _ = job_traces(plan, middle)
    first = _first(plan, middle, plan.setting)[0]
    slots = plan.slots
    after_first = np.arange(len(slots.day))[None, :] >= first[:, None]
    allowed = np.stack([each.allowed[0] for each in found]) & after_first
    return Problem(
        minutes=np.ceil([job.minutes for job in plan.jobs]).astype(np.int64),
        capacity=slots.capacity,
        extra=slots.extra,
        day=slots.day,
        allowed=allowed,
        ready=np.stack([each.ready[0] for each in found]),
        touch=np.stack([each.touch[0] for each in found]),
        cured=np.stack([each.cured[0] for each in found]),
        whole=np.stack([each.whole[0] for each in found]),
        after=plan.after,
        full=plan.full,
        either=plan.either,
        keep=tuple(i for i, job in enumerate(plan.jobs) if job.no_return),
        within=plan.within,
        latest=plan.latest(),
    )
