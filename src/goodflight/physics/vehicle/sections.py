"""The rocket in sections: which share of its mass lies where.

Answers: how much comes down with the tail, how much with the nose? Of a mass that is known only as
a whole, how much lies ahead of a cut? Left out: parts that lie across the cut, which count where
their centre lies.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle.mass import MassItem

Array = NDArray[np.float64]


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


def share_ahead(balance_m: Array | float, fore_m: Array | float, aft_m: Array | float) -> Array:
    """Share of a mass ahead of a cut, from where all of it balances and where each side does.

    f x_f + (1 - f) x_a = x: f = (x_a - x) / (x_a - x_f).

    Parameters
        balance_m : array or float - of all of it x. [m]
        fore_m : array or float - of what lies ahead of the cut x_f. [m]
        aft_m : array or float - of what lies behind it x_a, further aft. [m]
    Returns
        share : array - 0 to 1; the nearer end where no share gives that balance. [-]
    Raises
        nothing
    Validity
        Exact for the places given; what these are worth is drawn.
    Source
        Moments of two masses.
    Example
        >>> round(float(share_ahead(0.90, 0.45, 1.20)), 9)
        0.4
    """
    aft = np.asarray(aft_m, dtype=np.float64)
    return np.asarray(np.clip((aft - balance_m) / (aft - fore_m), 0.0, 1.0))
