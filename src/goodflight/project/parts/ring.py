"""The part kind `ring`: centres the motor tube in the body."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, Station
from goodflight.project.first_asked import First
from goodflight.project.parts.table import (
    AT,
    INSIDE,
    OUTSIDE,
    WHICH,
    Making,
    PartKind,
    PartTable,
    hollow,
)


class RingTable(PartTable):
    """Centres the motor tube in the body."""

    kind: Annotated[Literal["ring"], WHICH]
    station: Annotated[Station, AT]
    thickness: Annotated[
        Length,
        Key(
            "thickness",
            first=First(
                40,
                "Thickness of the three rings",
                "what their glue holds",
                key="ring_thickness",
                default="4 mm",
                imperial="0.157 in",
            ),
        ),
    ]
    outer_diameter: Annotated[Diameter, OUTSIDE]
    inner_diameter: Annotated[Diameter, INSIDE]


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
