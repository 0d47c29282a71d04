"""A look at the columns of a log before a flight is made of them: to be confirmed or corrected."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from goodflight.project.logs.cells import LogRefused, grid_of
from goodflight.project.logs.meaning import KINDS, SCALES, LogColumn
from goodflight.project.logs.read import NOTHING, LogRead, columns_of, read_grid, shape_of
from goodflight.project.logs.recordings import Recording, SeveralFlights

CHOICES: Final = (  # all that a column can be said to be
    *(
        f"{kind} {symbol}"
        for kind in KINDS
        if kind in SCALES
        for symbol in dict.fromkeys(symbol for symbol, _ in SCALES[kind].values())
    ),
    "ignore",
)


@dataclass(frozen=True, eq=False)
class LogLook:
    """A log as it was read, or its columns and why it is no flight.

    ranges : lowest and highest number of each column, None where it has none. read : None where it
    is refused; refused : the reason. there : all flights of a file that holds several.
    """

    columns: tuple[LogColumn, ...]
    ranges: tuple[tuple[float, float] | None, ...]
    shape: str
    said: tuple[str, ...]
    read: LogRead | None
    refused: LogRefused | None
    there: tuple[Recording, ...] = ()


def look_at(
    raw: bytes,
    told: Mapping[str, str] = NOTHING,
    known: Mapping[str, Mapping[str, str]] = MappingProxyType({}),
    file: str = "",
    recording: int | None = None,
) -> LogLook:
    """Read a log, and keep what its columns were taken for where it is no flight.

    Parameters
    ----------
    raw, told, known, file, recording : as `read_log` takes them.

    Raises
    ------
    LogRefused - it is no table of numbers at all, or what was told cannot be.
    """
    grid = grid_of(raw)
    columns, shape = columns_of(grid, told, known), shape_of(grid)
    values = [column[np.isfinite(column)] for column in grid.values.T]
    ranges = tuple((float(each.min()), float(each.max())) if len(each) else None for each in values)
    try:
        read = read_grid(grid, columns, file, recording)
    except LogRefused as error:
        return LogLook(
            columns=columns,
            ranges=ranges,
            shape=shape,
            said=grid.said,
            read=None,
            refused=error,
            there=error.there if isinstance(error, SeveralFlights) else (),
        )
    return LogLook(
        columns=read.columns,
        ranges=ranges,
        shape=shape,
        said=read.said,
        read=read,
        refused=None,
        there=read.there,
    )
