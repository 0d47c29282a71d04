"""Coats of paint as jobs of their own: each within the recoat window of the one before.

One `[[paint]]` is one coat. Coats whose wait is short go on in one sitting, the waits counted as
time at the bench. The earliest next coat is waited for by the rate law of the cure; the latest is
the own time of the can, not stretched by the cold.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from goodflight.project.workshop_files import LABEL_TEMPERATURE_K, MIN_TEMPERATURE_K, PaintTable
from goodflight.quantity import Quantity
from goodflight.studies.bench.gluing import HOUR_S, MINUTE_S
from goodflight.studies.calendar.job import Job
from goodflight.studies.calendar.places import Cure

SITTING_S: Final = 90 * MINUTE_S  # a longer wait is for another sitting; common practice, no source


def coats_of(job: Job, coats: Sequence[PaintTable]) -> tuple[Job, ...]:
    """The job of painting as sittings, first to last; the last keeps its key."""
    if len(coats) < 2 or job.cure is None or any(c.recoat_min is None for c in coats[:-1]):
        return (job,)
    sittings: list[list[PaintTable]] = [[coats[0]]]
    for before, coat in pairwise(coats):
        if _seconds(before.recoat_min, 0.0) <= SITTING_S:
            sittings[-1].append(coat)
        else:
            sittings.append([coat])
    found: list[Job] = []
    for number, each in enumerate(sittings, 1):
        last = number == len(sittings)
        waits = sum(_seconds(coat.recoat_min, 0.0) for coat in each[:-1]) / MINUTE_S
        names = ", ".join(coat.name for coat in each)
        found.append(
            replace(
                job,
                key=job.key if last else f"{job.key}:{number}",
                coat_of="" if last else job.key,
                title=f"{job.title} ({number} of {len(sittings)}: {names})",
                minutes=job.minutes * len(each) / len(coats) + waits,
                after=job.after if number == 1 else (found[-1].key,),
                either=job.either if last else (),
                waits_cured=job.waits_cured and number == 1,
                parcels=job.parcels if number == 1 else (),
                no_return=job.no_return and number == 1,
                cure=job.cure if last else _until_next(job.cure, each[-1]),
                recoat_h=None
                if last or each[-1].recoat_max is None
                else each[-1].recoat_max.value / HOUR_S,
            )
        )
    return tuple(found)


def _until_next(cure: Cure, coat: PaintTable) -> Cure:
    """A coat that waits for the next one."""
    full_h = _seconds(coat.dry, cure.full_h * HOUR_S) / HOUR_S
    return replace(
        cure,
        name=coat.name,
        full_h=full_h,
        handling_h=min(_seconds(coat.recoat_min, 0.0) / HOUR_S, full_h),
        reference_k=_seconds(coat.reference, LABEL_TEMPERATURE_K),
        min_k=_seconds(coat.min_temperature, MIN_TEMPERATURE_K),
    )


def _seconds(told: Quantity | None, left_out: float) -> float:
    return left_out if told is None else told.value
