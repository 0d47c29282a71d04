"""The part kind `buttons`: the two guides that ride in the rail, or two lugs on a rod."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Area, Force, Key, Length, Mass, Station
from goodflight.project.first_asked import First
from goodflight.project.parts.table import (
    WEIGHT,
    WHICH,
    Making,
    PartKind,
    PartTable,
    Placed,
    mm,
    quoted,
    smaller,
)
from goodflight.project.rails import ROD, RailKind
from goodflight.project.sheets import Sheet


class ButtonsTable(PartTable):
    """The two guides that ride in the rail, or two lugs on a rod; of one long lug its two ends."""

    kind: Annotated[Literal["buttons"], WHICH]
    station: Annotated[Station, Key("forward rail guide")]
    mass: Annotated[Mass, WEIGHT]
    aft_station: Annotated[Station, Key("rear rail guide")]
    height: Annotated[Length | None, Key("height above the body", left_out="10 mm")] = None
    frontal_area: Annotated[Area | None, Key("frontal area of one guide")] = None
    strength: Annotated[
        Force | None,
        Key(
            "force at which it breaks",
            first=First(
                240,
                "Pull a rail guide stands",
                "weights on a scrap of the tube",
                key="guide_strength",
            ),
        ),
    ] = None
    made_for: Annotated[
        RailKind | None,
        Key(
            "kind of rail the guides are made for",
            first=First(
                270, "Kind of rail the guides are made for", "on their label", key="guide_kind"
            ),
        ),
    ] = None
    neck: Annotated[Length | None, Key("width of a guide's neck, between the lips of the slot")] = (
        None
    )
    head: Annotated[Length | None, Key("width of its head, behind the lips")] = None
    head_height: Annotated[Length | None, Key("height of its head")] = None
    bore: Annotated[Length | None, Key("inside diameter of a lug, for a rod")] = None


_BORE = "lugs have a bore, guides in a slot neck and head: keep what they are"


def _check(sheet: Sheet, part: Placed) -> None:
    fore, aft = part.table.station, part.table.aft_station
    if aft.value <= fore.value:
        wanted = f"a station behind the forward guide at {mm(fore.value)}"
        advice = "station is the forward guide, aft_station the rear one"
        sheet.add((*part.path, "aft_station"), quoted(aft), wanted, advice)
    smaller(sheet, part, "neck", "head")
    smaller(sheet, part, "head_height", "height")
    smaller(sheet, part, "bore", "height")
    if part.table.bore is not None and part.table.made_for not in (None, ROD):
        sheet.add((*part.path, "made_for"), f'"{part.table.made_for}"', f'"{ROD}"', _BORE)
    for key in ("neck", "head", "head_height"):
        if part.table.bore is not None and getattr(part.table, key) is not None:
            sheet.add((*part.path, key), quoted(getattr(part.table, key)), "none of a lug", _BORE)


def _build(m: Making) -> Part:
    return p.Buttons(
        **m.common,
        aft_station_m=m.of("aft_station"),
        height_m=m.of("height", 0.010),
        frontal_area_m2=m.of("frontal_area"),
        strength_n=m.maybe("strength"),
        made_for=m.table.made_for or "",
        neck_m=m.maybe("neck"),
        head_m=m.maybe("head"),
        head_height_m=m.maybe("head_height"),
        told_height_m=m.maybe("height"),
        bore_m=m.maybe("bore"),
    )


KIND = PartKind(
    ButtonsTable,
    "on the rail",
    1,
    _build,
    check=_check,
    still=("station", "aft_station", "height", "frontal_area"),
)
