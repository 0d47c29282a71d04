"""Levers of the canopy: another one of the rocket's, or one that is still to be made."""

from dataclasses import replace
from typing import Any, Final

from goodflight.physics.recovery import canopy_kind
from goodflight.physics.recovery.canopy import width_ratio
from goodflight.physics.vehicle import body_length_m
from goodflight.physics.vehicle.parts import Canopy
from goodflight.quantity.said import literal, said
from goodflight.studies.case.canopies import opening_numbers
from goodflight.studies.case.planned import Case, canopy_of
from goodflight.studies.case.remade import Stated, stated, with_canopy, with_length, with_part
from goodflight.studies.levers.launch import plan
from goodflight.studies.levers.lever import Lever, Offer, Setting, Write, names, numbers
from goodflight.studies.levers.sizes import ACROSS, AREA, MASS, SPAN

SMALLEST, LARGEST = 0.6, 2.5  # times the canopy that is there
MASS_GUESS: Final = 0.10  # of a mass nobody has weighed yet, as the project takes it
LANDING_ROWS: Final = ("landing_speed", "tail_strike", "nose_strike", "fin_strike")


def _canopy(base: Case, _now: Case) -> Offer | None:
    """Another canopy that the project has."""
    now = canopy_of(base)
    if now is None:
        return None
    others = [canopy for canopy in base.deployment.canopies if canopy.name != now.name]
    settings = [_other(base, now, canopy) for canopy in others]
    return names(now.name, settings, [(each.id,) for each in settings])


def _other(base: Case, now: Canopy, canopy: Canopy) -> Setting:
    larger = opening_numbers(canopy).cloth_area_m2 > opening_numbers(now).cloth_area_m2
    name = literal(canopy.name)
    return Setting(
        canopy.name,
        None,
        said(f"use the {'larger' if larger else 'smaller'} canopy {name}"),
        ((plan(base, "canopy"), canopy.name),),
        lambda case: with_canopy(case, canopy),
        cost="minutes",
        note="pack it again",
    )


def _size(base: Case, now: Case) -> Offer | None:
    """A rocket's only canopy; beside a main, which lands it, see `second`."""
    return None if base.deployment.main_canopy is not None else size_of(base, now, canopy_of(now))


def size_of(base: Case, now: Case, old: Canopy | None, main: bool = False) -> Offer | None:
    """One that is not at hand, of the same make; a larger one drifts further, takes more room."""
    if old is None or not old.across_m > 0.0:
        return None
    one = base.deployment.main_canopy is None
    called = "canopy" if one else "main canopy" if main else "first canopy"
    wide = old.across_m
    most, room = LARGEST, body_length_m(now.rocket) - old.station_m
    if old.packed_length_m > 0.0:  # the pack grows with the cloth
        most = min(most, float(width_ratio(max(room, 0.0) / old.packed_length_m)))
    return numbers(
        wide,
        ACROSS.between(base, SMALLEST * wide, most * wide),
        lambda case, across_m: _sewn(case, old, across_m, main),
        lambda across_m: tuple(_made(base, old, across_m)[1]),
        lambda across_m: said(
            f"sew or buy a {'larger' if across_m > wide else 'smaller'} {called}, {{wide}} across",
            wide=(across_m, "length"),
        ),
    )


def _made(base: Case, old: Canopy, across_m: float) -> tuple[dict[str, Any], list[Write]]:
    """Fields of a canopy of another size, in proportion to its cloth, and what is written."""
    path, area = f"rocket.toml:part[{old.name}]", (across_m / old.across_m) ** 2
    changes: dict[str, Any] = {"across_m": across_m}
    way = old.way or next(iter(canopy_kind(old.kind).ways))
    writes: list[Write] = [(f"{path}.across", f"{ACROSS.text(base, across_m)} {way}")]
    if old.cloth_area_m2 > 0.0:
        changes["cloth_area_m2"] = AREA.near(base, old.cloth_area_m2 * area)
        writes.append((f"{path}.cloth_area", AREA.text(base, changes["cloth_area_m2"])))
    if old.packed_length_m > 0.0:
        changes["packed_length_m"] = SPAN.near(base, old.packed_length_m * area)
        sizes = (changes["packed_length_m"], old.packed_diameter_m)
        writes.append((f"{path}.roll", " x ".join(SPAN.text(base, each) for each in sizes)))
    if old.mass_kg is not None:
        mass = stated(old.mass_kg * area, MASS_GUESS * old.mass_kg * area, *MASS.unit(base), 3)
        changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
        writes.append((f"{path}.mass", mass.text))
    return changes, writes


def _sewn(case: Case, old: Canopy, across_m: float, main: bool) -> Case:
    new = replace(old, known="guess", **_made(case, old, across_m)[0])
    there = next((p for p in case.rocket.of_kind(Canopy) if p.name == old.name), old)
    path = f"rocket.toml:part[{old.name}].across"
    figure = next((each for each in case.uncertainty.sensitivities if each.path == path), None)
    if figure is None:
        sewn = with_part(case, there, new)
    else:
        sewn = with_length(case, there, new, "across", Stated("", across_m, figure.sigma))
    if main:
        return replace(sewn, deployment=replace(sewn.deployment, main_canopy=new))
    return replace(sewn, deployment=replace(sewn.deployment, canopy=new))


DRIFT: Final = ("off_field", "keep_out")
PACKED: Final = ("gear_fits", "canopy_stays", "canopy_scorched")
OPENING: Final = ("opening_cord", "opening_canopy", "snatch_anchor", "zipper", "anchor")
LEVERS: Final = (
    Lever(
        "canopy",
        "canopy",
        dimension="",
        cost="minutes",
        offer=_canopy,
        note="pack it again",
        helps=(*LANDING_ROWS, *DRIFT, *PACKED, *OPENING),
        slider=True,
        alone="one parachute; add another on the drawing page",
        touches=(*LANDING_ROWS, *DRIFT, *PACKED, *OPENING),
    ),
    Lever(
        "canopy_size",
        "size of a canopy not at hand",
        dimension="length",
        cost="purchase",
        offer=_size,
        note="weigh it, pack it, pull-test it",
        helps=(*LANDING_ROWS, *DRIFT, *PACKED, *OPENING),
        touches=(*LANDING_ROWS, *DRIFT, *PACKED, *OPENING),
    ),
)
