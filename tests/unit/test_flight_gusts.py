"""The scales and the random numbers of a flight's gusts, against published values."""

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from flight_moments import plain

SCALES = Path(__file__).parents[1] / "published" / "data" / "dryden_low_altitude.csv"
ROWS = [line for line in SCALES.read_text("utf-8").splitlines() if not line.startswith("#")]


@pytest.mark.parametrize("row", csv.DictReader(ROWS), ids=lambda row: row["h_m"])
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
