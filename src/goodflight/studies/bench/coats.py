"""Coats of paint, each a step of its own: what is put on when, and when the next one may follow.

A `[[paint]]` is one can, and as many coats of it as it says. The last coat keeps the key "paint".
"""

from dataclasses import dataclass
from typing import Final

from goodflight.physics.structure.cure import LABEL_K, STOPS_BELOW_K
from goodflight.project.bench_files import BuildFile
from goodflight.project.workshop_files import (
    PaintTable,
)
from goodflight.quantity import Quantity
from goodflight.quantity.said import Words, said
from goodflight.studies.bench.gluing import HOUR_S, MINUTE_S
from goodflight.studies.case.joints import GlueSheet

LAST: Final = "paint"
PRACTICE: Final = GlueSheet("primer, paint", None, 24 * HOUR_S, 48 * HOUR_S, known="practice")


@dataclass(frozen=True)
class Coat:
    """One coat. key, title : of its step; table : its can; sheet : when the next may follow it
    (handling) and when it is dry (cure); place : named for it, empty = none."""

    key: str
    title: str
    table: PaintTable | None
    sheet: GlueSheet
    place: str

    @property
    def how(self) -> Words:
        """Its window, as the can has it, for the builder."""
        can = self.table
        if can is None or self.key == LAST or can.recoat_min is None:
            return ""
        until = "" if can.recoat_max is None else f", not later than {_said(can.recoat_max)}"
        return said(
            f"next coat after {_said(can.recoat_min)}{until}, by the can at {{warm}}",
            warm=(_value(can.reference, LABEL_K), "temperature"),
        )


def coats_in(build: BuildFile) -> tuple[Coat, ...]:
    """All coats from first to last; one of unknown kind where build.toml names none.

    None where it says that the rocket is not painted.
    """
    cans = [can for can in build.paint for _ in range(can.coats)]
    named = next((can.workplace for can in cans if can.workplace), None) or ""
    if not cans and build.painted is False:
        return ()
    if not cans:
        return (Coat(LAST, "Sand, prime, paint", None, PRACTICE, named),)
    found: list[Coat] = []
    for n, can in enumerate(cans, 1):
        key = LAST if n == len(cans) else _key(can.name, [coat.key for coat in found])
        title = "Sand, prime, paint"
        if len(cans) > 1:
            title = f"Sand and paint, coat {n} of {len(cans)}: {can.name}"
        sheet = _dry(can, cans) if n == len(cans) else _until_next(can)
        found.append(Coat(key, title, can, sheet, can.workplace or named))
    return tuple(found)


def _key(name: str, taken: list[str]) -> str:
    key, n = f"coat-{name}", 1
    while key in taken:
        n += 1
        key = f"coat-{name}-{n}"
    return key


def _until_next(can: PaintTable) -> GlueSheet:
    """A coat that waits for the next one; without an earliest next coat, until it is dry."""
    wait = None if can.recoat_min is None else can.recoat_min.value
    dry = _value(can.dry, PRACTICE.cure_s or 0.0)
    return _sheet(can, wait, dry if wait is None else max(dry, wait))


def _dry(last: PaintTable, cans: list[PaintTable]) -> GlueSheet:
    """The last coat: its own can, else the first that says when it is dry, else practice."""
    can = next((each for each in (last, *cans) if each.dry is not None), None)
    return PRACTICE if can is None else _sheet(can, _value(can.dry, 0.0), _value(can.dry, 0.0))


def _sheet(can: PaintTable, handling_s: float | None, cure_s: float) -> GlueSheet:
    return GlueSheet(
        name=can.name,
        handling_s=handling_s,
        cure_s=cure_s,
        reference_k=_value(can.reference, LABEL_K),
        min_k=_value(can.min_temperature, STOPS_BELOW_K),
    )


def _value(told: Quantity | None, left_out: float) -> float:
    return left_out if told is None else told.value


def _said(told: Quantity) -> str:
    hours = told.value / HOUR_S
    return f"{hours:.3g} h" if hours >= 1.0 else f"{told.value / MINUTE_S:.0f} min"
