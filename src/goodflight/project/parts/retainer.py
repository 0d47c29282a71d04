"""The part kind `retainer`: the cap or ring at the tail that keeps the motor in."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, Mass, Station
from goodflight.project.parts.table import (
    ALONG,
    AT,
    OVERHANG_M,
    WEIGHT,
    WHICH,
    Making,
    PartKind,
    PartTable,
)


class RetainerTable(PartTable):
    """The cap or ring at the tail that keeps the motor in; what it holds stands in [retention]."""

    kind: Annotated[Literal["retainer"], WHICH]
    station: Annotated[Station, AT]
    mass: Annotated[Mass, WEIGHT]
    length: Annotated[Length, ALONG]
    outer_diameter: Annotated[Diameter, Key("outside diameter; its mass lies there")]


def _build(m: Making) -> Part:
    radius = m.of("outer_diameter") / 2
    return p.AddedMass(**m.common, **m.sized("length"), radius_m=radius, role="retainer")


KIND = PartKind(RetainerTable, "fin can", 4, _build, still=(), overhang_m=OVERHANG_M)
