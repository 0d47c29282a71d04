"""The part kind `motor_tube`: holds the motor."""

from typing import ClassVar, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length, Station
from goodflight.project.parts.table import OVERHANG_M, Making, PartKind, PartTable, hollow


class MotorTubeTable(PartTable):
    """Holds the motor."""

    words: ClassVar = {
        "motor_aft": "station of the motor's aft end | tail of the rocket",
    }

    kind: Literal["motor_tube"]
    station: Station
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter
    motor_aft: Station | None = None


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
