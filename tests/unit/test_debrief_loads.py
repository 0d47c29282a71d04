"""Where to look before it flies again: loads of a flight against what each part stands."""

import pytest

from goodflight.outputs.debrief.words import again_words, load_words
from goodflight.physics.recorded import Happened, Measured
from goodflight.studies.debriefing.fit import fit
from goodflight.studies.debriefing.loads import Again, again, agreeing
from goodflight.studies.rows import LIMIT_STATES
from synthetic_flights import CASE

SEEN = Happened(last_rate_mps=Measured(6.0, 0.1), charge_s=Measured(10.8, 0.1))
LATE = Happened(last_rate_mps=Measured(6.0, 0.1), charge_s=Measured(14.0, 0.1))


@pytest.fixture(scope="module")
def found() -> Again:
    return again(agreeing(CASE, fit(CASE, SEEN)), ["thrust_ring"])


def test_every_load_is_a_row_that_fails_a_flight() -> None:
    looked = [each for each in LIMIT_STATES if each.look]
    assert len(looked) > 20 and {each.kind for each in looked} == {"failure"}


def test_the_landing_is_as_fast_as_it_was_seen(found: Again) -> None:
    """Through the air 6.0 m/s down, as seen; a wind of 3.5 m/s at 2 m only adds to it."""
    landing = next(each for each in found.loads if each.row == "landing_speed")
    assert 5.8 < landing.demand < 7.5 and not landing.least
    assert landing.share == pytest.approx(landing.demand / landing.capacity, rel=0.1)


def test_damage_that_was_noted_stands_first(found: Again) -> None:
    assert found.loads[0].row == "thrust_ring" and found.loads[0].first
    assert "(damage noted)" in load_words(found.loads[0])
    shares = [each.share for each in found.loads[1:]]
    assert shares == sorted(shares, reverse=True)


def test_a_late_charge_loads_the_cord_more(found: Again) -> None:
    late = {each.row: each for each in again(agreeing(CASE, fit(CASE, LATE))).loads}
    usual = {each.row: each for each in found.loads}
    assert late["opening_canopy"].demand > 2.0 * usual["opening_canopy"].demand


def test_words_say_what_was_read_and_that_only_looking_counts(found: Again) -> None:
    words = again_words(found, 150.0)
    assert any("the log read 150" in each for each in words) and "only looking" in words[-1]
