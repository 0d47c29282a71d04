"""What joints, rings, anchors, guides, tails and noses stand, and what loads them, by hand.

Every figure is worked out beside its check; sources of strengths are with the constants.
"""

from math import pi, radians, sqrt

import numpy as np
import pytest

from goodflight.physics import structure
from goodflight.physics.structure import fin_load, landing


def test_gust_and_cant_add_up() -> None:
    """Two standard deviations of 1.5 m/s on 100 m/s: 0.03; cant 0.01 on top; at rest v = 1."""
    found = structure.gust_incidence_rad(1.5, np.array([100.0, 0.0]), 0.01)
    assert found.tolist() == pytest.approx([0.04, 3.01])


def test_a_fin_root_stands_its_section() -> None:
    """50 MPa x 150 mm x (4 mm)^2 / 6 = 20 N m; an uneven load leaves 20 / 1.25 = 16 N m."""
    assert float(structure.fin_root_stands_nm(50e6, 0.15, 0.004)) == pytest.approx(16.0)
    assert fin_load.UNEVEN == 1.25
    twice = structure.fin_root_stands_nm(50e6, 0.15, 0.004, np.array([1.0, 2.0]))
    assert twice.tolist() == pytest.approx([16.0, 8.0])


def test_fin_bond_by_hand() -> None:
    """Fillets 150 x 8 mm. Skin: 0.45 MPa x (4 + 8) mm = 5400 N/m, ply: 2.5 MPa x 4 mm = 10 000.

    The skin goes first: 0.15 x 0.008 x 5400 = 6.48 N m. Half cured, workmanship 0.8, uneven
    1.25: 6.48 x 0.5 x 0.8 / 1.25 = 2.0736 N m.
    """
    sound = structure.fin_bond_moment_nm(0.15, 0.004, 0.008)
    assert float(sound) == pytest.approx(6.48)
    assert float(structure.fin_bond_stands_nm(sound, 0.8, 0.5)) == pytest.approx(2.0736)


def test_a_tab_adds_its_foot() -> None:
    """Tab 120 mm long, 19 mm deep, fillet 6 mm: 0.019 x 0.12 x 0.006 x 2.5 MPa = 34.2 N m."""
    with_tab = structure.fin_bond_moment_nm(0.15, 0.004, 0.006, 0.12, 0.019)
    without = structure.fin_bond_moment_nm(0.15, 0.004, 0.006)
    assert float(with_tab - without) == pytest.approx(34.2)


def test_thrust_on_the_glue() -> None:
    """200 N pushes 2.0 kg of which 0.4 kg is the motor: 160 N through the glue, 1.3 as it jumps."""
    assert float(structure.thrust_on_glue_n(200.0, 0.4, 2.0)) == pytest.approx(208.0)


def test_rings_share_with_the_foremost_carrying_more() -> None:
    """pi x 42 mm x 9 mm = 1187.5 mm2 at 0.45 MPa: 534.4 N alone, two: 2 x 534.4 / 1.5 = 712.5."""
    width = structure.glued_width_m(0.003)
    assert float(width) == pytest.approx(0.009)
    one = structure.rings_hold_n(0.45e6, 0.042, width, 1)
    two = structure.rings_hold_n(0.45e6, 0.042, width, 2)
    assert (float(one), float(two)) == pytest.approx((534.38, 712.51), rel=1e-4)


def test_anchor_takes_the_lesser() -> None:
    """Glue: pi (76 + 42) mm x 9 mm x 0.45 MPa = 1501 N; washers: 2 pi 12 mm x 3 mm x 8.34 MPa.

    2 x 113.1 mm2 x 8.34 = 1886.5 N for 3 mm; a sheet of 1 mm punches at 628.8 N.
    """
    thick = structure.anchor_holds_n(0.45e6, 0.076, 0.042, 0.009, 0.003)
    thin = structure.anchor_holds_n(0.45e6, 0.076, 0.042, 0.009, 0.001)
    assert (float(thick), float(thin)) == pytest.approx((1501.4, 628.82), rel=1e-4)


def test_guides_share_by_levers() -> None:
    """10 N at 0.9 m, guides at 0.5 and 1.0 m: aft 8 N, fore 2 N; lean 20 N sin 5 deg = 1.743 N."""
    load = structure.guide_load_n(10.0, 0.9, 20.0, radians(5.0), 0.5, 1.0)
    assert float(load) == pytest.approx(8.0 + 1.74311, rel=1e-5)
    ahead = structure.guide_load_n(10.0, 0.3, 0.0, 0.0, 0.5, 1.0)
    assert float(ahead) == pytest.approx(14.0)  # aft -4 N, fore 14 N


def test_cross_wind_force() -> None:
    """v = w: 45 deg; 0.6125 x (100 + 100) x 0.05 x pi/4 = 4.8106 N."""
    found = structure.crosswind_force_n(10.0, 10.0, 1.225, 0.05)
    assert float(found) == pytest.approx(0.6125 * 200.0 * 0.05 * pi / 4.0)


def test_landing_speed_stood() -> None:
    """1.6 kg at 101.7 J: sqrt(2 x 101.7 / 1.6) = 11.275 m/s; middle with 6.1: 8.687.

    98 in 100 are damaged 2.054 standard deviations up, which is the 11.275 m/s; a heavy rocket
    (10 kg: 4.5 m/s) keeps 5 % above practice: middle (6.1 + 6.405) / 2.
    """
    found = structure.landing_speed_stood_m_s(1.6, np.array([0.0, 2.054, -2.054]))
    assert found.tolist() == pytest.approx([8.68745, 11.2749, 6.1], rel=1e-4)
    assert float(structure.landing_speed_stood_m_s(10.0, 0.0)) == pytest.approx(6.2525)


def test_touch_force() -> None:
    """1.6 kg at 6 m/s: 28.8 J over 30 mm is 960 N in the mean, twice that at the peak."""
    assert float(structure.touch_force_n(1.6, 6.0)) == pytest.approx(1920.0)
    assert float(structure.touch_force_n(1.6, 6.0, 0.5)) == pytest.approx(3840.0)
    assert landing.PEAK == 2.0


def test_mass_that_counts_follows_from_momentum() -> None:
    """Independent: blow J at lever l gives v = J/m, w = J l/I; the struck point moves v + w l."""
    mass, gyration, lever = 1.3, 0.07, 0.21
    moved = 1.0 / mass + lever**2 / (mass * gyration)
    assert float(structure.mass_that_counts_kg(mass, gyration, lever)) == pytest.approx(1 / moved)


def test_blow_on_a_tilted_fin() -> None:
    """100 N at 30 deg of tilt and 30 deg of roll: 25 N square to the fin, 80 mm out: 2 N m."""
    moment = structure.fin_blow_nm(100.0, radians(30.0), radians(30.0), 0.08)
    assert float(moment) == pytest.approx(2.0)
    lever = structure.tilted_fin_lever_m(1.2, 0.7, 0.04, 0.08, radians(30.0))
    assert float(lever) == pytest.approx(0.5 * 0.5 + 0.12 * sqrt(3.0) / 2.0)


def test_sections_that_are_crushed() -> None:
    """Tube 79 x 76 mm: half of pi 77.5 x 1.5 mm = 182.6 mm2; nose of 79 mm, wall 2 mm:

    pi (19.75 - 2) x 2 mm = 111.5 mm2; a solid tip no narrower than its two walls.
    """
    assert structure.edge_area_m2(0.079, 0.0015) == pytest.approx(182.606e-6, rel=1e-5)
    assert structure.nose_area_m2(0.079, 0.002) == pytest.approx(111.527e-6, rel=1e-5)
    assert structure.nose_area_m2(0.010, 0.002) == pytest.approx(pi * 4e-6)
    assert float(structure.crush_force_n(22.5e6, 182.606e-6, 0.8)) == pytest.approx(
        3286.9, rel=1e-4
    )


def test_crushing_strength_by_material() -> None:
    """Known families first, 0.6 of the bending strength else, nothing known: None."""
    assert structure.crush_pa("kraft", 1.0) == 10.1e6
    assert structure.crush_pa("pla", None) == pytest.approx(0.62 * 53e6)
    assert structure.crush_pa("", 60e6) == pytest.approx(36e6)
    assert structure.crush_pa("", None) is None


def test_flutter_speed_moves_with_the_air() -> None:
    """The formula itself at another height, not its scaling: G, t and outline cancel."""
    fin = {"root_chord_m": 0.15, "tip_chord_m": 0.06, "semi_span_m": 0.08}
    ground = structure.flutter_speed_tn4197(
        0.62e9, 0.004, **fin, pressure_pa=101325.0, sound_m_s=340.294
    )
    high = structure.flutter_speed_tn4197(
        0.62e9, 0.004, **fin, pressure_pa=89876.0, sound_m_s=336.43
    )
    scaled = structure.flutter_at_height(ground, 89876.0, 336.43)
    assert float(scaled) == pytest.approx(float(high), rel=1e-12)


def test_a_fin_near_the_body_or_behind_the_tail() -> None:
    """10 mm beside the tail and 200 mm ahead of it: atan(20) = 87.1 deg; behind it: at once."""
    near, outward = structure.fin_touch_tilt_rad(((0.0, 0.0), (0.1, 0.01)), 0.7, 0.04, 1.0, 0.04)
    assert float(near) == pytest.approx(1.52084, rel=1e-5)
    assert float(outward) == 0.01
    behind, _ = structure.fin_touch_tilt_rad(((0.0, 0.0), (0.35, 0.1)), 0.7, 0.04, 1.0, 0.04)
    assert float(behind) == 0.0
