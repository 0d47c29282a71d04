"""Figures of a motion after ejection, of sections drawn at random, and one motion alone."""

import math

import numpy as np

from goodflight.physics.recovery.parting import PARTING_INPUTS, PARTING_OUTCOMES, part_bodies

BASE = {
    "nose_kg": 0.46, "booster_kg": 1.0, "gear_kg": 0.32, "speed_m_s": 10.0, "climb_rad": 0.5,
    "axis_rad": 0.1, "turn_rad_s": 1.0, "parting_m_s": 12.0, "gear_rides": 1.0,
    "nose_start_m2": 0.002, "nose_m2": 0.02, "booster_start_m2": 0.004, "booster_m2": 0.04,
    "gear_m2": 0.006, "tumble_s": 0.4, "pack_friction_n": 6.0, "pack_length_m": 0.36,
    "fore_cord_m": 1.8, "aft_cord_m": 3.7, "fore_stiffness_n_m": 14000.0,
    "aft_stiffness_n_m": 8000.0, "cord_damping": 0.1, "line_length_m": 1.1, "canopy_m2": 0.49,
    "canopy_diameter_m": 0.9, "canopy_fill": 8.0, "canopy_growth": 2.0, "density_kg_m3": 1.2,
    "gravity_m_s2": 9.81, "mouth_m": 0.4, "booster_inertia_kg_m2": 0.08,
    "tube_m": 0.76, "tube_side_m2": 0.045, "fins_behind_m": 0.2, "fins_side_m2": 0.02,
    "fins_lift_m2": 0.04, "edge_friction": 0.0,
}  # fmt: skip


def part(**changes: float) -> dict[str, float]:
    figures = BASE | changes
    (row,) = part_bodies(np.array([[figures[name] for name in PARTING_INPUTS]]))
    return dict(zip(PARTING_OUTCOMES, map(float, row)))


def drawn_sections(count: int) -> list[dict[str, float]]:
    """Sections of 5 g to 1 kg, the booster with the inertia of a ring: harder than any tube."""
    rng = np.random.default_rng(11)
    found = []
    for _ in range(count):
        nose, booster, gear = np.exp(rng.uniform(math.log(0.005), 0.0, 3))
        found.append(
            BASE
            | {"nose_kg": nose, "booster_kg": booster, "gear_kg": gear}
            | {"booster_inertia_kg_m2": booster * rng.uniform(0.015, 0.08) ** 2}
            | {"axis_rad": rng.normal(0.0, 0.3), "turn_rad_s": rng.normal(0.0, 3.0)}
            | {"gear_rides": float(rng.integers(2)), "parting_m_s": rng.uniform(1.0, 20.0)}
            | {"speed_m_s": rng.uniform(1.0, 60.0), "pack_friction_n": rng.uniform(0.0, 10.0)}
            | {"pack_length_m": rng.uniform(0.05, 0.9), "mouth_m": rng.uniform(0.1, 0.9)}
            | {"fore_cord_m": rng.uniform(0.5, 4.0), "aft_cord_m": rng.uniform(1.0, 8.0)}
        )
    return found
