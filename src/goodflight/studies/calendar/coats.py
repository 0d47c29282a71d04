"""Coats of paint as sittings: each within the recoat window of the one before.

Coats whose wait is short go on in one sitting, the waits counted as time at the bench. The earliest
next coat is waited for by the rate law of the cure, in a sitting at the coldest figure of its place
and never shorter than the can says; the latest is the can's own, not stretched by the cold and, at
the warmest figure of the place, cut by the same law.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from goodflight.physics.structure import time_factor
from goodflight.project.calendar_files import WorkplaceTable
from goodflight.quantity import Quantity
from goodflight.studies.bench.coats import Coat
from goodflight.studies.bench.gluing import HOUR_S, MINUTE_S
from goodflight.studies.calendar.job import Job

SITTING_S: Final = 90 * MINUTE_S  # a longer wait is for another sitting; common practice, no source
Coated = tuple[Job, Coat]


def sittings_of(
    jobs: Sequence[Coated], places: Sequence[WorkplaceTable], longest_min: float
) -> list[Job]:
    """Jobs of single coats, first to last, as sittings; each has the key of its last coat.

    longest_min : minutes of the longest sitting; coats that would not go into it are parted.
    """
    groups: list[list[Coated]] = []
    for job, coat in jobs:
        wait = None if not groups else _recoat_s(groups[-1][-1], places, latest=False)
        if (
            wait is not None
            and wait <= SITTING_S
            and _minutes([*groups[-1], (job, coat)], places) <= longest_min
        ):
            groups[-1].append((job, coat))
        else:
            groups.append([(job, coat)])
    return [_sitting(group, jobs[-1][0].key, places) for group in groups]


def _minutes(group: Sequence[Coated], places: Sequence[WorkplaceTable]) -> float:
    waits = sum(_recoat_s(one, places, latest=False) or 0.0 for one, _ in pairwise(group))
    return sum(job.minutes for job, _ in group) + waits / MINUTE_S


def _sitting(group: list[Coated], end: str, places: Sequence[WorkplaceTable]) -> Job:
    first, last = group[0][0], group[-1][0]
    latest = None if last.key == end else _recoat_s(group[-1], places, latest=True)
    title = last.title
    if len(group) > 1:
        names = ", ".join(each.table.name for _, each in group if each.table)
        title = f"Sand and paint, {len(group)} coats in one sitting: {names}"
    return replace(
        first,
        key=last.key,
        title=title,
        cure=last.cure,
        cure_sigma=last.cure_sigma,
        minutes=_minutes(group, places),
        coat_of="" if last.key == end else end,
        either=last.either,
        parcels=tuple(dict.fromkeys(name for job, _ in group for name in job.parcels)),
        may_be_cut=last.may_be_cut,
        without=last.without,
        recoat_h=None if latest is None else latest / HOUR_S,
    )


def _recoat_s(coat: Coated, places: Sequence[WorkplaceTable], latest: bool) -> float | None:
    """When the next coat may follow, at its place: never sooner, nor later, than the can says."""
    job, can = coat[0], coat[1].table
    told: Quantity | None = None if can is None else can.recoat_max if latest else can.recoat_min
    if told is None or job.cure is None:
        return None if told is None else told.value
    rows = [row for each in places if each.name in job.places for row in _rows(each)]
    warm = [row.value for row in rows] or [job.cure.reference_k]
    kelvin = max(warm) if latest else max(min(warm), job.cure.min_k)
    factor = float(time_factor(kelvin, job.cure.activation_j_mol, job.cure.reference_k))
    return told.value * (min(factor, 1.0) if latest else max(factor, 1.0))


def _rows(place: WorkplaceTable) -> list[Quantity]:
    """Every temperature that is told of a place."""
    told = [place.temperature, *(row.temperature for row in place.month)]
    told += [row.temperature for row in place.day]
    return [each for each in told if each is not None]
