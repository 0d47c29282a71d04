"""The coefficients of a step against the conditions of order of a Runge-Kutta method.

Hairer, Norsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed., table II.2.1 (the
trees up to order 5); of a continuous solution each right side is times share to the order, II.6.
"""

import numpy as np
import pytest

from goodflight.physics.flight.record import STAGES
from goodflight.physics.flight.stepper import ERROR_WEIGHTS, INSIDE_WEIGHTS, MOMENTS, WEIGHTS

C = MOMENTS
A = np.hstack([WEIGHTS, np.zeros((STAGES, 1))])
AC, AC2 = A @ C, A @ C**2
AAC = A @ AC
# order, what the weights meet, what comes of it
TREES = [
    (1, np.ones(STAGES), 1),
    (2, C, 1 / 2),
    (3, C**2, 1 / 3),
    (3, AC, 1 / 6),
    (4, C**3, 1 / 4),
    (4, C * AC, 1 / 8),
    (4, AC2, 1 / 12),
    (4, AAC, 1 / 24),
    (5, C**4, 1 / 5),
    (5, C**2 * AC, 1 / 10),
    (5, AC**2, 1 / 20),
    (5, C * AC2, 1 / 15),
    (5, A @ C**3, 1 / 20),
    (5, C * AAC, 1 / 30),
    (5, A @ (C * AC), 1 / 40),
    (5, A @ AC2, 1 / 60),
    (5, A @ AAC, 1 / 120),
]


def test_each_stage_stands_at_its_moment() -> None:
    assert A.sum(axis=1) == pytest.approx(C, abs=1e-13)


def test_a_step_is_of_order_five() -> None:
    for order, tree, right in TREES:
        assert A[-1] @ tree == pytest.approx(right, abs=1e-12), order


def test_the_error_is_that_of_order_four() -> None:
    apart: dict[int, list[float]] = {order: [] for order, _, _ in TREES}
    for order, tree, _ in TREES:
        apart[order].append(abs(ERROR_WEIGHTS @ tree))
    assert max(max(apart[order]) for order in (1, 2, 3, 4)) < 1e-14
    assert min(apart[5]) > 1e-6


@pytest.mark.parametrize("share", [0.1, 0.5, 0.77, 1.0])
def test_inside_a_step_order_four_holds(share: float) -> None:
    weights = INSIDE_WEIGHTS @ share ** np.arange(1, 5)
    for order, tree, right in TREES:
        if order <= 4:
            assert weights @ tree == pytest.approx(right * share**order, abs=1e-11), order


def test_inside_ends_where_the_step_ends() -> None:
    assert INSIDE_WEIGHTS.sum(axis=1) == pytest.approx(A[-1], abs=1e-13)
