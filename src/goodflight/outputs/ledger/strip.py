"""A strip of characters that shows where the demand of all flights lies against the capacity.

The strip is turned so that failing is always to the right of the mark. Density is shown by the
weight of the tick, the spread of the capacity by a light band; no colour is needed to read it.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.reserve import sign_of
from goodflight.studies.results import Row

Role = Literal["blank", "demand", "fails", "capacity", "band"]
DENSITY: Final = (0.0, 0.12, 0.4, 0.75)  # of the fullest cell; each step is a heavier tick


@dataclass(frozen=True)
class Cell:
    """One character cell: what stands there, and how heavy (0 ... 4)."""

    role: Role
    weight: int = 0


@dataclass(frozen=True, eq=False)
class Strip:
    """What stands in each cell from left to right.

    ticks : weight (0 ... 4) of the flights in each cell.
    band : first and last cell of the middle 90 % of the capacity.
    mark : cell of the capacity's middle.
    left, right : the values at the ends, in the row's unit.
    """

    ticks: NDArray[np.int64]
    band: tuple[int, int]
    mark: int
    left: float
    right: float

    @property
    def cells(self) -> tuple[Cell, ...]:
        """The cells one by one."""
        return tuple(self._cell(i, tick) for i, tick in enumerate(self.ticks.tolist()))

    def _cell(self, i: int, tick: int) -> Cell:
        if i == self.mark:
            return Cell("capacity", tick)
        if tick:
            return Cell("fails" if i > self.mark else "demand", tick)
        first, last = self.band
        return Cell("band" if first <= i <= last else "blank")


def strip(row: Row, width: int) -> Strip | None:
    """Lay the flights of a row on `width` cells; None when there is nothing to show."""
    demand = row.demand[np.isfinite(row.demand)]
    capacity = row.capacity[np.isfinite(row.capacity)]
    if demand.size == 0 or capacity.size == 0:
        return None
    sign = sign_of(row.more_is_worse)
    low, high = _range(sign * demand, sign * capacity, width)
    ticks = _weights(sign * demand, low, high, width)
    first, mark, last = (
        _cell(value, low, high, width) for value in _points(sign * capacity, 0.05, 0.5, 0.95)
    )
    return Strip(ticks, (first, last), mark, sign * low, sign * high)


def _range(
    demand: NDArray[np.float64], capacity: NDArray[np.float64], width: int
) -> tuple[float, float]:
    """Ends of the axis: both clouds with a little air; far outliers may fall on the last cell."""
    d_low, d_high = _points(demand, 0.002, 0.998)
    c_low, c_high = _points(capacity, 0.02, 0.98)
    low, high = float(min(d_low, c_low)), float(max(d_high, c_high))
    span = high - low or max(abs(high), 1.0) * 0.1
    air = 1.5 * span / width
    # a figure that is never negative has no axis below 0
    first = 0.0 if 0.0 <= low < air else low - air
    last = 0.0 if -air < high <= 0.0 else high + air
    return first, last


def _points(values: NDArray[np.float64], *shares: float) -> list[float]:
    """Quantiles, linear between the flights; the same as numpy's, many times quicker."""
    ordered, last = np.sort(values), values.size - 1
    found = []
    for share in shares:
        below = int(share * last)
        here, above = float(ordered[below]), float(ordered[min(below + 1, last)])
        found.append(here + (share * last - below) * (above - here))
    return found


def _cell(value: float, low: float, high: float, width: int) -> int:
    return min(width - 1, max(0, int((value - low) / (high - low) * width)))


def _weights(values: NDArray[np.float64], low: float, high: float, width: int) -> NDArray[np.int64]:
    places = ((values - low) * (width / (high - low))).astype(np.int64)
    counts = np.bincount(np.clip(places, 0, width - 1), minlength=width)
    share = counts / counts.max()
    return np.asarray(np.searchsorted(DENSITY, share, side="left"), dtype=np.int64)
