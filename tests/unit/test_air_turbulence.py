"""Turbulence: variance of a generated series, its spectrum, and integrals of the spectra.

Expected values are exact properties of the processes (derived); statistical tolerances are three
standard errors, stated beside each check.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.signal import lfilter, welch  # type: ignore[attr-defined]

import plain_air


@pytest.mark.parametrize("spectrum", [plain_air.dryden_along, plain_air.dryden_across])
def test_dryden_spectra_integrate_to_the_variance(spectrum: Callable[..., Any]) -> None:
    total, _ = quad(lambda w: float(spectrum(w, 120.0, 1.7)), 0.0, np.inf, limit=500)
    assert total == pytest.approx(1.7**2, rel=1e-6)


def test_kaimal_spectrum_integrates_to_the_variance() -> None:
    total, _ = quad(
        lambda f: float(plain_air.kaimal(f, 8.1 * 21.0, 5.0, 1.3)), 0.0, np.inf, limit=500
    )
    assert total == pytest.approx(1.3**2, rel=1e-6)


def test_kaimal_scale_levels_off() -> None:
    assert plain_air.kaimal_scale(30.0) == pytest.approx(21.0)
    assert plain_air.kaimal_scale(200.0) == pytest.approx(42.0)


def series(step_m: float, scale_m: float, sigma: float, count: int) -> np.ndarray:
    step = plain_air.first_order_step(step_m, scale_m, sigma)
    noise = np.random.default_rng(7).standard_normal(count)
    start = sigma * noise[0]
    kicks = float(step.kick) * noise[1:]
    rest, _ = lfilter([1.0], [1.0, -float(step.keep)], kicks, zi=[float(step.keep) * start])
    return np.concatenate(([start], rest))


def test_series_has_the_variance_and_the_scale() -> None:
    """400 000 m of L = 50 m: 4000 independent pieces, so sigma^2 within 3 sqrt(2 / 4000) = 7 %."""
    x = series(1.0, 50.0, 0.8, 400_000)
    assert np.var(x) == pytest.approx(0.64, rel=0.07)
    lag = 50
    correlation = np.mean(x[:-lag] * x[lag:]) / np.var(x)
    assert correlation == pytest.approx(np.exp(-1.0), abs=0.04)


def test_series_has_the_dryden_spectrum() -> None:
    """Welch estimate of 780 half-lapped pieces: 1 / sqrt(400) = 5 % each; means over bands of ten
    or more lines within 8 % of the longitudinal Dryden spectrum."""
    x = series(1.0, 50.0, 0.8, 800_000)
    f, density = welch(x, fs=1.0, nperseg=2048)
    model = plain_air.dryden_along(2.0 * np.pi * f, 50.0, 0.8) * 2.0 * np.pi
    for low, high in ((0.001, 0.006), (0.006, 0.02), (0.02, 0.08)):
        band = (f > low) & (f < high)
        assert np.count_nonzero(band) >= 10
        assert np.mean(density[band] / model[band]) == pytest.approx(1.0, abs=0.08)


def test_one_long_step_is_two_short_ones() -> None:
    long = plain_air.first_order_step(6.0, 40.0, 1.1)
    short = plain_air.first_order_step(3.0, 40.0, 1.1)
    assert float(short.keep) ** 2 == pytest.approx(float(long.keep), rel=1e-12)
    assert (float(short.keep) ** 2 + 1.0) * float(short.kick) ** 2 == pytest.approx(
        float(long.kick) ** 2, rel=1e-12
    )


def test_sigma_at_its_own_height_is_the_measured_one() -> None:
    found = plain_air.turbulence(np.array([2.0, 10.0, 100.0]), 0.8, 10.0)
    assert found.sigma_along_m_s[1] == pytest.approx(0.8)
    assert np.all(np.diff(found.sigma_along_m_s) < 0.0)
    assert np.all(np.diff(found.scale_along_m) > 0.0)


def test_scale_reaches_free_air_without_a_step() -> None:
    h = 0.3048 * np.array([999.0, 1000.0, 1001.0, 2000.0, 5000.0])
    scale = plain_air.dryden_scale(h) / 0.3048
    assert scale[1] == pytest.approx(1000.0, rel=1e-9)
    assert abs(scale[2] - scale[0]) < 3.0
    assert scale[3] == scale[4] == pytest.approx(1750.0)
