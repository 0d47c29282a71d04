"""Invented flights on which the compiled kernel and the slow model must agree."""

from typing import NamedTuple

import numpy as np
from made_up import MOTOR, parameters, tables

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import BY_ALTIMETER, BY_DELAY, NOTHING_OPENS
from goodflight.physics.motor.model import Motor

STRONG = Motor(
    "invented, strong",
    times_s=(0.0, 0.05, 0.3, 1.2, 1.9, 2.1),
    thrusts_n=(0.0, 420.0, 460.0, 400.0, 250.0, 0.0),
    propellant_kg=0.38,
    loaded_kg=0.68,
    length_m=0.26,
    diameter_m=0.038,
    delay_s=14.0,
)
WEAK = Motor(
    "invented, weak",
    times_s=(0.0, 0.1, 1.0),
    thrusts_n=(0.0, 12.0, 0.0),
    propellant_kg=0.02,
    loaded_kg=0.05,
    length_m=0.1,
    diameter_m=0.03,
    delay_s=4.0,
)
SLENDER = {  # a lighter, thinner rocket with big fins and its own scalars
    "area_m2": np.pi * 0.054**2 / 4.0,
    "diameter_m": 0.054,
    "length_m": 1.5,
    "planform_m2": 0.078,
    "planform_cp_m": 0.80,
    "crossflow_eta": 0.71,
    "fin_stall_start_sin2": np.sin(np.radians(12.0)) ** 2,
    "fin_stall_end_sin2": np.sin(np.radians(28.0)) ** 2,
    "fin_plate_m2": 0.011,
}
SLENDER_COLUMNS = {
    "body_slope": lambda m: 2.0 + 0.2 * m,
    "body_moment_m": lambda m: 0.30 + 0.05 * m,
    "body_second_m2": lambda m: 0.06 + 0.03 * m,
    "fin_slope": lambda m: 11.0 + 2.0 * m**2 * np.exp(-(m**2)),
    "fin_cp_m": lambda m: 1.36 + 0.015 * np.tanh(3.0 * (m - 0.9)),
    "axial_low": lambda m: 0.48 - 0.05 * m + 0.3 / (1.0 + np.exp((1.0 - m) / 0.08)),
    "axial_high": lambda m: 0.52 - 0.05 * m + 0.3 / (1.0 + np.exp((1.0 - m) / 0.08)),
    "axial_burn": lambda m: 0.04 + 0.02 * m,
    "roll_force": lambda m: 5.0 + m,
    "roll_damp": lambda m: -14.0 - 3.0 * m,
    "fin_side": lambda m: 10.0 + m,
}
SLENDER_BODY = {
    "dry_mass_kg": 1.75,
    "dry_cg_m": 0.96,
    "dry_pitch_inertia_kg_m2": 0.31,
    "dry_roll_inertia_kg_m2": 0.0011,
    "propellant_kg": 0.38,
    "propellant_cg_m": 1.35,
    "propellant_length_m": 0.23,
    "nozzle_m": 1.51,
    "guide_fore_m": 0.95,
    "guide_aft_m": 1.44,
    "tail_m": 1.50,
}


class Case(NamedTuple):
    name: str
    changes: dict[str, float]
    motor: Motor = MOTOR
    shape: AeroTables = tables()
    deployment: int = BY_DELAY


SLENDER_TABLES = tables(SLENDER_COLUMNS, **SLENDER)
CASES = (
    Case("calm, upright", {}),
    Case(
        "into the wind",
        {
            "wind_m_s": 3.5,
            "wind_from_rad": 4.01,
            "rail_tilt_rad": 0.052,
            "rail_azimuth_rad": 4.01,
        },
    ),
    Case(
        "rail across a strong wind, warm high field, early ejection",
        {
            "wind_m_s": 7.0,
            "wind_from_rad": 1.0,
            "wind_exponent": 0.22,
            "rail_tilt_rad": 0.10,
            "rail_azimuth_rad": 5.5,
            "ground_temperature_k": 303.0,
            "ground_pressure_pa": 85000.0,
            "delay_s": 5.5,
            "canopy_overshoot": 1.6,
            "gravity_m_s2": 9.80,
        },
    ),
    Case("spin from cant", {"wind_m_s": 4.0, "cant_roll_rad": 0.012, "rail_tilt_rad": 0.03}),
    Case(
        "thrust line off, with spin",
        {
            "cant_roll_rad": 0.006,
            "thrust_angle_y_rad": 0.006,
            "thrust_angle_z_rad": -0.004,
            "thrust_offset_y_m": 0.001,
            "thrust_offset_z_m": 0.0015,
            "rail_tilt_rad": 0.05,
            "rail_azimuth_rad": 2.0,
        },
    ),
    Case(
        "thrust line off and fins askew, without spin",
        {
            "thrust_angle_y_rad": 0.003,
            "thrust_offset_z_m": 0.002,
            "cant_y_rad": 0.004,
            "cant_z_rad": -0.007,
            "wind_m_s": 2.0,
            "wind_from_rad": 3.0,
            "rail_tilt_rad": 0.02,
            "rail_azimuth_rad": 0.7,
            "delay_s": 12.0,
        },
    ),
    Case(
        "altimeter and main canopy",
        {
            "wind_m_s": 5.0,
            "wind_from_rad": 0.3,
            "apogee_lag_s": 0.8,
            "canopy_area_m2": 0.09,
            "canopy_diameter_m": 0.4,
            "main_height_m": 150.0,
            "main_area_m2": 0.8,
            "main_diameter_m": 1.2,
            "main_fill": 8.0,
            "rail_tilt_rad": 0.05,
        },
        deployment=BY_ALTIMETER,
    ),
    Case(
        "nothing opens",
        {"wind_m_s": 4.0, "wind_from_rad": 2.0, "rail_tilt_rad": 0.09, "cant_roll_rad": 0.004},
        deployment=NOTHING_OPENS,
    ),
    Case(
        "every factor",
        {
            "thrust_factor": 1.04,
            "burn_time_factor": 0.93,
            "axial_factor": 1.13,
            "body_slope_factor": 1.2,
            "fin_slope_factor": 0.9,
            "cp_shift_m": -0.02,
            "crossflow_factor": 1.3,
            "cant_roll_rad": 0.008,
            "wind_m_s": 4.5,
            "wind_from_rad": 5.0,
            "rail_tilt_rad": 0.06,
            "rail_azimuth_rad": 3.0,
            "rail_friction": 0.3,
        },
    ),
    Case(
        "short rail in a gale: fins near the stall",
        {"rail_length_m": 1.6, "wind_m_s": 11.0, "wind_from_rad": 0.5, "wind_exponent": 0.12},
    ),
    Case(
        "fast and slender through the speed of sound",
        SLENDER_BODY
        | {"wind_m_s": 4.0, "wind_from_rad": 2.5, "rail_tilt_rad": 0.04, "delay_s": 12},
        STRONG,
        SLENDER_TABLES,
    ),
    Case(
        "slender, leaning far over, guides far apart",
        SLENDER_BODY
        | {
            "rail_tilt_rad": 0.30,
            "rail_azimuth_rad": 1.2,
            "guide_fore_m": 0.6,
            "rail_length_m": 2.0,
            "cant_roll_rad": 0.003,
            "delay_s": 10.0,
        },
        STRONG,
        SLENDER_TABLES,
    ),
)


def full(case: Case) -> dict[str, float]:
    return parameters(**case.changes)


DRAWN = {  # least and greatest of what is drawn, evenly
    "thrust_factor": (0.9, 1.1),
    "burn_time_factor": (0.9, 1.1),
    "axial_factor": (0.7, 1.4),
    "body_slope_factor": (0.8, 1.2),
    "fin_slope_factor": (0.8, 1.2),
    "cp_shift_m": (-0.03, 0.03),
    "crossflow_factor": (0.6, 1.4),
    "cant_roll_rad": (-0.01, 0.01),
    "cant_y_rad": (-0.003, 0.003),
    "cant_z_rad": (-0.003, 0.003),
    "thrust_angle_y_rad": (-0.005, 0.005),
    "thrust_angle_z_rad": (-0.005, 0.005),
    "thrust_offset_y_m": (-0.001, 0.001),
    "thrust_offset_z_m": (-0.001, 0.001),
    "wind_m_s": (0.0, 9.0),
    "wind_from_rad": (0.0, 6.28),
    "wind_exponent": (0.1, 0.3),
    "rail_tilt_rad": (0.0, 0.2),
    "rail_azimuth_rad": (0.0, 6.28),
    "rail_length_m": (1.6, 3.5),
    "rail_friction": (0.0, 0.3),
    "delay_s": (4.0, 13.0),
    "ground_temperature_k": (270.0, 310.0),
    "ground_pressure_pa": (80000.0, 103000.0),
    "dry_mass_kg": (1.3, 2.2),
    "tumble_area_m2": (0.01, 0.08),
    "stretch_s": (0.3, 1.5),
    "canopy_area_m2": (0.3, 1.0),
    "canopy_fill": (3.0, 10.0),
    "canopy_growth": (1.0, 4.0),
}


def drawn(count: int, seed: int) -> list[dict[str, float]]:
    """Changes of the base rocket, drawn evenly between the ends of DRAWN."""
    generator = np.random.default_rng(seed)
    return [
        {name: float(generator.uniform(*ends)) for name, ends in DRAWN.items()}
        for _ in range(count)
    ]
