"""The coast of a log: speed from the pad, drag, its change, the apogee told from one moment."""

import math
from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.recorded import Recorded
from goodflight.physics.recorded_coast import Changed, Coast, apogee_from, changed, coast_of
from goodflight.physics.recorded_events import events_of
from made_logs import APOGEE_M, BURN_S, made

G = 9.80665


def coasting(drag: np.ndarray, speed: float = 120.0, every_s: float = 0.05) -> Coast:
    """Straight up with a drag at each moment, over the speed squared, in air of one density."""
    time, speeds = np.arange(drag.size, dtype=np.float64) * every_s, [speed]
    for each in drag[:-1]:
        speeds.append(max(0.0, speeds[-1] - (G + each * speeds[-1] ** 2) * every_s))
    fast = np.array(speeds)
    return Coast(
        time_s=time,
        height_m=np.cumsum(fast) * every_s,
        climb_mps=fast,
        speed_mps=fast,
        tilt_rad=np.zeros(drag.size),
        slowed_mps2=drag * fast**2,
        drag_per_m=drag,
        thinner=np.ones(drag.size),
        ground_m=0.0,
        vents=0.02,
    )


def test_the_apogee_is_that_of_the_closed_form() -> None:
    """Derived: straight up against k v^2, risen ln(1 + k v^2 / g) / (2 k); over these 60 m the air
    thins by 0.6 %, so that of the closed form is 0.1 % lower."""
    k, speed = 2e-3, 37.0
    coast = coasting(np.full(40, k), speed)
    risen = math.log1p(k * speed**2 / G) / (2.0 * k)
    assert apogee_from(coast, 0.0).value - coast.height_m[0] == pytest.approx(risen, rel=2e-3)
    tilted = replace(coast, tilt_rad=np.full(40, math.radians(20.0)))
    assert apogee_from(tilted, 0.0).value < apogee_from(coast, 0.0).value
    assert apogee_from(tilted, 0.0).error > apogee_from(coast, 0.0).error


def test_speed_and_apogee_of_a_log_in_closed_form() -> None:
    """Derived: thrust of one size, then free flight: v = g (t_top - t), no drag to show."""
    m = made(0.05)
    recorded = Recorded(m["time"], standard_height_m=m["height"], axial_mps2=m["axial"])
    events = events_of(recorded)
    assert events is not None and events.happened.apogee_s is not None
    coast = coast_of(recorded, events, 0.0)
    assert coast is not None and coast.time_s[0] == pytest.approx(BURN_S + 1.0, abs=0.2)
    falls = G * (events.happened.apogee_s.value - coast.time_s)
    assert coast.speed_mps == pytest.approx(falls, abs=2.0)
    assert coast.climb_mps == pytest.approx(falls, abs=2.0)
    for at in (coast.time_s[0], coast.time_s[-20]):
        assert apogee_from(coast, float(at)).value == pytest.approx(APOGEE_M, rel=0.02)
    assert changed(coast) is None


def test_a_sensor_that_does_not_show_gravity_tells_no_coast() -> None:
    m = made(0.05)
    recorded = Recorded(m["time"], standard_height_m=m["height"], axial_mps2=m["axial"])
    events = events_of(recorded)
    assert events is not None
    assert coast_of(replace(recorded, axial_mps2=m["axial"] - 2.0), events) is None
    assert coast_of(replace(recorded, axial_mps2=None), events) is None
    assert coast_of(replace(recorded, saturated_mps2=events.highest_mps2), events) is None


@pytest.mark.parametrize("times", [0.5, 2.0])
def test_a_change_of_drag_is_found(times: float) -> None:
    random = np.random.default_rng(1)
    larger = 1e-3 / max(1.0, times)
    drag = larger * np.where(np.arange(120) < 60, 1.0, times) * random.normal(1.0, 0.03, 120)
    found = changed(coasting(drag))
    assert isinstance(found, Changed)
    assert found.times.value == pytest.approx(times, rel=0.1)
    assert found.at_s == pytest.approx(2.5, abs=0.3)  # half of the second looked at before 3.0


@pytest.mark.parametrize(
    "drag",
    [
        1e-3 * np.random.default_rng(2).normal(1.0, 0.1, 120),
        1e-3 * np.linspace(1.0, 0.8, 120),  # falls with the speed, as skin friction and Mach do
        1e-3 * np.where(np.arange(120) == 40, 9.0, 1.0),  # one knock
        np.full(20, 1e-3),  # too short to tell
        np.zeros(120),
    ],
)
def test_noise_a_slow_fall_and_a_knock_are_no_change(drag: np.ndarray) -> None:
    assert changed(coasting(drag)) is None
