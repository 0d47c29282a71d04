"""How much mass in one place brings a balance point where it is wanted.

Answers "how many grams in the nose?" The rocket keeps its shape; the mass added is a point.
"""

import math


def ballast_kg(mass_kg: float, cg_m: float, station_m: float, wanted_m: float) -> float:
    """Least mass at a station that moves the centre of gravity as far forward as wanted.

    Moments about the wanted balance point: m (wanted - station) = mass (cg - wanted).

    Parameters
        mass_kg : float - of the rocket as it is. [kg]
        cg_m : float - its balance point from the nose tip. [m]
        station_m : float - where the mass goes, from the nose tip. [m]
        wanted_m : float - balance point asked for, from the nose tip. [m]
    Returns
        added_kg : float - 0 where it balances there or farther forward already; infinite where no
        mass at that station does it. [kg]
    Raises
        nothing
    Validity
        A station ahead of the balance point.
    Source
        Law of the lever, derived.
    Example
        >>> ballast_kg(1.0, 1.0, 0.0, 0.8)
        0.25
    """
    if cg_m <= wanted_m:
        return 0.0
    if wanted_m <= station_m:
        return math.inf
    return mass_kg * (cg_m - wanted_m) / (wanted_m - station_m)
