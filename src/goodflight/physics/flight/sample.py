"""An invented plain rocket for warming up and for tests of the kernel: no real design is meant."""

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import SEA_LEVEL_PRESSURE_PA, STANDARD_GRAVITY_M_S2
from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_SCALARS,
    MACH_COUNT,
    MACH_STEP,
    PARAMETER_INDEX,
    PARAMETERS,
)
from goodflight.physics.motor.model import Motor

SAMPLE_VALUES = {
    "dry_mass_kg": 1.638, "dry_cg_m": 0.743, "dry_pitch_inertia_kg_m2": 0.19,
    "dry_roll_inertia_kg_m2": 0.0018, "propellant_kg": 0.128, "propellant_cg_m": 1.118,
    "propellant_length_m": 0.16, "propellant_radius_m": 0.017, "nozzle_m": 1.22,
    "thrust_factor": 1.0, "burn_time_factor": 1.0, "delay_s": 9.0, "axial_factor": 1.0,
    "body_slope_factor": 1.0, "fin_slope_factor": 1.0, "crossflow_factor": 1.0,
    "rail_length_m": 2.4, "rail_tilt_rad": np.radians(3.0), "rail_azimuth_rad": np.radians(230.0),
    "rail_friction": 0.1, "guide_fore_m": 0.9, "guide_aft_m": 1.19, "tail_m": 1.22,
    "stop_height_m": 0.23, "rail_base_m": 0.3, "wind_m_s": 3.5, "wind_from_rad": np.radians(230.0),
    "wind_height_m": 2.0, "wind_exponent": 0.16, "gust_sigma_m_s": 0.8,
    "ground_temperature_k": 283.15, "ground_pressure_pa": SEA_LEVEL_PRESSURE_PA,
    "gravity_m_s2": STANDARD_GRAVITY_M_S2,
    "tumble_area_m2": 0.02, "stretch_s": 0.6, "canopy_area_m2": 0.56, "canopy_diameter_m": 1.0,
    "canopy_fill": 8.0, "canopy_growth": 2.0, "canopy_overshoot": 1.7, "main_fill": 8.0,
    "main_growth": 2.0, "main_overshoot": 1.7, "apogee_lag_s": 0.3,
}  # fmt: skip


def sample_tables() -> AeroTables:
    """Smooth made-up coefficients of a 79 mm rocket, 1.22 m long."""
    mach = np.arange(MACH_COUNT) * MACH_STEP
    rise = 1.0 / np.sqrt(np.maximum(np.abs(1.0 - mach**2), 0.2))
    drag = 0.45 + 0.25 / (1.0 + np.exp(-(mach - 1.0) / 0.05))
    values = {
        "body_slope": 2.0 * np.ones(MACH_COUNT),
        "body_moment_m": 0.23 * np.ones(MACH_COUNT),
        "body_second_m2": 0.03 * np.ones(MACH_COUNT),
        "fin_slope": 7.1 * rise,
        "fin_cp_m": 1.12 + 0.01 * mach,
        "axial_low": drag,
        "axial_high": drag * 1.04,
        "axial_burn": 0.05 * np.ones(MACH_COUNT),
        "roll_force": 4.0 * rise,
        "roll_damp": -8.0 * rise,
        "fin_side": 7.0 * rise,
    }
    area = np.pi * 0.079**2 / 4
    scalars = {
        "area_m2": area,
        "diameter_m": 0.079,
        "length_m": 1.22,
        "planform_m2": 0.09,
        "planform_cp_m": 0.64,
        "crossflow_eta": 0.7,
        "fin_stall_start_sin2": np.sin(0.3) ** 2,
        "fin_stall_end_sin2": np.sin(0.7) ** 2,
        "fin_plate_m2": 0.0168,
    }
    return AeroTables(
        mach_table=np.column_stack([values[name] for name in AERO_COLUMNS]),
        scalars=np.array([scalars[name] for name in AERO_SCALARS]),
    )


def sample_flight() -> tuple[NDArray[np.float64], Motor, AeroTables]:
    """Parameters (len(PARAMETERS),), motor and tables of the invented rocket."""
    parameters = np.zeros(len(PARAMETERS))
    for name, value in SAMPLE_VALUES.items():
        parameters[PARAMETER_INDEX[name]] = value
    motor = Motor(
        name="invented H",
        times_s=(0, 0.04, 0.12, 0.40, 0.90, 1.30, 1.60, 1.75, 1.82),
        thrusts_n=(0, 165, 205, 188, 158, 124, 82, 35, 0),
        propellant_kg=0.128,
        loaded_kg=0.305,
        length_m=0.203,
        diameter_m=0.038,
        delay_s=11.0,
        delay_out_allowed_s=tuple(range(8)),
    )
    return parameters, motor, sample_tables()
