"""Density and pressure over the pad: ground values, and against the standard's own column."""

import numpy as np
import pytest

from goodflight.physics.air import atmosphere
from goodflight.physics.air.over_pad import (
    density_over_pad_kg_m3,
    gas_density_kg_m3,
    pressure_over_pad_pa,
)


def test_sea_level_density() -> None:
    """101325 / (287.053 x 288.15) = 1.2250 kg/m3, US Standard Atmosphere 1976 table 1."""
    assert float(gas_density_kg_m3(101325.0, 288.15)) == pytest.approx(1.2250, abs=5e-5)


def test_an_unknown_height_counts_as_the_ground() -> None:
    heights = np.array([np.nan, 0.0])
    assert len(set(density_over_pad_kg_m3(101325.0, 288.15, heights).tolist())) == 1


@pytest.mark.parametrize("height", [300.0, 1000.0])
def test_against_the_day_s_column(height: float) -> None:
    """An even column against the standard lapse: density within 2.5 %, pressure within 0.3 %."""
    exact = atmosphere(height, 283.15, 100500.0)
    density = density_over_pad_kg_m3(100500.0, 283.15, height)
    assert float(density) == pytest.approx(float(exact.density_kg_m3), rel=0.025)
    pressure = pressure_over_pad_pa(100500.0, 283.15, 9.80665, height)
    assert float(pressure) == pytest.approx(float(exact.pressure_pa), rel=0.003)
