"""How much room the recovery gear takes, so that the tube is cut long enough.

Left out: how a stack jams. One calibre of spare length is part of the rule.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]


@dataclass(frozen=True)
class PackMethod:
    """A way of packing cloth and cord and the density it gets."""

    key: str
    label: str
    low_kg_m3: float
    high_kg_m3: float
    source: str


PACK_METHODS: Final[dict[str, PackMethod]] = {
    method.key: method
    for method in (
        PackMethod("loose", "folded and rolled by hand", 160.0, 240.0, "common practice"),
        PackMethod("careful", "packed by hand with care", 320.0, 384.0, "Knacke 1991, memory"),
        PackMethod("pressed", "pressed, 15 psi", 481.0, 481.0, "trade page, seen"),
        PackMethod("hard", "pressed, 100 psi; nylon suffers", 721.0, 721.0, "trade page, seen"),
    )
}
DEFAULT_DENSITY_KG_M3: Final = 190.0  # folded and rolled, loose in the tube; common practice
DEFAULT_SIGMA: Final = 0.12  # relative; the loose range is 160 to 240
NYLON_KG_M3: Final = 1140.0  # solid; no pack can be denser. Textbook, memory


def packed_volume_m3(mass_kg: Values, density_kg_m3: Values = DEFAULT_DENSITY_KG_M3) -> Array:
    """Room a canopy or cord takes when packed: mass over pack density [m3]."""
    return np.asarray(mass_kg, dtype=np.float64) / density_kg_m3


def packed_length_m(volume_m3: Values, inner_diameter_m: Values) -> Array:
    """Length a packed volume takes in a tube: V/(pi/4 D^2) [m]."""
    area = pi / 4.0 * np.asarray(inner_diameter_m, dtype=np.float64) ** 2
    return np.asarray(volume_m3) / area


def needed_length_m(
    volumes_m3: Sequence[Values], inner_diameter_m: Values, spare_calibres: float = 1.0
) -> Array:
    """Free length a bay must have for everything in it, couplers and shoulders taken off first.

    L = sum of volumes / tube area + spare calibres x D.

    Parameters
        volumes_m3 : sequence of floats or arrays - packed volumes. [m3]
        inner_diameter_m : float or array - of the bay. [m]
        spare_calibres : float - spare length in tube diameters. [-]
    Returns
        length : array - needed. [m]
    Raises
        nothing
    Validity
        Packs as wide as the tube. A pack pushed in tight comes out late or not at all.
    Source
        Common practice, no source.
    Example
        >>> round(float(needed_length_m([0.0006, 0.0004], 0.076)), 3)
        0.296
    """
    total = np.zeros(())
    for volume in volumes_m3:
        total = total + np.asarray(volume, dtype=np.float64)
    return packed_length_m(total, inner_diameter_m) + spare_calibres * np.asarray(inner_diameter_m)
