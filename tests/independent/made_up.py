"""Invented rockets for the tests: tables as smooth functions of Mach number, motor, parameters.

Nothing here is a published figure; both models get the same numbers.
"""

from collections.abc import Mapping

import numpy as np

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_SCALARS,
    MACH_COUNT,
    MACH_STEP,
    PARAMETERS,
)
from goodflight.physics.motor.model import Motor

MACHS = MACH_STEP * np.arange(MACH_COUNT)

MOTOR = Motor(
    name="invented H, long burn",
    times_s=(0.0, 0.04, 0.12, 0.40, 0.90, 1.30, 1.60, 1.75, 1.82),
    thrusts_n=(0.0, 165.0, 205.0, 188.0, 158.0, 124.0, 82.0, 35.0, 0.0),
    propellant_kg=0.128,
    loaded_kg=0.305,
    length_m=0.203,
    diameter_m=0.038,
    delay_s=11.0,
    source="invented",
)


def tables(columns: Mapping[str, object] | None = None, **scalars: float) -> AeroTables:
    """Tables of a 79 mm rocket of 1.22 m; `columns` (number or function of Mach) replace."""
    rise = 1.0 + 0.28 * MACHS**2 * np.exp(-((MACHS / 1.1) ** 4))  # smooth hump below sound
    wave = 0.25 / (1.0 + np.exp(-(MACHS - 1.0) / 0.06))
    made: dict[str, np.ndarray] = {
        "body_slope": 2.0 * np.ones(MACH_COUNT),
        "body_moment_m": 2.0 * 0.11 * np.ones(MACH_COUNT),
        "body_second_m2": 2.0 * 0.11**2 * 1.15 * np.ones(MACH_COUNT),
        "fin_slope": 7.1 * rise,
        "fin_cp_m": 1.10 + 0.01 * MACHS**2,
        "axial_low": 0.55 - 0.06 * MACHS + wave,
        "axial_high": 0.575 - 0.06 * MACHS + wave,
        "axial_burn": 0.06 * np.ones(MACH_COUNT),
        "roll_force": 3.2 * rise,
        "roll_damp": -6.0 * rise,
        "fin_side": 7.0 * rise,
    }
    for name, value in (columns or {}).items():
        made[name] = value(MACHS) if callable(value) else np.full(MACH_COUNT, value)
    numbers = {
        "area_m2": np.pi * 0.079**2 / 4.0,
        "diameter_m": 0.079,
        "length_m": 1.22,
        "planform_m2": 0.09,
        "planform_cp_m": 0.64,
        "crossflow_eta": 0.66,
        "fin_stall_start_sin2": np.sin(np.radians(15.0)) ** 2,
        "fin_stall_end_sin2": np.sin(np.radians(35.0)) ** 2,
        "fin_plate_m2": 0.0126,
    } | scalars
    table = np.column_stack([made[name] for name in AERO_COLUMNS])
    return AeroTables(table, np.array([numbers[name] for name in AERO_SCALARS]))


def still_tables(**columns: float) -> AeroTables:
    """Tables in which everything is zero but what is asked for."""
    scalars = dict.fromkeys(("planform_m2", "crossflow_eta", "fin_plate_m2"), 0.0)
    return tables(dict.fromkeys(AERO_COLUMNS, 0.0) | columns, **scalars)


BASE: dict[str, float] = {
    "dry_mass_kg": 1.461 + 0.177,
    "dry_cg_m": 0.7434,
    "dry_pitch_inertia_kg_m2": 0.205,
    "dry_roll_inertia_kg_m2": 0.0021,
    "propellant_kg": 0.128,
    "propellant_cg_m": 1.118,
    "propellant_length_m": 0.16,
    "propellant_radius_m": 0.016,
    "nozzle_m": 1.22,
    "thrust_factor": 1.0,
    "burn_time_factor": 1.0,
    "delay_s": 9.0,
    "axial_factor": 1.0,
    "body_slope_factor": 1.0,
    "fin_slope_factor": 1.0,
    "crossflow_factor": 1.0,
    "rail_length_m": 2.4,
    "rail_friction": 0.1,
    "guide_fore_m": 0.90,
    "guide_aft_m": 1.19,
    "tail_m": 1.22,
    "stop_height_m": 0.20,
    "rail_base_m": 0.30,
    "wind_height_m": 2.0,
    "wind_exponent": 0.16,
    "ground_temperature_k": 288.15,
    "ground_pressure_pa": 101325.0,
    "gravity_m_s2": 9.80665,
    "tumble_area_m2": 0.03,
    "stretch_s": 0.6,
    "canopy_area_m2": 0.55,
    "canopy_diameter_m": 1.0,
    "canopy_fill": 6.0,
    "canopy_growth": 2.0,
    "canopy_overshoot": 1.0,
    "main_diameter_m": 1.0,
    "main_fill": 6.0,
    "main_growth": 2.0,
    "main_overshoot": 1.0,
}


def parameters(**changes: float) -> dict[str, float]:
    """The base rocket with changes; every parameter that is not named is 0."""
    unknown = set(changes) - set(PARAMETERS)
    if unknown:
        raise ValueError(f"no such parameters: {sorted(unknown)}")
    return dict.fromkeys(PARAMETERS, 0.0) | BASE | changes
