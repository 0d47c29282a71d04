"""The part kind `bay`: a room in the body: what must fit in, and how it breathes."""

from typing import Annotated, Literal

from pydantic import Field

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, LengthOrZero, Name, Station, Volume
from goodflight.project.first_asked import First
from goodflight.project.parts.table import ALONG, AT, INSIDE, WHICH, Making, PartKind, PartTable


class BayTable(PartTable):
    """A room in the body: what must fit in, and how it breathes."""

    kind: Annotated[Literal["bay"], WHICH]
    station: Annotated[Station, AT]
    length: Annotated[Length, ALONG]
    inner_diameter: Annotated[Diameter, INSIDE]
    vents: Annotated[
        int,
        Field(ge=0, le=24),
        Key(
            "number of vent holes",
            first=First(80, "Vents of the parachute bay", "trapped air", default="1"),
        ),
    ] = 0
    vent_diameter: Annotated[
        LengthOrZero | None,
        Key(
            "diameter of one vent hole",
            first=First(90, "Diameter of a vent", "the same", default="3 mm", imperial="0.125 in"),
        ),
    ] = None
    holds: Annotated[list[Name], Key("names of what lies in it")] = Field(default_factory=list)
    electronics: Annotated[
        bool | None,
        Key("an altimeter or logger reads the pressure in it", left_out="not known if one flies"),
    ] = None
    free_volume: Annotated[
        Volume | None,
        Key("air in it, contents taken off; read of a bay with electronics", left_out="not known"),
    ] = None


def _build(m: Making) -> Part:
    sizes = m.sized("length inner_diameter vent_diameter")
    return p.Bay(
        **m.common,
        **sizes,
        vent_count=m.table.vents,
        holds=tuple(m.table.holds),
        electronics=m.table.electronics,
        free_volume_m3=m.maybe("free_volume"),
    )


KIND = PartKind(
    BayTable,
    "carried",
    1,
    _build,
    fits="inner_diameter",
    weightless=True,
)
