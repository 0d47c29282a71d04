"""Properties of the studies' building blocks for any input."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm  # type: ignore[attr-defined]

from goodflight.physics.polygon import min_width_m, signed_distance_m
from goodflight.studies.judging.chance import wilson
from goodflight.studies.sampling.scores import column_scores, flight_seeds

counts = st.integers(1, 5000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))


@given(counts)
def test_interval_holds_the_chance_and_stays_a_chance(count: tuple[int, int]) -> None:
    found = wilson(*count)
    assert 0.0 <= found.low <= found.chance <= found.high <= 1.0


@given(counts)
def test_interval_is_mirrored(count: tuple[int, int]) -> None:
    failed, flights = count
    one, two = wilson(failed, flights), wilson(flights - failed, flights)
    assert one.low == pytest.approx(1.0 - two.high, abs=1e-12)


@given(st.text(min_size=1, max_size=20), st.integers(2, 400), st.integers(0, 10**6))
@settings(max_examples=50)
def test_scores_hold_one_value_from_every_stratum(name: str, flights: int, seed: int) -> None:
    strata = np.floor(norm.cdf(column_scores(name, flights, seed)) * flights - 1e-9).astype(int)
    assert np.unique(np.clip(strata, 0, flights - 1)).size >= flights - 1  # rounding at one edge


def test_seeds_differ() -> None:
    assert np.unique(flight_seeds(5000, 1)).size == 5000
    assert not np.array_equal(flight_seeds(10, 1), flight_seeds(10, 2))


angles = st.lists(st.floats(0.0, 2 * np.pi - 0.01), min_size=3, max_size=9, unique=True)


@given(angles, st.floats(10.0, 500.0), st.integers(0, 1000))
@settings(max_examples=100)
def test_signed_distance_agrees_with_an_independent_code(
    turns: list[float], size: float, seed: int
) -> None:
    generator = np.random.default_rng(seed)
    radii = size * generator.uniform(0.3, 1.0, len(turns))
    turns = sorted(turns)
    outline = [(r * np.cos(t), r * np.sin(t)) for r, t in zip(radii, turns, strict=True)]
    ring = shapely.Polygon(outline)
    if not ring.is_valid or ring.area < 1.0:
        return
    east, north = generator.uniform(-1.5 * size, 1.5 * size, (2, 50))
    found = signed_distance_m(east, north, outline)
    points = shapely.points(east, north)
    assert np.allclose(np.abs(found), shapely.distance(points, ring.exterior), atol=1e-6)
    clear = np.abs(found) > 1e-6
    assert np.array_equal((found < 0)[clear], shapely.contains(ring, points)[clear])


@given(st.floats(0.0, np.pi), st.floats(20.0, 900.0), st.floats(20.0, 900.0))
def test_least_width_of_a_turned_rectangle(turn: float, length: float, width: float) -> None:
    corners = np.array([[0, 0], [length, 0], [length, width], [0, width]])
    turned = corners @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    found = min_width_m([(x, y) for x, y in turned])
    assert found == pytest.approx(min(length, width), rel=1e-9)
