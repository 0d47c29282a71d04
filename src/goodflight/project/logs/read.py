"""A log as a record of one flight, with what each column was taken for.

The bytes are read as they are; nothing is written. What is no flight is refused with the reason.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.recorded import Recorded
from goodflight.physics.recorded_events import LEAST_RISE_M, Events, events_of
from goodflight.physics.recorded_series import heights_of
from goodflight.project.logs.cells import Grid, LogRefused, grid_of
from goodflight.project.logs.meaning import LogColumn, meanings
from goodflight.project.logs.sensors import Times, axial_of, barometer_of, times_of

Array = NDArray[np.float64]

NOTHING: Final[Mapping[str, str]] = MappingProxyType({})
SLOWEST_CLIMB_MPS: Final = 20.0  # of a rocket's second; a lift, a drone or a pump is slower
FASTEST_CLIMB_MPS: Final = 700.0  # twice the speed of sound


@dataclass(frozen=True, eq=False)
class LogRead:
    """A log, read.

    file : its name. shape : of its head, columns and delimiter; logs of one logger share it. said :
    what was done to read it.
    """

    file: str
    recorded: Recorded
    events: Events
    columns: tuple[LogColumn, ...]
    shape: str
    said: tuple[str, ...]


def read_log(
    raw: bytes,
    told: Mapping[str, str] = NOTHING,
    known: Mapping[str, Mapping[str, str]] = MappingProxyType({}),
    file: str = "",
) -> LogRead:
    r"""Read the log of a flight.

    Parameters
        raw : bytes - the file as it is. [-]
        told : mapping - column by number or name -> what it is, "pressure Pa". [-]
        known : mapping - the same by shape, as told of other logs; `told` stands before it. [-]
        file : str - its name, to be shown. [-]
    Returns
        read : LogRead - readings, events, what each column was taken for. [SI]
    Raises
        LogRefused - no table, no time, no working barometer, or not a flight.
    Validity
        Tables of up to 200 columns, 4 readings a second or more.
    Source
        Practice.
    Example
        >>> heights = [max(0.0, 300.0 - 4.9 * (t / 10 - 12.0) ** 2) for t in range(250)]
        >>> rows = [f"{t / 10},{height:.1f}" for t, height in enumerate(heights)]
        >>> read = goodflight.read_log("\n".join(["time_s,height_m", *rows]).encode())
        >>> round(read.events.happened.apogee_standard_m.value)
        300
    """
    grid = grid_of(raw)
    return read_grid(grid, columns_of(grid, told, known), file)


def columns_of(
    grid: Grid, told: Mapping[str, str], known: Mapping[str, Mapping[str, str]]
) -> tuple[LogColumn, ...]:
    """What the columns of a log are taken for, with what was told of them or of its like.

    Raises LogRefused where what was told cannot be.
    """
    return meanings(grid, {**known.get(shape_of(grid), {}), **told})


def read_grid(grid: Grid, columns: tuple[LogColumn, ...], file: str = "") -> LogRead:
    """The flight in a table whose columns are known; as `read_log`."""
    times = times_of(grid, columns)
    column, values = barometer_of(grid, columns, times)
    pressure = column.kind == "pressure"
    bare = Recorded(
        times.seconds, values if pressure else None, None if pressure else values - _level(values)
    )
    axial = axial_of(grid, columns, times, _rise(bare))
    recorded = Recorded(
        bare.time_s,
        bare.pressure_pa,
        bare.standard_height_m,
        None if axial is None else axial[1],
        None if axial is None else axial[2],
    )
    events = _flight(recorded, grid, columns, times)
    used = {each.number: each for each in (times.column, column, *(axial[0] if axial else ()))}
    return LogRead(
        file=file,
        recorded=recorded,
        events=events,
        columns=tuple(used.get(each.number, each) for each in columns),
        shape=shape_of(grid),
        said=(*grid.said, *times.said, *(axial[3] if axial else ())),
    )


def shape_of(grid: Grid) -> str:
    """What logs of one logger share, in 12 characters."""
    words = "\n".join((grid.delimiter, str(grid.values.shape[1]), *grid.names, *grid.units))
    return hashlib.sha256(words.encode("utf-8", "replace")).hexdigest()[:12]


def _level(values: Array) -> float:
    known = values[np.isfinite(values)]
    return float(np.median(known[:20])) if len(known) else 0.0


def _rise(bare: Recorded) -> slice:
    """Rows from a little before the rocket leaves the pad to its highest reading."""
    height = heights_of(bare)
    if height is None or not np.isfinite(height).any():
        return slice(0, len(bare.time_s))
    smooth = np.where(np.isfinite(height), height, np.nanmin(height))
    top = int(np.argmax(smooth))
    low = smooth[: top + 1] <= smooth[: top + 1].min() + 0.3 * float(np.ptp(smooth[: top + 1]))
    start = bare.time_s[int(np.flatnonzero(low)[-1])] - 8.0
    return slice(int(np.searchsorted(bare.time_s, start)), top + 1)


def _flight(recorded: Recorded, grid: Grid, columns: tuple[LogColumn, ...], times: Times) -> Events:
    """The events, or why this is no flight."""
    advice = "take the log of the flight; a ground or bench test says nothing of it"
    events = events_of(recorded)
    if events is None:
        raise LogRefused(f"no rise by {LEAST_RISE_M:.0f} m or more", "a flight", advice, "log")
    climb = events.climb_mps
    if climb < SLOWEST_CLIMB_MPS:
        raise LogRefused(
            f"a climb of {climb:.1f} m/s at most", "a rocket's, which is faster", advice, "log"
        )
    if climb > FASTEST_CLIMB_MPS:
        raise LogRefused(
            f"a climb of {climb:.0f} m/s",
            "a rocket's, which is slower",
            f'check what its columns are, like --column "{times.column.number}=time ms"',
            "log",
        )
    return events
