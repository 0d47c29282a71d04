"""The kernel's adaptive steps against a tight solution of the same equations.

The reference is scipy's DOP853 at 1e-10 on the kernel's own right-hand sides, cut at the same
corners, events found by scipy. It checks the stepping and the event finding, not the physics;
the physics is checked in tests/independent by another model.
"""

import math
from collections.abc import Sequence
from typing import Any

import numba
import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight import OUTCOME_INDEX, PARAMETER_INDEX, Launch, fly_ensemble
from goodflight.physics.flight.burn import burn_curve, mass_at
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.descent import FILL, STRETCH
from goodflight.physics.flight.ensemble import column_spacing
from goodflight.physics.flight.forces import (
    ALONG,
    PITCH_RATE2,
    PRESSURE,
    SIDE_Y,
    SIDE_Z,
    SPEED,
)
from goodflight.physics.flight.pad import set_on_pad
from goodflight.physics.flight.rail import rail_direction
from goodflight.physics.flight.record import (
    DESCENT,
    FREE,
    INSIDE,
    PIVOT,
    SLIDING,
    WIDE,
    K,
    Y,
    blank_record,
)
from goodflight.physics.flight.registry import BY_ALTIMETER, BY_DELAY, TOLERANCE
from goodflight.physics.flight.sample import sample_flight
from goodflight.physics.flight.stepper import rates
from goodflight.physics.motor.model import Motor
from new_record import new_flight

CASES = 50
CALM_CASES = 15
LOOK_S = 1e-3  # a hundredth of a step
# What a step may be off in attitude, TOLERANCE x (1 + 1), by the four steps that a swing takes.
# The place of a swing's top by its own: a step is at most 60 degrees of it, and a parabola through
# three values of sin^2 30 degrees apart misses the top by half a degree, 5e-5 of the value.
TURN_RAD = 4 * 2 * TOLERANCE
# What the wind does between two looks, half a step or 3 m apart: a Dryden process of length L,
# known at both ends, strays by sigma sqrt(2 x 3 m / L) / 2; L is 101 m at 50 m (MIL-F-8785C,
# halved for a climb). Across 60 m/s, the slowest at which a swing's top counts here.
GUST_RAD_PER_M_S = math.sqrt(6.0 / 101.0) / 2 / 60.0
TIGHT = {"method": "DOP853", "rtol": 1e-10, "atol": 1e-10}


@numba.njit
def slopes(
    phase: int, t: float, y: NDArray[np.float64], segment: int, w: NDArray[np.float64]
) -> NDArray[np.float64]:
    w[INSIDE : INSIDE + 13] = y
    rates(phase, t, w, INSIDE, 1, segment)
    return w[K + WIDE : K + WIDE + 13].copy()


@numba.njit
def swings(
    times: NDArray[np.float64], y: NDArray[np.float64], segment: int, w: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Pressure, incidence, side load and spin ratio of free flight at many moments."""
    found = np.empty((len(times), 4))
    for i in range(len(times)):
        w[INSIDE : INSIDE + 13] = y[:, i]
        rates(FREE, times[i], w, INSIDE, 1, segment)
        found[i, 0] = w[PRESSURE]
        found[i, 1] = math.acos(min(w[ALONG] / w[SPEED], 1.0))
        found[i, 2] = math.hypot(w[SIDE_Y], w[SIDE_Z])
        found[i, 3] = abs(y[10, i]) / math.sqrt(w[PITCH_RATE2]) if w[PITCH_RATE2] > 0.0 else 0.0
    return found


class Tight:
    """One flight solved tightly; `times` and `figures` are what the kernel's are held against."""

    def __init__(
        self,
        p: NDArray[np.float64],
        motor: Motor,
        tables: AeroTables,
        seed: int,
        deployment: int,
        turbulence: bool,
        spacing: float,
    ) -> None:
        self.curve = burn_curve(motor)
        self.w = new_flight(p, blank_record(self.curve, tables.mach_table, tables.scalars, spacing))
        for which in (0, 2):
            self.w[STRETCH + which], self.w[FILL + which] = math.inf, 1.0
        fill_column(self.w, ladder(spacing), seed, turbulence)
        self.p = {name: p[i] for name, i in PARAMETER_INDEX.items()}
        self.times, self.figures = {}, {}
        self.swung: list[NDArray[np.float64]] = []  # free flight until apogee, every millisecond
        self.deployment = deployment
        self.last = len(self.curve) - 1

    def solve(
        self,
        phase: int,
        t0: float,
        y0: NDArray[np.float64],
        t1: float,
        events: Sequence[Any] = (),
        segment: int | None = None,
    ) -> Any:
        segment = self.last if segment is None else segment
        n = 6 if phase == DESCENT else 13
        full = np.zeros(13)

        def f(t: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
            full[:n] = y
            return slopes(phase, t, full, segment, self.w)[:n]

        for event in events:
            event.terminal = True
        free = phase == FREE and "apogee_s" not in self.times
        s = solve_ivp(
            f,
            (t0, t1),
            y0[:n],
            events=list(events) or None,
            max_step=0.25,
            dense_output=free,
            **TIGHT,
        )
        if free:
            moments = np.append(np.arange(t0, s.t[-1], LOOK_S), s.t[-1])
            self.swung.append(swings(moments, s.sol(moments), segment, self.w))
        return s

    def greatest(self) -> dict[str, float]:
        """What counts of incidence, side load and spin, as the outcomes' registry says."""
        pressure, angle, side, ratio = np.vstack(self.swung).T
        top = np.maximum.accumulate(pressure)
        felt = pressure > 0.10 * top
        return {
            "max_incidence_rad": np.max(angle[pressure > 0.05 * top]),
            "max_side_load_n": np.max(side[felt]),
            "max_spin_ratio": np.max(ratio[felt]),
            "spin_incidence_rad": np.max(angle[felt & (ratio >= 0.5)], initial=0.0),
            "max_pressure_pa": np.max(pressure),
        }

    def run(self) -> "Tight":
        self.pad()
        self.rail_and_burn()
        return self.fall()

    def pad(self) -> None:
        set_on_pad(self.w)
        y = self.w[Y : Y + 13].copy()
        direction = np.array(rail_direction(self.w))
        stretch = self.p["burn_time_factor"]

        def pull(t: float) -> float:
            segment = int(np.searchsorted(self.curve[:, 0] * stretch, t, side="right")) - 1
            return slopes(SLIDING, t, y, segment, self.w)[3:6] @ direction

        knots = self.curve[:, 0] * stretch
        k = next(i for i in range(self.last) if pull(knots[i + 1] - 1e-12) > 0)
        self.t = brentq(pull, knots[k], knots[k + 1] - 1e-12, xtol=1e-14)
        self.segment, self.y, self.start = k, y, y[:3].copy()
        self.direction = direction
        self.times["liftoff_s"] = self.t

    def rail_and_burn(self) -> None:
        p = self.p
        reach = p["rail_length_m"] - p["stop_height_m"] - p["tail_m"]
        exits = [(SLIDING, reach + p["guide_fore_m"], "guide_exit_s"),
                 (PIVOT, reach + p["guide_aft_m"], "rail_exit_s")]  # fmt: skip
        phase = SLIDING
        while self.segment < self.last:
            end = self.curve[self.segment + 1, 0] * p["burn_time_factor"]
            events: tuple[Any, ...] = ()
            if exits:
                limit = exits[0][1]
                events = (lambda t, y, limit=limit: limit - (y[:3] - self.start) @ self.direction,)
            s = self.solve(phase, self.t, self.y, end, events, self.segment)
            self.t, self.y = s.t[-1], s.y[:, -1]
            if s.status == 1:
                self.times[exits.pop(0)[2]] = self.t
                phase += 1
                if phase == FREE:
                    self.figures["rail_exit_m_s"] = float(np.linalg.norm(self.y[3:6]))
            else:
                self.segment += 1
        self.burnout = self.t
        self.figures["burnout_m"] = self.y[2]

    def fall(self) -> "Tight":
        p, w = self.p, self.w
        eject = self.burnout + p["delay_s"] if self.deployment == BY_DELAY else math.inf

        def apogee(t: float, y: NDArray[np.float64]) -> float:
            return y[5]

        def ground(t: float, y: NDArray[np.float64]) -> float:
            return y[2]

        y, t = self.y, self.t
        s = self.solve(FREE, t, y, min(eject, t + 60), (apogee,))
        t, y = s.t[-1], s.y[:, -1]
        done = s.status == 1
        if done:
            self.times["apogee_s"], self.figures["apogee_m"] = t, y[2]
            if self.deployment == BY_ALTIMETER:
                eject = t + p["apogee_lag_s"]
            s = self.solve(FREE, t, y, eject, (ground,))
            t, y = s.t[-1], s.y[:, -1]
            if s.status == 1:
                self.times["landing_s"] = t
                return self
        self.times["ejection_s"] = t
        y = y[:6]
        stages = [(t + p["stretch_s"], 0)]
        main = p["main_area_m2"] > 0
        while True:
            stages.sort()
            stop, which = stages[0] if stages else (t + 600.0, None)

            def height(t: float, y: NDArray[np.float64]) -> float:
                return y[2] - p["main_height_m"] if y[5] < 0 else 1.0

            events = [e for e, want in ((ground, True), (apogee, not done), (height, main)) if want]
            s = self.solve(DESCENT, t, y, stop, events)
            t, y = s.t[-1], s.y[:, -1]
            if s.status == 1:
                hit = events[next(i for i, e in enumerate(s.t_events) if len(e))]
                if hit is ground:
                    self.times["landing_s"] = t
                    self.figures["landing_east_m"] = y[0]
                    return self
                if hit is apogee:
                    self.times["apogee_s"], self.figures["apogee_m"], done = t, y[2], True
                else:
                    main = False
                    stages.append((t + p["stretch_s"], 1))
                continue
            stages.pop(0)
            if which in (0, 1):
                name = ("canopy", "main")[which]
                slopes(DESCENT, t, np.concatenate([y, np.zeros(7)]), 0, w)
                path = p[f"{name}_fill"] * p[f"{name}_diameter_m"]
                fill = min(path / w[SPEED], math.sqrt(2 * path / p["gravity_m_s2"]))
                w[STRETCH + 2 * which], w[FILL + 2 * which] = t, fill
                stages.append((t + fill, -1))


def varied_flights() -> tuple[NDArray[np.float64], NDArray[np.int64], Motor, AeroTables]:
    """Rockets, rails, winds and recoveries drawn wide (seeded)."""
    base, motor, tables = sample_flight()
    rng = np.random.default_rng(20)
    rows, modes = [], []
    for i in range(CASES):
        p = base.copy()

        def scale(name: str, low: float, high: float, p: NDArray[np.float64] = p) -> None:
            p[PARAMETER_INDEX[name]] *= rng.uniform(low, high)

        def put(name: str, low: float, high: float, p: NDArray[np.float64] = p) -> None:
            p[PARAMETER_INDEX[name]] = rng.uniform(low, high)

        for name in ("dry_mass_kg", "axial_factor", "fin_slope_factor", "thrust_factor"):
            scale(name, 0.75, 1.3)
        scale("dry_pitch_inertia_kg_m2", 0.6, 1.6)
        put("dry_cg_m", 0.70, 0.78)
        put("rail_length_m", 1.8, 3.6)
        put("rail_tilt_rad", 0.0, 0.2)
        put("rail_azimuth_rad", 0, 6.28)
        put("wind_m_s", 0.0, 8.0)
        put("wind_from_rad", 0, 6.28)
        put("gust_sigma_m_s", 0.0, 1.5)
        put("cant_roll_rad", -0.01, 0.01)
        put("cant_y_rad", -0.004, 0.004)
        put("thrust_angle_y_rad", -0.004, 0.004)
        put("thrust_offset_z_m", -0.001, 0.001)
        put("delay_s", 6.0, 12.0)
        put("canopy_area_m2", 0.3, 0.9)
        if i % 3 == 0:
            put("main_height_m", 80, 200)
            put("main_area_m2", 0.6, 1.2)
            put("main_diameter_m", 1.0, 1.5)
            p[PARAMETER_INDEX["canopy_area_m2"]] = 0.08
        rows.append(p)
        modes.append(BY_ALTIMETER if i % 3 == 0 else BY_DELAY)
    return np.array(rows), np.array(modes), motor, tables


def fly_both(count: int, gusts: bool) -> tuple[NDArray[np.float64], list[Tight]]:
    """Outcomes of the first varied flights, and the same flights solved tightly."""
    rows, modes, motor, tables = varied_flights()
    spacing = column_spacing(rows, motor)
    rows, modes = rows[:count], modes[:count]
    seeds = np.arange(1, count + 1, dtype=np.uint64) * np.uint64(7919)
    out = np.empty((count, len(OUTCOME_INDEX)))
    for mode in (BY_DELAY, BY_ALTIMETER):
        pick = modes == mode
        launch = Launch(motor, tables, mode, node_spacing_m4=spacing, turbulence=gusts)
        out[pick] = fly_ensemble(launch, rows[pick], seeds[pick])
    tight = [
        Tight(rows[i], motor, tables, seeds[i], modes[i], gusts, spacing).run()
        for i in range(count)
    ]
    return out, tight


@pytest.fixture(scope="module")
def both() -> tuple[NDArray[np.float64], list[Tight]]:
    return fly_both(CASES, True)


@pytest.fixture(scope="module")
def calm() -> tuple[NDArray[np.float64], list[Tight]]:
    return fly_both(CALM_CASES, False)


def test_apogee_within_a_tenth_of_a_percent(both: tuple[NDArray[np.float64], list[Tight]]) -> None:
    out, tight = both
    ours = out[:, OUTCOME_INDEX["apogee_m"]]
    theirs = np.array([one.figures["apogee_m"] for one in tight])
    assert np.max(np.abs(ours / theirs - 1)) < 1e-3


@pytest.mark.parametrize(
    "name", ["liftoff_s", "guide_exit_s", "rail_exit_s", "apogee_s", "ejection_s", "landing_s"]
)
def test_event_times_within_ten_milliseconds(
    both: tuple[NDArray[np.float64], list[Tight]], name: str
) -> None:
    out, tight = both
    pairs = [
        (out[i, OUTCOME_INDEX[name]], one.times[name])
        for i, one in enumerate(tight)
        if name in one.times
    ]
    assert len(pairs) > CASES // 2
    ours, theirs = np.array(pairs).T
    assert np.max(np.abs(ours - theirs)) < 0.010


@pytest.mark.parametrize("name", ["rail_exit_m_s", "burnout_m"])
def test_speeds_and_heights_follow(
    both: tuple[NDArray[np.float64], list[Tight]], name: str
) -> None:
    out, tight = both
    theirs = np.array([one.figures[name] for one in tight])
    assert np.max(np.abs(out[:, OUTCOME_INDEX[name]] / theirs - 1)) < 1e-3


def off(flown: tuple[NDArray[np.float64], list[Tight]], name: str) -> NDArray[np.float64]:
    """How far a greatest value is from the one of every millisecond."""
    out, tight = flown
    return out[:, OUTCOME_INDEX[name]] - np.array([one.greatest()[name] for one in tight])


def sharpness(flown: tuple[NDArray[np.float64], list[Tight]]) -> NDArray[np.float64]:
    """Side load of a radian at each flight's highest pressure, N: q A CNa (no stall, no Mach)."""
    out, tight = flown
    area, slope = (
        math.pi * 0.079**2 / 4,
        2.0 + 7.1 * np.array([o.p["fin_slope_factor"] for o in tight]),
    )
    return out[:, OUTCOME_INDEX["max_pressure_pa"]] * area * slope


@pytest.mark.parametrize("name", ["max_incidence_rad", "spin_incidence_rad"])
def test_the_highest_angle_of_attack_is_the_flights(
    both: tuple[NDArray[np.float64], list[Tight]],
    calm: tuple[NDArray[np.float64], list[Tight]],
    name: str,
) -> None:
    assert np.max(np.abs(off(calm, name))) < TURN_RAD
    gust = np.array([one.p["gust_sigma_m_s"] for one in both[1]]) * GUST_RAD_PER_M_S
    assert np.all(np.abs(off(both, name)) < TURN_RAD + gust)


def test_the_highest_side_load_is_the_flights(
    both: tuple[NDArray[np.float64], list[Tight]], calm: tuple[NDArray[np.float64], list[Tight]]
) -> None:
    name = "max_side_load_n"
    assert np.all(np.abs(off(calm, name)) < TURN_RAD * sharpness(calm))
    gust = np.array([one.p["gust_sigma_m_s"] for one in both[1]]) * GUST_RAD_PER_M_S
    assert np.all(np.abs(off(both, name)) < (TURN_RAD + gust) * sharpness(both))


@pytest.mark.parametrize("name", ["max_spin_ratio", "max_pressure_pa"])
def test_what_counts_to_the_end_of_a_limit_is_read_there(
    both: tuple[NDArray[np.float64], list[Tight]], name: str
) -> None:
    """Pressure goes with the square of speed, which is good to a thousandth; so does its limit."""
    theirs = np.array([one.greatest()[name] for one in both[1]])
    assert np.max(np.abs(off(both, name) / theirs)) < 2e-3


def test_mass_is_conserved_at_the_ends() -> None:
    p, motor, _ = sample_flight()
    full, empty = mass_at(p, 1, 0, 0.0, 0.0)[0], mass_at(p, 1, 0, 1.0, 0.0)[0]
    assert full - empty == pytest.approx(motor.propellant_kg, abs=1e-12)
