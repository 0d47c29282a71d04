"""How long a battery runs when it is cold.

Left out: self-discharge on the shelf, load that grows in the cold, cells that fail outright.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import ZERO_C_K

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

ROOM_K: Final = 293.15  # run times are taken at home
FREEZING_K: Final = ZERO_C_K  # the share lost is stated here
MIN_CAPACITY: Final = 0.05  # of the run time, however cold; keeps the figure above zero


def cold_run_s(
    run_s: Values, cell_k: Values, lost_at_freezing: Values, life_factor: Values = 1.0
) -> Array:
    """Run time of a battery in the cold.

    The share lost grows evenly from 20 degC down: t (1 - loss (293 K - T) / 20 K).

    Parameters
        run_s : float or array - run time of a full battery at 20 degC t. [s]
        cell_k : float or array - temperature of the cell T. [K]
        lost_at_freezing : float or array - share lost at 0 degC. [-]
        life_factor : float or array - age of the cell, 1 = as timed. [-]
    Returns
        run : array - not below 5 % of the time at home. [s]
    Raises
        nothing
    Validity
        -20 to 20 degC; warmer counts as 20 degC.
    Source
        Straight line through a stated loss; a fifth at 0 degC is common practice, no source.
    Example
        >>> round(float(cold_run_s(3600.0, 273.15, 0.2)), 6)
        2880.0
    """
    cold = np.maximum(ROOM_K - np.asarray(cell_k, dtype=np.float64), 0.0) / (ROOM_K - FREEZING_K)
    left = np.maximum(1.0 - lost_at_freezing * cold, MIN_CAPACITY)
    return np.asarray(run_s * np.asarray(life_factor) * left)
