"""Room the recovery gear takes in its bay: stacked length, solid and packed volume.

Answers how long the stack is, how much room the gas has, and how long the tube must be. Left out:
how a stack jams.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.recovery.packing import (
    DEFAULT_DENSITY_KG_M3,
    NYLON_KG_M3,
    WRAP_KG_M3,
    bay_length_m,
    packed_length_m,
    packed_volume_m3,
    section_m2,
    stack_length_m,
)
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import AddedMass, Bay, Canopy, Cord, Coupler, Nose, Rocket
from goodflight.studies.asking import ROCKET, asked, entry, to_add, together
from goodflight.studies.case.planned import Case, canopy_of, gear_bay, main_bay
from goodflight.studies.sampling.quantity import Missing

Array = NDArray[np.float64]
CANOPY_BAY: Final = asked(
    "add a bay that holds the canopy (kind bay, length behind the coupler, inner diameter, "
    "holds) to the rocket",
    to_add(
        "bay",
        "bay of the canopy",
        "length behind the coupler, inner diameter, names of what it holds",
    ),
)
_OWN_BAY: Final = to_add(
    "bay",
    "bay of the main canopy",
    "length behind shoulder or coupler, inner diameter, names of what it holds",
)


@dataclass(frozen=True)
class Piece:
    """One packed thing: the length it takes in the bay, and its solid volume."""

    name: str
    length_m: float
    solid_m3: float
    stated: bool  # the project gives its packed length
    by_mass_kg: float = 0.0  # the mass that its length goes by

    def drawn_m(self, mass_kg: Array) -> Array:
        """Its length, (n,) [m]; what goes by its mass is as long as the mass drawn makes it."""
        share = mass_kg / self.by_mass_kg if self.by_mass_kg > 0.0 else np.ones_like(mass_kg)
        return np.asarray(self.length_m * share)


@dataclass(frozen=True)
class Stack:
    """Everything packed in the recovery bay, nominal."""

    bay: Bay
    pieces: tuple[Piece, ...]
    intruding_m: float = 0.0  # couplers and shoulders that reach into the bay

    @property
    def room_m(self) -> float:
        """Length of the bay that is free [m]."""
        return self.bay.length_m - self.intruding_m

    @property
    def length_m(self) -> float:
        """Stacked length [m]."""
        return sum(piece.length_m for piece in self.pieces)

    def drawn_m(self, room: Array, drawn_kg: Mapping[str, Array] = MappingProxyType({})) -> Array:
        """Stacked length by the drawn room of the pack (about 1) and drawn masses, (n,) [m]."""
        stated = sum(piece.length_m for piece in self.pieces if piece.stated)
        guessed = np.zeros_like(room)
        for each in self.pieces:
            if not each.stated:
                drawn = each.name in drawn_kg
                guessed += each.drawn_m(drawn_kg[each.name]) if drawn else each.length_m
        return stack_length_m(stated, guessed, room)

    @property
    def solid_m3(self) -> float:
        """Volume of the material alone [m3]."""
        return sum(piece.solid_m3 for piece in self.pieces)

    @property
    def area_m2(self) -> float:
        """Cross-section of the bay [m2]."""
        return section_m2(self.bay.inner_diameter_m)

    @property
    def wanted_m(self) -> float:
        """Length the bay should have: the stack and one calibre of spare [m]."""
        return float(bay_length_m(self.length_m, self.bay.inner_diameter_m))


def no_main_bay(case: Case) -> Missing:
    """What is missing where the main canopy has no bay of its own."""
    main, first = case.deployment.main_canopy, gear_bay(case)
    if main is None or first is None or main.name not in first.holds:
        return asked("say which bay the main canopy lies in (kind bay, holds)", _OWN_BAY)
    return asked(
        f"{main.name} lies in {first.name} with the first canopy. What holds it shut until its "
        "height, a tied bundle and its cutter, is not modelled: it may open at apogee, or never. "
        "Give it a bay and a charge of its own (kind bay, holds, [main_separation]), or plan the "
        "first canopy alone; flown as it is, test it on the ground and show it to the range "
        "safety officer",
        _OWN_BAY,
    )


def stack_of(case: Case, main: bool = False) -> Stack | Missing:
    """What is packed in the bay of the first or the main canopy, or what is missing.

    What the bay holds, and cords that no bay holds with the first canopy. A stated packed length
    counts as it is; otherwise mass over 190 kg/m3 for cloth and cord, and for added masses the
    lesser of their length and mass over 500 kg/m3.
    """
    bay = main_bay(case) if main else gear_bay(case)
    chosen = case.deployment.main_canopy if main else canopy_of(case)
    if bay is None:
        return no_main_bay(case) if main else CANOPY_BAY
    parts = [p for p in case.rocket.parts if p.name in bay.holds and not isinstance(p, Canopy)]
    held = {name for p in case.rocket.of_kind(Bay) for name in p.holds}
    if not main:
        parts += [p for p in case.rocket.of_kind(Cord) if p.name not in held]
    if chosen is not None:
        parts.append(chosen)
    found = [_piece(each, bay) for each in parts]
    lacks = together(*found)
    pieces = tuple(each for each in found if isinstance(each, Piece))
    return lacks or Stack(bay, pieces, intruding_m(case.rocket, bay))


def intruding_m(rocket: Rocket, bay: Bay) -> float:
    """Length of a bay that couplers and shoulders take [m]; a coupler all round it takes none."""
    start, end = bay.station_m, bay.station_m + bay.length_m
    taken = 0.0
    for part in rocket.of_kind(Coupler):
        if part.outer_diameter_m <= bay.inner_diameter_m + 1e-4:
            fore, aft = part.station_m, part.station_m + part.length_m
            taken += (
                0.0 if fore <= start and aft >= end else max(0.0, min(end, aft) - max(start, fore))
            )
    for nose in rocket.of_kind(Nose):
        fore = nose.station_m + nose.length_m
        taken += max(0.0, min(end, fore + nose.shoulder_length_m) - max(start, fore))
    return taken


def _piece(part: Part, bay: Bay) -> Piece | Missing:
    stated = part.rolled_m
    mass = part.mass_kg
    if mass is None and stated <= 0.0:
        key = "roll" if isinstance(part, Canopy) else "stowed_length"
        at, how = f"{ROCKET}:part[{part.name}]", "put it on a kitchen scale"
        return asked(
            f"weigh {part.name}, or measure it packed ({key})",
            entry(
                f"{at}.mass",
                f"mass of {part.name}",
                how=how,
                dimension="mass",
                instrument="scale",
                minutes=2.0,
            ),
        )
    solid = (mass or 0.0) / NYLON_KG_M3
    if stated > 0.0:
        return Piece(part.name, stated, solid, True)
    if isinstance(part, AddedMass):
        length = float(packed_length_m((mass or 0.0) / WRAP_KG_M3, bay.inner_diameter_m))
        if 0.0 < part.length_m < length:
            return Piece(part.name, part.length_m, solid, False)
        return Piece(part.name, length, solid, False, mass or 0.0)
    volume = packed_volume_m3(mass or 0.0, DEFAULT_DENSITY_KG_M3)
    length = float(packed_length_m(volume, bay.inner_diameter_m))
    return Piece(part.name, length, solid, False, mass or 0.0)
