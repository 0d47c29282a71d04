"""What is noted of a flight while it goes on: greatest and least values, moments, history.

Every figure is worked here: 3-4-5 and 3-4-12 sums, motion under constant acceleration.
"""

import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from flight_moments import RAMP, Record, blank, fall, moment, plain, record, told
from goodflight.physics.flight.record import (
    AHEAD,
    AUX,
    DESCENT,
    FREE,
    INSIDE,
    LAST,
    LINES,
    NOW,
    PHASE,
    TRIES,
    K,
    Y,
)
from goodflight.physics.flight.registry import (
    OUTCOMES,
)

forces, kernel, monitor = plain.forces, plain.kernel, plain.monitor
history = plain.history


@pytest.mark.parametrize(
    "sin2, along, degrees", [(0.25, 0.05, 30.0), (0.25, -0.05, 150.0), (1.0 + 1e-12, 1.0, 90.0)]
)
def test_incidence_knows_nose_first_from_tail_first(
    sin2: float, along: float, degrees: float
) -> None:
    w = moment()
    w[forces.SIN2], w[forces.ALONG] = sin2, along
    assert math.degrees(monitor.incidence(w)) == pytest.approx(degrees)


def test_nothing_has_been_noted_at_the_start() -> None:
    """What is a greatest value begins at nothing; a least one that was never taken is not known."""
    out = blank()
    most = ("max_speed_m_s", "max_mach", "max_pressure_pa", "max_acceleration_m_s2", "status",
            "max_incidence_rad", "max_roll_rad_s", "max_spin_ratio", "spin_incidence_rad",
            "max_side_load_n", "steps")  # fmt: skip
    assert told(out, *most) == [0.0] * len(most)
    least = ("min_margin_cal", "min_margin_incidence_cal")
    assert told(out, *least) == [math.inf] * 2
    others = [name for name in OUTCOMES if name not in (*most, *least)]
    monitor.end_notes(out)
    assert all(math.isnan(value) for value in told(out, *others, *least))


def test_what_happens_on_the_way_is_noted_with_place_and_speed() -> None:
    w, out = moment(), blank()
    monitor.note_liftoff(0.5, w, out)
    monitor.note_guide(0.6, w, out)
    monitor.note_exit(0.7, w, out)
    monitor.note_apogee(9.0, w, out)
    monitor.note_ejection(9.5, w, out)
    monitor.note_landing(60.0, w, out)
    assert told(out, "liftoff_s", "margin_liftoff_cal", "guide_exit_s", "guide_exit_m_s") == [
        0.5,
        1.5,
        0.6,
        13.0,
    ]
    exits = ("rail_exit_s", "rail_exit_m_s", "rail_exit_wind_m_s", "rail_exit_incidence_rad",
             "rail_exit_rate_rad_s", "margin_exit_cal", "margin_exit_incidence_cal")  # fmt: skip
    wanted = [0.7, 13.0, 20.0 * 0.5, math.pi / 6.0, 0.5, 1.5, 1.2]
    assert told(out, *exits) == pytest.approx(wanted)
    tops = ("apogee_s", "apogee_m", "apogee_m_s", "apogee_east_m", "apogee_north_m",
            "apogee_east_m_s", "apogee_north_m_s")  # fmt: skip
    assert told(out, *tops) == [9.0, 30.0, 20.0, 10.0, 20.0, 3.0, 4.0]
    ends = ("ejection_s", "ejection_m", "ejection_m_s", "ejection_climb_m_s")
    assert told(out, *ends) == [9.5, 30.0, 20.0, 12.0]
    lands = ("landing_s", "landing_m_s", "landing_east_m", "landing_north_m")
    assert told(out, *lands) == [60.0, 13.0, 10.0, 20.0]


@pytest.mark.parametrize("degrees", [0.0, 25.0, 110.0, 180.0])
def test_tilt_at_burnout_is_that_of_the_axis(degrees: float) -> None:
    """An axis so far from vertical, rolled by a radian; a quaternion a billionth too long."""
    lean = Rotation.from_euler("y", degrees - 90.0, degrees=True)  # the nose from east to up
    turned = Rotation.from_euler("z", 0.6) * lean * Rotation.from_euler("x", 1.0)
    w, out = moment(), blank()
    x, y, z, real = turned.as_quat()
    w[Y + 6 : Y + 10] = (1.0 + 1e-9) * np.array([real, x, y, z])
    monitor.note_burnout(2.0, w, out)
    names = ("burnout_s", "burnout_m", "burnout_m_s", "burnout_roll_rad_s", "margin_burnout_cal")
    assert told(out, *names) == [2.0, 30.0, 13.0, -6.0, 1.5]
    assert told(out, "burnout_tilt_rad")[0] == pytest.approx(math.radians(degrees), abs=1e-4)


def ended(out: Record) -> Record:
    """Outcomes as they are told at the end: angles and roots are taken then."""
    last = out.copy()
    monitor.end_notes(last)
    return last


def test_the_greatest_and_least_of_the_ascent_are_kept() -> None:
    """3-4-12 m/s, 30 degrees off, 3-4 N from aside, a roll of 6 rad/s where the pitch has 10."""
    w, out = moment(), blank()
    w[[forces.MACH, forces.PRESSURE, forces.FELT]] = 0.06, 240.0, 50.0
    w[forces.ALONG] = 20.0 * math.cos(math.pi / 6.0)
    w[[forces.SIDE_Y, forces.SIDE_Z, forces.PITCH_RATE2]] = 3.0, -4.0, 100.0
    names = ("max_speed_m_s", "max_speed_s", "max_speed_height_m", "max_mach", "max_pressure_pa",
             "max_acceleration_m_s2", "max_roll_rad_s", "max_incidence_rad", "max_side_load_n",
             "max_spin_ratio", "spin_incidence_rad", "min_margin_cal", "min_margin_s",
             "min_margin_incidence_cal")  # fmt: skip
    first = [13.0, 1.0, 30.0, 0.06, 240.0, 50.0, 6.0, math.pi / 6.0, 5.0, 0.6, math.pi / 6.0]
    monitor.note_ascent(1.0, w, Y, out, True, True)
    assert told(ended(out), *names) == pytest.approx([*first, 1.5, 1.0, 1.2])
    w[[forces.ALONG, forces.MARGIN, forces.MARGIN_INCIDENCE]] = 19.9, 1.6, 1.1
    w[Y + 3 : Y + 6], w[Y + 10], w[forces.SIDE_Y], w[forces.PRESSURE] = 1.0, 2.0, 0.0, 200.0
    monitor.note_ascent(2.0, w, Y, out, True, True)
    assert told(ended(out), *names) == pytest.approx([*first, 1.5, 1.0, 1.1])
    slow = blank()  # a pitch frequency of 0.2 rad/s is one too; of a rocket without, none
    w[forces.PITCH_RATE2], w[Y + 10] = 0.04, 0.05
    monitor.note_ascent(1.0, w, Y, slow, True, False)
    assert told(ended(slow), "max_spin_ratio") == pytest.approx([0.25])
    assert math.isnan(told(ended(slow), "min_margin_cal")[0])
    w[forces.PITCH_RATE2] = 0.0
    monitor.note_ascent(1.0, w, Y, slow, True, False)
    assert told(ended(slow), "max_spin_ratio") == pytest.approx([0.25])


def test_tail_first_is_half_a_turn_off() -> None:
    """Also where rounding has left the speed along the axis beyond the speed."""
    w, out = moment(), blank()
    w[forces.PRESSURE], w[forces.ALONG] = 240.0, -20.0 * (1.0 + 1e-12)
    monitor.note_ascent(1.0, w, Y, out, True, False)
    assert told(ended(out), "max_incidence_rad") == pytest.approx([math.pi])


def test_on_the_rail_neither_incidence_nor_spin_is_counted() -> None:
    w, out = moment(), blank()
    w[forces.PRESSURE] = 240.0
    monitor.note_ascent(1.0, w, Y, out, False, True)
    names = ("max_speed_m_s", "max_incidence_rad", "max_spin_ratio", "min_margin_cal")
    assert told(ended(out), *names) == pytest.approx([13.0, 0.0, 0.0, math.nan], nan_ok=True)


def test_a_line_of_history_is_the_moment_the_state_and_the_notes() -> None:
    w = record()
    w[INSIDE : INSIDE + 13] = np.arange(13.0)
    w[AUX : AUX + forces.NOTED_COUNT] = 100.0 + np.arange(forces.NOTED_COUNT)
    lines = np.zeros((1, history.HISTORY_COLUMNS))
    history.write_history(lines, 4.5, FREE, w)
    assert w[LINES] == 1
    notes = [*range(13), *range(100, 100 + forces.NOTED_COUNT)]
    assert lines[0].tolist() == [4.5, FREE, *notes]
    history.write_history(lines, 5.0, FREE, w)
    assert w[LINES] == 1  # no room is left
    track = np.zeros((2, 7))
    w[NOW], w[Y : Y + 7] = 4.5, np.arange(1.0, 8.0)
    history.keep_place(track, w)
    assert track[1].tolist() == [4.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0]
    history.keep_place(track, w)
    assert track[0, 0] == 1


@pytest.mark.parametrize("now, share, tenths", [(1.0, 1.0, 5), (1.03, 1.0, 5), (1.03, 0.5, 2)])
def test_history_has_every_tenth_of_a_second_of_what_was_taken(
    now: float, share: float, tenths: int
) -> None:
    """Half a second of free fall from 30 m at 12 m/s: height by v t - g t^2 / 2."""
    w = record(RAMP, True, tumble_area_m2=0.0)
    w[Y : Y + 6], w[NOW], w[PHASE] = (10.0, 20.0, 30.0, 3.0, 4.0, 12.0), now, DESCENT
    fall(w, 0.5)
    lines = np.zeros((9, history.HISTORY_COLUMNS))
    history.record_step(lines, 0.5, share, 0.1, w)
    assert w[LINES] == tenths
    first = 1.0 if now == 1.0 else 1.1
    assert lines[:tenths, 0] == pytest.approx(first + 0.1 * np.arange(tenths))
    after = lines[:tenths, 0] - now
    assert lines[:tenths, 4] == pytest.approx(30.0 + 12.0 * after - 5.0 * after**2)
    assert not lines[tenths:].any()


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_the_moment_of_greatest_speed_inside_a_step_is_where_power_runs_out(axis: int) -> None:
    """10 m/s and 4 m/s2 at its start, 9.5 and -6 at its end: straight from 40 to -57 W/kg."""
    w = moment()
    w[[Y + 3, Y + 4, Y + 5, AHEAD + 3, AHEAD + 4, AHEAD + 5]] = 0.0
    w[Y + 3 + axis], w[K + 3 + axis] = 10.0, 4.0
    w[AHEAD + 3 + axis], w[LAST + 3 + axis] = 9.5, -6.0
    assert plain.inside.fastest(w) == pytest.approx(40.0 / 97.0)
    w[K + 3 + axis] = -0.005  # slows from its start
    assert plain.inside.fastest(w) == 0.0
    w[K + 3 + axis], w[LAST + 3 + axis] = 4.0, 0.005  # gains to its end
    assert plain.inside.fastest(w) == 0.0


@pytest.mark.parametrize("at, top", [(0.3, 0.3), (0.9, 0.9), (-0.05, 0.0), (1.05, 0.0)])
def test_the_top_of_a_parabola_is_found_where_it_lies_inside(at: float, top: float) -> None:
    """7 - (s - s0)^2 at both ends and the middle; a valley has none."""
    start, middle, end = (7.0 - (s - at) ** 2 for s in (0.0, 0.5, 1.0))
    assert plain.inside.crest(start, middle, end) == pytest.approx(top, abs=1e-12)
    assert plain.inside.crest(-start, -middle, -end) == 0.0


def test_steps_of_all_phases_are_counted() -> None:
    w, out = record(), blank()
    w[TRIES : TRIES + 4] = 1.0, 10.0, 100.0, 1000.0
    kernel.end_flight(w, out)
    assert told(out, "steps") == [1111.0]
