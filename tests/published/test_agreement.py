"""Chances made to agree with what happened: exact posterior, likelihood by another optimiser."""

import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.special import beta, expit

from goodflight.physics.scoring import agreed

LEAST = 0.002


def test_said_by_beta_laws_they_are_the_exact_chances() -> None:
    """Kull et al. 2017 (memory) derive it: what is said of what happens is beta (a1, b1) and of
    what does not beta (a0, b0); the chance is then Bayes' rule. 200 000 sayings leave an error of
    some 0.002 in the chance."""
    random = np.random.default_rng(4)
    happened = random.random(200_000) < 0.3
    yes, no = (2.0, 1.5), (0.8, 2.4)
    drawn = (random.beta(a, b, happened.size) for a, b in (yes, no))
    said = np.where(happened, *drawn)
    dense = [said ** (a - 1.0) * (1.0 - said) ** (b - 1.0) / beta(a, b) for a, b in (yes, no)]
    ratio = 0.3 * dense[0] / (0.3 * dense[0] + 0.7 * dense[1])
    inside = (said > LEAST) & (said < 1.0 - LEAST)
    off = np.abs(agreed(said, happened, LEAST) - ratio)[inside]
    assert off.max() < 0.01 and off.mean() < 0.003


@pytest.mark.parametrize(("said_as", "factor"), [(0.4, 2.0), (1.0, 0.4), (0.9, 1.0)])
def test_they_are_the_most_likely_ones_by_a_general_optimiser(
    said_as: float, factor: float
) -> None:
    """The same likelihood, a and b within bounds and about 1 +- 1, by L-BFGS-B of scipy."""
    random = np.random.default_rng(7)
    said = said_as * random.random(2000)
    happened = random.random(2000) < np.minimum(1.0, factor * said)
    held = np.clip(said, LEAST, 1.0 - LEAST)

    def cost(given: np.ndarray) -> float:
        odds = given[0] + given[1] * np.log(held) - given[2] * np.log1p(-held)
        likely = np.where(happened, -np.logaddexp(0.0, -odds), -np.logaddexp(0.0, odds)).sum()
        return float(-likely + 0.5 * ((given[1:] - 1.0) ** 2).sum())

    best = minimize(cost, [0.0, 1.0, 1.0], bounds=[(None, None), (0.0, None), (0.0, None)])
    c, a, b = best.x
    other = expit(c + a * np.log(held) - b * np.log1p(-held))
    found = agreed(said, happened, LEAST)
    assert found == pytest.approx(other, abs=2e-3)  # its search ends early
    assert found.mean() == pytest.approx(happened.mean(), abs=1e-9)
    order = np.argsort(said)
    assert np.all(np.diff(found[order]) >= 0.0)


def test_what_cannot_be_told_apart_is_the_share_and_what_is_certain_stays_bounded() -> None:
    """By hand: said all the same, one in four happened; always right, it stays below 1; said the
    wrong way round, there is nothing in it and all are the share."""
    happened = np.arange(400) % 4 == 0
    assert agreed(np.full(400, 0.1), happened, LEAST) == pytest.approx(0.25)
    right = agreed(happened.astype(float), happened, LEAST)
    assert np.all((right > 0.0) & (right < 1.0))
    assert right[happened].min() > 0.99 and right[~happened].max() < 0.01
    wrong = agreed(1.0 - happened.astype(float), happened, LEAST)
    assert wrong == pytest.approx(0.25, abs=0.01)
    assert agreed(np.array([0.2, 0.4]), np.ones(2, dtype=bool), LEAST).tolist() == [1.0, 1.0]
    with pytest.raises(ValueError, match="nothing was said"):
        agreed(np.zeros(0), np.zeros(0, dtype=bool), LEAST)
