"""The rocket in sections: which share of its mass lies where.

Answers: how much comes down with the tail, how much with the nose? Of a mass that is known only as
a whole, how much lies ahead of a cut? Which parts go with the coupler that reaches over it? Left
out: other parts that lie across the cut, which count where their centre lies.
"""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import MassItem
from goodflight.physics.vehicle.part import Part

Array = NDArray[np.float64]
BY_PLACE: Final[Mapping[str, bool]] = MappingProxyType({})


def ahead_by_coupler(rocket: p.Rocket, station_m: float, coupler_stays: bool) -> dict[str, bool]:
    """Parts whose side of a cut is told by what they are fixed in, not by where they lie.

    A coupler over the cut goes with the half it is glued into, whole, and takes along what lies in
    it: sled, battery, bulkheads. The nose keeps what lies in its shoulder.

    Parameters
        rocket : Rocket - with its parts. [-]
        station_m : float - of the cut, from the nose tip. [m]
        coupler_stays : bool - whether couplers over it are fixed in what lies ahead. [-]
    Returns
        ahead : dict - name to whether it goes with what lies ahead. [-]
    Raises
        nothing
    Validity
        A mass or a bulkhead lies in a coupler when its middle does, it is no longer than the
        coupler and no wider. Cloth, cord and what is wrapped round a canopy are packed.
    Source
        Geometry, derived.
    Example
        >>> from goodflight.physics.vehicle.parts import AddedMass, Coupler, Rocket
        >>> joins = Coupler("joins", 0.40, length_m=0.20, outer_diameter_m=0.1)
        >>> sled = AddedMass("sled", 0.50, mass_kg=0.2, length_m=0.08, radius_m=0.04)
        >>> ahead_by_coupler(Rocket("two", (joins, sled)), 0.5, True)
        {'joins': True, 'sled': True}
    """
    found = dict[str, bool]()
    for nose in rocket.of_kind(p.Nose):
        radius = nose.shoulder_diameter_m / 2.0
        for part in _within(rocket, nose.end_m, nose.shoulder_length_m, radius):
            found[part.name] = True
    for coupler in rocket.of_kind(p.Coupler):
        if spans(coupler, station_m):
            found[coupler.name] = coupler_stays
            radius = coupler.outer_diameter_m / 2.0
            for part in _within(rocket, coupler.station_m, coupler.length_m, radius):
                found[part.name] = coupler_stays
    return found


def spans(coupler: p.Coupler, station_m: float) -> bool:
    """Whether a coupler reaches over a station.

    Parameters
        coupler : Coupler - with its place. [m]
        station_m : float - from the nose tip. [m]
    Returns
        spans : bool - true where it begins ahead of the station and ends behind it. [-]
    Validity
        A coupler that only touches the station does not reach over it.
    Source
        Geometry.
    Example
        spans(coupler, 0.4)
    """
    return coupler.station_m < station_m < coupler.end_m


def _within(rocket: p.Rocket, fore_m: float, length_m: float, radius_m: float) -> list[Part]:
    """Masses and bulkheads inside a coupler or shoulder."""
    masses = [m for m in rocket.of_kind(p.AddedMass) if m.role not in ("wrap", "whole")]
    out: list[Part] = []
    for part in (*masses, *rocket.of_kind(p.Bulkhead)):
        middle, wide_m = part.station_m + 0.5 * part.along_m, 0.5 * part.diameters_m[0]
        lies = fore_m < middle < fore_m + length_m and part.along_m <= length_m
        if lies and wide_m <= radius_m:
            out.append(part)
    return out


def share_aft(
    items: Sequence[MassItem], station_m: float, ahead: Mapping[str, bool] = BY_PLACE
) -> float:
    """Share of the mass whose centre lies at or behind a station.

    Parameters
        items : sequence of MassItem - everything the rocket consists of. [kg, m]
        station_m : float - of the cut, from the nose tip. [m]
        ahead : mapping - parts whose side is told by what they are fixed in. [-]
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
    behind = [i for i in items if not ahead.get(i.name, i.station_m < station_m)]
    return sum(item.mass_kg for item in behind) / whole


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
