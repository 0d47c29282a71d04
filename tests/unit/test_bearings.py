"""Distance and direction on level ground, by right triangles."""

import math

import numpy as np
import pytest

from goodflight.physics.bearings import bearing_rad, distance_m, lean_rad, place_m


@pytest.mark.parametrize(
    ("east", "north", "degrees"), [(0.0, 1.0, 0.0), (3.0, 0.0, 90.0), (0.0, -2.0, 180.0),
                                   (-1.0, -1.0, 225.0), (-1.0, 1.0, 315.0)],
)  # fmt: skip
def test_bearings_run_clockwise_from_north(east: float, north: float, degrees: float) -> None:
    assert math.degrees(float(bearing_rad(east, north))) == pytest.approx(degrees)


def test_a_place_told_by_distance_and_bearing_is_found_again() -> None:
    """3-4-5 triangle."""
    east, north = np.array([3.0, -3.0]), np.array([4.0, -4.0])
    away = distance_m(east, north)
    assert away == pytest.approx([5.0, 5.0])
    back = place_m(away, bearing_rad(east, north))
    assert np.array(back) == pytest.approx(np.array([east, north]))


def test_two_leans_at_right_angles_are_one() -> None:
    """3-4-5 triangle; the lean across lies 53.13 deg beside the one along."""
    tilt, beside = lean_rad(0.03, 0.04)
    assert float(tilt) == pytest.approx(0.05)
    assert math.degrees(float(beside)) == pytest.approx(53.1301, abs=1e-3)
