"""The parts a rocket is made of, as plain SI records.

A station is the distance aft of the nose tip. Every part that is placed by hand carries the
station of its front end. A mass given for a part (weighed or from a label) replaces the mass
worked out from its shape and material. What any part is asked for stands in `part`.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Any, ClassVar, Literal

from goodflight.physics.vehicle import outer, solids
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.part import (
    Flat,
    Kind,
    Long,
    Part,
    Rolled,
    Stands,
    Turned,
    of_kind,
)
from goodflight.physics.vehicle.solids import Solid

Nose = outer.Nose
Tube = outer.Tube
Transition = outer.Transition
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
class Fins(Part):
    """A set of equal fins; `station_m` is the leading edge of the root on the body surface."""

    stands: ClassVar[Stands] = "on the body"

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
    bevel_m: float = 0.0  # width of the bevel of bevelled edges; 0 = not told

    @property
    def end_m(self) -> float:
        """Where the root ends."""
        from goodflight.physics.vehicle.fins import root_chord_m  # which reads this record

        return self.station_m + root_chord_m(self)

    @property
    def pieces(self) -> int:
        """As many as there are fins."""
        return self.count

    @property
    def even(self) -> bool:
        """A plate with the same edge all round; a faired fin is thickest ahead of its middle."""
        return self.edges in ("blunt", "rounded") or self.bevel_m > 0.0

    @property
    def shaped_sigma_m3(self) -> float:
        """By the shape of its edges."""
        from goodflight.physics.vehicle.fins import edges_sigma_m3  # which reads this record

        return edges_sigma_m3(self)

    def solid(self) -> Solid:
        """The whole set with its tabs."""
        from goodflight.physics.vehicle.fins import fin_solid  # which reads this record

        return fin_solid(self)


@dataclass(frozen=True)
class Coupler(Long, Turned):
    glued_in: ClassVar[bool] = True

    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0
    bulkheads: bool = False  # weighed with it: bulkheads and the bolt of the cord in them

    @property
    def even(self) -> bool:
        """Unless bulkheads and a bolt are in it."""
        return not self.bulkheads

    @property
    def closed_at_m(self) -> tuple[float, ...]:
        """At both ends, by its bulkheads."""
        return (0.0, self.length_m) if self.bulkheads else ()

    def stops(self, diameter_m: float) -> bool | None:
        """With bulkheads, or by its bore."""
        return self.bulkheads or self.inner_diameter_m < diameter_m or None


@dataclass(frozen=True)
class Ring(Flat, Turned):
    glued_in: ClassVar[bool] = True

    thickness_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0

    def stops(self, diameter_m: float) -> bool | None:
        """By its bore."""
        return self.inner_diameter_m < diameter_m or None


@dataclass(frozen=True)
class Bulkhead(Flat, Part):
    glued_in: ClassVar[bool] = True

    thickness_m: float = 0.0
    diameter_m: float = 0.0
    removable: bool | None = None  # comes off again; None = not said

    @property
    def diameters_m(self) -> tuple[float, float]:
        """Its outside."""
        return self.diameter_m, 0.0

    @property
    def even(self) -> bool:
        """A disc of one thickness."""
        return True

    def solid(self) -> Solid:
        """A disc."""
        return solids.cylinder(self.thickness_m, self.diameter_m / 2.0, 0.0)

    def stops(self, diameter_m: float) -> bool | None:
        """It closes the body."""
        return True


@dataclass(frozen=True)
class MotorTube(Long, Turned):
    """Holds the motor; `motor_aft_m` is the station of the motor's aft end (nozzle face)."""

    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0
    motor_aft_m: float = 0.0


@dataclass(frozen=True)
class Bay(Long, Part):
    """An inner room of the body: what must fit in, and how it breathes."""

    room: ClassVar[bool] = True

    length_m: float = 0.0
    inner_diameter_m: float = 0.0
    vent_count: int = 0
    vent_diameter_m: float = 0.0
    holds: tuple[str, ...] = ()  # names of the parts packed in it, front to back
    electronics: bool | None = None  # a barometer reads the pressure in it; None = not said
    free_volume_m3: float | None = None  # air in it, contents taken off

    @property
    def diameters_m(self) -> tuple[float, float]:
        """Across the room."""
        return self.inner_diameter_m, 0.0

    def stops(self, diameter_m: float) -> bool | None:
        """Where it is closed for its electronics; else it is room that something needs."""
        return bool(self.electronics)


@dataclass(frozen=True)
class Buttons(Part):
    """Two guides that ride in the rail; `station_m` is the forward one."""

    stands: ClassVar[Stands] = "on the body"

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

    @property
    def even(self) -> bool:
        """Halfway between two that are alike."""
        return True

    def even_solid(self) -> Solid:
        """Two equal guides."""
        half = 0.5 * (self.aft_station_m - self.station_m)
        return Solid(1.0, half, half * half, 0.0)


@dataclass(frozen=True)
class Canopy(Rolled, Part):
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
    def diameters_m(self) -> tuple[float, float]:
        """As packed."""
        return self.packed_diameter_m, 0.0

    @property
    def rolled_wide_m(self) -> float:
        """Its packed diameter."""
        return self.packed_diameter_m


@dataclass(frozen=True)
class Cord(Rolled, Part):
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
    flights_before: int | None = 0  # that cord and canopy lines have had; None = not said


@dataclass(frozen=True)
class AddedMass(Long, Part):
    """Anything with a mass and a place; `length_m` spreads it evenly, `role` says what it is."""

    drawn_wide: ClassVar[float] = 0.3

    length_m: float = 0.0
    radius_m: float = 0.0
    role: AddedRole = "other"

    @property
    def diameters_m(self) -> tuple[float, float]:
        """Its outside."""
        return 2.0 * self.radius_m, 0.0

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
    main_station_m: float | None = None  # where it parts for a second canopy

    def of_kind(self, kind: type[Kind]) -> tuple[Kind, ...]:
        """Its parts of a kind, in the order they stand in."""
        found: tuple[Kind, ...] | None = self.kept.get(kind)
        if found is None:
            found = self.kept[kind] = of_kind(self.parts, kind)
        return found

    @cached_property
    def kept(self) -> dict[object, Any]:
        """What was worked out of it, which never changes, and is asked for again and again."""
        return {}
