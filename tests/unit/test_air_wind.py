"""Wind profile and gusts: definitions, refusals, directions. Expected: derived."""

import numpy as np
import pytest

import plain_air


def test_power_law_passes_through_its_reading() -> None:
    assert float(plain_air.wind_profile(2.0, 3.5, 2.0, 0.16)) == pytest.approx(3.5)
    assert float(plain_air.wind_profile(64.0, 3.5, 2.0, 0.2)) == pytest.approx(3.5 * 2.0)


def test_power_law_does_not_blow_up_at_the_ground() -> None:
    assert float(plain_air.wind_profile(0.0, 3.5, 2.0, 0.16)) == pytest.approx(3.5 * 0.25**0.16)


@pytest.mark.parametrize("terrain", plain_air.TERRAINS, ids=lambda t: t.name)
def test_terrain_exponent_is_that_of_the_logarithmic_profile(terrain: plain_air.Terrain) -> None:
    low = max(2.0, terrain.min_height_m)
    ratio = plain_air.roughness_factor(100.0, terrain) / plain_air.roughness_factor(low, terrain)
    assert terrain.exponent == pytest.approx(np.log(ratio) / np.log(100.0 / low), abs=6e-4)


def test_no_gust_no_turbulence() -> None:
    assert plain_air.gust_sigma(5.0, 1.0) == 0.0


@pytest.mark.parametrize(("wind", "factor"), [(5.0, 0.9), (-1.0, 1.5)])
def test_gust_factor_below_one_is_refused(wind: float, factor: float) -> None:
    with pytest.raises(ValueError, match="at least 1 and the wind not negative"):
        plain_air.gust_sigma(wind, factor)
