"""What the rows of separation, gear, cord and power take from physics, each worked by hand."""

from math import asin, pi

import numpy as np
import pytest

from goodflight.physics.aero.share import section_drag
from goodflight.physics.power import cold_run_s
from goodflight.physics.recovery import charge, cord, packing, separation, vents
from goodflight.physics.recovery.canopy import lines_hold_n
from goodflight.physics.structure import recoat_error_s


def test_pull_of_a_coasting_rocket() -> None:
    """60 N, a fifth ahead: 12 and 48 N on 0.6 and 1.0 kg: (0.6 x 48 - 1.0 x 12) / 1.6 = 10.5 N.

    Independent: both parts slow by 60 / 1.6 = 37.5 m/s2; the aft part's 48 N less 37.5 N is left.
    """
    assert float(separation.coast_pull_n(0.6, 1.0, 60.0, 0.2)) == pytest.approx(10.5)
    assert pytest.approx(10.5) == 48.0 - 1.0 * 37.5


def test_a_joint_whose_nose_closes_the_bay() -> None:
    """Gas pushes the tip of 0.2 kg with 300 N, tape holds the tube of 0.4 kg behind it with 60 N.

    Both gain (300 - 60) / 0.6 = 400 m/s2; the tube needs 0.4 x 400 + 60 = 220 N through the joint.
    While the tape holds, all of the push goes through it.
    """
    found = separation.closing_joint_pull_n(np.array([300.0, 50.0]), 60.0, 0.2, 0.6)
    assert found.tolist() == pytest.approx([220.0, 50.0])
    assert pytest.approx(220.0) == 0.4 * 400.0 + 60.0


def test_handling() -> None:
    """1.1 kg at 9.8 m/s2 and 1.5: 16.17 N; a jerk below the still weight counts as it."""
    found = separation.handling_pull_n(1.1, 9.8, np.array([0.0, -2.0]))
    assert found.tolist() == pytest.approx([16.17, 10.78])


def test_a_pull_outside_its_window() -> None:
    """Window 20 to 100 N: 10 N is too loose by 2, 200 N too tight by 2, 50 N well inside."""
    window = separation.SeparationWindow(np.full(3, 20.0), np.full(3, 100.0))
    found = separation.outside_window(window, np.array([10.0, 200.0, 50.0]))
    assert found.tolist() == pytest.approx([2.0, 2.0, 0.5])


def test_overhang() -> None:
    """Clips grip 6 to 13 mm: middle 9.5, half 3.5."""
    off, half = separation.overhang_error_m(np.array([0.0095, 0.014]))
    assert off.tolist() == pytest.approx([0.0, 0.0045])
    assert half == pytest.approx(0.0035)


def test_electronics_vents_between_the_rules() -> None:
    """The rules ask for V/51.744 m and V/12.7 m: at the mean sqrt of both, 1 / sqrt(4.074)."""
    middle = (51.744 * 12.7) ** 0.5
    found = vents.outside_rules(np.array([middle, 51.744, 12.7]), 1.0)
    assert found.tolist() == pytest.approx([(12.7 / 51.744) ** 0.5, 1.0, 1.0], rel=1e-4)
    assert vents.holes_area_m2(3, 0.002) == pytest.approx(3.0 * pi * 1e-6)


def test_lagging_air() -> None:
    """1 L through 3 holes of 2 mm at 100 m/s: hole speed 0.001/9.425e-6 x 100/(8434 x 0.6) =

    2.0967 m/s, 0.5 x 1.2 x 4.396 = 2.6377 Pa on 100 mm: 20.7 mN. Sealed: 2 kPa, 15.708 N.
    """
    given = dict(bore_m=0.1, air_m3=1e-3, climb_m_s=100.0, density_kg_m3=1.2)
    holes = vents.holes_area_m2(3, 0.002)
    vented = vents.lag_push_n(101325.0, 99325.0, vents_m2=holes, **given)
    assert float(vented) == pytest.approx(2.6377 * pi / 400.0, rel=1e-4)
    assert float(vents.lag_push_n(101325.0, 99325.0, vents_m2=0.0, **given)) == pytest.approx(
        5.0 * pi
    )


def test_blanket() -> None:
    """Pack of 100 x 150 mm: pi 0.1 (0.15 + 0.05) = 0.0628 m2 of skin, a quarter more 0.0785."""
    found = packing.blanket_needed_m2(0.1, 0.15, np.array([0.0, -0.9]))
    assert found.tolist() == pytest.approx([0.078540, 0.062832], rel=1e-5)
    assert float(packing.blanket_needed_m2(0.1, 0.15)) == pytest.approx(0.078540, rel=1e-5)


def test_stack_length() -> None:
    """Packed 10 % loose: 200 mm stated become 220; 100 mm guessed become 130."""
    assert float(packing.stack_length_m(0.2, 0.1, 1.1)) == pytest.approx(0.35)
    assert float(packing.stack_length_m(0.0, 0.1, 0.5)) == pytest.approx(0.01)  # at least a tenth


def test_a_pack_that_left_its_tube() -> None:
    found = packing.reach_m(np.array([0.1, np.inf]), np.array([0.9, 0.2]), 0.4)
    assert found.tolist() == pytest.approx([1.2, 0.2])
    assert float(packing.pack_drag_area_m2(0.005, 2.0)) == pytest.approx(0.008)
    assert float(packing.pack_drag_area_m2(0.005)) == pytest.approx(0.004)


def test_room_for_the_gas() -> None:
    """2 L with 0.2 L of nylon, pressed to three times that, half way in: 2 - 0.2 x 2 = 1.6 L.

    All of it pressed: 1.4 L; none: 1.8 L; a stuffed bay keeps 2 %.
    """
    found = charge.gas_room_m3(2e-3, 2e-4, 3.0, np.array([0.0, 0.5, -0.5]))
    assert found.tolist() == pytest.approx([1.6e-3, 1.4e-3, 1.8e-3])
    assert float(charge.gas_room_m3(2e-3, 2e-3, 3.0)) == pytest.approx(4e-5)
    drawn = charge.gas_room_m3(
        2e-3, 2e-4, 3.0, np.array([0.8, -0.8])
    )  # no more than all, than none
    assert drawn.tolist() == pytest.approx([1.4e-3, 1.8e-3])
    assert float(charge.gas_room_m3(2e-3, 2e-4, 3.0)) == pytest.approx(1.6e-3)


def test_gas_gap_and_motor_head() -> None:
    """0.87 x 119.26 J/(kg K) x 1837.2 K = 190.62 kJ/kg; 0.2 mm on 76 mm: 23.9 mm2; head 69.3 mL."""
    assert float(charge.drawn_impetus_j_kg(1.0)) == pytest.approx(190.62e3, rel=1e-4)
    assert float(charge.gap_area_m2(0.076, 0.0002)) == pytest.approx(23.876e-6, rel=1e-4)
    assert charge.motor_head_m3(0.042, 0.05) == pytest.approx(69.27e-6, rel=1e-4)
    assert charge.motor_head_m3(0.042, -0.05) == 0.0


def test_where_the_canopy_divides_the_cord() -> None:
    """A third of 6 m; beyond nine tenths counts as nine tenths; leader within the aft end."""
    assert cord.cord_lengths(6.0, None) == cord.CordLengths(2.0, 4.0, 0.0)
    far = cord.cord_lengths(6.0, 5.8, 1.0)
    assert (far.fore_m, far.aft_m, far.leader_m) == pytest.approx((5.4, 0.6, 0.57))
    assert cord.cord_lengths(6.0, 0.0).fore_m == pytest.approx(0.3)


def test_cord_strength_friction_and_path() -> None:
    """A leader counts only with a length and a strength; 0.3 kg rubs with 2 x 2.943 N."""
    assert cord.weakest_cord_n(2000.0, 1.0, 1500.0) == 1500.0
    assert cord.weakest_cord_n(2000.0, 0.0, 1500.0) == 2000.0
    assert cord.weakest_cord_n(2000.0, 0.09, 1500.0) == 1500.0
    assert cord.weakest_cord_n(2000.0, 1.0, 0.0) == 2000.0
    assert cord.weakest_cord_n(2000.0, 1.0, 0.09) == 0.09
    assert float(cord.pack_friction_n(0.3, 9.81)) == pytest.approx(5.886)
    speed, climb = [10.0, 0.0, 5.0, 5.0, 0.1, 0.105], [-5.0, 1.0, 6.0, -6.0, 0.05, 0.0525]
    found = cord.climb_angle_rad(np.array(speed), np.array(climb))
    assert found.tolist() == pytest.approx([-asin(0.5), 0.0, pi / 2, -pi / 2, 0.0, asin(0.5)])


def test_lines_with_their_knots() -> None:
    """8 lines of 445 N with 0.65 left by the knots: 2314 N."""
    assert lines_hold_n(445.0, 8) == pytest.approx(2314.0)


def test_drag_of_the_parted_sections() -> None:
    """Start: 0.4 of 30 cm2, the rest with 0.8 x 50 cm2; tumbling: (0.5 - 0.1) of 1.2 m of side."""
    found = section_drag(
        0.003, 0.4, 0.05, area_m2=0.005, length_m=1.3, joint_m=0.5, nose_length_m=0.3
    )
    assert float(found.nose_start_m2) == pytest.approx(0.0012)
    assert float(found.booster_start_m2) == pytest.approx(0.0018 + 0.004)
    assert float(found.nose_m2) == pytest.approx(0.05 / 3.0)
    assert float(found.booster_m2) == pytest.approx(0.05 * 2.0 / 3.0)


def test_a_battery_in_the_cold() -> None:
    """A fifth lost at 0 degC: at 10 degC a tenth, 0.9 of an hour 3240 s; warmer loses nothing."""
    found = cold_run_s(3600.0, np.array([283.15, 303.15, 93.15]), 0.2)
    assert found.tolist() == pytest.approx([3240.0, 3600.0, 180.0])


def test_recoat_window() -> None:
    """A can that says 1 to 3 h: middle 2 h, half 1 h; 3.5 h is 1.5 h off."""
    assert recoat_error_s(3.5 * 3600, 3600.0, 3 * 3600.0) == (5400.0, 3600.0)


def test_shares_and_pulls_stay_within_what_can_be() -> None:
    """By hand: nothing pushes a separation open less than not at all; a part is no more than its
    whole; of a section that weighs nothing a gram is taken; a hand lifts at 1.5 times the weight.
    """
    window = separation.separation_window(-20.0, 5.0, 0.0, 300.0)
    assert float(window.min_n) == 0.0
    assert float(separation.closing_joint_pull_n(300.0, 60.0, 0.9, 0.6)) == pytest.approx(60.0)
    assert float(separation.closing_joint_pull_n(300.0, 60.0, 5e-4, 0.0)) == pytest.approx(180.0)
    assert float(separation.jerk_share_n(600.0, 2.0, 1.2)) == pytest.approx(600.0)
    assert float(separation.handling_pull_n(1.0, 10.0)) == pytest.approx(15.0)
