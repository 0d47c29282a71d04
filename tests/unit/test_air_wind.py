"""Wind profile, gusts and soundings: definitions, refusals, directions. Expected: derived."""

import numpy as np
import pytest

from goodflight.physics import air


def test_power_law_passes_through_its_reading() -> None:
    assert float(air.wind_profile(2.0, 3.5, 2.0, 0.16)) == pytest.approx(3.5)
    assert float(air.wind_profile(64.0, 3.5, 2.0, 0.2)) == pytest.approx(3.5 * 2.0)


def test_power_law_does_not_blow_up_at_the_ground() -> None:
    assert float(air.wind_profile(0.0, 3.5, 2.0, 0.16)) == pytest.approx(3.5 * 0.25**0.16)


@pytest.mark.parametrize("terrain", air.TERRAINS, ids=lambda t: t.name)
def test_terrain_exponent_is_that_of_the_logarithmic_profile(terrain: air.Terrain) -> None:
    low = max(2.0, terrain.least_height_m)
    ratio = air.roughness_factor(100.0, terrain) / air.roughness_factor(low, terrain)
    assert terrain.exponent == pytest.approx(np.log(ratio) / np.log(100.0 / low), abs=6e-4)


def test_no_gust_no_turbulence() -> None:
    assert air.gust_sigma(5.0, 1.0) == 0.0


@pytest.mark.parametrize(("wind", "factor"), [(5.0, 0.9), (-1.0, 1.5)])
def test_gust_factor_below_one_is_refused(wind: float, factor: float) -> None:
    with pytest.raises(ValueError, match="at least 1 and the wind not negative"):
        air.gust_sigma(wind, factor)


def test_west_wind_blows_east() -> None:
    east, north = air.wind_components(5.0, 1.5 * np.pi)
    assert (float(east), float(north)) == pytest.approx((5.0, 0.0), abs=1e-12)
    east, north = air.wind_components(5.0, 0.0)
    assert (float(east), float(north)) == pytest.approx((0.0, -5.0), abs=1e-12)


def test_sounding_turns_through_north_by_components() -> None:
    east, north = air.wind_components([4.0, 4.0], np.radians([350.0, 10.0]))
    sounding = air.Sounding(
        np.array([0.0, 100.0]),
        np.array([288.0, 287.0]),
        np.array([101325.0, 100120.0]),
        east,
        north,
    )
    middle_east, middle_north = air.sounding_wind(sounding, 50.0)
    assert float(middle_east) == pytest.approx(0.0, abs=1e-12)
    assert float(middle_north) == pytest.approx(-4.0 * np.cos(np.radians(10.0)))


def test_layer_of_constant_temperature_is_the_barometric_formula() -> None:
    heights = air.level_heights([100000.0, 90000.0, 80000.0], [280.0, 280.0, 280.0])
    scale = 287.0528 * 280.0 / 9.80665
    assert heights[-1] == pytest.approx(scale * np.log(1.25), rel=1e-5)


def test_unsorted_sounding_is_refused() -> None:
    with pytest.raises(ValueError, match="must fall from level to level"):
        air.level_heights([90000.0, 100000.0], [280.0, 281.0])
    column = np.array([1.0, 2.0])
    with pytest.raises(ValueError, match="must rise from level to level"):
        air.Sounding(np.array([5.0, 5.0]), column, column, column, column)
