"""What `weighings.toml`, `build.toml` and `flights/*/notes.toml` may hold."""

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, StringConstraints

from goodflight.project.fields import (
    Date,
    Delay,
    Density,
    Height,
    Key,
    Length,
    MeasuredLength,
    MeasuredMass,
    MeasuredTime,
    Name,
    Share,
    Speed,
    Table,
    Text,
)
from goodflight.project.flight_files import DayTable
from goodflight.project.text_fields import QuantityField
from goodflight.project.workshop_files import WorkshopTables
from goodflight.quantity import Quantity

WHOLE = "all"  # in `what` of a weighing: everything the first plan flies, without the motor


class SwingTable(Table):
    """A swing on two parallel wires: spacing of the wires, their length, time of one swing."""

    spacing: Annotated[Length, Key("distance of the two wires")]
    wires: Annotated[Length, Key("length of the wires")]
    period: Annotated[MeasuredTime, Key("time of one full swing")]


class InstrumentTable(Table):
    """A scale or tape that all its readings may share an error of."""

    name: Annotated[Name, Key("name, used by weighings")]
    calibration: Annotated[
        Share,
        Key(
            "how far all its readings may be off together, one standard deviation", example="0.3 %"
        ),
    ]


class WeighingTable(Table):
    """One measurement of the real thing: parts named, or "all" for the rocket without motor."""

    what: Annotated[
        list[Name],
        Field(min_length=1),
        Key(
            'names of the parts weighed together, or "all": what the first plan flies, without '
            "motor"
        ),
    ]
    without: Annotated[list[Name], Key('parts that were not on the scale, of "all"')] = Field(
        default_factory=list
    )
    motor: Annotated[
        Name | None, Key("loaded motor that was in the rocket", left_out="no motor")
    ] = None
    mass: Annotated[MeasuredMass | None, Key("reading of the scale")] = None
    balance: Annotated[MeasuredLength | None, Key("balance point, from the nose tip")] = None
    swing: Annotated[SwingTable | None, Key("time of a swing, for the inertia")] = None
    instrument: Annotated[Name | None, Key("name of an [[instrument]]")] = None
    date: Annotated[Date, Key("day of the measurement")] = ""
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""

    @property
    def whole(self) -> bool:
        """Whether the whole rocket was on the scale."""
        return WHOLE in self.what


Entry = Annotated[str, StringConstraints(min_length=1, max_length=120)]


class ReadingTable(Table):
    """One figure not read off a scale: a pull, a size, an offcut torn, a canopy dropped."""

    def says(self, flight: str) -> bool:
        """Whether it was worked out from this flight."""
        return bool(flight) and self.flight == flight

    of: Annotated[
        Entry,
        Key(
            "what was measured: a key of rocket.toml (separation.pull, part[fins].span), or the "
            "name of a figure that no file has (cant:1, pin_strength)",
            example="separation.pull",
        ),
    ]
    read: Annotated[
        list[Entry],
        Field(min_length=1, max_length=100),
        Key("what the instrument showed, one entry for each pull, piece or fin", example="31 N"),
    ]
    error: Annotated[
        Entry | None,
        Key(
            "what the instrument is good for, one standard deviation, in the unit of the readings",
            left_out="a ± in the reading, else that of its kind",
            example="1 N",
        ),
    ] = None
    over: Annotated[
        Entry | None,
        Key(
            "what a reading is divided by: torn area under a force, length along under a gap",
            example="4 cm2",
        ),
    ] = None
    hung: Annotated[
        MeasuredMass | None, Key("canopy dropped: all that hung from it and itself")
    ] = None
    height: Annotated[
        MeasuredLength | None,
        Key(
            "canopy dropped: height it fell evenly in the time read",
            left_out="the speed is read",
            example="8 m",
        ),
    ] = None
    air: Annotated[
        Density | None, Key("canopy dropped: density of the air", left_out="1.225 kg/m3 ± 3 %")
    ] = None
    instrument: Annotated[Name | None, Key("name of an [[instrument]]")] = None
    date: Annotated[Date, Key("day of the measurement")] = ""
    flight: Annotated[
        Name | None,
        Key(
            "flight this was worked out from, written by `goodflight debrief --carry-over`",
            left_out="measured",
            example="first",
        ),
    ] = None
    note: Annotated[Text, Key("tape, humidity, what else may matter; nothing reads it")] = ""
    design: Annotated[
        Text | None,
        Key(
            "what rocket.toml said when it was measured, written by the program: where that was "
            "changed since, the reading counts no more",
            left_out="it always counts",
            example="32 N ± 3 N",
        ),
    ] = None


class WeighingsFile(Table):
    """Measurements of parts, groups of parts and the whole, and of figures one at a time."""

    rocket: Annotated[
        str,
        StringConstraints(max_length=500_000),
        Key(
            "rocket.toml as it was when this was weighed, kept by the program when a change is kept"
        ),
    ] = ""
    instrument: Annotated[
        list[InstrumentTable],
        Key("what the readings of one instrument are off by together, one [[instrument]] each"),
    ] = Field(default_factory=list)
    weighing: Annotated[list[WeighingTable], Key("measurements, one [[weighing]] each")] = Field(
        default_factory=list
    )
    reading: Annotated[
        list[ReadingTable],
        Field(max_length=1000),
        Key("figures measured one at a time, one [[reading]] each"),
    ] = Field(default_factory=list)


class BuildFile(WorkshopTables):
    """People, workplaces, glues, joints and steps; further tables are kept as they are."""

    model_config = ConfigDict(extra="allow", frozen=True, strict=True)


class SeenTimesTable(Table):
    """When things happened in a flight, after lift-off, by a stopwatch, a film or a logger."""

    burnout: Annotated[MeasuredTime | None, Key("end of thrust", example="1.8 s ± 0.2 s")] = None
    apogee: Annotated[MeasuredTime | None, Key("highest point", example="10.2 s")] = None
    charge: Annotated[
        MeasuredTime | None,
        Key("charge's smoke seen; a bang is heard 1.5 s late from 500 m", example="11 s"),
    ] = None
    canopy: Annotated[MeasuredTime | None, Key("canopy full", example="12 s")] = None
    second_canopy: Annotated[
        MeasuredTime | None, Key("second canopy full", example="52 s ± 0.5 s")
    ] = None
    landing: Annotated[MeasuredTime | None, Key("on the ground", example="91 s ± 1 s")] = None


Frame = Annotated[Quantity, QuantityField("count", least=0.0, most=1e7)]
FrameRate = Annotated[Quantity, QuantityField("count", above=0.0, most=1e5)]


class FilmTable(Table):
    """A film of a flight: frames a second, and the number of the frame in which things happen."""

    rate: Annotated[FrameRate, Key("frames a second", example="30")]
    lift_off: Annotated[Frame, Key("frame in which it leaves", example="212")]
    burnout: Annotated[Frame | None, Key("frame at the end of thrust", example="266 ± 5")] = None
    apogee: Annotated[Frame | None, Key("frame at the highest point", example="520 ± 15")] = None
    charge: Annotated[Frame | None, Key("frame with the charge's smoke", example="551")] = None
    canopy: Annotated[Frame | None, Key("frame with the canopy full", example="580 ± 5")] = None
    second_canopy: Annotated[
        Frame | None, Key("frame with the second canopy full", example="1770")
    ] = None
    landing: Annotated[Frame | None, Key("frame with it on the ground", example="2940")] = None


class DamageTable(Table):
    """One thing found wrong after the flight, and which way to fail it speaks for."""

    row: Annotated[
        Entry, Key("way to fail, its key as `goodflight rows` lists it", example="zipper")
    ]
    what: Annotated[Text, Key("what was found")] = ""


class LoggerTable(Table):
    """What you said the columns of one logger's files are, for every flight of this folder."""

    shape: Annotated[
        Entry, Key("of the file's head, written by the program", example="13a1830ddcf1")
    ]
    columns: Annotated[
        list[Entry],
        Field(min_length=1, max_length=200),
        Key("what each is, one entry a column", example="3=pressure Pa"),
    ]


class RecordingTable(Table):
    """Which flight of a log that holds several is this one."""

    log: Annotated[Name, Key("name of the log's file", example="log.csv")]
    number: Annotated[
        int,
        Field(ge=1, le=99),
        Key("the flight in it, counted from the first reading", example="2"),
    ]


class NotesFile(Table):
    """What the builder noted of one flight; the log files lie beside it."""

    date: Annotated[Date, Key("day of the flight")] = ""
    plan: Annotated[Name | None, Key("name of the plan flown")] = None
    motor: Annotated[Name | None, Key("file name in motors/, without .toml")] = None
    delay_out: Annotated[Delay | None, Key("seconds taken out of the delay", left_out="0 s")] = None
    log: Annotated[
        list[Name] | None,
        Key("logs beside it that count, the first is fitted", left_out="all that lie there"),
    ] = None
    apogee: Annotated[Height | None, Key("altitude read from the altimeter")] = None
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""
    result: Annotated[
        Literal["passed", "failed", "not attempted"] | None,
        Key("what the certification attempt came to", left_out="not known"),
    ] = None
    last_rate: Annotated[
        Speed | None,
        Key("speed down near the ground, by film or logger", left_out="not seen"),
    ] = None
    day: Annotated[
        DayTable | None, Key("the weather as it was, in [day]", left_out="the plan's")
    ] = None
    seen: Annotated[SeenTimesTable | None, Key("times after lift-off, in [seen]")] = None
    film: Annotated[FilmTable | None, Key("frames of a film, in [film]")] = None
    looked_over: Annotated[
        bool, Key("whether the rocket was looked over after the flight", left_out="false")
    ] = False
    logger: Annotated[
        list[LoggerTable],
        Field(max_length=20),
        Key("what the columns of a log are, where the program took them wrongly, in [[logger]]"),
    ] = Field(default_factory=list)
    recording: Annotated[
        list[RecordingTable],
        Field(max_length=20),
        Key("which flight of a log that holds several, in [[recording]]"),
    ] = Field(default_factory=list)
    damage: Annotated[
        list[DamageTable], Field(max_length=60), Key("what was found wrong, one [[damage]] each")
    ] = Field(default_factory=list)

    @property
    def seen_of_it(self) -> bool:
        """Whether a peak or a time is noted."""
        return any(each is not None for each in (self.apogee, self.seen, self.film))
