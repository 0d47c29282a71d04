"""The slow model itself, against closed forms.

Source of the numbers: tests/published/data/analytic_cases.csv (classical mechanics; held as
"computed": formulas worked there and confirmed by another integration at rtol 1e-11).
"""

import csv
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from made_up import BASE, MOTOR, parameters, still_tables, tables
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from slow_flight import SlowFlight, fly
from slow_vehicle import CDC_FILE, SlowVehicle, cross, length

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import NOTHING_OPENS
from goodflight.physics.motor.model import Motor

CASES_FILE = CDC_FILE.parent / "analytic_cases.csv"
GRAVITY, DENSITY = 9.80665, 1.225


def read_cases() -> dict[str, dict[str, str]]:
    lines = [x for x in CASES_FILE.read_text().splitlines() if x and not x.startswith("#")]
    found: dict[str, dict[str, str]] = {}
    for row in csv.DictReader(lines):
        found.setdefault(row["case"], {})[row["quantity"]] = row["value"]
    return found


CASES = read_cases()


def number(case: str, quantity: str) -> Any:
    return pytest.approx(float(CASES[case][quantity]), rel=2e-8)


def sea_air(height: float) -> tuple[float, float]:
    return DENSITY, 340.0


def no_air(height: float) -> tuple[float, float]:
    return 0.0, 340.0


def motor(
    times: tuple[float, float] = (0.0, 1e-3), thrusts: tuple[float, float] = (0.0, 0.0)
) -> Motor:
    return Motor(
        "invented",
        times_s=times,
        thrusts_n=thrusts,
        propellant_kg=0.0,
        loaded_kg=0.0,
        length_m=0.1,
        diameter_m=0.03,
        delay_s=None,
    )


def vehicle(
    air: Callable[..., Any], engine: Motor | None = None, shape: AeroTables | None = None, **changes
) -> SlowVehicle:
    plain = {"propellant_kg": 0.0, "nozzle_m": BASE["dry_cg_m"]}
    return SlowVehicle(
        parameters(**(plain | changes)), engine or motor(), shape or still_tables(), air
    )


def upright(
    height: float = 0.0,
    climb: float = 0.0,
    nose: tuple[float, ...] = (0.0, 0.0, 1.0),
    side: tuple[float, ...] = (1.0, 0.0, 0.0),
    omega: tuple[float, ...] = (0, 0, 0),
) -> tuple[tuple[float, ...], ...]:
    return (0.0, 0.0, height), (0.0, 0.0, climb), nose, side, omega


def run_free(
    v: SlowVehicle, t0: float, state: tuple[tuple[float, ...], ...]
) -> tuple[dict[str, float], float, NDArray[np.float64]]:
    flight = SlowFlight(v, NOTHING_OPENS)
    t, y, landed = flight.free(t0, flight.start_free(t0, state))
    assert landed
    return flight.out, t, y


AREA_66 = np.pi * 0.066**2 / 4.0


def sphere_like(coefficient: float = 0.5) -> AeroTables:
    """Quadratic drag with the reference area of a 66 mm body."""
    shape = still_tables(axial_low=coefficient, axial_high=coefficient)
    shape.scalars[0], shape.scalars[1] = AREA_66, 0.066
    return shape


def test_vertical_shot_with_drag() -> None:
    case = "vertical shot with quadratic drag"
    v = vehicle(sea_air, shape=sphere_like(), dry_mass_kg=1.5)
    out, t, y = run_free(v, 1.0, upright(climb=100.0))
    terminal = np.sqrt(2.0 * 1.5 * GRAVITY / (DENSITY * AREA_66 * 0.5))
    assert terminal == number(case, "terminal speed m/s")
    assert out["apogee_m"] == number(case, "apogee m")
    assert out["apogee_s"] - 1.0 == number(case, "time to apogee s")
    assert -y[5] == number(case, "impact speed m/s")
    assert t - out["apogee_s"] == number(case, "fall time s")


def test_constant_thrust_then_coast() -> None:
    case = "constant thrust then coast (constant mass)"
    engine = motor((0.0, 1.5), (60.0, 60.0))
    v = vehicle(sea_air, engine, sphere_like(), dry_mass_kg=1.5)
    out, _, _ = run_free(v, 0.0, upright())
    assert out["burnout_m_s"] == number(case, "burnout speed m/s")
    assert out["burnout_m"] == number(case, "burnout height m")
    assert out["apogee_m"] == number(case, "apogee m")
    assert out["apogee_s"] == number(case, "time to apogee s")


def test_vacuum_parabola() -> None:
    case = "vacuum parabola"
    half = 100.0 / np.sqrt(2.0)
    start = ((0.0, 0.0, 0.0), (half, 0.0, half), *upright()[2:])
    out, t, y = run_free(vehicle(no_air), 1.0, start)
    assert y[0] == number(case, "range m")
    assert out["apogee_m"] == number(case, "apogee m")
    assert t - 1.0 == number(case, "flight time s")


def test_burn_with_mass_loss_in_vacuum() -> None:
    case = "mass-varying vertical burn in vacuum"
    thrust = 2000.0 * 0.1 / 1.5
    engine = motor((0.0, 1.5), (thrust, thrust))
    v = vehicle(no_air, engine, dry_mass_kg=1.5, propellant_kg=0.1, nozzle_m=1.22)
    out, _, _ = run_free(v, 0.0, upright())
    assert out["burnout_m_s"] == number(case, "burnout speed m/s")
    assert out["burnout_m"] == number(case, "burnout height m")


def test_thrust_through_stretched_burn_keeps_its_impulse() -> None:
    """Derived: impulse x thrust_factor whatever the burn time; mass follows the impulse."""
    engine = Motor(
        "invented",
        times_s=(0.0, 0.5, 2.0),
        thrusts_n=(0.0, 90.0, 0.0),
        propellant_kg=0.1,
        loaded_kg=0.2,
        length_m=0.1,
        diameter_m=0.03,
        delay_s=None,
    )
    v = vehicle(no_air, engine, propellant_kg=0.1, thrust_factor=1.1, burn_time_factor=1.25)
    assert v.impulse == pytest.approx(90.0 * 1.1)
    assert v.burnout_s == 2.5
    # to the peak: a triangle of 0.5 s out of 2 s = a quarter of the impulse
    assert v.left(0.5 * 1.25) == pytest.approx(0.75)
    rates = [(v.masses(0.9 + h)[2:4]) for h in (-1e-5, 1e-5)]
    slope = (np.array(rates[1]) - np.array(rates[0])) / 2e-5
    assert v.masses(0.9)[4:6] == pytest.approx(tuple(slope), rel=1e-5)


def test_torque_free_symmetric_body() -> None:
    case = "torque-free symmetric body"
    v = vehicle(no_air, dry_pitch_inertia_kg_m2=0.1, dry_roll_inertia_kg_m2=0.01, gravity_m_s2=0.0)
    flight = SlowFlight(v, NOTHING_OPENS)
    nose, side = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    y0 = flight.start_free(1.0, ((0, 0, 9), (0, 0, 0), nose, side, 10.0 * nose + 1.0 * side))
    momentum = y0[12:15]
    cone = np.degrees(np.arccos(momentum @ nose / length(momentum)))
    assert cone == number(case, "cone half-angle deg")
    precession = length(momentum) / 0.1
    assert precession == number(case, "inertial precession rate H/It rad/s")
    flight.advance((flight.rhs_free, flight.read_free), 1.0, y0, 1.0 + np.pi / precession)
    _, _, end, end_side, omega = flight.pieces[-1].at(flight.pieces[-1].t1)
    turned = np.degrees(np.arccos(end @ nose))
    key = "nose axis after half a precession period: angle from start deg"
    assert turned == number(case, key)
    # body-frame rotation of the transverse rate, over a time short enough not to wrap
    _, _, n, s, omega = flight.pieces[-1].at(1.1)
    angle = np.arctan2(omega @ cross(n, s), omega @ s)
    key = "body-frame rate of transverse vector (1-Ia/It)p rad/s"
    assert abs(angle) / 0.1 == number(case, key)
    assert length(end_side) == pytest.approx(1.0, abs=1e-8)


def test_torque_free_triaxial_body() -> None:
    """Not the flight's own code: three body axes carried along under constant momentum."""
    case = "torque-free triaxial body (NESC case 2 brick)"
    inertia = np.array([0.001894220, 0.006211019, 0.007194665])
    momentum = inertia * np.radians([10.0, 20.0, 30.0])

    def rates(axes: NDArray[np.float64]) -> NDArray[np.float64]:
        return (axes @ momentum) / inertia

    def rhs(t: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
        axes = y.reshape(3, 3)  # rows: body axes in the world
        omega = rates(axes) @ axes
        return np.concatenate([cross(omega, axis) for axis in axes])

    run = solve_ivp(
        rhs, (0, 30), np.eye(3).ravel(), "DOP853", [5, 10, 20, 30], rtol=1e-12, atol=1e-12
    )
    for t, y in zip((5, 10, 20, 30), run.y.T):
        wanted = [float(x) for x in CASES[case][f"p q r at {t} s deg/s"].split()]
        assert np.degrees(rates(y.reshape(3, 3))) == pytest.approx(wanted, abs=2e-7)


def oscillation(columns: dict[str, float]) -> tuple[float, float]:
    """Pitch oscillation of a body too heavy to be pushed aside: frequency and damping."""
    shape = still_tables(**columns)
    shape.scalars[0], shape.scalars[1] = AREA_66, 0.066
    v = vehicle(
        sea_air,
        shape=shape,
        dry_mass_kg=1e12,
        dry_pitch_inertia_kg_m2=0.12,
        dry_cg_m=1.0,
        gravity_m_s2=0.0,
    )
    flight = SlowFlight(v, NOTHING_OPENS)
    flight.solver["atol"] = 1e-14  # the motion itself is 1e-4
    nose = np.array([np.sin(1e-4), 0.0, np.cos(1e-4)])
    side = np.array([0.0, 1.0, 0.0])
    y0 = flight.start_free(1.0, ((0, 0, 0), (0, 0, 60.0), nose, side, (0, 0, 0)))

    def through_zero(t: float, y: NDArray[np.float64]) -> float:
        return y[6]

    def turns(t: float, y: NDArray[np.float64]) -> float:
        return y[13]

    _, _, _, seen = flight.advance(
        (flight.rhs_free, flight.read_free), 1.0, y0, 4.0, [through_zero, turns]
    )
    zeros = np.array([t for t, _ in seen[0]])
    peaks = np.array([abs(y[6]) for t, y in seen[1] if t > 1.01])
    damped = np.pi / np.diff(zeros).mean()
    decrement = np.log(peaks[:-1] / peaks[1:]).mean() / np.pi
    ratio = decrement / np.sqrt(1.0 + decrement**2)
    return damped / np.sqrt(1.0 - ratio**2), ratio


def test_pitch_oscillation_without_damping() -> None:
    case = "small-angle pitch oscillation (undamped)"
    lever = 1.5 * 0.066
    omega, ratio = oscillation(
        {
            "body_slope": 10.0,
            "body_moment_m": 10.0 * (1.0 + lever),
            # second moment about the CG nil: B2 - 2 cg B1 + cg2 B0 = 0 with cg = 1
            "body_second_m2": 10.0 * (1.0 + 2.0 * lever),
        }
    )
    # 1e-7: what is left of the amplitude, 1e-4 rad
    assert omega == pytest.approx(float(CASES[case]["omega rad/s"]), rel=1e-7)
    assert omega / (2 * np.pi) == pytest.approx(float(CASES[case]["frequency Hz"]), rel=1e-7)
    wave = 60.0 * 2.0 * np.pi / omega
    assert wave == pytest.approx(
        float(CASES[case]["wavelength V/f m (independent of V)"]), rel=1e-7
    )
    assert abs(ratio) < 1e-7


def test_pitch_oscillation_damped_by_body_ahead_and_fins_behind() -> None:
    case = "small-angle pitch oscillation (damped)"
    omega, ratio = oscillation(
        {
            "body_slope": 2.0,
            "body_moment_m": 2.0 * 0.55,
            "body_second_m2": 2.0 * 0.55**2,
            "fin_slope": 8.0,
            "fin_cp_m": 1.30,
        }
    )
    assert omega == pytest.approx(float(CASES[case]["natural omega rad/s"]), rel=1e-6)
    key = "damping ratio (aerodynamic only)"
    assert ratio == pytest.approx(float(CASES[case][key]), rel=1e-6)


def test_rail_with_friction() -> None:
    """Derived: constant thrust, no air: a = T/m - g (cos tilt + friction x sin tilt)."""
    thrust, mass, tilt, friction = 80.0, 2.0, 0.3, 0.2
    engine = motor((0.0, 3.0), (thrust, thrust))
    v = vehicle(no_air, engine, dry_mass_kg=mass, rail_tilt_rad=tilt, rail_friction=friction)
    flight = SlowFlight(v, NOTHING_OPENS)
    t, (travel, speed) = flight.both_guides()
    pull = thrust / mass - GRAVITY * (np.cos(tilt) + friction * np.sin(tilt))
    # 2.4 m of rail, tail 0.2 m up, fore guide 1.22 - 0.90 = 0.32 m ahead of the tail
    assert travel == pytest.approx(2.4 - 0.2 - 0.32, abs=1e-9)
    assert speed == pytest.approx(np.sqrt(2.0 * pull * travel), rel=1e-8)
    assert t - flight.out["liftoff_s"] == pytest.approx(np.sqrt(2.0 * travel / pull), rel=1e-8)


def test_last_guide_without_friction_keeps_energy() -> None:
    """Derived: no air, no thrust, no friction: the guide's force does no work."""
    v = vehicle(no_air, rail_tilt_rad=0.5, rail_friction=0.0, rail_azimuth_rad=1.0)
    flight = SlowFlight(v, NOTHING_OPENS)
    start = flight.travel_at_exit(v.p["guide_fore_m"])

    def energy(state: tuple[NDArray[np.float64], ...]) -> float:
        position, velocity, _, _, omega = state
        mass, _, pitch, *_ = v.masses(1.0)
        return mass * (velocity @ velocity / 2 + GRAVITY * position[2]) + pitch * omega @ omega / 2

    t, state = flight.one_guide(1.0, start, 4.0)
    assert state is not None
    before = flight.read_rail(1.0, (start, 4.0))
    assert length(state[4]) > 0.2  # it does tip
    assert state[2][2] < np.cos(0.5)  # nose down
    assert energy(state) == pytest.approx(energy(before), rel=1e-9)
    # the guide is where the rail ends
    guide = state[0] - (v.p["guide_aft_m"] - v.masses(t)[1]) * state[2]
    end = np.array([0, 0, v.p["rail_base_m"]]) + v.p["rail_length_m"] * flight.rail
    assert guide == pytest.approx(end, abs=1e-8)


def test_descent_under_canopy_settles_at_the_speed_of_its_drag_area() -> None:
    """Derived: v = sqrt(2 m g / (rho CdS)); near the ground, drifting with the wind there."""
    p = parameters(wind_m_s=4.0, wind_exponent=0.0, wind_from_rad=np.pi / 2)
    out = fly(p, MOTOR, tables())
    area = max(p["canopy_area_m2"], p["tumble_area_m2"])
    speed = np.sqrt(2.0 * p["dry_mass_kg"] * GRAVITY / (DENSITY * area))
    # the air thins with height: slower settling lags by less than 1 in 1000
    assert out["descent_m_s"] == pytest.approx(speed, rel=1e-3)
    assert np.sqrt(out["landing_m_s"] ** 2 - out["descent_m_s"] ** 2) == pytest.approx(4, rel=1e-3)


def test_whole_flight_keeps_attitude_vectors_square() -> None:
    """Property: after a spinning, misaligned flight the attitude is still a right angle."""
    p = parameters(wind_m_s=6.0, rail_tilt_rad=0.08, cant_roll_rad=0.02, thrust_angle_y_rad=0.004)
    flight = SlowFlight(SlowVehicle(p, MOTOR, tables()))
    out = flight.run()
    state = next(x for x in flight.pieces if x.t1 >= out["ejection_s"]).at(out["ejection_s"])
    nose, side = state[2], state[3]
    assert [length(nose), length(side), nose @ side] == pytest.approx([1, 1, 0], abs=1e-6)


def test_flight_turned_about_the_vertical_is_the_same_flight() -> None:
    """Property: wind, rail and roll turned by the same angle turn the landing point with them."""
    turn = 1.1

    def flown(extra: float) -> dict[str, float]:
        p = parameters(
            wind_m_s=5.0,
            wind_from_rad=0.4 + extra,
            rail_tilt_rad=0.07,
            rail_azimuth_rad=2.0 + extra,
            thrust_angle_z_rad=0.003,
        )
        side = np.array([-np.cos(2.0 + extra), np.sin(2.0 + extra), 0.0])
        return fly(p, MOTOR, tables(), rail_side=side)

    a, b = flown(0.0), flown(turn)
    cos, sin = np.cos(turn), np.sin(turn)  # clockwise seen from above
    east, north = a["landing_east_m"], a["landing_north_m"]
    assert b["landing_east_m"] == pytest.approx(east * cos + north * sin, abs=1e-3)
    assert b["landing_north_m"] == pytest.approx(north * cos - east * sin, abs=1e-3)
    assert b["apogee_m"] == pytest.approx(a["apogee_m"], abs=1e-5)
