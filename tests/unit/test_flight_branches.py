"""Flights that differ from ejection on alone share one way up; each is its own flight."""

from typing import Any

import numpy as np
import pytest

from goodflight.physics.flight import Launch, fly_ensemble
from goodflight.physics.flight.loop import ROOM, fly_all
from goodflight.physics.flight.registry import (
    AFTER_ASCENT,
    BY_ALTIMETER,
    BY_DELAY,
    NEVER_LEFT,
    NOTHING_OPEN,
    NOTHING_OPENS,
    OUTCOME_INDEX,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.sample import sample_flight

SEEDS = np.array([3, 5], dtype=np.uint64)
STATUS = OUTCOME_INDEX["status"]
# what another flight's way down under the same canopies may change: 10 ms is what a flight's times
# are promised to, 0.06 m its way down at 6 m/s meanwhile, and a tenth of that speed is never seen
ON_THE_GROUND = {
    "landing_s": 0.01, "landing_east_m": 0.06, "landing_north_m": 0.06,
    "landing_m_s": 0.06, "descent_m_s": 0.06, "steps": 20_000.0,
}  # fmt: skip
# delays [s]: at burnout, either side of apogee, and long after the ground
MOMENTS = (0.0, 5.0, 9.0, 300.0)


def ways_up() -> np.ndarray:
    """Two flights, of which the second never leaves the rail."""
    row = sample_flight()[0]
    stays = row.copy()
    stays[PARAMETER_INDEX["thrust_factor"]] = 0.01
    return np.array([row, stays])


def with_other_descents(rows: np.ndarray) -> np.ndarray:
    """Each way up as it is, with every figure of the descent another one, and ejecting anew."""
    found = [rows]
    for name in AFTER_ASCENT:
        other = rows.copy()
        other[:, PARAMETER_INDEX[name]] = 1.3 * other[:, PARAMETER_INDEX[name]] + 0.7
        found.append(other)
    for moment in MOMENTS:
        other = rows.copy()
        other[:, PARAMETER_INDEX["delay_s"]] = moment
        other[:, PARAMETER_INDEX["apogee_lag_s"]] = 0.3 * moment
        found.append(other)
    return np.concatenate(found)


@pytest.mark.parametrize("deployment", [BY_DELAY, BY_ALTIMETER, NOTHING_OPENS])
def test_flights_on_one_way_up_are_those_flown_one_by_one(deployment: int) -> None:
    _, motor, tables = sample_flight()
    rows = with_other_descents(ways_up())
    seeds = np.tile(SEEDS, len(rows) // 2)
    launch = Launch(motor, tables, deployment, node_spacing_m4=0.05)
    together = fly_ensemble(launch, rows, seeds)
    alone = [fly_ensemble(launch, rows[i : i + 1], seeds[i : i + 1]) for i in range(len(rows))]
    expected = np.concatenate(alone)
    until = [i for name, i in OUTCOME_INDEX.items() if name not in ON_THE_GROUND]
    assert together[:, until].tobytes() == expected[:, until].tobytes()
    for name, most in ON_THE_GROUND.items():
        column = OUTCOME_INDEX[name]
        np.testing.assert_allclose(together[:, column], expected[:, column], rtol=0.0, atol=most)
    assert {NEVER_LEFT, NOTHING_OPEN} <= set(together[:, STATUS])
    if deployment == BY_DELAY:
        assert len(np.unique(together[::2, OUTCOME_INDEX["landing_s"]])) > 10


@pytest.mark.parametrize("deployment", [BY_DELAY, BY_ALTIMETER, NOTHING_OPENS])
def test_who_flies_beside_whom_changes_no_figure(deployment: int) -> None:
    """More flights than fly at a time, of all lengths; all together, some, each alone."""
    row, motor, tables = sample_flight()
    rows = np.tile(row, (ROOM + 5, 1))
    rows[:, PARAMETER_INDEX["thrust_factor"]] = np.linspace(0.3, 1.2, len(rows))
    rows[:, PARAMETER_INDEX["delay_s"]] = np.linspace(0.0, 20.0, len(rows))[::-1]
    seeds = np.arange(len(rows), dtype=np.uint64)
    launch = Launch(motor, tables, deployment, node_spacing_m4=0.05)
    together = fly_ensemble(launch, rows, seeds)
    some = np.array([30, 2, 17])
    assert fly_ensemble(launch, rows[some], seeds[some]).tobytes() == together[some].tobytes()
    for i in (0, 11, len(rows) - 1):
        alone = fly_ensemble(launch, rows[i : i + 1], seeds[i : i + 1])
        assert alone.tobytes() == together[i : i + 1].tobytes()


def test_flights_part_on_the_rail_and_beside_many_that_are_alone() -> None:
    """A motor that has burnt out long before a rail of 60 m ends; the last two of many share."""
    row, motor, tables = sample_flight()
    rows = np.tile(row, (ROOM - 2, 1))
    rows[:, PARAMETER_INDEX["rail_length_m"]] = 60.0
    rows[:, PARAMETER_INDEX["burn_time_factor"]] = 0.1
    rows[:, PARAMETER_INDEX["delay_s"]] = 0.01
    rows[-1, PARAMETER_INDEX["delay_s"]] = 0.02
    seeds = np.minimum(np.arange(len(rows)), len(rows) - 2).astype(np.uint64)
    launch = Launch(motor, tables, node_spacing_m4=0.05)
    together = fly_ensemble(launch, rows, seeds)
    assert np.isnan(together[:, OUTCOME_INDEX["rail_exit_s"]]).all()
    until = [i for name, i in OUTCOME_INDEX.items() if name not in ON_THE_GROUND]
    for i in (3, len(rows) - 2, len(rows) - 1):
        alone = fly_ensemble(launch, rows[i : i + 1], seeds[i : i + 1])
        assert together[i, until].tobytes() == alone[0, until].tobytes()


def test_flights_under_the_same_canopies_go_down_one_way() -> None:
    row, motor, tables = sample_flight()
    rows, delay = np.tile(row, (4, 1)), PARAMETER_INDEX["delay_s"]
    rows[:, delay] += [0.0, 1.0, 2.0, 1.5]
    rows[3, PARAMETER_INDEX["canopy_area_m2"]] *= 1.01
    seeds = np.full(4, 3, dtype=np.uint64)
    steps = fly_ensemble(Launch(motor, tables), rows, seeds)[:, OUTCOME_INDEX["steps"]]
    assert (steps[1:3] < 0.7 * steps[0]).all()
    assert steps[3] > 0.9 * steps[0]  # another canopy: a way of its own


def test_only_flights_with_the_same_way_up_and_gusts_share_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    _, motor, tables = sample_flight()
    launch, rows = Launch(motor, tables), with_other_descents(ways_up())
    ascents = list[int]()

    def counting(*given: Any) -> np.ndarray:
        starts = given[3]
        ascents.append(len(starts) - 1)
        found: np.ndarray = fly_all(*given)
        return found

    monkeypatch.setattr("goodflight.physics.flight.ensemble.fly_all", counting)
    fly_ensemble(launch, rows, np.tile(SEEDS, len(rows) // 2))
    fly_ensemble(launch, rows, np.arange(len(rows), dtype=np.uint64))
    rows[4, PARAMETER_INDEX["wind_m_s"]] += 1.0
    fly_ensemble(launch, rows, np.tile(SEEDS, len(rows) // 2))
    assert ascents == [2, len(rows), 3]
