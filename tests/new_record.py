"""A record of the flight kernel that a test sets at a moment of its own."""

import numpy as np
from numpy.typing import NDArray


def new_flight(p: NDArray[np.float64], blank: NDArray[np.float64]) -> NDArray[np.float64]:
    """The record of one flight with its parameters, still without air."""
    w = blank.copy()
    w[: len(p)] = p
    return w
