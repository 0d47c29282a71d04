"""After ejection: nose, canopy and booster on a cord, against closed forms and symmetries.

Expected numbers are closed forms (energy balance of a spring, free fall), worked here.
"""

import math

import numpy as np
import pytest

from goodflight.physics.recovery.cord import shared_mass_kg
from goodflight.physics.recovery.parting import (
    OUTCOME_INDEX,
    PARTING_INPUTS,
    PARTING_OUTCOMES,
    part_bodies,
)

BASE = {
    "nose_kg": 0.46, "booster_kg": 1.0, "gear_kg": 0.32, "speed_m_s": 10.0, "climb_rad": 0.5,
    "axis_rad": 0.1, "turn_rad_s": 1.0, "parting_m_s": 12.0, "gear_rides": 1.0,
    "nose_start_m2": 0.002, "nose_m2": 0.02, "booster_start_m2": 0.004, "booster_m2": 0.04,
    "gear_m2": 0.006, "tumble_s": 0.4, "pack_friction_n": 6.0, "pack_length_m": 0.36,
    "fore_cord_m": 1.8, "aft_cord_m": 3.7, "fore_stiffness_n_m": 14000.0,
    "aft_stiffness_n_m": 8000.0, "cord_damping": 0.1, "line_length_m": 1.1, "canopy_m2": 0.49,
    "canopy_diameter_m": 0.9, "canopy_fill": 8.0, "canopy_growth": 2.0, "density_kg_m3": 1.2,
    "gravity_m_s2": 9.81,
}  # fmt: skip
BARE = {"density_kg_m3": 0.0, "gravity_m_s2": 0.0, "pack_friction_n": 0.0, "cord_damping": 0.0,
        "axis_rad": 0.0, "speed_m_s": 0.0, "line_length_m": 1e6}  # fmt: skip


def part(**changes: float) -> dict[str, float]:
    figures = BASE | changes
    (row,) = part_bodies(np.array([[figures[name] for name in PARTING_INPUTS]]))
    return dict(zip(PARTING_OUTCOMES, map(float, row)))


def test_snatch_without_air_is_the_closed_form() -> None:
    """Pack and booster alone on the aft cord: F = v sqrt(mu k); 2 % as the steps allow."""
    found = part(**BARE, fore_cord_m=1e4)
    wanted = 12.0 * math.sqrt(float(shared_mass_kg(0.32, 1.0)) * 8000.0)
    assert found["max_n"] == pytest.approx(wanted, rel=0.02)


def test_snatch_of_the_nose_is_the_closed_form_when_the_pack_lies_still_and_is_heavy() -> None:
    """A pack as heavy as a mountain: F = v sqrt(m k) of the nose alone."""
    heavy = 1e5
    found = part(**BARE, gear_rides=0.0, gear_kg=heavy, aft_cord_m=1e4)
    wanted = 12.0 * math.sqrt(0.46 * 14000.0)
    assert found["max_n"] == pytest.approx(wanted, rel=0.02)


def test_straight_when_the_slack_is_used_up() -> None:
    """Nose leaves the pack at rest, then pulls: first tight at L/v, both after it has come on."""
    found = part(**BARE, fore_cord_m=1e4)
    assert found["straight_s"] == math.inf
    assert found["reach_m"] > 3.7


def test_pack_stops_where_friction_has_eaten_its_speed() -> None:
    """s = m v^2 / 2 F beside a very heavy booster: 0.32 x 2^2 / (2 x 6) = 0.107 m."""
    found = part(**(BARE | {"pack_friction_n": 6.0}), booster_kg=1e6, parting_m_s=2.0,
                 fore_cord_m=1e4)  # fmt: skip
    assert found["reach_m"] == pytest.approx(0.32 * 4.0 / 12.0, rel=0.06)
    assert found["cleared_s"] == math.inf


def test_pack_free_of_friction_leaves_at_once() -> None:
    found = part(**BARE)
    assert found["cleared_s"] == pytest.approx(0.36 / 12.0, abs=0.003)


def test_mirror_image_gives_the_same_loads() -> None:
    level = {"gravity_m_s2": 0.0}
    up, down = (
        part(axis_rad=0.3, turn_rad_s=2.0, **level),
        part(axis_rad=-0.3, turn_rad_s=-2.0, **level),
    )
    for name in PARTING_OUTCOMES:
        assert up[name] == pytest.approx(down[name], rel=1e-6)


def test_a_stiffer_cord_snatches_harder_and_damping_softens() -> None:
    plain = part(cord_damping=0.0)["snatch_n"]
    assert part(cord_damping=0.0, aft_stiffness_n_m=32000.0)["snatch_n"] > plain
    assert part(cord_damping=0.3)["max_n"] < plain


def test_a_heavy_slick_booster_overtakes_a_draggy_pack_at_speed() -> None:
    slow = part(speed_m_s=10.0, parting_m_s=3.0, pack_friction_n=0.0)
    fast = part(speed_m_s=60.0, parting_m_s=3.0, pack_friction_n=0.0, gear_m2=0.02)
    assert slow["min_gap_m"] > 0.0 > fast["min_gap_m"]


def test_a_straight_pull_does_not_bear_on_the_edge_and_a_turned_booster_does() -> None:
    straight = part(axis_rad=0.0, turn_rad_s=0.0, gravity_m_s2=0.0)
    assert straight["max_n"] > 100.0
    assert straight["edge_n"] == pytest.approx(0.0, abs=1e-9)
    assert part(turn_rad_s=6.0)["edge_n"] > part(turn_rad_s=1.0)["edge_n"]


def test_figures_that_are_not_numbers_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match="booster_kg"):
        part(booster_kg=math.nan)
    with pytest.raises(ValueError, match="found \\(2, 3\\)"):
        part_bodies(np.zeros((2, 3)))


def test_canopy_opens_after_lines_and_fill_distance() -> None:
    """Fill distance n D at the stretch speed: open - stretch begins >= n D / v."""
    found = part()
    fill = 8.0 * 0.9 / found["stretch_m_s"]
    assert found["open_s"] > fill
    assert OUTCOME_INDEX["open_s"] == len(PARTING_OUTCOMES) - 1
