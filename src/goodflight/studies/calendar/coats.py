"""Coats of paint as sittings: each within the recoat window of the one before.

Coats whose wait is short go on in one sitting, the waits counted as time at the bench. The earliest
next coat is waited for by the rate law of the cure; the latest is the own time of the can, not
stretched by the cold.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from goodflight.quantity import Quantity
from goodflight.studies.bench.coats import Coat
from goodflight.studies.bench.gluing import HOUR_S, MINUTE_S
from goodflight.studies.calendar.job import Job

SITTING_S: Final = 90 * MINUTE_S  # a longer wait is for another sitting; common practice, no source


def sittings_of(jobs: Sequence[tuple[Job, Coat]]) -> list[Job]:
    """Jobs of single coats, first to last, as sittings; each has the key of its last coat."""
    groups: list[list[tuple[Job, Coat]]] = []
    for job, coat in jobs:
        wait = None if not groups else _recoat(groups[-1][-1], latest=False)
        if wait is not None and wait <= SITTING_S:
            groups[-1].append((job, coat))
        else:
            groups.append([(job, coat)])
    return [_sitting(group, jobs[-1][0].key) for group in groups]


def _sitting(group: list[tuple[Job, Coat]], end: str) -> Job:
    first, last = group[0][0], group[-1][0]
    waits = sum(_recoat(one, latest=False) or 0.0 for one, _ in pairwise(group)) / MINUTE_S
    latest = None if last.key == end else _recoat(group[-1], latest=True)
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
        minutes=sum(job.minutes for job, _ in group) + waits,
        coat_of="" if last.key == end else end,
        either=last.either,
        parcels=tuple(dict.fromkeys(name for job, _ in group for name in job.parcels)),
        may_be_cut=last.may_be_cut,
        without=last.without,
        recoat_h=None if latest is None else latest / HOUR_S,
    )


def _recoat(coat: tuple[Job, Coat], latest: bool) -> float | None:
    can = coat[1].table
    told: Quantity | None = None if can is None else can.recoat_max if latest else can.recoat_min
    return None if told is None else told.value
