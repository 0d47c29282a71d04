"""Rolling fins on a round body: the model's tables against the exact solution by conformal mapping.

The tables come from vortices laid on the fins. Here the wedge between two fins is mapped to a half
plane, where fin and body are one straight piece and the potential is a sum of sines: with
t = arccos of the place on it, the coefficients are those of r^2 / 2 (spin) and r (cant) in cosines.
Exact without a body: pi / 8 and 2 / pi for two and four rolling fins, 2 / 3 for two with a cant.
"""

import numpy as np
import pytest

from goodflight.physics.aero import roll

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
