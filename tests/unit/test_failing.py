"""What failing flights have in common, from flights made to fail for a known reason."""

from dataclasses import replace

import numpy as np
import pytest

from goodflight.outputs.ledger.failing_words import flight_words, heading, trait_words
from goodflight.studies.judging.evaluate import Evaluated
from goodflight.studies.judging.failing import failing_of
from goodflight.studies.results import Failing, NumberedFlight, Trait
from goodflight.studies.rows import LIMIT_STATES, Missing, View
from goodflight.studies.sampling.flights import fly_trials
from sample_case import sample_case

FLIGHTS = 2000


@pytest.fixture(scope="module")
def view() -> View:
    return fly_trials(sample_case(4.0), FLIGHTS, 1)


def made(reserve: np.ndarray) -> Evaluated:
    """A row that fails where its reserve is negative."""
    zero = np.zeros(reserve.size)
    return Evaluated(LIMIT_STATES[0], Missing(""), -reserve, zero, reserve, reserve, reserve < 0.0)


def score(view: View, key: str) -> np.ndarray:
    place = [factor.key for factor in view.trials.factors].index(key)
    return np.asarray(view.trials.z[:, place])


def test_one_side_is_said_in_the_builders_units(view: View) -> None:
    """Trials above one spread: z has the mean phi(1)/(1 - Phi(1)) = 1.525, below it -0.288."""
    found = failing_of(view, made(1.0 - score(view, "wind")))
    assert found is not None
    trait = found.traits[0]
    assert (trait.label, trait.dimension) == ("wind", "wind")
    assert trait.failing == pytest.approx(4.0 + 0.6 * 1.525, abs=0.02)  # 4 m/s, 15 % spread
    assert trait.standing == pytest.approx(4.0 - 0.6 * 0.288, abs=0.02)
    assert len(found.traits) == 1  # nothing else sets them apart


def test_either_side_is_said_as_a_distance(view: View) -> None:
    """Trials beyond two spreads lie 2 phi(2) / (2 (1 - Phi(2))) = 2.373 from the middle."""
    found = failing_of(view, made(2.0 - np.abs(score(view, "wind"))))
    assert found is not None
    assert found.traits[0].dimension == "either way"
    assert found.traits[0].failing == pytest.approx(2.373, abs=0.05)


def test_the_delay_is_said_in_seconds(view: View) -> None:
    found = failing_of(view, made(1.0 - score(view, "delay")))
    assert found is not None
    delays = view.parameter("delay_s")
    fails = score(view, "delay") > 1.0
    assert found.traits[0].dimension == "time"
    assert found.traits[0].failing == pytest.approx(delays[fails].mean())


def test_chance_alone_sets_nothing_apart(view: View) -> None:
    noise = np.random.default_rng(7).standard_normal(FLIGHTS)
    found = failing_of(view, made(1.0 - noise))
    assert found is not None and found.traits == ()


def test_the_draws_named_are_the_ends_and_the_middle(view: View) -> None:
    reserve = np.arange(FLIGHTS, dtype=float) - 4.5  # flights 1 to 5 fail, the first the most
    found = failing_of(view, made(reserve))
    assert found is not None
    assert [(d.number, d.which) for d in found.flights] == [
        (1, "worst"),
        (3, "middle"),
        (5, "just"),
        (6, "near"),
    ]


def test_where_none_fails_only_the_nearest_is_named(view: View) -> None:
    reserve = 10.0 + np.arange(FLIGHTS, dtype=float)
    found = failing_of(view, made(reserve))
    assert found == Failing((), (NumberedFlight(1, "near"),))
    assert heading(found) == "The flight that comes nearest"
    assert failing_of(view, made(np.full(FLIGHTS, 3.0))) is None  # nothing varies
    assert failing_of(view, replace(made(reserve), missing="a figure")) is None


def test_draws_that_do_not_apply_are_not_counted_as_standing(view: View) -> None:
    reserve = 1.0 - score(view, "wind")
    reserve[score(view, "wind") < 0.0] = np.nan
    found = failing_of(view, made(reserve))
    assert found is not None
    middle = score(view, "wind")[(score(view, "wind") >= 0.0) & (score(view, "wind") <= 1.0)]
    assert found.traits[0].standing == pytest.approx(4.0 + 0.6 * middle.mean(), abs=0.01)


def test_words() -> None:
    assert trait_words(Trait("wind", "speed", 5.12, 3.4)) == (
        "wind: 5.12 m/s on average, the others 3.40 m/s"
    )
    assert trait_words(Trait("gear", "speed", -3.0, 0.5, True)) == (
        "gear: 3.00 m/s below the middle on average, the others 0.500 m/s above"
    )
    assert trait_words(Trait("drag", "share", -0.13, 0.001, True)) == (
        "drag: 13 % below the middle on average, the others in the middle"
    )
    assert trait_words(Trait("thrust line", "either way", 1.52, 0.8)) == (
        "thrust line: 1.5 spreads from the middle on average, either way, the others 0.8"
    )
    assert flight_words(NumberedFlight(12, "just")) == "the one that only just fails: flight 12"
