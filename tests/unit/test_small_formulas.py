"""One-line formulas of physics, each against another way to the same figure."""

import math

import numpy as np
import pytest

from goodflight.physics.aero.cant import cants_together
from goodflight.physics.aero.reading import SHIFT_MACH, cp_follows_m, slopes_at
from goodflight.physics.aero.share import tumble_area_m2
from goodflight.physics.aero.spin import turns_per_s
from goodflight.physics.air import dynamic_pressure_pa, gust_incidence_rad
from goodflight.physics.recovery.canopy import nominal_diameter_m, width_ratio
from goodflight.physics.recovery.cord import LEAST_STRETCH_S, stretch_s
from goodflight.physics.recovery.hanging import fins_clear_m, rebound_m_s
from goodflight.physics.recovery.packing import PRESSED_ROOM
from goodflight.physics.recovery.separation import anchor_loads_n
from goodflight.physics.recovery.vents import (
    RULE_FACTOR,
    hole_diameter_m,
    holes_area_m2,
    outside_rules,
    vent_area_between_m2,
)
from goodflight.physics.structure.flutter import flutter_speed_tn4197, stiffness_speed_ratio
from goodflight.physics.vehicle import half_gap_rad, ring_inertia_kg_m2
from goodflight.physics.vehicle.parts import Fins
from sample_case import sample_case


def test_equal_cants_roll_and_do_not_push() -> None:
    cant = np.array([0.01, -0.02])
    angles = np.array([0.0, 2.0, 4.0]) * np.pi / 3.0
    roll, y, z = cants_together(angles, [cant, cant, cant])
    assert roll == pytest.approx(cant)
    assert np.abs([y, z]).max() < 1e-17


def test_one_canted_fin_along_y_pushes_along_z() -> None:
    """A third of its cant rolls, a third pushes along z, none along y."""
    zero = np.zeros(1)
    roll, y, z = cants_together(
        np.array([0.0, 2.0, 4.0]) * np.pi / 3.0, [np.array([0.03]), zero, zero]
    )
    assert (float(roll[0]), float(y[0]), float(z[0])) == pytest.approx((0.01, 0.0, 0.01))


def test_a_fin_alone_turns_all_its_cant() -> None:
    found = cants_together(np.array([np.pi / 6.0]), [np.array([0.02])])
    assert [float(each[0]) for each in found] == pytest.approx([0.02, -0.01, 0.01 * 3.0**0.5])


@pytest.mark.parametrize(("body", "fin"), [(0.001, 0.0), (0.0, 0.001), (-0.001, 0.001)])
def test_the_cp_follows_the_slopes_as_the_sum_of_moments_says(body: float, fin: float) -> None:
    """Against the sum of moments with the slopes changed: first order, so 1 % of the shift."""
    tables = sample_case(3.0).tables
    moved = slopes_at(tables, SHIFT_MACH, 1.0 + body, 1.0 + fin).cp_m
    shift = float(moved - slopes_at(tables, SHIFT_MACH).cp_m)
    assert float(cp_follows_m(tables, body, fin)) == pytest.approx(shift, rel=0.01)


def test_dynamic_pressure_of_the_sea_level_air() -> None:
    """1.225 kg/m3 at 100 m/s: 6125 Pa."""
    assert float(dynamic_pressure_pa(1.225, 100.0)) == pytest.approx(6125.0)


def test_a_gust_across_as_fast_as_the_rocket_meets_it_at_45_deg() -> None:
    assert gust_incidence_rad(5.0, 5.0) == pytest.approx(math.pi / 4.0)
    assert gust_incidence_rad(0.05, 0.05) == pytest.approx(math.pi / 4.0)
    assert gust_incidence_rad(5.0, 0.0) == 0.0


def test_a_cord_of_ten_metres_is_paid_out_in_a_second() -> None:
    """At the ten metres a second that parts leave each other with."""
    assert float(stretch_s(10.0, 0.8)) == pytest.approx(0.8)
    assert float(stretch_s(0.1)) == LEAST_STRETCH_S


def test_a_canopy_of_four_times_the_cloth_is_twice_as_wide() -> None:
    wider = nominal_diameter_m(4.0 * 0.7) / nominal_diameter_m(0.7)
    assert float(width_ratio(4.0)) == pytest.approx(float(wider)) == pytest.approx(2.0)


def test_holes_of_the_diameter_found_have_the_area_asked_for() -> None:
    assert holes_area_m2(3, hole_diameter_m(2e-5, 3)) == pytest.approx(2e-5)


def test_the_area_between_the_rules_is_as_far_from_either() -> None:
    """The two rules differ by just over four, so the middle is half of the factor allowed."""
    middle = float(outside_rules(1e-3, vent_area_between_m2(1e-3)))
    assert middle == pytest.approx(0.5, abs=0.01)
    assert middle < RULE_FACTOR


def test_flutter_goes_with_the_root_of_the_shear_modulus() -> None:
    """Against the formula itself at two moduli."""
    fin = {"root_chord_m": 0.15, "tip_chord_m": 0.06, "semi_span_m": 0.08,
           "pressure_pa": 101325.0, "sound_m_s": 340.3}  # fmt: skip
    one, other = (float(flutter_speed_tn4197(g, 0.004, **fin)) for g in (0.6e9, 0.75e9))
    assert float(stiffness_speed_ratio(0.75 / 0.6)) == pytest.approx(other / one)


def test_a_ring_has_its_mass_at_its_wall() -> None:
    """2 kg at 0.1 m: 0.02 kg m2."""
    assert float(ring_inertia_kg_m2(2.0, 0.1)) == pytest.approx(0.02)


def test_a_full_turn_and_half_the_gap_between_three_fins() -> None:
    assert turns_per_s(2.0 * math.pi) == pytest.approx(1.0)
    assert math.degrees(half_gap_rad(Fins("f", 1.0, count=3))) == pytest.approx(60.0)


def test_a_cord_throws_back_what_its_motion_says() -> None:
    """Steps of 1e-6 s of x'' = -(k x + c x') / m from rest at F / k until the cord is slack."""
    pull, k, one, other, z = 500.0, 4700.0, 0.4, 1.3, 0.1
    m = one * other / (one + other)
    c, x, v, dt = 2.0 * z * math.sqrt(k * m), pull / k, 0.0, 1e-6
    while k * x + c * v > 0.0:
        v -= (k * x + c * v) / m * dt
        x += v * dt
    found = rebound_m_s(*(np.array([each]) for each in (pull, k, one, other, z)))
    assert float(found[0]) == pytest.approx(-v, rel=1e-3)


def test_a_nose_hangs_above_beside_or_below_the_fins() -> None:
    """Fins from 3.0 to 3.4 m below the canopy; by hand."""
    for top, clear in ((1.0, 1.5), (2.9, -0.4), (4.0, 0.6)):
        assert float(fins_clear_m((top, top + 0.5), (3.0, 3.4))) == pytest.approx(clear)


def test_each_anchor_takes_the_share_of_its_body() -> None:
    """By hand: 1000 N of the canopy on 0.5 and 2.0 kg: 200 and 800 N; a snatch of 300 N on both."""
    opening, snatch = np.array([1000.0, 100.0]), np.array([300.0, 300.0])
    ahead, behind = anchor_loads_n(opening, snatch, np.array([0.5, 0.5]), np.array([2.0, 2.0]))
    assert ahead == pytest.approx([300.0, 300.0])
    assert behind == pytest.approx([800.0, 300.0])


def test_tumbling_and_pressed() -> None:
    """Our guess of 0.5 on 0.12 m2, and drawn a tenth more; 1140 kg/m3 of nylon pressed to 481."""
    assert float(tumble_area_m2(0.12)) == pytest.approx(0.06)
    assert float(tumble_area_m2(0.12, 1.1)) == pytest.approx(0.066)
    assert pytest.approx(2.370, abs=5e-4) == PRESSED_ROOM
