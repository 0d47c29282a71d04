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
from goodflight.physics.flight.kernel import DEPLOYED, OUTCOME_COUNT, TOLERATED, handle_event
from goodflight.physics.flight.pad import set_ejection
from goodflight.physics.flight.record import (
    BRANCHES,
    DESCENT_COUNT,
    NOW,
    OVER,
    PLACE,
    SEEK,
    TRACED,
    Y,
)
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.flight.stepper import SCALE

TRACK_ROOM = 1000  # lines: how many follow, then a step each; a longer descent is followed by none
TRACK_COLUMNS = 1 + DESCENT_COUNT  # moment, place, velocity
SETTLES_S = 2.0  # under full canopies, before a flight is first held against the track
_DRAGS = np.array(
    [PARAMETER_INDEX[name] for name in ("tumble_area_m2", "canopy_area_m2", "main_area_m2")]
)


@compiled
def part_from(w: Any, branch: Any, parameters: Any, outs: Any, how: Any) -> None:
    """Let a copy go on as the flight whose ejection is next; the record as the flight after it."""
    i = int(w[PLACE])
    for j in range(len(w)):
        branch[j] = w[j]
    branch[BRANCHES] = 0
    for j in range(OUTCOME_COUNT):
        outs[i + 1, j] = outs[i, j]
    w[PLACE] = i + 1
    w[BRANCHES] -= 1
    for j in range(parameters.shape[1]):
        w[j] = parameters[i + 1, j]
    set_ejection(int(how[DEPLOYED]), w, outs[i + 1])


@compiled
def may_follow(p: Any, first: Any, track: Any) -> bool:
    """Whether a flight with parameters p may come upon the track that the first one left."""
    count = int(track[0, 0])
    same = 0 < count < len(track) - 1 and track[count, 3] < 1e-6
    for i in _DRAGS:
        same = same and p[i] == first[i]
    return same


@compiled
def follow(w: Any, out: Any, track: Any, how: Any) -> None:
    """Go on from a pause: to the ground as the track does if on it, else to its next height."""
    w[OVER] = 0
    last, k = int(track[0, 0]), int(w[TRACED])
    if k > 0 and is_on(track[k], w, how[TOLERATED]):
        w[NOW] += track[last, 0] - track[k, 0]
        w[Y] += track[last, 1] - track[k, 1]
        w[Y + 1] += track[last, 2] - track[k, 2]
        for i in range(2, DESCENT_COUNT):
            w[Y + i] = track[last, 1 + i]
        handle_event(GROUND, int(how[DEPLOYED]), w, out)
        w[OVER] = 1
        return
    below = w[Y + 2] + min(w[Y + 5], 0.0) * SETTLES_S
    k += 1
    while k < last and track[k, 3] >= below:
        k += 1
    w[SEEK] = track[k, 3] if k < last else 0.0
    w[TRACED] = k


@compiled
def is_on(place: Any, w: Any, tolerance: float) -> bool:
    """Whether a flight is as fast as the track at the same height, within one step's error."""
    apart = 0.0
    for i in range(3, DESCENT_COUNT):
        apart = max(apart, abs(w[Y + i] - place[1 + i]) / (SCALE[i] + abs(place[1 + i])))
    return apart <= tolerance
