"""Many flights side by side in plain Python, each against the same flight stepped by itself.

By itself: one record, one step after the other, nothing of how they share room, ways and blocks.
The flights are short and coarse, as only who is flown when is looked at.
"""

from collections.abc import Callable, Sequence
from unittest.mock import patch

import numpy as np
import pytest

from flight_moments import plain
from goodflight.physics.flight import Launch
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.record import FREE, OVER, blank_record
from goodflight.physics.flight.registry import (
    BY_ALTIMETER,
    BY_DELAY,
    NEVER_LEFT,
    OUTCOME_INDEX,
    OUTCOMES,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.sample import sample_flight

ROW, MOTOR, TABLES = sample_flight()
SPACING = 2000.0**0.25 / 127.0
BLANK = blank_record(burn_curve(MOTOR), TABLES.mach_table, TABLES.scalars, SPACING)
COARSE = 1e-2
NO_HISTORY = np.empty((1, 0, plain.history.HISTORY_COLUMNS))
# what the way down of another flight under the same canopies may change, at this error of a step
LANDS: dict[str, float] = {
    "landing_s": 0.5, "landing_east_m": 3.0, "landing_north_m": 3.0,
    "landing_m_s": 0.5, "descent_m_s": 0.5, "steps": 1000.0,
}  # fmt: skip
SKY = [i for name, i in OUTCOME_INDEX.items() if name not in LANDS]


def rows(count: int, **changes: Sequence[float] | float) -> np.ndarray:
    """Flights of the invented rocket on a third of its thrust, but for changes."""
    found = np.tile(ROW, (count, 1))
    found[:, PARAMETER_INDEX["thrust_factor"]] = 0.3
    for name, values in changes.items():
        found[:, PARAMETER_INDEX[name]] = values
    return found


def how(deployment: int = BY_DELAY, turbulent: float = 1.0) -> np.ndarray:
    return np.array([deployment, 0.0, COARSE, turbulent])


@np.errstate(all="ignore")
def alone(
    p: np.ndarray, seed: int, asked: np.ndarray, history: np.ndarray = NO_HISTORY
) -> np.ndarray:
    """One flight in its record, a step after the other."""
    w, out = np.empty(len(BLANK)), np.empty(len(OUTCOMES))
    plain.record.fill_record(w, p, BLANK)
    air = plain.column.ladder(SPACING)
    plain.column.fill_column(w, air, np.uint64(seed), asked[3] != 0.0)
    for place in (
        plain.record.PLACE,
        plain.record.TRACK,
        plain.record.BRANCHES,
        plain.record.LINES,
        OVER,
    ):
        w[place] = 0.0
    w[OVER] = 0.0 if plain.pad.start_flight(int(asked[0]), w, out) else 1.0
    while plain.kernel.set_step(w, out):
        plain.stepper.try_step(w)
        plain.kernel.use_step(w, out, history, asked, w, -1)
    plain.kernel.end_flight(w, out)
    return out


@np.errstate(all="ignore")  # lanes that nobody flies in
def together(
    parameters: np.ndarray,
    seeds: Sequence[int],
    starts: Sequence[int],
    asked: np.ndarray,
    room: int = 32,
) -> np.ndarray:
    out = np.full((len(parameters), len(OUTCOMES)), 7.0)
    each = np.array(seeds, dtype=np.uint64)
    with patch.object(plain.loop, "ROOM", room):
        plain.loop.fly_runs(parameters, BLANK, each, np.array(starts), out, NO_HISTORY, asked)
    return out


def same(found: np.ndarray, expected: np.ndarray, whole: bool) -> None:
    """To the last bit in the sky; on the ground where nobody went down another's way."""
    np.testing.assert_array_equal(found[SKY], expected[SKY])
    for name, most in LANDS.items():
        i = OUTCOME_INDEX[name]
        np.testing.assert_allclose(found[i], expected[i], rtol=0.0, atol=0.0 if whole else most)


@pytest.mark.parametrize("room, count", [(3, 6), (32, 9)])
def test_more_flights_than_stand_side_by_side(room: int, count: int) -> None:
    """Of all lengths, in room for 3 and for all; one never leaves, one ejects on the rail."""
    thrust = [0.3, 0.4, 0.3, 0.35, 0.01, 0.5, 0.32, 0.4, 0.3]
    delays = [4.0, 1.0, 20.0, 3.0, 2.0, 0.01, 2.0, 2.0, 3.0]
    parameters = rows(9, thrust_factor=thrust, delay_s=delays)[-count:]
    parameters[-4, PARAMETER_INDEX["rail_length_m"]] = 60.0
    parameters[-4, PARAMETER_INDEX["burn_time_factor"]] = 0.1
    found = together(parameters, range(count), range(count + 1), how(), room)
    for i, outcomes in enumerate(found):
        same(outcomes, alone(parameters[i], i, how()), whole=True)
    assert NEVER_LEFT in found[:, OUTCOME_INDEX["status"]]
    assert np.isnan(found[-4, OUTCOME_INDEX["rail_exit_s"]])


@pytest.mark.parametrize(
    "deployment, moment", [(BY_DELAY, "delay_s"), (BY_ALTIMETER, "apogee_lag_s")]
)
@pytest.mark.parametrize("room", [3, 32])
def test_runs_that_share_a_way_up_and_down(room: int, deployment: int, moment: str) -> None:
    """Three on one way, one alone, two that never leave, two on one way, in their order."""
    parameters = rows(
        8,
        thrust_factor=[0.5, 0.5, 0.5, 0.4, 0.01, 0.01, 0.35, 0.35],
        canopy_area_m2=[0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
        **{moment: [1.0, 2.0, 3.0, 2.0, 1.0, 2.0, 1.0, 1.5]},
    )
    seeds = [1, 1, 1, 2, 3, 3, 4, 4]
    found = together(parameters, [1, 1, 1, 2, 3, 3, 4, 4], [0, 3, 4, 6, 8], how(deployment), room)
    expected = [alone(p, seed, how(deployment)) for p, seed in zip(parameters, seeds)]
    for i in range(8):
        same(found[i], expected[i], whole=i not in (1, 2, 7))
    steps = OUTCOME_INDEX["steps"]
    assert (found[1:3, steps] < 0.8 * np.array([each[steps] for each in expected[1:3]])).all()


def test_ways_part_on_the_rail() -> None:
    """A motor burnt out long before a rail of 60 m ends, three ejections, the last one free."""
    parameters = rows(3, rail_length_m=60.0, burn_time_factor=0.1, delay_s=[0.01, 0.02, 9.0])
    found = together(parameters, [1, 1, 1], [0, 3], how())
    for i in range(3):
        same(found[i], alone(parameters[i], 1, how()), whole=i == 0)


def test_gusts_are_flown_where_they_are_asked_for() -> None:
    parameters = rows(1)
    calm, gusty = (together(parameters, [1], [0, 1], how(BY_DELAY, t))[0] for t in (0.0, 1.0))
    same(calm, alone(parameters[0], 1, how(BY_DELAY, 0.0)), whole=True)
    assert calm[OUTCOME_INDEX["landing_east_m"]] != gusty[OUTCOME_INDEX["landing_east_m"]]


def test_all_are_spread_over_the_cores_and_come_back_in_their_places() -> None:
    """Two shares of two runs each, the second first."""
    asked, flown = list[int](), list[list[int]]()
    fly_runs = plain.loop.fly_runs

    def noting(*given: np.ndarray) -> int:
        flown.append(given[3].tolist())
        return int(fly_runs(*given))

    def on_cores(fly: Callable[[int, int], None], count: int, least: int) -> None:
        asked.append(count)
        fly(2, 4)
        fly(0, 2)

    launch = Launch(MOTOR, TABLES, BY_ALTIMETER, tolerance=COARSE)
    parameters = rows(5, thrust_factor=[0.3, 0.4, 0.4, 0.3, 0.35], apogee_lag_s=[2, 1, 2, 3, 1])
    seeds = np.array([1, 2, 2, 3, 4], dtype=np.uint64)
    instead = patch.multiple(plain.loop, on_cores=on_cores, fly_runs=noting)
    with instead, np.errstate(all="ignore"):
        found = plain.loop.fly_all(parameters, BLANK, seeds, np.array([0, 1, 3, 4, 5]), launch)
    turbulent = how(BY_ALTIMETER, float(launch.turbulence))
    for i, outcomes in enumerate(found):
        same(outcomes, alone(parameters[i], int(seeds[i]), turbulent), whole=i != 2)
    assert asked == [4] and flown == [[3, 4, 5], [0, 1, 3]]


def test_one_flight_is_recorded_with_its_outcomes() -> None:
    """Every tenth of a second from lift-off to the ground, as long as there is room."""
    launch, p = Launch(MOTOR, TABLES, tolerance=COARSE), rows(1, delay_s=4.0)[0]
    with np.errstate(all="ignore"):
        out, history = plain.loop.fly_recorded(p, BLANK, 5, launch, 0.1, 900)
        _, short = plain.loop.fly_recorded(p, BLANK, 5, launch, 0.1, 7)
    expected, asked = np.zeros((1, 900, history.shape[1])), how(BY_DELAY, float(launch.turbulence))
    same(out, alone(p, 5, asked), whole=True)
    asked[plain.kernel.EVERY] = 0.1
    same(out, alone(p, 5, asked, expected), whole=True)
    np.testing.assert_array_equal(history, expected[0, : len(history)])
    assert not expected[0, len(history) :].any()
    times = history[:, 0]
    assert np.diff(times) == pytest.approx(0.1) and len(times) > 100
    landing = out[OUTCOME_INDEX["landing_s"]]
    assert landing - 0.1 < times[-1] <= landing and set(history[:, 1]) <= {0.0, 1.0, FREE, 3.0}
    assert short[:, 0].tolist() == times[:7].tolist()
