"""The way from the pad to a landing: which edge it crosses, what line holds the points."""

import math

import numpy as np
import pytest

from goodflight.studies.questions.landings import direction, edge_crossed, hull

SQUARE = ((-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0))
# a field with a bay in the north: the way due north leaves it, and again over the arm
BAY = (
    (-10.0, -10.0), (30.0, -10.0), (30.0, 30.0), (-10.0, 30.0), (-10.0, 20.0),
    (20.0, 20.0), (20.0, 10.0), (-10.0, 10.0),
)  # fmt: skip


@pytest.mark.parametrize(
    ("point", "side"),
    [
        ((0.0, 20.0), "north"),
        ((25.0, 3.0), "east"),
        ((2.0, -30.0), "south"),
        ((-11.0, 0.0), "west"),
    ],
)
@pytest.mark.parametrize("turn", [1, -1])
def test_the_edge_is_named_by_the_way_it_faces(
    point: tuple[float, float], side: str, turn: int
) -> None:
    assert edge_crossed(point, SQUARE[::turn]) == side  # either way round


@pytest.mark.parametrize("turn", [1, -1])
def test_the_last_of_several_edges_counts(turn: int) -> None:
    # out over the bay's north-facing edge at (14, 10), in again at (20, 14), out at (30, 21)
    assert edge_crossed((50.0, 35.0), BAY[::turn]) == "east"


def test_an_edge_of_a_bay_counts() -> None:
    assert edge_crossed((1.0, 15.0), BAY) == "north"
    assert edge_crossed((1.0, 40.0), BAY) == "north"
    assert edge_crossed((50.0, 1.0), BAY) == "east"


def test_a_slanting_edge_faces_between() -> None:
    corner = ((-10.0, -10.0), (10.0, -10.0), (-10.0, 10.0))
    assert edge_crossed((9.0, 9.0), corner) == "north-east"


def test_a_pad_outside_the_field_gives_the_points_own_side() -> None:
    away = tuple((x + 100.0, y) for x, y in SQUARE)
    assert edge_crossed((-5.0, 0.0), away) == "west"


def test_directions_go_clockwise_from_north() -> None:
    turns = [direction(k * math.pi / 4.0) for k in range(8)]
    assert turns[:3] == ["north", "north-east", "east"]
    assert direction(2.0 * math.pi - 0.01) == "north" and direction(-math.pi / 2.0) == "west"


def test_the_line_around_points_is_their_hull() -> None:
    east = np.array([0.0, 4.0, 4.0, 0.0, 2.0, 1.0, np.nan])
    north = np.array([0.0, 0.0, 4.0, 4.0, 2.0, 3.0, 0.0])
    assert hull(east, north) == ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
