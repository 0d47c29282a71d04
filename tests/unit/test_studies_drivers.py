"""Total-effect indices from the shared polynomial, against exact indices."""

import numpy as np
import pytest

from goodflight.studies.judging.drivers import (
    LEFT_OUT,
    group_effects,
    named_drivers,
    smooth_tails,
    total_effects,
    total_index_jansen,
)
from goodflight.studies.sampling.scores import normal_scores

NAMES = tuple(f"q{i}" for i in range(12))


def scores(flights: int = 2000, count: int = 12) -> np.ndarray:
    return normal_scores(NAMES[:count], flights, 5)


def test_linear_shares_are_squares_of_the_slopes() -> None:
    """Exact: y = sum a_i z_i has S_Ti = a_i^2 / sum a^2."""
    z = scores()
    shares, left = total_effects(z, (3 * z[:, 0] + 4 * z[:, 1])[:, None])
    assert shares[0, :2] == pytest.approx([9 / 25, 16 / 25], abs=1e-6)
    assert shares[0, 2:].max() < 1e-6
    assert left[0] < 1e-9


def test_squares_and_products() -> None:
    """Exact for y = z0 + z1 z2 + 0.5 (z3^2 - 1): variances 1, 1, 0.5; a product counts for both."""
    z = scores()
    y = z[:, 0] + z[:, 1] * z[:, 2] + 0.5 * (z[:, 3] ** 2 - 1)
    shares, left = total_effects(z, y[:, None])
    # 0.02: sample variance of 2000 flights
    assert shares[0, :4] == pytest.approx([0.4, 0.4, 0.4, 0.2], abs=0.02)
    assert left[0] < 1e-9


def test_what_the_fit_leaves_is_reported() -> None:
    """Exact: noise of the same variance as the signal leaves half."""
    z = scores()
    noise = np.random.default_rng(3).standard_normal(2000)
    shares, left = total_effects(z, (z[:, 0] + noise)[:, None])
    assert shares[0, 0] == pytest.approx(0.5, abs=0.03)
    assert left[0] == pytest.approx(0.5, abs=0.03)
    assert shares[0, 1:].max() < 0.01  # noise is not handed to bystanders


def test_pure_noise_has_no_driver() -> None:
    z = scores()
    noise = np.random.default_rng(4).standard_normal((2000, 5))
    shares, left = total_effects(z, noise)
    assert shares.max() < 0.012
    assert left.min() > 0.95


def test_a_constant_row_has_no_driver() -> None:
    shares, left = total_effects(scores(), np.full((2000, 1), 7.0))
    assert shares.sum() == 0.0
    assert left[0] == 0.0


def test_few_draws_still_find_the_strongest() -> None:
    z = scores(40)
    shares, _ = total_effects(z, (5 * z[:, 2] + 0.1 * z[:, 7])[:, None])
    assert int(np.argmax(shares[0])) == 2


def test_groups_add_up() -> None:
    z = scores(500, 3)
    names, shares, _ = group_effects(z, ["fins", "fins", "wind"], z.sum(axis=1)[:, None])
    assert names == ("fins", "wind")
    assert shares[0] == pytest.approx([2 / 3, 1 / 3], abs=1e-6)


def test_heavy_tails_are_ranked() -> None:
    z = scores(1000, 2)
    heavy = np.exp(3 * z[:, 0])
    shares, left = total_effects(z, smooth_tails(heavy)[:, None])
    assert shares[0, 0] > 0.99
    assert left[0] < 0.01


def test_draws_that_do_not_apply_take_the_middle() -> None:
    reserve = np.array([1.0, np.nan, 3.0, 2.0])
    assert smooth_tails(reserve).tolist() == [1.0, 2.0, 3.0, 2.0]


def test_named_drivers_are_sorted_and_include_the_rest() -> None:
    found = named_drivers(("a", "b"), ("A", "B"), np.array([0.2, 0.001]), 0.5)
    assert [driver.key for driver in found] == [LEFT_OUT, "a"]


def test_jansen_of_an_inert_quantity_is_zero() -> None:
    base = np.random.default_rng(1).standard_normal(100)
    assert total_index_jansen(base, base) == 0.0
