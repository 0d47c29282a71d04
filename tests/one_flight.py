"""One made-up flight of a rocket of round numbers, for rows worked out by hand.

No kernel runs: what the flight did is stated by the test. What is drawn comes from the program's
own declarations, at the scores (standard deviations from the middle) that the test names; all
others are at their middle.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.air.model import Day, Site
from goodflight.physics.flight import registry
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.part import Material, Part
from goodflight.physics.vehicle.parts import (
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
from goodflight.project.head.separation import Separation
from goodflight.studies.case.codes import CodeSet, Limit
from goodflight.studies.case.joints import GluedJoint, Stay
from goodflight.studies.case.planned import Case, Deployment, Rail, Rules, Uncertainty
from goodflight.studies.case.workshop import Coat, Device, Workshop
from goodflight.studies.rows import LIMIT_STATES, Evaluation, View
from goodflight.studies.sampling.declared import factors_of
from goodflight.studies.sampling.trials import Trials, assemble
from sample_case import field_says, within

__all__ = [
    "ROWS", "G", "air_kg_m3", "air_pa", "code_set", "hand_case", "judged", "one_flight",
    "sound_m_s", "with_part", "with_separation",
]  # fmt: skip

G = 9.80665


def air_pa(height_m: float) -> float:
    """Pressure over the made-up pad: 100 kPa, 290 K, 6.5 K/km, R 287.053 J/(kg K) [usstd1976]."""
    warm = 290.0 - 0.0065 * height_m
    return 100000.0 * float((warm / 290.0) ** (G / (0.0065 * 287.053)))


def air_kg_m3(height_m: float) -> float:
    """Density there, by the gas law."""
    return air_pa(height_m) / (287.053 * (290.0 - 0.0065 * height_m))


def sound_m_s(height_m: float) -> float:
    """Speed of sound there, sqrt(1.4 R T)."""
    return float((1.4 * 287.053 * (290.0 - 0.0065 * height_m)) ** 0.5)


ROWS = {row.key: row for row in LIMIT_STATES}


def one_flight(
    case: Case,
    outcomes: Mapping[str, float] | None = None,
    scores: Mapping[str, float] | None = None,
    parameters: Mapping[str, float] | None = None,
) -> View:
    """One flight that did `outcomes` (NaN: did not happen), with what is drawn at `scores`.

    scores : key of a quantity -> standard deviations from its middle; parameters : figures of the
    flight that are stated outright. A name that is none is a KeyError.
    """
    factors = factors_of(case)
    places = {factor.key: place for place, factor in enumerate(factors)}
    z = np.zeros((1, len(factors)))
    for key, score in (scores or {}).items():
        z[0, places[key]] = score
    made = assemble(case, factors, z, np.ones(1, dtype=np.uint64))
    columns = made.parameters.copy()
    for name, value in (parameters or {}).items():
        columns[0, registry.PARAMETER_INDEX[name]] = value
    did = np.full((1, len(registry.OUTCOMES)), np.nan)
    for name, value in {"status": 0.0, **(outcomes or {})}.items():
        did[0, registry.OUTCOME_INDEX[name]] = value
    return View(case, Trials(columns, made.seeds, made.drawn), did)


def judged(key: str, view: View) -> tuple[float, float]:
    """Demand and capacity of a row on the one flight; the row must judge it."""
    found = ROWS[key].evaluate(view)
    assert isinstance(found, Evaluation), found
    assert not found.not_here, found.not_here
    if found.applies is not None:
        assert found.applies.all(), f"{key} does not concern this flight"
    return float(found.demand[0]), float(found.capacity[0])


def with_part(case: Case, kind: type[Part], **changes: Any) -> Case:
    """The case with the first part of a kind changed."""
    parts = list(case.rocket.parts)
    place = next(i for i, part in enumerate(parts) if isinstance(part, kind))
    parts[place] = replace(parts[place], **changes)
    changed = replace(case, rocket=replace(case.rocket, parts=tuple(parts)))
    return within(changed, "deployment", canopy=parts[place]) if kind is Canopy else changed


def with_separation(case: Case, **changes: Any) -> Case:
    """The case with its separation changed."""
    separation = replace(case.rocket.separation, **changes)
    return replace(case, rocket=replace(case.rocket, separation=separation))


def hand_tables() -> AeroTables:
    """Body slope 2 at 0.15 m, fins 8 + 0.01 a row of Mach 0.02 at 0.92 m, drag 0.5 + 0.001."""
    table: NDArray[np.float64] = np.zeros((registry.MACH_COUNT, len(registry.AERO_COLUMNS)))
    rows = np.arange(registry.MACH_COUNT)
    for name, values in {
        "body_slope": 2.0 + 0.0 * rows,
        "body_moment_m": 0.30 + 0.0 * rows,
        "fin_slope": 8.0 + 0.01 * rows,
        "fin_cp_m": 0.92 + 0.0 * rows,
        "axial_low": 0.5 + 0.001 * rows,
    }.items():
        table[:, registry.AERO_INDEX[name]] = values
    scalars = np.zeros(len(registry.AERO_SCALARS))
    for name, value in {
        "area_m2": 0.005,
        "diameter_m": 0.08,
        "length_m": 1.0,
        "planform_m2": 0.08,
        "planform_cp_m": 0.50,
        "crossflow_eta": 0.65,
        "fin_stall_start_sin2": 0.0669873,  # 15 deg
        "fin_stall_end_sin2": 0.25,
        "fin_plate_m2": 0.02,
    }.items():
        scalars[registry.AERO_SCALAR_INDEX[name]] = value
    return AeroTables(table, scalars)


PLY = Material("ply", 680.0, shear_modulus_pa=0.6e9, bending_strength_pa=60e6)
KRAFT = Material("kraft", 725.0, family="kraft")


def hand_rocket() -> DesignedRocket:
    """A 1 m rocket of 80 mm, parts at 0.40 m; tube walls 2 mm, three square fins of 100 mm."""
    square = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
    ring = Ring(
        "ring 1", 0.72, PLY, thickness_m=0.005, outer_diameter_m=0.076, inner_diameter_m=0.040
    )
    parts = (
        Nose("nose", 0.0, PLY, length_m=0.2, diameter_m=0.08, wall_m=0.002),
        Tube("tube", 0.2, KRAFT, length_m=0.8, outer_diameter_m=0.08, inner_diameter_m=0.076),
        Fins("fins", 0.90, PLY, count=3, outline_m=square, thickness_m=0.004, edges="blunt",
             body_radius_m=0.04,
             fillet_radius_m=0.006, tab_length_m=0.08, tab_depth_m=0.02),
        MotorTube("motor tube", 0.70, length_m=0.29, outer_diameter_m=0.040,
                  inner_diameter_m=0.038, motor_aft_m=1.0),
        Buttons("guides", 0.60, aft_station_m=0.90, strength_n=200.0),
        Canopy("canopy", 0.50, mass_kg=0.10, cloth_area_m2=1.0, line_count=6,
               line_strength_n=300.0, line_length_m=1.2),
        Cord("cord", 0.55, mass_kg=0.10, length_m=6.0, strength_n=2000.0, width_m=0.014,
             packed_length_m=0.08, canopy_at_m=2.0, elongation_at_break=0.25),
        Coupler("coupler", 0.30, length_m=0.16, outer_diameter_m=0.076, inner_diameter_m=0.072),
        Bay("bay", 0.46, length_m=0.30, inner_diameter_m=0.076, vent_count=1,
            vent_diameter_m=0.003, holds=("canopy", "cord")),
        Bay("loggers", 0.25, length_m=0.10, inner_diameter_m=0.076, vent_count=2,
            vent_diameter_m=0.004, electronics=True, free_volume_m3=0.0003),
        ring, replace(ring, name="ring 2", station_m=0.95, thickness_m=0.006),
    )  # fmt: skip
    separation = Separation(
        pull_n=Figure(40.0, 2.0),
        fore_anchor_n=Figure(1500.0, 100.0),
        aft_anchor_n=Figure(1200.0, 100.0),
        bulkhead_n=Figure(900.0, 90.0),
        fixed_joint_n=Figure(400.0, 40.0),
        edge_strength_pa=Figure(20e6, 8e6),
        blanket_m2=Figure(0.09, 0.01),
        pack_pull_n=Figure(4.0, 1.0),
        retention="clips",
        retention_n=Figure(500.0, 50.0),
        powder_kg=Figure(0.0012, 0.0001),
    )
    return DesignedRocket("made up", parts, separation_station_m=0.40, separation=separation)


def hand_items() -> tuple[MassItem, ...]:
    """1.5 kg without the motor: nose 0.3, payload 0.2, gear 0.1 + 0.1, body 0.8 kg."""
    return tuple(
        MassItem(name, mass, station, 0.0, 0.0)
        for name, mass, station in (
            ("nose", 0.3, 0.10),
            ("payload", 0.2, 0.30),
            ("canopy", 0.1, 0.50),
            ("cord", 0.1, 0.55),
            ("body", 0.8, 0.80),
        )
    )


# 100 N for a second, a tenth of a second of rise and fall: 100 N s; empty case 0.2 kg
MOTOR = Motor(
    "made-up H",
    times_s=(0.0, 0.1, 1.0, 1.1),
    thrusts_n=(0.0, 100.0, 100.0, 0.0),
    propellant_kg=0.1,
    loaded_kg=0.3,
    length_m=0.2,
    diameter_m=0.038,
    delay_s=10.0,
    charge_kg=0.001,
)


def hand_workshop() -> Workshop:
    """One glue-up in a shed at 10 degC for ten days, one coat of paint in a kitchen at 20 degC."""
    shed = Stay("shed", 240.0, 283.15, 1.0)
    glued = ("fins", "ring 1", "ring 2", "plate")
    joint = GluedJoint("fins", glued, "epoxy", (shed,), 24.0, 2400.0, 1800.0)
    coat = Coat("white", "kitchen", 293.15, 2.0, 0.60, 0.05, None, 3600.0, 90000.0, 50000.0)
    return Workshop(
        (joint,), (coat,), (("nuts", "loose"),), (("close", "bolt"),), 0.035, tube_kept="dry room"
    )


def hand_case() -> Case:
    """The rocket of round numbers on a field of 400 by 300 m, at 290 K and 100 kPa."""
    rocket = hand_rocket()
    canopy = next(part for part in rocket.parts if isinstance(part, Canopy))
    field = ((-100.0, -100.0), (300.0, -100.0), (300.0, 200.0), (-100.0, 200.0))
    ditch = ((300.0, -100.0), (310.0, -100.0), (310.0, 200.0), (300.0, 200.0))
    return Case(
        plan="made up",
        rocket=rocket,
        motor=MOTOR,
        tables=hand_tables(),
        items=hand_items(),
        site=Site("made up", 0.0, 700.0, field, (("ditch", ditch),), gravity_m_s2=9.80665),
        day=Day(
            wind_m_s=4.0,
            wind_sigma_m_s=1.0,
            temperature_k=290.0,
            pressure_pa=100000.0,
            cloud_base_m=800.0,
            cloud_cover_tenths=4.0,
        ),
        rail=Rail(length_m=2.4),
        workshop=hand_workshop(),
        deployment=Deployment(
            canopy=canopy,
            pad_wait_s=2400.0,
            pad_wait_sigma_s=600.0,
            devices=(Device("camera", 6000.0, 7200.0, temperature_k=283.15),),
        ),
        rules=Rules(level="A", code=code_set()),
        field_says=field_says(people="500 m", spectators="60 m", airport="9 km"),
        uncertainty=Uncertainty(
            features={"flutter_m_s": 200.0},
            model_spreads=(
                ("cp", "", 0.02, ""),
                ("axial", "", 0.1, ""),
                ("body_slope", "", 0.1, ""),
                ("fin_slope", "", 0.1, ""),
                ("crossflow", "", 0.2, ""),
            ),
        ),
    )


def code_set() -> CodeSet:
    """A code of no country, with a figure of its own for every limit."""

    def limit(value: float) -> Limit:
        return Limit(value, "made up", "derived")

    return CodeSet(
        "none", "made up", {"A": limit(160.0)}, limit(0.35), limit(9.0), limit(0.25), limit(460.0),
        limit(0.5), limit(450.0), limit(0.25), ((80.0, limit(30.0)), (160.0, limit(61.0))),
        limit(5.0), limit(8000.0), ((200.0, limit(300.0)), (600.0, limit(350.0))),
    )  # fmt: skip
