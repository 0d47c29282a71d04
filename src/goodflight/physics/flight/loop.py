"""The loop over flights: one compiled door, for an ensemble and for one flight's history."""

from typing import Any

import numpy as np

from goodflight.physics.cores import on_cores
from goodflight.physics.flight.alike import TRACK_COLUMNS, TRACK_ROOM, fly_alike
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.compiled import compiled_owner
from goodflight.physics.flight.kernel import HISTORY_COLUMNS, OUTCOME_COUNT
from goodflight.physics.flight.launch import Launch
from goodflight.physics.flight.record import SPACING, new_flight

_MIN_SHARE = 5  # ways up that are worth a thread, about a millisecond


@compiled_owner
def fly_runs(
    parameters: Any,
    blank: Any,
    seeds: Any,
    starts: Any,
    out: Any,
    record: Any,
    every: float,
    deployment: int,
    turbulence: bool,
    tolerance: float,
) -> int:
    """Fly runs of flights with the same way up; fills out, and with `every` the record of one.

    starts : where in the parameters each run begins, and where the last ends. Returns the length
    of the record.
    """
    count = 0
    rows = ladder(blank[SPACING])
    for i in range(len(starts) - 1):
        first, end = starts[i], starts[i + 1]
        w = new_flight(parameters[first], blank)
        fill_column(w, rows, seeds[first], turbulence)
        alone = end == first + 1
        branch = w if alone else w.copy()
        track = record if alone else np.empty((TRACK_ROOM, TRACK_COLUMNS))
        flights, found = parameters[first:end], out[first:end]
        count = fly_alike(w, branch, flights, found, deployment, track, every, tolerance)
    return count


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
    none = np.empty((0, HISTORY_COLUMNS))
    how = launch.deployment, launch.turbulence, launch.tolerance

    def fly(first: int, end: int) -> None:
        part = starts[first : end + 1]
        fly_runs(parameters, blank, seeds, part, out, none, 0.0, *how)

    on_cores(fly, len(starts) - 1, _MIN_SHARE)
    return out


def fly_recorded(p: Any, blank: Any, seed: int, launch: Launch, every: float, room: int) -> Any:
    """Outcomes and history of one flight."""
    out = np.empty((1, OUTCOME_COUNT))
    record = np.empty((room, HISTORY_COLUMNS))
    seeds = np.array([seed], dtype=np.uint64)
    starts = np.arange(2)
    how = launch.deployment, launch.turbulence, launch.tolerance
    count = fly_runs(p[None, :], blank, seeds, starts, out, record, every, *how)
    return out[0], record[:count]
