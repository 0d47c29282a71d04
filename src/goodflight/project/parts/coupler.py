"""The part kind `coupler`: a tube inside two others that joins them."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, Station
from goodflight.project.first_asked import First
from goodflight.project.parts.table import (
    ALONG,
    AT,
    INSIDE,
    OUTSIDE,
    WHICH,
    Making,
    PartKind,
    PartTable,
    hollow,
)


class CouplerTable(PartTable):
    """A tube inside two others that joins them."""

    kind: Annotated[Literal["coupler"], WHICH]
    station: Annotated[Station, AT]
    length: Annotated[Length, ALONG]
    outer_diameter: Annotated[Diameter, OUTSIDE]
    inner_diameter: Annotated[Diameter, INSIDE]
    bulkheads: Annotated[
        bool,
        Key(
            "bulkheads and the bolt of the cord are in it, weighed with it",
            first=First(
                70,
                "The coupler is",
                "what the charge pushes on: bulkheads, or the joint of the nose",
                default="false",
                words=(("true", "closed by bulkheads"), ("false", "an open tube")),
            ),
        ),
    ] = False


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
