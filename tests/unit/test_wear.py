"""What earlier flights leave of cord and lines: by hand, and through a project's files."""

import math

import pytest

from goodflight.physics.recovery.wear import worn_share
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling import recovery
from goodflight.studies.sampling.quantity import Stated


def test_ten_flights_by_the_sources() -> None:
    """Nylon cloth in the sun, 52 % in a week of some 100 h (Poynter as quoted), an hour and a half
    a flight; rubbing 0.96 and fatigue 0.95 over ten uses (Knacke, memory): 0.82, which the round 2
    in 100 a flight meets within 2 %."""
    sun = 1.5 * 10.0 * -math.log(1.0 - 0.52) / 100.0
    left = math.exp(-sun) * 0.96 * 0.95
    assert worn_share(10)[0] == pytest.approx(left, rel=0.02)


def test_new_is_as_new_and_not_said_is_surer_of_nothing() -> None:
    assert worn_share(0) == (1.0, 0.0)
    told, silent = worn_share(10), worn_share(None)
    assert silent[0] == told[0] and silent[1] > told[1]


def strength(*changes: tuple[str, str]) -> tuple[Stated | None, Stated]:
    """The cord's strength and what is left of the lines, with lines of the demo changed."""
    files = demo_files()
    for old, new in changes:
        assert old in files["rocket.toml"]
        files["rocket.toml"] = files["rocket.toml"].replace(old, new)
    case = case_of(read_project(files), "morning")
    assert recovery.cord_strength.given is not None and recovery.line_knot.given is not None
    cord, lines = recovery.cord_strength.given(case), recovery.line_knot.given(case)
    assert isinstance(lines, Stated) and (cord is None or isinstance(cord, Stated))
    return cord, lines


BEFORE = "flights_before = 0\n"


@pytest.mark.parametrize(
    ("written", "left", "lost"),
    [
        (BEFORE, 1.0, 0.0),
        ("flights_before = 1\n", math.exp(-0.02), 0.02 * 0.7 * math.exp(-0.02)),
        ("flights_before = 10\n", math.exp(-0.2), 0.2 * 0.7 * math.exp(-0.2)),
        ("", math.exp(-0.2), 0.2 * math.exp(-0.2)),
    ],
)
def test_the_files_flights_wear_cord_and_lines(written: str, left: float, lost: float) -> None:
    """6500 N as printed, 10 %; exp(-0.02 n), not said as ten with a wider spread; by hand."""
    cord, lines = strength((BEFORE, written))
    assert cord is not None and cord.value == pytest.approx(6500.0 * left)
    assert cord.sigma == pytest.approx(math.hypot(650.0 * left, 6500.0 * lost))
    assert (lines.value or 1.0) == pytest.approx(left)
    assert (lines.sigma or 0.15) == pytest.approx(math.hypot(0.15 * left, lost))


def test_a_cord_whose_strength_has_no_spread_is_as_sure_as_its_wear() -> None:
    cord, _ = strength((BEFORE, "flights_before = 10\n"), ("6500 N ± 10 %", "10 N ± 0 %"))
    lost = 0.2 * 0.7 * math.exp(-0.2)
    assert cord is not None and cord.sigma == pytest.approx(10.0 * lost)


def test_a_cord_that_was_pulled_says_its_wear_itself() -> None:
    changes = (BEFORE, ""), ("6500 N ± 10 % label", "6500 N ± 10 % measured")
    cord, _ = strength(*changes)
    assert cord is not None and (cord.value, cord.sigma) == pytest.approx((6500.0, 650.0))
