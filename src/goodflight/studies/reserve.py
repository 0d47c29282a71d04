"""What is left between a demand and its capacity: the sign that tells who fails, in one place."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def reserve_of(demand: Array, capacity: Array, more_is_worse: bool) -> Array:
    """What is left of each flight, in the row's unit; negative fails, NaN where there is none."""
    sign = 1.0 if more_is_worse else -1.0
    with np.errstate(invalid="ignore"):
        left: Array = sign * (capacity - demand)
    return left
