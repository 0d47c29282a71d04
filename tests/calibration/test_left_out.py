"""What a builder leaves out of the files never makes the answer better.

Two well-built rockets of the fixed set, one by the motor's delay, one by an altimeter with two
canopies, and the project that the first form makes, with its second half answered: every kind of
entry is left out once. It is refused in words, or nothing fails less often, or the row is unknown,
or spreads wider, or asks for what is not said.
"""

from typing import Final

import as_files
import pytest
from well_built import BY_KEY

from goodflight.project.newcomer import project_files
from knockout import Files, left_out
from sample_case import KNOWN_ANSWERS, MOTOR_TOLD

pytestmark = pytest.mark.long

FLIGHTS: Final = 60
# what is decided, not found out: left out it is what the docs say, and the flight is another one
DECIDED: Final = {
    "plans.toml:plan[first flight].delay_out": "nothing is taken out of the delay",
    "plans.toml:plan[first flight].tilt": "the rail stands upright",
}


def helped(files: Files, seen: set[str]) -> dict[str, list[str]]:
    """What is better, by the entry left out."""
    tried = dict(left_out(files, "first flight", FLIGHTS, seen))
    return {name: told for name, told in tried.items() if told and name not in DECIDED}


def test_nothing_left_out_makes_it_better() -> None:
    seen: set[str] = set()
    found = {}
    for key in ("card54", "card102d"):
        found |= helped(as_files.files_of(BY_KEY[key]), seen)
    assert len(seen) > 150
    assert not found


def test_nothing_left_out_of_a_first_project_makes_it_better() -> None:
    seen: set[str] = set()
    assert not helped(project_files(MOTOR_TOLD | KNOWN_ANSWERS), seen)
    assert len(seen) > 100
