"""A cord pulling sideways over the edge of the tube: when does it begin to cut, and how far.

No published test of hobby tubes is known; the spread is honest and large. The cure is layout: a
cord that leaves from a coupler fixed in the lower part cannot reach the edge.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

KRAFT_STRENGTH_PA: Final = 20e6  # along the axis 15 to 30 MPa; paper physics, memory
KRAFT_TOUGHNESS_J_M2: Final = 10e3  # 5 to 15 kJ/m2; paper fracture literature, memory
START_SIGMA: Final = 0.4  # relative, of the load that starts a slit; our guess


def slit_start_n(
    wall_m: Values, cord_width_m: Values, strength_pa: Values = KRAFT_STRENGTH_PA
) -> Array:
    """Pull across the tube's edge that starts a slit.

    F = strength x wall x width of the cord on the edge.

    Parameters
        wall_m : float or array - of the tube at its edge. [m]
        cord_width_m : float or array - bearing on the edge; wide webbing helps. [m]
        strength_pa : float or array - of the wall in bearing. [Pa]
    Returns
        force : array - at which a slit starts. [N]
    Raises
        nothing
    Validity
        Order of size only (spread START_SIGMA); damp paper loses 10 % per 1 % of moisture (seen).
    Source
        Bearing on an edge; derived. Strength from memory.
    Example
        >>> round(float(slit_start_n(0.0015, 0.014)))
        420
    """
    return np.asarray(strength_pa, dtype=np.float64) * wall_m * cord_width_m
