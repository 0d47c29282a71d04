"""Chances are spoken as flights, cautiously rounded; the words stay the same everywhere."""

import pytest

from goodflight.outputs import words


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


def test_margin_in_spreads() -> None:
    assert words.margin(1.49) == "1.5 spreads to spare"
    assert words.margin(-0.3) == "0.3 spreads short"
    assert words.margin(12.0) == "more than 9 spreads to spare"
    assert words.margin(None) == ""


def test_percent_is_empty_when_nothing_was_counted() -> None:
    assert words.percent(0.068) == "6.8 %"
    assert words.percent(0.36) == "36 %"
    assert words.percent(0.0) == words.percent(None) == ""


def test_the_caution_is_said_once() -> None:
    assert words.cautions(("a",)) == ("a", words.CAUTION)
    said = ("ask the range safety officer",)
    assert words.cautions(said) == said
