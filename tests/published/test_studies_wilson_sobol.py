"""Wilson's interval and total-effect indices against published examples.

Newcombe, Two-sided confidence intervals for the single proportion, Statist. Med. 17 (1998)
857-872, table I, method 3 (score, no continuity correction): held from memory; the bounds' own
equation is tested beside the unit tests, so nothing rests on memory alone.
Ishigami & Homma 1990 with a = 7, b = 0.1: the indices are printed in many texts (memory) and
derived here from the closed-form variances. Sobol's g-function: derived from its closed form.
"""

import numpy as np
import pytest
from scipy.stats import qmc

from goodflight.studies.judging.chance import wilson
from goodflight.studies.judging.drivers import total_effects, total_index_jansen
from goodflight.studies.sampling.scores import normal_scores


@pytest.mark.parametrize(
    ("failed", "flights", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),  # memory
        (15, 148, 0.0624, 0.1605),  # memory
        (0, 20, 0.0, 0.1611),  # memory
        (1, 29, 0.0061, 0.1718),  # memory
    ],
)
def test_newcombe_table_1(failed: int, flights: int, low: float, high: float) -> None:
    found = wilson(failed, flights)
    assert found.low == pytest.approx(low, abs=5e-5)  # printed digits
    assert found.high == pytest.approx(high, abs=6e-5)


def _pairs(count: int, power: int) -> tuple[np.ndarray, np.ndarray]:
    """Two independent Sobol samples of the unit cube."""
    points = qmc.Sobol(2 * count, seed=11).random_base2(power)
    return points[:, :count], points[:, count:]


def _ishigami(u: np.ndarray) -> np.ndarray:
    x = np.pi * (2.0 * u - 1.0)
    return np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])


def test_jansen_on_ishigami() -> None:
    """V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = b^2 pi^8 (1/18 - 1/50): derived."""
    v1 = 0.5 * (1.0 + 0.1 * np.pi**4 / 5.0) ** 2
    v2, v13 = 49.0 / 8.0, 0.01 * np.pi**8 * (1.0 / 18.0 - 1.0 / 50.0)
    exact = np.array([v1 + v13, v2, v13]) / (v1 + v2 + v13)
    assert exact == pytest.approx([0.5576, 0.4424, 0.2437], abs=5e-5)  # printed values, memory
    first, second = _pairs(3, 13)
    base = _ishigami(first)
    for i in range(3):
        changed = first.copy()
        changed[:, i] = second[:, i]
        found = total_index_jansen(base, _ishigami(changed))
        assert found == pytest.approx(exact[i], abs=0.01)  # sampling error of 8192 points


def test_jansen_on_sobol_g_function() -> None:
    """g = prod (|4 u - 2| + a)/(1 + a): V_i = 1/(3 (1 + a)^2), totals from the product: derived."""
    a = np.array([0.0, 1.0, 4.5, 9.0])
    partial = 1.0 / (3.0 * (1.0 + a) ** 2)
    whole = np.prod(1.0 + partial) - 1.0
    exact = partial * np.prod(1.0 + partial) / (1.0 + partial) / whole

    def g(u: np.ndarray) -> np.ndarray:
        return np.prod((np.abs(4.0 * u - 2.0) + a) / (1.0 + a), axis=1)

    first, second = _pairs(4, 13)
    base = g(first)
    for i in range(4):
        changed = first.copy()
        changed[:, i] = second[:, i]
        assert total_index_jansen(base, g(changed)) == pytest.approx(exact[i], abs=0.01)


def test_polynomial_on_a_lognormal_product() -> None:
    """y = exp(0.3 z1 + 0.2 z2): V_i = exp(s_i^2) - 1, S_T1 = V1 (1 + V2)/V: derived.

    The polynomial ends at the second degree, so 1 % of the variance may stay in the rest.
    """
    z = normal_scores(("one", "two", "idle"), 2000, 3)
    v1, v2 = np.exp(0.09) - 1.0, np.exp(0.04) - 1.0
    whole = (1.0 + v1) * (1.0 + v2) - 1.0
    shares, left = total_effects(z, np.exp(0.3 * z[:, 0] + 0.2 * z[:, 1])[:, None])
    assert shares[0, 0] == pytest.approx(v1 * (1.0 + v2) / whole, abs=0.015)
    assert shares[0, 1] == pytest.approx(v2 * (1.0 + v1) / whole, abs=0.015)
    assert shares[0, 2] < 0.002
    assert left[0] < 0.01
