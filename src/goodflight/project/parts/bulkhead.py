"""The part kind `bulkhead`: a closed disc across the body."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, Station
from goodflight.project.parts.table import AT, WHICH, Making, PartKind, PartTable


class BulkheadTable(PartTable):
    """A closed disc across the body."""

    kind: Annotated[Literal["bulkhead"], WHICH]
    station: Annotated[Station, AT]
    thickness: Annotated[Length, Key("thickness")]
    diameter: Annotated[Diameter, Key("diameter")]
    removable: Annotated[
        bool | None,
        Key("it comes off again, held by rods or screws; else it is glued", left_out="not known"),
    ] = None


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
