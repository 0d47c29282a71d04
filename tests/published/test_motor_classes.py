"""Class letters of total impulse.

NFPA 1125 designation table (`15_motor_classes.csv`), held: memory for the small classes; the
bounds from H up are also seen in a state's table. The doubling of the upper ends, which the code
uses, is derived from it.
"""

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from goodflight.physics import motor

TABLE = Path(__file__).parent / "data" / "15_motor_classes.csv"
ROWS = list(csv.DictReader(TABLE.open(encoding="utf-8")))


def test_no_row_missing_and_none_too_many() -> None:
    assert [r["letter"] for r in ROWS] == [c.letter for c in motor.IMPULSE_CLASSES]


@pytest.mark.parametrize("row", ROWS, ids=lambda r: r["letter"])
def test_both_bounds_belong_to_the_class(row: dict[str, str]) -> None:
    """Both printed bounds are inside; printed digits of the upper bound are met exactly."""
    letter = row["letter"]
    assert motor.motor_class(float(row["min_Ns"])) == letter
    assert motor.motor_class(float(row["max_Ns"])) == letter
    found = motor.impulse_class(float(row["max_Ns"]))
    assert found.up_to_ns == pytest.approx(float(row["max_Ns"]), abs=1e-9)
    assert found.level == row["usual_certification_level"]


def test_just_above_a_bound_is_the_next_class() -> None:
    for lower, upper in pairwise(ROWS):
        assert motor.motor_class(float(lower["max_Ns"]) + 1e-6) == upper["letter"]
