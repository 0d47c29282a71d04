"""The estimate from several weighings, and the swing on two wires.

Weighing two bodies alone and together: Hotelling, Some improvements in weighing, 1944, and Yates
1935 treat such designs (memory); the figures here are derived by hand from the normal equations.
A uniform rod hung at its ends swings as T = 2 pi sqrt(L / (3 g)): textbook mechanics, derived.
Fieldfare's swing (0.224 kg m2, 1.766 kg, spacing 0.40 m, wires 1.20 m: 3.91 s): a hand check made
before this code.
"""

from collections.abc import Callable
from math import pi, sin, sqrt
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import quad

from goodflight.physics.estimate import generalised_least_squares, square_root
from goodflight.physics.vehicle import (
    balance_reading,
    bifilar_period_s,
    mass_reading,
    swing_reading,
)
from goodflight.physics.vehicle.weighing import ReadOff, bifilar_slopes_s_m

WIDE = 1e4  # a prior that says nothing: what it still says is 1e-8 of a reading


def linear(design: list[list[int]]) -> Callable[..., Any]:
    rows = np.asarray(design, dtype=float)
    return lambda x: (rows @ x, rows)


def test_two_bodies_alone_and_together() -> None:
    # y1 = a, y2 = b, y3 = a + b, one error s: a = (2 y1 - y2 + y3) / 3, variance 2/3 s2,
    # covariance of a and b -1/3 s2 (normal matrix [[2, 1], [1, 2]], inverse by hand)
    found = generalised_least_squares(
        np.zeros(2),
        np.eye(2) * WIDE**2,
        np.array([100.0, 60.0, 166.0]),
        4.0 * np.eye(3),
        linear([[1, 0], [0, 1], [1, 1]]),
    )
    assert found.mean == pytest.approx([(200 - 60 + 166) / 3, (120 - 100 + 166) / 3], abs=1e-3)
    assert found.covariance == pytest.approx(np.array([[8 / 3, -4 / 3], [-4 / 3, 8 / 3]]), abs=1e-3)
    # the third reading against the sum of the other two: 6 off, variance 3 s2 = 12
    assert found.apart[2] == pytest.approx(6.0, abs=1e-3)
    assert found.apart_sigma[2] == pytest.approx(sqrt(12.0), abs=1e-3)
    assert found.chi_square == pytest.approx(36.0 / 12.0, abs=1e-3)


def test_one_reading_on_a_prior_is_the_weighted_mean() -> None:
    # 100 with variance 9 and 112 with variance 3: (100/9 + 112/3) / (1/9 + 1/3) = 109, 1/(4/9)
    found = generalised_least_squares(
        np.array([100.0]), np.array([[9.0]]), np.array([112.0]), np.array([[3.0]]), linear([[1]])
    )
    assert found.mean[0] == pytest.approx(109.0, abs=1e-9)
    assert found.covariance[0, 0] == pytest.approx(2.25, abs=1e-9)


def test_an_error_common_to_two_readings_does_not_average_out() -> None:
    # two readings with variance 1 each and 3 in common: the mean has 3 + 1/2, not (3 + 1)/2
    found = generalised_least_squares(
        np.zeros(1),
        np.eye(1) * WIDE**2,
        np.array([10.0, 12.0]),
        np.eye(2) + 3.0,
        linear([[1], [1]]),
    )
    assert found.mean[0] == pytest.approx(11.0, abs=1e-6)
    assert found.covariance[0, 0] == pytest.approx(3.5, abs=1e-3)


def test_parts_share_the_difference_of_the_whole_by_their_spread() -> None:
    # variances 1 and 9, the whole exact and 10 more: shares 1 and 9, difference still spread
    found = generalised_least_squares(
        np.array([50.0, 50.0]),
        np.diag([1.0, 9.0]),
        np.array([110.0]),
        np.array([[1e-12]]),
        linear([[1, 1]]),
    )
    assert found.mean == pytest.approx([51.0, 59.0], abs=1e-9)
    assert found.covariance == pytest.approx(np.array([[0.9, -0.9], [-0.9, 0.9]]), abs=1e-9)


def test_readings_that_nothing_can_explain_are_told() -> None:
    def jumps(x: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        return np.array([np.exp(20.0 * x[0])]), np.array([[-20.0 * np.exp(20.0 * x[0])]])

    with pytest.raises(ValueError, match="far from what is possible"):
        generalised_least_squares(np.zeros(1), np.eye(1), np.array([5.0]), np.eye(1), jumps)


def test_the_root_of_a_covariance_gives_it_back() -> None:
    whole = np.array([[4.0, 1.0, 0.0], [1.0, 2.0, 0.0], [0.0, 0.0, 0.0]])
    root = square_root(whole)
    assert root @ root.T == pytest.approx(whole, abs=1e-12)
    assert root == pytest.approx(root.T, abs=1e-12)


def test_a_rod_hung_at_its_ends() -> None:
    mass, length, wires = 0.3, 0.9, 1.1
    found = bifilar_period_s(mass, mass * length**2 / 12.0, length, wires, 9.81)
    assert found == pytest.approx(2.0 * pi * sqrt(wires / (3.0 * 9.81)), rel=1e-12)
    small = bifilar_period_s(0.01, 0.01 * 0.05**2 / 12.0, 0.05, 0.08, 9.81)
    assert small == pytest.approx(2.0 * pi * sqrt(0.08 / (3.0 * 9.81)), rel=1e-12)


def test_fieldfares_swing() -> None:
    assert bifilar_period_s(1.766, 0.224, 0.40, 1.20) == pytest.approx(3.91, abs=0.005)


def exact_period(
    mass: float, inertia: float, spacing: float, wires: float, reach_rad: float
) -> float:
    """A quarter swing integrated: m g z is exchanged for turning and for rising, wires taut."""
    half, g = spacing / 2.0, 9.80665

    def rise(q: float) -> float:
        return wires - sqrt(wires**2 - (2.0 * half * sin(q / 2.0)) ** 2)

    def slowness(s: float) -> float:  # q = reach sin s takes the end's infinity away
        q = reach_rad * np.sin(s)
        lift = half**2 * np.sin(q) / sqrt(wires**2 - (2.0 * half * sin(q / 2.0)) ** 2)
        speed2 = 2.0 * mass * g * (rise(reach_rad) - rise(q)) / (inertia + mass * lift**2)
        return reach_rad * np.cos(s) / sqrt(max(speed2, 1e-300))

    return 4.0 * quad(slowness, 0.0, pi / 2.0 - 1e-6, limit=200)[0]


def test_the_swing_against_its_exact_motion() -> None:
    small = exact_period(1.766, 0.224, 0.40, 1.20, 0.02)
    assert bifilar_period_s(1.766, 0.224, 0.40, 1.20) == pytest.approx(small, rel=1e-4)
    wide = exact_period(1.766, 0.224, 0.40, 1.20, np.radians(20.0))
    assert wide / small - 1.0 == pytest.approx(0.008, abs=0.002)  # as its docstring says


def test_the_slopes_of_the_readings() -> None:
    masses, places = np.array([0.2, 0.5, 0.1]), np.array([0.1, 0.6, 0.9])
    own = np.array([0.01, 0.02, 0.0])

    def readings(
        m: NDArray[np.float64], x: NDArray[np.float64], f: float
    ) -> tuple[ReadOff, ReadOff, ReadOff]:
        return (mass_reading(m), balance_reading(m, x), swing_reading(m, x, own, f, 0.4, 1.2))

    step = 1e-6
    for kind, here in enumerate(readings(masses, places, 1.1)):
        for i in range(3):
            nudge = np.eye(3)[i] * step
            up, down = (readings(masses + s * nudge, places, 1.1)[kind].value for s in (1, -1))
            assert here.by_mass[i] == pytest.approx((up - down) / (2 * step), abs=1e-6)
            up, down = (readings(masses, places + s * nudge, 1.1)[kind].value for s in (1, -1))
            assert here.by_place[i] == pytest.approx((up - down) / (2 * step), abs=1e-6)
        up, down = (readings(masses, places, 1.1 + s * step)[kind].value for s in (1, -1))
        assert here.by_factor == pytest.approx((up - down) / (2 * step), abs=1e-6)


def test_a_swings_time_by_its_lengths() -> None:
    """T = c sqrt(L) / d (textbook, as above): a thousandth more of either length, both ways."""
    time_s = bifilar_period_s(1.766, 0.224, 0.40, 1.20)
    by_spacing, by_wires = bifilar_slopes_s_m(time_s, 0.40, 1.20)
    wide, narrow = (bifilar_period_s(1.766, 0.224, 0.40 * f, 1.20) for f in (1.001, 0.999))
    long, short = (bifilar_period_s(1.766, 0.224, 0.40, 1.20 * f) for f in (1.001, 0.999))
    assert by_spacing == pytest.approx((wide - narrow) / 0.0008, rel=1e-5)
    assert by_wires == pytest.approx((long - short) / 0.0024, rel=1e-5)
