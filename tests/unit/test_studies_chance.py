"""Chances, the reliability index and the one place of thresholds."""

import numpy as np
import pytest
from scipy.stats import norm  # type: ignore[attr-defined]

from goodflight.studies.judging import chance as c


def test_wilson_bounds_solve_their_equation() -> None:
    """Derived: both bounds p solve |failed/n - p| = z sqrt(p (1 - p)/n)."""
    z = norm.ppf(0.975)
    for failed, flights in ((1, 700), (37, 400), (399, 400), (200, 400)):
        found = c.wilson(failed, flights)
        for bound in (found.low, found.high):
            right = z * np.sqrt(bound * (1 - bound) / flights)
            assert abs(failed / flights - bound) == pytest.approx(right, rel=1e-9)


def test_no_failure_still_leaves_a_chance() -> None:
    found = c.wilson(0, 2000)
    assert (found.chance, found.low) == (0.0, 0.0)
    assert 0.0015 < found.high < 0.0025  # about 3.84 / n, derived


def test_impossible_counts_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="give at least one flight"):
        c.wilson(3, 2)


def test_index_of_a_normal_reserve_is_mean_over_deviation() -> None:
    z = norm.ppf((np.arange(4000) + 0.5) / 4000)
    assert c.reliability_index(3.5 + z, 0) == pytest.approx(3.5, abs=0.02)
    assert c.reliability_index(7.0 + 2.0 * z, 0) == pytest.approx(3.5, abs=0.02)


def test_index_agrees_with_the_count_where_draws_can_be_counted() -> None:
    reserve = np.concatenate([-np.ones(50), np.ones(950)])
    assert c.reliability_index(reserve, 50) == pytest.approx(-norm.ppf(0.05))


def test_index_follows_the_tail_that_fails() -> None:
    """A reserve with a long lower tail is nearer to failing than mean over deviation says."""
    z = norm.ppf((np.arange(4000) + 0.5) / 4000)
    skewed = 1.0 - 0.2 * np.exp(0.9 * z)
    assert c.reliability_index(skewed, 0) < skewed.mean() / skewed.std()


def test_index_is_odd_in_the_reserve() -> None:
    z = norm.ppf((np.arange(500) + 0.5) / 500)
    assert c.reliability_index(-(4.0 + z), 500) == pytest.approx(-c.reliability_index(4.0 + z, 0))


def test_constant_reserves() -> None:
    assert c.reliability_index(np.full(50, 2.0), 0) is None
    assert c.reliability_index(np.full(50, -2.0), 50) is None


@pytest.mark.parametrize(
    ("chance", "index", "valid", "state"),
    [
        (None, None, True, "unknown"),
        (0.06, 1.5, True, "fails"),
        (0.02, 2.1, True, "marginal"),
        (0.0, 2.0, True, "marginal"),
        (0.0, 4.0, False, "marginal"),
        (0.0, 4.0, True, "ok"),
        (0.06, 1.5, False, "fails"),
    ],
)
def test_states(chance: float | None, index: float | None, valid: bool, state: str) -> None:
    assert c.state_of(chance, index, valid) == state
