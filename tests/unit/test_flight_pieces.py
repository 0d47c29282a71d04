"""The pieces of a flight's loop by themselves: where events lie, the stops, the steps.

Every figure is worked here: motion under constant acceleration (which a step and its inside take
without error), areas under straight lines.
"""

import math

import numpy as np
import pytest

from flight_moments import FILL, RAMP, STRETCH, Record, blank, fall, moment, plain, record, told
from goodflight.physics.flight.record import (
    AHEAD,
    APOGEE_DONE,
    DESCENT,
    EJECT,
    FREE,
    FROM,
    LAST_SEGMENT,
    LIMIT,
    MAIN_DONE,
    NOW,
    OVER,
    PAUSED,
    PHASE,
    PIVOT,
    SEEK,
    SEGMENT,
    SLIDING,
    STEP,
    STRETCH_FIRST,
    STRETCH_SECOND,
    K,
    Y,
)
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    BY_DELAY,
    NEVER_LEFT,
    NOTHING_OPEN,
    NOTHING_OPENS,
    OUTCOME_INDEX,
    PARAMETER_INDEX,
)

events, forces, kernel = plain.events, plain.forces, plain.kernel


def test_an_event_is_as_far_off_as_its_height_speed_or_way() -> None:
    """2 m of 3 m along the rail have been gone, whatever way across it."""
    w = moment()
    w[PARAMETER_INDEX["main_height_m"]], w[SEEK], w[LIMIT] = 25.0, 28.0, 3.0
    tilt, azimuth = (w[PARAMETER_INDEX[name]] for name in ("rail_tilt_rad", "rail_azimuth_rad"))
    rail = np.array(
        [math.sin(tilt) * math.sin(azimuth), math.sin(tilt) * math.cos(azimuth), math.cos(tilt)]
    )
    across = np.cross(rail, [0.6, 0.8, 0.0])
    w[FROM : FROM + 3] = w[Y : Y + 3] - 2.0 * rail - 0.7 * across
    kinds = (events.APOGEE, events.GROUND, events.MAIN, events.JOIN, events.GUIDE, events.EXIT)
    found = [events.event_value(kind, Y, w) for kind in kinds]
    assert found == pytest.approx([12.0, 30.0, 5.0, 2.0, 1.0, 1.0])
    w[Y + 3 : Y + 6] = -5.0 * rail + 2.0 * across
    assert events.event_value(events.SLID_BACK, Y, w) == pytest.approx(-5.0, abs=2e-3)


@pytest.mark.parametrize("share", [0.02, 0.4, 0.93])
def test_an_event_is_found_where_the_motion_passes_it(share: float) -> None:
    """Half a second at -10 m/s2: the top where the climb is used up, the ground by a square."""
    w = moment()
    w[PHASE], w[Y + 5] = FREE, 5.0 * share
    fall(w, 0.5)
    assert events.locate(events.APOGEE, 0.5, w) == pytest.approx(share, abs=1e-9)
    w[Y + 2], w[Y + 5] = 2.0 * 0.5 * share + 5.0 * (0.5 * share) ** 2, -2.0
    fall(w, 0.5)
    assert events.locate(events.GROUND, 0.5, w) == pytest.approx(share, abs=1e-9)


FREELY = (events.APOGEE, events.GROUND)


@pytest.mark.parametrize(
    "phase, changes, kinds",
    [
        (SLIDING, {}, (events.GUIDE, events.SLID_BACK)),
        (PIVOT, {}, (events.EXIT,)),
        (FREE, {}, FREELY),
        (FREE, {APOGEE_DONE: 1}, (events.GROUND,)),
        (DESCENT, {AHEAD + 5: -0.05}, (events.APOGEE, events.MAIN, events.GROUND)),
        (DESCENT, {AHEAD + 5: 0.05}, FREELY),
        (DESCENT, {AHEAD + 5: -5.0, MAIN_DONE: 1}, FREELY),
        (DESCENT, {AHEAD + 5: 5.0, SEEK: 0.05}, (*FREELY, events.JOIN)),
    ],
)
def test_what_can_happen_when(
    phase: int, changes: dict[int, float], kinds: tuple[int, ...]
) -> None:
    w = moment()
    w[PHASE], w[MAIN_DONE] = phase, 0
    for place, value in changes.items():
        w[place] = value
    every = range(events.NO_EVENT + 1, events.JOIN + 1)
    assert sorted(kinds) == [kind for kind in every if events.may_happen(kind, w)]


@pytest.mark.parametrize(
    "changes, clear",
    [
        ({}, True),
        ({PHASE: PIVOT}, False),
        ({AHEAD + 5: -0.05}, False),
        ({AHEAD + 5: 0.05}, True),
        ({AHEAD + 5: -5.0, APOGEE_DONE: 1}, True),
        ({AHEAD + 2: 20.0}, True),
        ({AHEAD + 2: 20.0, PHASE: DESCENT}, False),
        ({AHEAD + 2: 20.0, PHASE: DESCENT, MAIN_DONE: 1}, True),
        ({PHASE: DESCENT}, True),
        ({AHEAD + 2: -0.05}, False),
        ({AHEAD + 2: 0.05}, True),
        ({SEEK: 29.0}, True),
        ({SEEK: 31.0}, False),
    ],
)
def test_a_step_clear_of_everything_is_known(changes: dict[int, float], clear: bool) -> None:
    """Freely at 30 m and climbing, the second canopy due at 25 m."""
    w = moment()
    w[PARAMETER_INDEX["main_height_m"]], w[PHASE], w[MAIN_DONE] = 25.0, FREE, 0
    w[AHEAD : AHEAD + 6] = w[Y : Y + 6]
    for place, value in changes.items():
        w[place] = value
    assert events.nothing_near(w) == clear


def test_of_two_events_in_a_step_the_first_counts() -> None:
    """Down at 4 m/s from 1.5 m for half a second: a canopy due at 1 m, then the ground."""
    w = moment()
    w[PHASE], w[APOGEE_DONE], w[PARAMETER_INDEX["main_height_m"]] = DESCENT, 1, 1.0
    w[Y + 2], w[Y + 5] = 1.5, -4.0
    fall(w, 0.5, climb_m_s2=0.0)
    kind, share = events.first_event(0.5, w)
    assert kind == events.MAIN and share == pytest.approx(0.25)
    w[PARAMETER_INDEX["main_height_m"]] = 2.0  # already below it
    assert events.first_event(0.5, w) == (events.MAIN, 0.0)
    w[MAIN_DONE] = 1
    kind, share = events.first_event(0.5, w)
    assert kind == events.GROUND and share == pytest.approx(0.75)
    w[Y + 2] = 2.05
    fall(w, 0.5, climb_m_s2=0.0)  # 5 cm are left
    assert events.first_event(0.5, w) == (events.NO_EVENT, 1.0)
    w[PARAMETER_INDEX["main_height_m"]], w[MAIN_DONE] = 0.01, 0
    assert events.first_event(0.5, w) == (events.NO_EVENT, 1.0)


def test_an_event_5_cm_off_is_still_to_come() -> None:
    """A canopy due at 1.45 m is passed an eightieth of a second after 1.5 m; a guide with 5 cm to
    go after 2 m up its rail has not left."""
    w = moment()
    w[PHASE], w[APOGEE_DONE], w[PARAMETER_INDEX["main_height_m"]] = DESCENT, 1, 1.45
    w[Y + 2], w[Y + 5], w[MAIN_DONE] = 1.5, -4.0, 0
    fall(w, 0.5, climb_m_s2=0.0)
    kind, share = events.first_event(0.5, w)
    assert kind == events.MAIN and share == pytest.approx(0.025)
    w = moment()
    w[[PARAMETER_INDEX["rail_tilt_rad"], Y + 3, Y + 4]] = 0.0
    w[PHASE], w[LIMIT], w[Y + 5] = SLIDING, 2.05, 4.0
    w[FROM : FROM + 3] = w[Y : Y + 3]
    fall(w, 0.5, climb_m_s2=0.0)
    assert events.first_event(0.5, w) == (events.NO_EVENT, 1.0)
    w[LIMIT] = 1.95
    assert events.first_event(0.5, w) == (events.GUIDE, pytest.approx(0.975))


@pytest.mark.parametrize("which, size", [(0, "canopy"), (1, "main")])
@pytest.mark.parametrize("speed, fills_s", [(16.0, 0.5), (0.5, math.sqrt(2.0 * 8.0 / 10.0))])
def test_a_canopy_fills_over_its_path_but_not_slower_than_by_falling(
    which: int, size: str, speed: float, fills_s: float
) -> None:
    """n D = 8 m: at 16 m/s half a second; falling 8 m from rest takes sqrt(2 n D / g)."""
    w, out = (
        record(**{f"{size}_diameter_m": 1.0, f"{size}_fill": 8.0, "gravity_m_s2": 10.0}),
        blank(),
    )
    w[forces.SPEED], w[Y + 2] = speed, 150.0
    kernel.stretch_canopy(which, 12.0, w, out)
    assert w[STRETCH + 2 * which] == 12.0 and w[FILL + 2 * which] == pytest.approx(fills_s)
    name = "opening" if which == 0 else "main_opening"
    assert told(out, f"{name}_m_s", f"{name}_force_n") == [speed, 0.0]
    assert told(out, "opening_m") == pytest.approx([150.0 if which == 0 else math.nan], nan_ok=True)


@pytest.mark.parametrize("which, size", [(0, "canopy"), (1, "main")])
def test_the_force_of_a_filling_canopy_is_pressure_by_its_area_so_far(
    which: int, size: str
) -> None:
    """100 Pa on a quarter of 0.4 m2 in half the time, 1.5 of it as it overshoots; none after."""
    w, out = (
        record(**{f"{size}_area_m2": 0.4, f"{size}_growth": 2.0, f"{size}_overshoot": 1.5}),
        blank(),
    )
    name = OUTCOME_INDEX["opening_force_n" if which == 0 else "main_opening_force_n"]
    out[name], w[forces.PRESSURE] = 0.0, 100.0
    w[STRETCH + 2 * which], w[FILL + 2 * which] = 12.0, 1.0
    for t, wanted in (
        (11.5, 0.0),
        (12.05, 0.15),
        (12.5, 15.0),
        (12.2, 15.0),
        (13.0, 60.0),
        (13.05, 60.0),
    ):
        w[forces.PRESSURE] = 1000.0 if t > 13.0 else 100.0
        kernel.note_filling(t, w, out)
        assert out[name] == pytest.approx(wanted)


@pytest.mark.parametrize("since_s, part", [(-0.1, 0.0), (0.05, 0.01), (0.25, 0.25), (0.6, 1.0)])
@pytest.mark.parametrize("which, size", [(0, "canopy"), (1, "main")])
def test_a_canopy_grows_as_a_power_of_the_time_it_takes(
    which: int, size: str, since_s: float, part: float
) -> None:
    """(t / 0.5 s)^2 of 0.4 m2 from line stretch on."""
    w = record(**{f"{size}_area_m2": 0.4, f"{size}_growth": 2.0})
    w[STRETCH + 2 * which], w[FILL + 2 * which] = 12.0, 0.5
    assert plain.descent.open_area(12.0 + since_s, w, which) == pytest.approx(0.4 * part)


@pytest.mark.parametrize(
    "now, main_m2, second, opened",
    [
        (12.6, 0.0, (math.inf, 1.0), True),
        (12.4, 0.0, (math.inf, 1.0), False),
        (12.6, 0.05, (math.inf, 1.0), False),
        (12.6, 0.05, (12.2, 0.3), True),
        (12.6, 0.05, (12.2, 0.5), False),
        (12.4, 0.05, (11.0, 0.5), False),
    ],
)
def test_all_is_open_when_each_canopy_there_is_has_filled(
    now: float, main_m2: float, second: tuple[float, float], opened: bool
) -> None:
    """The first from 12 s on in half a second; a second one of 0.05 m2 is one too."""
    w = record(main_area_m2=main_m2)
    w[NOW], w[STRETCH], w[FILL] = now, 12.0, 0.5
    w[STRETCH + 2], w[FILL + 2] = second
    assert plain.descent.all_open(w) == opened


def test_a_step_ends_at_the_next_corner_ejection_or_canopy() -> None:
    w = record(burn_time_factor=0.9)
    w[STEP], w[PHASE], w[Y + 2], w[Y + 5], w[NOW], w[EJECT] = 0.05, FREE, 100.0, 20.0, 0.5, 9.0
    assert kernel.next_stop(w) == pytest.approx(0.9)
    w[SEGMENT] = 1
    assert kernel.next_stop(w) == pytest.approx(2.7)
    w[SEGMENT] = w[LAST_SEGMENT]
    assert kernel.next_stop(w) == 9.0
    w[PHASE], w[STRETCH_FIRST], w[STRETCH_SECOND] = DESCENT, 9.5, 9.8
    assert kernel.next_stop(w) == 9.5
    for which in (0, 2):
        w[STRETCH : STRETCH + 4] = math.inf, 1.0, math.inf, 1.0
        w[STRETCH_FIRST] = w[STRETCH_SECOND] = math.inf
        w[STRETCH + which], w[FILL + which], w[NOW] = 12.0, 0.7, 12.3
        assert kernel.next_stop(w) == pytest.approx(12.7)
        w[NOW] = 12.7
        assert kernel.next_stop(w) == math.inf


def test_a_step_towards_the_ground_is_shorter_than_the_way_there() -> None:
    """At 20 m/s from 2 m it would take a tenth of a second; climbing there is no need."""
    w = record()
    w[SEGMENT], w[PHASE], w[STEP], w[Y + 2], w[Y + 5] = 2.0, FREE, 0.5, 2.0, 20.0
    kernel.next_stop(w)
    assert w[STEP] == 0.5
    w[Y + 5] = -20.0
    kernel.next_stop(w)
    assert 0.01 < w[STEP] < 0.1


def test_a_stop_is_crossed_into_what_follows() -> None:
    w, out = record(RAMP, True), blank()
    w[Y + 2], w[Y + 5], w[NOW], w[STEP], w[PHASE] = 100.0, 20.0, 3.0, 0.5, FREE
    kernel.pass_stop(3.0, w, out)
    assert w[SEGMENT] == 1.0 and math.isnan(told(out, "burnout_s")[0])
    kernel.pass_stop(3.0, w, out)
    assert w[SEGMENT] == 2.0 and told(out, "burnout_s") == [3.0]
    kernel.pass_stop(3.0, w, out)
    assert w[PHASE] == DESCENT and told(out, "ejection_s") == [3.0]
    assert w[STRETCH_FIRST] == pytest.approx(3.6)
    w[NOW], w[STRETCH_SECOND] = 3.6, 9.0
    kernel.pass_stop(w[STRETCH_FIRST], w, out)
    assert w[[STRETCH_FIRST, STRETCH]].tolist() == [math.inf, 3.6]
    w[NOW] = 9.0
    kernel.pass_stop(9.0, w, out)
    assert w[[STRETCH_SECOND, STRETCH + 2]].tolist() == [math.inf, 9.0]


@pytest.mark.parametrize("share", [0.4, 1.0])
def test_a_step_is_taken_as_far_as_it_counts(share: float) -> None:
    """A fall of 10 m/s2 from 12 m/s upwards; what acts at its end is what acted there."""
    w = record(RAMP, True)
    w[Y : Y + 6], w[NOW], w[PHASE] = (10.0, 20.0, 30.0, 3.0, 4.0, 12.0), 1.0, DESCENT
    fall(w, 0.5)
    kernel.take_step(0.5, share, 50.0, w)
    t = 0.5 * share
    assert w[NOW] == pytest.approx(1.0 + t)
    place = [10.0 + 3.0 * t, 20.0 + 4.0 * t, 30.0 + 12.0 * t - 5.0 * t**2]
    assert w[Y : Y + 6] == pytest.approx([*place, 3.0, 4.0, 12.0 - 10.0 * t])
    assert (w[K + 5] == -10.0) == (share == 1.0)


def event(kind: int, deployment: int = BY_DELAY, **changes: float) -> tuple[Record, Record, bool]:
    w, out = record(RAMP, True, main_area_m2=0.5, **changes), blank()
    w[Y : Y + 6], w[NOW], w[PHASE], w[SEGMENT] = (10.0, 20.0, 30.0, 3.0, 4.0, -12.0), 5.0, FREE, 2.0
    w[LIMIT] = 1.5
    return w, out, bool(kernel.handle_event(kind, deployment, w, out))


def test_an_event_leads_to_what_follows_it() -> None:
    w, out, over = event(events.GUIDE)
    assert not over and w[PHASE] == PIVOT and told(out, "guide_exit_s") == [5.0]
    assert w[LIMIT] == pytest.approx(1.5 + 1.19 - 0.9)
    w, out, over = event(events.EXIT)
    assert not over and w[PHASE] == FREE and told(out, "rail_exit_s") == [5.0]
    assert told(out, "max_speed_m_s") == [13.0]
    w, out, over = event(events.APOGEE)
    assert not over and w[APOGEE_DONE] == 1.0 and told(out, "apogee_s") == [5.0]
    assert w[PHASE] == FREE and w[EJECT] == math.inf
    w, out, over = event(events.APOGEE, BY_ALTIMETER)
    assert not over and w[EJECT] == pytest.approx(5.3)
    w, out, over = event(events.APOGEE, NOTHING_OPENS)
    assert not over and w[PHASE] == DESCENT and w[MAIN_DONE] == 1.0
    w, out, over = event(events.MAIN)
    assert not over and w[MAIN_DONE] == 1.0 and told(out, "main_s", "main_m") == [5.0, 30.0]
    assert w[STRETCH_SECOND] == pytest.approx(5.6)
    w, out, over = event(events.JOIN)
    assert not over and w[OVER] == PAUSED
    w, out, over = event(events.SLID_BACK)
    assert over and told(out, "status") == [NEVER_LEFT]
    w, out, over = event(events.GROUND)
    assert over and told(out, "status", "landing_s", "descent_m_s") == [NOTHING_OPEN, 5.0, 12.0]


def test_an_attitude_goes_back_to_the_length_of_one_and_nothing_else() -> None:
    w = moment()
    w[Y + 6 : Y + 10] = 0.2, 0.4, -0.7, 1.6
    kernel.normalise_attitude(w, Y)
    whole = math.sqrt(0.04 + 0.16 + 0.49 + 2.56)
    assert w[Y + 6 : Y + 10] == pytest.approx(np.array([0.2, 0.4, -0.7, 1.6]) / whole)
    assert [*w[Y : Y + 6], *w[Y + 10 : Y + 13]] == [
        10.0,
        20.0,
        30.0,
        3.0,
        4.0,
        12.0,
        -6.0,
        0.3,
        0.4,
    ]
