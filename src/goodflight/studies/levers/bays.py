"""Levers of the bays: heat blanket, vents of the recovery bay and of the electronics."""

import math
from dataclasses import replace
from typing import Final

from goodflight.physics.recovery.vents import hole_diameter_m, vent_area_between_m2
from goodflight.physics.vehicle.parts import Bay
from goodflight.quantity.said import literal, said
from goodflight.studies.case.planned import Case, gear_bay
from goodflight.studies.case.remade import Stated, stated, with_changes, with_separation
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once
from goodflight.studies.levers.sizes import AREA, DRILL, stock

BLANKETS_MM: Final = (300.0, 350.0, 400.0, 450.0, 500.0, 600.0)  # sides of a square
BLANKETS_IN: Final = (12.0, 14.0, 16.0, 18.0, 20.0, 24.0)
VENT_M: Final = 0.003
MOST_VENTS: Final = 8


def _blanket(base: Case, _now: Case) -> Offer | None:
    blanket = base.rocket.separation.blanket_m2
    if blanket is None or blanket.value <= 0.0:
        return None
    now, share = blanket, blanket.sigma / blanket.value

    def text(side_m: float) -> Stated:
        return stated(side_m**2, share * side_m**2, *AREA.unit(base))

    def make(case: Case, side_m: float) -> Case:
        wide = text(side_m)
        figure = replace(now, value=wide.value, sigma=wide.sigma, known="guess")
        return with_separation(case, blanket_m2=figure)

    return numbers(
        math.sqrt(now.value),
        stock(base, BLANKETS_MM, BLANKETS_IN),
        make=make,
        writes=lambda side_m: ((now.path or "rocket.toml:charge.blanket", text(side_m).text),),
        title=lambda side_m: said("use a heat blanket of {side} square", side=(side_m, "length")),
        towards="up",
    )


def _with_vents(case: Case, name: str, count: int, wide_m: float) -> Case:
    bay = next(p for p in case.rocket.of_kind(Bay) if p.name == name)
    return with_changes(case, bay, vent_count=count, vent_diameter_m=wide_m)


def _vent_writes(case: Case, bay: Bay, count: int, wide_m: float) -> tuple[Write, ...]:
    path = f"rocket.toml:part[{bay.name}]"
    return (f"{path}.vents", str(count)), (f"{path}.vent_diameter", DRILL.text(case, wide_m))


def _vents(base: Case, _now: Case) -> Offer | None:
    bay = gear_bay(base)
    if bay is None:
        return None
    now, wide_m = bay.vent_count, bay.vent_diameter_m or VENT_M
    name = literal(bay.name)
    return numbers(
        float(now),
        (float(count) for count in range(now, max(now, MOST_VENTS) + 1)),
        make=lambda case, count: _with_vents(case, bay.name, round(count), wide_m),
        writes=lambda count: _vent_writes(base, bay, round(count), wide_m),
        title=lambda count: said(
            f"drill {name} for {{count}} vents of {{wide}}",
            count=(count, "count"),
            wide=(wide_m, "length"),
        ),
        towards="up",
    )


def _ports(base: Case, _now: Case) -> Offer | None:
    """Vents of the electronics between the two rules in use."""
    for bay in base.rocket.of_kind(Bay):
        if bay.electronics and bay.free_volume_m3:
            return _ports_of(base, bay)
    return None


def _ports_of(base: Case, bay: Bay) -> Offer:
    assert bay.free_volume_m3 is not None
    count = max(bay.vent_count, 3)
    area = vent_area_between_m2(bay.free_volume_m3)
    wide_m = DRILL.near(base, hole_diameter_m(area, count))
    name = literal(bay.name)
    title = said(
        f"drill {name} for {{count}} vents of {{wide}}",
        count=(float(count), "count"),
        wide=(wide_m, "length"),
    )
    return once(
        title,
        lambda case: _with_vents(case, bay.name, count, wide_m),
        *_vent_writes(base, bay, count, wide_m),
    )


LEVERS: Final = (
    Lever(
        "blanket",
        "side of the heat blanket",
        dimension="length",
        cost="purchase",
        offer=_blanket,
        note="it takes room: pack it again",
        helps=("canopy_scorched",),
        flies=False,
        touches=("gear_fits",),
    ),
    Lever(
        "vents",
        "vents of the recovery bay",
        "count",
        "minutes",
        _vents,
        helps=("bay_vents", "trapped_air", "drag_separation", "separation_window"),
        flies=False,
        touches=("separation_shut",),
    ),
    Lever(
        "ports",
        "vents of the electronics bay",
        dimension="",
        cost="minutes",
        offer=_ports,
        note="between the two rules in use",
        helps=("electronics_vents",),
        flies=False,
    ),
)
