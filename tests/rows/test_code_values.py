"""Rows of the code by hand, on a code set whose figures are made up here."""

import math
from dataclasses import replace

from pytest import approx

from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import evaluate
from one_flight import ROWS, hand_case, judged, one_flight
from sample_case import within


def tall(height_m: float, case: Case | None = None) -> tuple[Case, dict[str, float]]:
    return case or hand_case(), {"apogee_m": height_m}


def test_motor_class() -> None:
    """Trapezoids of the label's curve: 0.05 x 100 + 0.9 x 100 + 0.05 x 100 = 100 N s."""
    assert judged("motor_class", one_flight(hand_case())) == approx((100.0, 160.0))


def test_code_thrust() -> None:
    """Weight against a quarter of the mean thrust, 100 N s over 1.1 s."""
    view = one_flight(hand_case(), {"liftoff_mass_kg": 1.8})
    assert judged("code_thrust", view) == approx((1.8 * 9.80665, 0.25 * 100.0 / 1.1))


def test_rail_angle() -> None:
    """Lean along and across taken together, 1 deg a standard deviation each (our guess)."""
    case = within(hand_case(), "rail", tilt_rad=math.radians(2.0))
    view = one_flight(case, {}, {"rail_along": 1.0, "rail_across": 4.0})
    assert judged("rail_angle", view) == approx((math.radians(5.0), 0.35))  # 3, 4, 5


def test_wind_limit() -> None:
    """4 m/s +- 1 by the plan."""
    assert judged("wind_limit", one_flight(hand_case(), {}, {"wind": 2.0})) == approx((6.0, 9.0))


def test_property_distance() -> None:
    """The greater of 460 m and half the height."""
    assert judged("property_distance", one_flight(*tall(800.0))) == approx((500.0, 460.0))
    assert judged("property_distance", one_flight(*tall(1200.0))) == approx((500.0, 600.0))


def test_crew_distance() -> None:
    """100 N s: the step up to 160 N s, 61 m."""
    assert judged("crew_distance", one_flight(hand_case())) == approx((60.0, 61.0))


def test_site_size() -> None:
    """Field of 400 by 300 m: 300 m wide at least. The greatest of 450 m, a quarter, the step."""
    assert judged("site_size", one_flight(*tall(500.0))) == approx((300.0, 450.0))
    case = hand_case()
    assert case.rules.code is not None and case.rules.code.site_m is not None
    small = replace(case.rules.code, site_m=replace(case.rules.code.site_m, value=100.0))
    small_field = within(case, "rules", code=small)
    assert judged("site_size", one_flight(*tall(500.0, small_field))) == approx((300.0, 350.0))
    no_steps = within(case, "rules", code=replace(small, site_steps_m=()))
    assert judged("site_size", one_flight(*tall(900.0, no_steps))) == approx((300.0, 225.0))


def test_cloud_base() -> None:
    assert judged("cloud_base", one_flight(*tall(650.0))) == approx((650.0, 800.0))


def test_cloud_cover() -> None:
    assert judged("cloud_cover", one_flight(hand_case())) == approx((4.0, 5.0))


def test_membership() -> None:
    """A day of the calendar against another: the last day itself still counts."""

    def told(until: str, launch: str) -> Case:
        case = within(hand_case(), "plan_says", member_until=until)
        return within(case, "workshop", launch_day=launch)

    for launch, late in (("2026-12-30", 0.0), ("2026-12-31", 0.0), ("2027-01-01", 1.0)):
        view = one_flight(told("2026-12-31", launch))
        assert judged("membership", view) == approx((late, 0.5)), launch
    rows = {r.limit.key: r for r in evaluate(one_flight(told("", "2027-01-01")))}
    assert rows["membership"].not_here  # nobody is asked who does not give it
    rows = {r.limit.key: r for r in evaluate(one_flight(told("2026-12-31", "")))}
    assert not rows["membership"].known and not rows["membership"].not_here


def test_airport() -> None:
    """9 km away where the code asks for 8 km: no rule broken; at 7 km one."""
    assert judged("airport", one_flight(hand_case())) == approx((0.0, 0.5))
    near = within(hand_case(), "field_says", airport="7000 m")
    assert judged("airport", one_flight(near)) == approx((1.0, 0.5))


def test_the_day_of_an_answer_is_kept() -> None:
    told = within(hand_case(), "plan_says", confirmed=["airport"], confirmed_on="2026-10-09")
    rows = {row.limit.key: row for row in evaluate(one_flight(told))}
    assert rows["airport"].answered == "2026-10-09"
    assert rows["night"].answered is None


def test_night() -> None:
    """A rule denied is one rule broken against none; a rule met is none."""
    assert judged("night", one_flight(within(hand_case(), "plan_says", denied=["night"]))) == (
        1.0,
        0.5,
    )
    assert judged("night", one_flight(within(hand_case(), "plan_says", confirmed=["night"]))) == (
        0.0,
        0.5,
    )


TOP = {"apogee_m": 300.0, "apogee_east_m": 100.0, "apogee_north_m": 0.0, "apogee_east_m_s": 0.0,
       "apogee_north_m_s": 0.0}  # fmt: skip
STILL = {"wind_m_s": 0.0, "dry_mass_kg": 1.7}


def test_unopened_reach_with_a_distance_alone() -> None:
    """Straight down 100 m from the pad: people at 500 m may be 400 m away, in any direction; the
    rocket is 1.0 m long and a person 0.3 m (RCC 321, memory)."""
    view = one_flight(hand_case(), TOP, {}, STILL)
    assert judged("unopened_reach", view) == approx((400.0, 1.3))


def test_unopened_reach_of_a_house_that_is_drawn() -> None:
    """House from 140 m east: 40 m beside the impact; with the impact inside, the rule is broken."""
    house = ((140.0, -10.0), (160.0, -10.0), (160.0, 10.0), (140.0, 10.0))
    case = hand_case()
    case = replace(case, site=replace(case.site, people_areas_m=(("house", house),)))
    assert judged("unopened_reach", one_flight(case, TOP, {}, STILL))[0] == approx(40.0)
    inside = one_flight(case, {**TOP, "apogee_east_m": 150.0}, {}, STILL)
    assert judged("unopened_reach", inside)[0] == approx(-10.0)


def test_unopened_reach_is_unknown_where_the_field_does_not_say() -> None:
    (row,) = evaluate(
        one_flight(within(hand_case(), "field_says", people=None), TOP), (ROWS["unopened_reach"],)
    )
    assert row.missing.startswith("say where people and property are")


def test_unopened_reach_says_how_many_eject_on_the_way_up() -> None:
    """A flight that ejects at 20 m/s upwards does not hold the apogee of an unopened one."""
    views = [
        one_flight(hand_case(), {**TOP, "ejection_climb_m_s": v}, {}, STILL) for v in (20.0, 2.0)
    ]
    climbing, slow = (evaluate(view, (ROWS["unopened_reach"],))[0].warnings for view in views)
    assert any("1 of 1 flights eject while they climb" in str(each) for each in climbing)
    assert not any("while they climb" in str(each) for each in slow)
