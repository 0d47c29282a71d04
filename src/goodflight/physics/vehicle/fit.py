"""Whether a motor goes into its mount, and how far couplers reach into the tubes they join.

Answers how long a motor may be before it meets a bulkhead, a coupler, a narrow ring, the nose or
a bay, how much of it its tube holds, how much play it has, and how deep a coupler sits. Geometry
only; how well an adapter, a thrust ring or a coupler's wall holds is not judged here.
"""

from dataclasses import dataclass
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part

TOUCHING_M: Final = 0.0005  # half a millimetre: the accuracy of a tape
LOOSE_M: Final = 0.0015  # play of a motor in its tube beyond which it needs an adapter; practice


@dataclass(frozen=True)
class Ahead:
    """A part that a longer motor would meet.

    end_m : where it ends towards the tail, from the nose tip. solid : the motor cannot pass it;
    otherwise it is a room that the motor would take up.
    """

    part: Part
    end_m: float
    solid: bool


def ahead_of_motor(rocket: p.Rocket, diameter_m: float, aft_m: float) -> tuple[Ahead, ...]:
    """What a motor can meet on its way forward, the nearest first.

    A bulkhead and a coupler with bulkheads close the body; a ring or an open coupler stops what is
    wider than its bore; an electronics bay and the nose are closed, any other bay is room that
    something else needs.

    Parameters
        rocket : Rocket - the rocket without its motor. [-]
        diameter_m : float - outside of the motor's case. [m]
        aft_m : float - station of the motor's aft end. [m]
    Returns
        found : tuple of Ahead - with the station where each ends. [m]
    Validity
        Parts on the axis that begin ahead of the motor's aft end; added masses have no shape and
        are left out.
    Source
        Geometry, derived.
    Example
        >>> from goodflight.physics.vehicle.parts import Bulkhead, Rocket
        >>> plate = Bulkhead("plate", 0.5, thickness_m=0.006, diameter_m=0.07)
        >>> ahead_of_motor(Rocket("short", (plate,)), 0.038, 1.0)[0].end_m
        0.506
    """
    found = []
    for part in rocket.parts:
        stops = part.stops(diameter_m)
        if stops is not None and part.station_m < aft_m:
            found.append(Ahead(part, part.end_m, stops))
    return tuple(sorted(found, key=lambda each: -each.end_m))


def motor_room_m(ahead: tuple[Ahead, ...], aft_m: float) -> float:
    """How long a motor may be before it meets the nearest part ahead of it.

    Parameters
        ahead : tuple of Ahead - as `ahead_of_motor` finds them. [m]
        aft_m : float - station of the motor's aft end. [m]
    Returns
        room_m : float - from the aft end to the part, to the nose tip when there is none; below 0
            when the part reaches behind the motor's aft end. [m]
    Source
        Geometry, derived.
    Example
        >>> motor_room_m((), 1.2)
        1.2
    """
    return aft_m - max((each.end_m for each in ahead), default=0.0)


def held_m(tube: p.MotorTube, length_m: float) -> float:
    """How much of a motor's length lies in its tube.

    Parameters
        tube : MotorTube - with the station of the motor's aft end. [m]
        length_m : float - of the motor's case. [m]
    Returns
        held_m : float - 0 when none of it does. [m]
    Source
        Geometry, derived.
    Example
        >>> from goodflight.physics.vehicle.parts import MotorTube
        >>> mount = MotorTube("mount", 1.0, length_m=0.26, motor_aft_m=1.26)
        >>> round(held_m(mount, 0.9), 3), round(held_m(mount, 0.2), 3)
        (0.26, 0.2)
    """
    front = max(tube.station_m, tube.motor_aft_m - length_m)
    return max(0.0, min(tube.station_m + tube.length_m, tube.motor_aft_m) - front)


def coupler_depths_m(rocket: p.Rocket, coupler: p.Coupler) -> tuple[float, float] | None:
    """How far a coupler reaches into the bodies ahead of and behind the joints it spans.

    A joint is an end of a tube, or where the rocket separates. A short tube round its middle (a
    switch band) holds nothing: ahead counts from the foremost joint, behind from the aftmost.

    Parameters
        rocket : Rocket - with its tubes and where it separates. [-]
        coupler : Coupler - one of it. [-]
    Returns
        depths_m : (float, float) or None - ahead and behind; None where it spans no joint. [m]
    Source
        Geometry, derived.
    Example
        >>> from goodflight.physics.vehicle.parts import Coupler, Rocket, Tube
        >>> fore, aft = Tube("fore", 0.2, length_m=0.3), Tube("aft", 0.5, length_m=0.4)
        >>> within = Coupler("joins", 0.44, length_m=0.16)
        >>> [round(each, 3) for each in coupler_depths_m(Rocket("two", (fore, aft)), within)]
        [0.06, 0.1]
    """
    start, end = coupler.station_m, coupler.station_m + coupler.length_m
    ends = [rocket.separation_station_m, rocket.main_station_m]
    for tube in rocket.of_kind(p.Tube):
        ends += [tube.station_m, tube.station_m + tube.length_m]
    met = [each for each in ends if each is not None and start < each < end]
    return (min(met) - start, end - max(met)) if met else None
