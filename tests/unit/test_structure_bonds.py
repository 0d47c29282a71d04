"""Glue joints under load, by hand."""

from math import pi

import numpy as np
import pytest

from goodflight.physics.structure import bonds


def test_surface_fin_bond() -> None:
    """0.78 N m over fillets 14 mm apart: 55.7 N on 150 x 10 mm = 37.1 kPa."""
    stress = bonds.fin_bond_stress_pa(0.78, 0.150, 0.004, 0.010)
    assert float(stress) == pytest.approx(37.14e3, rel=1e-3)


def test_tab_bond() -> None:
    """0.78 N m over a 19 mm tab: 41.05 N on 120 x 6 mm = 57.0 kPa."""
    stress = bonds.tab_bond_stress_pa(np.array([0.78, 1.56]), 0.12, 0.019, 0.006)
    assert stress.tolist() == pytest.approx([57.02e3, 114.04e3], rel=1e-3)


def test_ring_bond_shares_the_thrust() -> None:
    """205 N on three rings of 76 mm with 8 mm glue: 205/(3 x 1910 mm2) = 35.8 kPa."""
    stress = bonds.ring_bond_stress_pa(205.0, 0.076, 0.008, 3)
    assert float(stress) == pytest.approx(205.0 / (3 * pi * 0.076 * 0.008))
    assert float(stress) == pytest.approx(35.8e3, rel=2e-3)


def test_anchor_punches_round_its_washer() -> None:
    stress = bonds.anchor_stress_pa(np.array([500.0]), 0.012, 0.004)
    assert stress.tolist() == pytest.approx([500.0 / (pi * 0.012 * 0.004)])
