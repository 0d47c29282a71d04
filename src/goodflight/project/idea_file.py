"""What `idea.toml` may hold: the field, the season's winds, what is at hand; before any rocket."""

from typing import Annotated, Literal

from pydantic import Field

from goodflight.project.fields import (
    Bearing,
    Delay,
    Diameter,
    Elevation,
    Force,
    Height,
    Impulse,
    Key,
    LabelLength,
    LabelMass,
    Length,
    Mass,
    Name,
    Ratio,
    Seconds,
    Share,
    Speed,
    Table,
    Text,
)
from goodflight.project.measures import Lines, Pair, PairField, Wide
from goodflight.project.parts.canopy import CanopyShape
from goodflight.project.text_fields import QuantityField

_FIELD_SIZE = QuantityField("length", above=0.0, least=20.0, most=20000.0)
FieldSize = Annotated[
    Pair, PairField(("east_west", "north_south"), _FIELD_SIZE, _FIELD_SIZE, "400 m x 300 m")
]


class IdeaField(Table):
    """A field that no file describes yet: a rectangle with the pad in its middle."""

    size: Annotated[FieldSize, Key("east-west x north-south; the pad is in the middle")]
    elevation: Annotated[
        Elevation | None, Key("height above the sea", left_out="100 m", example="12 m")
    ] = None
    ceiling: Annotated[
        Height | None,
        Key("highest altitude agreed, above the ground", left_out="none", example="760 m"),
    ] = None
    rails: Annotated[
        list[Length],
        Field(min_length=1, max_length=20),
        Key("lengths of the rails there; the longest is flown"),
    ]
    code: Annotated[Text, Key("safety code that applies: a set of the package")] = ""


class IdeaWind(Table):
    """One wind of the season, and how often it blows."""

    mean: Annotated[Speed, Key("ten-minute mean at 2 m", example="4 m/s")]
    come_from: Annotated[
        Bearing | None,
        Key(
            "bearing it comes from",
            left_out="along the shorter side of a field given by its size, else 270 deg",
            example="230 deg",
        ),
    ] = None
    weight: Annotated[
        Ratio | None, Key("share of the days, in any measure", left_out="1", example="2")
    ] = None


class IdeaMotor(Table):
    """A motor at hand by the figures of its label; its curve is made up from them, as a guess."""

    name: Annotated[Name, Key("its designation")]
    diameter: Annotated[LabelLength, Key("outside diameter of the casing")]
    length: Annotated[LabelLength, Key("overall length")]
    impulse: Annotated[Impulse, Key("total impulse")]
    burn_time: Annotated[Seconds, Key("time from first to last thrust", example="1.8 s")]
    propellant: Annotated[LabelMass, Key("mass of the propellant")]
    loaded: Annotated[LabelMass, Key("mass ready to fly, propellant included")]
    delay: Annotated[
        Delay | None, Key("longest delay, from burnout", left_out="plugged", example="10 s")
    ] = None
    delay_out_allowed: Annotated[
        list[Delay],
        Field(max_length=40),
        Key("what the maker's sheet lets you take out of the delay", left_out="nothing"),
    ] = Field(default_factory=list)
    charge: Annotated[LabelMass | None, Key("powder of its own charge", left_out="not known")] = (
        None
    )


class IdeaTube(Table):
    """A body tube at hand."""

    outer_diameter: Annotated[Diameter, Key("outside diameter")]
    inner_diameter: Annotated[Diameter, Key("inside diameter")]
    material: Annotated[Name, Key("of the library", example="kraft_tube")]
    length: Annotated[
        Length | None, Key("how much of it there is, all pieces together", left_out="enough")
    ] = None


class IdeaMount(Table):
    """A motor tube at hand."""

    outer_diameter: Annotated[Diameter, Key("outside diameter")]
    inner_diameter: Annotated[Diameter, Key("inside diameter")]


class IdeaSheet(Table):
    """Sheet for fins at hand."""

    thickness: Annotated[Length, Key("thickness", example="4 mm")]
    material: Annotated[Name, Key("of the library", example="birch_plywood_4mm")]


class IdeaCanopy(Table):
    """A parachute at hand, or one that can be sewn."""

    name: Annotated[Name, Key("what you call it")]
    shape: Annotated[CanopyShape, Key("its cut", left_out="flat_hexagonal")] = "flat_hexagonal"
    across: Annotated[Wide, Key("width and how it was measured")]
    mass: Annotated[Mass | None, Key("with its lines", left_out="105 g for a square metre")] = None
    lines: Annotated[Lines | None, Key("number of lines x length of one")] = None
    line_strength: Annotated[Force | None, Key("strength of a line", example="450 N")] = None


class IdeaCord(Table):
    """A recovery cord at hand."""

    name: Annotated[Name, Key("what you call it")]
    length: Annotated[Length, Key("from anchor to anchor", example="5.5 m")]
    strength: Annotated[Force, Key("force at which it breaks, new and straight", example="6500 N")]
    elongation: Annotated[
        Share | None, Key("stretch at the strength; aramid 0.04", left_out="0.25, of nylon")
    ] = None
    width: Annotated[Length | None, Key("width of the webbing", example="14 mm")] = None
    mass: Annotated[
        Mass | None, Key("all of it", left_out="1.8 g a metre for each mm of width")
    ] = None


class IdeaCarry(Table):
    """What must be carried, in a tube of its own behind the nose."""

    name: Annotated[Name, Key("what it is", left_out="payload")] = "payload"
    mass: Annotated[Mass, Key("all of it", example="95 g")]
    length: Annotated[Length, Key("room it takes along the tube", example="140 mm")]


class IdeaFile(Table):
    """An idea: where and when to fly, what is at hand, and what the rocket must carry."""

    name: Annotated[Name, Key("name of the rocket to be")]
    level: Annotated[
        Literal["none", "L1", "L2", "L3"], Key("certificate flown for", left_out="L1")
    ] = "L1"
    evenings: Annotated[
        int | None,
        Field(ge=1, le=200),
        Key("evenings until launch day", left_out="no limit", example="10"),
    ] = None
    site: Annotated[
        Name | None, Key("file name in sites/, without .toml; or describe the field in [field]")
    ] = None
    field: Annotated[IdeaField | None, Key("the field by its size, in place of `site`")] = None
    wind: Annotated[
        list[IdeaWind],
        Field(max_length=12),
        Key("winds of the season, one [[wind]] each", left_out="2, 4 and 6 m/s on 2, 2 and 1 days"),
    ] = Field(default_factory=list)
    motor: Annotated[
        list[IdeaMotor],
        Field(max_length=12),
        Key("motors at hand, one [[motor]] each; those in motors/ beside this file count, too"),
    ] = Field(default_factory=list)
    tube: Annotated[list[IdeaTube], Field(min_length=1, max_length=12), Key("body tubes at hand")]
    mount: Annotated[
        list[IdeaMount], Field(min_length=1, max_length=12), Key("motor tubes at hand")
    ]
    sheet: Annotated[list[IdeaSheet], Field(min_length=1, max_length=12), Key("sheet for fins")]
    canopy: Annotated[
        list[IdeaCanopy], Field(min_length=1, max_length=12), Key("parachutes at hand")
    ]
    cord: Annotated[list[IdeaCord], Field(min_length=1, max_length=12), Key("cords at hand")]
    carry: Annotated[IdeaCarry | None, Key("what must be carried", left_out="nothing")] = None
