"""What the builder can change about separation, cord, bay, vents and fins before the flight."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any, Final

from goodflight.physics.recovery.vents import LARGE_RULE_M, SMALL_RULE_M
from goodflight.physics.vehicle.parts import Bay, Cord
from goodflight.physics.vehicle.separation import EDGES, Figure
from goodflight.studies.case.planned import Case, cord_of
from goodflight.studies.case.remade import Stated, stated, with_changes
from goodflight.studies.levers.changes import Change
from goodflight.studies.sampling.sections import gear_bay

PULLS: Final = (0.7, 1.4)
BLANKET_M2: Final = 0.16  # 0.4 m square
WIDE_M: Final = 0.025
GUIDED_RAD: Final = math.radians(0.25)  # of one fin in a keyed guide, our guess
VENT_M: Final = 0.003


def _separation(case: Case, **changes: Any) -> Case:
    changed = replace(case.rocket.separation, **changes)
    return replace(case, rocket=replace(case.rocket, separation=changed))


def _figure(figure: Figure, said: Stated, known: str = "guess") -> Figure:
    """A figure as it would be read again once it is written."""
    return replace(figure, value=said.value, sigma=said.sigma, known=known)


def _times(figure: Figure, factor: float, unit: str = "N", per: float = 1.0) -> Stated:
    """A figure times a factor, its spread with it; nobody has measured it."""
    return stated(factor * figure.value, factor * figure.sigma, unit, per)


def pulls(case: Case) -> Iterator[Change]:
    """Looser or tighter coupler."""
    pull = case.rocket.separation.pull_n
    if pull is None:
        return
    for factor in PULLS:
        newton = round(pull.value * factor)
        said = stated(newton, max(1, round(0.1 * newton)), "N", known="measured")
        word = "loosen" if factor < 1.0 else "tighten"
        yield Change(
            f"pull_{newton}", f"{word} the coupler, to pull apart at {newton} N", "minutes",
            "tape on, or tape and sandpaper off, and pull again with the scale",
            _separation(case, pull_n=_figure(pull, said, "measured")),
            ((pull.path or "rocket.toml:separation.pull", said.text),), False,
            ("separation_handled", "separation_window", "separation_shut", "drag_separation",
             "trapped_air", "bay_vents"),
        )  # fmt: skip


def stronger(case: Case) -> Iterator[Change]:
    """Anchors, bulkhead, the joint that must stay, the motor's retention: half as much again."""
    separation = case.rocket.separation
    kinds = (
        ("anchors", ("fore_anchor_n", "aft_anchor_n"), "back both anchors of the cord", "evening",
         ("snatch_anchor",)),
        ("bulkhead", ("bulkhead_n",), "back the bulkhead ahead of the bay", "evening",
         ("charge_strong",)),
        ("fixed", ("fixed_joint_n",), "more rivets in the joint that must stay", "minutes",
         ("charge_strong",)),
        ("retention", ("retention_n",), "stronger retention of the motor", "purchase",
         ("motor_pushed_out",)),
    )  # fmt: skip
    for key, names, title, cost, rows in kinds:
        given = {name: getattr(separation, name) for name in names}
        if any(figure is None for figure in given.values()):
            continue
        said = {name: _times(figure, 1.5) for name, figure in given.items()}
        writes = tuple((figure.path, said[name].text) for name, figure in given.items())
        changed = {name: _figure(figure, said[name]) for name, figure in given.items()}
        yield Change(
            f"{key}_1.5", f"{title}, half as much again", cost, "",  # type: ignore[arg-type]
            _separation(case, **changed), writes, False, rows,
        )  # fmt: skip


def powder(case: Case) -> Iterator[Change]:
    """More or less of the own charge, where an altimeter fires it."""
    own = case.rocket.separation.powder_kg
    if own is None:
        return
    for factor in (0.7, 1.4):
        said = _times(own, factor, "g", 1e-3)
        grams = 1e3 * said.value
        yield Change(
            f"powder_{grams:g}", f"{grams:g} g of powder", "minutes", "with a ground test again",
            _separation(case, powder_kg=_figure(own, said)), ((own.path, said.text),), False,
            ("separation_shut", "charge_strong", "motor_pushed_out", "separation_window",
             "canopy_stays", "snatch_cord", "snatch_anchor", "zipper", "booster_overtakes"),
        )  # fmt: skip


def cords(case: Case) -> Iterator[Change]:
    """A longer cord; a wider one where it bears on the tube's edge; a lined edge."""
    cord = cord_of(case.rocket)
    if cord is None or cord.length_m <= 0.0:
        return
    path, longer = f"rocket.toml:part[{cord.name}]", longer_cord_m(cord)
    changes, writes = cord_writes(cord, longer)
    yield Change(
        f"longcord_{longer:g}", f"use {longer:g} m of cord", "purchase", "it packs longer too",
        with_changes(case, cord, **changes), tuple(writes), False,
        ("snatch_cord", "snatch_anchor", "zipper"),
    )  # fmt: skip
    yield from _edges(case, cord, path)


def longer_cord_m(cord: Cord) -> float:
    """A cord half as long again [m]."""
    return round(1.5 * cord.length_m, 1)


def cord_writes(cord: Cord, length_m: float) -> tuple[dict[str, float], list[tuple[str, str]]]:
    """Fields of a cord of another length, which packs longer in proportion, and what is written."""
    path = f"rocket.toml:part[{cord.name}]"
    changes, writes = {"length_m": length_m}, [(f"{path}.length", f"{length_m:g} m")]
    if cord.packed_length_m > 0.0:
        packed_mm = round(1e3 * cord.packed_length_m * length_m / cord.length_m)
        changes["packed_length_m"] = 1e-3 * packed_mm
        writes.append((f"{path}.packed_length", f"{packed_mm} mm"))
    return changes, writes


def _edges(case: Case, cord: Cord, path: str) -> Iterator[Change]:
    separation = case.rocket.separation
    if 0.0 < cord.width_m < WIDE_M:
        yield Change(
            "cordwidth_25", "webbing of 25 mm, or a bumper of that width on the cord", "purchase",
            "", with_changes(case, cord, width_m=WIDE_M), ((f"{path}.width", "25 mm"),), False,
            ("zipper",),
        )  # fmt: skip
    lined, now = EDGES["kraft_lined"], separation.edge_strength_pa
    if now is not None and now.value < lined.strength_pa:
        figure = Figure(lined.strength_pa, lined.sigma * lined.strength_pa, "guess", now.path)
        yield Change(
            "edge_lined", "glue a ring of coupler tube into the edge", "evening",
            "check that the coupler still goes in far enough",
            _separation(case, edge_strength_pa=figure, edge="kraft_lined"),
            (_edge_write(now),), False, ("zipper",),
        )  # fmt: skip


def _edge_write(now: Figure) -> tuple[str, str]:
    """A stated strength goes before the kind of edge, so it is what has to be written."""
    if now.path.endswith("edge_strength"):
        return now.path, f"{EDGES['kraft_lined'].strength_pa / 1e6:g} MPa"
    return "rocket.toml:separation.edge", "kraft_lined"


def bays(case: Case) -> Iterator[Change]:
    """A larger blanket, vents in the recovery bay and vents of the electronics by the rules."""
    blanket = case.rocket.separation.blanket_m2
    if blanket is not None and blanket.value < BLANKET_M2:
        said = stated(BLANKET_M2, blanket.sigma * BLANKET_M2 / blanket.value, "m2")
        yield Change(
            "blanket_400", "a heat blanket of 0.4 m square", "purchase", "",
            _separation(case, blanket_m2=_figure(blanket, said)),
            ((blanket.path or "rocket.toml:charge.blanket", said.text),), False,
            ("canopy_scorched",),
        )  # fmt: skip
    bay = gear_bay(case.rocket)
    if bay is not None:
        count = bay.vent_count + 2
        wide = bay.vent_diameter_m or VENT_M
        path = f"rocket.toml:part[{bay.name}]"
        yield Change(
            f"vents_{count}", f"{count} vents of {1e3 * wide:.1f} mm in {bay.name}", "minutes", "",
            with_changes(case, bay, vent_count=count, vent_diameter_m=wide),
            ((f"{path}.vents", str(count)), (f"{path}.vent_diameter", f"{1e3 * wide:.1f} mm")),
            False, ("bay_vents", "trapped_air", "drag_separation"),
        )  # fmt: skip
    yield from _electronics_vents(case)


def _electronics_vents(case: Case) -> Iterator[Change]:
    for bay in case.rocket.parts:
        if not isinstance(bay, Bay) or not bay.electronics or not bay.free_volume_m3:
            continue
        count = max(bay.vent_count, 3)
        area = bay.free_volume_m3 / math.sqrt(SMALL_RULE_M * LARGE_RULE_M)
        wide = round(1e3 * math.sqrt(4.0 * area / (math.pi * count)), 1)
        path = f"rocket.toml:part[{bay.name}]"
        yield Change(
            f"ports_{wide:g}", f"{count} vents of {wide:g} mm in {bay.name}", "minutes",
            "between the two rules in use",
            with_changes(case, bay, vent_count=count, vent_diameter_m=wide / 1e3),
            ((f"{path}.vents", str(count)), (f"{path}.vent_diameter", f"{wide:g} mm")), False,
            ("electronics_vents",),
        )  # fmt: skip


def alignments(case: Case) -> Iterator[Change]:
    """Fins set in a guide that keeps them true."""
    if case.cant_sigma_rad > GUIDED_RAD * 1.2:
        fins = next((p.name for p in case.rocket.parts if hasattr(p, "cant_sigma_rad")), "fins")
        yield Change(
            "align_0.25", "set the fins in a keyed guide, each true to 0.25 deg", "evening",
            "before they are glued", replace(case, cant_sigma_rad=GUIDED_RAD),
            ((f"rocket.toml:part[{fins}].alignment", "0.25 deg"),), True,
            ("spin_pitch", "alignment"),
        )  # fmt: skip
