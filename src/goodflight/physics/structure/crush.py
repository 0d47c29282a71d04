"""What a tail's edge and a nose stand when they meet the ground: the wall crushed along the axis.

Left out: buckling of long thin tubes, dents that fold.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

EDGE_SHARE: Final = 0.5  # of the tail's edge that takes the blow, tilted on soft ground; our guess
OF_BENDING: Final = 0.6  # crushing strength over bending strength, our guess
LAYERS: Final = 0.62  # what layer lines leave of a print, 0.57 to 0.68, derived
NOSE_SHARE: Final = 0.25  # of the base's width where the nose meets the ground, see below
CRUSH_PA: Final[dict[str, float]] = {  # by family of material
    "kraft": 10.1e6,  # five spiral paper tubes along their axis [tezuka1990], seen
    "pla": LAYERS * 53e6,  # Processes 13(9) 2733 (2025), seen
    "petg": LAYERS * 50e6,  # same
    "abs": LAYERS * 40e6,  # same
}


def crush_pa(family: str, bending_strength_pa: float | None) -> float | None:
    """Crushing strength of a wall along its axis, by family of material.

    Known families from CRUSH_PA, others OF_BENDING of the bending strength.

    Parameters
        family : str - a key of CRUSH_PA, or "" for another. [-]
        bending_strength_pa : float or None - None when it is not known. [Pa]
    Returns
        strength : float or None - None when nothing tells. [Pa]
    Raises
        nothing
    Validity
        Order of size; damp paper loses 10 % per 1 % of moisture.
    Source
        See CRUSH_PA.
    Example
        >>> crush_pa("kraft", None), crush_pa("", 100e6), crush_pa("", None)
        (10100000.0, 60000000.0, None)
    """
    if family in CRUSH_PA:
        return CRUSH_PA[family]
    return None if bending_strength_pa is None else OF_BENDING * bending_strength_pa


def edge_area_m2(outer_diameter_m: float, wall_m: float) -> float:
    """Section of a tube's edge that takes the blow of a tilted touch-down.

    EDGE_SHARE x pi (D - wall) wall.

    Parameters
        outer_diameter_m : float - of the tube D. [m]
        wall_m : float - of the tube. [m]
    Returns
        area : float - that bears. [m2]
    Source
        Geometry; the share is our guess.
    """
    return EDGE_SHARE * pi * (outer_diameter_m - wall_m) * wall_m


def nose_area_m2(diameter_m: float, wall_m: float) -> float:
    """Section of a nose's wall where it meets the ground.

    pi (d - wall) wall at d = a quarter of the base: half the base radius stands for every shape a
    tenth of the way down, and blunt ones stand more. At least two walls wide.

    Parameters
        diameter_m : float - of the nose. [m]
        wall_m : float - of the nose, above zero. [m]
    Returns
        area : float - that bears. [m2]
    Source
        Geometry; derived.
    """
    across = max(NOSE_SHARE * diameter_m, 2.0 * wall_m)
    return pi * (across - wall_m) * wall_m


def crush_force_n(strength_pa: Values, area_m2: Values, factor: Values = 1.0) -> Array:
    """Force that crushes a section: strength x area x factor [N].

    Parameters
        strength_pa : float or array - along the axis. [Pa]
        area_m2 : float or array - that bears. [m2]
        factor : float or array - scatter of the strength. [-]
    Returns
        force : array - at which the wall folds. [N]
    Source
        Definition of the strength.
    """
    return np.asarray(strength_pa * np.asarray(area_m2, dtype=np.float64) * factor)
