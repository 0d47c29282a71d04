"""A rocket of which nothing opens: nose first, by closed form and against the flight kernel."""

import numpy as np
import pytest

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
