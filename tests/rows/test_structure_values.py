"""Rows of structure in flight and of workmanship by hand."""

import math
from dataclasses import replace

import pytest
from pytest import approx

from goodflight.physics.vehicle.parts import Fins
from goodflight.project import defaults
from goodflight.studies.case.joints import GluedJoint
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import Evaluation
from goodflight.studies.sampling.quantity import Missing
from one_flight import ROWS, hand_case, judged, one_flight, with_part

FASTEST = {"max_mach": 0.4, "max_speed_m_s": 80.0, "max_pressure_pa": 4000.0}
GUST = {"gust_sigma_m_s": 1.0}
# Mach 0.4: 8.2 of the set; a plane of two fins has it all, so 2/3 of it a fin, on its own area
ONE_FIN = 8.2 * 2.0 / 3.0 * 0.005 / 0.01


def fin_moment(gusts: float, cant_rad: float) -> float:
    """q S CN (gust / v + cant) x half the span."""
    return 4000.0 * 0.01 * min(ONE_FIN * (gusts / 80.0 + cant_rad), 1.2) * 0.05


def test_fin_root() -> None:
    """Two gust sigmas (guess), 40 % a sigma; worst fin's cant 0.5 deg a sigma by hand on a line."""
    scores = {"fin_gust": 1.0, "cant:1": 2.0, "fin_bending": 1.0, "load_share": 2.0}
    view = one_flight(hand_case(), FASTEST, scores, GUST)
    demand = fin_moment(2.0 * 1.4, math.radians(1.0))
    root = 60e6 * 1.15 * 0.1 * 0.004**2 / 6.0  # strength c t^2 / 6, a sheet 15 % stronger
    assert judged("fin_root", view) == approx((demand, root / (1.25 * 1.30)))


def test_a_fin_that_stalls_has_no_more_than_a_plate() -> None:
    """CN 1.2 of a plate broadside [hoerner1965], memory."""
    view = one_flight(hand_case(), FASTEST, {}, {"gust_sigma_m_s": 40.0})
    assert judged("fin_root", view)[0] == approx(4000.0 * 0.01 * 1.2 * 0.05)


def bond_nm(radius: float, ply_pa: float, kraft_pa: float) -> float:
    """Both fillets as a couple of the plies they pull on, and the tab's foot in shear."""
    fillets = 0.1 * radius * min(ply_pa * 0.004, kraft_pa * (0.004 + radius))
    return fillets + 0.02 * 0.08 * radius * ply_pa


def test_fin_bond() -> None:
    """2.5 MPa rolling shear of ply, 0.45 MPa plies of paper (memory); sigmas 12 and 20 %."""
    scores = {"ply_shear": 1.0, "kraft_ply": 1.0, "bond_work": 1.0, "fillet_size": 1.0,
              "load_share": 2.0}  # fmt: skip
    view = one_flight(hand_case(), FASTEST, scores, GUST)
    stands = bond_nm(0.006 * 1.2, 2.5e6 * 1.12, 0.45e6 * 1.20) * 1.15 / (1.25 * 1.30)
    assert judged("fin_bond", view) == approx((fin_moment(2.0, 0.0), stands))


def test_fin_bond_where_the_ply_gives_first() -> None:
    """A fillet of 30 mm: the ply's face is weaker than the paper's plies."""
    view = one_flight(with_part(hand_case(), Fins, fillet_radius_m=0.030), FASTEST, {}, GUST)
    assert judged("fin_bond", view)[1] == approx(bond_nm(0.030, 2.5e6, 0.45e6) / 1.25)


def test_fin_bond_without_a_fillet_radius() -> None:
    """6 % of the root chord (practice: 4 to 8 %)."""
    view = one_flight(with_part(hand_case(), Fins, fillet_radius_m=0.0), FASTEST, {}, GUST)
    assert judged("fin_bond", view)[1] == approx(bond_nm(0.06 * 0.1, 2.5e6, 0.45e6) / 1.25)


def slowing(kelvin: float, activation: float = 58600.0) -> float:
    """exp(Ea / R (1 / T - 1 / 298.15 K)): Arrhenius, R 8.3145 J/(mol K); 3.50 at 10 degC."""
    return math.exp(activation / 8.314463 * (1.0 / kelvin - 1.0 / 298.15))


def in_the_shed(hours: float) -> Case:
    case = hand_case()
    (joint,) = case.workshop.joints
    joint = replace(joint, stays=(replace(joint.stays[0], hours=hours),))
    return replace(case, workshop=replace(case.workshop, joints=(joint,)))


def test_fin_bond_that_is_not_solid_yet() -> None:
    """Two days at 10 degC of a glue that takes one at 25 degC: nothing holds yet, then all of it.

    Epoxy laps on wood hardly gain from more cure once hard (J. Adhesion Soc. Japan 45(8), 2009, and
    Moussa et al. 2012, abstracts, seen); solid from 0.8 of the label's cure (our guess).
    """
    share = 48.0 / slowing(283.15) / 24.0
    assert share == approx(0.572, abs=1e-3)
    view = one_flight(in_the_shed(48.0), FASTEST, {}, GUST)
    assert judged("fin_bond", view)[1] == approx(bond_nm(0.006, 2.5e6, 0.45e6) * 1e-3 / 1.25)
    solid = one_flight(in_the_shed(72.0), FASTEST, {}, GUST)  # 0.858
    assert judged("fin_bond", solid)[1] == approx(bond_nm(0.006, 2.5e6, 0.45e6) / 1.25)


def test_thrust_ring() -> None:
    """Peak x (1 - motor / whole) x 1.3 for its sudden rise; the foremost of two has 1.5 of half."""
    scores = {"impulse": 1.0, "kraft_ply": 1.0, "bond_work": 1.0, "fillet_size": 1.0,
              "load_share": 1.0}  # fmt: skip
    view = one_flight(hand_case(), {"liftoff_mass_kg": 1.8}, scores)
    pushed = 100.0 * 1.02 * (1.0 - 0.3 / 1.8) * 1.3
    glue = 0.45e6 * 1.20 * 1.15  # Pa
    line = math.pi * 0.040 * 0.005 * (1.0 + 2.0 * 1.2)  # sheet and a fillet as thick on each side
    assert judged("thrust_ring", view) == approx((pushed, 2.0 * glue * line / (1.5 * 1.15)))


def test_anchor() -> None:
    """Glue lines of outer and inner edge, or two 12 mm washers through 8.34 MPa of birch."""
    opened = {"opening_m_s": 15.0, "opening_m": 500.0, "opening_force_n": 800.0}
    glue = 0.45e6 * math.pi * (0.076 + 0.040) * 0.005 * 3.0
    punch = 2.0 * 8.34e6 * math.pi * 0.012 * 0.005
    assert glue < punch
    assert judged("anchor", one_flight(hand_case(), opened)) == approx((800.0, glue))
    scores = {"kraft_ply": 2.0, "bond_work": 1.0, "ply_shear": 1.0}
    view = one_flight(hand_case(), opened, scores)
    assert judged("anchor", view) == approx((800.0, punch * 1.12))


def joints(case: Case, *wanted: GluedJoint) -> Case:
    """The case with these glue joints."""
    return replace(case, workshop=replace(case.workshop, joints=wanted))


@pytest.mark.parametrize(
    ("row", "part"),
    [("fin_bond", "fins"), ("fin_strike", "fins"), ("thrust_ring", "ring 2"), ("anchor", "ring 1")],
)
def test_a_bond_nobody_speaks_of_is_not_known(row: str, part: str) -> None:
    """Its part in no joint, or in one that does not say where it lay: asked for, never cured."""
    case = hand_case()
    (joint,) = case.workshop.joints
    left_out = replace(joint, parts=tuple(each for each in joint.parts if each != part))
    told = replace(left_out, name="other", parts=(part,), stays=())
    cases = ((left_out,), "joint[+].parts"), ((left_out, told), "joint[other].stay[+].time")
    for wanted, place in cases:
        made = joints(case, *wanted)
        found = ROWS[row].evaluate(one_flight(made, {"opening_force_n": 800.0, **FASTEST}))
        assert isinstance(found, Missing)
        assert place in {ask.place for ask in found.asks}
        assert not any(ask.place.startswith("glue[+]") for ask in found.asks)  # told once
    bare = ROWS[row].evaluate(one_flight(joints(case), {"opening_force_n": 800.0, **FASTEST}))
    assert isinstance(bare, Missing)
    assert "glue[+].cure" in {ask.place for ask in bare.asks}


def test_cure() -> None:
    """240 h at 11 degC (one sigma of the shed), Ea 58.6 +- 4 kJ/mol (memory)."""
    view = one_flight(hand_case(), {}, {"warmth:shed": 1.0, "cure_speed": 1.0})
    share = 240.0 / slowing(284.15, 62600.0) / 24.0
    assert judged("cure", view) == approx((1.0, share), rel=1e-5)


def test_nothing_cures_below_five_degrees() -> None:
    view = one_flight(hand_case(), {}, {"warmth:shed": -5.1})  # 278.05 K
    assert judged("cure", view) == approx((1.0, 0.0))
    view = one_flight(hand_case(), {}, {"warmth:shed": -4.9})
    assert judged("cure", view)[1] > 1.0


def test_glue_cold() -> None:
    """5 degC where the sheet says nothing (a coating text, seen)."""
    view = one_flight(hand_case(), {}, {"warmth:shed": 1.0})
    assert judged("glue_cold", view) == approx((278.15, 284.15))


def test_working_time() -> None:
    """40 min in the pot at 25 degC, 3.5 times that at 10; first time round 25 % a sigma."""
    view = one_flight(hand_case(), {}, {"glue_pace": 1.0, "working_time": 1.0})
    wanted = (1800.0 * 1.25, 2400.0 * slowing(283.15) * 1.15)
    assert judged("working_time", view) == approx(wanted, rel=1e-5)


def test_paint_dew() -> None:
    """Dew point by Magnus, a = 17.625, b = 243.04 degC [alduchov1996], + 3 K [iso2017]."""
    view = one_flight(hand_case(), {}, {"warmth:kitchen": 1.0, "humidity": 1.0})
    celsius, humid = 22.0, 0.65
    g = math.log(humid) + 17.625 * celsius / (243.04 + celsius)
    dew = 243.04 * g / (17.625 - g)
    assert dew == approx(15.13, abs=0.02)
    assert judged("paint_dew", view) == approx((dew + 3.0 + 273.15, 295.15))


@pytest.mark.parametrize(("humidity", "told"), [(0.84, False), (0.86, True)])
def test_paint_in_more_than_85_percent_is_told(humidity: float, told: bool) -> None:
    """ISO 8502-4 as quoted: not above 85 %."""
    case = hand_case()
    coat = replace(case.workshop.coats[0], humidity=humidity)
    case = replace(case, workshop=replace(case.workshop, coats=(coat,)))
    found = ROWS["paint_dew"].evaluate(one_flight(case))
    assert isinstance(found, Evaluation)
    assert bool(found.warnings) is told
    assert found.valid is not told


def test_paint_in_the_driest_air_there_is() -> None:
    """Humidity is cut at 5 %: below it no hygrometer of a workshop reads."""
    case = hand_case()
    coat = replace(case.workshop.coats[0], humidity=0.06)
    case = replace(case, workshop=replace(case.workshop, coats=(coat,)))
    g = math.log(0.05) + 17.625 * 20.0 / (243.04 + 20.0)
    wanted = 243.04 * g / (17.625 - g) + 3.0 + 273.15
    assert judged("paint_dew", one_flight(case, {}, {"humidity": -1.0}))[0] == approx(wanted)


def test_recoat() -> None:
    """From 3600 to 90000 s: middle 46800, half 43200; planned 50000."""
    assert judged("recoat", one_flight(hand_case())) == approx((3200.0, 43200.0))


def test_alignment() -> None:
    """Fins set by hand on a marked line: 0.5 deg, 1 mm over a 115 mm root."""
    view = one_flight(hand_case(), {}, {"cant:2": -2.0, "cant:1": 1.0})
    assert judged("alignment", view) == approx((math.radians(1.0), 0.035))
    # a project that states nothing has the same
    assert approx(1.0 / 115.0, rel=0.01) == defaults.ALIGNMENT_RAD
    assert math.radians(0.5) == approx(1.0 / 115.0, rel=0.01)


def test_closed_in() -> None:
    assert judged("closed_in", one_flight(hand_case())) == approx((1.0, 0.5))


def test_fasteners() -> None:
    assert judged("fasteners", one_flight(hand_case())) == approx((1.0, 0.5))
