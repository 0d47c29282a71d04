"""The motion after ejection against an integrator of another kind, on hard cases.

Expected numbers are those of `slow_parting`: the same forces written anew, scipy's DOP853 from
event to event. How near the fast one must come is its stated validity, and the slow one is itself
checked against a closed form.
"""

import math

import numpy as np
import pytest
from slow_parting import SlowParting

from goodflight.physics.recovery.cord import shared_mass_kg
from goodflight.physics.recovery.parting import PARTING_INPUTS, PARTING_OUTCOMES, part_bodies
from goodflight.physics.recovery.parting_slide import FINE

BASE = {
    "nose_kg": 0.46,
    "booster_kg": 1.0,
    "gear_kg": 0.32,
    "speed_m_s": 12.0,
    "climb_rad": 0.5,
    "axis_rad": 0.1,
    "turn_rad_s": 1.0,
    "parting_m_s": 12.0,
    "gear_rides": 1.0,
    "nose_start_m2": 0.002,
    "nose_m2": 0.02,
    "booster_start_m2": 0.004,
    "booster_m2": 0.04,
    "gear_m2": 0.006,
    "tumble_s": 0.4,
    "pack_friction_n": 6.0,
    "pack_length_m": 0.36,
    "fore_cord_m": 1.8,
    "aft_cord_m": 3.7,
    "fore_stiffness_n_m": 10000.0,
    "aft_stiffness_n_m": 6000.0,
    "cord_damping": 0.1,
    "line_length_m": 1.1,
    "canopy_m2": 0.49,
    "canopy_diameter_m": 0.9,
    "canopy_fill": 8.0,
    "canopy_growth": 2.0,
    "density_kg_m3": 1.2,
    "gravity_m_s2": 9.81,
    "mouth_m": 0.4,
    "booster_inertia_kg_m2": 0.08,
    "tube_m": 0.76,
    "tube_side_m2": 0.045,
    "fins_behind_m": 0.2,
    "fins_side_m2": 0.02,
    "fins_lift_m2": 0.04,
    "edge_friction": 0.3,
}
CASES = {
    "as a well-built one": {},
    "short cord": {"fore_cord_m": 0.5, "aft_cord_m": 1.2},
    "elastic cord": {"fore_stiffness_n_m": 300.0, "aft_stiffness_n_m": 200.0},
    "fast": {"speed_m_s": 60.0, "turn_rad_s": 3.0, "axis_rad": 0.4},
    "hard charge, pack left behind": {"parting_m_s": 25.0, "gear_rides": 0.0},
    "late, out of a turned tube": {
        "parting_m_s": 1.5,
        "pack_friction_n": 0.2,
        "turn_rad_s": 4.0,
        "speed_m_s": 5.0,
    },
    "drawn out by the nose, the tube turning": {
        "gear_rides": 0.0,
        "turn_rad_s": -5.0,
        "pack_length_m": 0.7,
        "fore_cord_m": 1.2,
    },
    "drawn out by a light nose on a stiff cord": {
        "gear_rides": 0.0,
        "nose_kg": 0.20,
        "speed_m_s": 33.7,
        "axis_rad": -0.22,
        "turn_rad_s": 2.2,
        "parting_m_s": 7.6,
        "pack_friction_n": 12.4,
        "pack_length_m": 0.66,
        "fore_cord_m": 0.81,
        "fore_stiffness_n_m": 13300.0,
    },
    "streamer, at once open": {"canopy_growth": 1.0, "canopy_fill": 2.0, "canopy_m2": 0.1},
}


def both(**changes: float) -> tuple[dict[str, float], dict[str, float]]:
    figures = BASE | changes
    (row,) = part_bodies(np.array([[figures[name] for name in PARTING_INPUTS]]))
    return dict(zip(PARTING_OUTCOMES, map(float, row))), SlowParting(figures).outcomes()


def test_the_slow_motion_snatches_as_the_closed_form() -> None:
    """Pack and booster alone on the aft cord, no air: F = v sqrt(mu k)."""
    slow = SlowParting(
        BASE
        | {
            "density_kg_m3": 0.0,
            "gravity_m_s2": 0.0,
            "pack_friction_n": 0.0,
            "cord_damping": 0.0,
            "axis_rad": 0.0,
            "turn_rad_s": 0.0,
            "line_length_m": 1e6,
            "fore_cord_m": 1e4,
            "booster_inertia_kg_m2": 1e6,
        }
    ).outcomes()
    wanted = 12.0 * math.sqrt(float(shared_mass_kg(0.32, 1.0)) * 6000.0)
    assert slow["max_n"] == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize("changes", CASES.values(), ids=CASES.keys())
def test_the_motion_is_the_slow_one(changes: dict[str, float]) -> None:
    """A pull is looked at within half a step of its top, where it stands h^2 / 8 too high."""
    fast, slow = both(**changes)
    for name in ("snatch_n", "max_n", "fore_n"):
        assert fast[name] == pytest.approx(slow[name], rel=FINE**2 / 8.0), name
    assert fast["edge_n"] == pytest.approx(slow["edge_n"], rel=0.10, abs=5.0)
    for name in ("cleared_s", "straight_s"):
        assert fast[name] == pytest.approx(slow[name], abs=0.002), name
    assert fast["open_s"] == pytest.approx(slow["open_s"], rel=0.02)
    assert fast["stretch_m_s"] == pytest.approx(slow["stretch_m_s"], rel=0.03)
    for name in ("reach_m", "min_gap_m"):
        assert fast[name] == pytest.approx(slow[name], abs=0.01, nan_ok=True), name
