"""The stages of a step, its error, the next length, and what is inside: sums by the tables.

The tables themselves are held to the conditions of order elsewhere (`test_step_order`).
"""

import math

import numpy as np
import pytest

from flight_moments import RAMP, plain, record
from goodflight.physics.flight.record import (
    AHEAD,
    BEFORE,
    DESCENT,
    DESCENT_COUNT,
    ERROR,
    INSIDE,
    LANES,
    LAST,
    LENGTH,
    MISS,
    NEW,
    NOW,
    PHASE,
    SCALES,
    SEGMENT,
    STAGES,
    STATE_COUNT,
    TABLE,
    TRIED,
    WIDE,
    K,
    Y,
)

stepper = plain.stepper
Array = np.ndarray


def block(s: int) -> Array:
    """Drawn figures everywhere, s flights side by side; copies of the tables are not touched."""
    return np.random.default_rng(s).uniform(0.5, 1.5, TABLE * s)


def at(q: Array, place: int, s: int) -> Array:
    """One part of the records, (WIDE s,)."""
    return q[place * s : (place + WIDE) * s]


@pytest.mark.parametrize("s", [1, LANES])
@pytest.mark.parametrize("stage", range(1, STAGES))
def test_a_stage_is_where_the_stages_before_it_lead(stage: int, s: int) -> None:
    """y + h sum a_i k_i with the newest rates as the last k, which are kept in their row."""
    q = block(s)
    before = q.copy()
    rows = [at(before, K + WIDE * i, s) for i in range(stage)]
    if stage > 1:
        rows[-1] = at(before, NEW, s)
    sums = sum(float(stepper.WEIGHTS[stage, i]) * row for i, row in enumerate(rows))
    stepper.advance(stage, WIDE, q, s)
    expected = at(before, Y, s) + at(before, LENGTH, s) * sums
    assert at(q, AHEAD, s) == pytest.approx(expected, rel=1e-12)
    at(before, AHEAD, s)[:] = at(q, AHEAD, s)
    if stage > 1:
        at(before, K + WIDE * (stage - 1), s)[:] = at(before, NEW, s)
    assert np.array_equal(q, before)  # nothing else is touched


@pytest.mark.parametrize("s", [1, LANES])
def test_the_error_is_the_weighted_sum_over_scale_and_size(s: int) -> None:
    q = block(s)
    at(q, Y, s)[::2] *= -1.0
    before = q.copy()
    rows = [at(before, K + WIDE * i, s) for i in range(STAGES - 1)] + [at(before, NEW, s)]
    sums = sum(float(weight) * row for weight, row in zip(stepper.ERROR_WEIGHTS, rows))
    stepper.max_miss(WIDE, q, s)
    over = at(before, SCALES, s) + abs(at(before, Y, s))
    assert at(q, MISS, s) == pytest.approx(abs(at(before, LENGTH, s) * sums) / over, rel=1e-9)
    assert np.array_equal(at(q, LAST, s), at(before, NEW, s))


def test_a_step_under_canopies_goes_through_all_its_stages() -> None:
    """Six right-hand sides one after the other give the state at its end and the rates there."""
    w = record(RAMP, True, canopy_area_m2=0.5)
    w[Y : Y + 6], w[PHASE], w[NOW], w[TRIED] = (0.0, 0.0, 80.0, 2.0, 1.0, -9.0), DESCENT, 9.0, 0.3
    w[SEGMENT] = 2.0
    stepper.refresh(w)
    v = w.copy()
    stepper.try_step(w)
    k = [v[K : K + WIDE].copy()]
    for stage in range(1, STAGES):
        sums = sum(float(stepper.WEIGHTS[stage, i]) * row for i, row in enumerate(k))
        v[AHEAD : AHEAD + WIDE] = v[Y : Y + WIDE] + 0.3 * sums
        stepper.work_out(DESCENT, 9.0 + 0.3 * float(stepper.MOMENTS[stage]), v, AHEAD, 2)
        k.append(v[NEW : NEW + WIDE].copy())
    assert w[AHEAD : AHEAD + 6] == pytest.approx(v[AHEAD : AHEAD + 6], rel=1e-12)
    assert w[LAST : LAST + 6] == pytest.approx(k[-1][:6], rel=1e-12)
    error = 0.3 * sum(float(each) * row for each, row in zip(stepper.ERROR_WEIGHTS, k))
    missed = abs(error) / (stepper.SCALE + abs(v[Y : Y + WIDE]))
    assert w[ERROR] == pytest.approx(missed.max(), rel=1e-9) and w[ERROR] > 0.0


def test_the_next_length_goes_by_this_error_and_the_one_before() -> None:
    """0.95 times the errors of both: to the power -0.1625 and 0.05 (Hairer, Norsett, Wanner II).

    0.2 - 0.75 x 0.05 = 0.1625. Errors below 1e-4 and above 1e6 of what is allowed count as those.
    """
    w = record()
    w[BEFORE] = math.log(0.5)
    size = stepper.log_size(0.03)
    assert size == pytest.approx(math.log(0.03))
    assert stepper.growth(size, w) == pytest.approx(0.95 * 0.5**0.05 * 0.03**-0.1625)
    assert stepper.log_size(0.0) == pytest.approx(math.log(1e-4))
    assert stepper.log_size(1e9) == pytest.approx(math.log(1e6))


@pytest.mark.parametrize("phase, count", [(DESCENT, DESCENT_COUNT), (0, STATE_COUNT)])
def test_inside_a_step_each_row_has_its_share(phase: int, count: int) -> None:
    """At 0.3 of it: D (0.3, 0.09, 0.027, 0.0081) by hand; what does not move stays."""
    w = block(1)
    stepper.dense(phase, 0.2, 0.3, w, INSIDE)
    weights = stepper.INSIDE_WEIGHTS @ np.array([0.3, 0.09, 0.027, 0.0081])
    rows = np.array([w[K + WIDE * i : K + WIDE * i + STATE_COUNT] for i in range(STAGES)])
    moved = w[Y : Y + STATE_COUNT] + 0.2 * (weights @ rows) * (np.arange(STATE_COUNT) < count)
    assert w[INSIDE : INSIDE + STATE_COUNT] == pytest.approx(moved, rel=1e-12)
