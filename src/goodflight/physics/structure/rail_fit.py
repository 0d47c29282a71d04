"""Whether guides go into the rail they will be used on, stay in it, and slide without sticking.

Geometry of a guide with a neck between the lips of a slot and a head behind them, of a lug on a
rod, and of fins beside the rail; statics of two guides beside the line of the thrust. Left out: a
bent or twisted rail, guides out of line with each other, wear, a rod that bends.
"""

from dataclasses import dataclass
from math import cos, pi, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

SLIDES_M: Final = 0.0002  # least play of what must slide; our guess: paint, dust, the calliper
HELD_M: Final = 0.001  # least a head reaches behind each lip; our guess
CLEAR_M: Final = 0.002  # least between rail and body or fins; our guess


@dataclass(frozen=True)
class Slot:
    """A slotted rail across: opening between the lips, their thickness, the room behind them."""

    opening_m: float
    lips_m: float
    inside_m: float
    depth_m: float  # from the face to the bottom


@dataclass(frozen=True)
class Guide:
    """One guide: the neck between the lips, the head behind them, its height above the body."""

    neck_m: float
    head_m: float
    head_height_m: float
    height_m: float


@dataclass(frozen=True)
class Play:
    """Room at one place, and the least it must be [m]."""

    place: str
    value_m: float
    least_m: float

    @property
    def enough(self) -> bool:
        """Whether it goes in there; a ten-thousandth of a millimetre is none."""
        return self.value_m >= self.least_m - 1e-7


def slot_plays(guide: Guide, slot: Slot, bulge_m: float = 0.0) -> tuple[Play, ...]:
    """Room of a guide in a slotted rail, place by place.

    Neck: opening - neck. Head: inside - head, and depth - lips - its height. Behind each lip:
    (head - opening) / 2. Body: height - head's height - lips - bulge, the head drawn against the
    lips.

    Parameters
        guide : Guide - its sizes. [m]
        slot : Slot - the rail's. [m]
        bulge_m : float - how far the body stands out beyond where the guides are. [m]
    Returns
        plays : tuple of Play - room and least room. [m]
    Raises
        nothing
    Validity
        A straight rail and guides in one line.
    Source
        Geometry; the least rooms are our guess.
    Example
        >>> plays = slot_plays(Guide(0.006, 0.012, 0.003, 0.010), Slot(0.0065, 0.002, 0.014, 0.006))
        >>> [round(1000 * each.value_m, 2) for each in plays]
        [0.5, 2.0, 1.0, 2.75, 5.0]
    """
    stands_off = guide.height_m - guide.head_height_m - slot.lips_m - bulge_m
    return (
        Play("neck between the lips", slot.opening_m - guide.neck_m, SLIDES_M),
        Play("head across the slot", slot.inside_m - guide.head_m, SLIDES_M),
        Play("head in its depth", slot.depth_m - slot.lips_m - guide.head_height_m, SLIDES_M),
        Play("head behind each lip", 0.5 * (guide.head_m - slot.opening_m), HELD_M),
        Play("body off the rail", stands_off, CLEAR_M),
    )


def lug_plays(bore_m: float, height_m: float, rod_m: float, bulge_m: float) -> tuple[Play, ...]:
    """Room of a lug on a rod: bore - rod; with a bulging body, height - bore - bulge too.

    Parameters
        bore_m : float - inside diameter of the lug. [m]
        height_m : float - of the lug above the body. [m]
        rod_m : float - diameter of the rod. [m]
        bulge_m : float - how far the body stands out beyond where the lugs are. [m]
    Returns
        plays : tuple of Play - room and least room. [m]
    Raises
        nothing
    Validity
        A straight rod; lugs in one line, of a thin wall.
    Source
        Geometry; the least rooms are our guess.
    Example
        >>> [round(1000 * each.value_m, 2) for each in lug_plays(0.0068, 0.008, 0.00635, 0.0)]
        [0.45]
    """
    plays = (Play("lug on the rod", bore_m - rod_m, SLIDES_M),)
    if bulge_m <= 0.0:
        return plays
    return (*plays, Play("body off the rod", height_m - bore_m - bulge_m, CLEAR_M))


def fin_play(
    apart_rad: float,
    radius_m: float,
    span_m: float,
    thickness_m: float,
    off_m: float,
    wide_m: float,
) -> Play | None:
    """Room between a fin and the near side of the rail, None where the fin ends before the rail.

    A fin at an angle from the guides' line reaches the face of the rail, off_m above the body, at
    (r + off) tan(angle) beside that line.

    Parameters
        apart_rad : float - angle between the fin and the guides' line. [rad]
        radius_m : float - of the body at the fins. [m]
        span_m : float - of the fin from the body. [m]
        thickness_m : float - of the fin. [m]
        off_m : float - between body and rail. [m]
        wide_m : float - width of the rail, or diameter of the rod. [m]
    Returns
        play : Play or None - room and least room. [m]
    Raises
        nothing
    Validity
        Flat fins square to the body.
    Source
        Geometry; the least room is our guess.
    Example
        >>> play = fin_play(pi / 8.0, 0.033, 0.08, 0.004, 0.006, 0.038)
        >>> play is not None and round(1000 * play.value_m, 2)
        -5.01
    """
    face_m = radius_m + off_m
    if apart_rad >= pi / 2.0 or (radius_m + span_m) * cos(apart_rad) <= face_m:
        return None
    beside = face_m * sin(apart_rad) / cos(apart_rad) - 0.5 * thickness_m / cos(apart_rad)
    return Play("fin beside the rail", beside - 0.5 * wide_m, CLEAR_M)


def sticking_reach_m(friction: Values, offset_m: float) -> Array:
    """Distance between two guides below which they stick, whatever the thrust: 2 mu e.

    The thrust, e beside the rail, turns the rocket against its guides: each bears F e / L, their
    friction is 2 mu F e / L, and at L = 2 mu e that is F.

    Parameters
        friction : float or array - coefficient between guide and rail mu. [-]
        offset_m : float - of the thrust's line from the rail e. [m]
    Returns
        reach : array - between the guides. [m]
    Raises
        nothing
    Validity
        Stiff guides, a straight rail.
    Source
        Statics; derived. The same as the ratio of 2 to 1 of sliding bearings at friction 0.25.
    Example
        >>> round(float(sticking_reach_m(0.25, 0.05)), 6)
        0.025
    """
    return 2.0 * np.asarray(friction, dtype=np.float64) * offset_m
