"""Order of cord, canopy and booster after the charge, and what a log's jerks say of it."""

import numpy as np
import pytest

from goodflight.outputs.debrief.words import order_words
from goodflight.physics.recorded import Happened, Measured
from goodflight.project.logs.read import LogRead, read_log
from goodflight.studies.debriefing.fit import fit
from goodflight.studies.debriefing.loads import agreeing
from goodflight.studies.debriefing.order import CLOCK_S, Order, jerks_of, order_of
from goodflight.studies.rows import View
from made_logs import CHARGE_S, LIFT_S, G, made, table
from synthetic_flights import CASE

SEEN = Happened(last_rate_mps=Measured(6.0, 0.1), charge_s=Measured(10.8, 0.1))
M = made(0.02)


@pytest.fixture(scope="module")
def view() -> View:
    return agreeing(CASE, fit(CASE, SEEN))


def log(*jerks_s: float, axial: bool = True) -> LogRead:
    """The made-up flight with its charge's spike, and hard readings some time after it."""
    since = M["time"] - LIFT_S - CHARGE_S
    felt = M["axial"].copy()
    for at in jerks_s:
        felt = np.where(np.abs(since - at) < 0.05, 12.0 * G, felt)
    spike = 4000.0 * ((since >= 0.0) & (since < 0.5))
    columns = {"time_s": M["time"], "pressure_Pa": M["pressure"] + spike}
    return read_log(table(columns | ({"accel_mps2": felt} if axial else {})).encode())


@pytest.fixture(scope="module")
def found(view: View) -> Order:
    return order_of(view)


def test_the_pack_is_out_before_the_cord_is_straight_before_the_canopy_is_open(
    found: Order,
) -> None:
    cleared, straight, opened = (each.after_s for each in found.steps)
    assert cleared is not None and straight is not None and opened is not None
    assert cleared[1] < straight[1] < opened[1] and straight[0] < straight[2]
    assert found.agrees == "cannot tell" and "no log" in found.because


def test_jerks_are_counted_from_the_charge() -> None:
    first, second = jerks_of(log(0.6, 2.5))
    assert first.after_s == pytest.approx(0.6, abs=0.12)
    assert second.after_s == pytest.approx(2.5, abs=0.12)
    assert first.size_mps2 == pytest.approx(12.0 * G, rel=0.05)
    assert jerks_of(log(0.6, axial=False)) == () and jerks_of(log()) == ()


def test_a_log_agrees_where_its_hardest_jerk_falls_into_the_motion(
    view: View, found: Order
) -> None:
    straight = next(each for each in found.steps if each.name == "straight").after_s
    assert straight is not None
    there = order_of(view, log(straight[1]))
    assert there.agrees == "agrees" and "cord straight" in there.because
    late = order_of(view, log(4.4))
    assert late.agrees == "does not agree" and "comes after" in late.because
    assert order_of(view, log()).agrees == "cannot tell"
    assert "no accelerometer" in order_of(view, log(axial=False)).because


def test_steps_stand_by_time_and_what_is_apart_is_not_confounded(found: Order) -> None:
    middles = [each.after_s[1] for each in found.steps if each.after_s]
    assert middles == sorted(middles)
    straight, opened = (each.after_s for each in found.steps[1:])
    assert straight is not None and opened is not None
    overlap = straight[2] + CLOCK_S > opened[0]
    assert any("lie within the scatter" in each for each in found.confounded) == overlap


def test_what_no_log_can_part_is_told(view: View, found: Order) -> None:
    assert "which body was ahead shows in no log" in " ".join(found.confounded)
    damaged = order_of(view, None, ["booster_overtakes"])
    assert "damage noted for it speaks for the booster passing" in " ".join(damaged.confounded)
    words = order_words(found)
    assert words[0].startswith("packed canopy out of its tube: 0.0")
    assert any("behind the packed canopy" in each or "passes the canopy" in each for each in words)
