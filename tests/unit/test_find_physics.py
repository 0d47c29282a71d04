"""Weights, patches, lanes, sun and search against closed forms and printed examples."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon, contains_xy

from goodflight.physics.patch import grounds_of, patch_of
from goodflight.physics.polygon import lines_across_m, signed_distance_m
from goodflight.physics.sightings import (
    effective_count,
    log_agreement,
    log_aloft,
    most_likely,
    moved_scores,
    sight_rad,
    slopes,
    softened,
    tail_share,
    true_bearing_rad,
    weights_of,
)
from goodflight.physics.sun import (
    LAST_LIGHT_RAD,
    julian_day,
    sidereal_rad,
    sun_place_rad,
    sun_rises_s,
    sun_sinks_s,
)
from goodflight.physics.sweep import found_share, walk_s

Array = NDArray[np.float64]


def test_the_suns_place_is_that_of_the_worked_example() -> None:
    # Meeus, Astronomical Algorithms 1998, example 25.a, memory: 1992 October 13 at 0 h
    ascension, declination = sun_place_rad(2448908.5)
    assert math.degrees(ascension) % 360.0 == pytest.approx(198.38083, abs=5e-5)
    assert math.degrees(declination) == pytest.approx(-7.78507, abs=5e-5)


def test_days_and_sidereal_time_are_those_of_the_worked_examples() -> None:
    # Meeus 1998, examples 7.a (1957 October 4.81) and 12.a (1987 April 10, 0 h), memory
    assert julian_day(1957, 10, 4) + 0.81 == pytest.approx(2436116.31, abs=1e-9)
    assert julian_day(1987, 4, 10) == 2446895.5
    assert math.degrees(sidereal_rad(2446895.5)) == pytest.approx(197.693195, abs=1e-5)


def test_sunset_is_the_almanacs() -> None:
    # London, 20 June 2024: 21:21 British Summer Time in any almanac, memory; one minute
    sinks = sun_sinks_s(julian_day(2024, 6, 20), math.radians(51.5074), math.radians(-0.1278))
    assert sinks == pytest.approx((20 * 60 + 21) * 60, abs=60)


def test_where_the_sun_does_not_set_there_is_no_sunset() -> None:
    assert sun_sinks_s(julian_day(2024, 6, 20), math.radians(70.0), 0.0) is None
    winter = sun_sinks_s(julian_day(2024, 12, 20), math.radians(-70.0), 0.0, LAST_LIGHT_RAD)
    assert winter is None


def test_a_normal_scatter_has_the_patch_of_its_ellipse() -> None:
    # closed form: the share p of a normal lies in an ellipse of area -2 pi ln(1 - p) s1 s2
    rng = np.random.default_rng(1)
    along, across = rng.normal(0.0, 150.0, 40000), rng.normal(0.0, 40.0, 40000)
    east, north = 0.6 * along - 0.8 * across + 300.0, 0.8 * along + 0.6 * across
    grounds = grounds_of([(east, north, np.ones(40000))])
    for share in (0.5, 0.9):
        patch = patch_of(grounds, share)
        exact = -2.0 * math.pi * math.log(1.0 - share) * 150.0 * 40.0
        # what 40 000 points leave open of the share, in area: 2 sqrt(p (1 - p) / n) over its slope
        open_ = 2.0 * math.sqrt(share / (1.0 - share) / 40000.0) / -math.log(1.0 - share)
        assert patch.area_m2 == pytest.approx(exact, rel=open_ + 0.003)  # and the cells' edges
        held = sum(signed_distance_m(east, north, line) < 0.0 for line in patch.lines_m)
        assert held.mean() == pytest.approx(share, abs=0.015)


def bent(rng: np.random.Generator, count: int) -> tuple[Array, Array]:
    along = rng.normal(size=count)
    return 150.0 * along, 60.0 * along**2 + 30.0 * rng.normal(size=count)


def even(rng: np.random.Generator, count: int) -> tuple[Array, Array]:
    turn, out = rng.uniform(0.0, math.tau, count), 100.0 * np.sqrt(rng.random(count))
    return out * np.cos(turn), out * np.sin(turn)


@pytest.mark.parametrize("scatter", [bent, even])
@pytest.mark.parametrize("each", [1, 4])
def test_fresh_points_are_held_as_often_as_said_whatever_their_scatter(
    scatter: Callable[[np.random.Generator, int], tuple[Array, Array]], each: int
) -> None:
    # exact: no point takes part in its own density, so a fresh one is as likely beyond the edge;
    # each : a flight in as many winds, 5 m apart, is one flight
    rng, held = np.random.default_rng(4), {0.5: list[float](), 0.9: list[float]()}
    for _ in range(30):
        east, north = (np.repeat(found, each) for found in scatter(rng, 120))
        east += 5.0 * (np.arange(east.size) % each)
        ground = grounds_of([(east, north, np.ones(east.size))], each)
        fresh = scatter(rng, 400)
        for share, found in held.items():
            patch = MultiPolygon()
            for line in patch_of(ground, share).lines_m:
                patch = patch.symmetric_difference(Polygon(line).buffer(0.0))
            found.append(float(contains_xy(patch, *fresh).mean()))
    for share, found in held.items():
        error = np.std(found) / math.sqrt(len(found))
        assert np.mean(found) == pytest.approx(share, abs=3.0 * float(error) + 0.01), (share, error)


def test_ground_in_two_groups_counts_once() -> None:
    rng = np.random.default_rng(5)
    one = rng.normal(0.0, 50.0, 9000), rng.normal(0.0, 50.0, 9000), np.full(9000, 0.5 / 9000)
    patch = patch_of(grounds_of([one, one]), 0.9)
    exact = -2.0 * math.pi * math.log(0.1) * 50.0**2  # of either, so of both
    assert patch.area_m2 == pytest.approx(exact, rel=0.05)


def test_two_groups_far_apart_are_two_patches_by_their_shares() -> None:
    rng = np.random.default_rng(2)
    near = rng.normal(0.0, 20.0, 5000), rng.normal(0.0, 20.0, 5000), np.full(5000, 0.7 / 5000)
    far = rng.normal(900.0, 20.0, 5000), rng.normal(0.0, 20.0, 5000), np.full(5000, 0.3 / 5000)
    patch = patch_of(grounds_of([near, far]), 0.9)
    assert len(patch.lines_m) == 2
    held = sum(
        weight[0] * (signed_distance_m(east, north, line) < 0.0).sum()
        for east, north, weight in (near, far)
        for line in patch.lines_m
    )
    assert held == pytest.approx(0.9, abs=0.02)


def test_nothing_that_agrees_is_refused() -> None:
    with pytest.raises(ValueError, match="no flight agrees"):
        grounds_of([(np.zeros(3), np.zeros(3), np.zeros(3))])


def test_a_lone_point_keeps_a_patch_around_it() -> None:
    patch = patch_of(grounds_of([(np.array([70.0]), np.array([-5.0]), np.ones(1))]), 0.9)
    assert patch.area_m2 > 0.0
    assert signed_distance_m(np.array([70.0]), np.array([-5.0]), patch.lines_m[0])[0] < 0.0


def test_lanes_lie_inside_and_a_spacing_apart() -> None:
    # a rectangle of 100 x 40 m: five lanes of 100 m, 8 m apart, the first 4 m from the edge
    corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (0.0, 40.0)]
    lanes = lines_across_m([corners], math.pi / 2.0, 8.0)
    assert [round(start[1], 6) for start, _ in lanes] == [36.0, 28.0, 20.0, 12.0, 4.0]
    assert all(math.dist(*lane) == pytest.approx(100.0) for lane in lanes)


def test_a_hole_parts_a_lane() -> None:
    outer = [(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (0.0, 10.0)]
    hole = [(10.0, 0.5), (10.0, 9.5), (20.0, 9.5), (20.0, 0.5)]
    lanes = lines_across_m([outer, hole], math.pi / 2.0, 10.0)
    assert [round(math.dist(*lane), 6) for lane in lanes] == [10.0, 10.0]


def test_a_search_at_random_finds_what_koopman_says() -> None:
    # W L = A: 1 - 1/e; twice that length leaves 1/e squared
    assert found_share(800.0, 40.0, 20.0) == pytest.approx(1.0 - 1.0 / math.e)
    assert found_share(800.0, 80.0, 20.0) == pytest.approx(1.0 - math.exp(-2.0))
    assert walk_s(80.0, 2.0, 0.8) == pytest.approx(50.0)


def test_weights_follow_bayes_rule() -> None:
    # two flights 1 s and 3 s off a time good to 1 s: odds exp(-1/2) to exp(-9/2)
    weights = weights_of(log_agreement(np.array([1.0, 3.0]), 1.0), np.full(2, 0.5))
    assert weights[0] / weights[1] == pytest.approx(math.exp(4.0))
    aloft = log_aloft(np.array([60.0, 58.0, np.nan]), 60.0, 2.0)
    assert np.exp(aloft) == pytest.approx([0.5, 0.158655, 0.0], abs=1e-6)  # Phi(-1), any table


def test_a_normal_narrowed_by_readings_is_the_exact_one() -> None:
    # y = 2 z + 1 read as 0 with error 1: mean -2/5, variance 1/5, by hand
    found, rest = np.array([[2.0], [1.0]]), np.array([0.0])
    directions, mean, covariance = most_likely(found, rest)
    assert float(directions[0, 0] * mean[0]) == pytest.approx(-0.4)
    assert covariance[0, 0] == pytest.approx(0.2)
    rng = np.random.default_rng(3)
    moved = moved_scores(rng.normal(size=(20000, 1)), directions, mean, covariance)
    assert moved.mean() == pytest.approx(-0.4, abs=0.01)
    assert moved.var() == pytest.approx(0.2, rel=0.04)


def test_slopes_leave_over_what_no_score_explains() -> None:
    rng = np.random.default_rng(4)
    z, noise = rng.normal(size=(20000, 3)), rng.normal(0.0, 0.5, 20000)
    found, rest = slopes(z, (3.0 * z[:, 0] - z[:, 2] + 2.0 + noise)[:, None], np.ones(20000))
    assert found.ravel() == pytest.approx([3.0, 0.0, -1.0, 2.0], abs=0.02)
    assert rest[0] == pytest.approx(0.25, rel=0.04)


def test_how_odd_an_entry_is() -> None:
    rng = np.random.default_rng(5)
    flights = rng.normal(0.0, 3.0, 20000)
    # spread 3 and error 4: sd 5; ten away is two sd, 4.55 in 100 on both sides, any table
    assert tail_share(flights - 10.0, 4.0, np.ones(20000)) == pytest.approx(0.0455, abs=0.004)
    assert math.isnan(tail_share(flights, 4.0, np.zeros(20000)))


def test_softened_weights_are_worth_what_was_asked() -> None:
    logs = log_agreement(np.linspace(0.0, 40.0, 500), 0.05)
    prior = np.full(500, 1.0 / 500)
    assert effective_count(weights_of(logs, prior)) < 3.0
    assert effective_count(softened(logs, prior, 30.0)) == pytest.approx(30.0, rel=0.01)


def test_bearings() -> None:
    assert math.degrees(sight_rad(10.0, 10.0, (10.0, 0.0))) == pytest.approx(0.0)
    assert math.degrees(sight_rad(-1.0, 0.0, (0.0, 0.0))) == pytest.approx(270.0)
    east = true_bearing_rad(math.radians(358.0), math.radians(3.0))
    assert math.degrees(east) == pytest.approx(1.0)


def test_sunrise_is_the_almanacs() -> None:
    # London, 20 June 2024: 04:43 British Summer Time in any almanac, memory; one minute
    place = math.radians(51.5074), math.radians(-0.1278)
    rises = sun_rises_s(julian_day(2024, 6, 20), *place)
    assert rises == pytest.approx((3 * 60 + 43) * 60, abs=60)
    # the same height on both sides of noon: noon is half way but for the day's drift, seconds
    sinks = sun_sinks_s(julian_day(2024, 6, 20), *place)
    assert sinks is not None and rises is not None
    assert 0.5 * (sinks + rises) == pytest.approx(43200 + 0.1278 * 240 + 105, abs=20)
    assert sun_rises_s(julian_day(2024, 6, 20), math.radians(70.0), 0.0) is None
