"""One planned flight, resolved: everything physics needs, with no project file behind it.

A remedy is a changed case, so a case holds the rocket, motor, field, day and plan as plain
records, and what a small change of each uncertain length does to the rocket (finite differences
of the rebuilt rocket, worked out once).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.air.model import Day, Site
from goodflight.physics.flight import registry
from goodflight.physics.flight.launch import Launch
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import (
    AddedMass,
    Bay,
    Buttons,
    Canopy,
    Cord,
    Fins,
    MotorTube,
    Rocket,
)
from goodflight.project.designed import DesignedRocket
from goodflight.project.flight_files import FieldSays, PlanSays
from goodflight.project.head.separation import Separation
from goodflight.project.uncertain import Uncertain
from goodflight.quantity import Units
from goodflight.quantity.said import Words
from goodflight.studies.case.codes import CodeSet
from goodflight.studies.case.workshop import Device, Workshop

P = TypeVar("P", bound=Part)


# figures of a rocket that a changed length moves, see `features_of`
Feature = Literal[
    "mass_kg",
    "cg_m",
    "fin_slope",
    "body_slope",
    "cp_m",
    "axial",
    "canopy_area",
    "main_area",
    "flutter_m_s",
]


@dataclass(frozen=True)
class Sensitivity(Uncertain):
    """A figure of the project, and what one standard deviation of it does to the rocket.

    items : share of the mass and shift of the balance point of every mass it moves, by name; the
    whole and its sections follow from these, so that sections add up on every flight.
    """

    effects: Mapping[Feature, float] = field(default_factory=dict)  # change for one sigma up
    items: Mapping[str, tuple[float, float]] = field(default_factory=dict)  # [-, m]


@dataclass(frozen=True)
class Rail:
    """How the rocket leaves: `azimuth_rad` None leans the rail into the wind of each flight."""

    length_m: float
    tilt_rad: float = 0.0
    azimuth_rad: float | None = None
    base_m: float = 0.3  # height of its lower end above ground
    stop_height_m: float = 0.0  # of the rocket's tail above that end
    friction: float = 0.2


@dataclass(frozen=True)
class Deployment:
    """How the rocket comes down: what ejects, when, what opens, and what feeds the devices."""

    canopy: Canopy | None = None
    delay_out_s: float = 0.0
    by: int = registry.BY_DELAY
    apogee_lag_s: float = 1.0
    main_height_m: float = 0.0
    main_canopy: Canopy | None = None
    canopies: tuple[Canopy, ...] = ()  # that the plan may open instead
    devices: tuple[Device, ...] = ()
    pad_wait_s: float | None = None  # from switching on to ignition
    pad_wait_sigma_s: float = 0.0


@dataclass(frozen=True)
class Rules:
    """What the flight must keep to."""

    level: str = ""
    code: CodeSet | None = None


@dataclass(frozen=True, eq=False)
class Joint:
    """How some quantities scatter together: keys of their columns, correlation (k, k)."""

    keys: tuple[str, ...]
    correlation: NDArray[np.float64]


@dataclass(frozen=True)
class Read:
    """A figure as it was measured: middle and one standard deviation, and where the readings are.

    [SI, or a factor about one]
    """

    value: float
    sigma: float
    path: str
    known: Literal["measured", "flight"] = "measured"


@dataclass(frozen=True)
class Uncertainty:
    """What small changes of the project's figures do to the rocket, and the models' spreads."""

    sensitivities: tuple[Sensitivity, ...] = ()
    features: Mapping[Feature, float] = field(default_factory=dict)  # nominal
    model_spreads: tuple[tuple[str, str, float, str], ...] = ()  # key, words, sigma, reason
    cant_sigma_rad: float = 0.0  # alignment of one fin; 0 = nobody said
    inertia: tuple[float, float] | None = None  # factor of the pitch inertia as swung, and spread
    joint: Joint | None = None  # quantities that scatter together, as they were weighed
    weighed: bool = False  # whether a whole rocket was
    read: Mapping[str, Read] = field(default_factory=dict)  # figures that no file has, by key


@dataclass(frozen=True)
class Origin:
    """Where the case stands in the project, and how well the figures there are known."""

    plan_path: str = ""
    site_path: str = ""
    units: Units = "metric"  # that the project is shown in
    mass_paths: Mapping[str, str] = field(default_factory=dict)  # mass item -> project path
    known: Mapping[str, str] = field(default_factory=dict)  # project path -> how it is known
    measured: int = 0
    figures: int = 0
    invented: bool = False
    inputs_hash: str = ""
    invented_motors: tuple[str, ...] = ()  # keys of those that their files call invented
    pad: tuple[float, float] = (0.0, 0.0)  # where the site's file has it, east and north
    pad_unit_m: tuple[float, float] = (1.0, 1.0)  # metres in one unit of it: of a degree, or 1
    warnings: tuple[Words, ...] = ()

    def pad_at(self, moved_m: tuple[float, float]) -> tuple[float, float]:
        """Where the pad is in the site's file once it is moved (east, north) [m]."""
        (east, north), (a, b) = self.pad, self.pad_unit_m
        return east + moved_m[0] / a, north + moved_m[1] / b


@dataclass(frozen=True)
class Case:
    """One planned flight: the rocket on its motor, the place and day, and what the plan says."""

    plan: str
    rocket: DesignedRocket
    motor: Motor
    tables: AeroTables
    items: tuple[MassItem, ...]  # of the rocket without its motor
    site: Site
    day: Day
    rail: Rail
    deployment: Deployment = field(default_factory=Deployment)
    rules: Rules = field(default_factory=Rules)
    plan_says: PlanSays = field(default_factory=PlanSays)  # as it is written
    field_says: FieldSays = field(default_factory=FieldSays)
    workshop: Workshop = field(default_factory=Workshop)
    motors: Mapping[str, Motor] = field(default_factory=dict)  # that the project has
    uncertainty: Uncertainty = field(default_factory=Uncertainty)
    origin: Origin = field(default_factory=Origin)
    retable: Callable[[Rocket, Motor], AeroTables] | None = None

    @property
    def launch(self) -> Launch:
        """What its flights share: as it is flown, with gusts."""
        return Launch(self.motor, self.tables, self.deployment.by)

    def with_motor(self, motor: Motor, delay_out_s: float) -> "Case":
        """The same flight on another motor; the aerodynamic tables follow its diameter."""
        tables = self.tables
        if self.retable is not None and motor.diameter_m != self.motor.diameter_m:
            tables = self.retable(self.rocket, motor)
        return replace(self, motor=motor, tables=tables).with_delay_out(delay_out_s)

    def with_delay_out(self, delay_out_s: float) -> "Case":
        """The same flight with other seconds taken out of the motor's delay."""
        return replace(self, deployment=replace(self.deployment, delay_out_s=delay_out_s))


def one_part(rocket: Rocket, kind: type[P]) -> P | None:
    """First part of a kind, or None."""
    return next(iter(rocket.of_kind(kind)), None)


def fins_of(rocket: Rocket) -> Fins | None:
    """The (first) fin set."""
    return one_part(rocket, Fins)


def whole_of(rocket: Rocket) -> AddedMass | None:
    """What holds the mass of every part that is given 0 g; None where each has its own."""
    added = iter(rocket.of_kind(AddedMass))
    return next((part for part in added if part.role == "whole"), None)


def bay_of(case: Case, canopy: Canopy | None) -> Bay | None:
    """The bay that holds a canopy of the plan; None where none says so."""
    bays = iter(case.rocket.of_kind(Bay))
    return next((bay for bay in bays if canopy is not None and canopy.name in bay.holds), None)


def gear_bay(case: Case) -> Bay | None:
    """The bay the first canopy is packed in: the one that holds it, or holds one but the main."""
    found = bay_of(case, canopy_of(case))
    if found is not None:
        return found
    main = case.deployment.main_canopy
    others = list(case.rocket.of_kind(Canopy))
    names = {part.name for part in others if main is None or part.name != main.name}
    bays = iter(case.rocket.of_kind(Bay))
    return next((bay for bay in bays if names & set(bay.holds)), None)


def main_bay(case: Case) -> Bay | None:
    """The bay of the main canopy, where that is not the first canopy's; None = not said."""
    found = bay_of(case, case.deployment.main_canopy)
    return None if found is gear_bay(case) else found


def cord_of(case: Case) -> Cord | None:
    """The cord of the first canopy: the first one that does not lie in the main canopy's bay."""
    bay = main_bay(case)
    cords = iter(case.rocket.of_kind(Cord))
    return next((cord for cord in cords if bay is None or cord.name not in bay.holds), None)


def main_name(case: Case) -> str:
    """Name of the second canopy; "" without one."""
    main = case.deployment.main_canopy
    return "" if main is None else main.name


def joint_m(case: Case, main: bool = False) -> float | None:
    """Station where the rocket parts for its first or its second canopy [m]."""
    return case.rocket.main_station_m if main else case.rocket.separation_station_m


def separation_of(case: Case, main: bool = False) -> Separation:
    """What is known of that separation."""
    return case.rocket.main_separation if main else case.rocket.separation


def main_cord_of(case: Case) -> Cord | None:
    """The cord of the main canopy: the one that lies in its bay."""
    bay = main_bay(case)
    cords = iter(case.rocket.of_kind(Cord))
    return next((cord for cord in cords if bay is not None and cord.name in bay.holds), None)


def electronics_bay(rocket: Rocket) -> Bay | None:
    """The bay whose barometer decides or records."""
    bays = iter(rocket.of_kind(Bay))
    return next((bay for bay in bays if bay.electronics), None)


def guides_of(rocket: Rocket) -> Buttons | None:
    """The rail guides."""
    return one_part(rocket, Buttons)


def canopy_of(case: Case) -> Canopy | None:
    """The canopy of the plan, or else the first in the rocket."""
    canopy = case.deployment.canopy
    return canopy if canopy is not None else one_part(case.rocket, Canopy)


def motor_aft_m(rocket: Rocket) -> float | None:
    """Station of the motor's aft end, or None without a motor tube."""
    tube = one_part(rocket, MotorTube)
    return None if tube is None else tube.motor_aft_m
