"""What `rocket.toml` may hold: the rocket's name, finish and parts, as typed tables."""

from typing import Annotated, Any, Final, Literal

from pydantic import Field

from goodflight.project.fields import (
    Angle,
    Area,
    AreaDensity,
    CanopySize,
    Coordinate,
    DensityOrZero,
    Diameter,
    FinSize,
    Force,
    Length,
    LengthOrZero,
    Mass,
    MaterialEntry,
    Modulus,
    Name,
    Ratio,
    Roughness,
    Share,
    Station,
    Table,
    Text,
    Volume,
)
from goodflight.project.workshop_files import DeviceTable


class PartTable(Table):
    """What every part may say."""

    name: Name
    station: Station | None = None
    material: MaterialEntry | None = None
    mass: Mass | None = None
    balance: Station | None = None
    note: Text = ""


class NoseTable(PartTable):
    kind: Literal["nose"]
    shape: Literal[
        "cone", "tangent_ogive", "secant_ogive", "ellipsoid", "parabola", "haack", "power"
    ] = "tangent_ogive"
    shape_parameter: Ratio | None = None
    length: Length
    base_diameter: Diameter
    wall: LengthOrZero
    shoulder_length: LengthOrZero | None = None
    shoulder_diameter: LengthOrZero | None = None


class TubeTable(PartTable):
    kind: Literal["tube"]
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


class TransitionTable(PartTable):
    kind: Literal["transition"]
    length: Length
    fore_diameter: Diameter
    aft_diameter: Diameter
    wall: LengthOrZero


class FinsTable(PartTable):
    kind: Literal["fins"]
    count: Annotated[int, Field(ge=3, le=8)]
    root: FinSize | None = None
    tip: LengthOrZero | None = None
    span: FinSize | None = None
    sweep: Coordinate | None = None
    outline: Annotated[list[list[Coordinate]], Field(min_length=3)] | None = None
    thickness: Length
    section: Literal["square", "rounded", "wedge", "airfoil"] = "square"
    tab_length: LengthOrZero | None = None
    tab_depth: LengthOrZero | None = None
    tab_offset: LengthOrZero | None = None
    cant: Angle | None = None
    alignment: Angle | None = None
    fillet_radius: LengthOrZero | None = None
    fillet_density: DensityOrZero | None = None
    roll_phase: Angle | None = None


class CouplerTable(PartTable):
    kind: Literal["coupler"]
    station: Station
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


class RingTable(PartTable):
    kind: Literal["ring"]
    station: Station
    thickness: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


class BulkheadTable(PartTable):
    kind: Literal["bulkhead"]
    station: Station
    thickness: Length
    diameter: Diameter


class MotorTubeTable(PartTable):
    kind: Literal["motor_tube"]
    station: Station
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter
    motor_aft: Station | None = None


class BayTable(PartTable):
    kind: Literal["bay"]
    station: Station
    length: Length
    inner_diameter: Diameter
    vents: Annotated[int, Field(ge=0, le=24)] = 0
    vent_diameter: LengthOrZero | None = None
    holds: list[Name] = Field(default_factory=list)
    electronics: bool = False
    free_volume: Volume | None = None


class ButtonsTable(PartTable):
    kind: Literal["buttons"]
    station: Station
    mass: Mass
    aft_station: Station
    height: Length | None = None
    frontal_area: Area | None = None
    strength: Force | None = None


class CanopyTable(PartTable):
    kind: Literal["canopy"]
    station: Station
    mass: Mass
    shape: Literal[
        "flat_circular",
        "flat_hexagonal",
        "flat_octagonal",
        "conical",
        "hemispherical",
        "extended_skirt",
        "cross",
        "ribbon",
        "streamer",
    ] = "flat_hexagonal"
    diameter: CanopySize
    drag_coefficient: Ratio | None = None
    cloth_area: Area | None = None
    cloth: AreaDensity | None = None
    spill_hole: LengthOrZero | None = None
    lines: Annotated[int, Field(ge=0, le=48)] = 0
    line_length: LengthOrZero | None = None
    line_strength: Force | None = None
    strength: Force | None = None
    packed_length: LengthOrZero | None = None
    packed_diameter: LengthOrZero | None = None


class CordTable(PartTable):
    kind: Literal["cord"]
    station: Station
    mass: Mass
    length: Length
    strength: Force
    joint_efficiency: Share | None = None
    elongation: Share | None = None
    packed_length: LengthOrZero | None = None
    width: Length | None = None
    canopy_at: LengthOrZero | None = None
    leader: LengthOrZero | None = None
    leader_strength: Force | None = None
    leader_elongation: Share | None = None


class LumpTable(PartTable):
    kind: Literal["lump"]
    mass: Mass
    station: Station
    length: LengthOrZero | None = None
    radius: LengthOrZero | None = None


AnyPart = Annotated[
    NoseTable
    | TubeTable
    | TransitionTable
    | FinsTable
    | CouplerTable
    | RingTable
    | BulkheadTable
    | MotorTubeTable
    | BayTable
    | ButtonsTable
    | CanopyTable
    | CordTable
    | LumpTable,
    Field(discriminator="kind"),
]

PART_TABLES: Final[dict[str, type[PartTable]]] = {
    "nose": NoseTable,
    "tube": TubeTable,
    "transition": TransitionTable,
    "fins": FinsTable,
    "coupler": CouplerTable,
    "ring": RingTable,
    "bulkhead": BulkheadTable,
    "motor_tube": MotorTubeTable,
    "bay": BayTable,
    "buttons": ButtonsTable,
    "canopy": CanopyTable,
    "cord": CordTable,
    "lump": LumpTable,
}
OUTER: Final = ("nose", "tube", "transition")


class FinishTable(Table):
    """The surface: roughness for drag, and the paint film when it is not weighed as a lump."""

    roughness: Roughness | None = None
    paint: AreaDensity | None = None


EdgeKind = Literal["kraft", "kraft_glassed", "kraft_lined", "phenolic", "plywood", "glass"]


class SeparationTable(Table):
    """Where the rocket separates at ejection, and what the cord is tied to on both sides."""

    pull: Force | None = None
    pins: Annotated[int, Field(ge=0, le=12)] = 0
    thread: Literal["#2-56", "#4-40", "#6-32"] = "#2-56"
    clearance: LengthOrZero | None = None
    coupler_in: Literal["fore", "aft"] = "fore"
    fore_anchor: Force | None = None
    aft_anchor: Force | None = None
    bulkhead: Force | None = None
    fixed_joint: Force | None = None
    edge: EdgeKind | None = None
    edge_strength: Modulus | None = None


class ChargeTable(Table):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    powder: Mass | None = None
    blanket: Area | None = None
    wadding: bool = False
    pack_pull: Force | None = None


class RetentionTable(Table):
    """What keeps the motor in when the charge fires."""

    kind: Literal["cap", "clips", "friction"] | None = None
    holds: Force | None = None


class RocketHead(Table):
    """`rocket.toml` without its parts."""

    name: Name
    invented: bool = False
    about: Text = ""
    lengths: Literal["guess", "label", "measured"] = "guess"
    separates_at: Station | None = None
    finish: FinishTable = FinishTable()
    device: list[DeviceTable] = Field(default_factory=list)
    separation: SeparationTable = SeparationTable()
    charge: ChargeTable = ChargeTable()
    retention: RetentionTable = RetentionTable()


class RocketFile(RocketHead):
    """The rocket as designed: body parts front to back, fins, what sits inside."""

    part: Annotated[list[AnyPart], Field(min_length=1)]


def length_of(part: PartTable) -> Any:
    """Return the quantity that says how long a part is along the axis, or None."""
    return getattr(part, "length", None) or getattr(part, "thickness", None)
