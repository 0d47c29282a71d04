"""The kernel's air column against the air room: mean air, gust variance, gust scale."""

import numpy as np
import pytest
from scipy.interpolate import CubicHermiteSpline

from goodflight.physics.air import atmosphere
from goodflight.physics.flight import PARAMETER_INDEX
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.column import (
    DENSITY,
    EAST,
    NORTH,
    SOUND,
    UP,
    air_at,
    fill_column,
    ladder,
)
from goodflight.physics.flight.record import AIR, CURVE, NODES, blank_record
from goodflight.physics.flight.sample import sample_flight
from new_record import new_flight
from plain_air import turbulence, wind_profile

SPACING = 2000.0**0.25 / (NODES - 1)
HEIGHTS = (np.arange(NODES) * SPACING) ** 4
RUNS = 4000


def record(seed: int, turbulent: bool, **changes: float) -> np.ndarray:
    p, motor, tables = sample_flight()
    for name, value in changes.items():
        p[PARAMETER_INDEX[name]] = value
    blank = blank_record(burn_curve(motor), tables.mach_table, tables.scalars, SPACING)
    w = new_flight(p, blank)
    fill_column(w, ladder(SPACING), np.uint64(seed), turbulent)
    return w


def column(seed: int, turbulent: bool, **changes: float) -> np.ndarray:
    return record(seed, turbulent, **changes)[AIR:CURVE].reshape(NODES + 2, 5)


@pytest.mark.parametrize("height", [3.0, 120.0, 1500.0])
def test_mean_air_between_nodes(height: float) -> None:
    """Cubic between nodes: 1e-5 of density and sound, 0.5 % of a power-law wind above 2 m."""
    still = record(1, False, wind_m_s=5.0, wind_from_rad=np.radians(270))
    density, sound, east, north, up = air_at(still, height)
    air = atmosphere(height, 283.15, 101325.0)
    assert density == pytest.approx(float(air.density_kg_m3), rel=1e-5)
    assert sound == pytest.approx(float(air.sound_m_s), rel=1e-5)
    assert (north, up) == pytest.approx((0, 0), abs=1e-9)
    assert east == pytest.approx(float(wind_profile(height, 5.0, 2.0, 0.16)), rel=5e-3)


def test_the_wind_grows_from_nothing_at_the_ground() -> None:
    """5 m/s at 2 m to the power 0.16 at every node but the first; air without a wind up."""
    found = column(1, False, wind_m_s=5.0, wind_from_rad=np.radians(270))[1:-1]
    assert found[0, [EAST, NORTH, UP]].tolist() == [0.0, 0.0, 0.0]
    assert found[1:, EAST] == pytest.approx(5.0 * (HEIGHTS[1:] / 2.0) ** 0.16)
    assert not found[:, UP].any()


def test_air_is_held_below_the_ground_and_above_the_last_node() -> None:
    given = record(5, True)
    nodes = given[AIR:CURVE].reshape(NODES + 2, 5)[1:-1]
    for height in (0.0, -3.0):
        assert air_at(given, height) == pytest.approx(nodes[0].tolist())
    for height in (2000.0, 2300.0):
        assert air_at(given, height) == pytest.approx(nodes[-1].tolist())


def test_between_nodes_air_is_a_catmull_rom_cubic() -> None:
    """By scipy's Hermite cubic in the fourth root of height: slopes are half the step between the
    neighbours on either side; beside the ground stands its image, past the top the last step."""
    given = record(5, True)
    nodes = given[AIR:CURVE].reshape(NODES + 2, 5)[1:-1]
    before = np.vstack((nodes[1], nodes[:-1]))
    after = np.vstack((nodes[1:], 2.0 * nodes[-1] - nodes[-2]))
    cubic = CubicHermiteSpline(np.arange(NODES), nodes, (after - before) / 2.0)
    for rung in (0.0, 0.3, 1.7, 40.5, NODES - 2.2, NODES - 1.4):
        found = air_at(given, (rung * SPACING) ** 4)
        assert found == pytest.approx(cubic(rung).tolist(), abs=1e-9)


@pytest.fixture(scope="module")
def gusts() -> np.ndarray:
    """(RUNS, NODES, 2): gusts along and across a wind from the west."""
    still = column(1, False, wind_from_rad=np.radians(270))
    runs = [column(seed * 7919, True, wind_from_rad=np.radians(270)) for seed in range(1, RUNS)]
    return (np.array(runs) - still)[:, 1:-1, [EAST, NORTH]]


def test_gust_variance_is_the_specification_s(gusts: np.ndarray) -> None:
    """sigma^2 at each height by MIL-F-8785C; 4000 runs: standard error of sigma 1.1 %."""
    expected = turbulence(HEIGHTS, 0.8, 2.0).sigma_along_m_s
    assert np.max(np.abs(gusts.std(axis=0) / expected[:, None] - 1)) < 0.05
    assert np.mean(gusts.std(axis=0) / expected[:, None]) == pytest.approx(1.0, abs=0.01)


def test_gusts_keep_their_scale(gusts: np.ndarray) -> None:
    """Correlation of neighbouring nodes exp(-dh / L), L of a climb half the longitudinal scale."""
    middle = 0.5 * (HEIGHTS[1:] + HEIGHTS[:-1])
    expected = np.exp(-np.diff(HEIGHTS) / turbulence(middle, 0.8, 2.0).scale_along_m)
    scaled = gusts / gusts.std(axis=0)
    for part in (0, 1):
        found = np.mean(scaled[:, 1:, part] * scaled[:, :-1, part], axis=0)
        # standard error of a correlation r over 4000 runs: (1 - r^2) / 63
        error = (1 - expected**2) / np.sqrt(RUNS)
        assert np.all(np.abs(found - expected)[8:] < 4.5 * error[8:] + 1e-3)


def test_along_and_across_are_independent(gusts: np.ndarray) -> None:
    cross = np.mean(gusts[:, 20, 0] * gusts[:, 20, 1]) / np.prod(gusts[:, 20].std(axis=0))
    assert abs(cross) < 4 / np.sqrt(RUNS)


def test_same_seed_same_air() -> None:
    assert np.array_equal(column(5, True), column(5, True))
    assert not np.array_equal(column(5, True)[:, EAST], column(6, True)[:, EAST])
    assert np.array_equal(column(5, True)[:, DENSITY], column(6, True)[:, DENSITY])
    assert np.array_equal(column(5, True)[:, SOUND], column(6, True)[:, SOUND])
