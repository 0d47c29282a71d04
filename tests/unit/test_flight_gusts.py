"""The scales and the random numbers of a flight's gusts, against published values."""

import csv
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import plain_air
from flight_moments import plain, record
from goodflight.physics.flight.record import AIR, CURVE, NODES

SCALES = Path(__file__).parents[1] / "published" / "data" / "dryden_low_altitude.csv"
ROWS = [line for line in SCALES.read_text("utf-8").splitlines() if not line.startswith("#")]


@pytest.mark.parametrize("row", list(csv.DictReader(ROWS)), ids=lambda row: row["h_m"])
def test_gusts_have_the_scales_of_the_specification(row: dict[str, str]) -> None:
    """MIL-F-8785C as tabulated; along the horizontal half of it (lateral, MIL-HDBK-1797)."""
    found = plain.column.gust_scale(float(row["h_m"]))
    names = ("Lv_1797_m", "Lw_8785C_m", "sigma_u_over_sigma_w")
    assert found == pytest.approx([float(row[name]) for name in names], rel=1e-3)


@pytest.mark.parametrize("feet, scale_ft", [(1500.0, 1375.0), (2000.0, 1750.0), (9000.0, 1750.0)])
def test_from_a_thousand_feet_scales_go_straight_to_those_of_free_air(
    feet: float, scale_ft: float
) -> None:
    """MIL-F-8785C: 1000 ft at 1000 ft, 1750 ft from 2000 ft on, linear between, sigmas alike."""
    found = plain.column.gust_scale(feet * 0.3048)
    wanted = (0.5 * scale_ft * 0.3048, scale_ft * 0.3048, 1.0)
    assert found == pytest.approx(wanted, rel=1e-4)


SPACING = 2000.0**0.25 / (NODES - 1)
HEIGHTS = (np.arange(NODES) * SPACING) ** 4


def test_between_nodes_gusts_go_on_as_first_order_processes() -> None:
    """exp(-dh / L) is kept, L of the middle between two nodes, and the variance made up to one.

    Scales by the specification as the tests have it; the vertical one of it is the height.
    """
    rows, named = plain.column.ladder(SPACING), plain.column
    middle = 0.5 * (HEIGHTS[1:] + HEIGHTS[:-1])
    along = plain_air.turbulence(middle, 1.0, 10.0).scale_along_m
    feet = np.maximum(middle / 0.3048, 10.0)
    straight = np.interp(feet, [1000.0, 2000.0], [1000.0, 1750.0])
    up = 0.3048 * np.where(feet < 1000.0, feet, straight)
    assert rows[:, named.HEIGHT] == pytest.approx(HEIGHTS)
    assert rows[1:, named.LOG_HEIGHT] == pytest.approx(np.log(HEIGHTS[1:]))
    for keep, fresh, scale in (
        (named.KEEP, named.FRESH, along),
        (named.KEEP_UP, named.FRESH_UP, up),
    ):
        step = plain_air.first_order_step(np.diff(HEIGHTS), scale, 1.0)
        assert (rows[0, keep], rows[0, fresh]) == (0.0, 1.0)
        assert rows[1:, keep] == pytest.approx(step.keep)
        assert rows[1:, fresh] == pytest.approx(step.kick)
    assert rows[:, named.RATIO] == pytest.approx(plain_air.dryden_sigma_ratio(HEIGHTS))
    assert rows[:, named.NEAR] == pytest.approx(np.minimum(HEIGHTS / 3.048, 1.0))


def gusts_of(sigma_m_s: float) -> Any:
    """Gusts alone, a row per node, of one seed in a wind from the west."""
    w = record(gust_sigma_m_s=sigma_m_s, wind_from_rad=math.radians(270.0), wind_height_m=10.0)
    with np.errstate(over="ignore"):
        plain.column.fill_gusts(w, plain.column.ladder(SPACING), np.uint64(5))
    return w[AIR:CURVE].reshape(NODES + 2, 5)


def test_gusts_blow_along_the_ground_and_grow_as_their_measure_does() -> None:
    """The first node lies on the ground, where no air goes up or down; the rows beside the nodes
    are left; a sixteenth of the measure is a sixteenth of each gust, none at all none."""
    found, named = gusts_of(0.8), plain.column
    assert not found[[0, -1]].any() and found[1:-1, [named.EAST, named.NORTH]].all()
    assert found[1, named.UP] == 0.0 and found[2:-1, named.UP].all()
    assert gusts_of(0.05) == pytest.approx(found / 16.0)
    assert not gusts_of(0.0).any()


def test_random_numbers_are_those_of_splitmix64() -> None:
    """The first four of seed 1234567 as its authors' code gives them (from memory)."""
    state = np.uint64(1234567)
    known = (6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431)
    with np.errstate(over="ignore"):
        for number in known:
            state, found = plain.column.uniform(state)
            assert found == (number >> 11) / 2.0**52 - 1.0


def test_normal_numbers_are_those_of_the_polar_method() -> None:
    """a and b times sqrt(-2 ln s / s), s = a^2 + b^2 inside the unit circle (Marsaglia)."""
    with np.errstate(over="ignore"):
        for seed in range(40):
            first, a = plain.column.uniform(np.uint64(seed))
            _, b = plain.column.uniform(first)
            if a * a + b * b < 1.0:
                scale = math.sqrt(-2.0 * math.log(a * a + b * b) / (a * a + b * b))
                found = plain.column.normal_pair(np.uint64(seed))[1:]
                assert found == pytest.approx((a * scale, b * scale))
