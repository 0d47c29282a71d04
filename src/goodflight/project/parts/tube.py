"""The part kind `tube`: a tube of the body."""

from typing import Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length
from goodflight.project.parts.table import Making, PartKind, PartTable, hollow


class TubeTable(PartTable):
    """A tube of the body."""

    kind: Literal["tube"]
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


def _build(m: Making) -> Part:
    return p.Tube(**m.common, **m.sized("length outer_diameter inner_diameter"))


KIND = PartKind(
    TubeTable,
    "airframe",
    1,
    _build,
    check=hollow,
    wall=True,
    still=("length", "outer_diameter"),
    ends=lambda t: (t.outer_diameter, t.outer_diameter),
)
