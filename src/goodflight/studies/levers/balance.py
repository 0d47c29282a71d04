"""Levers of balance: mass added in the nose."""

from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.parts import Nose
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, steps

BALLAST: Final = "added nose ballast"
PLACE: Final = 0.25  # of the nose's length
MASS_SIGMA_KG: Final = 0.001
PLACE_SIGMA_M: Final = 0.003
MOST_KG: Final = 0.300


def _ballast(base: Case, _now: Case) -> Offer:
    """Mass added to what is there; what is there already becomes heavier, in its own place."""
    there = next((item for item in base.items if item.name == BALLAST), None)
    old = 0.0 if there is None else there.mass_kg

    def make(case: Case, mass_kg: float) -> Case:
        item = _item(base, there, old + mass_kg)
        others = (each for each in case.items if each.name != BALLAST)
        return replace(case, items=(*others, item))

    more = "" if there is None else " more"
    return numbers(
        0.0,
        steps(0.0, MOST_KG, 0.005),
        make=make,
        writes=lambda mass_kg: (_write(base, there, old + mass_kg),),
        title=lambda mass_kg: said(f"add {{mass}}{more} in the nose", mass=(mass_kg, "mass")),
        towards="up",
    )


def ballast_station_m(case: Case) -> float:
    """Where ballast goes, from the nose tip: with what is there already, else in the nose."""
    there = next((item for item in case.items if item.name == BALLAST), None)
    return _station_m(case) if there is None else there.station_m


def _station_m(case: Case) -> float:
    nose = next((part for part in case.rocket.parts if isinstance(part, Nose)), None)
    return PLACE * (nose.length_m if nose is not None else 0.2)


def _item(case: Case, there: MassItem | None, mass_kg: float) -> MassItem:
    if there is not None:
        return replace(there, mass_kg=mass_kg, mass_sigma_kg=MASS_SIGMA_KG, known="guess")
    return MassItem(
        name=BALLAST,
        mass_kg=mass_kg,
        station_m=_station_m(case),
        pitch_inertia_kg_m2=0.0,
        roll_inertia_kg_m2=0.0,
        mass_sigma_kg=MASS_SIGMA_KG,
        station_sigma_m=PLACE_SIGMA_M,
        known="guess",
        kind="added_mass",
    )


def _write(case: Case, there: MassItem | None, mass_kg: float) -> Write:
    mass = f"{round(1000 * mass_kg)} g ± 1 g"
    if there is not None:
        return f"rocket.toml:part[{BALLAST}].mass", mass
    place = f"{1000 * _station_m(case):.0f} mm"
    text = f'kind = "added_mass", name = "{BALLAST}", role = "ballast"'
    text += f', station = "{place}", balance = "{place} ± {1000 * PLACE_SIGMA_M:.0f} mm"'
    text += f', mass = "{mass}"'
    return "rocket.toml:part", text


LEVERS: Final = (
    Lever(
        "ballast",
        "ballast added in the nose",
        dimension="mass",
        cost="minutes",
        offer=_ballast,
        note="weigh it, fix it so that it cannot move, balance the rocket again",
        helps=("margin_small", "margin_gust"),
        slider=True,
        touches=("thrust_to_weight", "code_thrust", "rail_exit", "landing_speed"),
    ),
)
