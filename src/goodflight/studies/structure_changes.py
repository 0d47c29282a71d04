"""What the builder can do about bonds, glue, paint, devices and guides, as changed cases.

None of these but the larger canopy changes a flight: only strengths, temperatures and times move.
"""

from collections.abc import Iterator
from dataclasses import replace

from goodflight.physics.vehicle.parts import Buttons, Fins, Material, Part, Ring, Tube
from goodflight.studies.case import Case, canopy_of, fins_of, guides_of
from goodflight.studies.changes import Change
from goodflight.studies.limit_states.structure import FILLET_SHARE, mount_rings
from goodflight.studies.results import Cost
from goodflight.studies.workshop import Stay, Workshop

WARM_K = 303.15
WARM_HOURS = 10.0
ROOM_K = 293.15
LINED_PA = 65e6  # bending strength of a kraft edge with one layer of glass; estimate, no source
LARGER = 1.15
_NEW_GLUE = "the old joint cannot be made twice: on the next one, or before it is glued"


def _with(case: Case, old: Part, new: Part) -> Case:
    parts = tuple(new if part is old else part for part in case.rocket.parts)
    return replace(case, rocket=replace(case.rocket, parts=parts))


def _change(
    key: str, title: str, cost: Cost, note: str, case: Case, helps: tuple[str, ...],
    *writes: tuple[str, str],
) -> Change:  # fmt: skip
    return Change(key, title, cost, note, case, writes, flies=False, helps=helps)


def fillets(case: Case) -> Iterator[Change]:
    """Larger fillets on the fins."""
    fins = fins_of(case.rocket)
    if fins is None:
        return
    chord = max(aft for aft, out in fins.outline_m if out < 1e-4)
    now = fins.fillet_radius_m or FILLET_SHARE * chord
    for factor in (1.5, 2.0):
        radius = factor * now
        larger: Fins = replace(fins, fillet_radius_m=radius)
        yield _change(
            f"fillet_{factor:g}", f"make the fins' fillets {1000 * radius:.0f} mm", "evening",
            "adds weight at the tail: balance again", _with(case, fins, larger),
            ("fin_bond", "fin_strike"),
            (f"rocket.toml:part[{fins.name}].fillet_radius", f"{1000 * radius:.0f} mm"),
        )  # fmt: skip


def rings(case: Case) -> Iterator[Change]:
    """One more ring on the motor tube, and a thicker one under the anchor."""
    found = mount_rings(case.rocket)
    if not found:
        return
    first = found[0]
    extra: Ring = replace(first, name="added ring", station_m=first.station_m + 0.04, mass_kg=0.0)
    more = replace(case, rocket=replace(case.rocket, parts=(*case.rocket.parts, extra)))
    yield _change(
        "ring_added", "glue in one more ring", "evening", "before the motor tube goes in", more,
        ("thrust_ring",),
        ("rocket.toml:part", f'kind = "ring", name = "added ring", station = '
         f'"{1000 * extra.station_m:.0f} mm", like {first.name}'),
    )  # fmt: skip
    thick = 1.5 * first.thickness_m
    yield _change(
        "ring_thick", f"make {first.name} {1000 * thick:.0f} mm thick", "evening",
        "before the motor tube goes in",
        _with(case, first, replace(first, thickness_m=thick)), ("anchor", "thrust_ring"),
        (f"rocket.toml:part[{first.name}].thickness", f"{1000 * thick:.0f} mm"),
    )  # fmt: skip


def guides(case: Case) -> Iterator[Change]:
    """Guides that hold twice as much."""
    old = guides_of(case.rocket)
    if old is None or old.strength_n is None:
        return
    stronger: Buttons = replace(old, strength_n=2.0 * old.strength_n)
    yield _change(
        "guides_2", "screw the rail guides into a block or a ring", "evening", "",
        _with(case, old, stronger), ("guides",),
        (f"rocket.toml:part[{old.name}].strength", f"{2.0 * old.strength_n:.0f} N"),
    )  # fmt: skip


def _bench(case: Case, workshop: Workshop) -> Case:
    return replace(case, workshop=workshop)


def warmth(case: Case) -> Iterator[Change]:
    """Finish the cure in the warm; glue in a heated room; mix half at a time."""
    workshop = case.workshop
    if not workshop.joints:
        return
    joints = workshop.joints
    late = Stay("warm box", WARM_HOURS, WARM_K, 2.0)
    warmed = tuple(replace(joint, stays=(*joint.stays, late)) for joint in joints)
    writes = tuple(
        (f"build.toml:joint[{joint.name}].stay",
         f'{{ temperature = "30 degC ± 2 degC", time = "{WARM_HOURS:g} h" }} added')
        for joint in joints
    )  # fmt: skip
    yield _change(
        "warm_cure", f"hold the joints at 30 degC for {WARM_HOURS:g} h", "evening",
        "box, blanket, low heater; below what the motor tube and paint stand",
        _bench(case, replace(workshop, joints=warmed)),
        ("cure", "fin_bond", "thrust_ring", "anchor", "fin_strike"), *writes,
    )  # fmt: skip
    room = tuple(
        replace(joint, stays=(Stay("room", joint.stays[0].hours, ROOM_K, 1.0), *joint.stays[1:]))
        if joint.stays and joint.stays[0].temperature_k < ROOM_K else joint
        for joint in joints
    )  # fmt: skip
    writes = tuple(
        (f"build.toml:joint[{joint.name}].stay[#1].temperature", "20 degC ± 1 degC")
        for joint in joints
    )
    yield _change(
        "warm_glue", "glue in a room of 20 degC", "evening", _NEW_GLUE,
        _bench(case, replace(workshop, joints=room)), ("glue_cold", "cure"), *writes,
    )  # fmt: skip
    halves = tuple(
        joint if joint.work_s is None else replace(joint, work_s=joint.work_s / 2.0)
        for joint in joints
    )
    yield _change(
        "glue_halves", "mix half, glue half, twice", "free", _NEW_GLUE,
        _bench(case, replace(workshop, joints=halves)), ("working_time",),
        *((f"build.toml:joint[{joint.name}].work", "half of it") for joint in joints),
    )  # fmt: skip


def paint(case: Case) -> Iterator[Change]:
    """Paint in a warm, dry room."""
    coats = case.workshop.coats
    if not coats:
        return
    dry = tuple(
        replace(coat, place="dry room", temperature_k=ROOM_K, sigma_k=1.0, humidity=0.5)
        for coat in coats
    )
    yield _change(
        "paint_indoors", "let the paint dry at 20 degC and 50 % humidity", "minutes",
        "air the room",
        _bench(case, replace(case.workshop, coats=dry)), ("paint_dew",),
        *((f"build.toml:paint[{coat.name}].temperature", "20 degC") for coat in coats),
    )  # fmt: skip
    timed = tuple(
        coat if coat.recoat_least_s is None or coat.recoat_most_s is None
        else replace(coat, interval_s=0.5 * (coat.recoat_least_s + coat.recoat_most_s))
        for coat in coats
    )  # fmt: skip
    yield _change(
        "recoat_middle", "put the next coat in the middle of the can's window", "free", "",
        _bench(case, replace(case.workshop, coats=timed)), ("recoat",),
        *((f"build.toml:paint[{coat.name}].interval", "the middle") for coat in coats),
    )  # fmt: skip


def devices(case: Case) -> Iterator[Change]:
    """Switch on later; a larger battery; keep the cells warm."""
    helps = ("battery", "recording")
    if case.pad_wait_s is not None:
        wait, sigma = case.pad_wait_s / 3.0, case.pad_wait_sigma_s / 3.0
        yield _change(
            "switch_late", f"switch on at the pad, {wait / 60:.0f} min before the flight", "free",
            "a switch that is reached on the rail",
            replace(case, pad_wait_s=wait, pad_wait_sigma_s=sigma), helps,
            (f"{case.plan_path}.pad_wait", f"{wait / 60:.0f} min"),
        )  # fmt: skip
    if case.devices:
        warm = tuple(replace(device, temperature_k=ROOM_K) for device in case.devices)
        yield _change(
            "cells_warm", "keep the cells in a pocket until the pad", "free", "",
            replace(case, devices=warm), ("battery",),
            *((f"rocket.toml:device[{d.name}].temperature", "20 degC") for d in case.devices),
        )  # fmt: skip
        larger = tuple(
            device if device.run_s is None else replace(device, run_s=1.6 * device.run_s)
            for device in case.devices
        )
        yield _change(
            "battery_larger", "use batteries of 1.6 times the run time", "purchase",
            "heavier: weigh and balance again", replace(case, devices=larger), ("battery",),
            *((f"rocket.toml:device[{d.name}].run_time", "1.6 times as long")
              for d in case.devices),
        )  # fmt: skip


def tail_edge(case: Case) -> Iterator[Change]:
    """Line the tail's edge with glass."""
    tubes = [part for part in case.rocket.parts if isinstance(part, Tube)]
    if not tubes:
        return
    last = max(tubes, key=lambda tube: tube.station_m)
    density = 1000.0 if last.material is None else last.material.density_kg_m3
    lined = replace(last, material=Material("edge lined with glass", density, None, LINED_PA))
    yield _change(
        "tail_edge", "soak the tail's edge and line it with glass tape", "evening",
        "a few grams at the tail", _with(case, last, lined), ("tail_strike",),
        (f"rocket.toml:part[{last.name}].note", "tail edge lined with glass"),
    )  # fmt: skip


def larger_canopy(case: Case) -> Iterator[Change]:
    """A canopy that is larger than those at hand; it drifts further and takes more room."""
    old = canopy_of(case)
    if old is None:
        return
    area = LARGER**2
    mass = None if old.mass_kg is None else old.mass_kg * area
    new = replace(
        old, diameter_m=old.diameter_m * LARGER, cloth_area_m2=old.cloth_area_m2 * area,
        mass_kg=mass, packed_length_m=old.packed_length_m * area,
    )  # fmt: skip
    changed = replace(_with(case, old, new), canopy=new)
    items = tuple(
        replace(item, mass_kg=item.mass_kg * area) if item.name == old.name else item
        for item in case.items
    )
    yield Change(
        f"canopy_larger_{LARGER:g}", f"sew or buy a canopy {LARGER:g} times as wide", "purchase",
        "weigh it, pack it, pull-test it", replace(changed, items=items),
        ((f"rocket.toml:part[{old.name}].diameter", f"{new.diameter_m:.2f} m"),), True,
        ("landing_speed", "tail_strike", "nose_strike", "fin_strike"),
    )  # fmt: skip


MAKERS = (fillets, rings, guides, warmth, paint, devices, tail_edge, larger_canopy)
