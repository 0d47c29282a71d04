"""What acts on a rocket at one moment, in each phase, against the slow model and plain mechanics.

The kernel's rates at drawn states beside those of `slow_vehicle`, which was written apart from it,
in the world frame; attitudes by scipy. No step is made, so nothing of it can hide a wrong force.
"""

import math

import numpy as np
import pytest
from made_up import MOTOR, parameters, tables
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation
from slow_flight import SlowFlight
from slow_vehicle import SlowVehicle, cross, length

from goodflight.physics.flight import forces
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.descent import FILL, STRETCH
from goodflight.physics.flight.record import (
    DESCENT,
    FREE,
    PIVOT,
    SLIDING,
    K,
    Y,
    blank_record,
)
from goodflight.physics.flight.registry import PARAMETERS
from goodflight.physics.flight.stepper import rates
from new_record import new_flight

TABLES = tables()
CHANGED = {
    "thrust_factor": 1.1, "burn_time_factor": 0.9, "thrust_angle_y_rad": 2e-3,
    "thrust_angle_z_rad": -3e-3, "thrust_offset_y_m": 1e-3, "thrust_offset_z_m": -2e-3,
    "axial_factor": 1.2, "body_slope_factor": 0.9, "fin_slope_factor": 1.15, "cp_shift_m": 0.03,
    "crossflow_factor": 1.3, "cant_roll_rad": 0.004, "cant_y_rad": 2e-3, "cant_z_rad": -1e-3,
    "rail_tilt_rad": 0.12, "rail_azimuth_rad": 2.0, "wind_m_s": 6.0, "wind_from_rad": 0.7,
}  # fmt: skip
VEHICLE = SlowVehicle(parameters(**CHANGED), MOTOR, TABLES)
# of DATCOM's curve the kernel takes every tenth of a Mach number up to 1.1, and that from there on
VEHICLE.cdc = np.interp(np.arange(12) / 10.0, VEHICLE.cdc_mach, VEHICLE.cdc)
VEHICLE.cdc_mach = np.arange(12) / 10.0
MOMENTS_S = (0.02, 0.1, 0.5, 1.1, 1.6, 3.0)  # in the burn and after it
State = tuple[NDArray[np.float64], ...]


def record(**changes: float) -> NDArray[np.float64]:
    """The kernel's record of one flight in still gusts, nodes up to 8 km."""
    spacing = 8000.0**0.25 / 127.0
    given = parameters(**CHANGED | changes)
    curve = burn_curve(MOTOR)
    blank = blank_record(curve, TABLES.mach_table, TABLES.scalars, spacing)
    w: NDArray[np.float64] = new_flight(np.array([given[name] for name in PARAMETERS]), blank)
    fill_column(w, ladder(spacing), np.uint64(1), False)
    return w


def put(w: NDArray[np.float64], state: State, turned: Rotation) -> None:
    """A state into the record: the quaternion's real part first, rates about the body's axes."""
    x, y, z, real = turned.as_quat()
    w[Y : Y + 3], w[Y + 3 : Y + 6], w[Y + 6 : Y + 10] = state[0], state[1], (real, x, y, z)
    w[Y + 10 : Y + 13] = turned.inv().apply(state[4])


def segment_at(t: float) -> int:
    return int(np.searchsorted(np.array(MOTOR.times_s) * 0.9, t)) - 1


def flying(number: int) -> tuple[State, Rotation]:
    """Nose first, broadside and tail first, from a walk to beyond Mach 2, up to 5 km."""
    rng = np.random.default_rng(number)
    turned = Rotation.random(random_state=number)
    speed = (8.0, 60.0, 150.0, 240.0, 320.0, 480.0, 720.0)[number % 7]
    off = (0.0, 0.02, 0.1, 0.35, 0.5, 1.0, 1.6, 2.6)[number % 8]
    round_rad = rng.uniform(0.0, 2.0 * math.pi)
    through = np.array(
        [math.cos(off), math.sin(off) * math.cos(round_rad), math.sin(off) * math.sin(round_rad)]
    )
    place = np.array([30.0, -20.0, rng.uniform(2.0, 5000.0)])
    velocity = speed * turned.apply(through) + VEHICLE.wind(place[2])
    nose, side = turned.apply([1.0, 0.0, 0.0]), turned.apply([0.0, 1.0, 0.0])
    omega = turned.apply(rng.normal(0.0, 1.0, 3) * [8.0, 2.0, 2.0])
    return (place, velocity, nose, side, omega), turned


def about(found: NDArray[np.float64], wanted: NDArray[np.float64]) -> None:
    """To 2 in 10 000 of the whole: the kernel's air stands in a table, thrust angles are small."""
    assert found == pytest.approx(wanted, abs=2e-4 * max(length(np.asarray(wanted)), 1e-9))


def turns_with(
    w: NDArray[np.float64],
    nose: NDArray[np.float64],
    side: NDArray[np.float64],
    omega: NDArray[np.float64],
) -> None:
    """The quaternion's rate carries both axes round as the body turns, by differences."""
    quaternion, rate = w[Y + 6 : Y + 10], w[K + 6 : K + 10]
    ends = [Rotation.from_quat(np.roll(quaternion + h * rate, -1)) for h in (1e-5, -1e-5)]
    for axis, direction in (([1.0, 0.0, 0.0], nose), ([0.0, 1.0, 0.0], side)):
        turns = (ends[0].apply(axis) - ends[1].apply(axis)) / 2e-5
        assert turns == pytest.approx(cross(omega, direction), abs=1e-6)


@pytest.mark.parametrize("number", range(56))
def test_a_rocket_in_flight_is_moved_as_the_slow_one(number: int) -> None:
    """Newton and Euler with outflow: d(I w)/dt = M - (spin's share of the grain that leaves)."""
    t = MOMENTS_S[number % 6]
    state, turned = flying(number)
    w = record()
    put(w, state, turned)
    rates(FREE, t, w, Y, 0, segment_at(t))
    force, moment = VEHICLE.loads(t, state)
    mass, _, pitch, roll, pitch_rate, _ = VEHICLE.masses(t)
    _, velocity, nose, side, omega = state
    about(w[K : K + 3], velocity)
    about(w[K + 3 : K + 6], force / mass)
    spin = float(omega @ nose)
    swing = omega - spin * nose
    momentum = pitch * swing + roll * spin * nose
    # the axis turns with the body: d(I w)/dt = I w' + w x I w + I' w, roll's I' leaves with the gas
    left = moment - cross(omega, momentum) - pitch_rate * swing
    along = float(left @ nose)
    wanted = (left - along * nose) / pitch + along / roll * nose
    about(turned.apply(w[K + 10 : K + 13]), wanted)
    turns_with(w, nose, side, omega)


@pytest.mark.parametrize("number", range(0, 56, 3))
def test_what_is_noted_in_flight_is_what_the_slow_one_feels(number: int) -> None:
    t = MOMENTS_S[number % 6]
    (place, velocity, nose, side, _), turned = flying(number)
    still = place, velocity, nose, side, np.zeros(3)
    w = record()
    put(w, still, turned)
    rates(FREE, t, w, Y, 0, segment_at(t))
    density, sound = VEHICLE.air(place[2])
    through = velocity - VEHICLE.wind(place[2])
    speed, along = length(through), float(through @ nose)
    crossing = length(through - along * nose)
    mass, cg, pitch, roll, _, _ = VEHICLE.masses(t)
    weight = np.array([0.0, 0.0, -9.80665 * mass])
    air = VEHICLE.air_loads(t, still)[0]
    margin = VEHICLE.margin_small(t, speed / sound)
    area, diameter = math.pi * 0.079**2 / 4.0, 0.079
    slope = VEHICLE.body_sums(speed / sound)[0] + VEHICLE.table("fin_slope", speed / sound)
    pressure = 0.5 * density * speed**2
    wanted = {
        forces.SPEED: speed, forces.MACH: speed / sound, forces.PRESSURE: pressure,
        forces.SIN2: (crossing / speed) ** 2, forces.ALONG: along, forces.MARGIN: margin,
        forces.MARGIN_INCIDENCE: VEHICLE.margin_at(t, speed / sound, sound, along, crossing),
        forces.FELT: length(VEHICLE.loads(t, still)[0] - weight) / mass, forces.MASS: mass,
        forces.CG: cg, forces.THRUST: VEHICLE.thrust(t), forces.SIDE_Y: float(air @ side),
        forces.SIDE_Z: float(air @ cross(nose, side)),
        forces.PITCH_RATE2: pressure * area * slope * margin * diameter / (pitch - roll),
    }  # fmt: skip
    found = {place: w[place] for place in wanted}
    assert found == pytest.approx(wanted, rel=3e-4, abs=1e-6 * pressure * area + 1e-12)


def on_rail(speed: float, omega: NDArray[np.float64], t: float) -> tuple[State, Rotation]:
    flight = SlowFlight(VEHICLE)
    place, velocity, nose, side, _ = flight.read_rail(t, (0.7, speed))
    axes = np.column_stack([nose, side, cross(nose, side)])
    return (place, velocity, nose, side, omega), Rotation.from_matrix(axes)


@pytest.mark.parametrize("t", MOMENTS_S[1:4])
@pytest.mark.parametrize("speed", [0.0, 5.0, 20.0])
def test_a_rocket_on_its_rail_slides_as_the_slow_one(t: float, speed: float) -> None:
    state, turned = on_rail(speed, np.zeros(3), t)
    w = record()
    put(w, state, turned)
    w[K : K + 16] = 9.0
    rates(SLIDING, t, w, Y, 0, segment_at(t))
    pull = SlowFlight(VEHICLE).rail_pull(t, 0.7, speed) / VEHICLE.masses(t)[0]
    about(w[K : K + 3], state[1])
    about(w[K + 3 : K + 6], pull * state[2])
    assert w[K + 6 : K + 16].tolist() == [0.0] * 10
    felt = pull + 9.80665 * math.cos(0.12)
    assert w[forces.FELT] == pytest.approx(felt, rel=2e-4)


@pytest.mark.parametrize("t", MOMENTS_S[1:4])
@pytest.mark.parametrize("turns", [(0.0, 0.0), (0.6, -0.9), (-2.0, 0.5)])
def test_on_its_last_guide_the_rail_pushes_across_itself_only(
    t: float, turns: tuple[float, float]
) -> None:
    """Newton and Euler with what the rail gives at the guide: the guide's point stays on the
    line, the push has no part along it, its moment about the CG is lever x push; no roll."""
    rail, turned = on_rail(18.0, np.zeros(3), t)
    tilted = Rotation.from_rotvec([0.02, -0.03, 0.01]) * turned  # it has turned about the guide
    nose, side = tilted.apply([1.0, 0.0, 0.0]), tilted.apply([0.0, 1.0, 0.0])
    omega = tilted.apply([0.0, *turns])
    state = rail[0], rail[1], nose, side, omega
    w = record()
    put(w, state, tilted)
    rates(PIVOT, t, w, Y, 0, segment_at(t))
    force, moment = VEHICLE.loads(t, state)
    mass, cg, pitch, _, pitch_rate, _ = VEHICLE.masses(t)
    gained, spun = w[K + 3 : K + 6], tilted.apply(w[K + 10 : K + 13])
    lever = -(1.19 - cg) * nose  # from the CG back to the guide
    point = gained + cross(spun, lever) + cross(omega, cross(omega, lever))
    assert length(point - float(point @ rail[2]) * rail[2]) < 1e-9 * length(point)
    push = mass * gained - force
    assert abs(float(push @ rail[2])) < 2e-4 * length(mass * gained)
    turning = moment - pitch_rate * omega + cross(lever, push)
    about(spun, (turning - float(turning @ nose) * nose) / pitch)
    assert w[K + 10] == 0.0
    about(w[K : K + 3], rail[1])
    turns_with(w, nose, side, omega)
    assert w[forces.FELT] == pytest.approx(length(gained), rel=2e-4)


@pytest.mark.parametrize("since_s, opened", [(-0.1, 0.0), (0.2, 0.16), (0.5, 1.0), (9.0, 1.0)])
def test_under_its_canopies_the_air_takes_what_their_areas_say(
    since_s: float, opened: float
) -> None:
    """m a = -1/2 rho Cd S v v - m g of the greater: tumbling 0.03 m2, or 0.5 and 0.7 m2 that grow
    as (t / tf)^2; the second one is half full in time when the first one is whole."""
    w = record(canopy_area_m2=0.5, main_area_m2=0.7)
    place, velocity = np.array([3.0, 4.0, 420.0]), np.array([2.0, -5.0, -11.0])
    w[Y : Y + 3], w[Y + 3 : Y + 6] = place, velocity
    w[STRETCH], w[FILL], w[STRETCH + 2], w[FILL + 2] = 20.0, 0.5, 20.0, 1.0
    w[K : K + 8] = 9.0
    rates(DESCENT, 20.0 + since_s, w, Y, 0, 99)
    assert w[K + 6 : K + 8].tolist() == [0.0, 0.0]  # a point does not turn
    second = min(max(since_s, 0.0), 1.0) ** 2
    area = max(0.5 * opened + 0.7 * second, 0.03)
    density, sound = VEHICLE.air(420.0)
    through = velocity - VEHICLE.wind(420.0)
    drag = -0.5 * density * area * length(through) * through / VEHICLE.p["dry_mass_kg"]
    about(w[K : K + 3], velocity)
    about(w[K + 3 : K + 6], drag - np.array([0.0, 0.0, 9.80665]))
    speed = length(through)
    noted = w[[forces.SPEED, forces.MACH, forces.PRESSURE, forces.FELT]]
    wanted = [speed, speed / sound, 0.5 * density * speed**2, length(drag)]
    assert noted == pytest.approx(wanted, rel=1e-4)
