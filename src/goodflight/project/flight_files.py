"""What `plans.toml`, `motors/*.toml` and `sites/*.toml` may hold, as typed tables."""

from typing import Annotated, Literal

from pydantic import Field

from goodflight.project.codes import ConfirmKey
from goodflight.project.designation import Designation
from goodflight.project.fields import (
    Bearing,
    Delay,
    Distance,
    Elevation,
    Gravity,
    GustFactor,
    Height,
    Impulse,
    LabelLength,
    LabelMass,
    Lean,
    Length,
    LengthOrZero,
    Name,
    Pressure,
    Seconds,
    Share,
    Speed,
    Table,
    Temperature,
    Text,
    Tilt,
)


class DayTable(Table):
    """The weather a plan counts on. Wind at `wind_height` above the ground, mean of ten minutes."""

    wind: Speed
    wind_from: Bearing
    wind_height: Height | None = None
    gust_factor: GustFactor | None = None
    wind_exponent: Share | None = None
    temperature: Temperature
    pressure: Pressure | None = None
    sea_level_pressure: Pressure | None = None
    cloud_base: Height | None = None
    cloud_cover: Share | None = None
    time: Text = ""


class PlanTable(Table):
    """One intended flight."""

    name: Name
    motor: Name
    delay_out: Seconds | None = None
    canopy: Name
    main: Name | None = None
    main_height: Height | None = None
    apogee_lag: Seconds | None = None
    site: Name
    rail: Length | None = None
    rail_stop: LengthOrZero | None = None
    rail_base: LengthOrZero | None = None
    tilt: Tilt | None = None
    lean: Lean = "into wind"
    deployment: Literal["delay", "altimeter"] = "delay"
    level: Literal["none", "L1", "L2", "L3"] = "none"
    day: DayTable
    pad_wait: Seconds | None = None
    confirmed: list[ConfirmKey] = Field(default_factory=list)
    confirmed_on: Text = ""
    denied: list[ConfirmKey] = Field(default_factory=list)
    note: Text = ""


class PlansFile(Table):
    """The planned flights; the first one is the one that is shown when none is named."""

    plan: Annotated[list[PlanTable], Field(min_length=1)]


class AdapterTable(Table):
    """What makes a motor fit a wider tube; it flies with the motor and weighs with it."""

    outer_diameter: LabelLength
    mass: LabelMass


class MotorFile(Table):
    """The head beside a thrust curve: masses, size, delay and what may be taken out of it."""

    name: Name
    invented: bool = False
    source: Text = ""
    diameter: LabelLength
    length: LabelLength
    propellant_length: LabelLength | None = None
    propellant_diameter: LabelLength | None = None
    core_diameter: LabelLength | None = None
    propellant_aft: LabelLength | None = None
    propellant: LabelMass
    loaded: LabelMass
    impulse: Impulse | None = None
    designation: Designation | None = None
    max_liftoff_mass: LabelMass | None = None
    adapter: AdapterTable | None = None
    delay: Delay | None = None
    delay_out_allowed: list[Delay] = Field(default_factory=list)
    delay_spread: Share | None = None
    impulse_spread: Share | None = None
    burn_time_spread: Share | None = None
    charge: LabelMass | None = None


class SiteFile(Table):
    """A field: its outline stands in a GeoJSON file beside this one."""

    name: Name
    invented: bool = False
    about: Text = ""
    elevation: Elevation
    ceiling: Height | None = None
    outline: Name | None = None
    coordinates: Literal["metres", "lonlat"] = "metres"
    pad: Annotated[list[float], Field(min_length=2, max_length=2)] | None = None
    rails: Annotated[list[Length], Field(min_length=1)]
    rail_stop: LengthOrZero | None = None
    rail_base: LengthOrZero | None = None
    code: Text = ""
    people: Height | None = None
    spectators: Height | None = None
    airport: Distance | None = None
    gravity: Gravity | None = None
    wind_exponent: Share | None = None
