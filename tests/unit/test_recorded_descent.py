"""Rates of descent of a log, on made-up descents in closed form."""

import numpy as np
import pytest

from goodflight.physics.recorded_descent import rates
from goodflight.physics.recorded_series import Even

G = 9.80665
TIME = np.arange(0.0, 90.0, 0.05)  # after the apogee


def descent(height_m: np.ndarray) -> Even:
    return Even(TIME, height_m, height_m, height_m, None)


@pytest.mark.parametrize("late_s", [2.5, 3.0, 4.0])
def test_the_fall_before_a_charge_that_was_not_seen_is_no_rate(late_s: float) -> None:
    """Free fall g t^2 / 2 from the apogee, then 6.5 m/s: one rate, no second canopy."""
    steady = 700.0 - 0.5 * G * late_s**2 - 6.5 * (TIME - late_s)
    height = np.where(late_s > TIME, 700.0 - 0.5 * G * TIME**2, steady)
    first, second, change = rates(descent(height), 0.0, 85.0)
    assert second is None and change is None
    assert first is not None and first.value == pytest.approx(6.5, abs=0.05)


@pytest.mark.parametrize("lasts_s", [8.0, 15.0, 30.0])
def test_two_steady_rates_stay_two(lasts_s: float) -> None:
    """15 m/s, then 6 m/s; the break is looked for in 81 steps."""
    height = 900.0 - np.where(lasts_s > TIME, 15.0 * TIME, 9.0 * lasts_s + 6.0 * TIME)
    first, second, change = rates(descent(height), 0.0, 85.0)
    assert first is not None and second is not None
    assert first.value == pytest.approx(15.0, rel=0.03)
    assert second.value == pytest.approx(6.0, rel=0.03)
    assert change == pytest.approx(lasts_s, abs=83.0 / 81.0)
