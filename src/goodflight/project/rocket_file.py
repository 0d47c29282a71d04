"""What `rocket.toml` may hold: the rocket's name, surface and parts, as typed tables."""

from typing import TYPE_CHECKING, Annotated, Literal, Union

from pydantic import Field

from goodflight.project.fields import (
    Area,
    AreaDensity,
    Force,
    Key,
    Length,
    LengthOrZero,
    Mass,
    Modulus,
    Name,
    Roughness,
    Station,
    Table,
    Text,
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


EdgeKind = Literal["kraft", "kraft_glassed", "kraft_lined", "phenolic", "plywood", "glass"]


class JointTable(Table):
    """A separation: what holds it, and what the cord is tied to on both sides."""

    pull: Annotated[
        Force | None, Key("force that pulls it apart by hand, pins out", becomes="pull_n")
    ] = None
    pins: Annotated[int, Field(ge=0, le=12), Key("number of shear pins", becomes="pins")] = 0
    thread: Annotated[
        Literal["#2-56", "#4-40", "#6-32"], Key("thread of the pins", becomes="pin_thread")
    ] = "#2-56"
    clearance: Annotated[
        LengthOrZero | None,
        Key("gap between shoulder or coupler and tube, in diameter", becomes="clearance_m"),
    ] = None
    coupler_in: Annotated[
        Literal["fore", "aft"],
        Key('which section the coupler is glued into: "fore" or "aft"', becomes="coupler_in"),
    ] = "fore"
    fore_anchor: Annotated[
        Force | None, Key("strength of the forward attachment of the cord", becomes="fore_anchor_n")
    ] = None
    aft_anchor: Annotated[
        Force | None, Key("strength of the rear attachment of the cord", becomes="aft_anchor_n")
    ] = None
    bulkhead: Annotated[
        Force | None,
        Key(
            "strength of the bulkhead that the charge pushes on, with its bond",
            becomes="bulkhead_n",
        ),
    ] = None


class SeparationTable(JointTable):
    """Where the rocket separates at ejection, and what the cord is tied to on both sides."""

    fixed_joint: Annotated[
        Force | None, Key("strength of the joint that must stay together", becomes="fixed_joint_n")
    ] = None
    edge: Annotated[
        EdgeKind | None,
        Key("what the tube's edge is made of, where the cord runs over it", becomes="edge"),
    ] = None
    edge_strength: Annotated[
        Modulus | None,
        Key("stress at which the tube's edge tears", example="30 MPa", becomes="edge_strength_pa"),
    ] = None


class MainSeparationTable(JointTable):
    """Where the rocket separates for the second canopy, and what that one's cord is tied to."""

    at: Annotated[
        Station | None, Key("station where it separates for the second canopy", example="280 mm")
    ] = None


class PowderTable(Table):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    powder: Annotated[Mass | None, Key("mass of powder", becomes="powder_kg")] = None
    blanket: Annotated[
        Area | None, Key("area of the blanket that shields the canopy", becomes="blanket_m2")
    ] = None
    wadding: Annotated[bool, Key("wadding shields the canopy", becomes="wadding")] = False


class ChargeTable(PowderTable):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    pack_pull: Annotated[
        Force | None, Key("force that pulls the packed canopy out", becomes="pack_pull_n")
    ] = None


class RetentionTable(Table):
    """What keeps the motor in when the charge fires."""

    kind: Annotated[
        Literal["cap", "clips", "friction"] | None,
        Key("how the motor is held", becomes="retention"),
    ] = None
    holds: Annotated[Force | None, Key("force it holds, along the axis", becomes="retention_n")] = (
        None
    )


class HatchTable(Table):
    """A hatch in the tube's side, the worst one: what the air and a charge may blow off."""

    station: Annotated[Station | None, Key("where its middle is")] = None
    length: Annotated[Length | None, Key("length along the rocket, from edge to edge")] = None
    width: Annotated[Length | None, Key("width straight across, from edge to edge")] = None
    holds: Annotated[
        Force | None, Key("pull straight outwards that it stands, closed", becomes="holds_n")
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
