"""How straight a fin comes out of a guide of two plates that are keyed to each other.

Left out: bending of plates, keys and fins. A fin between two slots may lean by their clearance,
and by what one plate can turn against the other.
"""

from dataclasses import dataclass
from math import asin, sqrt


@dataclass(frozen=True)
class KeyedPlates:
    """Two plates that hold fins between them, keyed to each other.

    count : of fins, and of keys. key_radius_m : of the keys from the axis. apart_m : of the plates.
    cut_error_m : one standard deviation of a cut edge's place. stacked : both cut as one stack.
    """

    count: int
    key_radius_m: float
    apart_m: float
    cut_error_m: float
    stacked: bool = True


def key_turn_rad(clearance_m: float, key_radius_m: float) -> float:
    """Largest turn of one plate of a fin guide against the other, all keys in their slots.

    Keys of length w stand across the radius R in slots of length w + c. Any turn p, with any
    shift, moves at least one slot by R sin p along its key, as the shifts sum to zero over the
    keys; the key allows c (1 + sin p / 2): sin p <= c / (R - c/2).

    Parameters
        clearance_m : float - key slot longer than the key c, whole. [m]
        key_radius_m : float - of the keys from the axis R. [m]
    Returns
        turn : float - either way from true. [rad]
    Raises
        ValueError - clearance above half the radius
    Validity
        Two or more keys evenly spread, rigid, square to the plates, much longer than thick. A key
        that stands e off its middle changes the turn by its square times e / 2 R only.
    Source
        Derived.
    Example
        >>> round(key_turn_rad(0.0002, 0.1) * 180 / 3.141592653589793, 4)
        0.1147
    """
    if clearance_m > key_radius_m / 2.0:
        raise ValueError(
            f"a clearance of {1e3 * clearance_m:.1f} mm is too loose for keys at "
            f"{1e3 * key_radius_m:.1f} mm from the axis; give less than a millimetre."
        )
    return asin(clearance_m / (key_radius_m - clearance_m / 2.0))


def guided_cant_rad(clearance_m: float, turn_rad: float, radius_m: float, apart_m: float) -> float:
    """Steepest cant of one fin in the slots of a guide, by clearance alone.

    Where both slots hold the fin at one radius r, its middle lies within c / 2 of either slot's,
    and a turn p moves one slot by r p against the other: cant <= (c + r p) / a.

    Parameters
        clearance_m : float - slot wider than the fin c, whole. [m]
        turn_rad : float - of one plate against the other p; 0 for a guide in one piece. [rad]
        radius_m : float - from the axis, held in both slots r; the least such gives the bound. [m]
        apart_m : float - of the places held, along the axis a. [m]
    Returns
        cant : float - either way from true. [rad]
    Raises
        nothing
    Validity
        A flat fin that fills both slots at that radius; elsewhere it may do as it likes.
    Source
        Derived.
    Example
        >>> guided_cant_rad(0.0002, 0.002, 0.05, 0.1)
        0.003
    """
    return (clearance_m + turn_rad * radius_m) / apart_m


def guided_spread_rad(
    plates: KeyedPlates, clearance_m: float, turn_rad: float, radius_m: float
) -> tuple[float, float]:
    """Spread of the cant out of a keyed guide: of each fin by itself, and of all together.

    Clearance is taken as evenly spread within its bound (sigma = half width / sqrt 3); cut edges
    stray by `cut_error_m` each. Plates cut as one stack share the places of their slots, so only
    keys and clearance are left.

    Parameters
        plates : KeyedPlates - the guide as cut. [m]
        clearance_m : float - slot wider than what goes in, whole. [m]
        turn_rad : float - bound of one plate's turn against the other. [rad]
        radius_m : float - from the axis, middle of what both slots hold. [m]
    Returns
        single, common : float, float - one standard deviation each. [rad]
    Raises
        nothing
    Validity
        Plates square to the axis by the keys' shoulders.
    Source
        Derived; uniform spread c / sqrt 3.
    Example
        >>> guided_spread_rad(KeyedPlates(3, 0.1, 0.1, 0.0), 0.0, 0.0, 0.05)
        (0.0, 0.0)
    """
    edges = 1.0 if plates.stacked else 3.0
    cut = edges * plates.cut_error_m**2 / (plates.count * plates.key_radius_m**2)
    turn = sqrt(turn_rad**2 / 3.0 + cut)
    slots = 0.0 if plates.stacked else 2.0 * plates.cut_error_m**2
    single = sqrt(2.0 * (clearance_m / 2.0) ** 2 / 3.0 + slots) / plates.apart_m
    return single, turn * radius_m / plates.apart_m
