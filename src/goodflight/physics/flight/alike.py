"""Flights that differ from ejection on alone: one way up, and under full canopies one way down.

Under full canopies the wind holds a rocket: whatever came before is forgotten within some seconds,
and from then on place and time go on as those of another flight of the same canopies in the same
air did. So the first flight keeps where it was after each step (its track), and each other one
flies until it is as fast as the first was at the same height, within the error of one step; the
rest of its way is the first one's.
"""

from typing import Any

import numpy as np

from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.events import GROUND
from goodflight.physics.flight.kernel import (
    OUTCOME_COUNT,
    end_flight,
    fly_on,
    handle_event,
)
from goodflight.physics.flight.pad import set_ejection, start_flight
from goodflight.physics.flight.record import (
    DESCENT_COUNT,
    KEEPS,
    NOW,
    OPENED,
    OVER,
    PAUSED,
    PAUSES,
    SEEK,
    Y,
)
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.flight.stepper import SCALE

TRACK_ROOM = 1000  # steps; a longer descent is followed by none
TRACK_COLUMNS = 1 + DESCENT_COUNT  # moment, place, velocity
SETTLES_S = 2.0  # under full canopies, before a flight is first held against the track
_DRAGS = np.array(
    [PARAMETER_INDEX[name] for name in ("tumble_area_m2", "canopy_area_m2", "main_area_m2")]
)


@compiled
def fly_alike(
    w: Any,
    branch: Any,
    flights: Any,
    out: Any,
    deployment: int,
    track: Any,
    every: float,
    tolerance: float,
) -> int:
    """Fly flights that differ in `AFTER_ASCENT` alone, in the order of their ejection.

    One way up (w): shortly before each ejection a copy (branch) goes on from there, and takes the
    very steps that a flight of its own would until it is on the track of the first. A flight alone
    fills the track as a record of its history, if `every` says so; returns the record's length.
    """
    last, count = len(flights) - 1, 0
    w[OVER] = 0 if start_flight(deployment, w, out[last]) else 1
    for i in range(last):
        set_flight(flights[i], deployment, w, out[last])
        fly_on(w, out[last], deployment, track, 0.0, tolerance, True)
        for j in range(len(w)):
            branch[j] = w[j]
        for j in range(OUTCOME_COUNT):
            out[i, j] = out[last, j]
        if i == 0:
            branch[OPENED] = KEEPS
            count = fly_on(branch, out[i], deployment, track, 0.0, tolerance, False)
        else:
            follow(branch, flights[0], out[i], deployment, track, count, 0.0, tolerance)
        end_flight(branch, out[i])
    if last > 0:
        set_flight(flights[last], deployment, w, out[last])
    count = follow(w, flights[0], out[last], deployment, track, count, every, tolerance)
    end_flight(w, out[last])
    return count


@compiled
def set_flight(p: Any, deployment: int, w: Any, out: Any) -> None:
    """Go on as another flight with the same way up."""
    for i in range(len(p)):
        w[i] = p[i]
    set_ejection(deployment, w, out)


@compiled
def follow(
    w: Any,
    p: Any,
    out: Any,
    deployment: int,
    track: Any,
    count: int,
    every: float,
    tolerance: float,
) -> int:
    """Fly to the ground, on the track of the flight with parameters p as soon as it is on it.

    Returns the length of the record that a flight alone leaves.
    """
    landed = 0 < count < len(track) and track[count - 1, 3] < 1e-6
    same = True
    for i in _DRAGS:
        same = same and w[i] == p[i]
    w[OPENED] = PAUSES if landed and same else 0
    written = fly_on(w, out, deployment, track, every, tolerance, False)
    k = -1  # place of the track that is tried
    while w[OVER] == PAUSED:
        w[OVER] = 0
        if k >= 0 and is_on(track[k], w, tolerance):
            w[NOW] += track[count - 1, 0] - track[k, 0]
            w[Y] += track[count - 1, 1] - track[k, 1]
            w[Y + 1] += track[count - 1, 2] - track[k, 2]
            for i in range(2, DESCENT_COUNT):
                w[Y + i] = track[count - 1, 1 + i]
            handle_event(GROUND, deployment, w, out)
            w[OVER] = 1
            break
        below = w[Y + 2] + min(w[Y + 5], 0.0) * SETTLES_S
        k += 1
        while k < count - 1 and track[k, 3] >= below:
            k += 1
        w[SEEK] = track[k, 3] if k < count - 1 else 0.0
        fly_on(w, out, deployment, track, every, tolerance, False)
    return written


@compiled
def is_on(place: Any, w: Any, tolerance: float) -> bool:
    """Whether a flight is as fast as the track at the same height, within one step's error."""
    apart = 0.0
    for i in range(3, DESCENT_COUNT):
        apart = max(apart, abs(w[Y + i] - place[1 + i]) / (SCALE[i] + abs(place[1 + i])))
    return apart <= tolerance
