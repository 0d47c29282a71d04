"""The pieces of a flight's loop by themselves: where events lie, the pad, the stops, the steps.

Every figure is worked here: motion under constant acceleration (which a step and its inside take
without error), areas under straight lines.
"""

import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

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
from goodflight.physics.motor.model import Motor

events, forces, kernel, pad = plain.events, plain.forces, plain.kernel, plain.pad


def test_an_event_is_as_far_off_as_its_height_speed_or_way() -> None:
    """2 m of 3 m along the rail have been gone, whatever way across it."""
    w = moment()
    w[PARAMETER_INDEX["main_height_m"]], w[SEEK], w[LIMIT] = 25.0, 28.0, 3.0
    tilt, azimuth = (w[PARAMETER_INDEX[name]] for name in ("rail_tilt_rad", "rail_azimuth_rad"))
    rail = np.array([math.sin(tilt) * math.sin(azimuth), math.sin(tilt) * math.cos(azimuth),
                     math.cos(tilt)])  # fmt: skip
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


@pytest.mark.parametrize("t, n_s", [(0.5, 1.25), (1.0, 5.0), (2.0, 12.5), (3.0, 15.0), (9.0, 15.0)])
def test_impulse_is_the_area_under_the_curve(t: float, n_s: float) -> None:
    assert pad.impulse_to(record(), t) == pytest.approx(n_s)


@pytest.mark.parametrize("stretch", [0.9, 0.1])
def test_thrust_to_weight_is_of_the_first_half_second_as_flown(stretch: float) -> None:
    """With 1.1 of the impulse in 0.9 of the time 1.1 x 5 x (0.5/0.9)^2 in 0.5 s; a burn that is
    over by then, all of it. 2 kg and 0.5 kg of propellant at 10 m/s2 weigh 25 N."""
    w, out = record(thrust_factor=1.1, burn_time_factor=stretch, dry_mass_kg=2.0,
                    propellant_kg=0.5, gravity_m_s2=10.0), blank()  # fmt: skip
    pad.note_thrust(w, out)
    whole = 1.1 * 15.0 / (3.0 * stretch) / 25.0
    first = 1.1 * 5.0 * (0.5 / 0.9) ** 2 / 0.5 / 25.0 if stretch > 0.5 else whole
    names = ("liftoff_mass_kg", "thrust_to_weight", "thrust_to_weight_mean")
    assert told(out, *names) == pytest.approx([2.5, first, whole])


def test_a_rocket_stands_on_its_stop_along_the_rail() -> None:
    """Tail 0.23 m up a rail whose foot is 0.3 m high; the CG of 1.638 and 0.5 kg ahead of it."""
    w = record(propellant_kg=0.5)
    w[Y : Y + 13] = 9.0
    pad.set_on_pad(w)
    tilt, azimuth = math.radians(3.0), math.radians(230.0)
    rail = np.array([math.sin(tilt) * math.sin(azimuth), math.sin(tilt) * math.cos(azimuth),
                     math.cos(tilt)])  # fmt: skip
    cg = (1.638 * 0.743 + 0.5 * 1.118) / 2.138
    assert w[Y : Y + 3] == pytest.approx([0.0, 0.0, 0.3] + (0.23 + 1.22 - cg) * rail)
    nose = Rotation.from_quat(np.roll(w[Y + 6 : Y + 10], -1)).apply([1.0, 0.0, 0.0])
    assert nose == pytest.approx(rail)
    assert [*w[Y + 3 : Y + 6], *w[Y + 10 : Y + 13]] == [0.0] * 6


UPRIGHT = {"rail_tilt_rad": 0.0, "wind_m_s": 0.0, "gravity_m_s2": 10.0, "propellant_kg": 1e-9,
           "rail_friction": 0.0}  # fmt: skip


def lifts(motor: Motor, **changes: float) -> tuple[float, int]:
    """When, and in which piece of the curve, a rocket upright on its pad lifts off."""
    w = record(motor, True, **UPRIGHT | changes)
    pad.set_on_pad(w)
    found: tuple[float, int] = pad.find_liftoff(w)
    return found


@pytest.mark.parametrize("mass, t", [(0.05, 0.05), (0.4, 0.4), (0.95, 0.95)])
def test_a_rocket_leaves_when_thrust_beats_weight(mass: float, t: float) -> None:
    """10 N a second against 10 m/s2; half as late where the burn is twice as quick and strong."""
    assert lifts(RAMP, dry_mass_kg=mass) == (pytest.approx(t, abs=3e-9), 0)
    found, _ = lifts(RAMP, dry_mass_kg=2.0 * mass, burn_time_factor=0.5)
    assert found == pytest.approx(0.5 * t, abs=3e-9)


def test_a_burn_that_begins_with_a_jump_lifts_at_once_and_a_weak_one_never() -> None:
    strong = Motor("invented", (0.0, 1.0), (30.0, 30.0), propellant_kg=0.5, loaded_kg=1.0,
                   length_m=0.1, diameter_m=0.03, delay_s=5.0)  # fmt: skip
    assert lifts(strong, dry_mass_kg=2.999) == (0.0, 0)
    late = Motor("invented", (0.0, 1.0, 2.0), (5.0, 5.0, 15.0), propellant_kg=0.5, loaded_kg=1.0,
                 length_m=0.1, diameter_m=0.03, delay_s=5.0)  # fmt: skip
    assert lifts(late, dry_mass_kg=1.2) == (pytest.approx(1.7, abs=3e-9), 1)
    assert lifts(RAMP, dry_mass_kg=1.001)[1] == -1
    w, out = record(air=True, dry_mass_kg=1.001, **UPRIGHT), blank()
    assert not pad.start_flight(BY_DELAY, w, out)
    assert told(out, "status") == [NEVER_LEFT]


@pytest.mark.parametrize(
    "delay_s, lag_s, main_m2, late",
    [(6.0, 0.3, 0.5, (6.0, 0.3)), (-1.0, -1.0, 0.0, (0.0, 0.0)), (0.05, 0.0, 0.05, (0.05, 0.0))],
)
def test_ejection_is_so_long_after_burnout_or_apogee(
    delay_s: float, lag_s: float, main_m2: float, late: tuple[float, float]
) -> None:
    """A burn of 3 s in 0.9 of the time; an altimeter fires by an apogee that has been."""
    w = record(delay_s=delay_s, apogee_lag_s=lag_s, main_area_m2=main_m2, burn_time_factor=0.9)
    out = blank()
    out[OUTCOME_INDEX["apogee_s"]] = 9.0
    pad.set_ejection(BY_DELAY, w, out)
    assert w[EJECT] == pytest.approx(2.7 + late[0])
    assert w[MAIN_DONE] == (0.0 if main_m2 > 0.0 else 1.0)
    pad.set_ejection(BY_ALTIMETER, w, out)
    assert w[EJECT] == math.inf
    w[APOGEE_DONE] = 1
    pad.set_ejection(BY_ALTIMETER, w, out)
    assert w[EJECT] == pytest.approx(9.0 + late[1])
    pad.set_ejection(NOTHING_OPENS, w, out)
    assert w[EJECT] == math.inf


def test_a_flight_starts_at_rest_with_the_rail_before_it() -> None:
    """The forward guide has 2.4 - 0.23 - (1.22 - 0.9) m to go."""
    w, out = record(air=True, dry_mass_kg=0.4, **UPRIGHT), blank()
    w[[APOGEE_DONE, PHASE, SEGMENT]] = 1.0, 3.0, 1.0
    assert pad.start_flight(BY_DELAY, w, out)
    assert w[NOW] == pytest.approx(0.4, abs=3e-9)
    assert told(out, "liftoff_s") == [w[NOW]]
    assert w[LIMIT] == pytest.approx(2.4 - 0.23 - 0.32)
    assert w[FROM : FROM + 3].tolist() == w[Y : Y + 3].tolist()
    assert w[[PHASE, SEGMENT, APOGEE_DONE]].tolist() == [SLIDING, 0.0, 0.0]
    assert w[[STRETCH, STRETCH + 2, STRETCH_FIRST, STRETCH_SECOND]].tolist() == [math.inf] * 4


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
    for t, wanted in ((11.5, 0.0), (12.5, 15.0), (12.2, 15.0), (13.0, 60.0), (13.05, 60.0)):
        w[forces.PRESSURE] = 1000.0 if t > 13.0 else 100.0
        kernel.note_filling(t, w, out)
        assert out[name] == pytest.approx(wanted)


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
    w, out = record(air=True), blank()
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
    w = record(air=True)
    w[Y : Y + 6], w[NOW], w[PHASE] = (10.0, 20.0, 30.0, 3.0, 4.0, 12.0), 1.0, DESCENT
    fall(w, 0.5)
    kernel.take_step(0.5, share, 50.0, w)
    t = 0.5 * share
    assert w[NOW] == pytest.approx(1.0 + t)
    place = [10.0 + 3.0 * t, 20.0 + 4.0 * t, 30.0 + 12.0 * t - 5.0 * t**2]
    assert w[Y : Y + 6] == pytest.approx([*place, 3.0, 4.0, 12.0 - 10.0 * t])
    assert (w[K + 5] == -10.0) == (share == 1.0)


def event(kind: int, deployment: int = BY_DELAY, **changes: float) -> tuple[Record, Record, bool]:
    w, out = record(air=True, main_area_m2=0.5, **changes), blank()
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


def test_a_pull_on_the_pad_is_that_along_the_rail() -> None:
    """Upright, 10 N less the weight of 0.4 kg at a second, over its mass."""
    w = record(air=True, dry_mass_kg=0.4, **UPRIGHT)
    pad.set_on_pad(w)
    assert pad.pull(1.0, 0, w) == pytest.approx((10.0 - 4.0) / 0.4)
    leant = record(air=True, dry_mass_kg=0.4, **UPRIGHT | {"rail_tilt_rad": 0.3})
    pad.set_on_pad(leant)
    assert pad.pull(1.0, 0, leant) == pytest.approx((10.0 - 4.0 * math.cos(0.3)) / 0.4)
