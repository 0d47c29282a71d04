"""Random access graphs: the order found always works, a bad one is always refused.

The judge is a few lines of its own below: it plays an order step by step.
"""

from collections.abc import Callable
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from goodflight.studies.bench.order import (
    NoOrderError,
    Reach,
    Step,
    check_order,
    explained,
    find_order,
)

DOORS = ("front", "rear", "slot", "hatch")


def works(order: list[Step] | tuple[Step, ...]) -> bool:
    """Play the order: every step must find its forerunners done and a way in still open."""
    shut, done = set(), set()
    for step in order:
        if not set(step.after) <= done:
            return False
        if any(all(door in shut for door in reach.doors) for reach in step.reaches):
            return False
        shut.update(step.closes)
        done.add(step.key)
    return True


@st.composite
def graphs(draw: Callable[..., Any], most: int = 7) -> list[Step]:
    count = draw(st.integers(1, most))
    steps = []
    for i in range(count):
        doors = st.lists(st.sampled_from(DOORS), min_size=1, max_size=3, unique=True)
        reaches = draw(st.lists(doors, max_size=2))
        closes = draw(st.lists(st.sampled_from(DOORS), max_size=2, unique=True))
        others = [f"s{j}" for j in range(count) if j != i]
        after = draw(st.lists(st.sampled_from(others), max_size=1)) if others else []
        steps.append(
            Step(
                f"s{i}",
                f"step {i}",
                tuple(Reach(f"place {d}", tuple(d)) for d in reaches),
                tuple(closes),
                tuple(after),
                draw(st.integers(0, 5)),
            )
        )
    return steps


@settings(max_examples=400, deadline=None)
@given(graphs())
def test_the_order_found_works_and_the_checker_agrees(steps: list[Step]) -> None:
    try:
        order = find_order(steps)
    except NoOrderError:
        return
    assert sorted(s.key for s in order) == sorted(s.key for s in steps)
    assert works(order)
    assert check_order(steps, [s.key for s in order]) == ()


@settings(max_examples=150, deadline=None)
@given(graphs(most=5))
def test_no_order_is_said_only_when_none_of_all_permutations_works(steps: list[Step]) -> None:
    try:
        find_order(steps)
        found = True
    except NoOrderError as error:
        found = False
        assert error.stuck
    assert found == any(works(order) for order in permutations(steps))


@settings(max_examples=400, deadline=None)
@given(graphs(), st.randoms(use_true_random=False))
def test_a_hand_made_order_is_refused_exactly_when_it_cannot_be_built(
    steps: list[Step], random: Any
) -> None:
    order = list(steps)
    random.shuffle(order)
    refusals = check_order(steps, [s.key for s in order])
    assert (refusals == ()) == works(order)
    for refusal in refusals:
        assert refusal.key in {s.key for s in steps}
        assert refusal.reason


@settings(max_examples=200, deadline=None)
@given(graphs(), st.randoms(use_true_random=False))
def test_the_order_does_not_depend_on_how_the_steps_are_listed(
    steps: list[Step], random: Any
) -> None:
    other = list(steps)
    random.shuffle(other)
    try:
        first = [s.key for s in find_order(steps)]
    except NoOrderError:
        with pytest.raises(NoOrderError):
            find_order(other)
        return
    assert [s.key for s in find_order(other)] == first


@settings(max_examples=200, deadline=None)
@given(graphs())
def test_after_a_point_of_no_return_nobody_works_at_what_it_shuts_off(steps: list[Step]) -> None:
    try:
        order = explained(find_order(steps))
    except NoOrderError:
        return
    shut = set()
    for placed in order:
        assert not shut & {reach.place for reach in placed.step.reaches}
        shut |= set(placed.shut_off)
