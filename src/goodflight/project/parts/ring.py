"""The part kind `ring`: centres the motor tube in the body."""

from typing import Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length, Station
from goodflight.project.parts.table import Making, PartKind, PartTable, hollow


class RingTable(PartTable):
    """Centres the motor tube in the body."""

    kind: Literal["ring"]
    station: Station
    thickness: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


def _build(m: Making) -> Part:
    return p.Ring(**m.common, **m.sized("thickness outer_diameter inner_diameter"))


KIND = PartKind(
    RingTable,
    "fin can",
    2,
    _build,
    check=hollow,
    still=(),
    fits="outer_diameter",
)
