"""The rocket in sections: which share of its mass lies where.

Answers: how much comes down with the tail, how much with the nose? Left out: parts that lie across
the cut, which count where their centre lies.
"""

from collections.abc import Sequence

from goodflight.physics.vehicle.mass import MassItem


def share_aft(items: Sequence[MassItem], station_m: float) -> float:
    """Share of the mass whose centre lies at or behind a station.

    Parameters
        items : sequence of MassItem - everything the rocket consists of. [kg, m]
        station_m : float - of the cut, from the nose tip. [m]
    Returns
        share : float - 0 to 1; 1 for a rocket without mass. [-]
    Raises
        nothing
    Validity
        Centres only.
    Source
        Sum of masses.
    Example
        share_aft(items, 0.5)
    """
    whole = sum(item.mass_kg for item in items)
    if whole <= 0.0:
        return 1.0
    return sum(item.mass_kg for item in items if item.station_m >= station_m) / whole
