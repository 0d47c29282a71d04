"""A flight before its first step: thrust to weight, at rest on the rail, lift-off, ejection.

Every figure is worked here: areas under straight lines, the rail's direction, attitudes by scipy.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from flight_moments import FILL, RAMP, STRETCH, blank, moment, plain, record, told
from goodflight.physics.flight.record import (
    AIR_NOW,
    APOGEE_DONE,
    BURNING,
    EJECT,
    FROM,
    LIMIT,
    MAIN_DONE,
    MET_X,
    MET_Y,
    MET_Z,
    NOW,
    PHASE,
    SEGMENT,
    SLIDING,
    STRETCH_FIRST,
    STRETCH_SECOND,
    Y,
)
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    BY_DELAY,
    NEVER_LEFT,
    NOTHING_OPENS,
    OUTCOME_INDEX,
)
from goodflight.physics.motor.model import Motor

pad = plain.pad


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
    rail = np.array(
        [math.sin(tilt) * math.sin(azimuth), math.sin(tilt) * math.cos(azimuth), math.cos(tilt)]
    )
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
    strong = replace(RAMP, times_s=(0.0, 1.0), thrusts_n=(30.0, 30.0))
    assert lifts(strong, dry_mass_kg=2.999) == (0.0, 0)
    late = replace(RAMP, times_s=(0.0, 1.0, 2.0), thrusts_n=(5.0, 5.0, 15.0))
    assert lifts(late, dry_mass_kg=1.2) == (pytest.approx(1.7, abs=3e-9), 1)
    assert lifts(RAMP, dry_mass_kg=1.001)[1] == -1
    w, out = record(RAMP, True, dry_mass_kg=1.001, **UPRIGHT), blank()
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
    w, out = record(RAMP, True, dry_mass_kg=0.4, **UPRIGHT), blank()
    w[[APOGEE_DONE, PHASE, SEGMENT]] = 1.0, 3.0, 1.0
    w[STRETCH : STRETCH + 4] = 7.0  # as of a flight before
    assert pad.start_flight(BY_DELAY, w, out)
    assert w[NOW] == pytest.approx(0.4, abs=3e-9)
    assert told(out, "liftoff_s") == [w[NOW]]
    assert w[LIMIT] == pytest.approx(2.4 - 0.23 - 0.32)
    assert w[FROM : FROM + 3].tolist() == w[Y : Y + 3].tolist()
    assert w[[PHASE, SEGMENT, APOGEE_DONE]].tolist() == [SLIDING, 0.0, 0.0]
    assert w[[STRETCH, STRETCH + 2, STRETCH_FIRST, STRETCH_SECOND]].tolist() == [math.inf] * 4
    assert (w[[FILL, FILL + 2]] != 7.0).all()


def test_a_pull_on_the_pad_is_that_along_the_rail() -> None:
    """Upright, 10 N less the weight of 0.4 kg at a second, over its mass."""
    w = record(RAMP, True, dry_mass_kg=0.4, **UPRIGHT)
    pad.set_on_pad(w)
    assert pad.pull(1.0, 0, w) == pytest.approx((10.0 - 4.0) / 0.4)
    leant = record(RAMP, True, dry_mass_kg=0.4, **UPRIGHT | {"rail_tilt_rad": 0.3})
    pad.set_on_pad(leant)
    assert pad.pull(1.0, 0, leant) == pytest.approx((10.0 - 4.0 * math.cos(0.3)) / 0.4)


@pytest.mark.parametrize("to", [(0.6, 0.0, 0.8), (-0.36, 0.48, 0.8), (0.0, -1.0, 0.0)])
def test_the_least_turn_onto_a_direction_has_none_about_it(to: tuple[float, float, float]) -> None:
    """About east x direction by the angle between them (scipy's of that), whatever stood there."""
    w = record()
    w[Y : Y + 13] = 9.0
    pad.set_attitude(w, Y, *to)
    axis = np.cross([1.0, 0.0, 0.0], to)
    least = Rotation.from_rotvec(math.acos(to[0]) * axis / np.linalg.norm(axis))
    found = np.roll(w[Y + 6 : Y + 10], -1)
    assert np.linalg.norm(found) == pytest.approx(1.0)
    assert Rotation.from_quat(found).as_matrix() == pytest.approx(least.as_matrix())
    assert [*w[Y : Y + 6], *w[Y + 10 : Y + 13]] == [9.0] * 9


def test_a_grain_is_a_solid_cylinder_that_leaves_by_its_nozzle() -> None:
    """m (3 r^2 + L^2) / 12 across and m r^2 / 2 about the axis, by Steiner (textbook); the jet
    takes mdot (l^2 - what each kg of grain had). Half of 2 kg is left, then a hundredth, none."""
    w = record(
        dry_mass_kg=3.0,
        dry_cg_m=0.5,
        dry_pitch_inertia_kg_m2=0.1,
        dry_roll_inertia_kg_m2=0.02,
        propellant_kg=2.0,
        propellant_cg_m=0.9,
        propellant_length_m=0.6,
        propellant_radius_m=0.2,
        nozzle_m=1.3,
    )
    wanted = (4.0, 0.6, 0.1 + 3.0 * 0.01 + 0.04 + 0.09, 0.02 + 0.02, 0.5 * (0.49 - 0.04 - 0.09))
    assert plain.burn.mass_at(w, 1, 0, 0.5, 0.25) == pytest.approx(wanted)
    assert plain.burn.mass_at(w, 1, 0, 0.99, 0.0)[0] == pytest.approx(3.02)  # the thrust pauses
    assert plain.burn.mass_at(w, 1, 0, 1.0, 0.05)[4] == pytest.approx(0.1 * (0.64 - 0.04 - 0.16))
    assert plain.burn.mass_at(w, 1, 0, 1.0, 0.0) == pytest.approx((3.0, 0.5, 0.1, 0.02, 0.0))


def test_thrust_is_that_of_the_curve_stretched_and_none_before_and_after() -> None:
    """5 N of the curve, 1.25 of its 15 N s, at half a second of it."""
    w = record(thrust_factor=1.1, burn_time_factor=0.9)
    wanted = (5.0 * 1.1 / 0.9, 1.25 / 15.0, 5.0 / (15.0 * 0.9))
    assert plain.burn.thrust_at(w, 0, 0.45) == pytest.approx(wanted)
    assert plain.burn.thrust_at(w, -1, 0.45) == (0.0, 0.0, 0.0)
    assert plain.burn.thrust_at(w, 2, 9.0) == (0.0, 1.0, 0.0)


@pytest.mark.parametrize(
    "x, part", [(1.9, 0.0), (2.1, 0.00725), (2.5, 5.0 / 32.0), (3.0, 0.5), (4.1, 1.0)]
)
def test_a_smooth_step_is_level_at_both_ends(x: float, part: float) -> None:
    """t^2 (3 - 2 t) from 2 to 4."""
    assert plain.forces.smooth_step(x, 2.0, 4.0) == pytest.approx(part)


@pytest.mark.parametrize(
    "height_m, axial",
    [(-100.0, 0.5), (0.0, 0.5), (150.0, 0.505), (3e3, 0.6), (6e3, 0.7), (9e3, 0.7)],
)
@pytest.mark.parametrize("u", [100.0, 0.05, -40.0])
def test_drag_along_the_axis_grows_with_height_up_to_twice_the_step(
    height_m: float, axial: float, u: float
) -> None:
    """0.5 at the pad and 0.6 3000 m above it; 1.2 kg/m3, and it holds back either way."""
    w, forces = moment(), plain.forces
    w[AIR_NOW + plain.column.DENSITY], w[MET_X], w[MET_Y], w[MET_Z] = 1.2, u, 0.0, 0.0
    w[forces._LOW], w[forces._HIGH], w[BURNING], w[Y + 2] = 0.5, 0.6, 0.0, height_m
    area, factor = w[forces._AREA], w[forces._F_AXIAL]
    fx = forces.aero_forces(w, 1, 0, Y)[0]
    assert fx == pytest.approx(-0.6 * area * axial * factor * u * abs(u))
