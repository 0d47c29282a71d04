"""Rows at their edges by hand: what is cut off, what counts as none, the worst of two."""

import math
from dataclasses import replace

import pytest
from pytest import approx

from goodflight.physics.flight.registry import BY_ALTIMETER
from goodflight.physics.vehicle.parts import Bulkhead, Ring
from goodflight.studies.case.planned import Case
from goodflight.studies.case.workshop import Device
from goodflight.studies.rows import Evaluation, Missing, parting, separation_drag
from one_flight import ROWS, hand_case, judged, one_flight, with_separation
from sample_case import within

TRIANGLE = ((0.0, 0.0), (300.0, 0.0), (0.0, 400.0))  # 3, 4, 5: 240 m across its long side


def test_limits_that_spread_cannot_turn_round() -> None:
    """However far off the middle: a margin of 0, no angle, 5 m/s."""
    did = {"min_margin_cal": 1.0, "main_opening_m_s": 9.0, "margin_exit_cal": 1.0,
           "rail_exit_incidence_rad": 0.1, "spin_incidence_rad": 0.1}  # fmt: skip
    case = within(hand_case(), "deployment", main_canopy=hand_case().deployment.canopy)
    far = {"stall": -9.0, "main_speed": -9.0}
    view = one_flight(case, did, far)
    assert judged("margin_small", view)[1] == 0.0
    assert judged("rail_exit", view)[1] == 0.0
    assert judged("drogue_speed", view)[1] == 5.0
    assert judged("spin_pitch", view)[1] == 0.0


def test_a_field_of_three_corners_is_a_field() -> None:
    case = hand_case()
    case = replace(case, site=replace(case.site, outline_m=TRIANGLE))
    did = {"apogee_m": 500.0, "landing_east_m": -30.0, "landing_north_m": 100.0}
    assert judged("site_size", one_flight(case, did))[0] == approx(240.0)
    assert judged("off_field", one_flight(case, did))[0] == approx(30.0)


def test_the_nearest_of_two_keep_outs() -> None:
    case = hand_case()
    (ditch,) = case.site.keep_outs_m
    road = ((200.0, -100.0), (210.0, -100.0), (210.0, 200.0), (200.0, 200.0))
    case = replace(case, site=replace(case.site, keep_outs_m=(ditch, ("road", road))))
    did = {"landing_east_m": 230.0, "landing_north_m": 50.0}
    assert judged("keep_out", one_flight(case, did))[0] == approx(20.0)


def test_ejected_level_is_not_climbing() -> None:
    hardly = {"ejection_m_s": 21.0, "ejection_climb_m_s": 0.05}
    assert judged("too_early", one_flight(hand_case(), hardly))[0] == 21.0
    assert judged("too_late", one_flight(hand_case(), hardly))[0] == 0.0
    level = {"ejection_m_s": 21.0, "ejection_climb_m_s": 0.0}
    assert judged("too_late", one_flight(hand_case(), level))[0] == 21.0


def test_nothing_fires() -> None:
    """Not ejected before the ground: height 0, and speed does not count; no delay: 0 against 1."""
    needed = 10.0 + 8.0 * math.sqrt(4.0 / math.pi)
    assert judged("nothing_opens", one_flight(hand_case())) == approx((0.0, needed))
    plugged = replace(hand_case(), motor=replace(hand_case().motor, delay_s=None))
    assert judged("nothing_opens", one_flight(plugged)) == (0.0, 1.0)


def test_the_first_battery_to_run_out() -> None:
    """A flight that has no landing counts its wait; no device on board needs nothing."""
    devices = tuple(Device("x", run, 9e3, temperature_k=293.15) for run in (6000.0, 5000.0))
    view = one_flight(within(hand_case(), "deployment", devices=devices))
    assert judged("battery", view) == approx((2400.0, 5000.0))
    none = within(hand_case(), "deployment", devices=(Device("none", on_board=False),))
    assert judged("battery", one_flight(none)) == (0.0, 1.0)
    assert judged("recording", one_flight(none)) == (0.0, 1.0)
    for row in ("battery", "battery_reserve"):  # an altimeter opens it, so there is one
        found = ROWS[row].evaluate(one_flight(within(none, "deployment", by=BY_ALTIMETER)))
        assert isinstance(found, Missing)
        places = [ask.place for ask in found.asks]
        assert places == ["device[+].name", "device[+].run_time"]
    dead = tuple(Device("x", run, 9e3, temperature_k=293.15) for run in (1000.0, None))
    view = one_flight(within(hand_case(), "deployment", devices=dead))
    assert judged("battery", view) == approx((2400.0, 1000.0))


def test_a_device_that_does_not_say_how_long_it_records() -> None:
    """Unknown, and asked for; one that records nothing needs nothing; 2400 s of wait.

    What another one records does not answer for it, unless that one stops too soon by itself.
    """
    silent, deaf = Device("x", 6000.0), Device("y", 6000.0, records=False)
    camera = replace(silent, name="camera", recording_s=7200.0)
    for devices, known in (
        ((silent,), None),
        ((silent, deaf), None),
        ((silent, camera), None),
        ((silent, replace(camera, recording_s=1200.0)), (2400.0, 1200.0)),
        ((deaf,), (0.0, 1.0)),
        ((deaf, replace(silent, recording_s=7200.0)), (2400.0, 7200.0)),
    ):
        view = one_flight(within(hand_case(), "deployment", devices=devices))
        if known is None:
            found = ROWS["recording"].evaluate(view)
            assert isinstance(found, Missing)
            places = [ask.place for ask in found.asks]
            assert places == ["device[x].recording", "device[x].kind"]
        else:
            assert judged("recording", view) == approx(known)


def test_a_device_that_begins_to_record_at_lift_off() -> None:
    """90 s of flight against its memory, not 2400 s of wait and them; unknown counts the wait.

    Of two the one with the least left stands: 1000 - 90 s against 3000 - 2490 s.
    """
    logger = Device("x", 6000.0, recording_s=1000.0)
    by_itself, camera = replace(logger, from_lift_off=True), Device("c", 6000.0, recording_s=3000.0)
    for devices, known in (
        ((logger,), (2490.0, 1000.0)),
        ((by_itself,), (90.0, 1000.0)),
        ((by_itself, camera), (2490.0, 3000.0)),
        ((by_itself, replace(camera, recording_s=4000.0)), (90.0, 1000.0)),
    ):
        case = within(hand_case(), "deployment", devices=devices)
        assert judged("recording", one_flight(case, {"landing_s": 90.0})) == approx(known)
    for says, told in ((None, True), (False, False)):
        case = within(hand_case(), "deployment", devices=(replace(logger, from_lift_off=says),))
        warned = ROWS["recording"].evaluate(one_flight(case, {"landing_s": 90.0}))
        assert isinstance(warned, Evaluation) and bool(warned.warnings) is told
    unasked = within(hand_case(), "deployment", devices=(by_itself,), pad_wait_s=None)
    assert judged("recording", one_flight(unasked, {"landing_s": 90.0})) == approx((90.0, 1000.0))
    waits = within(hand_case(), "deployment", devices=(by_itself, logger), pad_wait_s=None)
    found = ROWS["recording"].evaluate(one_flight(waits, {"landing_s": 90.0}))
    assert isinstance(found, Missing) and [ask.label for ask in found.asks] == ["wait at the pad"]


def two_joints() -> Case:
    case = hand_case()
    (joint,) = case.workshop.joints
    rings = replace(
        joint,
        name="rings",
        parts=("fins",),
        min_k=281.15,
        work_s=7000.0,
        stays=(replace(joint.stays[0], place="attic", hours=0.0),),
    )
    return replace(case, workshop=replace(case.workshop, joints=(joint, rings)))


def test_the_worst_of_two_joints() -> None:
    """Stuck just now: not cured at all, and a thousandth of its strength is left to divide by."""
    view = one_flight(two_joints(), {"max_speed_m_s": 80.0, "max_mach": 0.4,
                                     "max_pressure_pa": 4000.0})  # fmt: skip
    assert judged("cure", view) == approx((1.0, 0.0))
    assert judged("glue_cold", view) == approx((281.15, 283.15))
    assert judged("working_time", view)[0] == approx(7000.0)
    # fin bond of 26.7 N m as in test_structure_values.py
    assert judged("fin_bond", view)[1] == approx(0.001 * 26.7 / 1.25)


def test_an_anchor_in_a_bulkhead() -> None:
    """One glue line, of its outside: no hole in it."""
    case = hand_case()
    plate = Bulkhead("plate", 0.72, thickness_m=0.005, diameter_m=0.076)
    parts = (*(part for part in case.rocket.parts if not isinstance(part, Ring)), plate)
    case = replace(case, rocket=replace(case.rocket, parts=parts))
    did = {"opening_m_s": 15.0, "opening_m": 500.0, "opening_force_n": 800.0}
    glue = 0.45e6 * math.pi * 0.076 * 0.005 * 3.0
    assert judged("anchor", one_flight(case, did))[1] == approx(glue)


@pytest.mark.parametrize(("score", "share"), [(80.0, 1.0), (-9.0, 0.01)])
def test_no_more_than_all_of_the_drag_is_ahead(
    monkeypatch: pytest.MonkeyPatch, score: float, share: float
) -> None:
    """A share stays between none and all; a spread leaves a tenth of the figure."""
    monkeypatch.setattr(separation_drag, "share_ahead", lambda rocket, station_m: 0.1)
    drawn = separation_drag.drawn_share(one_flight(hand_case(), {}, {"drag_share": score}))
    assert float(drawn[0]) == approx(share, rel=0.02)


def test_what_slides_apart() -> None:
    """160 mm of coupler, 100 mm ahead of the joint; without it the shoulder of the nose."""
    assert parting.engaged_m(one_flight(hand_case())) == approx(0.06)
    aft = with_separation(hand_case(), coupler_in="aft")
    assert parting.engaged_m(one_flight(aft)) == approx(0.10)
