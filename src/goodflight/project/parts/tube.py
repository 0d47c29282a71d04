"""The part kind `tube`: a tube of the body."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length
from goodflight.project.parts.table import (
    ALONG,
    INSIDE,
    OUTSIDE,
    WHICH,
    Making,
    PartKind,
    PartTable,
    hollow,
)


class TubeTable(PartTable):
    """A tube of the body."""

    kind: Annotated[Literal["tube"], WHICH]
    length: Annotated[Length, ALONG]
    outer_diameter: Annotated[Diameter, OUTSIDE]
    inner_diameter: Annotated[Diameter, INSIDE]


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
