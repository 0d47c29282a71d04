"""Spin: roll goes with mean cant, and what the flight does near its pitch frequency.

Resonance of a trim angle, 1 / sqrt((1 - r^2)^2 + (2 z r)^2) with r roll rate over pitch frequency
(Murphy; Nicolaides; Vaughn: memory), is the check of what the kernel flies.
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.aero.geometry import rocket_shape
from goodflight.physics.aero.share import drag_share_ahead
from goodflight.physics.aero.spin import DOUBLED
from goodflight.physics.flight import PARAMETER_INDEX, Recorded, fly_history
from goodflight.studies.case.planned import Case
from goodflight.studies.rows.spin import cant_limit, cost_of, ratio_of
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.trials import nominal
from sample_case import sample_case, within

CANT = math.radians(0.3)


def case() -> Case:
    return within(sample_case(0.0), "rail", tilt_rad=0.0)


def flown(cant_rad: float, crooked_rad: float = 0.0) -> Recorded:
    """The nominal flight in still air; one fin crooked by itself pushes the tail aside."""
    row = nominal(case()).parameters[0].copy()
    row[PARAMETER_INDEX["cant_roll_rad"]] = cant_rad
    row[PARAMETER_INDEX["cant_y_rad"]] = crooked_rad
    return fly_history(replace(case().launch, turbulence=False), row)


def test_roll_and_ratio_go_with_the_cant() -> None:
    one, two = (flown(c).outcomes["max_spin_ratio"] for c in (CANT, 2.0 * CANT))
    assert two / one == pytest.approx(2.0, rel=0.02)
    assert flown(0.0).outcomes["max_spin_ratio"] < 1e-9


def test_the_ratio_is_that_of_the_history() -> None:
    found = flown(CANT)
    history = found.history
    felt = history["pressure_pa"] > 0.1 * history["pressure_pa"].max()
    free = (history["phase"] == 2.0) & felt & (history["time_s"] < found.outcomes["apogee_s"])
    ratio = np.abs(history["roll_rate_rad_s"]) / np.sqrt(history["pitch_rate2_rad2_s2"])
    assert ratio[free].max() == pytest.approx(found.outcomes["max_spin_ratio"], rel=0.02)


def coast_angle_deg(cant_rad: float) -> tuple[float, float]:
    """Mean angle of attack in the middle of the coast, and the roll ratio there."""
    history = flown(cant_rad, 2e-3).history
    now = (history["time_s"] > 3.5) & (history["time_s"] < 5.0)
    angle = np.sqrt(history["sin2_incidence"][now]).mean()
    ratio = np.abs(history["roll_rate_rad_s"]) / np.sqrt(history["pitch_rate2_rad2_s2"])
    return float(np.degrees(angle)), float(ratio[now].mean())


@pytest.mark.parametrize("wanted", [0.4, 0.6])
def test_trim_angle_grows_as_the_published_resonance(wanted: float) -> None:
    """Undamped below 0.7: 1 / (1 - r^2), within 15 % (the coast slows, the angle lags)."""
    still, _ = coast_angle_deg(0.0)
    _, per = coast_angle_deg(CANT)
    angle, ratio = coast_angle_deg(CANT * wanted / per)
    assert angle / still == pytest.approx(1.0 / (1.0 - ratio**2), rel=0.15)


def test_the_limit_is_the_cant_at_which_the_incidence_is_doubled() -> None:
    limit = cant_limit(fly_trials(case(), 100, 1))
    assert limit is not None
    found = flown(limit.angle_rad).outcomes["max_spin_ratio"]
    assert found == pytest.approx(DOUBLED, rel=0.1)
    assert limit.tip_m == pytest.approx(0.13 * math.sin(limit.angle_rad))  # 130 mm, drawing


def test_spin_below_half_the_pitch_frequency_is_no_spin() -> None:
    view = fly_trials(case(), 100, 1)
    slow = ratio_of(view) < 0.5
    assert slow.any()
    assert (view.outcome("spin_incidence_rad")[slow] == 0.0).all()


def test_what_crooked_fins_cost_is_flown() -> None:
    """Straight fins cost nothing; fins a few degrees off cost height and side load."""
    view = fly_trials(within(case(), "uncertainty", cant_sigma_rad=0.05), 40, 1)
    crooked = cost_of(view)
    assert crooked.side_load_n > 1.0
    assert crooked.height_m > 1.0
    for name in ("cant_roll_rad", "cant_y_rad", "cant_z_rad"):
        view.trials.parameters[:, PARAMETER_INDEX[name]] = 0.0
    straight = cost_of(view)
    assert straight.side_load_n == straight.height_m == straight.incidence_rad == 0.0


def test_drag_ahead_grows_with_the_station_and_stays_a_share() -> None:
    shape = rocket_shape(case().rocket)
    shares = [drag_share_ahead(shape, station) for station in (0.25, 0.46, 0.8, 1.0)]
    assert shares == sorted(shares)
    assert 0.0 < shares[0] < shares[-1] < 1.0
