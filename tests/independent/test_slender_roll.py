"""Rolling fins on a round body: the model's tables against the exact solution by conformal mapping.

The tables come from vortices laid on the fins. Here the wedge between two fins is mapped to a half
plane, where fin and body are one straight piece and the potential is a sum of sines: with
t = arccos of the place on it, the coefficients are those of r^2 / 2 (spin) and r (cant) in cosines.
Exact without a body: pi / 8 and 2 / pi for two and four rolling fins, 2 / 3 for two with a cant.
"""

import numpy as np
import pytest

from goodflight.physics.aero import roll
from goodflight.physics.aero.geometry import fin_shape

POINTS = 2**14
ANGLE = np.pi * np.arange(POINTS + 1) / POINTS
ORDER = np.arange(POINTS // 4)
RADII = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)


def cosines(values: np.ndarray) -> np.ndarray:
    return np.fft.rfft(np.concatenate((values, values[-2:0:-1]))).real[: len(ORDER)] / POINTS


def moments(count: int, body: float) -> tuple[float, float]:
    """Apparent inertia over rho s^4 and moment of a common cant over rho V^2 s^3."""
    if body == 0.0:  # z^n: the fin is the whole piece
        r = (0.5 + 0.5 * np.cos(ANGLE)) ** (1.0 / count)
    else:  # (z/a)^n + (a/z)^n: the body from -2 to 2, the fin from 2 on
        end = body**-count + body**count
        half = np.maximum((end - 2.0) / 4.0 + (end + 2.0) / 4.0 * np.cos(ANGLE), 1.0)
        r = body * (half + np.sqrt(half**2 - 1.0)) ** (1.0 / count)
    spin = cosines(0.5 * r**2)
    return tuple(count * np.pi * float(np.sum(ORDER * spin * each)) for each in (spin, cosines(r)))  # type: ignore[return-value]


def test_the_mapping_has_the_exact_ends() -> None:
    assert moments(2, 0.0) == pytest.approx((np.pi / 8.0, 2.0 / 3.0), rel=1e-4)
    assert moments(4, 0.0)[0] == pytest.approx(2.0 / np.pi, rel=1e-4)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 8])
def test_tables_of_slender_fins(count: int) -> None:
    """Within a thousandth: four digits printed, and the fine ends that either solution cuts off."""
    for body in RADII:
        damping, cant = moments(count, body)
        found = float(roll.SLENDER_DAMPING(count, body)), float(roll.SLENDER_CANT(count, body))
        assert found == pytest.approx((damping, cant), rel=1e-3), (count, body)


# ---- what the model makes of them ----
def test_flatness_is_the_share_of_an_endless_wing() -> None:
    """Half of 2 pi / b at Mach 0.6, b = 0.8; half of 4 / beta at 1.5; none and all at the ends."""
    mach = np.array([0.6, 1.5, 0.6, 0.6])
    slope = np.array([np.pi / 0.8, 2.0 / np.sqrt(1.25), 0.0, 10.0])
    assert roll.flatness(slope, mach).tolist() == pytest.approx([0.5, 0.5, 0.0, 1.0])


def test_strips_of_square_fins_keep_what_the_exact_solution_has() -> None:
    """Four fins of 0.1 m on a body of 0.1 m radius: strips of slope pi A / 2 have n pi h^2 / 2
    times the arm 0.15 m (the mean square 0.07 / 3 m2). An eighth of the rest comes back at a
    quarter of an endless wing's slope, which is ours."""
    fin = fin_shape(4, 0.0, [(0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0)], 0.1)
    damping, cant = moments(4, 0.5)
    strip = 4.0 * np.pi * 0.01 / 2.0
    left = np.array([cant * 0.2**3 / (strip * 0.15), damping * 0.2**4 / (strip * 0.07 / 3.0)])
    assert np.ravel(roll.roll_factors(fin, np.zeros(1))) == pytest.approx(left, rel=1e-3)
    mixed = np.ravel(roll.roll_factors(fin, np.full(1, 0.25)))
    assert mixed == pytest.approx(left + (1.0 - left) / 8.0, rel=1e-3)


def test_no_more_than_the_strips_is_left_of_two_low_fins_with_a_spike() -> None:
    """Nearly all of their area lies at the root, so that strips say less than is there."""
    low = [(0.0, 0.0), (0.0, 0.01), (0.45, 0.01), (0.45, 0.2), (0.46, 0.2), (0.46, 0.01)]
    fin = fin_shape(2, 0.0, [*low, (1.0, 0.01), (1.0, 0.0)], 0.8)
    assert np.ravel(roll.roll_factors(fin, np.zeros(1))).tolist() == [1.0, 1.0]
