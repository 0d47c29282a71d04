"""Which way the vents of a bay face: clear of the rail, and of fins that stand beside them.

Left out: what a hatch or a camera ahead of a vent does to the air at it.
"""

from math import degrees, pi, radians, tau

from goodflight.physics.vehicle.fins import fin_angles_rad, rail_guide_angle_rad, root_chord_m
from goodflight.physics.vehicle.parts import Bay, Fins, Rocket

DEEPEST_M = 0.02  # behind the front of the bay, where the vents are drilled


def vent_station_m(bay: Bay) -> float:
    """Station at which the vents of a bay are drilled [m].

    Parameters
        bay : Bay - with its vents. [-]
    Returns
        station : float - from the nose tip. [m]
    Source
        where the drawings put them; our choice.
    """
    return bay.station_m + min(DEEPEST_M, bay.length_m / 2.0)


def apart_rad(one_rad: float, other_rad: float) -> float:
    """Angle between two directions about the axis, 0 to pi [rad].

    Parameters
        one_rad, other_rad : float - directions. [rad]
    Returns
        angle : float - between them. [rad]
    Source
        Geometry.
    """
    return abs((one_rad - other_rad + pi) % tau - pi)


def vent_angles_rad(rocket: Rocket, bay: Bay) -> tuple[float, ...]:
    """Directions of a bay's vents about the axis, evenly spread, as far off the rail as can be.

    The line of the rail guides lies midway between two vents; one vent alone lies opposite to it.
    Where fins stand at the vents' station, of all turns by a degree the one that keeps farthest
    from guides and fins.

    Parameters
        rocket : Rocket - its fins say where the guides stand. [-]
        bay : Bay - its vents. [-]
    Returns
        angles : tuple of float - about the axis, from 0 to 2 pi, rising. [rad]
    Raises
        nothing
    Validity
        Vents of one size, evenly spread.
    Source
        Geometry; that a vent keeps clear of rail and fins is common practice, no source.
    Example
        >>> bay = Bay("b", 0.3, length_m=0.1, inner_diameter_m=0.076, vent_count=3)
        >>> rocket = Rocket("r", (Fins("f", 1.0, count=3), bay))
        >>> [round(degrees(angle)) for angle in vent_angles_rad(rocket, bay)]
        [0, 120, 240]
    """
    count = bay.vent_count
    if count < 1:
        return ()
    sets = list(rocket.of_kind(Fins))
    guides = rail_guide_angle_rad(sets)
    station, step = vent_station_m(bay), tau / count
    beside = [
        float(angle)
        for fins in sets
        if fins.station_m <= station <= fins.station_m + root_chord_m(fins)
        for angle in fin_angles_rad(fins)
    ]

    def spread(first: float) -> list[float]:
        return sorted((first + i * step) % tau for i in range(count))

    def clear(first: float) -> float:
        return round(min(apart_rad(a, b) for a in spread(first) for b in [guides, *beside]), 9)

    middle = guides + step / 2.0
    turns = [middle + radians(turn) for turn in range(round(degrees(step)))] if beside else [middle]
    return tuple(round(angle, 12) % tau for angle in spread(max(turns, key=clear)))
