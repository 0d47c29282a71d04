"""The kernel against closed-form flights.

Numbers: tests/published/data/analytic_cases.csv (computed from classical mechanics, not from a
publication; each confirmed there by an independent numerical integration). Air of constant density
is made by a ground temperature so high that the lapse does not matter.
"""

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight import (
    BY_ALTIMETER,
    OUTCOME_INDEX,
    PARAMETER_INDEX,
    PARAMETERS,
    Launch,
    fly_ensemble,
)
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.record import (
    AHEAD,
    FREE,
    LAST,
    NOW,
    PHASE,
    SEGMENT,
    TRIED,
    WIDE,
    K,
    Y,
    blank_record,
)
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_INDEX,
    AERO_SCALAR_INDEX,
    AERO_SCALARS,
    MACH_COUNT,
)
from goodflight.physics.flight.sample import sample_flight
from goodflight.physics.flight.stepper import rates, try_step
from goodflight.physics.motor.model import Motor
from new_record import new_flight

DATA = Path(__file__).parent / "data" / "analytic_cases.csv"
SPACING = 2000.0**0.25 / 127
GAS, HOT_K, DENSITY = 287.05287, 1e9, 1.225


def published(case: str, quantity: str) -> float:
    rows = [line for line in DATA.read_text().splitlines() if not line.startswith("#")]
    found = [
        r["value"] for r in csv.DictReader(rows) if r["case"] == case and r["quantity"] == quantity
    ]
    assert len(found) == 1, (case, quantity, found)
    return float(found[0])


def plain_tables(diameter: float = 0.066, **columns) -> AeroTables:
    table = np.zeros((MACH_COUNT, len(AERO_COLUMNS)))
    for name, value in columns.items():
        table[:, AERO_INDEX[name]] = value
    scalars = np.zeros(len(AERO_SCALARS))
    for name, value in {
        "area_m2": math.pi * diameter**2 / 4,
        "diameter_m": diameter,
        "length_m": 1.0,
        "fin_stall_start_sin2": 0.9,
        "fin_stall_end_sin2": 0.99,
    }.items():
        scalars[AERO_SCALAR_INDEX[name]] = value
    return AeroTables(table, scalars)


def plain_parameters(density: float = DENSITY, **values) -> np.ndarray:
    p = np.zeros(len(PARAMETERS))
    start = {
        "dry_mass_kg": 1.5, "dry_cg_m": 0.5, "dry_pitch_inertia_kg_m2": 0.1,
        "dry_roll_inertia_kg_m2": 0.01, "propellant_cg_m": 0.5, "propellant_length_m": 0.1,
        "propellant_radius_m": 0.01, "propellant_kg": 1e-9, "nozzle_m": 0.5, "thrust_factor": 1,
        "burn_time_factor": 1, "axial_factor": 1, "body_slope_factor": 1, "fin_slope_factor": 1,
        "crossflow_factor": 1, "rail_length_m": 1.0, "guide_fore_m": 0.4, "guide_aft_m": 0.6,
        "tail_m": 1.0, "wind_height_m": 2.0, "ground_temperature_k": HOT_K,
        "ground_pressure_pa": density * GAS * HOT_K, "gravity_m_s2": 9.80665,
        "canopy_diameter_m": 1, "canopy_fill": 8, "canopy_growth": 2, "canopy_overshoot": 1,
        "main_diameter_m": 1, "main_fill": 8, "main_growth": 2, "main_overshoot": 1,
    }  # fmt: skip
    for name, value in {**start, **values}.items():
        p[PARAMETER_INDEX[name]] = value
    return p


def motor_of(
    times: tuple[float, ...], thrusts: tuple[float, ...], propellant: float = 1e-9
) -> Motor:
    return Motor(
        "invented",
        times_s=tuple(times),
        thrusts_n=tuple(thrusts),
        propellant_kg=propellant,
        loaded_kg=1.0,
        length_m=0.1,
        diameter_m=0.03,
        delay_s=5.0,
    )


def fly(
    p: NDArray[np.float64], motor: Motor, tables: AeroTables, mode: int = BY_ALTIMETER
) -> dict[str, float]:
    out = fly_ensemble(Launch(motor, tables, mode, False), p[None], np.array([1], np.uint64))[0]
    return {name: out[i] for name, i in OUTCOME_INDEX.items()}


DRAG = {"axial_low": 0.5, "axial_high": 0.5}
AREA = math.pi * 0.066**2 / 4
CG_HEIGHT = 0.5  # of the resting CG in these cases, tail on the ground


def test_constant_thrust_then_coast() -> None:
    case = "constant thrust then coast (constant mass)"
    f = fly(plain_parameters(), motor_of((0, 1.5), (60, 60)), plain_tables(**DRAG))
    # 0.01 %: the step tolerance
    assert f["burnout_m_s"] == pytest.approx(published(case, "burnout speed m/s"), rel=1e-4)
    assert f["burnout_m"] - CG_HEIGHT == pytest.approx(
        published(case, "burnout height m"), rel=1e-4
    )
    assert f["apogee_m"] - CG_HEIGHT == pytest.approx(published(case, "apogee m"), rel=1e-4)
    assert f["apogee_s"] == pytest.approx(published(case, "time to apogee s"), abs=1e-3)


def test_fall_with_quadratic_drag() -> None:
    case = "vertical shot with quadratic drag"
    p = plain_parameters(tumble_area_m2=0.5 * AREA, stretch_s=1e4)
    # a short kick that reaches the case's apogee: thrown from a height does as well
    f = fly(p, motor_of((0, 1.5), (60, 60)), plain_tables(**DRAG))
    terminal = published(case, "terminal speed m/s")
    height = f["apogee_m"]
    impact = terminal * math.sqrt(1 - math.exp(-2 * 9.80665 * height / terminal**2))
    fall = terminal / 9.80665 * math.acosh(math.exp(9.80665 * height / terminal**2))
    assert f["landing_m_s"] == pytest.approx(impact, rel=1e-4)
    assert f["landing_s"] - f["apogee_s"] == pytest.approx(fall, abs=2e-3)
    # the same two formulas give the stored case's figures
    top = published(case, "apogee m")
    assert terminal * math.sqrt(1 - math.exp(-2 * 9.80665 * top / terminal**2)) == pytest.approx(
        published(case, "impact speed m/s"), rel=1e-8
    )
    assert terminal / 9.80665 * math.acosh(math.exp(9.80665 * top / terminal**2)) == pytest.approx(
        published(case, "fall time s"), rel=1e-8
    )


def test_vertical_burn_in_vacuum_with_falling_mass() -> None:
    case = "mass-varying vertical burn in vacuum"
    p = plain_parameters(density=1e-12, propellant_kg=0.1)
    thrust = 2000 * 0.1 / 1.5
    f = fly(p, motor_of((0, 1.5), (thrust, thrust), 0.1), plain_tables())
    assert f["burnout_m_s"] == pytest.approx(published(case, "burnout speed m/s"), rel=1e-5)
    assert f["burnout_m"] - CG_HEIGHT == pytest.approx(
        published(case, "burnout height m"), rel=1e-5
    )


class Bench:
    """A body set free in the air at a chosen state and stepped with fixed steps, motor out."""

    def __init__(self, p: NDArray[np.float64], tables: AeroTables, state: dict[int, float]) -> None:
        motor = motor_of((0, 1), (1, 1))
        curve = burn_curve(motor)
        self.w = new_flight(p, blank_record(curve, tables.mach_table, tables.scalars, SPACING))
        fill_column(self.w, ladder(SPACING), np.uint64(1), False)
        self.w[Y + 6] = 1.0
        for i, value in state.items():
            self.w[Y + i] = value
        self.t = 0.0
        self.w[PHASE], self.w[SEGMENT] = FREE, 99
        rates(FREE, 0.0, self.w, Y, 0, 99)

    def step(self, h: float) -> NDArray[np.float64]:
        w = self.w
        w[NOW], w[TRIED] = self.t, h
        try_step(w)
        w[Y : Y + WIDE], w[K : K + WIDE] = w[AHEAD : AHEAD + WIDE], w[LAST : LAST + WIDE]
        self.t += h
        return w[Y : Y + 13].copy()


def torque_free(
    steps: int, until: float = math.pi / 2, roll: float = 10.0, pitch: float = 1.0
) -> NDArray[np.float64]:
    p = plain_parameters(density=1e-12, gravity_m_s2=0.0)
    bench = Bench(p, plain_tables(), {2: 500.0, 10: roll, 11: pitch})
    for _ in range(steps):
        y = bench.step(until / steps)
    return y


def test_torque_free_symmetric_body() -> None:
    case = "torque-free symmetric body"
    rate = published(case, "body-frame rate of transverse vector (1-Ia/It)p rad/s")
    t = 0.5
    y = torque_free(500, until=t)
    assert math.hypot(y[11], y[12]) == pytest.approx(1.0, abs=1e-9)
    # with I_a < I_t the vector turns against the roll
    assert math.remainder(math.atan2(y[12], y[11]) + rate * t, 2 * math.pi) == pytest.approx(
        0, abs=1e-8
    )
    half = math.pi / published(case, "inertial precession rate H/It rad/s")
    y = torque_free(3000, until=half)
    axis_x = 1 - 2 * (y[8] ** 2 + y[9] ** 2)
    turned = math.degrees(math.acos(axis_x))
    assert turned == pytest.approx(
        published(case, "nose axis after half a precession period: angle from start deg"), abs=1e-5
    )


def test_steps_have_the_order_of_the_method() -> None:
    """Order 5 on an exact solution: halving the step divides the error by about 2^5."""
    exact = torque_free(8000)
    coarse = np.linalg.norm(torque_free(100)[6:] - exact[6:])
    fine = np.linalg.norm(torque_free(200)[6:] - exact[6:])
    assert 4.6 < math.log2(coarse / fine) < 5.6


def test_pitch_oscillation_frequency_and_damping() -> None:
    case = "small-angle pitch oscillation (damped)"
    # heavy, so that the path stays straight as in the closed form
    p = plain_parameters(
        dry_mass_kg=1e6,
        dry_pitch_inertia_kg_m2=0.12,
        gravity_m_s2=0.0,
        dry_cg_m=0.5,
    )
    tables = plain_tables(
        body_slope=2.0,
        body_moment_m=2.0 * 0.05,
        body_second_m2=2.0 * 0.05**2,
        fin_slope=8.0,
        fin_cp_m=0.8,
    )
    bench = Bench(p, tables, {2: 100.0, 3: 60.0, 11: 0.01})
    h, times, peaks = 2e-4, [], []
    last = bench.w[Y : Y + 13].copy()
    while len(times) < 5:
        y = bench.step(h)
        angle, before = -2 * y[8], -2 * last[8]
        if before * angle < 0:
            times.append(bench.t - h * angle / (angle - before))
        if last[11] * y[11] < 0:
            peaks.append(abs(angle))
        last = y
    half_period = (times[-1] - times[0]) / 4
    decrement = math.log(peaks[0] / peaks[2]) / (2 * math.pi)
    ratio = decrement / math.sqrt(1 + decrement**2)
    omega = math.pi / half_period / math.sqrt(1 - ratio**2)
    # 0.1 %: zero crossings and peaks are read between steps
    assert omega == pytest.approx(published(case, "natural omega rad/s"), rel=1e-3)
    assert ratio == pytest.approx(published(case, "damping ratio (aerodynamic only)"), rel=5e-3)


SHELL = DATA.with_name("finned_shell_120mm_mccoy1998.csv")


def shell(coefficient: str, mach: float) -> float:
    """Of the 120 mm finned shell, linear between its rows: McCoy 1998 p. 220, seen-2."""
    rows = [line for line in SHELL.read_text().splitlines() if not line.startswith("#")]
    points = [
        (float(r["mach"]), float(r["value"]))
        for r in csv.DictReader(rows)
        if r["coefficient"] == coefficient
    ]
    return float(np.interp(mach, *np.array(points).T))


@pytest.mark.parametrize("mach", [0.6, 0.8])
def test_a_finned_shell_swings_and_settles_by_its_coefficients(mach: float) -> None:
    """McCoy's planar motion with given coefficients, rates as q d / V (his convention: half of
    them would be taken with q d / 2V), in calibres travelled s / d:

    a'' + H a' - M a = 0, k = rho S d / 2m, H = k (CLa - CD - m d^2 / Iy (CMq + CMa.)),
    M = k m d^2 / Iy CMa. Left out are products with k = 6e-5: k m d^2 / Iy CMq is 0.1 %.
    """
    d, mass, pitch_kg_m2 = 0.11956, 13.585, 0.23187
    lift, drag = shell("CLa0", mach), shell("CD0", mach)
    turns, damps = shell("CMa0", mach), shell("CMq_CMadot_0", mach)
    k = DENSITY * math.pi * d**3 / 8.0 / mass
    per_radius = mass * d**2 / pitch_kg_m2
    settles = k * (lift - drag - per_radius * damps)
    swings = math.sqrt(-k * per_radius * turns - settles**2 / 4.0)
    # the kernel's sums over the body, about a CG at 0.5 m: force, first and second moment
    force, lever, second = lift + drag, turns * d, -damps * d**2
    first = 0.5 * force - lever
    tables = plain_tables(
        d,
        axial_low=drag,
        axial_high=drag,
        body_slope=force,
        body_moment_m=first,
        body_second_m2=second - 0.25 * force + first,
    )
    p = plain_parameters(
        dry_mass_kg=mass,
        dry_pitch_inertia_kg_m2=pitch_kg_m2,
        dry_roll_inertia_kg_m2=0.02335,
        gravity_m_s2=0.0,
    )
    bench = Bench(p, tables, {2: 300.0, 3: 200.0, 11: 0.2})
    way, before, crossings, peaks, most = 0.0, 0.0, [], [], 0.0
    while len(crossings) < 4:
        y = bench.step(5e-4)
        go = 5e-4 * math.hypot(y[3], y[5]) / d
        angle = math.atan2(-2.0 * y[6] * y[8], 1.0 - 2.0 * y[8] ** 2) - math.atan2(y[5], y[3])
        if before * angle < 0.0:
            crossings.append(way + go * before / (before - angle))
            peaks.append(most)
            most = 0.0
        way, before, most = way + go, angle, max(most, abs(angle))
    half = (crossings[-1] - crossings[0]) / 3.0
    assert math.pi / half == pytest.approx(swings, rel=2e-3)
    decrement = math.log(peaks[1] / peaks[3]) / 2.0
    assert decrement / half == pytest.approx(settles / 2.0, rel=2e-3)


def test_roll_reaches_its_closed_form() -> None:
    """dp/dt = L_d + L_p p: an exponential towards 2 V C_ld delta / (d |C_lp|) (by hand)."""
    speed, d, cant, force, damp = 60.0, 0.066, 0.01, 4.0, -8.0
    p = plain_parameters(
        dry_mass_kg=1e6, cant_roll_rad=cant, gravity_m_s2=0.0, dry_roll_inertia_kg_m2=0.001
    )
    tables = plain_tables(roll_force=force, roll_damp=damp)
    bench = Bench(p, tables, {2: 100.0, 3: speed})
    steady = 2 * speed * force * cant / (d * -damp)
    rate = 0.5 * DENSITY * speed * AREA * d * d * -damp / 2 / 0.001
    for _ in range(2000):
        y = bench.step(5e-4)
    assert y[10] == pytest.approx(steady * (1 - math.exp(-rate * 1.0)), rel=1e-4)


def test_flights_mirror_and_turn() -> None:
    p, motor, tables = sample_flight()
    launch = Launch(motor, tables, turbulence=False)
    seeds = np.array([1], np.uint64)

    def land(azimuth: float, wind_from: float) -> NDArray[np.float64]:
        q = p.copy()
        q[PARAMETER_INDEX["rail_azimuth_rad"]] = azimuth
        q[PARAMETER_INDEX["wind_from_rad"]] = wind_from
        out = fly_ensemble(launch, q[None], seeds)[0]
        return np.array(
            [
                out[OUTCOME_INDEX["landing_east_m"]],
                out[OUTCOME_INDEX["landing_north_m"]],
                out[OUTCOME_INDEX["apogee_m"]],
            ]
        )

    one = land(0.4, 1.1)
    mirrored = land(-0.4, -1.1)
    # steps adapt to the turned state a little differently: metres within the step tolerance
    assert mirrored == pytest.approx([-one[0], one[1], one[2]], abs=0.05)
    turned = land(0.4 + math.pi / 2, 1.1 + math.pi / 2)
    assert turned == pytest.approx([one[1], -one[0], one[2]], abs=0.05)
