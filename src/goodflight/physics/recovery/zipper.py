"""A cord pulling sideways over the edge of the tube: when does it begin to cut, and how far.

No published test of hobby tubes is known; the spread is honest and large. The cure is layout: a
cord that leaves from a coupler fixed in the lower part cannot reach the edge.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# crush of a spiral paper tube 10.1 MPa [tezuka1990] x 1.5 for a narrow load [correa2004], both seen
KRAFT_STRENGTH_PA: Final = 15e6
EDGE_FRICTION: Final = 0.3  # nylon webbing on card 0.2 to 0.4, memory


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
        Where a slit starts; once begun it runs (fracture energy 10 kJ/m2, memory: 16 N for a
        1.6 mm wall). Spread 35 % and more; damp paper loses 10 % per 1 % of moisture (seen).
    Source
        Bearing on an edge; derived. Strength of kraft: [tezuka1990], [correa2004].
    Example
        >>> round(float(slit_start_n(0.0015, 0.014)))
        315
    """
    return np.asarray(strength_pa, dtype=np.float64) * wall_m * cord_width_m
