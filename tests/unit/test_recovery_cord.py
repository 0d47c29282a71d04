"""Cords: joints, energy, snatch, parting; checked by hand and by an integrated spring."""

import numpy as np
import pytest

from goodflight.physics import recovery
from goodflight.physics.recovery.cord import stretch_s


def test_strength_after_joints() -> None:
    assert float(recovery.held_force_n(6672.0, recovery.JOINTS["two_knots"].efficiency)) == 3336.0
    assert all(0.3 <= j.efficiency <= 0.9 and j.source for j in recovery.JOINTS.values())
    assert [key for key, j in recovery.JOINTS.items() if key != j.key] == []


def test_shares_of_joints() -> None:
    """Typed anew from what each joint names as its source, from memory; the rest is practice."""
    told = {"overhand": 35, "two_knots": 50, "bowline": 65, "clove_hitch": 75, "sewn": 80,
            "palomar": 85, "splice": 90}  # fmt: skip
    assert {key: round(100 * j.efficiency) for key, j in recovery.JOINTS.items()} == told


def test_time_until_a_cord_is_paid_out() -> None:
    """L / v by hand, at 10 m/s of common practice; 5 m where there is no cord yet."""
    assert float(stretch_s(4.0)) == pytest.approx(0.4)
    assert float(stretch_s(4.0, 1.5)) == pytest.approx(0.6)
    assert float(stretch_s(None)) == pytest.approx(0.5)
    assert float(stretch_s(0.2)) == pytest.approx(0.05)  # 0.02 s is less than any charge takes


def test_stiffness_and_series() -> None:
    nylon = recovery.stiffness_n_m(6672.0, 0.25, 4.0)
    aramid = recovery.stiffness_n_m(6672.0, 0.036, 1.5)
    assert float(nylon) == pytest.approx(6672.0)  # 6672 N over 1 m
    assert float(aramid) == pytest.approx(6672.0 / 0.054)
    both = recovery.in_series(nylon, aramid)
    assert 6672.0 / float(both) == pytest.approx(1.0 + 0.054)  # stretches add at one force
    assert recovery.in_series(np.array([2.0, 4.0]), 4.0).tolist() == pytest.approx([4 / 3, 2.0])


def test_parting_keeps_energy_and_momentum() -> None:
    fore, aft, energy = 0.5, 1.5, 30.0
    v = float(recovery.parting_speed_m_s(energy, fore, aft))
    v_fore, v_aft = v * aft / (fore + aft), -v * fore / (fore + aft)
    assert fore * v_fore + aft * v_aft == pytest.approx(0.0, abs=1e-12)
    assert 0.5 * fore * v_fore**2 + 0.5 * aft * v_aft**2 == pytest.approx(energy)
    assert float(recovery.parting_speed_m_s(-1.0, fore, aft)) == 0.0
