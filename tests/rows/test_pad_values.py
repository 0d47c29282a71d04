"""Rows of pad, boost and coast by hand: every figure in a sum below is this file's own.

A flight is made up and one quantity at a time stands off its middle by whole standard deviations,
so that formula, constants and spread are all in the expected number. "practice" = common practice,
no source.
"""

import math
from dataclasses import replace

import numpy as np
from pytest import approx

from goodflight.physics.flight.registry import OUTCOME_INDEX
from goodflight.physics.vehicle.parts import Buttons, Coupler
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.rows import Evaluation, View
from one_flight import ROWS, air_kg_m3, hand_case, judged, one_flight, with_part
from sample_case import within

OVER = {  # what drives a row over its limit, see unit/test_studies_limit_states.py
    "coupler_short": lambda c: with_part(c, Coupler, station_m=0.44, length_m=0.05),
    "burnout_lean": lambda c: within(c, "rail", tilt_rad=math.radians(25.0)),
}


def test_thrust_to_weight() -> None:
    """Floor of 3 (practice), one standard deviation 0.3 (our guess)."""
    view = one_flight(hand_case(), {"thrust_to_weight": 5.2}, {"thrust_floor": 1.0})
    assert judged("thrust_to_weight", view) == approx((5.2, 3.3))


def test_thrust_between_floor_and_aim_is_said() -> None:
    """Practice, no source: 3 is the floor, 5 the aim; between them the row is met and says so."""
    said = {}
    for thrust in (2.9, 3.5, 4.9, 5.1):
        (row,) = evaluate(
            one_flight(hand_case(), {"thrust_to_weight": thrust}), (ROWS["thrust_to_weight"],)
        )
        said[thrust] = (
            bool(row.failing[0]),
            any("below the 5" in str(each) for each in row.warnings),
        )
    assert said == {2.9: (True, False), 3.5: (False, True), 4.9: (False, True), 5.1: (False, False)}


def test_rail_exit() -> None:
    """Margin used up at CNa m0 / (K lc), cross-flow K = 1.2 eta Ap / A [allen1951], or stall."""
    did = {"rail_exit_incidence_rad": 0.12, "margin_exit_cal": 0.6}
    # Mach 0.06 is the table's row 3
    slope = 2.0 + 8.03
    cp = (2.0 * 0.15 + 8.03 * 0.92) / slope  # 0.7665 m
    cross = 0.65 * 1.2 * 0.08 / 0.005  # 12.48
    lever = (cp - 0.6 * 0.08 - 0.50) / 0.08  # CG 2.731 calibres aft of the side area's centre
    used_up = slope * 0.6 / (cross * lever)  # 0.1766 rad
    found = judged("rail_exit", one_flight(hand_case(), did))
    assert found == approx((0.12, used_up), rel=1e-6)
    # with twice the margin the fins let go first: 15 deg, and 5 deg a standard deviation
    view = one_flight(hand_case(), {**did, "margin_exit_cal": 1.2}, {"stall": 1.0})
    assert judged("rail_exit", view) == approx((0.12, math.radians(20.0)), rel=1e-5)


def test_guides() -> None:
    """q A CNa atan(w / v) at the CP, levers between the guides, lean of the weight."""
    did = {"rail_exit_m_s": 20.0, "rail_exit_wind_m_s": 5.0, "liftoff_mass_kg": 1.8}
    view = one_flight(hand_case(), did, {"guide_strength": 1.0}, {"rail_tilt_rad": 0.1})
    side = (
        0.5 * air_kg_m3(0.0) * (20.0**2 + 5.0**2) * 0.005 * 10.03 * math.atan(5.0 / 20.0)
    )  # 3.137 N
    cp = (0.30 + 8.03 * 0.92) / 10.03
    aft = side * (cp - 0.60) / 0.30  # guides at 0.60 and 0.90 m: 1.740 N aft, 1.397 N fore
    load = max(aft, side - aft) + 1.8 * 9.80665 * math.sin(0.1)
    # 200 N, a quarter more at one standard deviation
    assert judged("guides", view) == approx((load, 250.0), rel=1e-5)
    # CP at the forward third: the forward guide carries more
    view = one_flight(
        with_part(hand_case(), Buttons, station_m=0.75), did, {}, {"rail_tilt_rad": 0}
    )
    fore = side * (1.0 - (cp - 0.75) / 0.15)
    assert judged("guides", view) == approx((fore, 200.0), rel=1e-5)


def test_burnout_lean() -> None:
    """The axis 12 deg from vertical, against 20 (practice): pi/15 and pi/9."""
    view = one_flight(hand_case(), {"burnout_tilt_rad": math.radians(12.0)})
    assert judged("burnout_lean", view) == approx((0.209440, 0.349066), rel=1e-5)
    # a flight that never burnt out is not judged
    found = ROWS["burnout_lean"].evaluate(one_flight(hand_case()))
    assert isinstance(found, Evaluation) and found.applies is not None
    assert not found.applies.any()


def test_coupler_short() -> None:
    """Coupler from 0.30 to 0.46 m, joint at 0.40: 60 mm of an 80 mm body; floor 0.5 (practice)."""
    assert judged("coupler_short", one_flight(hand_case())) == approx((0.75, 0.5))
    # a quarter more at one standard deviation (practice)
    asks = one_flight(hand_case(), {}, {"coupler_need": 1.0})
    assert judged("coupler_short", asks)[1] == approx(0.625, rel=0.01)
    ahead = with_part(hand_case(), Coupler, station_m=0.36)  # 40 mm ahead, 120 mm behind
    assert judged("coupler_short", one_flight(ahead))[0] == approx(0.5)
    # between floor and aim the row is met and says so
    deep = with_part(hand_case(), Coupler, station_m=0.316, length_m=0.168)  # 84 mm each: 1.05
    said = [ROWS["coupler_short"].evaluate(one_flight(case)) for case in (hand_case(), deep)]
    below = [any("below the 1 that" in str(w) for w in each.warnings) for each in said]
    assert below == [True, False]


def test_motor_room() -> None:
    """The bay ends at 0.46 + 0.30 m, the motor at 1.00 m: 240 mm for one of 200 mm."""
    assert judged("motor_room", one_flight(hand_case())) == approx((0.20, 0.24))


def test_liftoff_mass() -> None:
    """1.8 kg against the 2.5 kg of a maker's sheet, made up; without one it is not known."""
    case = hand_case()
    limited = replace(case, motor=replace(case.motor, max_liftoff_kg=2.5))
    view = one_flight(limited, {"liftoff_mass_kg": 1.8})
    assert judged("liftoff_mass", view) == approx((1.8, 2.5))
    unknown = ROWS["liftoff_mass"].evaluate(one_flight(case))
    assert not isinstance(unknown, Evaluation) and "max_liftoff_mass" in unknown.asks[0].place


def test_battery() -> None:
    """Wait and flight against t (1 - loss (293 K - T) / 20 K); a fifth at 0 degC (practice)."""
    scores = {"pad_wait": 0.5, "battery_life": 1.0, "cold_loss": 1.0}
    view = one_flight(hand_case(), {"landing_s": 120.0}, scores)
    wait = 2400.0 + 0.5 * 600.0
    lost = 0.2 * 1.3 * (293.15 - 283.15) / (293.15 - 273.15)  # 0.13
    runs = 6000.0 * 1.1 * (1.0 - lost)  # 5742 s
    assert judged("battery", view) == approx((wait + 120.0, runs))


def test_battery_at_the_temperature_of_the_day() -> None:
    """A cell with no temperature of its own has the day's: 1.5 K a standard deviation."""
    case = hand_case()
    case = within(
        case, "deployment", devices=(replace(case.deployment.devices[0], temperature_k=None),)
    )
    view = one_flight(case, {"landing_s": 120.0}, {"temperature": -2.0})
    assert judged("battery", view) == approx((2520.0, 6000.0 * (1.0 - 0.2 * 6.15 / 20.0)))


def test_a_battery_in_the_warm_and_one_that_is_all_but_gone() -> None:
    """Warmer than 20 degC gains nothing; a twentieth is always left (ours)."""
    case, did = hand_case(), {"landing_s": 120.0}
    for kelvin, loss, left in ((298.15, 0.2, 1.0), (273.15, 1.5, 0.05)):
        device = replace(case.deployment.devices[0], temperature_k=kelvin, cold_loss=loss)
        view = one_flight(within(case, "deployment", devices=(device,)), did)
        assert judged("battery", view)[1] == approx(6000.0 * left)


def test_recording() -> None:
    view = one_flight(hand_case(), {"landing_s": 120.0})
    assert judged("recording", view) == approx((2520.0, 7200.0))


def test_margin_small() -> None:
    """Neutral is the limit: the 1 calibre of practice has no second vote."""
    view = one_flight(hand_case(), {"min_margin_cal": 1.3})
    assert judged("margin_small", view) == approx((1.3, 0.0))


def test_three_margins_stand_side_by_side() -> None:
    """Short form by hand [barrowman1967]: ogive nose 2 at 0.466 of 0.2 m; three fins of 0.1 x 0.1 m
    at 0.90 m, aspect ratio 2, 2 pi 2 / (2 + sqrt 8) = 2.603, x 1.5 x 0.01 / 0.0050265 x
    (1 + 0.04 / 0.14) = 9.985 at 0.925 m: CP 0.7862 m. CG from the margin at rail exit, 0.7185 m."""
    did = {"min_margin_cal": 1.3, "margin_exit_cal": 0.6, "min_margin_incidence_cal": 0.9}
    view = one_flight(hand_case(), did, {}, {"dry_cg_m": 0.70})
    found = ROWS["margin_small"].evaluate(view)
    assert isinstance(found, Evaluation)
    short = (0.7862 - 0.7185) / 0.08
    said = {name: figure.value for name, figure in found.limits.items()}
    assert said == approx({"short": short, "long": 1.3, "gust": 0.9}, abs=2e-3)
    assert not found.valid and "low margin: 0.84 cal by the short form" in str(found.warnings[0])


def test_margin_small_warns_below_one_calibre_by_the_short_form_or_in_the_gust() -> None:
    def told(exit_cal: float, gust_cal: float) -> bool:
        did = {"min_margin_cal": 2.0, "margin_exit_cal": exit_cal,
               "min_margin_incidence_cal": gust_cal}  # fmt: skip
        found = ROWS["margin_small"].evaluate(one_flight(hand_case(), did, {}, {"dry_cg_m": 0.5}))
        return bool(getattr(found, "warnings", ()))

    assert told(0.74, 1.5)  # the short form is 0.246 calibres aft of this made-up table's CP
    assert not told(0.77, 1.5)
    assert told(0.77, 0.99)


def test_margin_gust() -> None:
    view = one_flight(hand_case(), {"min_margin_incidence_cal": 0.4})
    assert judged("margin_gust", view) == approx((0.4, 0.0))


def test_flutter() -> None:
    """TN 4197 [martin1958]: V goes with a sqrt(G / p); here 200 m/s at sea level.

    At 600 m over a pad at 290 K and 100 kPa: lapse 6.5 K/km, p (T / T0)^5.2559 [usstd1976].
    """
    did = {"max_speed_m_s": 90.0, "max_speed_height_m": 600.0}
    view = one_flight(hand_case(), did, {"shear_modulus": 1.0, "flutter_model": 1.0})
    warm = 290.0 - 0.0065 * 600.0
    pressure = 100000.0 * (warm / 290.0) ** 5.2559
    sound = math.sqrt(1.4 * 287.053 * warm)
    at_sea = math.sqrt(1.4 * 287.053 * 288.15)  # 340.29 m/s
    stands = 200.0 * sound / at_sea * math.sqrt(101325.0 / pressure)
    stands *= math.sqrt(1.15) * 1.10  # stiffness 15 %, formula 10 %
    assert judged("flutter", view) == approx((90.0, stands), rel=1e-4)


def test_model_range() -> None:
    """Mach 1.5 and 25 deg: the greater share used counts."""
    fast = one_flight(hand_case(), {"max_mach": 0.6, "max_incidence_rad": 0.05})
    assert judged("model_range", fast) == approx((0.4, 1.0))
    wild = one_flight(hand_case(), {"max_mach": 0.3, "max_incidence_rad": 0.349066})
    assert judged("model_range", wild) == approx((20.0 / 25.0, 1.0), rel=1e-5)


def test_model_range_is_told_from_mach_0_8() -> None:
    """Drag rises from there: the row is not shown as valid."""
    for mach, told in ((0.79, False), (0.81, True)):
        found = ROWS["model_range"].evaluate(one_flight(hand_case(), {"max_mach": mach}))
        assert isinstance(found, Evaluation)
        assert found.valid is not told


def test_model_range_of_a_flight_that_gave_up() -> None:
    """It fails, and has no figures: none is made up for it."""
    view = one_flight(hand_case(), {"status": 2.0, "max_mach": 0.3})
    (row,) = evaluate(view, (ROWS["model_range"],))
    assert row.failing.tolist() == [True]
    assert math.isnan(row.demand[0]) and math.isnan(row.reserve[0])
    assert any("could not be computed" in str(each) for each in row.warnings)


def test_weathercock() -> None:
    """Ejected climbing: what is level of the speed is left at the top; else the speed at apogee.

    Gear may open at 25 m/s (practice: alarm from 25 to 30), 3.04 a standard deviation: 5 in 100
    break at 20 m/s, 25 - 1.645 x 3.04 = 20.0.
    """
    climbing = {"ejection_m_s": 20.0, "ejection_climb_m_s": 16.0, "apogee_m_s": 9.0}
    view = one_flight(hand_case(), climbing, {"deploy_speed": -1.645})
    assert judged("weathercock", view) == approx((12.0, 20.0), abs=1e-3)
    falling = one_flight(hand_case(), {**climbing, "ejection_climb_m_s": -16.0})
    assert judged("weathercock", falling) == approx((9.0, 25.0))


def test_ceiling() -> None:
    assert judged("ceiling", one_flight(hand_case(), {"apogee_m": 612.0})) == approx((612.0, 700.0))


def test_spin_pitch() -> None:
    """Flown angle of attack near the pitch frequency, against the stall: 15 deg, 5 a sigma."""
    view = one_flight(
        hand_case(), {"spin_incidence_rad": 0.12, "max_spin_ratio": 0.8}, {"stall": 1.0}
    )
    assert judged("spin_pitch", view) == approx((0.12, math.radians(20.0)), rel=1e-5)


def test_spin_through_the_pitch_frequency_is_told() -> None:
    for ratio, told in ((0.99, False), (1.01, True)):
        view = one_flight(hand_case(), {"spin_incidence_rad": 0.1, "max_spin_ratio": ratio})
        found = ROWS["spin_pitch"].evaluate(view)
        assert isinstance(found, Evaluation)
        assert found.valid is not told
        assert any("not computed" in str(each) for each in found.warnings) is told


def test_one_flight_in_twenty_may_spin_as_fast_as_its_nose_swings() -> None:
    """50 of 1000 flights through the pitch frequency are told, from 51 on the row is in doubt."""
    for many, valid in ((50, True), (51, False)):
        one = one_flight(hand_case(), {"spin_incidence_rad": 0.1, "max_spin_ratio": 0.5})
        outcomes = np.repeat(one.outcomes, 1000, axis=0)
        outcomes[:many, OUTCOME_INDEX["max_spin_ratio"]] = 1.2
        trials = one.trials.part(np.zeros(1000, dtype=np.int64))
        found = ROWS["spin_pitch"].evaluate(View(one.case, trials, outcomes, masks_only=True))
        assert isinstance(found, Evaluation)
        assert found.valid is valid
        assert any(f"{many} of 1000 flights spin" in str(words) for words in found.warnings)


def test_cant_that_brings_the_spin_to_its_limit() -> None:
    """Roll goes with the mean cant: 2 / 3 of one fin's 0.5 deg at twice the declared spread."""
    from goodflight.studies.rows.spin import cant_limit, ratio_of

    view = one_flight(hand_case(), {"max_spin_ratio": 0.3}, {"cant:1": 2.0})
    mean = math.radians(0.5) * 2.0 / 3.0
    found = cant_limit(view)
    assert found is not None
    angle = math.sqrt(0.5) / (float(ratio_of(view)[0]) / mean)
    assert found.angle_rad == approx(angle)
    assert found.tip_m == approx(0.1 * math.sin(angle))  # trailing corner 100 mm behind the root
