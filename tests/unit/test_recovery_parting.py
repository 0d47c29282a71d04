"""After ejection: nose, canopy and booster on a cord, against closed forms and symmetries.

Expected numbers are closed forms (energy balance of a spring, free fall), worked here.
"""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from goodflight.physics.recovery.canopy_kinds import CANOPY_KINDS
from goodflight.physics.recovery.cord import shared_mass_kg
from goodflight.physics.recovery.parting import (
    INPUT_INDEX,
    OUTCOME_INDEX,
    PARTING_INPUTS,
    PARTING_OUTCOMES,
    part_bodies,
)
from goodflight.physics.recovery.parting_lane import (
    OX,
    PLACES,
    SPIN,
    TUBE_X,
    TUBE_Y,
    air_turn,
    begin_lane,
    cord_pull,
    edge_share,
)
from goodflight.physics.recovery.parting_steps import GROWTHS
from parted_bodies import BASE, drawn_sections, part

BARE = {"density_kg_m3": 0.0, "gravity_m_s2": 0.0, "pack_friction_n": 0.0, "cord_damping": 0.0,
        "axis_rad": 0.0, "speed_m_s": 0.0, "line_length_m": 1e6}  # fmt: skip


def test_snatch_without_air_is_the_closed_form() -> None:
    """Pack and booster alone on the aft cord: F = v sqrt(mu k); 2 % as the steps allow."""
    found = part(**BARE, fore_cord_m=1e4)
    wanted = 12.0 * math.sqrt(float(shared_mass_kg(0.32, 1.0)) * 8000.0)
    assert found["max_n"] == pytest.approx(wanted, rel=0.02)


def test_snatch_of_the_nose_is_the_closed_form_when_the_pack_lies_still_and_is_heavy() -> None:
    """A pack as heavy as a mountain: F = v sqrt(m k) of the nose alone."""
    heavy = 1e5
    found = part(**BARE, gear_rides=0.0, gear_kg=heavy, aft_cord_m=1e4)
    wanted = 12.0 * math.sqrt(0.46 * 14000.0)
    assert found["max_n"] == pytest.approx(wanted, rel=0.02)


def test_straight_when_the_slack_is_used_up() -> None:
    """Nose leaves the pack at rest, then pulls: first tight at L/v, both after it has come on."""
    found = part(**BARE, fore_cord_m=1e4)
    assert found["straight_s"] == math.inf
    assert found["reach_m"] > 3.7


def test_pack_stops_where_friction_has_eaten_its_speed() -> None:
    """s = m v^2 / 2 F beside a very heavy booster: 0.32 x 2^2 / (2 x 6) = 0.107 m."""
    found = part(
        **(BARE | {"pack_friction_n": 6.0}), booster_kg=1e6, parting_m_s=2.0, fore_cord_m=1e4
    )
    assert found["reach_m"] == pytest.approx(0.32 * 4.0 / 12.0, rel=0.06)
    assert found["cleared_s"] == math.inf


def test_pack_free_of_friction_leaves_at_once() -> None:
    found = part(**BARE)
    assert found["cleared_s"] == pytest.approx(0.36 / 12.0, abs=0.003)


def test_mirror_image_gives_the_same_loads() -> None:
    level = {"gravity_m_s2": 0.0}
    up, down = (
        part(axis_rad=0.3, turn_rad_s=2.0, **level),
        part(axis_rad=-0.3, turn_rad_s=-2.0, **level),
    )
    for name in PARTING_OUTCOMES:
        assert up[name] == pytest.approx(down[name], rel=1e-6)


def test_a_stiffer_cord_snatches_harder_and_damping_softens() -> None:
    plain = part(cord_damping=0.0)["snatch_n"]
    assert part(cord_damping=0.0, aft_stiffness_n_m=32000.0)["snatch_n"] > plain
    assert part(cord_damping=0.3)["max_n"] < plain


def test_a_heavy_slick_booster_overtakes_a_draggy_pack_at_speed() -> None:
    slow = part(speed_m_s=10.0, parting_m_s=3.0, pack_friction_n=0.0)
    fast = part(speed_m_s=60.0, parting_m_s=3.0, pack_friction_n=0.0, gear_m2=0.02)
    assert slow["min_gap_m"] > 0.0 > fast["min_gap_m"]


# a pack that nothing slows leaves a booster at rest, from its mouth, so that nothing guides it; no
# air, no gravity, tight once in 5 s
TURNING = BARE | {"gear_kg": 1e5, "parting_m_s": 1.5, "fore_cord_m": 1e4, "gear_rides": 1.0,
                  "aft_stiffness_n_m": 80000.0, "nose_kg": 1e3, "pack_length_m": 1e-9}  # fmt: skip
SLACK_S = 3.7 / 1.5  # way of the pack until the cord is tight


def test_the_edge_takes_the_pull_at_the_angle_the_tube_has_turned_to() -> None:
    """Lever and lightness 0: F = v sqrt(m k), and the edge takes F (1 - cos a), a = turn x time."""
    for angle in (0.0, math.pi / 3.0, math.pi / 2.0, math.pi):
        found = part(
            **TURNING,
            mouth_m=1e-6,
            booster_inertia_kg_m2=1e6,
            turn_rad_s=angle / SLACK_S,
        )
        pull = 1.5 * math.sqrt(80000.0)
        assert found["max_n"] == pytest.approx(pull, rel=0.02)
        assert found["edge_n"] == pytest.approx(pull * (1.0 - math.cos(angle)), rel=0.03, abs=0.5)


def test_friction_on_the_edge_keeps_part_of_the_pull_outside() -> None:
    """Euler's belt formula, textbook: a quarter turn at 0.3 leaves exp(-0.3 pi / 2) = 0.624."""
    case = TURNING | {"mouth_m": 1e-6,  "booster_inertia_kg_m2": 1e6,
                      "turn_rad_s": math.pi / 2.0 / SLACK_S}  # fmt: skip
    free, rubbed = part(**case), part(**case, edge_friction=0.3)
    assert rubbed["edge_n"] / free["edge_n"] == pytest.approx(0.6242, rel=0.02)


def test_a_tube_pulled_sideways_at_its_mouth_weighs_less() -> None:
    """1 kg, 0.08 kg m2 struck at its mouth: 1 / (1/m + (l sin a)^2 / I) (textbook).

    The heavy pack leaves the mouth without speed across, so the booster's CG moves the other way,
    at turn x l = w l: after a quarter turn the mouth stands l (1 - pi/2) beside the path.
    """
    lever, speed, beside = 0.4, 0.68, 0.4 * (1.0 - math.pi / 2.0)
    along = math.sqrt(3.7**2 - beside**2)
    turn = math.pi / 2.0 / ((along - lever) / speed)
    found = part(**(TURNING | {"parting_m_s": speed}), turn_rad_s=turn)
    parts_m_s = ((speed + turn * lever) * along - turn * lever * beside) / 3.7
    light = 1.0 + (lever * along / 3.7) ** 2 / 0.08
    assert found["max_n"] == pytest.approx(parts_m_s * math.sqrt(80000.0 / light), rel=0.02)


def test_the_cord_turns_the_tube_into_its_line() -> None:
    """A soft cord pulls for a quarter second at 60 deg: F l sin a / I turns 1 rad in 0.15 s."""
    soft = TURNING | {"aft_stiffness_n_m": 50.0, "turn_rad_s": math.pi / 3.0 / SLACK_S,
                      "parting_m_s": 1.5}  # fmt: skip
    stiff = part(**soft, booster_inertia_kg_m2=1e6)
    gives = part(**soft, booster_inertia_kg_m2=0.001)
    assert gives["edge_n"] < 0.5 * stiff["edge_n"]


def air_moment(angle: float, turn: float, speed: float, **changes: float) -> float:
    case = BASE | changes
    lanes = np.zeros(PLACES)
    begin_lane(np.array([case[name] for name in PARTING_INPUTS]), lanes, 0)
    lanes[TUBE_X], lanes[TUBE_Y], lanes[SPIN] = math.cos(angle), math.sin(angle), turn
    lanes[OX] = speed
    return float(air_turn(lanes, 0)) * case["booster_inertia_kg_m2"]


def test_the_fins_turn_the_booster_into_the_wind() -> None:
    """-q k b sin a cos a: lift of the fins behind the CG, k = slope x area (definition)."""
    found = air_moment(0.2, 0.0, 30.0, tube_side_m2=0.0, fins_side_m2=0.0)
    lift = 0.5 * 1.2 * 30.0**2 * 0.04 * math.sin(0.2) * math.cos(0.2)
    assert found == pytest.approx(-lift * 0.2)


def test_a_turning_tube_is_slowed_by_its_cross_flow() -> None:
    """-1/2 rho (Cd S / L) w^2 (a^4 + b^4) / 4, a and b from the CG to the ends: by integration."""
    found = air_moment(0.3, 10.0, 0.0, fins_side_m2=0.0, fins_lift_m2=0.0)
    ends = 0.4**4 + 0.36**4
    assert found == pytest.approx(-0.5 * 1.2 * 0.045 / 0.76 * 100.0 * ends / 4.0, rel=0.12)


def test_a_tube_broadside_is_turned_about_its_middle() -> None:
    """The cross-flow acts at the middle of the tube, 0.38 - 0.4 = 20 mm ahead of the CG here."""
    found = air_moment(math.pi / 2.0, 0.0, 10.0, fins_side_m2=0.0, fins_lift_m2=0.0)
    assert found == pytest.approx(0.5 * 1.2 * 10.0**2 * 0.045 * 0.02)


def test_it_runs_on_until_the_booster_hangs() -> None:
    """Level and slow: only the jerk after the fall past the open canopy bears on the edge."""
    found = part(speed_m_s=5.0, axis_rad=0.0, turn_rad_s=0.0, climb_rad=0.0)
    assert found["edge_n"] > 50.0


def test_the_faster_the_ejection_the_harder_the_edge_is_borne_on() -> None:
    """Over the many ways a tube may point and turn as it parts."""
    rng = np.random.default_rng(3)
    axes, turns = rng.normal(0.0, 0.26, 400), rng.normal(0.0, 2.0, 400)
    middles = []
    for speed in (5.0, 28.0, 46.0, 70.0):
        rows = np.array(
            [[(BASE | {"speed_m_s": speed, "edge_friction": 0.3})[n] for n in PARTING_INPUTS]] * 400
        )
        rows[:, INPUT_INDEX["axis_rad"]], rows[:, INPUT_INDEX["turn_rad_s"]] = axes, turns
        middles.append(np.percentile(part_bodies(rows)[:, OUTCOME_INDEX["edge_n"]], [50, 80, 95]))
    assert (np.diff(middles, axis=0) > 0.0).all()


def test_figures_that_are_not_numbers_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match="booster_kg"):
        part(booster_kg=math.nan)
    with pytest.raises(ValueError, match=r"above nothing.*gear_kg"):
        part(gear_kg=0.0)
    with pytest.raises(ValueError, match="found \\(2, 3\\)"):
        part_bodies(np.zeros((2, 3)))


def test_canopy_opens_after_lines_and_fill_distance() -> None:
    """Fill distance n D at the stretch speed: open - stretch begins >= n D / v."""
    found = part()
    fill = 8.0 * 0.9 / found["stretch_m_s"]
    assert found["open_s"] > fill
    assert OUTCOME_INDEX["open_s"] == len(PARTING_OUTCOMES) - 1


def test_a_booster_that_swings_under_its_open_canopy_has_not_overtaken_it() -> None:
    """Level, on a cord to the nose that never gets tight: the canopy opens with the booster behind
    it. Later the booster hangs at right angles to where it flew, which is no overtaking."""
    found = part(
        fore_cord_m=1e4,
        climb_rad=0.0,
        axis_rad=0.0,
        speed_m_s=25.0,
        turn_rad_s=0.0,
        line_length_m=0.3,
        canopy_fill=4.0,
    )
    assert found["straight_s"] == math.inf
    assert found["open_s"] < 1.0
    assert found["min_gap_m"] > 0.0


def test_an_edge_takes_what_the_belt_formula_leaves() -> None:
    """exp(-mu a) - cos a, Euler's belt and the sum of two pulls; by the standard library."""
    for angle in np.linspace(0.0, math.pi, 41):
        for rub in (0.0, 0.3, 1.5):
            wanted = max(math.exp(-rub * angle) - math.cos(angle), 0.0)
            assert edge_share(math.cos(angle), rub) == pytest.approx(wanted, abs=3e-7)


def test_a_slack_cord_is_tight_when_its_ends_have_gone_the_rest() -> None:
    """|d + v t| = L: from (1, 0) at (0, 2) m/s a cord of sqrt 2 m is tight after half a second."""
    pull, *_, stretch, grows, tight_s, speed = cord_pull(
        1.0, 0.0, 0.0, 2.0, math.sqrt(2.0), 100.0, 1.0
    )
    assert (pull, grows) == (0.0, 0.0)
    assert stretch == pytest.approx(1.0 - math.sqrt(2.0))
    assert tight_s == pytest.approx(0.5)
    assert speed == pytest.approx(2.0)


def test_who_flies_beside_whom_changes_nothing() -> None:
    """Flights stand side by side: alone, in another order or among others, the same bytes."""
    rng = np.random.default_rng(5)
    rows = np.array([[BASE[name] for name in PARTING_INPUTS]] * 21)
    for name in ("speed_m_s", "parting_m_s", "aft_cord_m", "cord_damping"):
        rows[:, INPUT_INDEX[name]] *= rng.uniform(0.5, 2.0, 21)
    order = rng.permutation(21)
    together = part_bodies(rows)
    assert part_bodies(rows[order]).tobytes() == together[order].tobytes()
    assert part_bodies(rows[:1]).tobytes() == together[:1].tobytes()


def most_n(f: dict[str, float]) -> float:
    """Greatest pull that the bodies' energy gives a cord: 1/2 k x^2 + 1/2 m v^2 <= E (derived).

    m is what the cord pulls at, 1 / m = the sum of 1 / m_i + l^2 / I; then k x + c v is at most
    sqrt(2 E (k + c^2 / m)). E without air and gravity: of all speeds about the rocket's and of the
    turning; else against the air at rest, with what a fall of 5 s adds to them.
    """
    nose, booster, gear = f["nose_kg"], f["booster_kg"], f["gear_kg"]
    share = (nose + gear * f["gear_rides"]) / (nose + booster + gear)
    back, ahead = f["parting_m_s"] * share, f["parting_m_s"] * (1.0 - share)
    fall_m_s = 5.0 * f["gravity_m_s2"]
    whole = f["speed_m_s"] + fall_m_s if f["density_kg_m3"] + fall_m_s > 0.0 else 0.0
    speeds = (whole + ahead, whole + back, whole + (ahead if f["gear_rides"] > 0.5 else back))
    energy = sum(0.5 * m * v * v for m, v in zip((nose, booster, gear), speeds))
    off = (f["mouth_m"] - f["pack_length_m"]) ** 2 * booster * gear / (booster + gear)
    energy += 0.5 * (f["booster_inertia_kg_m2"] + off) * f["turn_rad_s"] ** 2
    per_lever = 1.0 / f["booster_inertia_kg_m2"]
    found = []
    for stiff, one, light in (
        (f["fore_stiffness_n_m"], nose, per_lever * f["pack_length_m"] ** 2),
        (f["aft_stiffness_n_m"], booster, per_lever * f["mouth_m"] ** 2),
    ):
        damped = 2.0 * f["cord_damping"] * math.sqrt(stiff * one * gear / (one + gear))
        per_kg = light + 1.0 / one + 1.0 / gear
        found.append(math.sqrt(2.0 * energy * (stiff + damped**2 * per_kg)))
    return max(found)


def test_a_pack_that_leaves_late_and_out_of_line_comes_to_an_end() -> None:
    """The tube has turned by then, the pack with it: the pull is no more than energy gives."""
    late = {
        "nose_kg": 0.4339, "booster_kg": 0.8515, "gear_kg": 0.551, "speed_m_s": 3.662,
        "climb_rad": -1.356, "axis_rad": 0.03387, "turn_rad_s": -1.429, "parting_m_s": 5.638,
        "nose_start_m2": 0.0004832, "nose_m2": 0.01784, "booster_start_m2": 0.00656,
        "booster_m2": 0.03567, "gear_m2": 0.00324, "pack_friction_n": 8.741,
        "pack_length_m": 0.7401, "fore_stiffness_n_m": 17380.0, "aft_stiffness_n_m": 10890.0,
        "cord_damping": 0.0694, "canopy_m2": 2.022, "canopy_diameter_m": 1.89,
        "canopy_fill": 7.164, "density_kg_m3": 1.159, "mouth_m": 0.5409,
        "booster_inertia_kg_m2": 0.04151, "tube_side_m2": 0.04748, "fins_behind_m": 0.1131,
        "fins_side_m2": 0.01283, "fins_lift_m2": 0.04493, "edge_friction": 0.3964,
    }  # fmt: skip
    found = part(**late)
    assert found["cleared_s"] > 1.0
    assert found["max_n"] < most_n(BASE | late)


@pytest.mark.parametrize("air", [False, True])
def test_no_section_however_light_is_pulled_harder_than_its_energy(air: bool) -> None:
    """2 % as the steps allow; without air some come near it."""
    drawn = drawn_sections(100)
    if not air:
        still = {"density_kg_m3": 0.0, "gravity_m_s2": 0.0, "line_length_m": 1e6}
        drawn = [figures | still for figures in drawn]
    out = part_bodies(np.array([[each[name] for name in PARTING_INPUTS] for each in drawn]))
    pulls = out[:, [OUTCOME_INDEX[name] for name in ("snatch_n", "max_n", "edge_n", "fore_n")]]
    assert np.isfinite(pulls).all()
    bounds = np.array([most_n(each) for each in drawn])
    share = pulls[:, 1] / bounds
    assert (share <= 1.02).all()
    assert air or share.max() > 0.5


# nothing pulls or slows a pack but the tube that guides it; the nose is gone
GUIDED = BARE | {"fore_cord_m": 1e4, "aft_cord_m": 1e4}


def test_a_pack_is_thrown_out_of_a_tube_that_turns_steadily() -> None:
    """Bead on a turning rod, textbook: s = s0 cosh wt + v/w sinh wt from s0 = l - pack length."""
    turn, speed = 2.0, 0.3
    steady = {"booster_kg": 1e9, "booster_inertia_kg_m2": 1e9, "turn_rad_s": turn}
    found = part(**GUIDED, **steady, parting_m_s=speed)
    wanted = brentq(
        lambda t: 0.04 * math.cosh(turn * t) + speed / turn * math.sinh(turn * t) - 0.4, 0.0, 5.0
    )
    assert found["cleared_s"] == pytest.approx(wanted, rel=2e-3)
    assert turn * found["cleared_s"] > 1.0  # the tube has turned by more than a radian


def test_a_pack_that_slides_out_slows_the_turning_of_its_tube() -> None:
    """(I + m s^2) w and the energy stay: t = int ds / v(s), m that of both together (textbook)."""
    mass = float(shared_mass_kg(0.32, 1.0))
    inertia, speed, turn = 0.005, 0.3, 4.0
    swing = (inertia + mass * 0.04**2) * turn
    energy = 0.5 * mass * speed**2 + 0.5 * swing * turn

    def slow(s: float) -> float:
        return math.sqrt(mass / (2.0 * energy - swing**2 / (inertia + mass * s * s)))

    # nose and pack leave at one speed; a nose of nothing leaves v between pack and booster
    light = {"nose_kg": 1e-6, "booster_inertia_kg_m2": inertia, "turn_rad_s": turn}
    found = part(**GUIDED, **light, parting_m_s=speed)
    assert found["cleared_s"] == pytest.approx(quad(slow, 0.04, 0.4)[0], rel=2e-3)


@pytest.mark.parametrize("growth", [0.5, 1.0, 2.0])
def test_a_canopy_may_grow_as_root_line_or_square_of_time(growth: float) -> None:
    """Each is followed; here to the end of a pack that never leaves its tube."""
    assert part(canopy_growth=growth, pack_friction_n=1e4)["cleared_s"] == math.inf


def test_every_kind_of_canopy_grows_as_the_motion_knows() -> None:
    assert {kind.growth for kind in CANOPY_KINDS.values()} <= set(GROWTHS)
    with pytest.raises(ValueError, match="canopy_growth"):
        part(canopy_growth=1.3)
