"""What `rocket.toml` may hold: the rocket's name, surface and parts, as typed tables."""

from typing import Annotated, Any, Final, Literal, get_args

from pydantic import Field

from goodflight.physics.vehicle.parts import AddedRole, FinEdges, NoseShape
from goodflight.project.fields import (
    Angle,
    Area,
    AreaDensity,
    Coordinate,
    DensityOrZero,
    Diameter,
    Exponent,
    FinSize,
    Force,
    HaackC,
    Length,
    LengthOrZero,
    Mass,
    MaterialEntry,
    Modulus,
    Name,
    OgiveRatio,
    Ratio,
    Roughness,
    Share,
    Station,
    Table,
    Text,
    Volume,
)
from goodflight.project.measures import Lines, Roll, Shoulder, Tab, Wide
from goodflight.project.workshop_files import DeviceTable

CanopyShape = Literal[
    "flat_circular",
    "flat_hexagonal",
    "flat_octagonal",
    "flat_square",
    "conical",
    "extended_skirt",
    "hemispherical",
    "annular",
    "cross",
    "ringslot",
    "streamer",
]  # as in physics; a test compares


class PartTable(Table):
    """What every part may say."""

    name: Name
    station: Station | None = None
    material: MaterialEntry | None = None
    mass: Mass | None = None
    balance: Station | None = None
    note: Text = ""


class MotorTubeTable(PartTable):
    """Holds the motor."""

    kind: Literal["motor_tube"]
    station: Station
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter
    motor_aft: Station | None = None


class RingTable(PartTable):
    """Centres the motor tube in the body."""

    kind: Literal["ring"]
    station: Station
    thickness: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


class FinsTable(PartTable):
    """A set of equal fins."""

    kind: Literal["fins"]
    count: Annotated[int, Field(ge=3, le=8)]
    thickness: Length
    span: FinSize | None = None
    root: FinSize | None = None
    tip: LengthOrZero | None = None
    sweep: Coordinate | None = None
    cant: Angle | None = None
    tab: Tab | None = None
    tab_behind: LengthOrZero | None = None
    edges: FinEdges = "blunt"
    outline: Annotated[list[list[Coordinate]], Field(min_length=3)] | None = None
    alignment: Angle | None = None
    fillet_radius: LengthOrZero | None = None
    fillet_density: DensityOrZero | None = None
    roll_phase: Angle | None = None


class TubeTable(PartTable):
    """A tube of the body."""

    kind: Literal["tube"]
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter


class CouplerTable(PartTable):
    """A tube inside two others that joins them."""

    kind: Literal["coupler"]
    station: Station
    length: Length
    outer_diameter: Diameter
    inner_diameter: Diameter
    bulkheads: bool = False


class BulkheadTable(PartTable):
    """A closed disc across the body."""

    kind: Literal["bulkhead"]
    station: Station
    thickness: Length
    diameter: Diameter


class NoseTable(PartTable):
    """The nose; its outline takes one figure of its own, by the family it is of."""

    kind: Literal["nose"]
    length: Length
    diameter: Diameter
    wall: LengthOrZero
    shoulder: Shoulder | None = None
    outline: NoseShape = "tangent_ogive"
    exponent: Exponent | None = None
    haack_c: HaackC | None = None
    parabola_k: Share | None = None
    ogive_ratio: OgiveRatio | None = None
    plate: bool = False


# the one figure that an outline takes: its key, and what it is when left out
OUTLINE_FIGURES: Final = {
    "power": ("exponent", 0.5),
    "haack": ("haack_c", 0.0),
    "parabola": ("parabola_k", 0.0),
    "secant_ogive": ("ogive_ratio", 2.0),
}


class TransitionTable(PartTable):
    """A cone between two diameters of the body."""

    kind: Literal["transition"]
    length: Length
    fore_diameter: Diameter
    aft_diameter: Diameter
    wall: LengthOrZero


class BayTable(PartTable):
    """A room in the body: what must fit in, and how it breathes."""

    kind: Literal["bay"]
    station: Station
    length: Length
    inner_diameter: Diameter
    vents: Annotated[int, Field(ge=0, le=24)] = 0
    vent_diameter: LengthOrZero | None = None
    holds: list[Name] = Field(default_factory=list)
    electronics: bool = False
    free_volume: Volume | None = None


class CanopyTable(PartTable):
    """A parachute or a streamer: its size as it was measured, or the area of its cloth."""

    kind: Literal["canopy"]
    station: Station
    mass: Mass
    shape: CanopyShape = "flat_hexagonal"
    across: Wide | None = None
    cloth_area: Area | None = None
    cloth: AreaDensity | None = None
    spill_hole: LengthOrZero | None = None
    drag_coefficient: Ratio | None = None
    lines: Lines | None = None
    line_strength: Force | None = None
    strength: Force | None = None
    roll: Roll | None = None


class CordTable(PartTable):
    """The recovery cord from one anchor to the other, with its heat-proof leader."""

    kind: Literal["cord"]
    station: Station
    mass: Mass
    length: Length
    strength: Force
    joint_efficiency: Share | None = None
    elongation: Share | None = None
    stowed_length: LengthOrZero | None = None
    width: Length | None = None
    canopy_at: LengthOrZero | None = None
    leader: LengthOrZero | None = None
    leader_strength: Force | None = None
    leader_elongation: Share | None = None


class AddedMassTable(PartTable):
    """Anything else with a mass and a place."""

    kind: Literal["added_mass"]
    mass: Mass
    station: Station
    role: AddedRole = "other"
    length: LengthOrZero | None = None
    radius: LengthOrZero | None = None


class ButtonsTable(PartTable):
    """The two guides that ride in the rail."""

    kind: Literal["buttons"]
    station: Station
    mass: Mass
    aft_station: Station
    height: Length | None = None
    frontal_area: Area | None = None
    strength: Force | None = None


# as they are built: the fin can, the airframe, what is carried in it, what rides on the rail
PART_GROUPS: Final[dict[str, tuple[type[PartTable], ...]]] = {
    "fin can": (MotorTubeTable, RingTable, FinsTable),
    "airframe": (TubeTable, CouplerTable, BulkheadTable, NoseTable, TransitionTable),
    "carried": (BayTable, CanopyTable, CordTable, AddedMassTable),
    "on the rail": (ButtonsTable,),
}


def kind_of(table: type[PartTable]) -> str:
    """Return the kind as it is written in the file."""
    return str(get_args(table.model_fields["kind"].annotation)[0])


KINDS_BY_GROUP: Final = {
    group: [kind_of(table) for table in tables] for group, tables in PART_GROUPS.items()
}
PART_TABLES: Final[dict[str, type[PartTable]]] = {
    kind_of(table): table for tables in PART_GROUPS.values() for table in tables
}

AnyPart = Annotated[
    MotorTubeTable
    | RingTable
    | FinsTable
    | TubeTable
    | CouplerTable
    | BulkheadTable
    | NoseTable
    | TransitionTable
    | BayTable
    | CanopyTable
    | CordTable
    | AddedMassTable
    | ButtonsTable,
    Field(discriminator="kind"),
]
OUTER: Final = ("nose", "tube", "transition")


class SurfaceTable(Table):
    """The surface: roughness for drag, and the paint film when it is not a part of its own."""

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
    surface: SurfaceTable = SurfaceTable()
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
