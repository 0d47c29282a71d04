"""Lever of the canopy: another one of the rocket's, or a larger one."""

from dataclasses import replace
from typing import Any, Final

from goodflight.physics.recovery import canopy_kind
from goodflight.physics.vehicle.parts import Canopy
from goodflight.studies.case.canopies import opening_numbers
from goodflight.studies.case.planned import Case, canopy_of
from goodflight.studies.case.remade import stated, with_canopy, with_part
from goodflight.studies.levers.launch import plan
from goodflight.studies.levers.lever import Lever, Offer, Setting, Write, names
from goodflight.studies.results import said

LARGER: Final = (1.15, 1.3)
MASS_GUESS: Final = 0.10  # of a mass nobody has weighed yet, as the project takes it
LANDING_ROWS: Final = ("landing_speed", "tail_strike", "nose_strike", "fin_strike")


def _canopy(base: Case, _now: Case) -> Offer | None:
    now = canopy_of(base)
    if now is None:
        return None
    others = [canopy for canopy in base.deployment.canopies if canopy.name != now.name]
    settings = [_other(base, now, canopy) for canopy in others]
    settings += [_larger(base, now, factor) for factor in LARGER]
    return names(now.name, settings, [each.id for each in settings])


def _other(base: Case, now: Canopy, canopy: Canopy) -> Setting:
    larger = opening_numbers(canopy).cloth_area_m2 > opening_numbers(now).cloth_area_m2
    name = canopy.name.replace("{", "{{").replace("}", "}}")
    return Setting(
        canopy.name, None, said(f"use the {'larger' if larger else 'smaller'} canopy {name}"),
        ((plan(base, "canopy"), canopy.name),), lambda case: with_canopy(case, canopy),
        cost="minutes", note="pack it again",
    )  # fmt: skip


def _larger(base: Case, old: Canopy, factor: float) -> Setting:
    """A canopy that is larger than those at hand; it drifts further and takes more room."""
    path, area = f"rocket.toml:part[{old.name}]", factor**2
    ways, size = canopy_kind(old.kind).ways, (0.0, "length")
    changes: dict[str, Any] = {}
    writes: list[Write] = []
    if old.across_m > 0.0:
        size = round(factor * old.across_m, 2), "length"
        changes["across_m"] = size[0]
        writes.append((f"{path}.across", f"{size[0]:g} m {old.way or next(iter(ways))}"))
    if old.cloth_area_m2 > 0.0:
        size = round(old.cloth_area_m2 * area, 3), "area"
        changes["cloth_area_m2"] = size[0]
        writes.append((f"{path}.cloth_area", f"{size[0]:g} m2"))
    if old.packed_length_m > 0.0:
        changes["packed_length_m"] = round(old.packed_length_m * area, 3)
        roll = f"{1e3 * changes['packed_length_m']:.0f} mm x {1e3 * old.packed_diameter_m:g} mm"
        writes.append((f"{path}.roll", roll))
    if old.mass_kg is not None:
        mass = stated(old.mass_kg * area, MASS_GUESS * old.mass_kg * area, "g", 1e-3, 3)
        changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
        writes.append((f"{path}.mass", mass.text))
    new = replace(old, known="guess", **changes)

    def make(case: Case) -> Case:
        there = next((p for p in case.rocket.parts if _same(p, old)), old)
        sewn = with_part(case, there, new)
        return replace(sewn, deployment=replace(sewn.deployment, canopy=new))

    return Setting(
        f"larger_{factor:g}", None, said("sew or buy a canopy of {wide}", wide=size),
        tuple(writes), make, shown=said("a new one of {wide}", wide=size),
    )  # fmt: skip


def _same(part: object, canopy: Canopy) -> bool:
    return isinstance(part, Canopy) and part.name == canopy.name


LEVERS: Final = (
    Lever("canopy", "canopy", "", "purchase", _canopy, "weigh it, pack it, pull-test it",
          slider=True),
)  # fmt: skip
