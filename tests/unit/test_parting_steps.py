"""The steps of the motion after ejection: how a canopy grows, what is noted, what is conserved.

Expected numbers are worked here, or what mechanics says of any motion: similarity and energy.
"""

import math

import numpy as np
import pytest

from goodflight.physics.recovery import parting_lane as at
from goodflight.physics.recovery.parting import (
    INPUT_INDEX,
    OUTCOME_INDEX,
    PARTING_INPUTS,
    PARTING_OUTCOMES,
    part_bodies,
)
from goodflight.physics.recovery.parting_slide import FINE, TOUCH, slide
from goodflight.physics.recovery.parting_steps import (
    HANGS_S,
    _canopy,
    _next,
    _step,
    _told,
    _watch,
)
from parted_bodies import BASE, drawn_sections

INF = math.inf


def lane() -> np.ndarray:
    """A flight 1 s after ejection, in a step of 10 ms; what has not happened yet is never."""
    w = np.zeros(at.PLACES)
    w[at.NOW], w[at.STEP], w[at.AXIS_X], w[at.SWING] = 1.0, 0.01, 1.0, 0.05
    w[at.FILLING] = w[at.OPENED] = w[at.STRAIGHT] = w[at.GAP] = INF
    w[at.LINES], w[at.FILL_M], w[at.POWER], w[at.PER_FILL] = 1.0, 2.0, 1.0, 1.0
    return w


@pytest.mark.parametrize("fore, aft, way_m", [(0.0, 0.0, 0.0), (1.0, 0.0, 0.1), (0.0, 1.0, 0.1)])
def test_lines_stretch_once_a_cord_has_pulled(fore: float, aft: float, way_m: float) -> None:
    """At 10 m/s a step's air goes 0.1 m past a pack that a cord holds back; before, none."""
    w = lane()
    w[at.FORE_ON], w[at.AFT_ON] = fore, aft
    assert _canopy(w, 0, 6.0, 8.0) == 0.0
    assert w[at.STREAMED] == pytest.approx(way_m, abs=1e-12)
    assert w[at.FILLING] == INF and w[at.STRETCH] == pytest.approx(10.0)


@pytest.mark.parametrize("speed_m_s, fills_s", [(0.5, 2.0), (1.05, 2.0 / 1.05), (5.0, 0.4)])
def test_a_canopy_fills_from_when_its_lines_were_stretched(
    speed_m_s: float, fills_s: float
) -> None:
    """5 mm of air past stretched lines, 2 m fill it; no slower than at 1 m/s."""
    w = lane()
    w[at.FORE_ON], w[at.STREAMED] = 1.0, 1.005 - 0.01 * speed_m_s
    ago_s = 0.005 / max(speed_m_s, 1.0)
    assert _canopy(w, 0, speed_m_s, 0.0) == pytest.approx(ago_s / fills_s)
    assert w[at.FILLING] == pytest.approx(1.0 - ago_s)
    assert 1.0 / w[at.PER_FILL] == pytest.approx(fills_s)
    assert w[at.OPENED] == INF


@pytest.mark.parametrize("power", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("part", [0.05, 0.5, 1.05])
def test_a_canopy_grows_as_a_power_of_its_time_until_it_is_full(part: float, power: float) -> None:
    """(t / tf)^j with tf = 0.5 s; full at tf and never wider."""
    w = lane()
    w[at.POWER], w[at.PER_FILL], w[at.FILLING] = power, 2.0, 1.0 - 0.5 * part
    assert _canopy(w, 0, 3.0, 4.0) == pytest.approx(min(part, 1.0) ** power)
    assert w[at.OPENED] == (INF if part < 1.0 else pytest.approx(1.5 - 0.5 * part))
    assert w[at.STRETCH] == 0.0  # noted until it begins to fill


@pytest.mark.parametrize(
    "since_s, gap_m", [(-0.05, INF), (0.004, 0.308), (0.05, 0.3)], ids=["before", "first", "later"]
)
def test_a_gap_counts_from_when_the_pack_has_settled(since_s: float, gap_m: float) -> None:
    """0.1 s after it is out. The first time as it was then: at -2 m/s 4 ms before, 8 mm more."""
    w = lane()
    w[at.CLEARED] = 1.0 - 0.1 - since_s
    w[at.PX], w[at.BX], w[at.MOUTH], w[at.PACK], w[at.QX] = 0.9, 0.2, 0.4, 0.25, -2.0
    _watch(w, 0, 0.0, 0.0, 0.0, True)
    assert w[at.GAP] == pytest.approx(gap_m)
    assert w[at.REACH] == pytest.approx(0.55)


def test_the_gap_counts_when_both_cords_have_been_tight_however_soon_and_no_more() -> None:
    w = lane()
    w[at.CLEARED], w[at.PX], w[at.MOUTH] = 0.98, 0.7, 0.4
    _watch(w, 0, 5.0, 0.0, 0.0, True)
    assert (w[at.FORE_ON], w[at.AFT_ON], w[at.STRAIGHT], w[at.GAP]) == (1.0, 0.0, INF, INF)
    w[at.NOW] = 1.01
    _watch(w, 0, 0.0, 5.0, 0.0, True)
    assert (w[at.AFT_ON], w[at.STRAIGHT]) == (1.0, 1.01)
    assert w[at.GAP] == pytest.approx(0.3)
    w[at.NOW], w[at.PX] = 1.5, 0.5
    _watch(w, 0, 0.0, 0.0, 0.0, True)
    assert w[at.GAP] == pytest.approx(0.3) and w[at.STRAIGHT] == 1.01


def test_the_greatest_of_each_pull_is_kept_the_snatch_until_the_canopy_fills() -> None:
    w = lane()
    for fore, aft, bears, before in (
        (5.0, 7.0, 2.0, True),
        (6.0, 3.0, 4.0, True),
        (9.0, 0.0, 1.0, False),
    ):
        _watch(w, 0, fore, aft, bears, before)
    kept = w[[at.FORE, at.MOST, at.SNATCH, at.EDGE]]
    assert kept.tolist() == [9.0, 9.0, 7.0, 4.0]


def test_it_is_over_once_the_tube_has_hung_for_a_swing() -> None:
    """Tight for 50 ms on end after the canopy is open, five steps; a slack step begins anew."""
    w = lane()
    w[at.OPENED], w[at.STEP] = 0.9, 0.0125
    over = []
    for pull in (8.0, 8.0, 0.0, 8.0, 8.0, 8.0, 8.0):
        _watch(w, 0, 0.0, pull, 0.0, False)
        over.append(w[at.OVER])
    assert over == [0.0] * 6 + [1.0]
    w = lane()  # not open yet, however long it hangs
    w[at.STEP] = 0.5
    _watch(w, 0, 0.0, 8.0, 0.0, False)
    assert w[at.OVER] == 0.0


def test_a_pull_counts_however_light() -> None:
    """A twentieth of a newton has made both cords tight, and the tube hangs on it."""
    w = lane()
    w[at.OPENED], w[at.STEP] = 0.9, 0.0625
    _watch(w, 0, 0.05, 0.05, 0.0, False)
    assert (w[at.FORE_ON], w[at.AFT_ON], w[at.STRAIGHT], w[at.OVER]) == (1.0, 1.0, 1.0, 1.0)


@pytest.mark.parametrize(
    "fore_m, aft_m, slow_s", [(0.05, -1.0, 0.002), (-1.0, 0.05, 0.001), (0.05, 0.05, 0.0008)]
)
def test_a_step_goes_by_the_swing_of_the_cords_that_are_tight(
    fore_m: float, aft_m: float, slow_s: float
) -> None:
    """Stretched by 5 cm: one cord by its own, both by the quicker one of both together."""
    w = lane()
    w[[at.SLOW1, at.SLOW2, at.SLOW12]] = 0.002, 0.001, 0.0008
    assert _next(w, 0, fore_m, 1.0, aft_m, 1.0) == pytest.approx(FINE * slow_s)


def test_a_packed_canopy_in_the_open_is_slowed_by_its_own_drag() -> None:
    """1 / v = 1 / v0 + 1/2 rho Cd S t / m (textbook) of 0.32 kg and 0.006 m2 at 20 m/s; at this
    little a step's square is 1e-5."""
    figures = STILL | {"density_kg_m3": 1.2, "speed_m_s": 20.0, "parting_m_s": 0.0,
                       "turn_rad_s": 0.0, "fore_cord_m": 1e4, "aft_cord_m": 1e4,
                       "axis_rad": 0.0}  # fmt: skip
    w = np.zeros(at.PLACES)
    at.begin_lane(np.array([figures[name] for name in PARTING_INPUTS]), w, 0)
    while w[at.NOW] < 0.3:
        _step(w)
    slowed = 1.0 / 20.0 + 0.5 * 1.2 * 0.006 / 0.32 * w[at.NOW]
    assert 1.0 / w[at.PVX] == pytest.approx(slowed, rel=1e-4)


@pytest.mark.parametrize("opened_s, ends_s", [(2.0, 2.0 + HANGS_S), (4.5, 5.0), (INF, 5.0)])
def test_it_is_followed_a_while_past_the_open_canopy_five_seconds_at_the_most(
    opened_s: float, ends_s: float
) -> None:
    w = lane()
    w[at.OPENED], w[at.NOW] = opened_s, ends_s - 0.001
    _watch(w, 0, 0.0, 0.0, 0.0, False)
    assert w[at.OVER] == 0.0
    w[at.NOW] = ends_s
    _watch(w, 0, 0.0, 0.0, 0.0, False)
    assert w[at.OVER] == 1.0


@pytest.mark.parametrize("gap_m", [0.7, INF])
def test_each_outcome_is_told_under_its_name(gap_m: float) -> None:
    """A gap that was never looked at is not known; the others are what they have come to."""
    told_m = math.nan if gap_m == INF else gap_m
    wanted = {
        "cleared_s": 0.1, "reach_m": 0.2, "straight_s": 0.3, "min_gap_m": told_m, "snatch_n": 5.0,
        "max_n": 6.0, "edge_n": 4.0, "stretch_m_s": 8.0, "fore_n": 3.0, "open_s": 0.9,
    }  # fmt: skip
    w, out = lane(), np.zeros(len(PARTING_OUTCOMES))
    w[[at.CLEARED, at.REACH, at.STRAIGHT, at.GAP, at.SNATCH]] = 0.1, 0.2, 0.3, gap_m, 5.0
    w[[at.MOST, at.EDGE, at.STRETCH, at.FORE, at.OPENED]] = 6.0, 4.0, 8.0, 3.0, 0.9
    _told(w, 0, out)
    assert dict(zip(PARTING_OUTCOMES, out)) == pytest.approx(wanted, nan_ok=True)


def test_a_motion_of_a_thousandth_of_every_mass_and_force_is_the_same_motion() -> None:
    """Mechanics knows no scale of mass: times, places and speeds to the last bit, forces by it."""
    scale = 2.0**-10
    rows = np.array([[each[name] for name in PARTING_INPUTS] for each in drawn_sections(20)])
    small = rows.copy()
    for name in PARTING_INPUTS:
        if name.endswith(("_kg", "_kg_m2", "friction_n", "stiffness_n_m", "kg_m3")):
            small[:, INPUT_INDEX[name]] *= scale
    wanted, found = part_bodies(rows), part_bodies(small)
    for name, column in OUTCOME_INDEX.items():
        by = scale if name.endswith("_n") else 1.0
        assert np.array_equal(found[:, column], by * wanted[:, column], equal_nan=True), name


STILL = BASE | {"density_kg_m3": 0.0, "gravity_m_s2": 0.0, "speed_m_s": 0.0, "line_length_m": 1e6,
                "cord_damping": 0.0, "pack_friction_n": 0.0}  # fmt: skip


def stretches_m(w: np.ndarray) -> tuple[float, float]:
    """How much longer than at rest the cord to the nose and the one to the mouth are."""
    mouth_x = w[at.BX] + w[at.MOUTH] * w[at.TUBE_X]
    mouth_y = w[at.BY] + w[at.MOUTH] * w[at.TUBE_Y]
    fore = math.hypot(w[at.NX] - w[at.PX], w[at.NY] - w[at.PY]) - w[at.REST1]
    return fore, math.hypot(w[at.PX] - mouth_x, w[at.PY] - mouth_y) - w[at.REST2]


def energy_j(w: np.ndarray, f: dict[str, float]) -> float:
    """1/2 m v^2 of the three, 1/2 I w^2 of the booster, 1/2 k x^2 of each tight cord."""
    fore, aft = stretches_m(w)
    energy = f["booster_inertia_kg_m2"] * w[at.TURN] ** 2
    energy += f["nose_kg"] * (w[at.NVX] ** 2 + w[at.NVY] ** 2)
    energy += f["booster_kg"] * (w[at.BVX] ** 2 + w[at.BVY] ** 2)
    energy += f["gear_kg"] * (w[at.PVX] ** 2 + w[at.PVY] ** 2)
    energy += f["fore_stiffness_n_m"] * max(fore, 0.0) ** 2
    return float(0.5 * (energy + f["aft_stiffness_n_m"] * max(aft, 0.0) ** 2))


def grows_by(step: float) -> float:
    """Most that one release may add to the energy of a cord, as a share; derived.

    In units of omega, a step h that begins at the stretch r and closing speed 1 ends slack. The
    straight line of its pull gives it the speed 1 + r^2 / (2 + h r); kick-drift-kick keeps
    v^2 + r^2 (1 - h^2 / 4). Nearly r^2 (h - r)^2 / 4, at most h^4 / 64, where it grows at all.
    """
    r = np.linspace(0.0, step / (1.0 - step**2 / 2.0), 1001)
    ends = 1.0 + r**2 / (2.0 + step * r)
    return float((ends**2 / (1.0 + r**2 * (1.0 - step**2 / 4.0))).max() - 1.0)


def straight(**changes: float) -> tuple[np.ndarray, dict[str, float]]:
    """One cord and two bodies in line, without air, gravity, damping and friction; out of it."""
    line = {"axis_rad": 0.0, "turn_rad_s": 0.0, "booster_inertia_kg_m2": 1e9}
    figures = STILL | line | changes
    w = np.zeros(at.PLACES)
    assert slide(np.array([figures[name] for name in PARTING_INPUTS]), w, 0)
    return w, figures


TWO = {
    "pack and booster": {"fore_cord_m": 1e4},
    "nose and pack": {"aft_cord_m": 1e4, "gear_rides": 0.0, "fore_cord_m": 0.6},
    "a quick one": {"fore_cord_m": 1e4, "parting_m_s": 30.0},
    "a soft one": {"fore_cord_m": 1e4, "aft_stiffness_n_m": 300.0},
}


@pytest.mark.parametrize("changes", TWO.values(), ids=TWO.keys())
def test_no_jerk_of_two_masses_adds_energy(changes: dict[str, float]) -> None:
    """Five seconds of jerks, each as a spring's: no more is gained than the step's order leaves,
    and as it catches no more lost than (TOUCH FINE)^2 / 4, the same derivation with v = 1."""
    w, figures = straight(**changes)
    slack, jerks, tight = energy_j(w, figures), 0, False
    most, least = grows_by(FINE), (TOUCH * FINE) ** 2 / 4.0
    assert most == pytest.approx(FINE**4 / 64.0, rel=0.05)
    while w[at.NOW] < 5.0:
        _step(w)
        was, tight = tight, max(stretches_m(w)) > 0.0
        if was and not tight:
            jerks, before, slack = jerks + 1, slack, energy_j(w, figures)
            assert -least - 1e-9 < slack / before - 1.0 < most + 1e-9
    assert jerks > 1


@pytest.mark.parametrize("damping", [0.05, 0.1, 0.2, 0.3])
@pytest.mark.parametrize("apart_m_s", [10.0, 12.0])
@pytest.mark.parametrize("fore", [True, False])
def test_a_damped_cord_throws_back_what_its_damping_leaves(
    damping: float, apart_m_s: float, fore: bool
) -> None:
    """k x + c v from x = 0 at v lets go at w t = pi - 2 asin z, over d = sqrt(1 - z2): there the
    speed is -v exp(-z w t / d) (derived from the solution). Second order: (h w)^3 is left."""
    free = "aft_cord_m" if fore else "fore_cord_m"
    w, _ = straight(**{free: 1e4}, cord_damping=damping, parting_m_s=apart_m_s, gear_rides=1.0)
    ahead, behind = (at.NVX, at.PVX) if fore else (at.PVX, at.BVX)
    if fore:  # the two ride together: the nose is given what they part with
        w[at.NVX] += apart_m_s
    begins, tight, was = w[ahead] - w[behind], False, False
    while tight or not was:
        was = tight
        _step(w)
        tight = max(stretches_m(w)) > 0.0
    phase = (math.pi - 2.0 * math.asin(damping)) / math.sqrt(1.0 - damping**2)
    thrown = -(w[ahead] - w[behind]) / begins
    assert thrown == pytest.approx(math.exp(-damping * phase), rel=FINE**3)


@pytest.mark.parametrize("damping", [0.0, 0.1])
@pytest.mark.parametrize("rides", [0.0, 1.0])
def test_charge_cords_and_tube_push_both_ways_alike(rides: float, damping: float) -> None:
    """Momentum and angular momentum of nose, booster and gear together stay as they were before
    the charge, to rounding; only gravity adds to the first what it does to any body, g t."""
    figures = BASE | {"density_kg_m3": 0.0, "gear_rides": rides, "cord_damping": damping,
                      "line_length_m": 1e6, "turn_rad_s": 3.0, "fore_cord_m": 0.6}  # fmt: skip
    w = np.zeros(at.PLACES)
    assert slide(np.array([figures[name] for name in PARTING_INPUTS]), w, 0)
    masses = np.array([figures[f"{name}_kg"] for name in ("nose", "booster", "gear")])
    pull = 9.81 * np.array([-math.sin(0.5), -math.cos(0.5)])
    turning = []
    for _ in range(1500):
        places = w[[at.NX, at.NY, at.BX, at.BY, at.PX, at.PY]].reshape(3, 2)
        speeds = w[[at.NVX, at.NVY, at.BVX, at.BVY, at.PVX, at.PVY]].reshape(3, 2)
        middle = masses @ speeds / masses.sum()
        assert middle == pytest.approx(np.array([10.0, 0.0]) + pull * w[at.NOW], abs=1e-10)
        off, by = places - masses @ places / masses.sum(), speeds - middle
        swings = masses @ (off[:, 0] * by[:, 1] - off[:, 1] * by[:, 0])
        turning.append(swings + figures["booster_inertia_kg_m2"] * w[at.TURN])
        _step(w)
    assert w[at.FORE_ON] == w[at.AFT_ON] == 1.0
    assert turning == pytest.approx([turning[0]] * len(turning), abs=1e-9)


@pytest.mark.parametrize("changes", [{}, {"gear_rides": 0.0}, {"turn_rad_s": 5.0}])
def test_a_cord_takes_no_energy_as_it_becomes_tight_and_gives_it_back(
    changes: dict[str, float],
) -> None:
    """No air, no damping. What a turning tube leaves of the cord's line in a step is 1e-4."""
    figures = STILL | changes
    w = np.zeros(at.PLACES)
    assert slide(np.array([figures[name] for name in PARTING_INPUTS]), w, 0)
    start, before, tight, was = energy_j(w, figures), 0.0, False, False
    while tight or not was:
        before, was = energy_j(w, figures), tight
        _step(w)
        tight = max(stretches_m(w)) > 0.0
        assert w[at.OVER] == 0.0
    assert before == pytest.approx(start, rel=1e-4)
    assert energy_j(w, figures) == pytest.approx(start, rel=1e-4)
    assert (w[at.FORE_NOW], w[at.AFT_NOW]) == (0.0, 0.0)
