"""What `rocket.toml` may hold: the rocket's name, surface and parts, as typed tables."""

from typing import TYPE_CHECKING, Annotated, Literal, Union

from pydantic import Field

from goodflight.project.fields import AreaDensity, Key, Name, Roughness, Station, Table, Text
from goodflight.project.head.hatch import HatchTable
from goodflight.project.head.separation import (
    ChargeTable,
    MainSeparationTable,
    PowderTable,
    RetentionTable,
    SeparationTable,
)
from goodflight.project.parts import PART_TABLES
from goodflight.project.parts.table import PartTable
from goodflight.project.workshop_files import DeviceTable
from goodflight.quantity import Units

if TYPE_CHECKING:
    AnyPart = PartTable
else:
    AnyPart = Annotated[Union[tuple(PART_TABLES.values())], Field(discriminator="kind")]  # noqa: UP007


class SurfaceTable(Table):
    """The surface: roughness for drag, and the paint film when it is not a part of its own."""

    roughness: Annotated[
        Roughness | None, Key("height of the surface's roughness", left_out="20 um")
    ] = None
    paint: Annotated[
        AreaDensity | None,
        Key("dry mass of the paint film by area", left_out="none, or a part of its own"),
    ] = None


class RocketHead(Table):
    """`rocket.toml` without its parts."""

    name: Annotated[Name, Key("name of the rocket")]
    invented: Annotated[bool, Key("says that it is made up; every screen repeats it")] = False
    about: Annotated[Text, Key("a remark, shown in title blocks")] = ""
    units: Annotated[
        Units, Key("units that figures are shown in and changes are offered in", left_out="metric")
    ] = "metric"
    lengths: Annotated[
        Literal["guess", "label", "measured"],
        Key("how lengths are known where an entry does not say", left_out="guess"),
    ] = "guess"
    separates_at: Annotated[
        Station | None, Key("station where the rocket separates", example="460 mm")
    ] = None
    surface: Annotated[SurfaceTable, Key("the surface")] = SurfaceTable()
    device: Annotated[list[DeviceTable], Key("battery-run devices, one [[device]] each")] = Field(
        default_factory=list
    )
    separation: Annotated[
        SeparationTable, Key("where the rocket separates, and what holds and pulls there")
    ] = SeparationTable()
    charge: Annotated[ChargeTable, Key("your own powder charge, fired by an altimeter")] = (
        ChargeTable()
    )
    retention: Annotated[RetentionTable, Key("what keeps the motor in")] = RetentionTable()
    hatch: Annotated[HatchTable, Key("a hatch in the tube's side")] = HatchTable()
    main_separation: Annotated[
        MainSeparationTable,
        Key("where the rocket separates for the second canopy, and what holds there"),
    ] = MainSeparationTable()
    main_charge: Annotated[PowderTable, Key("the powder that lets the second canopy out")] = (
        PowderTable()
    )


class RocketFile(RocketHead):
    """The rocket as designed: body parts front to back, fins, what sits inside."""

    part: Annotated[
        list[AnyPart],
        Field(min_length=1),
        Key("parts, one [[part]] each; outer parts front to back"),
    ]
