"""What `weighings.toml`, `build.toml` and `flights/*/notes.toml` may hold."""

from typing import Annotated

from pydantic import ConfigDict, Field, StringConstraints

from goodflight.project.fields import (
    Date,
    Delay,
    Height,
    Length,
    MeasuredLength,
    MeasuredMass,
    MeasuredTime,
    Name,
    Share,
    Table,
    Text,
)
from goodflight.project.workshop_files import WorkshopTables


class SwingTable(Table):
    """A swing on two parallel wires: spacing of the wires, their length, time of one swing."""

    spacing: Length
    wires: Length
    period: MeasuredTime


class InstrumentTable(Table):
    """A scale or tape that all its readings may share an error of."""

    name: Name
    calibration: Share


class WeighingTable(Table):
    """One measurement of the real thing: parts named, or "all" for the rocket without motor."""

    what: Annotated[list[Name], Field(min_length=1)]
    without: list[Name] = Field(default_factory=list)
    motor: Name | None = None
    mass: MeasuredMass | None = None
    balance: MeasuredLength | None = None
    swing: SwingTable | None = None
    instrument: Name | None = None
    date: Date = ""
    note: Text = ""


class WeighingsFile(Table):
    """Measurements of parts, groups of parts and the whole."""

    rocket: Annotated[str, StringConstraints(max_length=500_000)] = ""
    instrument: list[InstrumentTable] = Field(default_factory=list)
    weighing: list[WeighingTable] = Field(default_factory=list)


class BuildFile(WorkshopTables):
    """People, workplaces, glues, joints and steps; further tables are kept as they are."""

    model_config = ConfigDict(extra="allow", frozen=True, strict=True)


class NotesFile(Table):
    """What the builder noted of one flight; the log files lie beside it."""

    date: Date = ""
    plan: Name | None = None
    motor: Name | None = None
    delay_out: Delay | None = None
    log: list[Name] = Field(default_factory=list)
    apogee: Height | None = None
    note: Text = ""
