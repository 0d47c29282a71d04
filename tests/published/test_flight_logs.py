"""Real logs under open licences, read without help: the facts told with them come out.

Facts and licences: tests/published/data/flights/README.md. Tolerances are what a builder needs:
apogee 1 %, its time 0.3 s, speeds down 15 %.
"""

from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from goodflight.physics.recorded_curve import curve_of
from goodflight.physics.recorded_events import in_the_air_as_it_was
from goodflight.physics.recorded_series import evenly
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.read import LogRead, read_log

HERE = Path(__file__).parent / "data" / "flights"
FACTS = {  # apogee m, its time s, speeds down m/s; None = not told
    "two_loggers_aft": (496.2, 9.9, 16.0, 5.1),
    "two_loggers_nose": (496.2, 9.9, 16.0, 5.1),
    "brakes_early": (762.0, None, None, None),
    "two_canopies": (1688.0, 20.2, 18.0, 7.3),
}
TOLD = [(name, at) for name, facts in FACTS.items() for at in range(4) if facts[at] is not None]
FIGURES = ("apogee_standard_m", "apogee_s", "first_rate_mps", "last_rate_mps")


@cache
def read(name: str) -> LogRead:
    return read_log((HERE / f"{name}.csv").read_bytes())


@pytest.mark.parametrize(("name", "at"), TOLD)
def test_the_facts_come_out(name: str, at: int) -> None:
    fact = FACTS[name][at]
    found = getattr(read(name).events.happened, FIGURES[at])
    tolerance: dict[str, Any] = {"abs": 0.3} if at == 1 else {"rel": 0.01 if at == 0 else 0.15}
    assert found.value == pytest.approx(fact, **tolerance)


def test_two_loggers_of_one_rocket_agree_to_a_metre() -> None:
    one, two = (read(f"two_loggers_{place}").events.happened for place in ("aft", "nose"))
    assert one.apogee_standard_m is not None and two.apogee_standard_m is not None
    assert abs(one.apogee_standard_m.value - two.apogee_standard_m.value) < 1.0


def test_the_charge_is_no_flight() -> None:
    """One bay shows a spike of 290 m at the charge, which no event takes for height."""
    found = read("two_canopies").events
    assert found.happened.charge_s is not None and found.happened.apogee_s is not None
    assert found.happened.charge_s.value < found.happened.apogee_s.value  # it came early
    assert found.false_drops == ()


def test_brakes_that_raise_the_pressure_are_no_fall() -> None:
    ((start, end, metres),) = read("brakes_early").events.false_drops
    happened = read("brakes_early").events.happened
    assert metres == pytest.approx(200.0, rel=0.15) and end - start < 2.0
    assert happened.apogee_s is not None and happened.burnout_s is not None
    assert happened.burnout_s.value < end < happened.apogee_s.value


def test_the_second_canopy_is_found() -> None:
    height = read("two_canopies").events.happened.second_canopy_m
    assert height is not None and height.value == pytest.approx(495.0, abs=2.0 * height.error)


@pytest.mark.parametrize("name", FACTS)
def test_readings_are_used_and_nothing_the_logger_worked_out(name: str) -> None:
    used = [each for each in read(name).columns if each.used]
    assert {each.kind for each in used} == {"time", "pressure", "acceleration"}
    assert not any("est_" in each.name or "predict" in each.name for each in used)
    assert not any("temp" in each.name or each.name == "t_C" for each in used)


def test_the_board_s_temperature_is_not_the_air_s() -> None:
    """The log's board stands at 38 degC, the air at 17: 496 m by the standard are 499 in that air.

    h = shown x T / T_std; T_std at the sea is 288.15 K [usstd1976].
    """
    happened = read("two_loggers_aft").events.happened
    assert happened.apogee_standard_m is not None and happened.apogee_m is None
    warm = in_the_air_as_it_was(happened, 290.15, 0.0, 1.5).apogee_m
    assert warm is not None
    assert warm.value / happened.apogee_standard_m.value == pytest.approx(290.15 / 288.15)


def test_the_failure_is_refused_with_every_reason() -> None:
    with pytest.raises(LogRefused) as caught:
        read("spin_failure")
    for words in ("p1_Pa: dead", "t2_C) stands at 0", "a1x_mps2: 95 in 100 readings at its limit"):
        assert words in str(caught.value)


def test_a_balloon_is_no_rocket() -> None:
    with pytest.raises(LogRefused):
        read_log((HERE / "sounding_2000-05-23.txt").read_bytes())


def test_a_charge_s_pressure_shows_in_its_bay_alone() -> None:
    """The README's fact: a spike in one bay, none in the other; both take it for no height."""
    spikes = {}
    for place in ("aft", "nose"):
        found = read(f"two_loggers_{place}")
        even, charge = evenly(found.recorded), found.events.happened.charge_s
        assert even is not None and charge is not None
        near = np.abs(even.time_s - found.events.lift_off_s - charge.value) < 0.5
        spikes[place] = float(np.abs(even.raw_m - even.smooth_m)[near].max())
        curve = curve_of(found.recorded, found.events)
        assert curve is not None and curve.height_m.max() < 500.0
    low, high = sorted(spikes.values())
    assert high > 4.0 * low and high > 8.0


def test_no_point_of_the_curve_lies_in_the_false_drop() -> None:
    found = read("brakes_early")
    curve = curve_of(found.recorded, found.events)
    ((start, end, _),) = found.events.false_drops
    assert curve is not None and not ((curve.time_s > start) & (curve.time_s < end)).any()
    rising = curve.height_m[curve.time_s < 12.0]
    assert (np.diff(rising) > 0.0).all()
