"""Lift and stall of thin low-aspect plates against a wind tunnel, chord Reynolds number 140 000.

Source: J. Aircraft 37(5), 2000, held: seen-2 (somebody else read its figures by eye, to 0.05 in
lift). That Reynolds number is the one of a fin as the rocket leaves its rail.
"""

import csv
import math
from pathlib import Path

import pytest

from goodflight.physics.aero.fins import STALL_DEG, subsonic_slope
from goodflight.studies.sampling import model

FILE = Path(__file__).parent / "data" / "flat_plate_low_aspect_ratio_2000.csv"
LINES = [line for line in FILE.read_text("utf-8").splitlines() if not line.startswith("#")]
ROWS = [{k: float(v) for k, v in row.items() if k != "how_known"} for row in csv.DictReader(LINES)]


def lifts(aspect: float) -> dict[float, float]:
    return {row["alpha_deg"]: row["CL"] for row in ROWS if row["aspect_ratio"] == aspect}


@pytest.mark.parametrize("aspect", [1.0, 2.0])
def test_lift_below_ten_degrees(aspect: float) -> None:
    """Within 10 %, which the readings are good for."""
    ours = float(subsonic_slope(aspect, 0.0, 0.0)) * math.radians(10.0)
    assert ours == pytest.approx(lifts(aspect)[10.0], rel=0.10)


@pytest.mark.parametrize("aspect", [1.0, 2.0])
def test_stall_lies_within_its_spread(aspect: float) -> None:
    """Where lift is highest, the middle of equal readings; within two standard deviations."""
    read = lifts(aspect)
    top = [alpha for alpha, lift in read.items() if lift == max(read.values())]
    off = abs(float(STALL_DEG(aspect)) - sum(top) / len(top))
    assert math.radians(off) < 2.0 * model.stall.spread.sigma


@pytest.mark.parametrize(
    ("aspect", "degrees"), [(0.5, 40.0), (1.0, 36.0), (2.0, 22.0), (3.0, 16.0), (5.0, 11.0)]
)
def test_stall_of_sharp_plates(aspect: float, degrees: float) -> None:
    """Winter, NACA TM 798 (memory), half a degree."""
    assert float(STALL_DEG(aspect)) == pytest.approx(degrees, abs=0.5)


def test_stall_is_held_beyond_the_plates_that_were_tried() -> None:
    assert (float(STALL_DEG(0.4)), float(STALL_DEG(0.52))) == pytest.approx((40.0, 39.84))
    assert float(STALL_DEG(8.0)) == 11.0
