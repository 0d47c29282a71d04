"""The loop over flights: one compiled door, for an ensemble and for one flight's history.

Some flights at a time: each leaves the rail by itself, then all climb side by side, then all come
down side by side; one that is through a phase makes room for the next.
"""

from typing import Any

import numpy as np

from goodflight.physics.cores import on_cores
from goodflight.physics.flight.alike import (
    TRACK_COLUMNS,
    TRACK_ROOM,
    follow,
    may_follow,
    part_from,
)
from goodflight.physics.flight.block import enter
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.compiled import compiled, compiled_owner
from goodflight.physics.flight.history import HISTORY_COLUMNS
from goodflight.physics.flight.kernel import (
    DEPLOYED,
    OUTCOME_COUNT,
    TURBULENT,
    end_flight,
    fly_on,
    leave_rail,
)
from goodflight.physics.flight.launch import Launch
from goodflight.physics.flight.pad import start_flight
from goodflight.physics.flight.record import (
    BLOCK,
    BRANCHES,
    DESCENT,
    FREE,
    KEEPS,
    LANES,
    LINES,
    OPENED,
    OVER,
    PAUSED,
    PAUSES,
    PHASE,
    PLACE,
    SPACING,
    TRACK,
    fill_record,
)

ROOM = 32  # records at a time
_MIN_SHARE = 5  # ways up that are worth a thread, about a millisecond


@compiled
def start_runs(
    ws: Any,
    parameters: Any,
    blank: Any,
    air: Any,
    seeds: Any,
    ends: Any,
    out: Any,
    how: Any,
) -> None:
    """Set the first flight of each run on the pad, a record each."""
    for run in range(len(ends) - 1):
        w, first = ws[run], ends[run]
        fill_record(w, parameters[first], blank)
        fill_column(w, air, seeds[first], how[TURBULENT] != 0.0)
        w[PLACE], w[TRACK], w[BRANCHES] = first, run, ends[run + 1] - first - 1
        w[OVER] = 0 if start_flight(int(how[DEPLOYED]), w, out[first]) else 1


@compiled
def climb_all(
    ws: Any, parameters: Any, runs: int, rows: Any, out: Any, tracks: Any, how: Any, q: Any
) -> int:
    """Fly the ways up to their ejections, with those that part from them; how many flights now.

    Each leaves the rail by itself.
    """
    flying, following, count = 0, 0, runs
    while True:
        while flying < LANES and following < count:
            w = ws[following]
            while w[OVER] == 0 and w[PHASE] < FREE:
                leave_rail(w, out[int(w[PLACE])], tracks, how)
                if w[OVER] == 0 and w[PHASE] < FREE:  # an ejection on the rail
                    part_from(w, ws[count], parameters, out, how)
                    count += 1
            if w[OVER] == 0 and w[PHASE] == FREE:
                enter(w, q, flying)
                rows[flying] = following
                flying += 1
            following += 1
        if flying == 0:
            return count
        stopped = fly_on(FREE, ws, rows, flying, out, tracks, how, q)
        w = ws[rows[stopped]]
        if w[OVER] == 0 and w[PHASE] == FREE:
            part_from(w, ws[count], parameters, out, how)
            enter(w, q, stopped)
            count += 1
            continue
        flying = leave(ws, rows, flying, stopped, q)


@compiled
def leave(ws: Any, rows: Any, flying: int, stopped: int, q: Any) -> int:
    """Close the gap that a record leaves in the block; how many are left."""
    flying -= 1
    if stopped < flying:
        rows[stopped] = rows[flying]
        enter(ws[rows[stopped]], q, stopped)
    return flying


@compiled
def land_all(
    ws: Any, count: int, others: bool, ends: Any, rows: Any, out: Any, tracks: Any, how: Any, q: Any
) -> None:
    """Fly to the ground the first flight of each run, or all others."""
    flying, following = 0, 0
    while True:
        while flying < LANES and following < count:
            w = ws[following]
            if w[OVER] == 0 and (w[PLACE] != ends[int(w[TRACK])]) == others:
                enter(w, q, flying)
                rows[flying] = following
                flying += 1
            following += 1
        if flying == 0:
            return
        stopped = fly_on(DESCENT, ws, rows, flying, out, tracks, how, q)
        w = ws[rows[stopped]]
        if w[OVER] == PAUSED:
            track = tracks[int(w[TRACK])]
            follow(w, out[int(w[PLACE])], track, how)
        if w[OVER] != 0:
            flying = leave(ws, rows, flying, stopped, q)


@compiled
def keep_or_follow(
    ws: Any, count: int, ends: Any, parameters: Any, tracks: Any, others: bool
) -> None:
    """Tell the first flights of runs to keep their tracks, or the others to go on along them."""
    for row in range(count):
        w = ws[row]
        run, place = int(w[TRACK]), int(w[PLACE])
        first = ends[run]
        if ends[run + 1] == first + 1 or (place != first) != others:
            continue
        if not others:
            w[OPENED], tracks[run, 0, 0] = KEEPS, 0.0
        elif may_follow(parameters[place], parameters[first], tracks[run]):
            w[OPENED] = PAUSES


@compiled
def end_all(ws: Any, count: int, out: Any) -> None:
    """What is noted last; flights that never parted from one that ended came to what it did."""
    for row in range(count):
        w = ws[row]
        place = int(w[PLACE])
        end_flight(w, out[place])
        for i in range(int(w[BRANCHES])):
            for j in range(OUTCOME_COUNT):
                out[place + 1 + i, j] = out[place, j]


@compiled_owner
def fly_runs(
    parameters: Any,
    blank: Any,
    seeds: Any,
    starts: Any,
    out: Any,
    record: Any,
    how: Any,
) -> int:
    """Fly runs of flights with the same way up; fills out, and the record of one if `how` says so.

    starts : where in the parameters each run begins, and where the last ends. how : EVERY, ...
    Returns the length of the record.
    """
    air = ladder(blank[SPACING])
    runs = len(starts) - 1
    room, alone = ROOM, True
    for run in range(runs):
        alone = alone and starts[run + 1] == starts[run] + 1
        room = max(room, starts[run + 1] - starts[run])
    ws, rows, q = np.empty((room, len(blank))), np.empty(LANES, np.int64), np.zeros(BLOCK)
    tracks = record if alone else np.empty((room, TRACK_ROOM, TRACK_COLUMNS))
    first = 0
    while first < runs:
        end = first + 1
        while end < runs and starts[end + 1] - starts[first] <= room:
            end += 1
        ends = starts[first : end + 1]
        start_runs(ws, parameters, blank, air, seeds, ends, out, how)
        count = climb_all(ws, parameters, end - first, rows, out, tracks, how, q)
        for others in (False, True):
            keep_or_follow(ws, count, ends, parameters, tracks, others)
            land_all(ws, count, others, ends, rows, out, tracks, how, q)
        end_all(ws, count, out)
        first = end
    return int(ws[0, LINES])


def fly_all(
    parameters: Any,
    blank: Any,
    seeds: Any,
    starts: Any,
    launch: Launch,
) -> Any:
    """Outcomes (n, len(OUTCOMES)) of n flights, spread over the cores.

    blank : `record.blank_record`; starts : where each run of flights with the same way up begins,
    and n.
    """
    out = np.empty((len(parameters), OUTCOME_COUNT))
    none = np.empty((1, 0, HISTORY_COLUMNS))
    how = np.array([launch.deployment, 0.0, launch.tolerance, launch.turbulence])

    def fly(first: int, end: int) -> None:
        fly_runs(parameters, blank, seeds, starts[first : end + 1], out, none, how)

    on_cores(fly, len(starts) - 1, _MIN_SHARE)
    return out


def fly_recorded(p: Any, blank: Any, seed: int, launch: Launch, every: float, room: int) -> Any:
    """Outcomes and history of one flight."""
    out = np.empty((1, OUTCOME_COUNT))
    record = np.empty((1, room, HISTORY_COLUMNS))
    how = np.array([launch.deployment, every, launch.tolerance, launch.turbulence])
    seeds = np.array([seed], dtype=np.uint64)
    count = fly_runs(p[None, :], blank, seeds, np.arange(2), out, record, how)
    return out[0], record[0, :count]
