"""Where it comes down, and whether it is seen at the top: worked by hand on one made-up flight."""

from dataclasses import replace

import pytest
from pytest import approx

from goodflight.studies.rows import Missing
from one_flight import ROWS, hand_case, judged, one_flight
from sample_case import field_says

EDGES = {"landing_east_m": 250.0, "landing_north_m": 50.0}


def test_each_kind_of_ground_by_itself() -> None:
    """A pond from 300 to 310 m east, a road from 200 to 205 m: 50 and 45 m away from 250 m."""
    case = hand_case()
    (ditch,) = case.site.keep_outs_m
    road = ("road", ((200.0, -100.0), (205.0, -100.0), (205.0, 200.0), (200.0, 200.0)))
    site = replace(case.site, keep_outs_m=(ditch, road), keep_out_kinds=("water", "road"))
    view = one_flight(replace(case, site=site), EDGES)
    assert judged("on_water", view) == approx((50.0, 0.0))
    assert judged("on_road", view) == approx((45.0, 0.0))
    for kind in ("trees", "lines", "crop"):
        other = replace(case, site=replace(site, keep_out_kinds=("water", kind)))
        assert judged(f"on_{kind}", one_flight(other, EDGES)) == approx((45.0, 0.0))
    # the same five, so that each is named here
    assert judged("on_water", view)[0] > judged("on_road", view)[0]


@pytest.mark.parametrize("key", ["on_trees", "on_lines", "on_crop", "on_water", "on_road"])
def test_ground_that_nobody_mapped_is_not_known(key: str) -> None:
    """A keep-out without a kind is no map of trees; saying that there are none is an answer."""
    case = hand_case()
    found = ROWS[key].evaluate(one_flight(case, EDGES))
    assert isinstance(found, Missing)
    assert [ask.place for ask in found.asks] == [f"outline[{key[3:]}]", f"not_there[{key[3:]}]"]
    said = replace(case, field_says=field_says(not_there=[key[3:]]))
    here = ROWS[key].evaluate(one_flight(said, EDGES))
    plain = {
        "on_water": "no water", "on_trees": "no trees", "on_lines": "no power lines",
        "on_road": "no road or track", "on_crop": "no standing crop",
    }  # fmt: skip
    assert here.not_here == f"the field's file says: {plain[key]} here"  # type: ignore[union-attr]
    assert found.asks[1].label == plain[key]


def test_kinds_in_the_words_of_the_rows() -> None:
    site = replace(hand_case().site, keep_out_kinds=("trees",))
    assert judged("on_trees", one_flight(replace(hand_case(), site=site), EDGES))[0] == approx(50.0)
    site = replace(hand_case().site, keep_out_kinds=("lines",))
    assert judged("on_lines", one_flight(replace(hand_case(), site=site), EDGES))[0] == approx(50.0)
    site = replace(hand_case().site, keep_out_kinds=("crop",))
    assert judged("on_crop", one_flight(replace(hand_case(), site=site), EDGES))[0] == approx(50.0)


def test_lost_from_sight() -> None:
    """400 m up and 300 m away: 500 m; 1 m is an arc-minute at 60 x 180 / pi = 3437.7 m."""
    did = {"apogee_m": 400.0, "apogee_east_m": 0.0, "apogee_north_m": 300.0}
    assert judged("lost_from_sight", one_flight(hand_case(), did)) == approx((500.0, 3437.747))
    dim = one_flight(hand_case(), did, {"eyesight": 1.0})  # 1.3 arc-minutes, cut above zero
    assert judged("lost_from_sight", dim)[1] == approx(3437.747 / 1.3, rel=0.01)


def test_battery_reserve() -> None:
    """Waits 2400 s; runs 6000 s at 10 degC, a tenth lost of a fifth at freezing."""
    demand, capacity = judged("battery_reserve", one_flight(hand_case(), {"landing_s": 100.0}))
    assert demand == approx(4800.0)
    assert capacity == approx(judged("battery", one_flight(hand_case(), {"landing_s": 100.0}))[1])
