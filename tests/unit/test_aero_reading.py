"""Slopes, upset and spin of many flights: against the plain formulas and by hand."""

import math

import numpy as np
import pytest

from goodflight.physics.aero.margin import normal_force
from goodflight.physics.aero.reading import coast_drag_area_m2, one_fin_slope, scalar, slopes_at
from goodflight.physics.aero.spin import (
    cant_for_ratio_rad,
    tip_offset_m,
)
from goodflight.physics.aero.upset import (
    crossflow_slope,
    speed_at_top_m_s,
    stable_incidence_rad,
    stall_start_rad,
)
from goodflight.physics.aero.validity import range_used
from goodflight.physics.flight.forces import pitch_rate2
from goodflight.physics.flight.registry import AERO_INDEX
from goodflight.physics.recovery.opening import deploy_speed_stood_m_s, height_needed_m
from goodflight.physics.vehicle.sections import share_aft
from sample_case import sample_case

CASE = sample_case(1.0)
TABLES = CASE.tables


def test_slopes_give_the_same_cp_as_the_plain_formula() -> None:
    for mach in (0.06, 0.3, 0.8):
        found = slopes_at(TABLES, mach)
        assert float(found.cp_m) == pytest.approx(normal_force(TABLES, mach, 0.0).cp_m, rel=1e-9)


def test_factors_move_the_cp_as_moments_do() -> None:
    """CP of two shares by hand: (b xb + 2 f xf) / (b + 2 f)."""
    row = TABLES.mach_table[3]
    body, fin = row[AERO_INDEX["body_slope"]], row[AERO_INDEX["fin_slope"]]
    moment = row[AERO_INDEX["body_moment_m"]] + 2.0 * fin * row[AERO_INDEX["fin_cp_m"]]
    found = slopes_at(TABLES, np.array([0.06]), 1.0, np.array([2.0]))
    assert float(found.cp_m[0]) == pytest.approx(moment / (body + 2.0 * fin))
    assert float(found.total[0]) == pytest.approx(body + 2.0 * fin)


def test_the_last_row_holds_beyond_the_table() -> None:
    assert float(slopes_at(TABLES, 9.0).fin) == float(slopes_at(TABLES, 2.0).fin)


@pytest.mark.parametrize("count", [3, 4, 6])
def test_one_fin_by_summing_over_the_set(count: int) -> None:
    """Fin i at angle a sees incidence x sin a and gives back its share sin a: sum sin^2."""
    angles = 0.3 + 2.0 * math.pi * np.arange(count) / count
    set_slope = float(np.sum(np.sin(angles) ** 2)) * 3.0 * 0.01 / 0.005  # one fin 3 on 0.01 m2
    assert float(one_fin_slope(set_slope, count, 0.005, 0.01)) == pytest.approx(3.0)


def test_coasting_drag_area_lies_between_its_rows() -> None:
    low, high = (float(coast_drag_area_m2(TABLES, mach)) for mach in (0.30, 0.32))
    assert float(coast_drag_area_m2(TABLES, 0.31, 2.0)) == pytest.approx(low + high)
    table = TABLES.mach_table[15, AERO_INDEX["axial_low"]]
    assert low == pytest.approx(table * scalar(TABLES, "area_m2"))


def test_at_the_stable_incidence_the_cp_is_at_the_cg() -> None:
    """Independent: moments of slope and cross-flow about the CG balance."""
    slope, margin, lever = 11.0, 1.4, 4.2
    cross = float(crossflow_slope(0.65, 0.09, 0.0049, 1.1))
    assert cross == pytest.approx(0.65 * 1.2 * 0.09 / 0.0049 * 1.1)
    angle = float(stable_incidence_rad(slope, margin, cross, lever))
    assert slope * angle * margin - cross * angle**2 * lever == pytest.approx(0.0, abs=1e-12)


def test_stable_incidence_has_ends() -> None:
    """Centroid aft of the CG: never used up; unstable already: at none."""
    found = stable_incidence_rad(10.0, np.array([1.0, -0.5]), 12.0, np.array([-1.0, 5.0]))
    assert found.tolist() == [math.pi / 2.0, 0.0]


def test_stall_start() -> None:
    assert stall_start_rad(0.25) == pytest.approx(math.radians(30.0))
    assert (stall_start_rad(-0.1), stall_start_rad(4.0)) == (0.0, math.pi / 2.0)


def test_speed_left_at_the_top() -> None:
    """13 m/s with 12 up leaves 5 across; falling already: the speed at apogee."""
    found = speed_at_top_m_s(np.array([13.0, 13.0]), np.array([12.0, -12.0]), 9.0)
    assert found.tolist() == [5.0, 9.0]


def test_range_used_takes_the_worse() -> None:
    found = range_used(np.array([0.75, 0.3, np.nan]), np.radians([5.0, 30.0, 12.5]))
    assert found.tolist() == pytest.approx([0.5, 1.2, 0.5])


def test_square_of_the_pitch_frequency() -> None:
    """5000 Pa x 0.005 m2 x 0.08 m x 10 x 1.5 = 30 N m/rad over 0.12 kg m2: 250."""
    stiffness = 5000.0 * 0.005 * 10.0 * 1.5 * 0.08
    assert pitch_rate2(stiffness, 0.121, 0.001) == pytest.approx(250.0)


def test_cant_for_a_spin_ratio() -> None:
    """A cant of 0.01 gives 0.3637, so 0.7071 needs 0.01944 rad."""
    cant = cant_for_ratio_rad(np.array([0.01, 0.0]), np.array([0.3637, np.nan]))
    assert cant == pytest.approx(0.01944, abs=1e-5)
    assert cant_for_ratio_rad(np.zeros(3), np.ones(3)) is None


def test_tip_offset_is_that_of_the_trailing_corner() -> None:
    outline = ((0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0))
    assert tip_offset_m(outline, 0.02) == pytest.approx(0.13 * math.sin(0.02))


def test_height_needed_to_open() -> None:
    """10 m kept, 20 m/s for 0.5 s, 8 diameters of 1 m: 28 m."""
    assert float(height_needed_m(20.0, 0.5, 8.0, 1.0)) == 28.0
    assert deploy_speed_stood_m_s(np.array([0.0, -40.0])).tolist() == [25.0, 1.0]


def test_share_aft_counts_centres() -> None:
    items = CASE.items
    whole = sum(item.mass_kg for item in items)
    behind = sum(item.mass_kg for item in items if not item.station_m < 0.5)
    assert share_aft(items, 0.5) == pytest.approx(behind / whole)
    assert share_aft((), 0.5) == 1.0
