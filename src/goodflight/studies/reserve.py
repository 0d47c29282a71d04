"""What is left between a demand and its capacity: the sign that tells who fails, in one place."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def sign_of(more_is_worse: bool) -> float:
    """1 where a flight fails above its capacity, -1 where it fails below."""
    return 1.0 if more_is_worse else -1.0


def reserve_of(demand: Array, capacity: Array, more_is_worse: bool) -> Array:
    """What is left of each flight, in the row's unit; negative fails, NaN where there is none."""
    with np.errstate(invalid="ignore"):
        left: Array = sign_of(more_is_worse) * (capacity - demand)
    return left


def share_of(demand: Array, capacity: Array, more_is_worse: bool) -> Array:
    """How much of what is allowed each flight takes, (n,) [-]; above 1 fails."""
    over, under = (demand, capacity) if more_is_worse else (capacity, demand)
    share: Array = np.maximum(over, 0.0) / np.maximum(under, 1e-12)
    return share
