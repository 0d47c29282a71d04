"""The loop over an ensemble of flights, and one flight with its history."""

from typing import Any

import numba
import numpy as np

from goodflight.physics.flight.column import fill_column, ladder
from goodflight.physics.flight.compiled import compiled, compiled_owner, compiled_parallel
from goodflight.physics.flight.kernel import (
    HISTORY_COLUMNS,
    OUTCOME_COUNT,
    end_flight,
    fly_on,
    fly_one,
)
from goodflight.physics.flight.pad import set_ejection, start_flight
from goodflight.physics.flight.record import OVER, blank_record, new_flight


@compiled
def fly_alike(
    w: Any, branch: Any, flights: Any, out: Any, deployment: int, record: Any, tolerance: float
) -> None:
    """Fly flights that differ in `AFTER_ASCENT` alone, in the order of their ejection.

    One way up (w): shortly before each ejection a copy (branch) goes on from there, and takes the
    very steps that a flight of its own would.
    """
    last = len(flights) - 1
    w[OVER] = 0 if start_flight(deployment, w, out[last]) else 1
    for i in range(last):
        set_flight(flights[i], deployment, w, out[last])
        fly_on(w, out[last], deployment, record, 0.0, tolerance, True)
        for j in range(len(w)):
            branch[j] = w[j]
        for j in range(OUTCOME_COUNT):
            out[i, j] = out[last, j]
        fly_on(branch, out[i], deployment, record, 0.0, tolerance, False)
        end_flight(branch, out[i])
    if last > 0:
        set_flight(flights[last], deployment, w, out[last])
    fly_on(w, out[last], deployment, record, 0.0, tolerance, False)
    end_flight(w, out[last])


@compiled
def set_flight(p: Any, deployment: int, w: Any, out: Any) -> None:
    """Go on as another flight with the same way up."""
    for i in range(len(p)):
        w[i] = p[i]
    set_ejection(deployment, w, out)


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
    nothing = np.empty((0, HISTORY_COLUMNS))
    blank, rows = blank_record(curve, table, scalars, spacing), ladder(spacing)
    for i in numba.prange(len(starts) - 1):
        first, end = starts[i], starts[i + 1]
        w = new_flight(parameters[first], blank)
        fill_column(w, rows, seeds[first], turbulence)
        branch = w if end == first + 1 else w.copy()
        flights, found = parameters[first:end], out[first:end]
        fly_alike(w, branch, flights, found, deployment, nothing, tolerance)
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
