"""A rocket of which nothing opens: nose first, by closed form and against the flight kernel."""

import math
from itertools import pairwise
from unittest.mock import patch

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from flight_moments import plain
from goodflight.physics.flight import NOTHING_OPENS, OUTCOME_INDEX, Launch, fly_ensemble
from goodflight.physics.flight.fall import MeanWind, Start, nose_first_impact
from goodflight.physics.flight.registry import NOTHING_OPEN
from goodflight.studies.case.planned import Case
from goodflight.studies.rows.model import View
from goodflight.studies.rows.reach import impact_of
from goodflight.studies.sampling.trials import nominal
from sample_case import sample_case


def one(value: float) -> np.ndarray:
    return np.array([value])


def test_fall_from_rest_with_drag() -> None:
    """v^2 = vt^2 (1 - exp(-2 g h / vt^2)), vt^2 = 2 m g / (rho A Cd), derived; from 100 m the air
    changes by 1 %, so 0.5 %."""
    start = Start(one(100.0), one(0.0), one(0.0), one(0.0), one(0.0))
    found = nose_first_impact(
        start,
        MeanWind(one(0.0), one(0.0), one(2.0), one(0.16)),
        drag_area_m2=one(0.01),
        mass_kg=one(1.0),
        ground_temperature_k=one(288.15),
        ground_pressure_pa=one(101325.0),
        gravity_m_s2=9.80665,
    )
    vt2 = 2.0 * 9.80665 / (1.225 * 0.01)
    expected = np.sqrt(vt2 * (1.0 - np.exp(-2.0 * 9.80665 * 100.0 / vt2)))
    assert float(found.speed_m_s[0]) == pytest.approx(expected, rel=5e-3)
    assert (float(found.east_m[0]), float(found.north_m[0])) == (0.0, 0.0)


def test_no_apogee_no_impact() -> None:
    start = Start(one(np.nan), one(0.0), one(0.0), one(0.0), one(0.0))
    found = nose_first_impact(
        start,
        MeanWind(one(0.0), one(0.0), one(2.0), one(0.16)),
        drag_area_m2=one(0.01),
        mass_kg=one(1.0),
        ground_temperature_k=one(288.15),
        ground_pressure_pa=one(101325.0),
        gravity_m_s2=9.80665,
    )
    assert np.isnan(found.speed_m_s).all()


def row(
    height_m: float,
    east_m_s: float,
    north_m_s: float,
    *,
    wind_m_s: float = 0.0,
    from_deg: float = 270.0,
    area_m2_kg: float = 0.0,
    thins_per_m: float = 0.0,
) -> np.ndarray:
    """One flight as the fall reads it: wind at 2 m to the power 0.16, 1.2 kg/m3 at the ground."""
    toward = math.radians(from_deg + 180.0)
    air = (wind_m_s, math.sin(toward), math.cos(toward), 2.0, 0.16, area_m2_kg, 1.2, thins_per_m)
    return np.array([height_m, 0.0, 0.0, east_m_s, north_m_s, *air])


def fallen(one_row: np.ndarray, gravity: float) -> list[float]:
    out = np.zeros(3)
    plain.fall._fall_one(one_row, gravity, out)
    return [float(each) for each in out]


def test_a_fall_ends_in_the_part_of_a_step_that_is_left() -> None:
    """Without air from 0.25 m at 10 m/s2: 0.05 m are left after two steps, at 2 m/s. The next would
    end at 3 m/s and 0.2 m below the ground: a fifth of it is taken, 0.22 s in all and 2.2 m/s
    (0.224 s and 2.24 m/s without steps). From 0.2 m two steps end on the ground."""
    assert fallen(row(0.25, 3.0, 4.0), 10.0) == pytest.approx([0.66, 0.88, math.sqrt(29.84)])
    assert fallen(row(0.2, 3.0, 4.0), 10.0) == pytest.approx([0.6, 0.8, math.sqrt(29.0)])
    aside = row(0.2, 3.0, 4.0)
    aside[1:3] = 5.0, -7.0
    assert fallen(aside, 10.0) == pytest.approx([5.6, -6.2, math.sqrt(29.0)])


@pytest.mark.parametrize("from_deg", [0.0, 30.0, 135.0, 270.0])
def test_the_air_takes_what_moves_through_it(from_deg: float) -> None:
    """1.2 / 2 x 0.01 x v v per kg at 2 m, where the wind of 6 m/s is its own; none on the ground,
    nor below it, where half a step may look."""
    given = row(100.0, 0.0, 0.0, wind_m_s=6.0, from_deg=from_deg, area_m2_kg=0.01)
    ground = np.array([9.0, -2.0, -40.0])
    toward = math.radians(from_deg + 180.0)
    wind = 6.0 * np.array([math.sin(toward), math.cos(toward), 0.0])
    for height, blows in ((2.0, 1.0), (0.0, 0.0), (-3.0, 0.0)):
        through = ground - blows * wind
        drag = -0.5 * 1.2 * 0.01 * math.hypot(*through) * through
        found = plain.fall._pull(given, 10.0, height, *ground)
        assert found == pytest.approx(drag - np.array([0.0, 0.0, 10.0]))


def test_twice_as_fine_steps_are_four_times_as_near() -> None:
    """A midpoint rule is of second order; after 2 s against an integrator of our own choice.

    A fast fall through air that thins by a third in 40 m and a wind that changes with height.
    """
    given = row(90.0, 20.0, -12.0, wind_m_s=9.0, from_deg=200.0, area_m2_kg=0.05, thins_per_m=-0.01)
    toward = math.radians(20.0)

    def moves(_: float, state: np.ndarray) -> list[float]:
        blows = 9.0 * (state[2] / 2.0) ** 0.16
        through = state[3:] - blows * np.array([math.sin(toward), math.cos(toward), 0.0])
        drag = -0.5 * 1.2 * math.exp(-0.01 * state[2]) * 0.05 * math.hypot(*through) * through
        return [*state[3:], *(drag - np.array([0.0, 0.0, 9.8]))]

    start = [0.0, 0.0, 90.0, 20.0, -12.0, 0.0]
    end = solve_ivp(moves, (0.0, 2.0), start, method="DOP853", rtol=1e-12, atol=1e-12).y[:, -1]
    known = np.array([end[0], end[1], math.hypot(*end[3:])])
    misses = []
    for steps in (20, 40, 80):
        with patch.multiple(plain.fall, STEP_S=2.0 / steps, MOST_STEPS=steps):
            misses.append(np.abs(np.array(fallen(given, 9.8)) - known))
    for coarse, fine in pairwise(misses):
        assert coarse / fine == pytest.approx(4.0, rel=0.15)


def falling(case: Case) -> Launch:
    """Nothing opens, in the mean wind only."""
    return Launch(case.motor, case.tables, NOTHING_OPENS, turbulence=False)


@pytest.mark.parametrize("wind", [0.0, 1.0, 6.0])
def test_row_and_kernel_fall_alike(wind: float) -> None:
    """The kernel's own fall in the same mean wind: 1 % of speed, 1 % of the height in place."""
    case = sample_case(wind)
    trials = nominal(case)
    seeds = np.ones(1, dtype=np.uint64)
    flown = fly_ensemble(falling(case), trials.parameters, seeds)
    out = {name: float(flown[0, i]) for name, i in OUTCOME_INDEX.items()}
    assert out["status"] == NOTHING_OPEN
    found = impact_of(View(case, trials, flown))
    assert float(found.speed_m_s[0]) == pytest.approx(out["landing_m_s"], rel=0.01)
    place = (float(found.east_m[0]), float(found.north_m[0]))
    within = 0.01 * out["apogee_m"]
    assert place == pytest.approx((out["landing_east_m"], out["landing_north_m"]), abs=within)


def test_unopened_rocket_falls_as_hard_in_still_air_as_in_wind() -> None:
    """Nose first whatever the wind: by hand some 80 m/s for such a rocket; a glide
    tail first came down at 28 m/s."""
    speeds = []
    for wind in (0.0, 1.0, 6.0):
        case = sample_case(wind)
        seeds = np.ones(1, dtype=np.uint64)
        flown = fly_ensemble(falling(case), nominal(case).parameters, seeds)
        speeds.append(float(flown[0, OUTCOME_INDEX["landing_m_s"]]))
    assert min(speeds) > 70.0
    assert max(speeds) / min(speeds) < 1.1
