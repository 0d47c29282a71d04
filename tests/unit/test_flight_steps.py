"""How a step is set, judged and used, by itself: lengths by hand, what is moved and noted.

The longest step is a second; an error of a thousandth is allowed throughout.
"""

import math

import numpy as np
import pytest

from flight_moments import FILL, RAMP, STRETCH, Record, blank, fall, plain, record, told
from goodflight.physics.flight.record import (
    APOGEE_DONE,
    BEFORE,
    BRANCHES,
    DESCENT,
    EJECT,
    ERROR,
    FREE,
    KEEPS,
    LINES,
    MAIN_DONE,
    NOW,
    OPENED,
    OVER,
    PAUSED,
    PAUSES,
    PHASE,
    PIVOT,
    SEGMENT,
    STEP,
    STOP,
    STRETCH_FIRST,
    STRETCH_SECOND,
    TRIED,
    TRIES,
    WHOLE,
    Y,
)
from goodflight.physics.flight.registry import GAVE_UP

kernel = plain.kernel
ALLOWED = 1e-3
HOW = np.array([0.0, 0.0, ALLOWED, 0.0])


def coasting(step: float = 0.5, ejects: float = 9.0) -> Record:
    """Burnt out at 3 s and climbing at 20 m/s from 100 m, at 5 s."""
    w = record(RAMP, True)
    w[Y + 2], w[Y + 5], w[NOW], w[PHASE], w[SEGMENT] = 100.0, 20.0, 5.0, FREE, 2.0
    w[STEP], w[EJECT], w[MAIN_DONE] = step, ejects, 1.0
    return w


@pytest.mark.parametrize(
    "step, tried, whole",
    [(0.5, 0.5, 1.0), (5.0, 1.0, 1.0), (3.9999998, 1.0, 1.0)],
)
def test_a_step_is_as_long_as_asked_but_a_second_at_most(
    step: float, tried: float, whole: float
) -> None:
    w = coasting(step)
    assert kernel.set_step(w, blank())
    assert (w[TRIED], w[WHOLE], w[STOP]) == (tried, whole, 9.0)


@pytest.mark.parametrize("now, cut", [(8.6, True), (8.5 - 5e-8, True), (8.5 - 2e-7, False)])
def test_a_step_that_would_pass_a_stop_ends_at_it(now: float, cut: bool) -> None:
    """Or leave less than a ten-millionth of a second to it."""
    w = coasting()
    w[NOW] = now
    assert kernel.set_step(w, blank())
    assert w[TRIED] == pytest.approx(9.0 - now if cut else 0.5, abs=1e-12)
    assert w[WHOLE] == (0.0 if cut else 1.0)


def test_a_stop_that_is_reached_is_crossed_first() -> None:
    w, out = coasting(), blank()
    w[NOW] = 9.0 - 5e-10
    assert kernel.set_step(w, out)
    assert w[PHASE] == DESCENT and told(out, "ejection_s") == [9.0 - 5e-10]
    assert w[STOP] == pytest.approx(9.6)  # the lines are stretched 0.6 s later
    w = coasting()
    w[NOW] = 9.0 - 2e-9
    assert kernel.set_step(w, blank()) and w[PHASE] == FREE


@pytest.mark.parametrize(
    "now, over, branches, there",
    [(5.0, 0.0, 1.0, True), (8.9, 0.0, 1.0, False), (8.9, 0.0, 0.0, True), (5.0, 1.0, 0.0, False)],
)
def test_no_step_once_it_is_over_or_where_others_part_at_the_ejection(
    now: float, over: float, branches: float, there: bool
) -> None:
    w = coasting()
    w[NOW], w[OVER], w[BRANCHES] = now, over, branches
    assert kernel.set_step(w, blank()) == there and w[PHASE] == FREE


@pytest.mark.parametrize("which", [0, 2])
def test_a_filling_canopy_takes_twelve_steps(which: int) -> None:
    """From 12 s on in 0.6 s: 0.05 s each."""
    w = coasting(5.0)
    w[PHASE], w[STRETCH_FIRST], w[STRETCH_SECOND] = DESCENT, math.inf, math.inf
    w[STRETCH : STRETCH + 4] = math.inf, 1.0, math.inf, 1.0
    w[STRETCH + which], w[FILL + which], w[NOW] = 12.0, 0.6, 12.1
    assert kernel.set_step(w, blank()) and w[TRIED] == pytest.approx(0.05)
    w[NOW], w[STEP] = 12.6 - 5e-10, 5.0  # as good as full
    assert kernel.set_step(w, blank()) and w[TRIED] == 1.0


def test_a_step_towards_the_ground_takes_four_tenths_of_the_way_but_50_a_second_at_most() -> None:
    for height, wanted in ((2.0, 0.04), (0.5, 0.02)):
        w = coasting()
        w[Y + 2], w[Y + 5] = height, -20.0
        kernel.next_stop(w)
        assert w[STEP] == pytest.approx(wanted)
    for phase, climb in ((PIVOT, -20.0), (FREE, 0.05)):
        w[PHASE], w[STEP], w[Y + 5] = phase, 0.5, climb
        kernel.next_stop(w)
        assert w[STEP] == 0.5


def judged(error: float, before: float = 0.0, whole: float = 1.0, step: float = 0.1) -> Record:
    """A step of 0.1 s tried, with so many times the error that is allowed."""
    w = coasting(step)
    w[TRIED], w[ERROR], w[BEFORE], w[WHOLE] = 0.1, error * ALLOWED, before, whole
    return w


@pytest.mark.parametrize(
    "error, before, longer",
    [(1.0, 0.0, 0.095), (0.5, math.log(0.2), 0.095 * 2.0**0.1625 * 0.2**0.05), (1e-9, 0.0, 0.4)],
)
def test_a_step_that_is_good_enough_is_taken_and_the_next_grows(
    error: float, before: float, longer: float
) -> None:
    """0.95 / e^0.1625 of the step, fourfold at most; a step cut short shortens none."""
    w = judged(error, before)
    assert kernel.accept(w, HOW)
    assert w[STEP] == pytest.approx(longer) and w[TRIES : TRIES + 4].tolist() == [0, 0, 1, 0]
    assert w[BEFORE] == pytest.approx(max(math.log(error), math.log(1e-4)))
    w = judged(error, before, whole=0.0, step=0.3)
    assert kernel.accept(w, HOW) and w[STEP] == pytest.approx(max(0.3, longer))


@pytest.mark.parametrize("error, shorter", [(2.0, 0.095 * 2.0**-0.1625), (1e8, 0.02)])
def test_a_step_that_is_not_is_tried_again_shorter(error: float, shorter: float) -> None:
    """A fifth of it at least, and what the step before missed is still that."""
    w, out = judged(error, 0.0), blank()
    kernel.use_step(w, out, np.zeros((1, 9, 40)), HOW, w, -1)
    assert w[STEP] == pytest.approx(shorter) and (w[BEFORE], w[NOW], w[OVER]) == (0.0, 5.0, 0.0)
    assert w[TRIES + FREE] == 1.0


def used(w: Record, out: Record, tracks: Record, every: float = 0.0) -> None:
    """Half a second at -10 m/s2, an error far below what is allowed."""
    plain.stepper.refresh(w)
    fall(w, 0.5)
    w[TRIED], w[ERROR], w[WHOLE], w[STOP] = 0.5, 1e-9, 1.0, 50.0
    kernel.use_step(w, out, tracks, np.array([0.0, every, ALLOWED, 0.0]), w, -1)


def test_a_flight_gives_up_after_20_000_steps() -> None:
    w, out = coasting(), blank()
    w[TRIES : TRIES + 4] = 1.0, 2.0, 19_996.0, 0.0
    used(w, out, np.zeros((1, 9, 40)))
    assert w[OVER] == 0.0 and w[NOW] == 5.5
    used(w, out, np.zeros((1, 9, 40)))
    assert w[OVER] == 1.0 and w[NOW] == 5.5 and told(out, "status") == [GAVE_UP]


def test_a_step_is_noted_as_far_as_it_goes() -> None:
    """Greatest speed at its end, the top at 1 s when the climb of 10 m/s is used up."""
    w, out = coasting(), blank()
    w[Y + 5] = 3.0
    used(w, out, np.zeros((1, 9, 40)))
    assert w[NOW] == pytest.approx(5.3) and w[APOGEE_DONE] == 1.0  # the event cuts it
    assert told(out, "apogee_s", "apogee_m") == pytest.approx([5.3, 100.45])
    w, out = coasting(), blank()
    w[Y + 5] = 30.0
    used(w, out, np.zeros((1, 9, 40)))
    assert w[NOW] == 5.5 and w[Y + 2] == pytest.approx(113.75)
    assert math.isnan(told(out, "apogee_s")[0])


def test_history_is_written_where_it_is_asked_for() -> None:
    tracks = np.zeros((1, 9, plain.history.HISTORY_COLUMNS))
    w, out = coasting(), blank()
    used(w, out, tracks)
    assert w[LINES] == 0.0
    w = coasting()
    used(w, out, tracks, every=0.1)
    assert w[LINES] == 5.0 and tracks[0, :5, 0] == pytest.approx([5.0, 5.1, 5.2, 5.3, 5.4])


@pytest.mark.parametrize("opened, ends", [(KEEPS, 0.0), (PAUSES, PAUSED), (0, 0.0)])
def test_under_full_canopies_a_track_is_kept_or_it_pauses_once(opened: int, ends: float) -> None:
    w, out = coasting(), blank()
    w[PHASE], w[OPENED], w[Y + 5], w[APOGEE_DONE] = DESCENT, opened, -6.0, 1.0
    w[STRETCH_FIRST] = math.inf
    w[STRETCH : STRETCH + 4] = 2.0, 1.0, math.inf, 1.0
    tracks = np.zeros((1, 9, 40))
    used(w, out, tracks)
    assert w[OVER] == ends and w[OPENED] == (0.0 if opened == PAUSES else opened)
    assert tracks[0, 0, 0] == (1.0 if opened == KEEPS else 0.0)
    if opened == KEEPS:
        assert tracks[0, 1, :4] == pytest.approx([5.5, 0.0, 0.0, 95.75])


def test_what_a_filling_canopy_pulls_is_noted_and_the_ground_ends_it() -> None:
    w, out = coasting(), blank()
    w[PHASE], w[Y + 5], w[Y + 2], w[APOGEE_DONE] = DESCENT, -6.0, 3.0, 1.0
    w[STRETCH_FIRST], out[plain.kernel._OPEN_F[0]] = math.inf, 0.0
    w[STRETCH : STRETCH + 4] = 4.9, 9.0, math.inf, 1.0
    used(w, out, np.zeros((1, 9, 40)))
    assert w[OVER] == 1.0 and told(out, "opening_force_n")[0] > 0.0
    fall_s = (-6.0 + math.sqrt(36.0 + 2.0 * 10.0 * 3.0)) / 10.0  # 3 m at 6 m/s and 10 m/s2
    assert told(out, "landing_s") == pytest.approx([5.0 + fall_s])
