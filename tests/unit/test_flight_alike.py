"""Flights that share a way up and a way down, by themselves: who parts, who may follow, and how.

A track by hand: from 30 m down at 6 m/s, a place each second, on the ground after 5 s.
"""

import numpy as np
import pytest

from flight_moments import blank, plain, record
from goodflight.physics.flight.record import (
    APOGEE_DONE,
    BRANCHES,
    DESCENT,
    EJECT,
    NOW,
    OVER,
    PHASE,
    PLACE,
    SEEK,
    TRACED,
    Y,
)
from goodflight.physics.flight.registry import BY_ALTIMETER, OUTCOME_INDEX, PARAMETER_INDEX
from goodflight.physics.flight.sample import sample_flight

alike = plain.alike
HOW = np.array([0.0, 0.0, 1e-3, 0.0])  # an error of a thousandth is allowed


def track() -> np.ndarray:
    """Count in the first line; then moment, place and velocity of each: 2 m/s east, 1 m/s north."""
    found = np.zeros((9, alike.TRACK_COLUMNS))
    found[0, 0] = 6
    for line in range(1, 7):
        s = line - 1.0
        found[line] = 100.0 + s, 50.0 + 2.0 * s, 70.0 + s, 30.0 - 6.0 * s, 2.0, 1.0, -6.0
    return found


def coming_down(height_m: float, **changes: float) -> np.ndarray:
    """At 40 s, 7 m east and 9 m north, as fast as the track."""
    w = record()
    w[Y : Y + 6], w[NOW], w[PHASE] = (7.0, 9.0, height_m, 2.0, 1.0, -6.0), 40.0, DESCENT
    for place, value in changes.items():
        w[Y + int(place[1:])] += value
    return w


def test_a_flight_that_parts_goes_on_by_itself() -> None:
    w, branch = record(), record()
    w[PLACE], w[BRANCHES], w[NOW], w[Y + 2] = 3.0, 2.0, 6.5, 400.0
    parameters = np.tile(sample_flight()[0], (6, 1))
    parameters[:, PARAMETER_INDEX["delay_s"]] = 10.0 + np.arange(6)
    parameters[:, PARAMETER_INDEX["canopy_area_m2"]] = 1.0 + np.arange(6)
    outs = np.array([blank() for _ in range(6)])
    outs[3] = np.arange(outs.shape[1])
    alike.part_from(w, branch, parameters, outs, HOW)
    assert (branch[PLACE], branch[BRANCHES], branch[NOW], branch[Y + 2]) == (3.0, 0.0, 6.5, 400.0)
    assert (w[PLACE], w[BRANCHES], w[NOW], w[Y + 2]) == (4.0, 1.0, 6.5, 400.0)
    assert outs[4].tolist() == outs[3].tolist()
    assert w[: parameters.shape[1]] == pytest.approx(parameters[4])
    assert w[EJECT] == pytest.approx(17.0)  # 14 s after a burn of 3 s
    w[PLACE], w[APOGEE_DONE], parameters[4, PARAMETER_INDEX["apogee_lag_s"]] = 3.0, 1.0, 0.7
    outs[3, OUTCOME_INDEX["apogee_s"]] = 12.0
    alike.part_from(w, branch, parameters, outs, np.array([float(BY_ALTIMETER), 0.0, 1e-3, 0.0]))
    assert w[EJECT] == pytest.approx(12.7)


@pytest.mark.parametrize(
    "count, ends_m, may",
    [
        (1, 0.0, True),
        (6, 0.0, True),
        (7, 0.0, True),
        (0, 0.0, False),
        (8, 0.0, False),
        (6, 0.5, False),
    ],
)
def test_a_track_is_followed_that_came_to_the_ground_with_room_left(
    count: int, ends_m: float, may: bool
) -> None:
    p, found = sample_flight()[0], track()
    found[0, 0] = count
    found[count, 3] = ends_m
    assert alike.may_follow(p, p, found) == may


@pytest.mark.parametrize("name", ["tumble_area_m2", "canopy_area_m2", "main_area_m2"])
def test_only_under_the_same_areas_is_a_track_followed(name: str) -> None:
    p = sample_flight()[0]
    other = p.copy()
    other[PARAMETER_INDEX[name]] += 1e-9
    assert alike.may_follow(p, p, track()) and not alike.may_follow(other, p, track())


@pytest.mark.parametrize("axis, scale", [(3, 22.0), (4, 21.0), (5, 26.0)])
@pytest.mark.parametrize("off", [0.9, 1.1])
def test_a_flight_is_on_the_track_when_each_speed_is(axis: int, scale: float, off: float) -> None:
    """20 m/s and the speed itself are the scale: 2, 1 and 6 m/s; a thousandth of it is allowed."""
    w = coming_down(24.0, **{f"y{axis}": off * 1e-3 * scale})
    assert alike.is_on(track()[2], w, 1e-3) == (off < 1.0)


@pytest.mark.parametrize("line", [1, 2])
def test_on_the_track_all_that_is_left_of_the_way_is_its(line: int) -> None:
    """From its place at 24 m it took 4 s more, 8 m east and 4 m north, and landed at 6 m/s."""
    w, out, left_s = coming_down(36.0 - 6.0 * line), blank(), 6.0 - line
    w[TRACED], w[OVER] = line, 2.0
    alike.follow(w, out, track(), HOW)
    east_m, north_m = 7.0 + 2.0 * left_s, 9.0 + left_s
    assert (w[NOW], w[Y], w[Y + 1]) == pytest.approx((40.0 + left_s, east_m, north_m))
    assert w[Y + 2 : Y + 6] == pytest.approx([0.0, 2.0, 1.0, -6.0])
    assert w[OVER] == 1.0
    names = ("landing_s", "landing_east_m", "landing_north_m", "landing_m_s", "descent_m_s")
    told = [out[OUTCOME_INDEX[name]] for name in names]
    assert told == pytest.approx([40.0 + left_s, east_m, north_m, 41.0**0.5, 6.0])


@pytest.mark.parametrize(
    "traced, height_m, slower, next_line, seek_m",
    [
        (0, 31.0, 0.0, 3, 18.0),
        (0, 29.0, 0.0, 4, 12.0),
        (2, 24.0, 0.0, 5, 6.0),
        (2, 24.0, 4.0, 3, 18.0),
        (0, 18.0, 0.0, 6, 0.0),
        (0, 29.9, 7.0, 2, 24.0),
    ],
)
def test_off_the_track_it_looks_again_two_seconds_further_down(
    traced: int, height_m: float, slower: float, next_line: int, seek_m: float
) -> None:
    """Two seconds at 6 m/s are 12 m: the first place of the track below that, none at its end.

    Where it rises in the wind, the first place below it.
    """
    w, out = coming_down(height_m, y3=1.0, y5=slower), blank()
    w[TRACED], w[OVER] = traced, 2.0
    alike.follow(w, out, track(), HOW)
    assert (w[OVER], w[TRACED], w[SEEK]) == (0.0, next_line, seek_m)
    assert (w[NOW], w[Y], w[Y + 1], w[Y + 2]) == (40.0, 7.0, 9.0, height_m)
