"""The compiled kernel against the slow model, pad to ground, on invented rockets and winds.

Kind: independent code. The two share the physics that is written down (frames, forces, phases)
and no line of program. First with small steps, where only the models can differ; then as users
run it, where the allowance is the accuracy promised for a flight.

Known and accepted: the slow model lets the last guide rub on the rail, the kernel does not
(speed off the rail up to 0.009 m/s apart, apogee 0.1 m).
"""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from flight_cases import CASES, STRONG, WEAK, Case, drawn, full
from made_up import parameters, tables
from numpy.typing import NDArray
from slow_flight import fly

from goodflight.physics.flight import Launch, fly_ensemble
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    BY_DELAY,
    NOTHING_OPENS,
    OUTCOMES,
    PARAMETERS,
)

BY_NAME = {case.name: case for case in CASES}
SMALL_STEPS = 1e-8

# name: (absolute, relative); agreement within the greater of the two
CLOSE = {
    "status": (0.0, 0.0),
    "liftoff_mass_kg": (0.0, 1e-12),
    "thrust_to_weight_mean": (0.0, 1e-9),
    "liftoff_s": (1e-4, 0.0),
    "guide_exit_s": (1e-4, 0.0),
    "guide_exit_m_s": (0.001, 0.0),
    "rail_exit_s": (1e-4, 0.0),
    "rail_exit_m_s": (0.01, 0.0),  # friction of the last guide
    "rail_exit_wind_m_s": (0.01, 0.002),
    "rail_exit_incidence_rad": (5e-4, 0.0),
    "rail_exit_rate_rad_s": (5e-4, 0.0),
    "margin_liftoff_cal": (0.005, 0.0),  # at the Mach number of the wind or at none
    "margin_exit_cal": (1e-3, 0.0),
    "margin_exit_incidence_cal": (0.01, 0.0),
    "margin_burnout_cal": (1e-3, 0.0),
    "min_margin_cal": (1e-3, 0.0),
    "max_speed_m_s": (0.05, 0.0),
    "max_mach": (2e-4, 0.0),
    "max_pressure_pa": (0.0, 0.001),
    "burnout_s": (1e-6, 0.0),
    "burnout_m": (0.05, 0.0),
    "burnout_m_s": (0.02, 0.0),
    "burnout_roll_rad_s": (0.01, 0.0),
    "burnout_tilt_rad": (5e-4, 0.0),
    "apogee_s": (0.002, 0.0),
    "apogee_m": (0.05, 1e-4),
    "apogee_m_s": (0.02, 0.0),
    "apogee_east_m": (0.3, 0.0),
    "apogee_north_m": (0.3, 0.0),
    "ejection_s": (0.002, 0.0),
    "ejection_m": (0.05, 1e-4),
    "ejection_m_s": (0.02, 0.0),
    "ejection_climb_m_s": (0.02, 0.0),
    "opening_m_s": (0.02, 0.0),
    "opening_m": (0.05, 1e-4),
    "opening_force_n": (0.0, 0.003),
    "main_opening_m_s": (0.02, 0.0),
    "descent_m_s": (0.0, 0.005),
    "landing_s": (0.01, 0.0),
    "landing_m_s": (0.0, 0.01),  # the wind falls steeply in the last metre
}
# what a flight promises at its usual step: 0.1 % of apogee and 10 ms; speeds in their proportion
PROMISED = {
    "status": (0.0, 0.0),
    "liftoff_s": (0.01, 0.0),
    "rail_exit_s": (0.01, 0.0),
    "rail_exit_m_s": (0.0, 0.001),
    "rail_exit_incidence_rad": (0.001, 0.0),
    "max_speed_m_s": (0.0, 0.001),
    "burnout_s": (0.01, 0.0),
    "burnout_m": (0.0, 0.001),
    "apogee_s": (0.01, 0.0),
    "apogee_m": (0.0, 0.001),
    "ejection_s": (0.01, 0.0),
    "ejection_m_s": (0.05, 0.0),
    "opening_m_s": (0.05, 0.0),
    "opening_force_n": (0.0, 0.005),
    "landing_s": (0.05, 0.0),
    "descent_m_s": (0.0, 0.01),
    "landing_m_s": (0.0, 0.02),
}


@cache
def slow(name: str) -> dict[str, float]:
    case = BY_NAME[name]
    return fly(full(case), case.motor, case.shape, case.deployment)


def fast(case: Case, **settings) -> dict[str, float]:
    p = full(case)
    row = np.array([[p[name] for name in PARAMETERS]])
    seeds = np.zeros(1, dtype=np.uint64)
    launch = Launch(case.motor, case.shape, case.deployment, turbulence=False, **settings)
    got = fly_ensemble(launch, row, seeds)
    return dict(zip(OUTCOMES, got[0]))


def apart(
    got: dict[str, float], wanted: dict[str, float], allowed: dict[str, tuple[float, float]]
) -> list[str]:
    """One line for every outcome that is further off than allowed, or there in one model only."""
    lines = []
    for name, (absolute, relative) in allowed.items():
        here, there = got[name], wanted.get(name, np.nan)
        if np.isnan(here) and np.isnan(there):
            continue
        limit = max(absolute, relative * abs(there))
        if not abs(here - there) <= limit:
            lines.append(f"{name}: kernel {here:.6g}, slow model {there:.6g}, allowed {limit:.2g}")
    return lines


def landing_apart(got: dict[str, float], wanted: dict[str, float]) -> float:
    return np.hypot(
        got["landing_east_m"] - wanted["landing_east_m"],
        got["landing_north_m"] - wanted["landing_north_m"],
    )


# the outcomes that hang on the wind in the lowest metres are held apart from the others
NEAR_GROUND = (
    "rail_exit_rate_rad_s",
    "rail_exit_wind_m_s",
    "rail_exit_incidence_rad",
    "margin_exit_incidence_cal",
    "descent_m_s",
    "landing_m_s",
)


def only(
    allowed: dict[str, tuple[float, float]], near_ground: bool
) -> dict[str, tuple[float, float]]:
    return {name: x for name, x in allowed.items() if (name in NEAR_GROUND) == near_ground}


@pytest.mark.parametrize("name", BY_NAME)
def test_models_agree_with_small_steps(name: str) -> None:
    got, wanted = fast(BY_NAME[name], tolerance=SMALL_STEPS), slow(name)
    assert apart(got, wanted, only(CLOSE, False)) == []
    drift = np.hypot(wanted["landing_east_m"], wanted["landing_north_m"])
    assert landing_apart(got, wanted) <= max(0.3, 2e-4 * drift)


@pytest.mark.parametrize("name", BY_NAME)
def test_models_agree_near_the_ground_with_small_steps(name: str) -> None:
    got, wanted = fast(BY_NAME[name], tolerance=SMALL_STEPS), slow(name)
    assert apart(got, wanted, only(CLOSE, True)) == []


@pytest.mark.parametrize("name", BY_NAME)
def test_usual_steps_keep_the_promised_accuracy(name: str) -> None:
    got, wanted = fast(BY_NAME[name]), slow(name)
    assert apart(got, wanted, only(PROMISED, False)) == []
    drift = np.hypot(wanted["landing_east_m"], wanted["landing_north_m"])
    assert landing_apart(got, wanted) <= max(1.0, 0.005 * drift)


@pytest.mark.parametrize("name", BY_NAME)
def test_usual_steps_keep_the_promised_accuracy_near_the_ground(name: str) -> None:
    got, wanted = fast(BY_NAME[name]), slow(name)
    assert apart(got, wanted, only(PROMISED, True)) == []


@cache
def drawn_apart(count: int = 300) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Outcomes of drawn flights at the usual step and at a very small one."""
    rows = [parameters(**changes) for changes in drawn(count, 11)]
    table = np.array([[p[name] for name in PARAMETERS] for p in rows])
    seeds = np.zeros(count, dtype=np.uint64)
    launch = Launch(CASES[0].motor, tables(), BY_DELAY, turbulence=False)
    usual = fly_ensemble(launch, table, seeds)
    small = fly_ensemble(replace(launch, tolerance=1e-10), table, seeds)
    return usual, small


def drawn_faults(allowed: dict[str, tuple[float, float]]) -> list[list[str]]:
    usual, small = drawn_apart()
    pairs = [(dict(zip(OUTCOMES, a)), dict(zip(OUTCOMES, b))) for a, b in zip(usual, small)]
    return [lines for got, wanted in pairs if (lines := apart(got, wanted, allowed))]


def test_usual_steps_keep_the_promise_on_nearly_all_drawn_flights() -> None:
    """The same program with small steps; hard flights (9 m/s of wind, short rails) are in it."""
    assert len(drawn_faults(PROMISED)) <= 0.03 * 300
    twice = {name: (2.0 * a, 2.0 * r) for name, (a, r) in PROMISED.items() if name[:4] == "apog"}
    assert drawn_faults(twice) == []


def test_usual_steps_keep_the_promised_apogee_on_every_drawn_flight() -> None:
    assert drawn_faults({name: PROMISED[name] for name in ("apogee_m", "apogee_s")}) == []


def test_cases_reach_what_they_are_there_for() -> None:
    """The cases would prove little if all were gentle: see that each kind of flight is there."""
    flown = {name: slow(name) for name in BY_NAME}
    assert max(x["max_mach"] for x in flown.values()) > 1.0
    stall = np.arcsin(np.sqrt(tables().scalars[6]))
    gale = flown["short rail in a gale: fins near the stall"]
    assert gale["rail_exit_incidence_rad"] > stall
    assert abs(flown["spin from cant"]["burnout_roll_rad_s"]) > 10.0
    early = flown["rail across a strong wind, warm high field, early ejection"]
    assert early["ejection_s"] < early["apogee_s"] and early["ejection_climb_m_s"] > 20.0
    assert flown["thrust line off and fins askew, without spin"]["ejection_climb_m_s"] < -20.0
    assert flown["slender, leaning far over, guides far apart"]["rail_exit_rate_rad_s"] > 0.1
    assert {case.deployment for case in CASES} == {BY_DELAY, BY_ALTIMETER, NOTHING_OPENS}


def test_motor_too_weak_stays_on_the_rail_in_both() -> None:
    case = Case("weak", {}, WEAK)
    assert fly(full(case), WEAK, case.shape)["status"] == 1.0
    assert fast(case)["status"] == 1.0


def test_delay_longer_than_the_flight_hits_the_ground_in_both() -> None:
    case = Case("long delay", {"delay_s": 60.0, "wind_m_s": 3.0, "rail_tilt_rad": 0.05})
    got, wanted = fast(case, tolerance=SMALL_STEPS), fly(full(case), case.motor, case.shape)
    assert wanted["status"] == 3.0
    kept = {k: v for k, v in CLOSE.items() if not k.startswith(("ejection", "opening"))}
    assert apart(got, wanted, kept) == []
    assert landing_apart(got, wanted) < 0.3


def test_flights_of_one_call_do_not_touch_each_other() -> None:
    """The same rocket in a row of different ones flies as it does alone."""
    rows = [parameters(**case.changes) for case in CASES if case.motor is not STRONG]
    table = np.array([[p[name] for name in PARAMETERS] for p in rows])
    launch = Launch(CASES[0].motor, tables(), BY_DELAY, turbulence=False)
    seeds = np.zeros(len(rows), dtype=np.uint64)
    together = fly_ensemble(launch, table, seeds)
    for i in range(len(rows)):
        alone = fly_ensemble(launch, table[i : i + 1], seeds[:1])
        np.testing.assert_allclose(together[i], alone[0], rtol=1e-3, atol=1e-2)
