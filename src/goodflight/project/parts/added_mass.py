"""The part kind `added_mass`: anything else with a mass and a place."""

from collections.abc import Iterable
from typing import ClassVar, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import AddedRole
from goodflight.project.fields import LengthOrZero, Mass, Station
from goodflight.project.parts.table import OVERHANG_M, Making, PartKind, PartTable


class AddedMassTable(PartTable):
    """Anything else with a mass and a place."""

    words: ClassVar = {
        "role": "what it is, for the drawings, the lists and the order of assembly; "
        "wrap lies round the canopy, whole holds the mass of every part that is given 0 g",
        "radius": "radius of what is added",
    }

    kind: Literal["added_mass"]
    mass: Mass
    station: Station
    role: AddedRole = "other"
    length: LengthOrZero | None = None
    radius: LengthOrZero | None = None


def whole_entry(parts: Iterable[PartTable]) -> AddedMassTable | None:
    """The entry that holds the mass of every part that is given 0 g; None where there is none."""
    added = (part for part in parts if isinstance(part, AddedMassTable))
    return next((part for part in added if part.role == "whole"), None)


def _build(m: Making) -> Part:
    return p.AddedMass(**m.common, **m.sized("length radius"), role=m.table.role)


KIND = PartKind(
    AddedMassTable,
    "carried",
    4,
    _build,
    still=(),
    overhang_m=OVERHANG_M,
)
