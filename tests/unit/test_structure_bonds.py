"""Glue joints under load, by hand."""

from math import pi

import numpy as np
import pytest

from goodflight.physics.structure import bonds


def test_ring_bond_shares_the_thrust() -> None:
    """205 N on three rings of 76 mm with 8 mm glue: 205/(3 x 1910 mm2) = 35.8 kPa."""
    stress = bonds.ring_bond_stress_pa(205.0, 0.076, 0.008, 3)
    assert float(stress) == pytest.approx(205.0 / (3 * pi * 0.076 * 0.008))
    assert float(stress) == pytest.approx(35.8e3, rel=2e-3)


def test_anchor_punches_round_its_washer() -> None:
    stress = bonds.anchor_stress_pa(np.array([500.0]), 0.012, 0.004)
    assert stress.tolist() == pytest.approx([500.0 / (pi * 0.012 * 0.004)])
