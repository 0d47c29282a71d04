"""The part kind `motor_tube`: holds the motor."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, Station
from goodflight.project.parts.table import (
    ALONG,
    AT,
    INSIDE,
    OUTSIDE,
    OVERHANG_M,
    WHICH,
    Making,
    PartKind,
    PartTable,
    hollow,
)


class MotorTubeTable(PartTable):
    """Holds the motor."""

    kind: Annotated[Literal["motor_tube"], WHICH]
    station: Annotated[Station, AT]
    length: Annotated[Length, ALONG]
    outer_diameter: Annotated[Diameter, OUTSIDE]
    inner_diameter: Annotated[Diameter, INSIDE]
    motor_aft: Annotated[
        Station | None, Key("station of the motor's aft end", left_out="tail of the rocket")
    ] = None


def _build(m: Making) -> Part:
    sizes = m.sized("length outer_diameter inner_diameter")
    return p.MotorTube(**m.common, **sizes, motor_aft_m=m.of("motor_aft", m.tail_m))


KIND = PartKind(
    MotorTubeTable,
    "fin can",
    1,
    _build,
    check=hollow,
    wall=True,
    still=("motor_aft",),
    fits="outer_diameter",
    overhang_m=OVERHANG_M,
)
