"""Levers of balance: mass added in the nose."""

from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.parts import Nose
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import Stated, stated
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers
from goodflight.studies.levers.sizes import MASS, PLACE

BALLAST: Final = "added nose ballast"
SHARE: Final = 0.25  # of the nose's length
MASS_SIGMA_KG: Final = 0.001
PLACE_SIGMA_M: Final = 0.003
MOST_KG: Final = 0.300


def _ballast(base: Case, _now: Case) -> Offer:
    """Mass added to what is there; what is there already becomes heavier, in its own place."""
    there = next((item for item in base.items if item.name == BALLAST), None)
    old = 0.0 if there is None else there.mass_kg

    def make(case: Case, mass_kg: float) -> Case:
        item = _item(base, there, _weight(base, old + mass_kg))
        others = (each for each in case.items if each.name != BALLAST)
        return replace(case, items=(*others, item))

    more = "" if there is None else " more"
    return numbers(
        0.0,
        MASS.between(base, 0.0, MOST_KG),
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
    nose = next(iter(case.rocket.of_kind(Nose)), None)
    return SHARE * (nose.length_m if nose is not None else 0.2)


def _weight(case: Case, mass_kg: float) -> Stated:
    return stated(mass_kg, MASS_SIGMA_KG, *MASS.unit(case))


def _place(case: Case) -> Stated:
    return stated(_station_m(case), PLACE_SIGMA_M, *PLACE.unit(case))


def _item(case: Case, there: MassItem | None, mass: Stated) -> MassItem:
    if there is not None:
        return replace(there, mass_kg=mass.value, mass_sigma_kg=mass.sigma, known="guess")
    place = _place(case)
    return MassItem(
        name=BALLAST,
        mass_kg=mass.value,
        station_m=place.value,
        pitch_inertia_kg_m2=0.0,
        roll_inertia_kg_m2=0.0,
        mass_sigma_kg=mass.sigma,
        station_sigma_m=place.sigma,
        known="guess",
        kind="added_mass",
    )


def _write(case: Case, there: MassItem | None, mass_kg: float) -> Write:
    mass = _weight(case, mass_kg).text
    if there is not None:
        return f"rocket.toml:part[{BALLAST}].mass", mass
    place = _place(case).text
    text = f'kind = "added_mass", name = "{BALLAST}", role = "ballast"'
    text += f', station = "{place.partition(" ±")[0]}", balance = "{place}"'
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
