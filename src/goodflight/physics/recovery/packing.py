"""How much room the recovery gear takes, so that the tube is cut long enough.

Left out: how a stack jams. One calibre of spare length is part of the rule.
"""

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
SPARE_CALIBRES: Final = 1.0  # of spare length a bay should have, common practice, no source
GUESS_FACTOR: Final = 3.0  # a length from mass and density scatters this much more
WRAP_KG_M3: Final = 500.0  # blankets wrapped flat, links, protectors; our guess
OUT_LENGTHS: Final = 3.0  # a pack that left its tube counts as out by this many lengths
PACK_CD: Final = 0.8  # bluff bundle end on, on the tube's section; our guess
LAP: Final = 1.25  # blanket over the skin of the pack; our guess
NYLON_KG_M3: Final = 1140.0  # solid; no pack can be denser. Textbook, memory

# room of a pack that 15 psi of gas presses together, over that of its solid cloth
PRESSED_ROOM: Final = NYLON_KG_M3 / PACK_METHODS["pressed"].low_kg_m3


def packed_volume_m3(mass_kg: Values, density_kg_m3: Values = DEFAULT_DENSITY_KG_M3) -> Array:
    """Room a canopy or cord takes when packed: mass over pack density [m3].

    Parameters
        mass_kg : float or array - of cloth or cord. [kg]
        density_kg_m3 : float or array - of the pack. [kg/m3]
    Returns
        volume : array - packed. [m3]
    Source
        Definition; densities in PACK_METHODS.
    """
    return np.asarray(mass_kg, dtype=np.float64) / density_kg_m3


def packed_length_m(volume_m3: Values, inner_diameter_m: Values) -> Array:
    """Length a packed volume takes in a tube: V/(pi/4 D^2) [m].

    Parameters
        volume_m3 : float or array - packed. [m3]
        inner_diameter_m : float or array - of the tube D. [m]
    Returns
        length : array - along the tube. [m]
    Source
        Geometry.
    """
    area = pi / 4.0 * np.asarray(inner_diameter_m, dtype=np.float64) ** 2
    return np.asarray(volume_m3) / area


def blanket_needed_m2(
    diameter_m: Values, length_m: Values, lap_error: Values = 0.0, room: Values = 1.0
) -> Array:
    """Area of blanket that wraps a packed canopy: skin and one end, with lap.

    LAP pi d (l + d / 2) x room; the lap never below once round.

    Parameters
        diameter_m : float or array - of the pack d. [m]
        length_m : float or array - of the pack l. [m]
        lap_error : float or array - drawn, about zero. [-]
        room : float or array - drawn size of the pack, about 1. [-]
    Returns
        area : array - of cloth. [m2]
    Raises
        nothing
    Validity
        A round pack, both ends a quarter of a circle's worth of folds.
    Source
        Geometry; LAP is our guess.
    Example
        >>> round(float(blanket_needed_m2(0.1, 0.15, -0.25)), 5)
        0.06283
    """
    wide = np.asarray(diameter_m, dtype=np.float64)
    lap = np.maximum(LAP + np.asarray(lap_error), 1.0)
    return np.asarray(lap * (pi * wide * (np.asarray(length_m) + wide / 2.0)) * room)


def stack_length_m(stated_m: Values, guessed_m: Values, room: Values) -> Array:
    """Length of a stack of packed gear by the drawn room it takes.

    stated x room + guessed x (1 + GUESS_FACTOR (room - 1)).

    Parameters
        stated_m : float or array - lengths measured packed. [m]
        guessed_m : float or array - lengths from mass and density. [m]
        room : float or array - drawn, about 1. [-]
    Returns
        length : array - of the stack. [m]
    Raises
        nothing
    Validity
        Guessed lengths keep at least a tenth.
    Source
        Our guess.
    Example
        >>> round(float(stack_length_m(0.2, 0.1, 1.1)), 9)
        0.35
    """
    spread = np.asarray(room, dtype=np.float64)
    guessed = np.maximum(1.0 + GUESS_FACTOR * (spread - 1.0), 0.1)
    return np.asarray(stated_m * spread + guessed_m * guessed)


def reach_m(cleared_s: Values, reach: Values, pack_m: Values) -> Array:
    """How far a pack comes out of its tube: OUT_LENGTHS of its lengths once it has left.

    Parameters
        cleared_s : float or array - when it left; not finite = it never did. [s]
        reach : float or array - how far it came. [m]
        pack_m : float or array - its length. [m]
    Returns
        reach : array - out of the tube. [m]
    Source
        our choice; a pack that left is out.
    """
    return np.where(np.isfinite(cleared_s), OUT_LENGTHS * np.asarray(pack_m), reach)


def pack_drag_area_m2(section_m2: Values, factor: Values = 1.0) -> Array:
    """Drag area of a packed bundle that flies end on: PACK_CD x section of its tube [m2].

    Parameters
        section_m2 : float or array - of the tube. [m2]
        factor : float or array - drawn, about 1. [-]
    Returns
        area : array - drag over dynamic pressure. [m2]
    Source
        our guess.
    """
    return np.asarray(PACK_CD * np.asarray(section_m2, dtype=np.float64) * factor)


def bay_length_m(stack_m: Values, inner_diameter_m: Values) -> Array:
    """Length a bay should have: its stack and SPARE_CALIBRES of spare [m].

    Parameters
        stack_m : float or array - stacked length. [m]
        inner_diameter_m : float or array - of the bay. [m]
    Returns
        length : array - behind coupler or shoulder. [m]
    Source
        common practice, no source.
    """
    return np.asarray(stack_m + SPARE_CALIBRES * np.asarray(inner_diameter_m, dtype=np.float64))


def section_m2(inner_diameter_m: float) -> float:
    """Cross-section of a bay: pi/4 D^2 [m2].

    Parameters
        inner_diameter_m : float - of the bay D. [m]
    Returns
        area : float - clear. [m2]
    Source
        Geometry.
    """
    return pi / 4.0 * inner_diameter_m**2
