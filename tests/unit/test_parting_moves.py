"""One step of the motion after ejection: turning as a circle does, drag once a tumble is whole."""

import math

import numpy as np
import pytest

from goodflight.physics.recovery.parting import PARTING_INPUTS
from goodflight.physics.recovery.parting_lane import (
    AIR_N0,
    AIR_N1,
    BAX,
    BAY,
    NAX,
    NAY,
    NOW,
    PAX,
    PAY,
    PER_TUMBLE,
    PLACES,
    STEP,
    TUBE_X,
    TUBE_Y,
    TURN,
    UX,
    begin_lane,
)
from goodflight.physics.recovery.parting_moves import air, drift, pull_all
from parted_bodies import BASE


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


@pytest.mark.parametrize("fore_n, aft_n", [(300.0, 0.0), (0.0, 200.0), (300.0, 200.0)])
def test_cords_move_no_momentum(fore_n: float, aft_n: float) -> None:
    """What a cord does to one end it does to the other (Newton): forces, and the sum of m a."""
    w = np.zeros(PLACES)
    begin_lane(np.array([BASE[name] for name in PARTING_INPUTS]), w, 0)
    pull_all(w, 0, fore_n, 0.6, 0.8, aft_n, 0.28, 0.96, 0.0)
    nose, booster, gear = (BASE[f"{name}_kg"] for name in ("nose", "booster", "gear"))
    assert nose * w[[NAX, NAY]] == pytest.approx([-0.6 * fore_n, -0.8 * fore_n])
    assert booster * w[[BAX, BAY]] == pytest.approx([0.28 * aft_n, 0.96 * aft_n])
    whole = nose * w[[NAX, NAY]] + booster * w[[BAX, BAY]] + gear * w[[PAX, PAY]]
    assert whole == pytest.approx([0.0, 0.0], abs=1e-10)
