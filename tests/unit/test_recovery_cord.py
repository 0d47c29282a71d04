"""Cords: joints, energy, snatch, parting; checked by hand and by an integrated spring."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from goodflight.physics import recovery


def test_strength_after_joints() -> None:
    assert float(recovery.held_force_n(6672.0, recovery.JOINTS["two_knots"].efficiency)) == 3336.0
    assert all(0.3 <= j.efficiency <= 0.9 and j.source for j in recovery.JOINTS.values())
    assert [key for key, j in recovery.JOINTS.items() if key != j.key] == []


def test_energy_to_break_of_nylon_and_aramid() -> None:
    """0.5 F eps per metre: 834 J at 25 %, 120 J at 3.6 % (derived; elongations from memory)."""
    assert float(recovery.energy_to_break_j(6672.0, 0.25, 1.0)) == pytest.approx(834.0, abs=0.5)
    assert float(recovery.energy_to_break_j(6672.0, 0.036, 1.0)) == pytest.approx(120.0, abs=0.5)


def test_stiffness_and_series() -> None:
    nylon = recovery.stiffness_n_m(6672.0, 0.25, 4.0)
    aramid = recovery.stiffness_n_m(6672.0, 0.036, 1.5)
    assert float(nylon) == pytest.approx(6672.0)  # 6672 N over 1 m
    assert float(aramid) == pytest.approx(6672.0 / 0.054)
    both = recovery.in_series(nylon, aramid)
    assert 6672.0 / float(both) == pytest.approx(1.0 + 0.054)  # stretches add at one force
    assert recovery.in_series(np.array([2.0, 4.0]), 4.0).tolist() == pytest.approx([4 / 3, 2.0])


def test_snatch_force_against_two_bodies_on_a_spring() -> None:
    """Independent: 0.6 and 1.0 kg flying apart at 12 m/s on 3000 N/m, both moved by the spring."""
    fore, aft, k, speed = 0.6, 1.0, 3000.0, 12.0

    def motion(_t: float, y: np.ndarray) -> list[float]:
        pull = k * max(y[0] - y[1], 0.0)
        return [y[2], y[3], -pull / fore, pull / aft]

    run = solve_ivp(motion, (0, 0.1), [0, 0, speed, 0.0], rtol=1e-10, atol=1e-12, max_step=1e-4)
    greatest = k * float(np.max(run.y[0] - run.y[1]))
    assert float(recovery.snatch_force_n(speed, fore, aft, k)) == pytest.approx(greatest, rel=1e-5)


def test_snatch_energy_is_the_energy_of_relative_motion() -> None:
    """At the breaking speed the cord holds exactly its energy to break."""
    strength, elongation, length = 2000.0, 0.2, 5.0
    energy = recovery.energy_to_break_j(strength, elongation, length)
    speed = np.sqrt(2 * energy / recovery.shared_mass_kg(0.6, 1.0))
    k = recovery.stiffness_n_m(strength, elongation, length)
    assert float(recovery.snatch_force_n(speed, 0.6, 1.0, k)) == pytest.approx(strength)


def test_parting_keeps_energy_and_momentum() -> None:
    fore, aft, energy = 0.5, 1.5, 30.0
    v = float(recovery.parting_speed_m_s(energy, fore, aft))
    v_fore, v_aft = v * aft / (fore + aft), -v * fore / (fore + aft)
    assert fore * v_fore + aft * v_aft == pytest.approx(0.0, abs=1e-12)
    assert 0.5 * fore * v_fore**2 + 0.5 * aft * v_aft**2 == pytest.approx(energy)
    assert float(recovery.parting_speed_m_s(-1.0, fore, aft)) == 0.0


def test_stretch_time_and_never() -> None:
    assert recovery.stretch_time_s(5.0, np.array([10.0, 0.0])).tolist() == [0.5, np.inf]
