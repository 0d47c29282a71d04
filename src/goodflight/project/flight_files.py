"""What `plans.toml` and `sites/*.toml` may hold, as tables; motors: `motor_files`."""

from typing import Annotated, Literal

from pydantic import Field

from goodflight.project.codes import AnswerKey
from goodflight.project.fields import (
    Bearing,
    Date,
    Distance,
    Elevation,
    Gravity,
    GustFactor,
    Height,
    Key,
    Lean,
    Length,
    LengthOrZero,
    Name,
    Pressure,
    Says,
    Seconds,
    Share,
    Speed,
    Table,
    Temperature,
    Text,
    Tilt,
    key_words,
)
from goodflight.project.first_asked import First
from goodflight.project.rails import RailKind


class DayTable(Table):
    """The weather a plan counts on. Wind at `wind_height` above the ground, mean of ten minutes."""

    wind: Annotated[
        Speed, Key("ten-minute mean wind", hint="mean, like 3.5 m/s ± 0.5 m/s or 8 mph")
    ]
    wind_from: Annotated[
        Bearing,
        Key(
            "bearing the wind comes from",
            label="wind from",
            hint="bearing, like 230 deg ± 10 deg",
            first=First(
                120, "The wind comes from", "which edge of the field is near", default="270 deg"
            ),
        ),
    ]
    wind_height: Annotated[
        Height | None,
        Key(
            "height at which the wind is given",
            label="wind is meant at",
            hint="above the ground, like 2 m or 6 ft",
            left_out="2 m",
        ),
    ] = None
    gust_factor: Annotated[
        GustFactor | None,
        Key(
            "three-second gust over mean wind",
            label="gusts, times the mean",
            hint="like 1.6",
            left_out="1.6",
            first=First(
                130, "Gusts, times the mean wind", "angle of attack at the rail", default="1.6"
            ),
        ),
    ] = None
    wind_exponent: Annotated[
        Share | None,
        Key(
            "power law of wind with height",
            label="wind's growth with height",
            hint="like 0.18",
            left_out="the field's, else 0.16",
        ),
    ] = None
    temperature: Annotated[
        Temperature,
        Key(
            "air temperature at the ground",
            hint="like 9 degC or 48 degF",
            first=First(
                140, "Air at the ground", "air density", default="15 degC", imperial="59 degF"
            ),
        ),
    ]
    pressure: Annotated[
        Pressure | None,
        Key(
            "air pressure that a barometer shows at the ground",
            label="air pressure",
            hint="at the field, like 1013 hPa or 29.9 inHg",
            left_out="standard at the field's height",
        ),
    ] = None
    sea_level_pressure: Annotated[
        Pressure | None,
        Key(
            "sea-level setting (QNH) of an airfield or weather report, in place of pressure",
            label="pressure at sea level",
            hint="of a weather report, like 1013 hPa or 29.9 inHg",
        ),
    ] = None
    cloud_base: Annotated[
        Height | None,
        Key(
            "cloud base above the ground",
            label="cloud base",
            hint="above the ground, like 950 m or 3000 ft",
            example="950 m",
            first=First(90, "Cloud base you count on", "above the pad"),
        ),
    ] = None
    cloud_cover: Annotated[
        Share | None,
        Key(
            "share of the sky that is covered",
            label="share of cloud",
            hint="from 0 to 1, like 0.4",
            first=First(100, "Cloud cover you count on", "share of the sky, from 0 to 1"),
        ),
    ] = None
    time: Annotated[
        Text, Key("time of day; a remark only", label="time of day", hint="like 12:30")
    ] = ""


class PlanSays(Says):
    """What rows and levers read as the plan says it: `case.plan_says.confirmed_on`."""

    confirmed: Annotated[list[AnswerKey], Key("rules of the code that are met, by key")] = Field(
        default_factory=list
    )
    confirmed_on: Annotated[
        Date, Key("the day these were answered, shown beside them", label="confirmed on")
    ] = ""
    denied: Annotated[
        list[AnswerKey],
        Key("rules of the code that are not met, by key", label="not so"),
    ] = Field(default_factory=list)
    first_flight: Annotated[
        Literal["yes", "no"] | None,
        Key("whether the rocket has never flown; announced, and asked by the inspector"),
    ] = None
    member_until: Annotated[
        Date,
        Key(
            "last day of the membership or certificate that the flight needs; with launch_day of "
            "build.toml it is a row of the ledger",
            label="member until",
        ),
    ] = ""
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class PlanTable(PlanSays):
    """One intended flight."""

    name: Annotated[Name, Key("name of the plan")]
    motor: Annotated[
        Name | None,
        Key("file name in motors/, without .toml", left_out="none chosen yet; nothing is flown"),
    ] = None
    delay_out: Annotated[
        Seconds | None,
        Key("seconds taken out of the delay", label="taken out of the delay", left_out="0 s"),
    ] = None
    canopy: Annotated[Name, Key("name of the canopy that opens first")]
    main: Annotated[
        Name | None, Key("name of a second canopy, opened by the altimeter", label="second canopy")
    ] = None
    main_height: Annotated[
        Height | None,
        Key(
            "height above the pad at which the second opens",
            label="second canopy opens at",
            hint="above the pad, like 150 m or 500 ft",
            example="150 m",
        ),
    ] = None
    apogee_lag: Annotated[
        Seconds | None,
        Key(
            "time from apogee to the altimeter's charge",
            label="opens after the top",
            hint="like 1 s",
            left_out="1 s",
        ),
    ] = None
    site: Annotated[Name, Key("file name in sites/, without .toml", label="field")]
    rail: Annotated[
        Length | None, Key("length of the rail", left_out="first rail of the field")
    ] = None
    rail_stop: Annotated[
        LengthOrZero | None,
        Key(
            "height of the tail above the rail's lower end",
            label="tail above the rail's end",
            hint="like 150 mm or 6 in",
            left_out="the field's, else 0.23 m",
        ),
    ] = None
    rail_base: Annotated[
        LengthOrZero | None,
        Key(
            "height of the rail's lower end above the ground",
            label="rail's end above the ground",
            hint="like 300 mm or 12 in",
            left_out="the field's, else 0.3 m",
        ),
    ] = None
    tilt: Annotated[
        Tilt | None,
        Key(
            "lean of the rail from vertical",
            label="rail leans",
            hint="from upright, like 3 deg",
            left_out="0",
            first=First(
                110, "Rail from upright, into the wind", "where it comes down", default="3 deg"
            ),
        ),
    ] = None
    lean: Annotated[
        Lean, Key('bearing that the top of the rail leans to, or "into wind"', label="leans to")
    ] = "into wind"
    deployment: Annotated[Literal["delay", "altimeter"], Key("what opens the first canopy")] = (
        "delay"
    )
    level: Annotated[
        Literal["none", "L1", "L2", "L3"],
        Key("certificate attempted or held", label="certificate flown for"),
    ] = "none"
    day: Annotated[DayTable, Key("the weather, in [plan.day]")]
    pad_wait: Annotated[
        Seconds | None,
        Key(
            "time from switching on to ignition",
            label="wait on the pad",
            hint="like 35 min ± 10 min",
            first=First(290, "Wait at the pad, switched on", "a queue included"),
        ),
    ] = None


class PlansFile(Table):
    """The planned flights; the first one is the one that is shown when none is named."""

    plan: Annotated[
        list[PlanTable],
        Field(min_length=1),
        Key("planned flights, one [[plan]] each; the first is the default"),
    ]


class FieldSays(Says):
    """What rows and levers read as the field says it: `case.field_says.airport`."""

    people: Annotated[
        Height | None,
        Key(
            "pad to the nearest uninvolved person or building",
            example="600 m",
            first=First(50, "Pad to people and property with no part in it", "from a map"),
        ),
    ] = None
    spectators: Annotated[
        Height | None,
        Key(
            "pad to the flight line",
            example="60 m",
            first=First(60, "Pad to the flight line", "where everybody stands"),
        ),
    ] = None
    airport: Annotated[
        Distance | None,
        Key(
            "pad to the nearest airport's boundary",
            example="8 km",
            first=First(70, "Pad to the nearest airport", "from a map"),
        ),
    ] = None
    rail_kind: Annotated[
        RailKind | None,
        Key(
            "kind of the rails: width and nominal slot as they are called, or a rod",
            first=First(260, "Kind of the field's rails", "ask who brings them"),
        ),
    ] = None
    rail_slot: Annotated[
        Length | None, Key("opening of the rails' slot, between its lips", example="6.4 mm")
    ] = None
    rail_lips: Annotated[Length | None, Key("thickness of the lips", example="2.1 mm")] = None
    rail_inside: Annotated[
        Length | None, Key("width of the slot behind the lips", example="14.5 mm")
    ] = None
    rail_depth: Annotated[
        Length | None, Key("depth of the slot from the rail's face", example="6.1 mm")
    ] = None
    rod: Annotated[Length | None, Key("diameter of the rod", example="8 mm")] = None
    hospital: Annotated[
        Text, Key("nearest hospital, its phone, and where an ambulance is met; for cards and list")
    ] = ""
    nothing_to_avoid: Annotated[
        bool,
        Key(
            "says that nothing on or beside the field must not be hit",
            first=First(
                30,
                "Nothing there that must not be hit",
                "no crop, ditch, road or buildings; else leave it empty and map them",
                key="avoid",
                words=(("true", "nothing of the kind"),),
            ),
        ),
    ] = False
    not_there: Annotated[
        list[Literal["water", "trees", "lines", "road", "crop"]],
        Key("kinds of ground that are nowhere on the field or beside it"),
    ] = Field(default_factory=list)


class SiteFile(FieldSays):
    """A field: its outline stands in a GeoJSON file beside this one."""

    name: Annotated[Name, Key("name of the field")]
    invented: Annotated[bool, Key("says that it is made up; every screen repeats it")] = False
    about: Annotated[Text, Key("a remark, shown in title blocks")] = ""
    elevation: Annotated[Elevation, Key("height above the sea", example="12 m")]
    ceiling: Annotated[
        Height | None,
        Key(
            "highest altitude agreed, above the ground",
            example="760 m",
            first=First(40, "Ceiling agreed, above the ground", "of the permission"),
        ),
    ] = None
    outline: Annotated[
        Name | None,
        Key("GeoJSON file beside this one: polygons with the role field, keep_out or people"),
    ] = None
    coordinates: Annotated[
        Literal["metres", "lonlat"],
        Key("metres east and north of the pad, or longitude and latitude"),
    ] = "metres"
    pad: Annotated[
        Annotated[list[float], Field(min_length=2, max_length=2)] | None,
        Key("longitude and latitude of the pad, degrees; for lonlat"),
    ] = None
    rails: Annotated[list[Length], Field(min_length=1), Key("lengths of the rails available")]
    rail_stop: Annotated[
        LengthOrZero | None, Key("height of the tail above a rail's lower end", left_out="0.23 m")
    ] = None
    rail_base: Annotated[
        LengthOrZero | None,
        Key("height of the rails' lower end above the ground", left_out="0.3 m"),
    ] = None
    code: Annotated[Text, Key("safety code that applies: a set of the package or of codes/")] = ""
    gravity: Annotated[Gravity | None, Key("acceleration of gravity", left_out="9.80665 m/s2")] = (
        None
    )
    wind_exponent: Annotated[
        Share | None, Key("power law of wind with height", left_out="0.16")
    ] = None


def example_of(file: str, place: str) -> str:
    """What an entry of a plan or a field looks like, by its place; empty: no own."""
    plans, sites = file == "plans.toml", file.startswith("sites/")
    tables = (PlanTable, DayTable) if plans else (SiteFile,) if sites else ()
    key = place.rpartition(".")[2]
    said = (key_words(table, key) for table in tables if key in table.model_fields)
    return next((words.example for words in said if words is not None), "")
