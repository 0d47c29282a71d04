"""The part kind `bulkhead`: a closed disc across the body."""

from typing import ClassVar, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length, Station
from goodflight.project.parts.table import Making, PartKind, PartTable


class BulkheadTable(PartTable):
    """A closed disc across the body."""

    words: ClassVar = {
        "diameter": "diameter",
        "removable": "it comes off again, held by rods or screws; else it is glued | not known",
    }

    kind: Literal["bulkhead"]
    station: Station
    thickness: Length
    diameter: Diameter
    removable: bool | None = None


def _build(m: Making) -> Part:
    return p.Bulkhead(**m.common, **m.sized("thickness diameter"), removable=m.table.removable)


KIND = PartKind(
    BulkheadTable,
    "airframe",
    3,
    _build,
    still=(),
    fits="diameter",
)
