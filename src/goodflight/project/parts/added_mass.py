"""The part kind `added_mass`: anything else with a mass and a place."""

from collections.abc import Iterable
from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import AddedRole
from goodflight.project.fields import Key, LengthOrZero, Mass, Station
from goodflight.project.parts.table import (
    ALONG,
    AT,
    OVERHANG_M,
    WEIGHT,
    WHICH,
    Making,
    PartKind,
    PartTable,
    Placed,
)
from goodflight.project.sheets import Sheet


class AddedMassTable(PartTable):
    """Anything else with a mass and a place."""

    kind: Annotated[Literal["added_mass"], WHICH]
    mass: Annotated[Mass, WEIGHT]
    station: Annotated[Station, AT]
    role: Annotated[
        AddedRole,
        Key(
            "what it is, for the drawings, the lists and the order of assembly; wrap lies "
            "round the canopy, whole holds the mass of every part given 0 g or no mass (canopy and "
            "cord apart), of paint too, and needs its balance"
        ),
    ] = "other"
    length: Annotated[LengthOrZero | None, ALONG] = None
    radius: Annotated[LengthOrZero | None, Key("radius of what is added")] = None

    @property
    def whole(self) -> bool:
        """Whether it holds the mass of every part that has none of its own."""
        return self.role == "whole"


def whole_entry(parts: Iterable[PartTable]) -> AddedMassTable | None:
    """The entry that holds the mass of every part that has none of its own; None: no such entry."""
    return next((part for part in parts if isinstance(part, AddedMassTable) and part.whole), None)


def _check(sheet: Sheet, part: Placed) -> None:
    """A whole lies on both sides of a separation as its balance point says: it must be told."""
    if part.table.whole and part.table.balance is None:
        wanted = "where it balances from the nose tip, without canopy and cord, like 900 mm"
        advice = (
            "balance the rocket on an edge and write balance; or give each part its own mass and "
            "take this one out"
        )
        sheet.add((*part.path, "balance"), 'role "whole" without a balance', wanted, advice)


def _build(m: Making) -> Part:
    return p.AddedMass(**m.common, **m.sized("length radius"), role=m.table.role)


KIND = PartKind(
    AddedMassTable,
    "carried",
    4,
    _build,
    check=_check,
    still=(),
    overhang_m=OVERHANG_M,
)
