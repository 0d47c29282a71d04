"""Rows of separation, recovery bay and cord by hand: the charge, the hold, the parting.

The gas step by step as the trade works it out [trade1980]: p = m R T / V, R 119.26 J/(kg K), T
1837.2 K, with 0.87 of it (our guess between the closed bomb [noble1880] and a cold bay).
"""

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from goodflight.physics.aero.crossflow import crossflow_eta
from goodflight.physics.recovery.parting import INPUT_INDEX, OUTCOME_INDEX
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.parts import Bay, Bulkhead, Canopy, Cord, Coupler
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import Evaluation, parting, separation_drag
from goodflight.studies.rows.nose_joint import gas_on_nose
from goodflight.studies.sampling import airframe
from one_flight import (
    ROWS,
    G,
    air_kg_m3,
    air_pa,
    hand_case,
    judged,
    one_flight,
    sound_m_s,
    with_part,
    with_separation,
)
from sample_case import within

BORE = math.pi / 4.0 * 0.076**2  # 4.536e-3 m2
VENT = math.pi / 4.0 * 0.003**2
SOLID = (0.10 + 0.10) / 1140.0  # canopy and cord of nylon
BAY = BORE * 0.30
AHEAD = 0.1  # share of the drag ahead of the joint; its own test is in test_aero_parts.py
CLIMB = {"burnout_m_s": 136.0, "burnout_m": 100.0, "max_speed_m_s": 140.0,
         "max_speed_height_m": 90.0, "apogee_m": 600.0}  # fmt: skip
EJECTED = {**CLIMB, "ejection_m_s": 17.0, "ejection_climb_m_s": -8.5, "ejection_m": 580.0}
CHARGE = {"motor_charge": 1.0, "gas_in_pack": 1.0, "powder_heat": 1.0, "charge_burn": 1.0,
          "given:clearance_m": 1.0}  # fmt: skip


@pytest.fixture(autouse=True)
def _a_tenth_of_the_drag_ahead(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(separation_drag, "share_ahead", lambda rocket, station_m: AHEAD)


def gas(score: float) -> tuple[float, float, float]:
    """Pressure in the bay, push at first, mean push over the coupler, all at one score."""
    head = math.pi / 4.0 * 0.038**2 * (1.0 - 0.2 - 0.70)  # motor tube ahead of the motor
    share = 0.5 + 0.25 * score  # of the pack that counts as pressed by 15 psi, 481 kg/m3
    free = BAY + head - SOLID * (1.0 + share * (1140.0 / 481.0 - 1.0))
    impetus = 0.87 * 119.26 * 1837.2 * (1.0 + 0.155 * score)  # J/kg
    gap = math.pi * 0.076 * 0.0002 * (1.0 + 0.5 * score) / 2.0  # clearance on the diameter
    choked = math.sqrt(1.2) * (2.0 / 2.2) ** 5.5  # (n + 1) / 2 (n - 1) at n = 1.2
    lost = 0.015 * (1.0 + 0.4 * score) * 0.6 * (VENT + gap) * math.sqrt(impetus) * choked / free
    held = (1.0 - math.exp(-lost)) / lost  # mean share over the burning time
    rise = 0.001 * (1.0 + 0.1 * score) * impetus / free * held
    outside = air_pa(580.0)
    grown = free / (free + BORE * 0.06)  # coupler 160 mm, 100 mm of it ahead of the joint
    work = (rise + outside) * free * (1.0 - grown**0.2) / 0.2 - outside * BORE * 0.06
    return rise, rise * BORE, work / 0.06


def lag_n(speed: float, height: float) -> float:
    """rho / 2 (V w / A H Cd)^2 on the bore; H = R T / g [usstd1976], orifice 0.6 (derived)."""
    air = air_kg_m3(height)
    hole = (BAY - SOLID) / VENT * speed / (287.053 * 288.15 / G * 0.6)
    return 0.5 * air * hole**2 * BORE


def drag_pull() -> float:
    """T = (mf Da - ma Df) / (mf + ma): loose gear with the nose, 0.7 and 1.0 kg."""
    air = air_kg_m3(100.0)
    # 0.5 and 0.001 a row of Mach 0.02; a tenth more drag, 15 % more of it ahead
    coefficient = 0.5 + 0.001 * 136.0 / sound_m_s(100.0) / 0.02
    drag = 0.5 * air * 136.0**2 * coefficient * 0.005 * 1.10
    ahead = 0.1 * 1.15
    return (0.7 * (1.0 - ahead) * drag - 1.0 * ahead * drag) / 1.7


DRAG = {"model:axial": 1.0, "drag_share": 1.0}


def test_separation_handled() -> None:
    """Booster, gear and propellant hang: 1.0 + 0.2 + 0.1 kg, at 1.5 g (practice), 0.25 a sigma."""
    view = one_flight(hand_case(), {}, {"handling": 1.0, "given:pull_n": 1.0})
    assert judged("separation_handled", view) == approx((1.3 * G * 1.75, 42.0))
    careful = one_flight(hand_case(), {}, {"handling": -3.0})  # never less than its weight
    assert judged("separation_handled", careful) == approx((1.3 * G, 40.0))


@pytest.mark.parametrize(
    ("thread", "root_in"), [("#2-56", 0.0641), ("#4-40", 0.0813), ("#6-32", 0.0997)]
)
def test_pins_add_to_the_pull(thread: str, root_in: float) -> None:
    """54 MPa (data sheet) on the root of the thread, a fifth a standard deviation.

    Roots of the threads by the unified thread: d - 1.299038 / n.
    """
    diameter, pitch = {"#2-56": (0.086, 56), "#4-40": (0.112, 40), "#6-32": (0.138, 32)}[thread]
    assert root_in == approx(diameter - 1.299038 / pitch, rel=0.03)
    case = with_separation(hand_case(), pins=2, pin_thread=thread)
    view = one_flight(case, {}, {"pin_strength": 1.0})
    each = 54e6 * math.pi / 4.0 * (root_in * 0.0254) ** 2
    assert judged("separation_handled", view)[1] == approx(40.0 + 2.0 * each * 1.2)
    alone = one_flight(with_separation(case, pins=1), {}, {"pin_strength": 1.0})
    assert judged("separation_handled", alone)[1] == approx(40.0 + each * 1.2)


def test_drag_separation() -> None:
    view = one_flight(hand_case(), CLIMB, DRAG)
    assert judged("drag_separation", view) == approx((drag_pull() + lag_n(136.0, 100.0), 40.0))


def test_trapped_air() -> None:
    view = one_flight(hand_case(), CLIMB)
    assert judged("trapped_air", view) == approx((lag_n(140.0, 90.0), 40.0), rel=1e-5)


def test_trapped_air_without_vents_is_all_of_it() -> None:
    """Air of the pad shut in, air of 600 m outside: about 6.8 kPa on the bore."""
    view = one_flight(with_part(hand_case(), Bay, vent_count=0), CLIMB)
    sealed = (100000.0 - air_pa(600.0)) * BORE
    assert judged("trapped_air", view) == approx((sealed, 40.0), rel=1e-5)
    assert judged("bay_vents", view) == approx((sealed, 4.0), rel=1e-5)


def test_bay_vents() -> None:
    """A tenth of what holds the separation (our guess)."""
    view = one_flight(hand_case(), CLIMB, {"given:pull_n": 1.0})
    assert judged("bay_vents", view) == approx((lag_n(140.0, 90.0), 4.2), rel=1e-5)


def test_separation_window() -> None:
    """Least 1.5 x the greater of flight and hanging, most a charge of 1.5 x the hold (practice)."""
    flight = drag_pull() + lag_n(140.0, 90.0)
    carried = 1.3 * G
    assert flight < carried  # 9.3 and 12.7 N
    view = one_flight(hand_case(), EJECTED, DRAG)
    assert judged("separation_window", view) == approx((1.5 * carried / 40.0, 1.0))
    light = with_separation(hand_case(), pull_n=Figure(300.0, 1.0))
    _, first, mean = gas(0.0)
    demand, _ = judged("separation_window", one_flight(light, EJECTED, DRAG))
    assert demand == approx(300.0 * 1.5 / min(first, mean), rel=1e-5)


@pytest.mark.parametrize("score", [0.0, 1.0])
def test_separation_shut(score: float) -> None:
    scores = {key: score for key in CHARGE}
    view = one_flight(hand_case(), EJECTED, scores)
    _, first, mean = gas(score)
    assert judged("separation_shut", view) == approx((min(first, mean), 40.0), rel=1e-5)


def behind_a_bulkhead() -> Case:
    """The coupler has its bulkheads, which take the gas."""
    return with_part(hand_case(), Coupler, bulkheads=True)


@pytest.mark.parametrize("score", [0.0, 1.0])
def test_charge_strong(score: float) -> None:
    """The bulkhead takes the push, which presses the joint of the nose shut."""
    scores = {**dict.fromkeys(CHARGE, score), "given:fixed_joint_n": -9.0, "given:bulkhead_n": 2.0}
    view = one_flight(behind_a_bulkhead(), EJECTED, scores)
    _, first, _ = gas(score)
    assert judged("charge_strong", view) == approx((first, 900.0 + 2.0 * 90.0), rel=1e-5)


@pytest.mark.parametrize("score", [0.0, 1.0])
def test_charge_strong_where_the_gas_stands_on_the_nose(score: float) -> None:
    """Nose of 0.3 kg draws the 0.2 kg behind it along, which 40 N of tape hold back."""
    scores = {**dict.fromkeys(CHARGE, score), "given:fixed_joint_n": -4.0}
    _, first, _ = gas(score)
    found = judged("charge_strong", one_flight(hand_case(), EJECTED, scores))
    drawn = 0.2 * (first - 40.0) / 0.5 + 40.0
    assert found == approx((drawn, 240.0), rel=1e-5)
    strong = with_separation(hand_case(), fixed_joint_n=Figure(9000.0))
    found = judged("charge_strong", one_flight(strong, EJECTED, {"given:bulkhead_n": 2.0}))
    assert found[1] == approx(900.0 + 2.0 * 90.0)


def test_a_plate_in_the_shoulder_is_the_nose() -> None:
    """Gas on a plate ahead of the shoulder's end pushes the nose off; behind it does not."""
    for station, takes in ((0.19, True), (0.25, False)):
        plate = Bulkhead("plate", station, thickness_m=0.004, diameter_m=0.076)
        case = hand_case()
        rocket = replace(case.rocket, parts=(*case.rocket.parts, plate))
        bay = next(part for part in rocket.parts if isinstance(part, Bay))
        assert gas_on_nose(rocket, bay) is takes


def test_motor_pushed_out() -> None:
    view = one_flight(hand_case(), EJECTED, {**CHARGE, "given:retention_n": 1.0})
    rise, _, _ = gas(1.0)
    push = rise * math.pi / 4.0 * 0.038**2
    assert judged("motor_pushed_out", view) == approx((push, 550.0), rel=1e-5)


def test_own_powder_by_altimeter() -> None:
    """1.2 g +- 0.1 of the builder's own instead of the motor's 1 g."""
    case = within(hand_case(), "deployment", by=1)
    rise, _, _ = gas(0.0)
    view = one_flight(case, EJECTED, {"given:powder_kg": 1.0})
    push = rise * 1.3 * math.pi / 4.0 * 0.038**2
    assert judged("motor_pushed_out", view) == approx((push, 500.0), rel=1e-5)


def test_retainer_overhang() -> None:
    """Clips grip 6 to 13 mm (practice): 10 mm stands out, the middle is 9.5."""
    assert judged("retainer_overhang", one_flight(hand_case())) == approx((0.0005, 0.0035))
    shown = [constant.value for constant in ROWS["retainer_overhang"].constants.values()]
    assert shown == approx([0.006, 0.013])
    found = ROWS["retainer_overhang"].evaluate(one_flight(hand_case()))
    assert isinstance(found, Evaluation)
    assert str(found.warnings[0]) == "motor sticks out 10 mm; clips need 6 mm to 13 mm"


STATED, GUESSED = 0.08, 0.10 / 190.0 / BORE  # cord as stowed; canopy rolled by hand (practice)


def test_gear_fits() -> None:
    """4 % the same pack rolled again, three times that where its length is a guess (ours)."""
    view = one_flight(hand_case(), {}, {"pack_room": 1.0})
    stack = STATED * 1.04 + GUESSED * (1.0 + 3.0 * 0.04)
    assert judged("gear_fits", view) == approx((stack, 0.30))


def test_a_heavier_canopy_takes_more_room() -> None:
    """Rolled by hand it is as long as its mass makes it: mass / 190 kg/m3 over the bore."""
    case = hand_case()
    items = tuple(
        replace(each, mass_sigma_kg=0.01) if each.name == "canopy" else each for each in case.items
    )
    view = one_flight(replace(case, items=items), {}, {"mass:canopy": 2.0})
    heavy = float(view.of(airframe.mass, "canopy")[0])
    assert heavy > 0.115
    assert judged("gear_fits", view)[0] == approx(STATED + heavy / 190.0 / BORE)
    skin = math.pi * 0.076 * (heavy / 190.0 / BORE + 0.076 / 2.0)
    assert judged("canopy_scorched", view)[1] == approx(1.25 * skin)


def test_canopy_scorched() -> None:
    """Skin of the pack pi d (l + d / 2), a quarter of lap (our guess)."""
    scores = {"given:blanket_m2": 1.0, "blanket_lap": 1.0, "pack_room": 1.0}
    skin = math.pi * 0.076 * (GUESSED + 0.076 / 2.0)
    found = judged("canopy_scorched", one_flight(hand_case(), {}, scores))
    assert found == approx((0.10, 1.40 * skin * 1.04))
    tight = one_flight(hand_case(), {}, {"blanket_lap": -4.0})  # never less than once round
    assert judged("canopy_scorched", tight)[1] == approx(skin)


@pytest.mark.parametrize("vents", [1, 4])
def test_electronics_vents(vents: int) -> None:
    """One 1/4 in hole for 100 in3 (practice) and V / 500 in (a manual): within root of 2."""
    case = hand_case()
    parts = tuple(
        replace(part, vent_count=vents) if part.name == "loggers" else part  # type: ignore[call-arg]
        for part in case.rocket.parts
    )
    case = replace(case, rocket=replace(case.rocket, parts=parts))
    ratio = 0.0003 / (vents * math.pi / 4.0 * 0.004**2) * 1.15  # metres, one sigma of 15 %
    small = 100.0 * 0.0254**3 / (math.pi / 4.0 * 0.00635**2)  # 51.7 m
    used = max(ratio / small, 500.0 * 0.0254 / ratio)
    view = one_flight(case, {}, {"vent_rule": 1.0})
    assert judged("electronics_vents", view) == approx((used, math.sqrt(2.0)))


Motion = dict[str, float]


@pytest.fixture
def motion(monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[Motion, Motion]]:
    """What goes into the motion after the charge, and what is said to come out of it."""
    went_in: Motion = {}
    comes_out: Motion = {}

    def told(rows: np.ndarray) -> np.ndarray:
        went_in.update({name: float(rows[0, place]) for name, place in INPUT_INDEX.items()})
        out = np.full((len(rows), len(OUTCOME_INDEX)), np.nan)
        for name, value in comes_out.items():
            out[:, OUTCOME_INDEX[name]] = value
        return out

    monkeypatch.setattr(parting, "part_bodies", told)
    parting.MOTIONS.forget()
    yield went_in, comes_out
    parting.MOTIONS.forget()


def test_nose_jerked(motion: tuple[Motion, Motion]) -> None:
    """The cord stops 0.5 kg; the nose's joint stops the 0.3 kg ahead of it."""
    motion[1].update(fore_n=250.0, max_n=400.0)
    view = one_flight(hand_case(), EJECTED, {"given:fixed_joint_n": -1.0})
    assert judged("nose_jerked", view) == approx((0.6 * 250.0, 360.0))


def test_nose_jerked_is_asked_of_a_joint_that_the_cord_pulls(motion: tuple[Motion, Motion]) -> None:
    """Not where the nose itself comes off, nor where the gear hangs from it in a bay ahead."""
    motion[1].update(fore_n=250.0, max_n=400.0)
    case = hand_case()
    comes_off = replace(case, rocket=replace(case.rocket, separation_station_m=0.20))
    ahead = with_part(with_separation(case, coupler_in="aft"), Bay, station_m=0.22, length_m=0.15)
    shut_off = with_part(ahead, Coupler, station_m=0.21, length_m=0.2, bulkheads=True)
    for other, asked in ((comes_off, False), (ahead, False), (shut_off, True)):
        found = ROWS["nose_jerked"].evaluate(one_flight(other, EJECTED))
        assert isinstance(found, Evaluation)
        assert bool(found.not_here) is not asked


def test_what_goes_into_the_motion(motion: tuple[Motion, Motion]) -> None:
    """Every figure of the two bodies, the pack, the cord and the cloth, each worked out here."""
    went_in, comes_out = motion
    comes_out["max_n"] = 1.0
    scores = {
        "given:pack_pull_n": 1.0, "parting_axis": 1.0, "booster_turn": 1.0, "pack_room": 1.0,
        "pack_area": 1.0, "tumble_area": 1.0, "drag_share": 1.0, "model:axial": 1.0,
        "cord_give": 1.0, "cord_damping": 1.0, "edge_friction": 1.0,
    }  # fmt: skip
    judged("snatch_cord", one_flight(hand_case(), EJECTED, scores))
    _, _, mean = gas(0.0)
    fore, aft = 0.5 + 0.2, 1.0  # gear rides with the nose when the motor's charge fires
    parting_m_s = math.sqrt(2.0 * (mean - 40.0) * 0.06 * (fore + aft) / (fore * aft))
    whole = (0.5 + 0.001 * 17.0 / sound_m_s(580.0) / 0.02) * 0.005 * 1.10  # coasting at Mach 0.05
    ahead = 0.1 * 1.15
    broadside = 0.5 * 0.08 * 1.30  # half the side area (practice)
    taper = 0.2 / 3.0  # a nose has two thirds of a tube's side area
    front = (0.40 - taper) / (1.0 - taper)
    stretch = 0.25 * 1.20  # at break
    balance = 0.8 * 0.80 + 0.2 * 0.90  # body and spent case, together 1 kg
    shell = 0.2 * (0.019**2 / 2.0 + 0.2**2 / 12.0)
    inertia = 0.8 * (0.80 - balance) ** 2 + 0.2 * (0.90 - balance) ** 2 + shell
    eta = float(crossflow_eta(0.60 / 0.076))  # its own test is in test_aero_published.py
    wanted = {
        "nose_kg": 0.5, "booster_kg": 1.0, "gear_kg": 0.2, "speed_m_s": 17.0,
        "climb_rad": -math.pi / 6.0, "axis_rad": math.radians(15.0), "turn_rad_s": 2.0,
        "parting_m_s": parting_m_s, "gear_rides": 1.0, "nose_start_m2": ahead * whole,
        "nose_m2": front * broadside,
        "booster_start_m2": (1.0 - ahead) * whole + 0.8 * 0.005,  # open tube 0.8 (guess)
        "booster_m2": (1.0 - front) * broadside, "gear_m2": 0.8 * BORE * 1.5, "tumble_s": 0.4,
        "pack_friction_n": 5.0, "pack_length_m": STATED * 1.04 + GUESSED * 1.12,
        "fore_cord_m": 2.0, "aft_cord_m": 4.0, "fore_stiffness_n_m": 2000.0 / (stretch * 2.0),
        "aft_stiffness_n_m": 2000.0 / (stretch * 4.0), "cord_damping": 0.1 * 1.4,
        "line_length_m": 1.2, "canopy_m2": 0.75, "canopy_diameter_m": math.sqrt(4.0 / math.pi),
        "canopy_fill": 8.0, "canopy_growth": 2.0,
        "density_kg_m3": air_kg_m3(580.0), "gravity_m_s2": 9.80665,
        "mouth_m": balance - 0.40, "booster_inertia_kg_m2": inertia,
        "tube_m": 0.60, "tube_side_m2": 1.2 * eta * 0.60 * 0.076, "fins_behind_m": 0.92 - balance,
        "fins_side_m2": 1.2 * 0.02, "fins_lift_m2": (8.0 + 0.01 * 3) * 0.005,  # at Mach 0.06
        "edge_friction": 0.3 * 1.33,
    }  # fmt: skip
    assert went_in.keys() == wanted.keys()
    for name, value in wanted.items():
        assert went_in[name] == approx(value, rel=1e-5), name


def test_what_goes_into_the_motion_where_less_is_given(motion: tuple[Motion, Motion]) -> None:
    """Friction of twice the weight (our guess), canopy a third along, a leader of aramid."""
    went_in, comes_out = motion
    comes_out["max_n"] = 1.0
    case = with_separation(hand_case(), pack_pull_n=None)
    case = with_part(case, Cord, canopy_at_m=None, leader_length_m=1.5, leader_strength_n=3000.0)
    case = with_part(case, Canopy, line_length_m=0.0)
    judged("snatch_cord", one_flight(case, EJECTED, {"pack_friction": 1.0}))
    assert went_in["pack_friction_n"] == approx(2.0 * 0.2 * G * 1.5)
    assert went_in["fore_cord_m"] == approx(6.0 / 3.0)
    soft, stiff = 2000.0 / (0.25 * (4.0 - 1.5)), 3000.0 / (0.04 * 1.5)
    assert went_in["aft_stiffness_n_m"] == approx(1.0 / (1.0 / soft + 1.0 / stiff))
    assert went_in["line_length_m"] == approx(math.sqrt(4.0 / math.pi))


def test_by_altimeter_the_gear_stays_with_the_booster(motion: tuple[Motion, Motion]) -> None:
    went_in, comes_out = motion
    comes_out["max_n"] = 1.0
    judged("snatch_cord", one_flight(within(hand_case(), "deployment", by=1), EJECTED))
    assert went_in["gear_rides"] == 0.0


def test_canopy_stays(motion: tuple[Motion, Motion]) -> None:
    """Three lengths = out (our guess); else as far as it came."""
    _, comes_out = motion
    comes_out.update(cleared_s=math.inf, reach_m=0.15)
    length = STATED + GUESSED
    assert judged("canopy_stays", one_flight(hand_case(), EJECTED)) == approx((0.15, length))
    parting.MOTIONS.forget()
    comes_out.update(cleared_s=0.1)
    assert judged("canopy_stays", one_flight(hand_case(), EJECTED)) == approx((3 * length, length))


def test_nose_by_fins() -> None:
    """The nose hangs from 2.0 to 2.4 m below the canopy, the mouth 4 m less the pack, the fins half
    a metre below that: 2.1 m less the pack, against half of 1 m."""
    length, above = STATED + GUESSED, one_flight(hand_case(), EJECTED)
    assert judged("nose_by_fins", above) == approx((2.1 - length, 0.5))
    beside = with_part(
        hand_case(), Cord, canopy_at_m=3.0
    )  # nose 3.0 to 3.4, fins 3.5 to 3.6 - pack
    clear = max(3.5 - length - 3.4, 3.0 - (3.6 - length))
    assert judged("nose_by_fins", one_flight(beside, EJECTED)) == approx((clear, 0.5))
    below = with_part(hand_case(), Cord, canopy_at_m=5.0)  # nose 5.0 to 5.4, tail at 1.6 m - pack
    assert judged("nose_by_fins", one_flight(below, EJECTED)) == approx((3.4 + length, 0.5))


def test_booster_overtakes(motion: tuple[Motion, Motion]) -> None:
    motion[1]["min_gap_m"] = 0.7
    assert judged("booster_overtakes", one_flight(hand_case(), EJECTED)) == approx((0.7, 0.0))


def test_snatch_cord(motion: tuple[Motion, Motion]) -> None:
    """Half of the weakest length is left by knots; spool 10 %, knots 15 % a standard deviation."""
    motion[1]["max_n"] = 640.0
    view = one_flight(hand_case(), EJECTED, {"cord_strength": 1.0, "knot": 1.0})
    assert judged("snatch_cord", view) == approx((640.0, 2000.0 * 0.5 * 1.10 * 1.15))
    weak = with_part(hand_case(), Cord, leader_length_m=1.0, leader_strength_n=1600.0)
    assert judged("snatch_cord", one_flight(weak, EJECTED)) == approx((640.0, 800.0))


def test_snatch_anchor(motion: tuple[Motion, Motion]) -> None:
    motion[1]["max_n"] = 640.0
    view = one_flight(hand_case(), EJECTED, {"given:aft_anchor_n": 1.0})
    assert judged("snatch_anchor", view) == approx((640.0, 1300.0))
    view = one_flight(hand_case(), EJECTED, {"given:fore_anchor_n": -3.0})
    assert judged("snatch_anchor", view) == approx((640.0, 1200.0))


def test_zipper(motion: tuple[Motion, Motion]) -> None:
    """Strength x wall x width of the cord: 28 MPa x 2 mm x 14 mm."""
    motion[1]["edge_n"] = 210.0
    view = one_flight(hand_case(), EJECTED, {"given:edge_strength_pa": 1.0})
    assert judged("zipper", view) == approx((210.0, 28e6 * 0.002 * 0.014))
