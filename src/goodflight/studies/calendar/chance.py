"""The chance of being ready on a day, and what helps, on the same builds."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.quantity.said import Convertible
from goodflight.studies.calendar.places import Place
from goodflight.studies.calendar.problem import NEVER, Ints
from goodflight.studies.calendar.results import LaunchChance, LeverEffect
from goodflight.studies.calendar.retime import Conditions, Traces, retime
from goodflight.studies.calendar.setting import (
    Builds,
    Planned,
    Setting,
    conditions,
    planned,
)
from goodflight.studies.judging.chance import wilson

BUILDS: Final = 400
WARM_K: Final = 291.15  # 18 degC, what a small heater holds in a shed; common practice, no source
NIGHTS: Final = 2
EVENING_MIN: Final = 30
SOONER_D: Final = 7
SHOWN: Final = 6
TIE: Final = 4  # a gain within two standard deviations of the builds that changed tells nothing
AIRED: Final = "a heater without flame or glow, the room aired first: paint vapour burns"
HEAT: Final = "a heater, attended, away from solvents"


@dataclass(frozen=True, eq=False)
class Policy:
    """An order of work, by keys of jobs, that is kept under whatever conditions."""

    keys: tuple[str, ...]
    either: tuple[tuple[str, str], ...]  # (later, earlier), of ways in that one of several shuts
    late: tuple[tuple[int, int], ...] = ()  # (day, person) of evenings that get longer

    def timed(self, plan: Planned, drawn: Conditions) -> tuple[Ints, Ints]:
        """Slots (d, n) and the day all has cured (d,)."""
        index = {job.key: i for i, job in enumerate(plan.jobs)}
        place = {key: n for n, key in enumerate(self.keys)}
        order = sorted(range(len(plan.jobs)), key=lambda i: (_place(place, plan.jobs[i].key), i))
        more = tuple((index[a], index[b]) for a, b in self.either if a in index and b in index)
        slots = plan.slots
        late = [
            t
            for t in np.flatnonzero(slots.extra)
            if (int(slots.day[t]), int(slots.person[t])) in self.late
        ]
        room = drawn.room.copy()
        room[:, late] += slots.extra[late]
        return retime(
            order,
            after=(*plan.after, *more),
            full=plan.full,
            day=slots.day,
            conditions=replace(drawn, room=room),
            within=plan.within,
            latest=plan.latest(),
        )


def _place(place: dict[str, int], key: str) -> int:
    """Where a job stands in the order; a part of a job where the job does."""
    return place.get(key, place.get(key.partition("/")[0], len(place)))


def finish_of(setting: Setting, policy: Policy, builds: Builds) -> Ints:
    """Day by which all has cured, of every draw."""
    plan = planned(setting)
    if not len(plan.slots.day):
        return np.full(builds.count, NEVER)
    return policy.timed(plan, conditions(plan, builds))[1]


def chance_by(finish: Ints, number: int, day: str) -> LaunchChance:
    """The chance of being ready by the morning of a day."""
    count = int(np.sum(finish <= number))
    found = wilson(count, len(finish))
    return LaunchChance(day, found.chance, found.low, found.high)


def middle_finish(setting: Setting, policy: Policy) -> int:
    """Day ready to fly under the plan's own figures, in the same order."""
    return int(finish_of(setting, policy, Builds(1))[0])


def effects(
    setting: Setting, policy: Policy, launch: int, builds: Builds
) -> tuple[LeverEffect, ...]:
    """Every change worth trying, the most helpful first; what gains nothing is left out."""
    before = finish_of(setting, policy, builds) <= launch
    found = []
    for name, cost, changed in levers(setting):
        finish = finish_of(changed, policy, builds)
        each, after = chance_by(finish, launch, ""), finish <= launch
        gain, moved = int(after.sum()) - int(before.sum()), int(np.sum(after != before))
        if gain > 0 and gain * gain > TIE * moved:
            ready = middle_finish(changed, policy)
            told = changed.date_of(ready).isoformat() if ready < NEVER else ""
            found.append(
                LeverEffect(
                    name=Convertible(name),
                    cost=cost,
                    chance=each.chance,
                    low=each.low,
                    high=each.high,
                    gain=gain / builds.count,
                    finish=told,
                )
            )
    return tuple(sorted(found, key=lambda each: -each.chance))[:SHOWN]


def levers(setting: Setting) -> Iterator[tuple[str, str, Setting]]:
    """Name, cost and setting of each change."""
    for name, place in setting.places.items():
        glued = [job for job in setting.jobs if job.cure is not None and name in job.places]
        if place.kind == "outdoor" or not glued or not np.nanmin(place.night_k) < WARM_K:
            continue
        for job in glued:
            yield (
                f'warm the {name} to [[18 °C]] for two nights after "{job.title}"',
                AIRED if job.sprayed else HEAT,
                replace(setting, warm={**setting.warm, job.key: (WARM_K, NIGHTS)}),
            )
        if len(glued) > 1:
            warm = {job.key: (WARM_K, NIGHTS) for job in glued}
            yield (
                f"warm the {name} to [[18 °C]] for two nights after each glue-up there",
                AIRED if any(job.sprayed for job in glued) else HEAT,
                replace(setting, warm={**setting.warm, **warm}),
            )
        for other in _warmer(setting, name):
            moved = {job.key: replace(job, places=(other,)) for job in glued if not job.sprayed}
            jobs = tuple(moved.get(job.key, job) for job in setting.jobs)
            yield (
                f"glue in the {other}, not in the {name}",
                "room and fresh air there",
                replace(setting, jobs=jobs),
            )
    yield (
        f"{EVENING_MIN} minutes more at every sitting",
        "your time",
        replace(setting, longer=setting.longer + EVENING_MIN),
    )
    for parcel in setting.parcels:
        sooner = replace(parcel, day=setting.date_of(setting.day_number(parcel.day) - SOONER_D))
        others = tuple(sooner if each is parcel else each for each in setting.parcels)
        yield (
            f"{parcel.name} a week sooner",
            "express or another shop",
            replace(setting, parcels=others),
        )


def _warmer(setting: Setting, name: str) -> list[str]:
    own = _mean(setting.places[name])
    return [
        other
        for other, place in setting.places.items()
        if other != name and place.kind == "indoor" and _mean(place) > own
    ]


def _mean(place: Place) -> float:
    return float(np.nanmean(place.mean_k)) if np.isfinite(place.mean_k).any() else 0.0


def slacks(
    plan: Planned, policy: Policy, drawn: Conditions, start: Ints, launch: int
) -> NDArray[np.int64]:
    """Whole days each job may come later, in the same order, and all has cured by launch day."""
    count, horizon = len(plan.jobs), plan.slots.days
    if count == 0:
        return np.zeros(0, dtype=np.int64)
    low, high = np.zeros(count, dtype=np.int64), np.full(count, horizon)
    many = Conditions(
        np.repeat(drawn.minutes, count, axis=0),
        np.repeat(drawn.room, count, axis=0),
        np.repeat(drawn.first, count, axis=0),
        tuple(_repeated(one, count) for one in drawn.traces),
    )
    own = np.arange(count)
    while np.any(low < high):
        middle = (low + high + 1) // 2
        first = many.first.copy()
        first[own, own] = np.maximum(
            first[own, own], np.searchsorted(plan.slots.day, plan.slots.day[start] + middle)
        )
        finish = policy.timed(plan, replace(many, first=first))[1]
        holds = finish <= launch
        low, high = np.where(holds, middle, low), np.where(holds, high, middle - 1)
    return low


def _repeated(trace: Traces, count: int) -> Traces:
    return Traces(
        np.repeat(trace.allowed, count, axis=0),
        np.repeat(trace.ready, count, axis=0),
        np.repeat(trace.touch, count, axis=0),
        np.repeat(trace.cured, count, axis=0),
        np.repeat(trace.whole, count, axis=0),
    )
