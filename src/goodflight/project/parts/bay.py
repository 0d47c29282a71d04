"""The part kind `bay`: a room in the body: what must fit in, and how it breathes."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Length, LengthOrZero, Name, Station, Volume
from goodflight.project.parts.table import Making, PartKind, PartTable


class BayTable(PartTable):
    """A room in the body: what must fit in, and how it breathes."""

    words: ClassVar = {
        "vents": "number of vent holes",
        "vent_diameter": "diameter of one vent hole",
        "holds": "names of what lies in it",
        "electronics": "an altimeter or logger reads the pressure in it | not known if one flies",
        "free_volume": "air left in it | its room less what it holds",
    }

    kind: Literal["bay"]
    station: Station
    length: Length
    inner_diameter: Diameter
    vents: Annotated[int, Field(ge=0, le=24)] = 0
    vent_diameter: LengthOrZero | None = None
    holds: list[Name] = Field(default_factory=list)
    electronics: bool | None = None
    free_volume: Volume | None = None


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
