"""What `weighings.toml`, `build.toml` and `flights/*/notes.toml` may hold."""

from typing import Annotated, Any

from pydantic import ConfigDict, Field

from goodflight.project.fields import (
    Delay,
    Height,
    Hours,
    Length,
    MeasuredLength,
    MeasuredMass,
    MeasuredTime,
    Name,
    Ratio,
    Table,
    Temperature,
    Text,
)


class SwingTable(Table):
    """A swing on two parallel wires: spacing of the wires, their length, time of one swing."""

    spacing: Length
    wires: Length
    period: MeasuredTime


class WeighingTable(Table):
    """One measurement of the real thing: parts named, or "all" for the rocket without motor."""

    what: Annotated[list[Name], Field(min_length=1)]
    motor: Name | None = None
    mass: MeasuredMass | None = None
    balance: MeasuredLength | None = None
    swing: SwingTable | None = None
    date: Text = ""
    note: Text = ""


class WeighingsFile(Table):
    """Measurements of parts, groups of parts and the whole."""

    weighing: list[WeighingTable] = Field(default_factory=list)


class PersonTable(Table):
    name: Name
    hours_per_week: Hours | None = None
    note: Text = ""


class WorkplaceTable(Table):
    name: Name
    temperature: Temperature | None = None
    humidity: Ratio | None = None
    note: Text = ""


class StepTable(Table):
    """A step of the build; more keys are allowed and kept."""

    model_config = ConfigDict(extra="allow", frozen=True, strict=True)
    name: Name
    done: bool = False
    note: Text = ""


class BuildFile(Table):
    """People, workplaces, glues and steps; further tables are kept as they are."""

    model_config = ConfigDict(extra="allow", frozen=True, strict=True)
    launch_day: Text = ""
    person: list[PersonTable] = Field(default_factory=list)
    workplace: list[WorkplaceTable] = Field(default_factory=list)
    step: list[StepTable] = Field(default_factory=list)
    glue: list[dict[str, Any]] = Field(default_factory=list)
    paint: list[dict[str, Any]] = Field(default_factory=list)


class NotesFile(Table):
    """What the builder noted of one flight; the log files lie beside it."""

    date: Text = ""
    plan: Name | None = None
    motor: Name | None = None
    trim: Delay | None = None
    log: list[Name] = Field(default_factory=list)
    apogee: Height | None = None
    note: Text = ""
