"""The whole height curve of a log is fitted: points, what is no flight, the truth found again."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.recorded import Array, Happened, Measured, Recorded
from goodflight.physics.recorded_curve import HeightCurve, curve_of
from goodflight.physics.recorded_events import events_of
from goodflight.studies.debriefing.fit import Fit, fit
from goodflight.studies.debriefing.predicted import heights_at
from goodflight.studies.sampling.trials import Trials
from made_logs import CHARGE_S, LIFT_S, height_m, made
from synthetic_flights import CASE, EARLY_APOGEE, LATE_GRAIN, TOLD, holds
from synthetic_logs import fitted, logged

FLIGHTS = 10


@pytest.fixture(scope="module")
def many() -> list[tuple[Fit, Trials]]:
    return [(fitted(recorded), truth) for recorded, truth in map(logged, range(FLIGHTS))]


def recorded_with(
    change: Callable[[Array, Array], Array] | None = None,
) -> tuple[Recorded, HeightCurve]:
    m = made(0.05, noise_m=0.3)
    height = m["height"].copy()
    if change is not None:
        height = change(m["time"] - LIFT_S, height)
    recorded = Recorded(m["time"], standard_height_m=height, axial_mps2=m["axial"])
    events = events_of(recorded)
    assert events is not None
    curve = curve_of(recorded, events)
    assert curve is not None
    return recorded, curve


def test_points_are_the_flight_in_closed_form() -> None:
    """Derived: rest, constant thrust, free flight, two rates down; lift-off within 0.1 s."""
    _, curve = recorded_with()
    off = curve.height_m - height_m(curve.time_s)
    rate = (height_m(curve.time_s + 0.01) - height_m(curve.time_s - 0.01)) / 0.02
    assert (np.abs(off) < 1.0 + 0.1 * np.abs(rate)).all() and len(curve.time_s) > 40


def test_spikes_gaps_and_the_charge_move_no_point() -> None:
    _, plain = recorded_with()

    def spoilt(at: Array, height: Array) -> Array:
        random = np.random.default_rng(3)
        height = np.where(random.random(at.size) < 0.02, height + 250.0, height)
        height = np.where((at > CHARGE_S) & (at < CHARGE_S + 0.5), height - 120.0, height)
        return np.where((at > 30.0) & (at < 34.0), np.nan, height)

    _, curve = recorded_with(spoilt)
    moved = curve.height_m - np.interp(curve.time_s, plain.time_s, plain.height_m)
    same = np.isin(curve.time_s.round(3), plain.time_s.round(3))
    assert same.sum() > 25 and np.abs(moved[same]).max() < 1.0
    assert not ((curve.time_s > 30.0) & (curve.time_s < 34.0)).any()
    assert not (np.abs(curve.time_s - CHARGE_S - 0.5) < 0.5).any()


def test_one_wrong_reading_is_no_charge() -> None:
    def spoilt(at: Array, height: Array) -> Array:
        height = height.copy()
        height[np.searchsorted(at, CHARGE_S - 1.5)] += 150.0
        lasting = (at > CHARGE_S) & (at < CHARGE_S + 0.4)
        return np.where(lasting, height - 100.0, height)

    _, curve = recorded_with(spoilt)
    assert curve.events.charge_s is not None
    assert curve.events.charge_s.value == pytest.approx(CHARGE_S, abs=0.1)


def test_a_height_between_moments_is_exact_for_a_parabola() -> None:
    """A cubic through heights and speeds holds a parabola; past the end it goes on straight."""
    time = np.array([0.0, 0.7, 1.1, 2.0])
    history = {
        "time_s": time,
        "up_m": 30.0 * time - 4.9 * time**2,
        "velocity_up_m_s": 30.0 - 9.8 * time,
    }
    at = np.array([0.1, 0.9, 1.7, 2.0])
    assert heights_at(history, at) == pytest.approx(30.0 * at - 4.9 * at**2)
    assert heights_at(history, np.array([3.0]))[0] == pytest.approx(40.4 + 10.4)


@pytest.mark.parametrize("key", TOLD)
def test_intervals_hold_nine_in_ten(many: list[tuple[Fit, Trials]], key: str) -> None:
    """Of 10, 9 +- 0.95 are inside: 6 is 3 deviations of the binomial below; 300 by hand."""
    assert sum(holds(found, truth, key) for found, truth in many) >= 6


def test_a_curve_says_more_of_the_drag_than_events(many: list[tuple[Fit, Trials]]) -> None:
    for number, (found, _) in enumerate(many[:3]):
        events = events_of(logged(number)[0])
        assert events is not None and found.curve is not None
        alone = fit(CASE, events.happened).of("axial_factor").after.error
        assert found.of("axial_factor").after.error < 0.6 * alone
        assert len(found.curve.fitted_m) == len(found.curve.times_s) > 30


@pytest.mark.parametrize(
    ("number", "forced", "verdict"),
    [
        (8, EARLY_APOGEE, "apogee"),
        (0, EARLY_APOGEE, "apogee"),
        (9, LATE_GRAIN, "grain"),
        (0, LATE_GRAIN, "grain"),
    ],
)
def test_late_grain_and_early_apogee_are_told_apart(
    number: int, forced: dict[str, float], verdict: str
) -> None:
    """The log that comes first of each pair shows no charge: its fall does. 100 each by hand."""
    recorded, _ = logged(number, **forced)
    events = events_of(recorded)
    assert events is not None and (events.happened.charge_s is None) == (number > 0)
    assert fitted(recorded).why.verdict == verdict


def test_points_round_a_charge_seen_from_the_ground_are_left_out() -> None:
    """As those round a charge the log shows: 0.4 s before to 1.6 s after it, and its error more."""
    recorded, _ = recorded_with()
    events = events_of(recorded)
    assert events is not None
    blind = replace(events, happened=replace(events.happened, charge_s=None))

    def left(told: Measured | None) -> int:
        curve = curve_of(recorded, blind, told)
        assert curve is not None
        near = (curve.time_s > CHARGE_S - 0.9) & (curve.time_s < CHARGE_S + 2.1)
        return int(near.sum())

    assert left(None) > 3 and left(Measured(CHARGE_S, 0.5)) == 0


def test_a_log_that_ends_at_the_apogee_tells_nothing_of_the_charge() -> None:
    recorded, _ = logged(0, **EARLY_APOGEE)
    events = events_of(recorded)
    assert events is not None and events.happened.apogee_s is not None
    happened, whole = events.happened, curve_of(recorded, events)
    assert whole is not None
    up = whole.time_s < happened.apogee_s.value
    curve = replace(
        whole, time_s=whole.time_s[up], height_m=whole.height_m[up], error_m=whole.error_m[up]
    )
    seen = Happened(apogee_s=happened.apogee_s, apogee_standard_m=happened.apogee_standard_m)
    assert fit(CASE, seen, curve).why.verdict == "cannot be decided"


def test_a_charge_that_contradicts_the_curve_weighs_little() -> None:
    recorded, truth = logged(2)
    events = events_of(recorded)
    assert events is not None and events.happened.charge_s is not None
    right = events.happened.charge_s
    wrong = replace(events.happened, charge_s=Measured(right.value + 1.5, right.error))
    events = replace(events, happened=wrong)
    found = fit(CASE, wrong, curve_of(recorded, events)).of("delay_s").after
    assert abs(found.value - truth.parameter("delay_s")[0]) < 0.5
