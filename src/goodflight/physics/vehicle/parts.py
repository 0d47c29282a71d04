"""The parts a rocket is made of, as plain SI records.

A station is the distance aft of the nose tip. Every part that is placed by hand carries the
station of its front end. A mass given for a part (weighed or from a label) replaces the mass
worked out from its shape and material. Nothing here computes; see `mass` and `shapes`.
"""

from dataclasses import dataclass, field
from typing import Literal

from goodflight.physics.vehicle.separation import MAIN_UNKNOWN, Figure, Hatch, Separation

NoseShape = Literal[
    "cone", "tangent_ogive", "secant_ogive", "ellipsoid", "parabola", "haack", "power"
]
MaterialFamily = Literal["", "kraft", "pla", "petg", "abs"]
AddedRole = Literal[
    "other",
    "ballast",
    "fillets",
    "paint",
    "sled",
    "retainer",
    "u_bolt",
    "eyebolt",
    "charge_cup",
    "wrap",
    "whole",
]
FinEdges = Literal["blunt", "rounded", "bevelled", "faired"]
FinGrain = Literal["outward", "along"]  # root to tip, or along the root


@dataclass(frozen=True)
class Material:
    """A building material: density for mass, moduli for strength and flutter (None = not known)."""

    name: str
    density_kg_m3: float
    shear_modulus_pa: float | None = None
    bending_strength_pa: float | None = None
    source: str = ""
    family: MaterialFamily = ""  # whose crushing strength is known
    across_share: float = 1.0  # of the bending strength that is left across the face grain


@dataclass(frozen=True)
class Part:
    """What every part has: a name, a place, and perhaps a known mass and balance point."""

    name: str
    station_m: float  # front end, from the nose tip
    material: Material | None = None
    mass_kg: float | None = None  # replaces the computed mass
    mass_sigma_kg: float = 0.0  # one standard deviation of the mass
    balance_m: float | None = None  # station of the part's own CG, replaces the computed one
    balance_sigma_m: float = 0.0
    known: str = "guess"  # guess | label | measured | flight

    @property
    def along_m(self) -> float:
        """Length it takes along the rocket's axis [m]; 0 where that is not told."""
        return 0.0

    @property
    def rolled_m(self) -> float:
        """Length it was measured to take when packed [m]; 0 where it was not."""
        return 0.0

    @property
    def rolled_wide_m(self) -> float:
        """Diameter of what is packed in a bay [m]; 0 where it is not told."""
        return 0.0


class _Long:
    """What lies along the axis with its own length."""

    length_m: float

    @property
    def along_m(self) -> float:
        """Its length."""
        return self.length_m


class _Flat:
    """What stands across the axis: a disc of a sheet."""

    thickness_m: float

    @property
    def along_m(self) -> float:
        """Its thickness."""
        return self.thickness_m


class _Rolled:
    """What is folded or wound up to go into a bay."""

    packed_length_m: float

    @property
    def along_m(self) -> float:
        """Its packed length."""
        return self.packed_length_m

    @property
    def rolled_m(self) -> float:
        """Its packed length."""
        return self.packed_length_m


@dataclass(frozen=True)
class Nose(_Long, Part):
    shape: NoseShape = "tangent_ogive"
    outline_constant: float = 0.0  # power exponent, Haack C, parabola K', secant radius factor
    length_m: float = 0.0
    diameter_m: float = 0.0
    wall_m: float = 0.0  # 0 = solid
    shoulder_length_m: float = 0.0
    shoulder_diameter_m: float = 0.0
    plate: bool = False  # a plate weighed with it closes its base


class _Bored:
    """What has an outside and a bore."""

    outer_diameter_m: float
    inner_diameter_m: float

    @property
    def wall_m(self) -> float:
        """Its wall, from bore to outside."""
        return (self.outer_diameter_m - self.inner_diameter_m) / 2.0


@dataclass(frozen=True)
class Tube(_Long, Part, _Bored):
    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0


@dataclass(frozen=True)
class Transition(_Long, Part):
    length_m: float = 0.0
    fore_diameter_m: float = 0.0
    aft_diameter_m: float = 0.0
    wall_m: float = 0.0  # 0 = solid


@dataclass(frozen=True)
class Fins(Part):
    """A set of equal fins; `station_m` is the leading edge of the root on the body surface."""

    count: int = 3
    # corners (aft of root leading edge, outward), root leading edge first
    outline_m: tuple[tuple[float, float], ...] = ()
    thickness_m: float = 0.0
    edges: FinEdges | None = None  # None = not said
    body_radius_m: float = 0.0  # outer radius of the body at the root
    tab_length_m: float = 0.0
    tab_depth_m: float = 0.0
    tab_offset_m: float = 0.0  # front of the tab aft of the root leading edge
    cant_rad: float = 0.0  # intended mean cant
    cant_sigma_rad: float = 0.0  # alignment error of one fin
    fillet_radius_m: float = 0.0
    fillet_density_kg_m3: float = 1150.0
    roll_phase_rad: float = 0.0  # angle of the first fin about the axis
    fillet_sigma: float = 0.2  # relative, one standard deviation of the fillets' mass (a guess)
    grain: FinGrain | None = None  # way of the face grain; None = not said
    bevel_m: float = 0.0  # width of the bevel of bevelled edges; 0 = none taken off


@dataclass(frozen=True)
class Coupler(_Long, Part, _Bored):
    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0
    bulkheads: bool = False  # weighed with it: bulkheads and the bolt of the cord in them


@dataclass(frozen=True)
class Ring(_Flat, Part):
    thickness_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0


@dataclass(frozen=True)
class Bulkhead(_Flat, Part):
    thickness_m: float = 0.0
    diameter_m: float = 0.0
    removable: bool | None = None  # comes off again; None = not said


@dataclass(frozen=True)
class MotorTube(_Long, Part):
    """Holds the motor; `motor_aft_m` is the station of the motor's aft end (nozzle face)."""

    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0
    motor_aft_m: float = 0.0


@dataclass(frozen=True)
class Bay(_Long, Part):
    """An inner room of the body: what must fit in, and how it breathes."""

    length_m: float = 0.0
    inner_diameter_m: float = 0.0
    vent_count: int = 0
    vent_diameter_m: float = 0.0
    holds: tuple[str, ...] = ()  # names of the parts packed in it, front to back
    electronics: bool = False  # a barometer in it decides or records
    free_volume_m3: float | None = None  # air in it, contents taken off


@dataclass(frozen=True)
class Buttons(Part):
    """Two guides that ride in the rail; `station_m` is the forward one."""

    aft_station_m: float = 0.0
    height_m: float = 0.010  # stand-off from the body
    frontal_area_m2: float = 0.0  # of one guide
    strength_n: float | None = None  # sideways, of one guide with its screw
    made_for: str = ""  # kind of rail, see project.rails; "" = not told
    neck_m: float | None = None  # between the lips of the slot
    head_m: float | None = None  # behind them
    head_height_m: float | None = None
    told_height_m: float | None = None  # `height_m` where the builder gave it
    bore_m: float | None = None  # of lugs on a rod; None = guides in a slot


@dataclass(frozen=True)
class Canopy(_Rolled, Part):
    """A parachute or streamer; drag area = drag_coefficient x area of the named convention."""

    kind: str = "flat_hexagonal"
    across_m: float = 0.0  # 0 = known by its cloth area only
    way: str = ""  # how that was measured, e.g. "across flats"; "" = the first way of its kind
    drag_coefficient: float = 0.75  # on total cloth area
    drag_coefficient_sigma: float = 0.08
    cloth_area_m2: float = 0.0
    spill_hole_diameter_m: float = 0.0
    line_count: int = 0
    line_length_m: float = 0.0
    line_strength_n: float | None = None  # of one line, knots not yet taken off
    strength_n: float | None = None  # whole canopy at its weakest seam, if known
    strength_sigma: float = 0.2  # relative
    packed_length_m: float = 0.0
    packed_diameter_m: float = 0.0

    @property
    def rolled_wide_m(self) -> float:
        """Its packed diameter."""
        return self.packed_diameter_m


@dataclass(frozen=True)
class Cord(_Rolled, Part):
    length_m: float = 0.0
    strength_n: float = 0.0  # new, straight
    strength_sigma: float = 0.1  # relative
    joint_efficiency: float = 0.5  # knots, sewn loops
    elongation_at_break: float = 0.0  # [-], 0 = not known
    elongation_figure: Figure | None = None  # as a factor about one, where its spread is said
    packed_length_m: float = 0.0
    width_m: float = 0.0  # bearing on a tube's edge; 0 = not known
    canopy_at_m: float | None = None  # canopy tied in this far from the forward anchor
    leader_length_m: float = 0.0  # aramid at the aft end, part of the length
    leader_strength_n: float = 0.0
    leader_elongation: float = 0.04  # at break


@dataclass(frozen=True)
class AddedMass(_Long, Part):
    """Anything with a mass and a place; `length_m` spreads it evenly, `role` says what it is."""

    length_m: float = 0.0
    radius_m: float = 0.0
    role: AddedRole = "other"

    @property
    def rolled_wide_m(self) -> float:
        """Its own diameter: it is not folded."""
        return 2.0 * self.radius_m


@dataclass(frozen=True)
class Rocket:
    """A whole rocket without its motor.

    `parts` stand in any order; the outer body is the nose, tubes and transitions front to back.
    """

    name: str
    parts: tuple[Part, ...]
    roughness_m: float = 20e-6  # of the finish, equivalent sand grain
    paint_kg_m2: float = 0.0  # dry film on the outer surface
    separation_station_m: float | None = None  # where the rocket parts at ejection
    paint_sigma: float = 0.2  # relative, one standard deviation of the film's mass (a guess)
    separation: Separation = field(default_factory=Separation)
    main_station_m: float | None = None  # where it parts for a second canopy
    main_separation: Separation = field(default_factory=lambda: MAIN_UNKNOWN)  # known of that
    hatch: Hatch = field(default_factory=Hatch)  # in the tube's side
