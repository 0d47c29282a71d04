"""One step of the motion after ejection: turning as a circle does, drag once a tumble is whole."""

import math

import numpy as np
import pytest

from goodflight.physics.recovery.parting_lane import (
    AIR_N0,
    AIR_N1,
    NAX,
    NOW,
    PER_TUMBLE,
    PLACES,
    STEP,
    TUBE_X,
    TUBE_Y,
    TURN,
    UX,
)
from goodflight.physics.recovery.parting_moves import air, drift


@pytest.mark.parametrize("turn_rad_s", [-20.0, 5.0, 20.0])
def test_a_step_turns_the_tube_as_a_circle_does(turn_rad_s: float) -> None:
    """A rod that spins freely for 10 ms. The sine breaks off after a^3, which leaves a^5 / 120."""
    w = np.zeros(PLACES)
    w[STEP], w[TURN], w[TUBE_X], w[TUBE_Y] = 0.01, turn_rad_s, math.cos(0.3), math.sin(0.3)
    drift(w, 0)
    angle = 0.01 * turn_rad_s
    found = math.atan2(w[TUBE_Y], w[TUBE_X]) - 0.3
    left = angle**5 / 120.0 * math.cos(angle)
    assert found == pytest.approx(angle - left, abs=abs(angle) ** 7 / 300.0)
    assert math.hypot(w[TUBE_X], w[TUBE_Y]) == pytest.approx(1.0, abs=angle**6)


@pytest.mark.parametrize(("tumbles", "share"), [(0.5, 0.5), (1.0, 1.0), (1.05, 1.0), (9.0, 1.0)])
def test_a_nose_shows_its_side_once_it_has_tumbled(tumbles: float, share: float) -> None:
    """Drag over mass is (first + more x share of the tumble) v^2: 0.01 and 0.04 per m, 6 m/s."""
    w = np.zeros(PLACES)
    w[NOW], w[PER_TUMBLE], w[AIR_N0], w[AIR_N1], w[UX] = tumbles, 1.0, 0.01, 0.04, 6.0
    air(w, 0, 0.0, 0.0)
    assert w[NAX] == pytest.approx(-(0.01 + 0.04 * share) * 36.0)
