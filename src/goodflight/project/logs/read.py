"""A log as a record of one flight, with what each column was taken for.

The bytes are read as they are; nothing is written. What is no flight is refused with the reason.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.recorded import Recorded
from goodflight.physics.recorded_events import LEAST_RISE_M, Events, events_of
from goodflight.physics.recorded_series import heights_of
from goodflight.project.logs.cells import Grid, LogRefused, grid_of
from goodflight.project.logs.meaning import LogColumn, meanings
from goodflight.project.logs.recordings import (
    LEAST_READINGS,
    Recording,
    SeveralFlights,
    flights_in,
    no_such,
    runs_of,
)
from goodflight.project.logs.sensors import (
    Clock,
    Times,
    axial_of,
    barometer_of,
    clock_of,
    times_of,
)

Array = NDArray[np.float64]

NOTHING: Final[Mapping[str, str]] = MappingProxyType({})
SLOWEST_CLIMB_MPS: Final = 20.0  # of a rocket's second; a lift, a drone or a pump is slower
FASTEST_CLIMB_MPS: Final = 700.0  # twice the speed of sound
AFTER_TOP_S: Final = 1.0  # of a log that is not cut off in the ascent


@dataclass(frozen=True, eq=False)
class LogRead:
    """A log, read.

    file : its name. shape : of its head, columns and delimiter; logs of one logger share it. said :
    what was done to read it. recording : which flight of the file. there : all flights of a file
    that holds several. first_line : of the file, of its first reading.
    """

    file: str
    recorded: Recorded
    events: Events
    columns: tuple[LogColumn, ...]
    shape: str
    said: tuple[str, ...]
    first_line: int = 1
    recording: int = 1
    there: tuple[Recording, ...] = ()


def read_log(
    raw: bytes,
    told: Mapping[str, str] = NOTHING,
    known: Mapping[str, Mapping[str, str]] = MappingProxyType({}),
    file: str = "",
    recording: int | None = None,
) -> LogRead:
    r"""Read the log of a flight.

    Parameters
        raw : bytes - the file as it is. [-]
        told : mapping - column by number or name -> what it is, "pressure Pa". [-]
        known : mapping - the same by shape, as told of other logs; `told` stands before it. [-]
        file : str - its name, to be shown. [-]
        recording : int or None - which flight of a file that holds several, from 1. [-]
    Returns
        read : LogRead - readings, events, what each column was taken for. [SI]
    Raises
        LogRefused - no table, no time, no working barometer, or not a flight; SeveralFlights -
            several flights in the file, and none chosen.
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
    return read_grid(grid, columns_of(grid, told, known), file, recording)


def columns_of(
    grid: Grid, told: Mapping[str, str], known: Mapping[str, Mapping[str, str]]
) -> tuple[LogColumn, ...]:
    """What the columns of a log are taken for, with what was told of them or of its like.

    Raises LogRefused where what was told cannot be.
    """
    return meanings(grid, {**known.get(shape_of(grid), {}), **told})


def read_grid(
    grid: Grid, columns: tuple[LogColumn, ...], file: str = "", recording: int | None = None
) -> LogRead:
    """The flight in a table whose columns are known; as `read_log`."""
    runs, said = runs_of(clock_of(grid, columns))
    parts = [part for run in runs for part in _parts(grid, columns, run)]
    found, refused = list[LogRead](), list[LogRefused]()
    for part in parts:
        try:
            found.append(_read(grid, columns, part, file, said))
        except LogRefused as error:
            refused.append(error)
    if not found:
        raise refused[max(range(len(parts)), key=lambda i: float(np.ptp(parts[i].seconds)))]
    whole = [each for each in found if not _cut(each)] or found
    if len(parts) == 1:
        if recording not in (None, 1):
            raise no_such(recording, ())
        return whole[0]
    there = tuple(_recording(number, each) for number, each in enumerate(whole, 1))
    if recording is None and len(whole) > 1:
        raise SeveralFlights(there)
    number = recording or 1
    if not 1 <= number <= len(whole):
        raise no_such(number, there)
    flights = "1 of them a whole flight" if len(whole) == 1 else f"{len(whole)} of them flights"
    chosen = "read: that" if len(whole) == 1 else f"chosen: {number}"
    words = f"{len(parts)} recordings in one file, {flights}; {chosen} {there[number - 1].words}"
    read = whole[number - 1]
    return replace(
        read, said=(*read.said, words), recording=number, there=there if len(whole) > 1 else ()
    )


def _parts(grid: Grid, columns: tuple[LogColumn, ...], run: Clock) -> list[Clock]:
    """One run of the clock, cut where a flight is over and another follows."""
    try:
        times = times_of(run)
        column, values = barometer_of(grid, columns, times)
    except LogRefused:  # told when it is read
        return [run]
    heights = heights_of(_bare(times, column, values))
    cuts = [] if heights is None else flights_in(times.seconds, heights)
    starts, ends = [-np.inf, *(start for _, start in cuts)], [*(end for end, _ in cuts), np.inf]
    since = run.seconds - run.seconds[0]
    parts = [
        run.part(np.flatnonzero((since >= a) & (since < b)))
        for a, b in zip(starts, ends, strict=True)
    ]
    return [each for each in parts if len(each.rows) >= LEAST_READINGS] or [run]


def _bare(times: Times, column: LogColumn, values: Array) -> Recorded:
    """Heights alone."""
    pressure = column.kind == "pressure"
    level = None if pressure else values - _level(values)
    return Recorded(times.seconds, values if pressure else None, level)


def _cut(read: LogRead) -> bool:
    """Whether a log ends before the rocket comes down."""
    top = read.events.happened.apogee_s
    last = float(read.recorded.time_s[-1]) - read.events.lift_off_s
    return top is None or last - top.value < AFTER_TOP_S


def _recording(number: int, read: LogRead) -> Recording:
    happened, time = read.events.happened, read.recorded.time_s
    assert happened.apogee_standard_m is not None and happened.apogee_s is not None
    return Recording(
        number,
        read.first_line,
        float(time[-1] - time[0]),
        happened.apogee_standard_m.value,
        happened.apogee_s.value,
    )


def _read(
    grid: Grid, columns: tuple[LogColumn, ...], part: Clock, file: str, said: Sequence[str]
) -> LogRead:
    """One recording as a flight."""
    times = times_of(part)
    column, values = barometer_of(grid, columns, times)
    bare = _bare(times, column, values)
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
        said=(*grid.said, *said, *times.said, *(axial[3] if axial else ())),
        first_line=int(grid.lines[times.rows[0]]),
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
