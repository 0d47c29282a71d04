"""Fin outlines reduced to a trapezium; side load and root bending by hand."""

import numpy as np
import pytest

from goodflight.physics import structure
from goodflight.physics.vehicle import panel

DELTA = ((0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0))


def test_trapezium_is_kept_and_other_outlines_keep_root_span_and_area() -> None:
    plain = structure.equivalent_trapezoid(DELTA)
    assert (plain.root_chord_m, plain.tip_chord_m, plain.semi_span_m) == pytest.approx(
        (0.15, 0.06, 0.08)
    )
    assert plain.taper == pytest.approx(0.4)
    rounded = ((0.0, 0.0), (0.05, 0.07), (0.08, 0.08), (0.12, 0.07), (0.15, 0.0))
    same = structure.equivalent_trapezoid(rounded)
    assert same.area_m2 == pytest.approx(panel(rounded).area_m2)
    assert (same.root_chord_m, same.semi_span_m) == pytest.approx((0.15, 0.08))
    triangle = structure.equivalent_trapezoid(((0.0, 0.0), (0.1, 0.08), (0.15, 0.0)))
    assert triangle.tip_chord_m == pytest.approx(0.0, abs=1e-12)


def test_outline_without_a_root_is_refused() -> None:
    with pytest.raises(ValueError, match="the fin outline has no root"):
        structure.equivalent_trapezoid(((0.0, 0.01), (0.07, 0.08), (0.15, 0.02)))


def test_side_load_grows_with_incidence_until_the_stall() -> None:
    """q 9000 Pa, 84 cm2, 3 per rad: 0.1 rad 22.68 N either way; at 1 rad 1.2 q S = 90.72 N."""
    force = structure.fin_side_load_n(9000.0, 0.0084, 3.0, np.array([0.0, 0.1, -0.1, 1.0]))
    assert force.tolist() == pytest.approx([0.0, 22.68, 22.68, 90.72])


def test_root_stress_by_hand() -> None:
    """22.68 N at 34.3 mm: 0.7776 N m; 6 M/(0.15 x 16e-6) = 1.944 MPa."""
    moment = structure.fin_root_moment_nm(22.68, panel(DELTA).w_m)
    assert float(moment) == pytest.approx(22.68 * 0.08 * 0.27 / 0.63)
    stress = structure.fin_root_stress_pa(moment, 0.15, np.array([0.004, 0.008]))
    assert stress.tolist() == pytest.approx([1.944e6, 0.486e6], rel=1e-3)


def test_root_stress_balances_the_moment_over_the_section() -> None:
    """Independent: stress falls straight from +s to -s over the thickness; integrate s y dA."""
    stress = float(structure.fin_root_stress_pa(2.0, 0.1, 0.005))
    y = np.linspace(-0.0025, 0.0025, 20001)
    moment = float(np.trapezoid(stress * y / 0.0025 * y * 0.1, y))
    assert moment == pytest.approx(2.0, rel=1e-6)
