"""Total-effect indices from the shared polynomial, against exact indices."""

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from goodflight.studies.judging.drivers import (
    LEFT_OUT,
    TOO_FEW,
    TOO_FEW_LABEL,
    by_chance,
    group_effects,
    named_drivers,
    smooth_tails,
    total_effects,
    total_index_jansen,
)
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.parted import Powers, parts_of_rows
from goodflight.studies.judging.stands_out import enough_flights
from goodflight.studies.questions.ledger import drivers_of
from goodflight.studies.results import Driver
from goodflight.studies.sampling.flights import fly_sample, fly_trials
from goodflight.studies.sampling.scores import normal_scores
from goodflight.studies.sampling.trials import assemble
from sample_case import sample_case

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


def test_drivers_stand_in_order_of_the_chance_that_holding_them_shows() -> None:
    """Independent: the figure held at its middle on every flight, and flown (1500 flights).

    Told and flown are two counts of the same flights; what the polynomial misses is allowed a
    third of the fall, counting three standard errors of flights that change, sqrt(n p).
    """
    case = sample_case(5.0)
    view = fly_trials(case, 1500, 1)
    rows = [row for row in evaluate(view) if 30 <= row.failing.sum() <= 1200]
    drivers = drivers_of(view, rows)
    factors = view.trials.factors
    held: dict[str, dict[str, float]] = {}
    for row in rows:
        before, named = float(row.failing.mean()), drivers[row.limit.key]
        told = [each for each in named if each.chance is not None][:2]
        assert told == sorted(told, key=lambda each: each.chance or 0.0)
        for driver in told:
            if driver.key not in held:
                z = view.trials.z.copy()
                z[:, [i for i, f in enumerate(factors) if f.group == driver.key]] = 0.0
                flown = fly_sample(case, assemble(case, factors, z, view.trials.seeds))
                held[driver.key] = {
                    each.limit.key: float(each.failing.mean()) for each in evaluate(flown)
                }
            shown, chance = held[driver.key][row.limit.key], driver.chance or 0.0
            noise = 3.0 * (max(before, chance) / view.count) ** 0.5
            assert abs(chance - shown) <= abs(before - shown) / 3.0 + noise, (row.limit.key, driver)
        if len(told) == 2 and not told[1].tied:
            first, second = (held[each.key][row.limit.key] for each in told)
            assert first <= second + 2.0 * (before / view.count) ** 0.5, row.limit.key
    assert len(rows) >= 3 and held


def _by_chance(
    drivers: Sequence[Driver], row: Any, z: NDArray[np.float64], groups: Sequence[str]
) -> tuple[Driver, ...]:
    (part,) = parts_of_rows((row,), Powers(z))
    return by_chance(drivers, row, part, Powers(z), groups)


def test_two_drivers_of_one_weight_are_tied_and_what_does_nothing_changes_nothing() -> None:
    """By hand: reserve 2 + a + b: either known leaves Phi(-2) = 2.3 in 100, both alike."""
    z = scores(4000, 3)  # stratified, as those of flights
    reserve = 2.0 + z[:, 0] + z[:, 1]
    limit = SimpleNamespace(more_is_worse=True)
    row: Any = SimpleNamespace(
        limit=limit,
        reserve=reserve,
        failing=reserve < 0.0,
        demand=10.0 - reserve,
        capacity=np.full(4000, 10.0),
    )
    drivers = [Driver(key, key, 0.3) for key in ("idle", "a", "b")] + [Driver("left_out", "x", 0.1)]
    first, second, last, rest = _by_chance(drivers, row, z, ("a", "b", "idle"))
    assert {first.key, second.key} == {"a", "b"} and second.tied and not first.tied
    assert first.chance == pytest.approx(0.0228, abs=0.007)
    assert (last.key, last.chance) == ("idle", pytest.approx(float(row.failing.mean())))
    assert not last.tied and (rest.key, rest.chance) == ("left_out", None)


def test_few_rows_without_a_driver_name_one() -> None:
    """Derived: by Bonferroni's inequality at most one row in a hundred, of any shape of row.

    150 rows of each of four shapes, driven by nothing: at 1 in 100 of 600, fewer than 15 name
    something (6 and three times 2.4). Yes or no on a few flights is the hardest: a product of two
    figures meets those few by chance.
    """
    names = tuple(f"figure {i}" for i in range(106))
    groups = [f"group {max(i - 10, 0)}" for i in range(106)]
    for flights in (20, 300, 2000):
        noise = np.random.default_rng(flights).standard_normal((4, flights, 150))
        shapes = (noise[0], np.exp(2 * noise[1]), noise[2] > 1.645, noise[3] > 2.326)
        rows = np.column_stack([smooth_tails(row) for shape in shapes for row in (shape * 1.0).T])
        _, shares, left = group_effects(normal_scores(names, flights, 5), groups, rows)
        assert int((shares.max(axis=1) > 0.0).sum()) <= 14, flights
        assert left[rows.std(axis=0) > 0.0].min() > 0.9


def test_a_true_driver_is_named_with_flights_enough_and_none_with_too_few() -> None:
    """By hand: a tenth of the variance is a correlation of 0.32, 4.2 of its errors at 180."""
    names = tuple(f"figure {i}" for i in range(106))
    found = {}
    for flights in (30, 1000):
        z = normal_scores(names, flights, 5)
        noise = np.random.default_rng(3).standard_normal(flights)
        row = (0.9**0.5 * noise + 0.1**0.5 * z[:, 7])[:, None]
        _, shares, left = group_effects(z, names, row)
        enough = enough_flights(flights, len(names))
        found[flights] = named_drivers(names, names, shares[0], float(left[0]), enough)
    assert [(each.key, each.label) for each in found[30]] == [(TOO_FEW, TOO_FEW_LABEL)]
    assert [each.key for each in found[1000]] == [LEFT_OUT, "figure 7"]
    assert enough_flights(180, 106) and not enough_flights(160, 106)


def test_no_chance_is_told_with_fewer_than_five_failing_flights_a_score() -> None:
    """By hand: 8 of 2000 flights fail, fewer than the ten that a group of two scores asks."""
    z = scores(2000, 3)
    reserve = z[:, 0] + z[:, 1]
    reserve -= np.sort(reserve)[7:9].mean()
    row: Any = SimpleNamespace(
        limit=SimpleNamespace(more_is_worse=True),
        reserve=reserve,
        failing=reserve < 0.0,
        demand=10.0 - reserve,
        capacity=np.full(2000, 10.0),
    )
    assert row.failing.sum() == 8
    told = {
        groups: _by_chance([Driver("a", "a", 0.9)], row, z, groups)[0].chance
        for groups in (("a", "b", "c"), ("a", "a", "c"))
    }
    assert told[("a", "b", "c")] is not None and told[("a", "a", "c")] is None


def test_figures_known_at_their_middle_are_scores_of_nought() -> None:
    """By definition: of a straight term, a square, a cube and a product nothing or a constant is
    left; the row's own polynomial with those scores at nought tells the same flights."""
    z = scores(2000, 4)
    straight, bent = z[:, 0] + 0.5 * z[:, 3], 0.5 * z[:, 1] ** 2 + 0.3 * z[:, 2] ** 3
    reserve = 3.0 + straight + bent + 0.8 * z[:, 0] * z[:, 3]
    row: Any = SimpleNamespace(
        limit=SimpleNamespace(more_is_worse=True),
        reserve=reserve,
        failing=reserve < 0.0,
        demand=50.0 - reserve,
        capacity=np.full(2000, 50.0),
    )
    (part,) = parts_of_rows((row,), Powers(z))
    assert part is not None and {each[0] for each in part.terms} == {0, 1, 2, 3}
    sets = ([0], [1], [2], [3], [0, 2], [1, 3])
    for known, fails in zip(sets, part.held(z, sets)):
        there = z.copy()
        there[:, known] = 0.0
        assert (fails == part.failing(there)).all(), known
    assert len({int(each.sum()) for each in part.held(z, sets)}) > 3
