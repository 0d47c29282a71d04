"""Damp air and a separation of paper: walls swell, the gap closes, and the joint is a press fit.

Left out: tubes that turn oval, varnish that keeps the damp out for a time, tape in the gap.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

SWELLING: Final = 0.03 / 0.5  # of a paper wall's thickness, dry to damp by 1; 30 to 80 %, memory
PAPER_PA: Final = 1.82e9  # modulus of a spiral paper tube [tezuka1990], seen
FRICTION: Final = 0.4  # paper on paper 0.3 to 0.5, memory


def gap_lost_m(damper: Values, walls_m: Values) -> Array:
    """By how much damp air narrows the gap around a coupler, on the diameter.

    SWELLING x rise of the relative humidity x both walls: each grows half inwards, half outwards;
    round the tube both grow alike.

    Parameters
        damper : float or array - rise of the relative humidity, 0 to 1; drier air: none. [-]
        walls_m : float or array - paper walls, one on the other, once each. [m]
    Returns
        lost : array - of the gap on the diameter. [m]
    Raises
        nothing
    Validity
        Paper that has taken up the new humidity; order of size (2 to 5 % in the literature).
    Source
        Growth through the thickness 0.03 from 30 to 80 %, memory; the rest derived.
    Example
        >>> round(float(gap_lost_m(0.5, 0.003)) * 1e3, 3)
        0.09
    """
    rise = np.maximum(np.asarray(damper, dtype=np.float64), 0.0)
    return np.asarray(SWELLING * rise * walls_m)


def press_fit_pull_n(
    overlap_m: Values, diameter_m: float, walls_m: tuple[float, float], length_m: float
) -> Array:
    """Pull that draws a coupler out of a tube it is too large for.

    p = (overlap / 2) E / (r^2 (1/t1 + 1/t2)) between two thin rings; pull = FRICTION p 2 pi r L.

    Parameters
        overlap_m : float or array - coupler's outside diameter less tube's inside. [m]
        diameter_m : float - where they touch. [m]
        walls_m : (t1, t2) - of coupler and tube. [m]
        length_m : float - over which they touch. [m]
    Returns
        pull : array - [N]
    Raises
        nothing
    Validity
        Walls below a tenth of the radius; paper below a tenth of its strength.
    Source
        Thin ring under pressure (hoop strain p r / (t E)), derived.
    Example
        >>> round(float(press_fit_pull_n(2e-5, 0.06, (0.0015, 0.0015), 0.08)))
        91
    """
    radius, (inner, outer) = diameter_m / 2.0, walls_m
    overlap = np.maximum(np.asarray(overlap_m, dtype=np.float64), 0.0)
    pressure = overlap / 2.0 * PAPER_PA / (radius**2 * (1.0 / inner + 1.0 / outer))
    return np.asarray(FRICTION * pressure * 2.0 * pi * radius * length_m)
