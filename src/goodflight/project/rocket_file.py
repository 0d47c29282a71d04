"""What `rocket.toml` may hold: the rocket's name, surface and parts, as typed tables."""

from typing import TYPE_CHECKING, Annotated, Literal, Union

from pydantic import Field

from goodflight.project.fields import (
    Area,
    AreaDensity,
    Force,
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

    roughness: Roughness | None = None
    paint: AreaDensity | None = None


EdgeKind = Literal["kraft", "kraft_glassed", "kraft_lined", "phenolic", "plywood", "glass"]


class JointTable(Table):
    """A separation: what holds it, and what the cord is tied to on both sides."""

    pull: Force | None = None
    pins: Annotated[int, Field(ge=0, le=12)] = 0
    thread: Literal["#2-56", "#4-40", "#6-32"] = "#2-56"
    clearance: LengthOrZero | None = None
    coupler_in: Literal["fore", "aft"] = "fore"
    fore_anchor: Force | None = None
    aft_anchor: Force | None = None
    bulkhead: Force | None = None


class SeparationTable(JointTable):
    """Where the rocket separates at ejection, and what the cord is tied to on both sides."""

    fixed_joint: Force | None = None
    edge: EdgeKind | None = None
    edge_strength: Modulus | None = None


class MainSeparationTable(JointTable):
    """Where the rocket separates for the second canopy, and what that one's cord is tied to."""

    at: Station | None = None


class PowderTable(Table):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    powder: Mass | None = None
    blanket: Area | None = None
    wadding: bool = False


class ChargeTable(PowderTable):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    pack_pull: Force | None = None


class RetentionTable(Table):
    """What keeps the motor in when the charge fires."""

    kind: Literal["cap", "clips", "friction"] | None = None
    holds: Force | None = None


class HatchTable(Table):
    """A hatch in the tube's side, the worst one: what the air and a charge may blow off."""

    station: Station | None = None
    length: Length | None = None
    width: Length | None = None
    holds: Force | None = None


class RocketHead(Table):
    """`rocket.toml` without its parts."""

    name: Name
    invented: bool = False
    about: Text = ""
    units: Units = "metric"
    lengths: Literal["guess", "label", "measured"] = "guess"
    separates_at: Station | None = None
    surface: SurfaceTable = SurfaceTable()
    device: list[DeviceTable] = Field(default_factory=list)
    separation: SeparationTable = SeparationTable()
    charge: ChargeTable = ChargeTable()
    retention: RetentionTable = RetentionTable()
    hatch: HatchTable = HatchTable()
    main_separation: MainSeparationTable = MainSeparationTable()
    main_charge: PowderTable = PowderTable()


class RocketFile(RocketHead):
    """The rocket as designed: body parts front to back, fins, what sits inside."""

    part: Annotated[list[AnyPart], Field(min_length=1)]
