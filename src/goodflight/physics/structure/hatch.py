"""A hatch in the tube's side: what pushes it outwards.

Left out: its own mass shaken by the motor, flutter of a loose edge.
"""

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]


def hatch_push_n(pressure_pa: Values, length_m: float, width_m: float) -> Array:
    """Push on a hatch from inside.

    (pressure inside - outside) x length x width, its curve laid flat across.

    Parameters
        pressure_pa : float or array - inside less outside. [Pa]
        length_m : float - along the rocket. [m]
        width_m : float - straight across, from edge to edge. [m]
    Returns
        push : array - outwards. [N]
    Raises
        nothing
    Source
        Pressure on the area seen from outside, derived.
    Example
        >>> float(hatch_push_n(12e3, 0.08, 0.04))
        38.4
    """
    return np.asarray(np.asarray(pressure_pa, dtype=np.float64) * length_m * width_m)
