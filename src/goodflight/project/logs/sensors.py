"""One record of a flight from the columns of a log: its time base, barometer and accelerometer."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import FOOT_M
from goodflight.constants import STANDARD_GRAVITY_M_S2 as GRAVITY
from goodflight.physics.recorded_series import rocket_axis, thrust_onset
from goodflight.project.logs.cells import Grid, LogRefused
from goodflight.project.logs.meaning import SCALES, SENSIBLE_PA, LogColumn

Array = NDArray[np.float64]

DAY_S: Final = 86_400.0
LONGEST_S: Final = 6 * 3600.0  # of a log as one unit of time or another has it
STUCK: Final = 0.2  # share of readings at one limit: the sensor was at its end
AT_REST: Final = (0.7, 1.3)  # of gravity: of an accelerometer that shows it
COUNTERS: Final = (2.0**16, 2.0**32)  # where clocks of instruments start again


@dataclass(frozen=True, eq=False)
class Times:
    """Seconds of the rows that are kept, strictly rising."""

    seconds: Array
    rows: NDArray[np.int64]
    column: LogColumn
    said: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Clock:
    """Seconds of every row that has a time, counters that ran over counted on."""

    seconds: Array
    rows: NDArray[np.int64]
    column: LogColumn
    said: tuple[str, ...]

    def part(self, rows: NDArray[np.int64] | slice) -> "Clock":
        """Some of the rows, in their order."""
        return replace(self, seconds=self.seconds[rows], rows=self.rows[rows])


def clock_of(grid: Grid, columns: tuple[LogColumn, ...]) -> Clock:
    """The times of a log.

    Raises LogRefused without any.
    """
    column = _time_column(grid, columns)
    values = grid.values[:, column.number - 1]
    rows = np.flatnonzero(np.isfinite(values))
    values = values[rows]
    if not column.unit:
        column = _time_unit(column, values)
    values, turned = _unwound(values, DAY_S if column.unit == "h:min:s" else 0.0)
    said = (f"the clock starts again {turned} times; counted on",) if turned else ()
    return Clock(values * column.scale, rows, replace(column, used=True), said)


def times_of(clock: Clock) -> Times:
    """The time base of one recording, in which the clock does not go back.

    Raises LogRefused for one too short or too long to be a flight.
    """
    (seconds, repeated), rows, column = _spread(clock.seconds), clock.rows, clock.column
    said = [*clock.said, *([f"{repeated} repeated times spread evenly"] if repeated else [])]
    keep = np.r_[True, np.diff(seconds) > 0.0]
    seconds, rows = seconds[keep] - seconds[0], rows[keep]
    if len(seconds) < 20 or seconds[-1] < 2.0:
        raise LogRefused(
            f"a log of {seconds[-1]:.3g} s in {len(seconds)} readings",
            "a flight: 5 s and more",
            f'check the unit of its time, like --column "{column.number}=time ms"',
            "log",
        )
    if seconds[-1] > DAY_S:
        raise LogRefused(
            f"a log of {seconds[-1] / DAY_S:.3g} days",
            "a flight: hours at most",
            f'check the unit of its time, like --column "{column.number}=time ms"',
            "log",
        )
    said += _gaps(seconds)
    return Times(seconds, rows, column, tuple(said))


def _time_column(grid: Grid, columns: tuple[LogColumn, ...]) -> LogColumn:
    def rising(column: LogColumn) -> float:
        known = grid.values[:, column.number - 1]
        steps = np.diff(known[np.isfinite(known)])
        even = len(steps) > 20 and (steps >= 0.0).mean() > 0.9
        return float((steps > 0.0).mean()) if even else 0.0

    named = [each for each in columns if each.kind == "time"]
    told = [each for each in named if each.sensor == "told"]
    good = [each for each in named if rising(each) > 0.01]
    if told or good:
        return (told or sorted(good, key=lambda each: (each.worked_out, rising(each) < 0.5)))[0]
    raise LogRefused(
        "no column of times",
        "one that rises from reading to reading",
        'say which it is, like --column "1=time ms"',
        "log",
    )


def _time_unit(column: LogColumn, values: Array) -> LogColumn:
    """Unit of times by their steps: 1 to 500 readings a second, and a log of at most hours."""
    steps = np.diff(values)
    usual = float(np.median(steps[steps > 0.0])) if (steps > 0.0).any() else 1.0
    span = float(np.ptp(values))
    for symbol in ("s", "ms", "us", "ns"):
        _, scale = SCALES["time"][symbol]
        if 5e-4 < usual * scale < 2.0 and span * scale < LONGEST_S:
            because = f"{column.because}; the unit from its steps"
            return replace(column, unit=symbol, scale=scale, because=because)
    raise LogRefused(
        f"times that step by {usual:.3g}",
        "s, ms, us or ns",
        f'say their unit, like --column "{column.number}=time ms"',
        "log",
    )


def _unwound(values: Array, day: float) -> tuple[Array, int]:
    """Counters that ran over, and midnight, counted on."""
    steps = np.diff(values)
    usual = float(np.median(np.abs(steps))) if len(steps) else 0.0
    turned, added = 0, np.zeros(len(values))
    for size in (*COUNTERS, *((day,) if day else ())):
        over = np.flatnonzero((steps < -0.9 * size) & (np.abs(steps + size) < 20.0 * usual))
        for at in over:
            added[at + 1 :] += size
        turned += len(over)
    return values + added, turned


def _spread(seconds: Array) -> tuple[Array, int]:
    """Repeated times set evenly between those that differ."""
    first = np.r_[True, np.diff(seconds) > 0.0]
    if first.all():
        return seconds, 0
    at = np.flatnonzero(first)
    if len(at) < 2:
        return seconds, 0
    spread = np.interp(np.arange(len(seconds)), at, seconds[at])
    after = np.arange(len(seconds)) > at[-1]  # the last one repeated: as the steps before it
    step = float(seconds[at[-1]] - seconds[at[0]]) / max(1, at[-1] - at[0])
    return spread + np.where(after, (np.arange(len(seconds)) - at[-1]) * step, 0.0), int(
        (~first).sum()
    )


def _gaps(seconds: Array) -> list[str]:
    steps = np.diff(seconds)
    usual = float(np.median(steps))
    wide = np.flatnonzero(steps > max(10.0 * usual, 0.5))
    if not len(wide):
        return []
    most = int(wide[np.argmax(steps[wide])])
    count = "1 gap," if len(wide) == 1 else f"{len(wide)} gaps, the longest"
    return [f"{count} {steps[most]:.2g} s at {seconds[most]:.1f} s"]


def barometer_of(
    grid: Grid, columns: tuple[LogColumn, ...], times: Times
) -> tuple[LogColumn, Array]:
    """The first barometer that lives, else heights as the logger worked them out.

    Raises LogRefused where there is none, with what is wrong with each.
    """
    wrong = []
    for column in _in_turn(columns, "pressure"):
        values = grid.values[times.rows, column.number - 1] * column.scale
        fault = _barometer_fault(grid, columns, column, values)
        if not fault:
            return replace(column, used=True), np.where(_inside(values), values, np.nan)
        wrong.append(f"{_called(column)}: {fault}")
    if not wrong:
        for column in _in_turn(columns, "height"):
            values = grid.values[times.rows, column.number - 1]
            if np.isfinite(values).sum() >= 20:
                united = _height_unit(column, times.seconds, values)
                return replace(united, used=True), values * united.scale
    found = "; ".join([*wrong, *saturated_words(grid, columns)])
    raise LogRefused(
        f"no height: {found or 'no column of pressures or heights'}",
        "a barometer that works, or heights",
        "this is no record of a flight; if a column was misread, say what it is: "
        '--column "3=pressure Pa"',
        "log",
    )


def _called(column: LogColumn) -> str:
    return f"column {column.number}" + (f" {column.name}" if column.name else "")


def _in_turn(columns: tuple[LogColumn, ...], kind: str) -> list[LogColumn]:
    """Told ones alone where there are; sensors before what the logger worked out."""
    found = [each for each in columns if each.kind == kind]
    told = [each for each in found if each.sensor == "told"]
    return told or sorted(found, key=lambda each: each.worked_out)


def _inside(pascals: Array) -> NDArray[np.bool_]:
    low, high = SENSIBLE_PA
    return np.asarray((pascals > low) & (pascals < high))


def _barometer_fault(
    grid: Grid, columns: tuple[LogColumn, ...], column: LogColumn, pascals: Array
) -> str:
    """What is wrong with a barometer, in words; empty = it lives."""
    known = pascals[np.isfinite(pascals)]
    if len(known) < 20:
        return "hardly any readings"
    middle = float(np.median(known))
    if not column.unit or not SENSIBLE_PA[0] < middle < SENSIBLE_PA[1]:
        return f"dead or another unit, its middle is {middle / max(column.scale, 1e-12):.6g}"
    if _inside(known).mean() < 0.5:
        return "most readings are no air pressure"
    if float(np.ptp(known)) == 0.0:
        return "it stands still"
    own = [
        each
        for each in columns
        if each.kind == "temperature" and column.sensor and column.sensor in each.name
    ]
    for each in own:
        warm = grid.values[:, each.number - 1]
        if np.isfinite(warm).any() and float(np.nanmin(warm)) == float(np.nanmax(warm)) == 0.0:
            return (
                f"its own temperature ({each.name}) stands at 0, so its pressure is not worked out"
            )
    return ""


def _height_unit(column: LogColumn, seconds: Array, values: Array) -> LogColumn:
    """Feet or metres where that is not written: the coast curves by gravity."""
    if column.unit:
        return column
    fall = _curve_at_top(seconds, values)
    if fall is not None and abs(fall) > 1.9 * GRAVITY:
        words = (
            f"{column.because}; feet, as it curves by {abs(fall):.0f} a second squared at the top"
        )
        return replace(column, unit="ft", scale=FOOT_M, because=words)
    sure = fall is not None and abs(fall) > 0.5 * GRAVITY
    words = (
        "metres, as it curves by gravity at the top" if sure else "metres taken, none is written"
    )
    return replace(column, unit="m", scale=1.0, because=f"{column.because}; {words}")


def _curve_at_top(seconds: Array, values: Array) -> float | None:
    known = np.isfinite(values)
    time, height = seconds[known], values[known]
    top = int(np.argmax(height))
    near = (time > time[top] - 2.5) & (time <= time[top])
    if near.sum() < 5:
        return None
    return 2.0 * float(np.polyfit(time[near] - time[top], height[near], 2)[0])


def accelerometers(
    grid: Grid, columns: tuple[LogColumn, ...]
) -> list[tuple[tuple[LogColumn, ...], Array]]:
    """Each accelerometer's columns and readings (rows, axes) in m/s2."""
    found: dict[str, list[LogColumn]] = {}
    for column in _in_turn(columns, "acceleration"):
        if not column.worked_out:
            found.setdefault(column.sensor, []).append(column)
    sensors = []
    for each in found.values():
        mine = tuple(each[:3])
        values = np.column_stack([grid.values[:, one.number - 1] * one.scale for one in mine])
        if not all(one.unit for one in mine):
            mine, values = _acceleration_unit(mine, values)
        sensors.append((mine, values))
    return sensors


def _acceleration_unit(
    columns: tuple[LogColumn, ...], values: Array
) -> tuple[tuple[LogColumn, ...], Array]:
    """Unit by what the sensor shows at rest: 1 in units of gravity, 9.8 in m/s2."""
    size = np.linalg.norm(values[:50], axis=1)
    size = size[np.isfinite(size)]
    rest = float(np.median(size)) if len(size) else 0.0
    for symbol in ("gee", "m/s2", "mg", "ft/s2"):
        _, scale = SCALES["acceleration"][symbol]
        if AT_REST[0] < rest * scale / GRAVITY < AT_REST[1]:
            words = "its name; the unit from its reading at rest"
            return tuple(
                replace(each, unit=symbol, scale=scale, because=words) for each in columns
            ), values * scale
    return tuple(replace(each, because="its name; no unit fits it at rest") for each in columns), (
        np.full_like(values, np.nan)
    )


def limit_of(values: Array) -> float | None:
    """The reading a sensor does not go beyond, where it was met three times or more."""
    size = np.abs(values[np.isfinite(values)])
    if not len(size):
        return None
    most = float(size.max())
    return most if most > 2.0 * GRAVITY and (size > 0.9999 * most).sum() >= 3 else None


def saturated_words(grid: Grid, columns: tuple[LogColumn, ...]) -> list[str]:
    """Accelerometers that stand at their limit, in words."""
    said = []
    for mine, values in accelerometers(grid, columns):
        for i, column in enumerate(mine):
            limit = limit_of(values[:, i])
            share = 0.0 if limit is None else float((np.abs(values[:, i]) > 0.9999 * limit).mean())
            if limit is not None and share > STUCK:
                said.append(
                    f"{_called(column)}: {100 * share:.0f} in 100 readings at its limit of "
                    f"{limit:.0f} m/s2"
                )
    return said


def axial_of(
    grid: Grid, columns: tuple[LogColumn, ...], times: Times, rise: slice
) -> tuple[tuple[LogColumn, ...], Array, float | None, list[str]] | None:
    """The accelerometer along the rocket: the finest one that stays inside its range in the thrust.

    rise : rows of `times` in which the rocket leaves the pad.
    """
    best = None
    for mine, every in accelerometers(grid, columns):
        values = every[times.rows]
        strength = np.linalg.norm(values, axis=1)
        onset = thrust_onset(times.seconds[rise], strength[rise])
        if onset is None:
            continue
        onset += rise.start
        end = int(np.searchsorted(times.seconds, times.seconds[onset] + 0.5))
        axis = rocket_axis(values, onset, max(1, end - onset))
        if axis is None:
            continue
        burn = np.abs(
            values[onset : int(np.searchsorted(times.seconds, times.seconds[onset] + 6.0))]
        )
        limit = limit_of(values)
        full = limit is not None and bool((burn > 0.999 * limit).sum() > 3)
        said = (
            [f"{_called(mine[0])}: at its limit of {limit:.0f} m/s2 in the thrust"] if full else []
        )
        found = tuple(replace(each, used=True) for each in mine), values @ axis, limit, said
        if not full:
            return found
        best = best or found
    return best
