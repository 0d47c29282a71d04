"""What a flight after its ejection starts with, and the forces on it, each worked out here."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from goodflight.physics.recovery import parting_lane as at
from goodflight.physics.recovery.parting import PARTING_INPUTS
from parted_bodies import BASE


def begun(**changes: float) -> np.ndarray:
    """A lane at its start."""
    w = np.full(at.PLACES, 7.0)  # of who flew there before: nothing stays
    figures = BASE | changes
    at.begin_lane(np.array([figures[name] for name in PARTING_INPUTS]), w, 0)
    return w


def test_nothing_has_happened_at_the_start() -> None:
    w = begun()
    for place in (at.NOW, at.STEP, at.NAX, at.BAY, at.PAX, at.TURNING, at.FORE_ON, at.AFT_ON,
                  at.FORE_NOW, at.AFT_NOW, at.STREAMED, at.HANGING, at.REACH, at.SNATCH, at.MOST,
                  at.EDGE, at.STRETCH, at.FORE, at.OVER):  # fmt: skip
        assert w[place] == 0.0
    for place in (at.CLEARED, at.FILLING, at.OPENED, at.STRAIGHT, at.GAP):
        assert w[place] == math.inf
    assert w[at.PER_TUMBLE] == pytest.approx(1.0 / 0.4)


ROUND = {"nose_kg": 0.5, "gear_kg": 0.25, "booster_kg": 1.0, "fore_stiffness_n_m": 6000.0,
         "aft_stiffness_n_m": 5000.0, "cord_damping": 0.25, "booster_inertia_kg_m2": 0.08,
         "mouth_m": 0.4, "pack_length_m": 0.2}  # fmt: skip


def test_a_cord_swings_what_it_pulls_at() -> None:
    """omega^2 = k (1/m1 + 1/m2 + l^2/I), damping 2 zeta sqrt(k mu) of the two bodies (textbook).

    1/m: 2 + 4 at the nose; 1 + 4 + 0.16/0.08 at the mouth; 2 + 4 + 0.04/0.08 in the tube.
    """
    w = begun(**ROUND | {"cord_damping": 0.0})
    places = (at.SLOW1, at.SLOW2, at.SLOW12, at.SLOW_IN)
    squares = (6000.0 * 6.0, 5000.0 * 7.0, 6000.0 * 6.0 + 5000.0 * 7.0, 6000.0 * 6.5)
    for place, square in zip(places, squares):
        assert w[place] == pytest.approx(1.0 / math.sqrt(square))
    w = begun(**ROUND)
    assert w[at.C1] == pytest.approx(0.5 * math.sqrt(6000.0 / 6.0))
    assert w[at.C2] == pytest.approx(0.5 * math.sqrt(5000.0 / 5.0))
    w = begun(**ROUND | {"cord_damping": 2.0})  # c/m = 4 sqrt(k/m) is quicker than omega
    assert w[at.SLOW1] == pytest.approx(1.0 / (4.0 * math.sqrt(6000.0 * 6.0)))
    assert w[at.SLOW2] == pytest.approx(1.0 / (4.0 * math.sqrt(5000.0 / 5.0) * 7.0))
    assert w[at.SWING] == pytest.approx(2.0 * math.pi / math.sqrt(5000.0))  # of 1 kg on 5000 N/m


@pytest.mark.parametrize("cord_m, free_m", [(3.0, 2.8), (0.2, 0.01), (0.1, 0.005)])
def test_the_cord_that_lies_beside_the_pack_is_not_free(cord_m: float, free_m: float) -> None:
    """The pack's 0.2 m, and a twentieth is left where it is as long as the cord."""
    assert begun(**ROUND, aft_cord_m=cord_m)[at.REST2] == pytest.approx(free_m)


@pytest.mark.parametrize("rides", [0.0, 1.0])
def test_an_ejection_moves_neither_the_middle_nor_the_turning_of_the_whole(rides: float) -> None:
    """Momentum and, of booster and pack about their middle, angular momentum are those before."""
    w = begun(
        **ROUND, gear_rides=rides, turn_rad_s=3.0, axis_rad=0.3, parting_m_s=12.0, speed_m_s=9.0
    )
    n, b, p = (w[[x, y]] for x, y in ((at.NVX, at.NVY), (at.BVX, at.BVY), (at.PVX, at.PVY)))
    tube = np.array([math.cos(0.3), math.sin(0.3)])
    assert 0.5 * n + 1.0 * b + 0.25 * p == pytest.approx(1.75 * np.array([9.0, 0.0]))
    assert (n - b) @ tube == pytest.approx(12.0)
    assert (p - b) @ tube == pytest.approx(12.0 * rides)
    across = np.array([-tube[1], tube[0]])
    assert (p - b) @ across == pytest.approx(3.0 * 0.2)  # its rear is 0.4 - 0.2 m ahead of the CG
    assert 1.0 * b @ across + 0.25 * p @ across == pytest.approx(1.25 * 9.0 * across[0])
    assert w[[at.BX, at.BY]].tolist() == [0.0, 0.0]
    assert w[[at.NX, at.NY]] == pytest.approx(0.4 * tube)
    assert w[[at.PX, at.PY]] == pytest.approx(0.2 * tube)


def turning(figures: dict[str, float], angle: float, turn: float, speed: float) -> float:
    """Angular acceleration by the air of a booster whose tube points so, in a flow along x."""
    w = begun(**figures)
    w[at.TUBE_X], w[at.TUBE_Y], w[at.SPIN] = math.cos(angle), math.sin(angle), turn
    w[at.OX] = speed
    return float(at.air_turn(w, 0))


def test_cross_flow_on_a_tube_that_turns_slowly_is_the_integral_along_it() -> None:
    """-1/2 rho Cd S / L times the integral of x (v + w x)^2 over the tube: a cubic, which three
    stations of Gauss take without error (textbook)."""
    found = turning({"fins_side_m2": 0.0, "fins_lift_m2": 0.0}, -0.5 * math.pi, 5.0, 10.0)
    whole, _ = quad(lambda x: x * (10.0 + 5.0 * x) ** 2, 0.4 - 0.76, 0.4)
    assert found == pytest.approx(-0.5 * 1.2 * 0.045 / 0.76 * whole / 0.08)


@pytest.mark.parametrize(
    "left, angle",
    [("tube_side_m2", 0.5 * math.pi), ("fins_side_m2", 0.5 * math.pi), ("fins_lift_m2", 0.0)],
)
def test_a_speed_uses_up_the_turning_as_fast_as_the_steps_think(left: str, angle: float) -> None:
    """Slope of the air's turning by the spin, by differences, of each part where it is greatest."""
    parts = dict.fromkeys(("tube_side_m2", "fins_side_m2", "fins_lift_m2"), 0.0)
    figures = parts | {left: 0.05}
    slope = (turning(figures, angle, 1e-4, 20.0) - turning(figures, angle, -1e-4, 20.0)) / 2e-4
    assert begun(**figures)[at.SLOWS] * 20.0 == pytest.approx(-slope, rel=1e-6)
    assert begun(fins_behind_m=0.2)[at.FARTHEST] == pytest.approx(
        0.4 - 0.38 * (1.0 - math.sqrt(0.6))
    )
    assert begun(fins_behind_m=0.5)[at.FARTHEST] == 0.5


@pytest.mark.parametrize("speed_m_s", [0.02, 2.0])
def test_a_slack_cord_is_tight_when_its_ends_have_gone_the_rest(speed_m_s: float) -> None:
    """|d + v t| = L: from (1, 0) across, a cord of sqrt 2 m is tight after a way of 1 m."""
    *_, tight_s, speed = at.cord_pull(1.0, 0.0, 0.0, speed_m_s, math.sqrt(2.0), 100.0, 1.0)
    assert tight_s == pytest.approx(1.0 / speed_m_s, rel=1e-5)
    assert at.before_s(0.004, 0.0, 0.002, speed) == pytest.approx(0.004)
    assert at.before_s(tight_s, 0.0, 0.002, speed) == pytest.approx(at.SLACK_STEP_S)


@pytest.mark.parametrize(
    ("stretch_m", "grows_m_s", "pull_n"),
    [(0.02, 0.0, 2.0), (0.0004, 0.0, 0.04), (0.02, 1.5, 5.0), (0.02, -1.5, 0.0), (-0.02, 9.0, 0.0)],
)
def test_a_cord_pulls_as_it_is_stretched_and_never_pushes(
    stretch_m: float, grows_m_s: float, pull_n: float
) -> None:
    """k x + c v with 100 N/m and 2 N s/m, along the cord: 3-4-5."""
    length = 1.0 + stretch_m
    found = at.cord_pull(
        0.6 * length, 0.8 * length, 0.6 * grows_m_s, 0.8 * grows_m_s, 1.0, 100.0, 2.0
    )
    assert found[:5] == pytest.approx((pull_n, 0.6, 0.8, stretch_m, grows_m_s))


@pytest.mark.parametrize("damped", [0.0, 0.25])
@pytest.mark.parametrize("grows_m_s", [1.0, 4.0])
def test_a_cord_that_became_tight_in_a_step_has_pulled_since(
    damped: float, grows_m_s: float
) -> None:
    """Its impulse is the integral of k g t + c g; the half kick of 10 ms gives the pull for 5."""
    w = np.zeros(at.PLACES)
    w[at.STEP] = 0.01
    stretch = 0.005 * grows_m_s  # tight for the last half of the step
    pull = 100.0 * stretch + damped * grows_m_s
    impulse = 100.0 * grows_m_s * 0.005**2 / 2.0 + damped * grows_m_s * 0.005
    missed = at.missed_pull(w, 0, pull, 100.0, stretch, grows_m_s)
    assert (pull - missed) * 0.005 == pytest.approx(impulse)
    assert at.missed_pull(w, 0, 0.0, 100.0, -0.01, grows_m_s) == 0.0


@pytest.mark.parametrize("ends_n", [-1.0, -20.0, 0.0, 30.0])
def test_a_cord_that_lets_go_in_a_step_has_pulled_until_then(ends_n: float) -> None:
    """From 20 N in a straight line to what it ends at: by integration over 10 ms."""
    whole, _ = quad(lambda t: max(20.0 + (ends_n - 20.0) * t / 0.01, 0.0), 0.0, 0.01, limit=200)
    halves = 20.0 + max(ends_n, 0.0) - at.late_pull(20.0, ends_n)
    assert 0.005 * halves == pytest.approx(whole, rel=1e-6)
    assert at.late_pull(0.0, ends_n) == 0.0


def test_a_held_cord_is_damped_by_the_speed_it_leaves() -> None:
    """2 kg at both ends come to 1 kg: v = 3 - h/2 (F - 40), F = 100 x 0.5 + 4 v, solved here."""
    w = np.zeros(at.PLACES)
    w[at.STEP] = 0.1
    pull = at.held_pull(w, 0, 40.0, 100.0 * 0.5 + 4.0 * 3.0, 4.0, 1.0 / 2.0 + 1.0 / 2.0)
    assert pull == pytest.approx((62.0 + 0.2 * 40.0) / 1.2)
    assert pull == pytest.approx(50.0 + 4.0 * (3.0 - 0.05 * (pull - 40.0)))


def test_an_edge_knows_a_cosine_that_rounding_has_left_beyond_one() -> None:
    """In line nothing bears; bent right back exp(-mu pi) and the pull itself."""
    assert at.edge_share(1.0 + 1e-12, 0.3) == 0.0
    assert at.edge_share(-1.0 - 1e-12, 0.3) == pytest.approx(
        math.exp(-0.3 * math.pi) + 1.0, abs=3e-7
    )
