"""The least change that does, against chances known in closed form."""

from statistics import NormalDist
from types import SimpleNamespace
from typing import Any
from unittest.mock import patch

import pytest

from goodflight.studies.judging import remedies
from goodflight.studies.judging.flown import Effect
from goodflight.studies.judging.remedies import _flown_too, _least, _paid_for
from goodflight.studies.judging.solving import Found, least_change
from goodflight.studies.levers.lever import MOST_STEPS, steps

NORMAL = NormalDist()


@pytest.mark.parametrize("limit", [0.05, 0.01, 0.001])
@pytest.mark.parametrize("count", [7, 40, 300])
def test_the_least_strength_of_a_normal_row_is_the_one_of_the_closed_form(
    limit: float, count: int
) -> None:
    """Demand N(100, 10), strength 100 + place: chance Phi(-place / 10), by the normal quantile."""
    found = least_change(count, lambda place: NORMAL.cdf(-place / 10.0), limit)
    assert found is not None
    exact = -10.0 * NORMAL.inv_cdf(limit)  # 16.4, 23.3, 30.9
    needed = int(exact) + 1
    assert found.does == (needed < count)
    assert found.place == min(needed, count - 1)


def test_one_step_less_does_not_do() -> None:
    for limit in (0.9, 0.5, 0.31, 0.02):
        found = least_change(97, lambda place: 1.0 - place / 96.0, limit)
        assert found is not None and found.does
        assert 1.0 - found.place / 96.0 <= limit < 1.0 - (found.place - 1) / 96.0


def test_a_larger_need_never_asks_for_less() -> None:
    """Monotone: the further the row is from its limit, the greater the least change."""
    places = []
    for demand in range(0, 60, 4):
        found = least_change(80, lambda place: NORMAL.cdf((demand - place) / 5.0), 0.05)  # noqa: B023
        assert found is not None
        places.append(found.place)
    assert places == sorted(places) and places[0] < places[-1]


@pytest.mark.parametrize("middle", [5, 11, 20, 29])
def test_a_window_between_two_places_looked_at_is_found(middle: int) -> None:
    """Too little fails and too much fails, as a delay or a pull does."""
    found = least_change(40, lambda place: min(1.0, abs(place - middle) / 10.0), 0.15)
    assert found is not None and found.does and found.place == middle - 1


def test_where_none_does_the_lowest_is_told() -> None:
    found = least_change(30, lambda place: 0.3 + abs(place - 12) / 100.0, 0.05)
    assert found == Found(12, pytest.approx(0.3), False)  # type: ignore[arg-type]
    assert least_change(0, lambda _: 0.0, 0.05) is None


def test_settings_of_a_lever_are_as_many_as_can_be_looked_through() -> None:
    """An own charge of a tonne of powder in tenths of a gram would be ten million of them."""
    assert list(steps(0.2, 0.5, 0.1)) == [0.2, 0.3, 0.4, 0.5]
    many = list(steps(0.0, 1e6, 0.1))
    assert len(many) <= MOST_STEPS + 1
    assert (many[0], many[-1]) == (0.0, 1e6)
    assert many == sorted(many)


ROUGH = (0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0.008, 0.004)


@pytest.mark.parametrize(
    ("flown", "looked_at"),
    [
        (ROUGH, {5, 6}),  # the same: what is found and the one before it
        ((*ROUGH[:4], 0.25, 0.12, 0.009, 0.003), {5, 6}),  # others, but called the same
        ((*ROUGH[:5], 0.009, 0.007, 0.002), {0, 1, 3, 4, 5, 6, 7}),  # less does
        ((*ROUGH[:6], 0.02, 0.004), {0, 1, 3, 5, 6, 7}),  # it does not do
        ((*ROUGH[:6], 0.02, 0.03), {0, 1, 3, 5, 6, 7}),  # none does
    ],
)
def test_a_setting_looked_for_on_flights_as_planned_is_the_one_that_flown_ones_ask_for(
    flown: tuple[float, ...], looked_at: set[int]
) -> None:
    seen = set[int]()
    flights: Any = SimpleNamespace(before={"row": 0.7}, chance=lambda key, chance: chance)

    def on_part(place: int) -> Any:
        seen.add(place)
        return flown[place]

    planned: Any = ROUGH.__getitem__
    found = _flown_too(flights, "row", len(ROUGH), on_part, planned)
    assert seen == looked_at
    assert found == _least(flights, "row", len(ROUGH), on_part)


@pytest.mark.parametrize(
    ("elsewhere", "from_step", "found"),
    [(0.01, 10, 20), (0.08, 10, 10), (0.08, 4, 5), (0.08, 3, 20)],
)
def test_a_part_of_a_change_is_offered_where_all_of_it_loses_more_elsewhere(
    elsewhere: float, from_step: int, found: int
) -> None:
    """Row A falls by 3 in 100 a step from 60, B rises from a step on; they fail on flights apart.

    By hand, of 20 steps: B ends at 0.1 (total 0.1, all of it pays), at 0.8 (total 0.8 against 0.6:
    ten steps leave 0.3); from step 4 on ten steps leave 0.3 + 0.48,
    five 0.45 + 0.08 = 0.53, from step 3 on five leave 0.61: none pays.
    """
    lever: Any = SimpleNamespace(key="size", touches=())

    def effect(place: int, keys: Any) -> Effect:
        first, other = 0.6 - 0.03 * place, elsewhere * max(0, place - from_step)
        change: Any = SimpleNamespace(lever=lever, place=place)
        return Effect(
            change=change,
            before={"a": 0.6, "b": 0.0},
            after={"a": first, "b": other},
            total_before=0.6,
            total=first + other,
            gain=0.6 - first - other,
            for_rows=tuple(keys),
        )

    chosen: Any = _paid_for(effect, 20, ["a"]).change
    assert chosen.place == found


def test_a_part_of_one_change_that_another_row_asks_for_stands_once_for_both() -> None:
    place = {"a": 20, "b": 10}

    def cut(_effect: Any, _place: int, keys: Any) -> Effect:
        change: Any = SimpleNamespace(key="size=10")
        none: dict[str, float] = {}
        return Effect(change, none, none, 0.6, 0.3, 0.3, for_rows=tuple(keys))

    flown: Any = SimpleNamespace(before={"a": 0.6, "b": 0.4})
    ladder: Any = [SimpleNamespace(lever=SimpleNamespace(as_planned=False))] * 21
    found = patch.multiple(
        remedies, _least=lambda _f, key, *_: Found(place[key], 0.0, True), _paid_for=cut
    )
    with found:
        (one,) = remedies._solved(flown, ladder, ["a", "b"])
    assert one.for_rows == ("b", "a")
