"""Chances are spoken as flights, cautiously rounded; the words stay the same everywhere."""

from dataclasses import replace

import numpy as np
import pytest

from goodflight.outputs import words
from goodflight.outputs.figures import figure
from goodflight.outputs.ledger import row_words, way_words
from goodflight.studies.cautions import WHO_DECIDES
from goodflight.studies.results import Way
from sample_results import row


@pytest.mark.parametrize(
    ("chance", "low", "high", "spoken"),
    [
        (0.07, 0.05, 0.09, "about 7 in 100 (5–9)"),
        (0.07, 0.068, 0.072, "about 7 in 100"),
        (0.004, 0.002, 0.008, "about 4 in 1000 (2–8)"),
        (0.0004, 0.0001, 0.0009, "about 4 in 10000 (1–9)"),
        # by hand: Wilson's upper end for 0 of 2000 at 95 % is 3.84 / 2003.84 = 1/522
        (0.0, 0.0, 1 / 522, "fewer than 1 in 500"),
        # rule of three for 0 of 2100 flights: 3/2100 = 1/700
        (0.0, 0.0, 3 / 2100, "fewer than 1 in 700"),
        (0.0, 0.0, 1 / 6.4, "fewer than 1 in 6"),
        (1.0, 1 - 1 / 522, 1.0, "more than 499 in 500"),
        (0.997, 0.993, 0.999, "about 997 in 1000 (993–999)"),
        (None, None, None, "not known"),
        (float("nan"), None, None, "not known"),
    ],
)
def test_speak(chance: float | None, low: float | None, high: float | None, spoken: str) -> None:
    assert words.speak(chance, low, high) == spoken


def test_a_bare_number_is_written_out() -> None:
    """Three figures below a thousand, whole numbers above: never as a power of ten."""
    found = [figure(value, "ratio") for value in (1.414, 999.4, 999.6, 1000.0, 12345.0)]
    assert found == ["1.41", "999", "1000", "1000", "12345"]


def test_rounding_never_sounds_safer_than_counted() -> None:
    for flights in (50, 137, 1000, 2000, 9999):
        high = 3.0 / flights
        said = int(words.speak(0.0, 0.0, high).rsplit(" ", 1)[1])
        assert 1 / said >= high


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (0.12, 0.04, "12 → 4 in 100"),
        (0.12, 0.0, "12 → under 1 in 100"),
        (1.0, 0.0, "100 → under 1 in 100"),
        (0.004, 0.001, "4 → 1 in 1000"),
        (0.02, 0.11, "2 → 11 in 100"),
        (0.022, 0.016, "22 → 16 in 1000"),
        (0.02, 0.02, "2 → 2 in 100"),
    ],
)
def test_change(before: float, after: float, said: str) -> None:
    assert words.change(before, after) == said


def test_a_row_is_said_as_demand_of_limit_in_the_reader_s_units() -> None:
    landing = row(
        unit="speed",
        demand=np.array([6.0, 6.1, np.nan, 6.2]),
        capacity=np.array([7.9, 8.0, 8.1, 8.0]),
    )
    assert row_words.against(landing) == "6.10 of 8.00 m/s allowed"
    assert row_words.against(landing, "imperial") == "20.0 of 26.2 ft/s allowed"
    assert row_words.against(replace(landing, more_is_worse=False)) == (
        "6.10 m/s, at least 8.00 m/s needed"
    )
    assert row_words.against(replace(landing, capacity=np.full(4, np.nan))) == ""
    outside = replace(landing, unit="length", demand=np.full(4, 119.0), capacity=np.zeros(4))
    assert row_words.against(outside) == "119 m, none allowed"
    within = replace(outside, demand=-outside.demand)
    assert row_words.against(within) == "119 m to spare"
    assert row_words.deviations(row(margin=-0.3)) == (
        "the middle lies 0.3 standard deviations beyond the limit"
    )
    assert row_words.deviations(row(margin=None)) == ""


@pytest.mark.parametrize(
    ("kind", "chance", "answered", "said"),
    [
        ("statement", None, None, "not confirmed"),
        ("statement", 0.0, "", "confirmed by you"),
        ("statement", 0.0, "2026-10-09", "confirmed by you, 2026-10-09"),
        ("statement", 1.0, "", "not so, as you say"),
        ("statement", 0.0, None, "met"),  # figures show it: nobody had to say so
        ("statement", 1.0, None, "not met"),
        ("rule", 0.0, None, "met"),
        ("rule", 1.0, None, "not met"),
        ("rule", None, None, "not known"),
        ("failure", None, None, "not known"),
        ("failure", 0.068, None, "about 7 in 100 (5–9)"),
    ],
)
def test_a_statement_or_a_rule_is_never_said_as_a_chance(
    kind: str, chance: float | None, answered: str | None, said: str
) -> None:
    assert row_words.answer(row(kind=kind, chance=chance, answered=answered)) == said


def test_percent_is_empty_when_nothing_was_counted() -> None:
    assert words.percent(0.068) == "6.8 %"
    assert words.percent(0.36) == "36 %"
    assert words.percent(0.0) == words.percent(None) == ""


def test_the_caution_is_said_once() -> None:
    assert words.cautions(("a",)) == ("a", words.CAUTION)
    said = (f"Field and day are those of the plan. {WHO_DECIDES}",)
    assert words.cautions(said) == said
    asked = ("ask the range safety officer",)  # says nothing of who decides
    assert words.cautions(asked) == (*asked, words.CAUTION)


def test_a_total_under_its_limit_is_not_brought_under_it() -> None:
    way = Way((), 0.06, 0.06, 0.04, 0.09, 0.25, reached=True, already=False)
    told = way_words.way_words(way, {})
    assert told.startswith("Under the limit of 25 in 100 already, but a row fails; with these")
    high = way_words.way_words(replace(way, total_before=0.3), {})
    assert high.startswith("These together bring it under the limit of 25 in 100")


def test_a_bound_is_said_once() -> None:
    assert words.at_least("more than 39 in 40", 1.0, 2) == "more than 39 in 40"
    assert words.at_least("every flight; 90 to 100 depending on the guesses", 1.0, 2).startswith(
        "every"
    )
    assert words.at_least("about 12 in 100 (9–15)", 0.12, 2) == "at least 12 in 100 (9–15)"
    assert words.at_least("none", 0.0, 2) == "not known"
