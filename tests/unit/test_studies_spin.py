"""Spin: roll goes with mean cant, the limit is where the row fails, the coast's growth is as used.

The independent side is the kernel's own history of one flight; the ratios asserted are bounds.
"""

import math

import numpy as np
import pytest

from goodflight.physics.aero.geometry import rocket_shape
from goodflight.physics.aero.share import drag_share_ahead
from goodflight.physics.aero.spin import COAST, DOUBLED
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.spin_history import spin_history
from goodflight.studies.rows.spin import cant_limit, ratio_of
from goodflight.studies.sampling.flights import fly_trials
from sample_case import sample_case, within

CANT = math.radians(0.3)


def case() -> Case:
    return within(sample_case(0.0), "rail", tilt_rad=0.0)


def test_the_ratio_grows_little_through_the_coast() -> None:
    found = spin_history(case(), CANT)
    assert found.greatest / found.at_burnout == pytest.approx(COAST, abs=0.07)


def test_roll_and_ratio_go_with_the_cant() -> None:
    one, two = spin_history(case(), CANT), spin_history(case(), 2.0 * CANT)
    assert two.greatest / one.greatest == pytest.approx(2.0, rel=0.02)
    assert np.abs(spin_history(case(), 0.0).roll_rad_s).max() < 1e-6


def test_the_row_agrees_with_the_history() -> None:
    """Trials differ from the nominal flight in mass, impulse and slopes: 10 %."""
    view = fly_trials(case(), 100, 1)
    per_cant = np.median(ratio_of(view) / np.abs(view.parameter("cant_roll_rad")))
    assert per_cant == pytest.approx(spin_history(case(), CANT).greatest / CANT, rel=0.1)


def test_the_limit_is_the_cant_at_which_the_incidence_is_doubled() -> None:
    view = fly_trials(case(), 100, 1)
    limit = cant_limit(view)
    assert limit is not None
    assert spin_history(case(), limit.angle_rad).greatest == pytest.approx(DOUBLED, rel=0.1)
    doubled = 1.0 / (1.0 - DOUBLED**2)
    assert doubled == pytest.approx(2.0)
    assert limit.tip_m == pytest.approx(0.13 * math.sin(limit.angle_rad))  # 130 mm, drawing


def test_drag_ahead_grows_with_the_station_and_stays_a_share() -> None:
    shape = rocket_shape(case().rocket)
    shares = [drag_share_ahead(shape, station) for station in (0.25, 0.46, 0.8, 1.0)]
    assert shares == sorted(shares)
    assert 0.0 < shares[0] < shares[-1] < 1.0
