"""Wind above the reading against published profiles, footprints against closed forms."""

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from goodflight.physics.air.aloft import (
    drift_sigma_m_s,
    exponent_of_drift,
    layer_wind_m_s,
    weighed_together,
    wind_at_m_s,
)
from goodflight.physics.flight import OUTCOME_INDEX, Launch, fly_ensemble
from goodflight.physics.flight.fall import MeanWind, Start, nose_first_impact
from goodflight.physics.flight.registry import BY_DELAY, PARAMETER_INDEX
from goodflight.studies.sampling.trials import nominal
from sample_case import sample_case

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


OPEN = [row for row in rows("eurocode_wind_terrain.csv") if row["category"] != "IV"]  # no towns


@pytest.mark.parametrize("row", OPEN, ids=lambda r: r["category"])
def test_the_power_law_follows_the_wind_code_from_one_reading(row: dict[str, str]) -> None:
    """EN 1991-1-4 table 4.1: cr at 10 to 200 m (worked out there from constants seen). From the
    row's 10 m and an exponent through 10 and 100 m, the power law is within 3 % at 50 m and 4 % at
    200 m: a straight line in the logarithm beside a logarithm."""
    low, high = float(row["cr_10m"]), float(row["cr_100m"])
    exponent = math.log10(high / low)
    assert wind_at_m_s(low, 10.0, exponent, 100.0) == pytest.approx(high, rel=1e-9)
    assert wind_at_m_s(low, 10.0, exponent, 50.0) == pytest.approx(float(row["cr_50m"]), rel=0.03)
    assert wind_at_m_s(low, 10.0, exponent, 200.0) == pytest.approx(float(row["cr_200m"]), rel=0.04)


@pytest.mark.parametrize("exponent", [0.06, 0.10, 0.11, 0.16, 0.27, 0.34, 0.40, 0.60])
def test_a_drift_gives_back_every_tabulated_exponent(exponent: float) -> None:
    """Exponents of the Hellmann table (seen): the drift through the layer, worked out by a fine
    sum of the power law, must give each of them back."""
    table = {float(r[k]) for r in rows("hellmann_exponents.csv") for k in r if k != "surface"}
    assert exponent in table
    heights = (np.arange(200_000) + 0.5) * 400.0 / 200_000
    drift = float(np.mean(3.5 * (heights / 2.0) ** exponent))
    assert layer_wind_m_s(3.5, 2.0, exponent, 400.0) == pytest.approx(drift, rel=1e-4)
    assert exponent_of_drift(drift, 3.5, 2.0, 400.0) == pytest.approx(exponent, abs=2e-4)


def test_a_drift_that_says_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="say nothing of the growth"):
        exponent_of_drift(5.0, 0.0, 2.0, 400.0)
    with pytest.raises(ValueError, match="say nothing of the growth"):
        exponent_of_drift(5.0, 3.5, 2.0, 5.9)


def test_a_drift_in_light_wind_from_three_times_the_reading_tells() -> None:
    """0.05 m/s at 2 m, opened at 6.1 m: the mean of the layer by the integral."""
    drift = 0.05 * (6.1 / 2.0) ** 0.3 / 1.3
    assert exponent_of_drift(drift, 0.05, 2.0, 6.1) == pytest.approx(0.3)


def test_a_drift_beyond_the_table_stands_for_its_end() -> None:
    """0.60, cities in stable air: the greatest of the Hellmann table (seen); the least is 0."""
    greatest = max(float(r[k]) for r in rows("hellmann_exponents.csv") for k in r if k != "surface")
    assert exponent_of_drift(1e3, 3.5, 2.0, 400.0) == pytest.approx(greatest)
    assert exponent_of_drift(0.1, 3.5, 2.0, 400.0) == pytest.approx(0.0, abs=1e-9)


def test_two_readings_weigh_by_their_errors() -> None:
    """By hand: errors 1 and 2 weigh 4 : 1, so 0.8 x 10 + 0.2 x 20 = 12; error 2 / sqrt(5)."""
    value, sigma = weighed_together((10.0, 1.0), (20.0, 2.0))
    assert (value, sigma) == pytest.approx((12.0, 2.0 / math.sqrt(5.0)))
    assert weighed_together((10.0, 0.01), (20.0, 0.02))[0] == pytest.approx(12.0)
    assert weighed_together((10.0, 0.0), (20.0, 2.0)) == (10.0, 0.0)
    assert weighed_together((10.0, 0.05), (20.0, 0.0)) == (20.0, 0.0)
    # 300 m +- 60 m in 60 s +- 3 s: 60/60 and 300 x 3 / 3600, put together
    assert drift_sigma_m_s(300.0, 60.0, (60.0, 3.0)) == pytest.approx(math.hypot(1.0, 0.25))


@pytest.mark.parametrize("wind", [2.0, 5.0])
def test_opened_footprint_is_the_wind_s_integral_times_the_time(wind: float) -> None:
    """From ejection to the ground, mean wind only: drift = mean wind of the layer x time. Left: the
    speed the rocket still has at ejection and the slower fall in denser air, 4 % together."""
    case = sample_case(wind)
    sample = nominal(case)
    row = sample.parameters.copy()
    row[0, PARAMETER_INDEX["rail_tilt_rad"]] = 0.0
    flown = fly_ensemble(Launch(case.motor, case.tables, BY_DELAY, False), row, sample.seeds)
    out = {name: float(flown[0, i]) for name, i in OUTCOME_INDEX.items()}
    column = {name: float(row[0, i]) for name, i in PARAMETER_INDEX.items()}
    top, seconds = out["apogee_m"], out["landing_s"] - out["apogee_s"]
    mean = layer_wind_m_s(wind, column["wind_height_m"], column["wind_exponent"], top)
    toward = column["wind_from_rad"] + math.pi
    drift = (out["landing_east_m"] - out["apogee_east_m"]) * math.sin(toward)
    drift += (out["landing_north_m"] - out["apogee_north_m"]) * math.cos(toward)
    assert drift == pytest.approx(mean * seconds, rel=0.04)


def test_unopened_footprint_is_the_ballistic_range_in_a_vacuum() -> None:
    """x = v sqrt(2 h / g) from a level apogee, exact: 30 m/s from 500 m."""
    one = np.ones(1)
    start = Start(500.0 * one, 0.0 * one, 0.0 * one, 30.0 * one, -10.0 * one)
    found = nose_first_impact(
        start,
        MeanWind(8.0 * one, 0.0 * one, 2.0 * one, 0.16 * one),
        drag_area_m2=0.0 * one,
        mass_kg=one,
        ground_temperature_k=288.0 * one,
        ground_pressure_pa=1e5 * one,
        gravity_m_s2=9.80665,
    )
    seconds = math.sqrt(2.0 * 500.0 / 9.80665)
    # the last step is cut straight: 1 in 1000 of the time
    assert float(found.east_m[0]) == pytest.approx(30.0 * seconds, rel=1e-3)
    assert float(found.north_m[0]) == pytest.approx(-10.0 * seconds, rel=1e-3)
    assert float(found.speed_m_s[0]) == pytest.approx(
        math.sqrt(30.0**2 + 10.0**2 + 2.0 * 9.80665 * 500.0), rel=2e-3
    )
