"""The loop over an ensemble of flights, and one flight with its history."""

from typing import Any

import numba
import numpy as np

from goodflight.physics.flight.alike import TRACK_COLUMNS, TRACK_ROOM, fly_alike
from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.compiled import compiled_owner, compiled_parallel
from goodflight.physics.flight.kernel import HISTORY_COLUMNS, OUTCOME_COUNT, fly_one
from goodflight.physics.flight.record import blank_record, new_flight


@compiled_parallel
def fly_all(
    parameters: Any,
    curve: Any,
    table: Any,
    scalars: Any,
    spacing: float,
    seeds: Any,
    starts: Any,
    deployment: int,
    turbulence: bool,
    tolerance: float,
) -> Any:
    """Outcomes (n, len(OUTCOMES)) of n flights, spread over the cores.

    starts : where each run of flights with the same way up begins, and n.
    """
    out = np.empty((len(parameters), OUTCOME_COUNT))
    blank, rows = blank_record(curve, table, scalars, spacing), ladder(spacing)
    for i in numba.prange(len(starts) - 1):
        first, end = starts[i], starts[i + 1]
        w = new_flight(parameters[first], blank)
        fill_column(w, rows, seeds[first], turbulence)
        alone = end == first + 1
        branch = w if alone else w.copy()
        track = np.empty((0 if alone else TRACK_ROOM, TRACK_COLUMNS))
        flights, found = parameters[first:end], out[first:end]
        fly_alike(w, branch, flights, found, deployment, track, tolerance)
    return out


@compiled_owner
def fly_recorded(
    p: Any,
    curve: Any,
    table: Any,
    scalars: Any,
    spacing: float,
    seed: Any,
    deployment: int,
    turbulence: bool,
    tolerance: float,
    every: float,
    room: int,
) -> Any:
    """Outcomes and history of one flight."""
    out = np.empty(OUTCOME_COUNT)
    record = np.empty((room, HISTORY_COLUMNS))
    w = new_flight(p, blank_record(curve, table, scalars, spacing))
    fill_column(w, ladder(spacing), seed, turbulence)
    count = fly_one(w, out, deployment, record, every, tolerance)
    return out, record[:count]
