"""The part kind `buttons`: the two guides that ride in the rail."""

from typing import ClassVar, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.project.fields import Area, Force, Length, Mass, Station
from goodflight.project.parts.table import Making, PartKind, PartTable, Placed, mm, quoted
from goodflight.project.sheets import Sheet


class ButtonsTable(PartTable):
    """The two guides that ride in the rail."""

    words: ClassVar = {
        "station": "forward rail guide",
        "aft_station": "rear rail guide",
        "height": "height above the body | 10 mm",
        "frontal_area": "frontal area of one guide",
    }

    kind: Literal["buttons"]
    station: Station
    mass: Mass
    aft_station: Station
    height: Length | None = None
    frontal_area: Area | None = None
    strength: Force | None = None


def _check(sheet: Sheet, part: Placed) -> None:
    fore, aft = part.table.station, part.table.aft_station
    if aft.value <= fore.value:
        wanted = f"a station behind the forward guide at {mm(fore.value)}"
        advice = "station is the forward guide, aft_station the rear one"
        sheet.add((*part.path, "aft_station"), quoted(aft), wanted, advice)


def _build(m: Making) -> p.Part:
    return p.Buttons(
        **m.common,
        aft_station_m=m.of("aft_station"),
        height_m=m.of("height", 0.010),
        frontal_area_m2=m.of("frontal_area"),
        strength_n=m.maybe("strength"),
    )


KIND = PartKind(
    ButtonsTable,
    "on the rail",
    1,
    _build,
    check=_check,
    still=("station", "aft_station", "height", "frontal_area"),
)
