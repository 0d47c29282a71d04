"""Which constraints cannot hold together: a set none of which can be left out of the clash."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import numpy as np

from goodflight.constants import ZERO_C_K
from goodflight.quantity.said import Convertible
from goodflight.studies.bench.gluing import MINUTE_S
from goodflight.studies.calendar.hours import even_s
from goodflight.studies.calendar.places import Place
from goodflight.studies.calendar.setting import Setting, planned, problem_of, slots_of
from goodflight.studies.calendar.solve import REFUSED, feasible


def _fits(setting: Setting, launch: int) -> bool:
    """Whether a plan exists; what the solver cannot refuse counts as one."""
    return feasible(problem_of(planned(setting)), launch)[0] != REFUSED


def clash(setting: Setting, launch: date) -> tuple[str, ...]:
    """Constraints that clash, in words; each of them is needed for it.

    One after the other is left out; what is then still impossible did not need it.
    """
    number = setting.day_number(launch)
    kept: list[str] = []
    relaxed: set[str] = set()
    told = dict(rules_of(setting))
    for name in told:
        if _fits(replace(setting, relaxed=frozenset(relaxed | {name})), number):
            kept.append(name)
        else:
            relaxed.add(name)
    return (
        f"ready by {launch:%a} {launch.day} {launch:%b %Y}",
        *(told[name] for name in kept),
    )


def rules_of(setting: Setting) -> Iterator[tuple[str, str]]:
    """Every rule that may be left out: its name, and in words. What is cheap to move comes last."""
    for name, words in _rules(setting):
        yield name, Convertible(words)


def _rules(setting: Setting) -> Iterator[tuple[str, str]]:
    yield "order", "the order of the steps: each waits for what it builds on"
    cures = {job.cure.name: job.cure for job in setting.jobs if job.cure is not None}
    for name, cure in cures.items():
        hours = f"{cure.full_h:g} h at {celsius(cure.reference_k)}"
        stops = f"nothing below {celsius(cure.min_k)}"
        where = {place for job in setting.jobs if job.cure == cure for place in job.places}
        told = ", ".join(_warmth(setting.places[each]) for each in sorted(where))
        yield f"cure:{name}", f"the cure of {name}: {hours}, {stops}; {told}"
    used = {name for job in setting.jobs if job.cure is not None for name in job.places}
    for name in sorted(used):
        least = max(job.cure.min_k for job in setting.jobs if job.cure and name in job.places)
        yield (
            f"cold:{name}",
            f"the {name}: no glue or paint below {celsius(least)}, or less than "
            "[[3 °C|5 °F]] above the dew point",
        )
    for job in setting.jobs:
        if job.recoat_h is not None:
            yield (
                f"recoat:{job.key}",
                f'the recoat window of "{job.title}": the next coat within {job.recoat_h:g} h',
            )
    if any(place.kind == "outdoor" for place in setting.places.values()):
        yield "light", "work outdoors needs daylight"
    for parcel in setting.parcels:
        yield (
            f"parcel:{parcel.name}",
            f"{parcel.name}: comes on {parcel.day:%a} {parcel.day.day} {parcel.day:%b}",
        )
    if any(person.off for person in setting.people):
        yield "off", "days without time at the bench"
    yield "hours", "; ".join(_hours(setting))


def celsius(kelvin: float) -> str:
    """Whole degrees, of a `Convertible`: `7 °C`."""
    warmth = kelvin - ZERO_C_K
    return f"[[{warmth:.0f} °C|{32 + 1.8 * warmth:.0f} °F]]"


def _warmth(place: Place) -> str:
    """`shed 7 °C, coldest night 4 °C`."""
    if not np.isfinite(place.mean_k).any():
        return place.name
    warm, night = float(np.nanmean(place.mean_k)), float(np.nanmin(place.night_k))
    return f"{place.name} {celsius(warm)}, coldest night {celsius(night)}"


def _hours(setting: Setting) -> Iterator[str]:
    for person in setting.people:
        even = even_s(person)
        told = [] if even is None else [f"{even / MINUTE_S:.0f} min on each day of work"]
        told += [
            f"{each.value / 3600.0:g} h {words}"
            for each, words in ((person.evening, "an evening"), (person.weekend, "a weekend day"))
            if each is not None
        ]
        late = f", at most {person.late.value / 3600.0:g} h longer" if person.late else ""
        yield f"hours of {person.name}: {' and '.join(told)}{late}"
    longest = int((slots_of(setting).capacity + slots_of(setting).extra).max(initial=0))
    for job in setting.jobs:
        if job.minutes > longest and job.cure is not None and job.cure.working_s is not None:
            yield f'"{job.title}" takes {job.minutes:.0f} min in one go, glue does not wait'
