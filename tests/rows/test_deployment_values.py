"""Rows of deployment, descent and touch-down by hand."""

import math
from dataclasses import replace
from typing import Any

import pytest
from pytest import approx

from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import Canopy, Fins, Nose, Tube
from goodflight.studies.case.planned import Case
from one_flight import PLY, air_kg_m3, hand_case, judged, one_flight, with_part
from sample_case import within

ACROSS = math.sqrt(4.0 / math.pi)  # circle of the canopy's 1 m2


def opening_n(mass_kg: float, speed_m_s: float, score: float = 0.0) -> float:
    """1/2 rho v^2 CdS Cx X1 [knacke1991]: flat cloth n = 8, j = 2, Cx = 1.7 (memory).

    X1 from the equation of motion with a drag area that grows with t^j: peak while it fills where
    A j (j + 1) / (j + 2) < 1, else as it is full (derived).
    """
    air = air_kg_m3(500.0)
    area = 0.75 + 0.08 * score
    fill = 8.0 * (1.0 + 0.2 * score) * ACROSS
    ratio = 2.0 * mass_kg / (air * area * fill)
    if 1.5 * ratio < 1.0:
        reduced = (1.5 * ratio) ** (2.0 / 3.0) * (4.0 / 6.0) ** 2
    else:
        reduced = (1.0 + 1.0 / (3.0 * ratio)) ** -2
    return 0.5 * air * speed_m_s**2 * area * 1.7 * (1.0 + 0.08 * score) * reduced


OPENED = {"opening_m_s": 15.0, "opening_m": 500.0, "opening_force_n": 10.0}
OPENING = {"canopy_drag": 1.0, "overshoot": 1.0, "fill_constant": 1.0}


def test_too_early() -> None:
    """25 m/s +- 3.04: 5 in 100 break at 20 m/s, 95 in 100 at 30 (practice)."""
    did = {"ejection_m_s": 21.0, "ejection_climb_m_s": 18.0}
    assert judged("too_early", one_flight(hand_case(), did, {"deploy_speed": 1.0})) == approx(
        (21.0, 28.04)
    )
    assert judged("too_late", one_flight(hand_case(), did)) == approx((0.0, 25.0))


def test_too_late() -> None:
    did = {"ejection_m_s": 21.0, "ejection_climb_m_s": -18.0}
    assert judged("too_late", one_flight(hand_case(), did, {"deploy_speed": -1.0})) == approx(
        (21.0, 21.96)
    )
    assert judged("too_early", one_flight(hand_case(), did)) == approx((0.0, 25.0))


def test_nothing_opens() -> None:
    """10 m for a pack that opens late (practice) + v t + n D; cord of 6 m at 10 m/s, 30 %."""
    did = {"ejection_m_s": 14.0, "ejection_m": 300.0, "opening_m_s": 12.0}
    view = one_flight(hand_case(), did, {"stretch": 1.0, "fill_constant": 1.0})
    needed = 10.0 + 12.0 * (6.0 / 10.0 * 1.3) + 8.0 * 1.2 * ACROSS
    assert judged("nothing_opens", view) == approx((300.0, needed))


@pytest.mark.parametrize("mass_kg", [1.7, 6.0])
def test_opening_cord(mass_kg: float) -> None:
    """A light rocket brakes while the canopy fills, a heavy one once it is full."""
    scores = {**OPENING, "cord_strength": 1.0, "knot": 1.0}
    view = one_flight(hand_case(), OPENED, scores, {"dry_mass_kg": mass_kg})
    wanted = (opening_n(mass_kg, 15.0, 1.0), 2000.0 * 1.10 * 1.15 * 0.5)
    assert judged("opening_cord", view) == approx(wanted, rel=1e-5)


def test_the_motions_own_force_counts_where_it_is_more() -> None:
    view = one_flight(hand_case(), {**OPENED, "opening_force_n": 900.0})
    assert judged("opening_cord", view) == approx((900.0, 1000.0))


def test_opening_canopy() -> None:
    """Six lines of 300 N, 0.65 left by knots (sheet), knots and uneven load 15 % each."""
    view = one_flight(hand_case(), OPENED, {"line_knot": 1.0, "line_share": 1.0})
    wanted = (opening_n(1.7, 15.0), 6.0 * 300.0 * 0.65 * 1.15 * 1.15)
    assert judged("opening_canopy", view) == approx(wanted, rel=1e-5)


def test_opening_canopy_of_known_strength() -> None:
    view = one_flight(
        with_part(hand_case(), Canopy, strength_n=900.0), OPENED, {"canopy_strength": 1.0}
    )
    assert judged("opening_canopy", view)[1] == approx(900.0 * 1.2)


def with_main() -> Case:
    main = Canopy("main", 0.5, cloth_area_m2=2.0, line_count=8, line_strength_n=300.0)
    return within(hand_case(), "deployment", main_canopy=main)


def test_drogue_speed() -> None:
    """30 m/s the most (practice), 4 m/s a standard deviation."""
    view = one_flight(with_main(), {"main_opening_m_s": 22.0}, {"main_speed": 1.0})
    assert judged("drogue_speed", view) == approx((22.0, 34.0))


def test_main_opening() -> None:
    view = one_flight(with_main(), {"main_opening_force_n": 700.0}, {"main_strength": 1.0})
    assert judged("main_opening", view) == approx((700.0, 8.0 * 300.0 * 0.65 * 1.2))


def test_landing_speed() -> None:
    """2 in 100 damaged at 6.1 m/s (practice), 98 in 100 at 75 ft lbf [nasa-sl2018].

    75 ft lbf = 101.7 J; 1.7 kg has it at 10.94 m/s. The normal's 2 in 100 are 2.054 sigma away.
    """
    joules = 75.0 * 0.3048 * 4.4482216  # 101.69
    upper = math.sqrt(2.0 * joules / 1.7)
    soft, hard = (
        one_flight(hand_case(), {"descent_m_s": 7.0}, {"landing_stands": score})
        for score in (-2.0537, 2.0537)
    )
    assert judged("landing_speed", soft) == approx((7.0, 6.1), rel=1e-3)
    assert judged("landing_speed", hard) == approx((7.0, upper), rel=1e-3)


def test_landing_speed_of_a_heavy_rocket() -> None:
    """6 kg has 101.7 J below 6.1 m/s already: the band is then 5 % of it (ours)."""
    view = one_flight(hand_case(), {"descent_m_s": 7.0}, {}, {"dry_mass_kg": 6.0})
    assert judged("landing_speed", view) == approx((7.0, 6.1 * 1.025))


def test_landing_speed_is_never_below_a_walk() -> None:
    """1 m/s, however weak a spread makes the airframe."""
    view = one_flight(hand_case(), {"descent_m_s": 7.0}, {"landing_stands": -9.0})
    assert judged("landing_speed", view)[1] == approx(1.0)


@pytest.mark.parametrize(
    ("east", "north", "outside"), [(250.0, 50.0, -50.0), (330.0, 50.0, 30.0), (330.0, 240.0, 50.0)]
)
def test_off_field(east: float, north: float, outside: float) -> None:
    """East edge at 300 m, north at 200 m; past the corner 30 and 40 m, so 50."""
    view = one_flight(hand_case(), {"landing_east_m": east, "landing_north_m": north})
    assert judged("off_field", view) == approx((outside, 0.0))


def test_keep_out() -> None:
    """A ditch from 300 to 310 m east."""
    view = one_flight(hand_case(), {"landing_east_m": 250.0, "landing_north_m": 50.0})
    assert judged("keep_out", view) == approx((50.0, 0.0))
    view = one_flight(hand_case(), {"landing_east_m": 304.0, "landing_north_m": 50.0})
    assert judged("keep_out", view) == approx((-4.0, 0.0))


# the mass of the motor's empty case goes with neither part here; see the last test
NO_CASE: dict[str, Any] = {"loaded_kg": 0.1}
TILT, ROLL = math.radians(24.0), math.radians(30.0)


def touching() -> Case:
    """Fins 20 mm ahead of the tail; 0.5 kg come down with the nose, 1.0 kg with the tail."""
    case = hand_case()
    case = replace(case, motor=replace(case.motor, **NO_CASE))
    return with_part(case, Fins, station_m=0.88)


DOWN = {"descent_m_s": 6.0}
BALANCE = {"dry_cg_m": 0.6, "dry_pitch_inertia_kg_m2": 0.15}


def blow_nm(give: float) -> float:
    """2 x m v^2 / (2 s): peak twice the mean, 30 mm of ground (our guesses).

    Mass that counts beside the CG: m k^2 / (k^2 + l^2), free body struck at l (derived).
    """
    lever = (1.0 - 0.6) * math.sin(TILT) + (0.04 + 0.10) * math.cos(TILT)  # 0.2906 m
    gyration = 0.15 / 1.5
    counts = 1.0 * gyration / (gyration + lever**2)  # 0.542 kg
    force = 2.0 * counts * 6.0**2 / (2.0 * 0.030 * give)
    return force * math.sin(TILT) * math.sin(ROLL) * 0.10


def test_fin_strike() -> None:
    """24 deg = 2 x 12; middle of an even roll 30 deg; the fin's corner is first from 13.8 deg."""
    assert math.atan(0.02 / (0.14 * math.cos(ROLL) - 0.04)) < TILT
    view = one_flight(touching(), DOWN, {"touch_tilt": 2.0, "ground_gives": 1.0}, BALANCE)
    root = 60e6 * 0.1 * 0.004**2 / 6.0 / 1.25  # c t^2 / 6, a quarter uneven (guess): 12.8 N m
    assert judged("fin_strike", view) == approx((blow_nm(1.25), root))


def test_a_tilt_too_small_for_the_fin_strikes_the_tail() -> None:
    """13.8 deg: at 1.14 spreads the tail's edge is first, at 1.16 the fin."""
    limit = math.atan(0.02 / (0.14 * math.cos(ROLL) - 0.04)) / math.radians(12.0)
    below = one_flight(touching(), DOWN, {"touch_tilt": limit - 0.01}, BALANCE)
    above = one_flight(touching(), DOWN, {"touch_tilt": limit + 0.01}, BALANCE)
    judged("tail_strike", below)
    judged("fin_strike", above)
    with pytest.raises(AssertionError, match="does not concern"):
        judged("fin_strike", below)


def test_tail_strike() -> None:
    """Half of the edge's section (guess) x 10.1 MPa, crush of paper tubes (Tezuka and Ito 1990,
    Table 1, seen), 25 % a sigma between makes; ground like a spring of 120 MN/m3 (see
    test_structure_rows.py): F = v sqrt(m k).
    """
    view = one_flight(touching(), DOWN, {"crush": 1.0, "bedding": 1.0}, BALANCE)
    edge = 0.5 * math.pi * (0.08 - 0.002) * 0.002
    force = 6.0 * math.sqrt(1.0 * 120e6 * 1.4 * edge)
    assert judged("tail_strike", view) == approx((force, 10.1e6 * edge * 1.25))


@pytest.mark.parametrize(
    ("family", "strength_pa"),
    [
        ("", 0.6 * 60e6),  # of the bending strength (guess)
        ("pla", 0.62 * 53e6),  # across the layers 0.57 to 0.68 of a moulding (derived)
        ("petg", 0.62 * 50e6),
        ("abs", 0.62 * 40e6),
    ],
)
def test_nose_strike(family: str, strength_pa: float) -> None:
    """Ring where the nose is a quarter of its base wide (guess): 20 mm, wall 2 mm."""
    made_of = Material("x", 1200.0, bending_strength_pa=60e6, family=family)  # type: ignore[arg-type]
    view = one_flight(with_part(touching(), Nose, material=made_of), DOWN, {}, BALANCE)
    ring = math.pi * (0.020 - 0.002) * 0.002
    force = 2.0 * 0.5 * 6.0**2 / (2.0 * 0.030)
    assert judged("nose_strike", view) == approx((force, strength_pa * ring))


def test_a_pointed_nose_is_solid_at_its_tip() -> None:
    """A quarter of 12 mm is less than two walls: a rod of 4 mm."""
    view = one_flight(with_part(touching(), Nose, diameter_m=0.012), DOWN, {}, BALANCE)
    rod = math.pi * (0.004 - 0.002) * 0.002
    assert judged("nose_strike", view)[1] == approx(0.6 * 60e6 * rod)


def test_a_rocket_that_does_not_part_comes_down_whole() -> None:
    case = touching()
    case = replace(case, rocket=replace(case.rocket, separation_station_m=None))
    edge = 0.5 * math.pi * (0.08 - 0.002) * 0.002
    force = 6.0 * math.sqrt(1.5 * 120e6 * edge)
    assert judged("tail_strike", one_flight(case, DOWN, {}, BALANCE))[0] == approx(force)


def test_the_spent_motor_comes_down_with_the_tail() -> None:
    """0.1 + 0.1 + 0.8 kg behind the joint and 0.2 kg of empty case: 1.2 kg, 0.5 kg ahead of it."""
    view = one_flight(hand_case(), DOWN, {}, BALANCE)
    per_kg = 2.0 * 6.0**2 / (2.0 * 0.030)
    assert judged("nose_strike", view)[0] == approx(0.5 * per_kg)


def test_a_tube_of_wood_is_not_softened_by_damp() -> None:
    """0.6 (guess) of its bending strength, on half of the edge's section."""
    view = one_flight(with_part(touching(), Tube, material=PLY), DOWN, {}, BALANCE)
    edge = 0.5 * math.pi * (0.08 - 0.002) * 0.002
    assert judged("tail_strike", view)[1] == approx(0.6 * 60e6 * edge)


def test_the_last_tube_counts() -> None:
    """Its own wall: 2 mm of 80 mm."""
    view = one_flight(with_part(touching(), Tube, inner_diameter_m=0.078), DOWN, {}, BALANCE)
    edge = 0.5 * math.pi * (0.08 - 0.001) * 0.001
    assert judged("tail_strike", view)[1] == approx(10.1e6 * edge)
