"""Where inside a step its greatest values are looked for, when the motion is known by hand.

A look stands here for a reading of the motion at a share of the step: a parabola, or a root that
goes straight, so that top and passing are known without a flight.
"""

import math
from collections.abc import Callable
from unittest.mock import patch

import numpy as np
import pytest

from flight_moments import Record, blank, moment, plain
from goodflight.physics.flight.record import (
    AHEAD,
    APOGEE_DONE,
    AUX,
    AUX_ROOM,
    LAST,
    K,
    Y,
)

inside, monitor, forces = plain.inside, plain.monitor, plain.forces
Reading = Callable[[Record, float], None]


def looked(work: Callable[[], None], reads: Reading) -> list[float]:
    """Shares of the step that a piece of work looks at, each read as given."""
    shares = list[float]()

    def look(share: float, _step: float, w: Record, _out: Record) -> None:
        shares.append(share)
        reads(w, share)

    with patch.object(inside, "look", look):
        work()
    return shares


def nothing(_w: Record, _share: float) -> None:
    """What a look reads does not matter."""


@pytest.mark.parametrize("start, end", [(0.99, 1.7), (0.6, 1.7), (0.2, 1.01), (1.3, 0.4)])
@pytest.mark.parametrize("part", [1.0, 0.4])
def test_a_limit_is_found_where_a_root_that_goes_straight_passes_it(
    start: float, end: float, part: float
) -> None:
    """Roots in units of the limit's; the last look is less than 2 in 10 000 inside of it."""
    w, out, limit = moment(), blank(), 25.0

    def root(share: float) -> float:
        return 5.0 * (start + (end - start) * share / part)

    def reads(w: Record, share: float) -> None:
        w[monitor.SPUN2] = root(share) ** 2

    shares = looked(
        lambda: inside.look_at_edge(
            monitor.SPUN2, root(0.0) ** 2, root(part) ** 2, limit, part, 0.5, w, out
        ),
        reads,
    )
    assert all(0.0 <= share <= part for share in shares)
    assert 0.0 < root(shares[-1]) / 5.0 - 1.0 < 2e-4


def swinging(angle_top: float, side_top: float) -> Reading:
    """1 - cos of the incidence and the side load squared as parabolas of known tops, no edges."""

    def reads(w: Record, share: float) -> None:
        w[monitor.LEANT] = 7.0 - (share - angle_top) ** 2
        w[monitor.PUSHED2] = 9.0 - (share - side_top) ** 2

    return reads


@pytest.mark.parametrize("angle_top, side_top", [(0.3, 0.8), (0.04, 0.06), (0.97, 0.55)])
@pytest.mark.parametrize("part", [1.0, 0.5])
def test_the_tops_of_swing_and_side_load_are_looked_at(
    angle_top: float, side_top: float, part: float
) -> None:
    """Of a part of a step, tops lie at the same share of the part; its end is looked at first."""
    w, out = moment(), blank()
    reads = swinging(part * angle_top, part * side_top)
    reads(w, 0.0)
    w[monitor.SPUN2] = w[monitor.FELT_BEFORE] = w[forces.PRESSURE] = 0.0
    last = 7.0 - (1.0 - angle_top) ** 2, 9.0 - (1.0 - side_top) ** 2, 0.0
    with patch.object(inside, "swing", lambda _w, _at: last):
        shares = looked(lambda: inside.look_around(part, 0.5, w, out), reads)
    tops = [0.5 * part, part * angle_top, part * side_top]
    assert shares == pytest.approx(tops if part == 1.0 else [part, *tops])


def passing(fast_at: float) -> Record:
    """Power over the ground from above nothing to below it, straight, through a moment."""
    w = moment()
    w[[Y + 3, Y + 4, AHEAD + 3, AHEAD + 4]] = 0.0
    w[Y + 5], w[K + 5] = 10.0, fast_at
    w[AHEAD + 5], w[LAST + 5] = 10.0, fast_at - 1.0
    return w


@pytest.mark.parametrize(
    "fast, done, wide, worth",
    [(0.05, 1, False, True), (0, 0, True, True), (0, 0, False, False), (0, 1, True, False)],
)
def test_a_step_is_worth_a_look_for_its_speed_and_on_the_way_up_for_its_swing(
    fast: float, done: float, wide: bool, worth: bool
) -> None:
    w, out = moment(), blank()
    w[APOGEE_DONE] = done
    found = patch.multiple(inside, fastest=lambda _w: fast, swings_wide=lambda _w, _out: wide)
    with found:
        assert inside.worth_a_look(w, out) == worth


@pytest.mark.parametrize("fast_at, part", [(0.05, 1.0), (0.7, 1.0), (0.7, 0.8)])
def test_the_fastest_moment_is_looked_at_and_the_step_s_end_left_as_it_was(
    fast_at: float, part: float
) -> None:
    w, out = passing(fast_at), blank()
    w[AUX : AUX + AUX_ROOM] = before = np.arange(AUX_ROOM) + 3.0

    def reads(w: Record, _share: float) -> None:
        w[AUX : AUX + AUX_ROOM] = -1.0

    with patch.object(inside, "swings_wide", lambda _w, _out: False):
        shares = looked(lambda: inside.note_inside(0.5, part, w, out), reads)
    assert shares == pytest.approx([fast_at])
    assert w[AUX : AUX + AUX_ROOM].tolist() == before.tolist()


def test_beyond_the_part_that_counts_nothing_is_looked_at() -> None:
    w, out = passing(0.7), blank()
    with patch.object(inside, "swings_wide", lambda _w, _out: False):
        assert looked(lambda: inside.note_inside(0.5, 0.6, w, out), nothing) == []


@pytest.mark.parametrize("after_apogee", [0, 1])
def test_swings_count_until_apogee(after_apogee: int) -> None:
    """Speed that only falls; a wide swing is looked around before apogee alone."""
    w, out, around = passing(-0.5), blank(), list[float]()
    w[APOGEE_DONE] = after_apogee
    with (
        patch.object(inside, "swings_wide", lambda _w, _out: True),
        patch.object(inside, "look_around", lambda part, *_: around.append(part)),
    ):
        assert looked(lambda: inside.note_inside(0.5, 0.9, w, out), nothing) == []
    assert around == ([] if after_apogee else [0.9])


def test_a_step_that_swings_is_looked_into_where_it_may_be_the_widest_so_far() -> None:
    """A swing of 20 degrees at a step's end, 24 or 30 seen before: a step's top is at most a fifth
    above its ends, so 24 may be reached inside and 30 may not. Below a twentieth of the greatest
    pressure no swing counts, and a pressure that passes it is looked for."""
    w = moment()
    lean = 1.0 - math.cos(math.radians(20.0))
    for seen_deg, pressure, before, wide in (
        (24.0, 240.0, 240.0, True),
        (30.0, 240.0, 240.0, False),
        (24.0, 9.0, 9.0, False),
        (24.0, 13.0, 9.0, True),
        (30.0, 13.0, 9.0, True),
        (30.0, 27.0, 22.0, True),
        (30.0, 22.0, 13.0, False),
    ):
        out = blank()
        out[monitor.PRESSED] = 250.0
        out[monitor.INCIDENCE] = 1.0 - math.cos(math.radians(seen_deg))
        out[monitor.SIDE] = 100.0
        w[monitor.LEANT] = w[monitor.PUSHED2] = w[monitor.SPUN2] = 0.0
        w[monitor.FELT_BEFORE], w[forces.PRESSURE] = before, pressure
        with patch.object(inside, "swing", lambda _w, _at: (lean, 0.0, 0.0)):
            assert inside.swings_wide(w, out) == wide, (seen_deg, pressure, before)
