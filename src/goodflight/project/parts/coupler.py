"""The part kind `coupler`: a tube inside two others that joins them."""

from typing import ClassVar, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length, Station
from goodflight.project.parts.table import Making, PartKind, PartTable, hollow


class CouplerTable(PartTable):
    """A tube inside two others that joins them."""

    words: ClassVar = {
        "bulkheads": "bulkheads and the bolt of the cord are in it, weighed with it",
    }

    kind: Literal["coupler"]
    station: Station
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter
    bulkheads: bool = False


def _build(m: Making) -> Part:
    return p.Coupler(
        **m.common, **m.sized("length outer_diameter inner_diameter"), bulkheads=m.table.bulkheads
    )


KIND = PartKind(
    CouplerTable,
    "airframe",
    2,
    _build,
    check=hollow,
    wall=True,
    still=(),
    fits="outer_diameter",
)
