"""Fin flutter against NACA TN 4197.

Source: Martin 1958, NACA TN 4197. The formula is held from memory; its constant 39.3 psi is
re-derived here from its parts. Worked value: by hand, steps shown.
"""

from math import pi, sqrt

import numpy as np
import pytest

from goodflight.physics import structure
from goodflight.physics.structure import flutter

PSI = 6894.757293168
FIELDFARE = {"root_chord_m": 0.15, "tip_chord_m": 0.06, "semi_span_m": 0.08}
SEA_LEVEL = {"pressure_pa": 101325.0, "sound_m_s": 340.294}


def test_constant_is_39_point_3_psi() -> None:
    """24 x 0.25 x 1.4 / pi x 14.696 psi = 39.29 psi; the report prints 39.3."""
    constant_psi = flutter.PRESSURE_FACTOR * 101325.0 / PSI
    assert constant_psi == pytest.approx(39.3, abs=0.05)


def test_report_form_in_its_own_units() -> None:
    """V = a sqrt(G / (39.3 A^3 / ((t/c)^3 (A+2)) (taper+1)/2 p/p0)), G in psi, a in ft/s.

    A = 1, taper = 0.5, t/c = 0.03, G = 600 000 psi, p/p0 = 0.8, a = 1100 ft/s:
    39.3/(2.7e-5 x 3) = 485 185; x 0.75 x 0.8 = 291 111; sqrt(600000/291111) = 1.43564; 1579.2 ft/s.
    """
    foot = 0.3048
    speed = structure.flutter_speed_tn4197(
        600000.0 * PSI,
        0.03 * 1.0,
        root_chord_m=1.0,
        tip_chord_m=0.5,
        semi_span_m=0.75,
        pressure_pa=0.8 * 101325.0,
        sound_m_s=1100.0 * foot,
    )
    assert float(speed) / foot == pytest.approx(1579.2, rel=5e-4)  # 39.3 is rounded from 39.29


def test_worked_by_hand_for_a_plywood_fin() -> None:
    """A = 0.0064/0.0084 = 0.761905; A^3 = 0.442285; t/c = 0.0266667, cubed 1.896296e-5.

    Shape: 0.442285/(1.896296e-5 x 2.761905) x 0.7 = 5911.33; x 2.673803 x 101325 = 1.601527e9;
    sqrt(0.62e9/1.601527e9) = 0.622200; x 340.294 = 211.73 m/s.
    """
    speed = structure.flutter_speed_tn4197(0.62e9, 0.004, **FIELDFARE, **SEA_LEVEL)
    assert float(speed) == pytest.approx(211.73, abs=0.02)


def test_the_doubled_form_is_exactly_root_two_higher() -> None:
    """The form in circulation, 1.337 = 12 eps kappa/pi with another 2 under it."""
    aspect, taper, relative = 0.0064 / 0.0084, 0.4, 0.004 / 0.15
    half = 12.0 * 0.25 * 1.4 / pi
    assert half == pytest.approx(1.337, abs=5e-4)
    doubled = 340.294 * sqrt(
        0.62e9
        / (half * aspect**3 * 101325.0 * (taper + 1.0) / (2.0 * (aspect + 2.0) * relative**3))
    )
    ours = structure.flutter_speed_tn4197(0.62e9, 0.004, **FIELDFARE, **SEA_LEVEL)
    assert doubled / float(ours) == pytest.approx(sqrt(2.0), rel=1e-12)


def test_directions_and_powers() -> None:
    base = structure.flutter_speed_tn4197(0.62e9, 0.004, **FIELDFARE, **SEA_LEVEL)
    thick = structure.flutter_speed_tn4197(0.62e9, 0.008, **FIELDFARE, **SEA_LEVEL)
    assert float(thick / base) == pytest.approx(2**1.5)
    stiff = structure.flutter_speed_tn4197(
        np.array([0.62e9, 4 * 0.62e9]), 0.004, **FIELDFARE, **SEA_LEVEL
    )
    assert stiff.tolist() == pytest.approx([float(base), 2 * float(base)])
    thin_air = structure.flutter_speed_tn4197(
        0.62e9, 0.004, **FIELDFARE, pressure_pa=101325.0 / 4, sound_m_s=340.294
    )
    assert float(thin_air / base) == pytest.approx(2.0)
    long = structure.flutter_speed_tn4197(
        0.62e9, 0.004, root_chord_m=0.15, tip_chord_m=0.06, semi_span_m=0.12, **SEA_LEVEL
    )
    assert float(long) < float(base)
