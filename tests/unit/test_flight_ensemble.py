"""The door to the flights: how far up their air reaches, what is refused, a flight's history."""

import numpy as np
import pytest

from flight_moments import RAMP
from goodflight.physics.flight import (
    OUTCOME_INDEX,
    PARAMETER_INDEX,
    Launch,
    column_spacing,
    fly_ensemble,
    fly_history,
)
from goodflight.physics.flight.record import NODES
from goodflight.physics.flight.sample import sample_flight


def rows_of(**changes: tuple[float, ...]) -> np.ndarray:
    """Flights of the invented rocket that differ in what is given for each."""
    count = len(next(iter(changes.values())))
    rows = np.tile(sample_flight()[0], (count, 1))
    for name, values in changes.items():
        rows[:, PARAMETER_INDEX[name]] = values
    return rows


def reach_m(rows: np.ndarray) -> float:
    """Height of the last of the nodes, which stand evenly in the fourth root of it."""
    return float((column_spacing(rows, RAMP) * (NODES - 1)) ** 4)


def test_air_reaches_above_any_flight_of_a_study() -> None:
    """15 N s and a half more on 0.03 kg, without air and weight 750 m/s: v^2 / 2 g = 28 125 m and
    a pad on a hill of 3000 m; another flight is lower. A rail is less than 100 m."""
    rows = rows_of(
        dry_mass_kg=(0.5, 0.03, 0.03),
        thrust_factor=(1.0, 1.5, 1.0),
        gravity_m_s2=(10.0, 10.0, 10.0),
        rail_base_m=(3000.0, 0.0, 1.0),
    )
    assert 31_125.0 < reach_m(rows) < 31_225.0
    assert reach_m(rows[:1]) >= 3045.0


def test_air_of_flights_that_nearly_agree_has_the_same_nodes() -> None:
    """15 N s on 0.15 kg, 100 m/s: some 500 m; or a tenth more. It reaches no more than twice as far
    as what flies lowest of those that share it needs, from 950 m on, with a rail's 50 m."""
    light, heavy = (rows_of(dry_mass_kg=(mass,), gravity_m_s2=(10.0,)) for mass in (0.143, 0.15))
    assert column_spacing(light, RAMP) == column_spacing(heavy, RAMP)
    for speed in np.arange(138.0, 560.0, 0.5):
        rows = rows_of(dry_mass_kg=(15.0 / speed,), gravity_m_s2=(10.0,), rail_base_m=(0.0,))
        height = speed**2 / 20.0
        assert height < reach_m(rows) < 2.0 * height + 100.0


def test_what_cannot_be_flown_is_refused_by_name() -> None:
    row, motor, tables = sample_flight()
    launch, seeds = Launch(motor, tables), np.array([1, 2], dtype=np.uint64)
    rows = np.tile(row, (2, 1))
    with pytest.raises(ValueError, match=r"seeds must be \(2,\), found \(1,\)"):
        fly_ensemble(launch, rows, seeds[:1])
    with pytest.raises(ValueError, match=r"parameters must be \(n, \d+\), found \(2, 3\)"):
        fly_ensemble(launch, rows[:, :3], seeds)
    rows[1, PARAMETER_INDEX["wind_m_s"]] = np.inf
    rows[0, PARAMETER_INDEX["delay_s"]] = np.nan
    with pytest.raises(ValueError, match=r"other values in \['delay_s', 'wind_m_s'\]"):
        fly_ensemble(launch, rows, seeds)


def test_a_history_tells_of_the_flight_that_its_outcomes_are_of() -> None:
    """Every fifth of a second; heights no higher than its apogee and as high within what a fall
    from it takes in a tenth of a second (5 cm), phases in their order. Without room it ends."""
    row, motor, tables = sample_flight()
    launch = Launch(motor, tables)
    told = fly_history(launch, row, seed=3, every_s=0.2)
    alone = fly_ensemble(launch, row[None, :], np.array([3], dtype=np.uint64))[0]
    assert [told.outcomes[name] for name in OUTCOME_INDEX] == pytest.approx(
        alone.tolist(), nan_ok=True
    )
    times, phases = told.history["time_s"], told.history["phase"]
    assert np.diff(times) == pytest.approx(0.2)
    assert (np.diff(phases) >= 0.0).all() and set(phases) <= {0.0, 1.0, 2.0, 3.0}
    apogee = told.outcomes["apogee_m"]
    assert apogee - 0.05 < told.history["up_m"].max() <= apogee + 1e-6
    assert times[told.history["up_m"].argmax()] == pytest.approx(
        told.outcomes["apogee_s"], abs=0.101
    )
    short = fly_history(launch, row, seed=3, every_s=0.2, room=7).history
    assert short["time_s"].tolist() == times[:7].tolist()
    default = fly_history(launch, row).history["time_s"]
    assert len(default) < 20_000 and np.diff(default) == pytest.approx(0.05)
    finer = fly_history(launch, row, seed=3, every_s=0.05).history
    assert finer["up_m"][3::4].tolist() == told.history["up_m"].tolist()  # both begin one in
