"""Levers of the bays: heat blanket, vents of the recovery bay and of the electronics."""

import math
from dataclasses import replace
from typing import Final

from goodflight.physics.recovery.vents import LARGE_RULE_M, SMALL_RULE_M
from goodflight.physics.vehicle.parts import Bay
from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import stated, with_changes, with_separation
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once
from goodflight.studies.results import said
from goodflight.studies.sampling.sections import gear_bay

BLANKET_M2: Final = 0.16  # 0.4 m square
VENT_M: Final = 0.003
MORE_VENTS: Final = 2


def _blanket(base: Case, _now: Case) -> Offer | None:
    blanket = base.rocket.separation.blanket_m2
    if blanket is None or blanket.value >= BLANKET_M2:
        return None
    text = stated(BLANKET_M2, blanket.sigma * BLANKET_M2 / blanket.value, "m2")
    figure = replace(blanket, value=text.value, sigma=text.sigma, known="guess")

    def make(case: Case) -> Case:
        return with_separation(case, blanket_m2=figure)

    title = said("use a heat blanket of {side} square", side=(math.sqrt(BLANKET_M2), "length"))
    return once(title, make, (blanket.path or "rocket.toml:charge.blanket", text.text))


def _with_vents(case: Case, name: str, count: int, wide_m: float) -> Case:
    bay = next(p for p in case.rocket.parts if isinstance(p, Bay) and p.name == name)
    return with_changes(case, bay, vent_count=count, vent_diameter_m=wide_m)


def _vent_writes(bay: Bay, count: int, wide_m: float) -> tuple[Write, ...]:
    path = f"rocket.toml:part[{bay.name}]"
    return (f"{path}.vents", str(count)), (f"{path}.vent_diameter", f"{1e3 * wide_m:.1f} mm")


def _vents(base: Case, _now: Case) -> Offer | None:
    bay = gear_bay(base.rocket)
    if bay is None:
        return None
    now, wide_m = bay.vent_count, bay.vent_diameter_m or VENT_M
    name = bay.name.replace("{", "{{").replace("}", "}}")
    return numbers(
        float(now), (float(now + more) for more in (1, MORE_VENTS, 4)),
        lambda case, count: _with_vents(case, bay.name, round(count), wide_m),
        lambda count: _vent_writes(bay, round(count), wide_m),
        lambda count: said(
            f"drill {name} for {{count}} vents of {{wide}}", count=(count, "count"),
            wide=(wide_m, "length"),
        ),
        (float(now + MORE_VENTS),),
    )  # fmt: skip


def _ports(base: Case, _now: Case) -> Offer | None:
    """Vents of the electronics between the two rules in use."""
    for bay in base.rocket.parts:
        if not isinstance(bay, Bay) or not bay.electronics or not bay.free_volume_m3:
            continue
        return _ports_of(bay)
    return None


def _ports_of(bay: Bay) -> Offer:
    assert bay.free_volume_m3 is not None
    count = max(bay.vent_count, 3)
    area = bay.free_volume_m3 / math.sqrt(SMALL_RULE_M * LARGE_RULE_M)
    wide_m = round(1e3 * math.sqrt(4.0 * area / (math.pi * count)), 1) / 1e3
    name = bay.name.replace("{", "{{").replace("}", "}}")
    title = said(
        f"drill {name} for {{count}} vents of {{wide}}", count=(float(count), "count"),
        wide=(wide_m, "length"),
    )  # fmt: skip
    return once(
        title, lambda case: _with_vents(case, bay.name, count, wide_m),
        *_vent_writes(bay, count, wide_m),
    )  # fmt: skip


LEVERS: Final = (
    Lever("blanket", "heat blanket", "", "purchase", _blanket, helps=("canopy_scorched",),
          flies=False),
    Lever("vents", "vents of the recovery bay", "count", "minutes", _vents,
          helps=("bay_vents", "trapped_air", "drag_separation"), flies=False),
    Lever("ports", "vents of the electronics bay", "", "minutes", _ports,
          "between the two rules in use", ("electronics_vents",), False),
)  # fmt: skip
