"""An invented plain rocket and field as a case, for tests; no real design is meant."""

import math
from dataclasses import replace
from typing import Any

from goodflight.physics.aero import aero_tables
from goodflight.physics.air.model import Day, Site
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle import mass_items
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import (
    AddedMass,
    Bay,
    Buttons,
    Canopy,
    Cord,
    Coupler,
    Fins,
    MotorTube,
    Nose,
    Ring,
    Tube,
)
from goodflight.project.designed import DesignedRocket
from goodflight.project.fields import Says
from goodflight.project.flight_files import FieldSays, PlanSays
from goodflight.project.head.separation import Separation
from goodflight.studies.case.codes import CONFIRM_KEYS, UNITED_STATES
from goodflight.studies.case.joints import GluedJoint, Stay
from goodflight.studies.case.planned import Case, Deployment, Origin, Rail, Rules, Uncertainty
from goodflight.studies.case.project_case import features_of, model_spreads
from goodflight.studies.case.workshop import Coat, Device, Workshop

PLY = Material("birch plywood", 680.0, shear_modulus_pa=0.62e9, bending_strength_pa=65e6)
KRAFT = Material("kraft tube", 725.0, family="kraft")
PLA = Material("pla printed", 1250.0, family="pla")

SMALL = Motor(
    "small H",
    times_s=(0, 0.03, 0.10, 0.35, 0.75, 1.10, 1.35, 1.52, 1.60),
    thrusts_n=(0, 118, 146, 139, 122, 98, 70, 30, 0),
    propellant_kg=0.092,
    loaded_kg=0.252,
    length_m=0.167,
    diameter_m=0.038,
    delay_s=10.0,
    delay_out_allowed_s=tuple(float(t) for t in range(7)),
    known="label",
    charge_kg=0.001,
    charge_sigma_kg=0.0001,
)
MIDDLE = Motor(
    "middle H",
    times_s=(0, 0.04, 0.12, 0.40, 0.90, 1.30, 1.60, 1.75, 1.82),
    thrusts_n=(0, 165, 205, 188, 158, 124, 82, 35, 0),
    propellant_kg=0.128,
    loaded_kg=0.305,
    length_m=0.203,
    diameter_m=0.038,
    delay_s=11.0,
    delay_out_allowed_s=tuple(float(t) for t in range(7)),
    known="label",
    charge_kg=0.001,
    charge_sigma_kg=0.0001,
)

MOTOR_TOLD = {  # answers of the first form; invented
    "motor_name": "H-told", "motor_impulse": "257 N s", "motor_burn": "1.82 s",
    "motor_propellant": "128 g", "motor_loaded": "305 g", "motor_diameter": "38 mm",
    "motor_length": "203 mm", "motor_delay": "11 s", "motor_delays": "2 s, 4 s",
}  # fmt: skip
KNOWN_ANSWERS = {  # of its second half, which may stay empty
    "code": "us", "edges": "west 140 m, east 500 m, south 110 m, north 450 m", "avoid": "true",
    "ceiling": "800 m", "people": "500 m", "spectators": "60 m", "airport": "9 km",
    "rules": "night, visibility, notice, airspace, permission, responsible, fire, airport",
    "cloud_base": "900 m", "cloud_cover": "0.4", "motor_charge": "1 g", "motor_lifts": "4 kg",
    "pull": "30 N measured", "anchors": "1500 N", "bulkhead": "1500 N", "nose_joint": "700 N",
    "nose_mass": "180 g", "retention": "cap", "retention_holds": "600 N",
    "shield": "wadding", "line_strength": "450 N",
    "cord_width": "14 mm", "guide_strength": "300 N", "fin_edges": "rounded",
    "rail_kind": "25 mm, slot 6 mm", "guide_kind": "25 mm, slot 6 mm",
    "battery": "5 h", "pad_wait": "30 min",
    "fin_limit": "1 deg", "paint": "false",
}  # fmt: skip


def sample_rocket() -> DesignedRocket:
    """A 79 mm rocket of 1.22 m with three fins, lumped masses."""
    masses = (
        ("payload", 0.430, 0.194, 0.20), ("recovery bay", 0.680, 0.133, 0.3),
        ("fillets and paint", 0.95, 0.196, 0.5), ("rings", 1.083, 0.060, 0.2),
        ("retainer", 1.215, 0.035, 0.0), ("ballast", 0.07, 0.045, 0.0),
    )  # fmt: skip
    parts = [
        Nose("nose", 0.0, PLA, 0.144, 0.003, 0.150, length_m=0.240, diameter_m=0.079,
             wall_m=0.003, known="measured"),
        Tube("tube", 0.240, KRAFT, 0.304, 0.005, length_m=0.980, outer_diameter_m=0.079,
             inner_diameter_m=0.076, known="measured"),
        Fins("fins", 1.060, PLY, 0.092, 0.003, count=3, thickness_m=0.004, edges="blunt",
             body_radius_m=0.0395,
             tab_length_m=0.118, tab_depth_m=0.019, tab_offset_m=0.024, fillet_density_kg_m3=0.0,
             outline_m=((0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0)), known="measured"),
        MotorTube("motor tube", 0.960, None, 0.032, 0.002, length_m=0.260, outer_diameter_m=0.040,
                  inner_diameter_m=0.038, motor_aft_m=1.220),
        Buttons("guides", 0.900, None, 0.016, 0.001, aft_station_m=1.190, frontal_area_m2=1e-4,
                strength_n=250.0, made_for="25 mm, slot 6 mm"),
        Canopy("main canopy", 0.600, None, 0.110, 0.005, across_m=1.0, line_count=6,
               line_strength_n=400.0),
        Canopy("small canopy", 0.600, None, 0.0, across_m=0.85, line_count=6,
               line_strength_n=400.0),
        Cord("cord", 0.600, None, 0.100, 0.005, length_m=5.5, strength_n=4448.0, width_m=0.014,
             packed_length_m=0.10, elongation_at_break=0.25),
        Coupler("coupler", 0.385, None, 0.0, length_m=0.150, outer_diameter_m=0.0758,
                inner_diameter_m=0.0728, bulkheads=True),
        Bay("parachute bay", 0.545, length_m=0.400, inner_diameter_m=0.076, vent_count=1,
            vent_diameter_m=0.003, holds=("main canopy", "small canopy", "cord")),
        Bay("logger bay", 0.300, length_m=0.085, inner_diameter_m=0.076, vent_count=3,
            vent_diameter_m=0.004, electronics=True, free_volume_m3=0.9e-3),
    ]  # fmt: skip
    parts += [
        AddedMass(
            name, middle - length / 2, None, mass, 0.02 * mass, length_m=length, radius_m=0.03
        )
        for name, middle, mass, length in masses
    ]
    parts += [
        Ring(
            f"ring {number + 1}",
            station,
            PLY,
            0.0,
            thickness_m=0.004,
            outer_diameter_m=0.0759,
            inner_diameter_m=0.0402,
        )
        for number, station in enumerate((0.963, 1.078, 1.203))
    ]
    return DesignedRocket(
        "sample (invented)",
        tuple(parts),
        roughness_m=60e-6,
        separation_station_m=0.46,
        separation=sample_separation(),
    )


def sample_separation() -> Separation:
    """A separation held by tape, a capped motor, a blanket round the canopy."""
    return Separation(
        pull_n=Figure(32.0, 2.0, "measured"),
        fore_anchor_n=Figure(3000.0, 300.0),
        aft_anchor_n=Figure(3000.0, 300.0),
        bulkhead_n=Figure(2500.0, 250.0),
        fixed_joint_n=Figure(1500.0, 150.0),
        edge_strength_pa=Figure(60e6, 15e6),
        edge="plywood",
        blanket_m2=Figure(0.09, 0.002, "measured"),
        pack_pull_n=Figure(4.0, 1.0, "measured"),
        retention="cap",
        retention_n=Figure(800.0, 80.0),
        powder_kg=Figure(0.001, 0.00005),
    )


def sample_workshop() -> Workshop:
    """Two glue-ups in a cold shed and one coat of paint, checks done."""
    shed = Stay("shed", 240.0, 282.15, 1.0)
    fins = GluedJoint("fins", ("fins", "motor tube"), "slow epoxy", (shed,), 24.0, 2700.0, 1200.0)
    rings = GluedJoint(
        "rings", ("ring 1", "ring 2", "ring 3"), "slow epoxy", (shed,), 24.0, 2700.0, 900.0
    )
    coat = Coat("white", "kitchen", 293.15, 1.0, 0.55, 0.05, None, 3600.0, 172800.0, 86400.0)
    return Workshop(
        (fins, rings),
        (coat,),
        (("U-bolt nuts", "tight"),),
        (),
        math.radians(2.0),
        tube_kept="dry room",
    )


def sample_site() -> Site:
    """A field of 640 by 560 m with the pad near its south-west corner and one bad side."""
    outline = ((-140.0, -110.0), (500.0, -110.0), (500.0, 450.0), (-140.0, 450.0))
    maize = ((500.0, -110.0), (700.0, -110.0), (700.0, 450.0), (500.0, 450.0))
    return Site(
        "sample field", 12.0, 760.0, outline, (("maize", maize),), ("crop",), (2.4, 3.0), "us"
    )


def sample_day(wind_m_s: float = 3.5) -> Day:
    """A cool day with wind from the south-west."""
    return Day(
        wind_m_s=wind_m_s,
        wind_sigma_m_s=0.15 * wind_m_s,
        wind_from_rad=math.radians(230.0),
        wind_from_sigma_rad=math.radians(12.0),
        temperature_k=284.15,
        cloud_base_m=950.0,
        cloud_cover_tenths=4.0,
    )


def sample_case(wind_m_s: float = 3.5, motor: Motor = MIDDLE) -> Case:
    """The sample rocket on its field in some wind."""
    rocket, day = sample_rocket(), sample_day(wind_m_s)
    canopies = tuple(p for p in rocket.parts if isinstance(p, Canopy))
    return Case(
        plan="sample plan",
        rocket=rocket,
        motor=motor,
        tables=aero_tables(rocket, motor.diameter_m, day.temperature_k, day.pressure_pa),
        items=mass_items(rocket),
        site=sample_site(),
        day=day,
        rail=Rail(length_m=2.4, tilt_rad=math.radians(3.0), stop_height_m=0.23),
        deployment=Deployment(
            canopy=canopies[0],
            delay_out_s=2.0,
            canopies=canopies,
            devices=(Device("camera", 6600.0, 7200.0),),
            pad_wait_s=2400.0,
            pad_wait_sigma_s=600.0,
        ),
        rules=Rules(
            level="L1",
            code=UNITED_STATES,
        ),
        plan_says=PlanSays.model_validate({"confirmed": list(CONFIRM_KEYS)}),
        field_says=field_says(
            people="600 m",
            spectators="70 m",
            airport="20 km",
            not_there=["water", "trees", "lines", "road"],
            rail_kind="25 mm, slot 6 mm",
        ),
        workshop=sample_workshop(),
        motors={"small": SMALL, "middle": MIDDLE},
        uncertainty=Uncertainty(
            features=features_of(rocket),
            model_spreads=model_spreads(rocket, motor),
            cant_sigma_rad=math.radians(0.5),
        ),
        origin=Origin(
            plan_path="plans.toml:plan[sample plan]", measured=6, figures=14, invented=True
        ),
    )


def within(case: Case, record: str, **changes: Any) -> Case:
    """The case with some fields of one of its records changed, as `within(case, "rules", ...)`."""
    was = getattr(case, record)
    now = was.changed(**changes) if isinstance(was, Says) else replace(was, **changes)
    return replace(case, **{record: now})  # type: ignore[arg-type]


def field_says(**entries: object) -> FieldSays:
    """What a field says, from texts as its file has them."""
    return FieldSays.model_validate(entries)
