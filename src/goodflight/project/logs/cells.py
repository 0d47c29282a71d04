"""A log as a table of numbers: encoding, delimiter, decimal sign and header found by content."""

import re
from collections import Counter
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.project.folder import LARGEST_LOG
from goodflight.quantity import Refused

Array = NDArray[np.float64]

MOST_COLUMNS: Final = 200
LEAST_ROWS: Final = 40  # fewer are no flight: 4 a second for 10 s
WIDEST: Final = 1e30  # beyond: no reading
DELIMITERS: Final = (",", ";", "\t", "|", " ")
_DELIMITER_WORDS: Final = {
    ",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars", " ": "spaces",
}  # fmt: skip
_CLOCK: Final = re.compile(
    r"(?:\d{2,4}[-/.]\d\d?[-/.]\d{2,4}[T ])?(?:(\d{1,2}):)?(\d{1,3}):(\d\d(?:[.,]\d+)?)"
    r"(?:Z|[+-]\d\d:?\d\d)?"
)
_WITH_UNIT: Final = re.compile(r"([-+]?\d[\d.,]*(?:[eE][-+]?\d+)?)\s*([^\d\s,;.].{0,11})")
_LOOKS: Final = 80  # lines that tell the delimiter


class LogRefused(Refused, ValueError):  # noqa: N818
    """A file that is no log of a flight, with the reason."""


@dataclass(frozen=True, eq=False)
class Grid:
    """A table of numbers.

    values : (rows, columns), NaN where no number stands. clocks : columns written as hours, minutes
    and seconds. texts : columns that hold words. rows : line of the file of each row, from 1.
    """

    names: tuple[str, ...]
    units: tuple[str, ...]
    values: Array
    clocks: frozenset[int]
    texts: frozenset[int]
    lines: NDArray[np.int64]
    delimiter: str
    said: tuple[str, ...]


def grid_of(raw: bytes) -> Grid:
    """The table in the bytes of a log.

    Raises LogRefused where there is none.
    """
    if len(raw) > LARGEST_LOG:
        advice = "cut it down to the flight, in a copy"
        raise LogRefused(f"a log of {len(raw)} bytes", f"at most {LARGEST_LOG}", advice)
    text, said = _decoded(raw)
    lines = text.splitlines()
    filled = [number for number, line in enumerate(lines) if line.strip()]
    if len(filled) < LEAST_ROWS:
        raise LogRefused(
            f"{len(filled)} lines with something in them",
            f"{LEAST_ROWS} readings or more",
            "take the table that the logger gives, whole",
        )
    delimiter, width = _delimiter([lines[i] for i in filled])
    first = _first_row(lines, filled, delimiter, width)
    names, units = _head(lines, filled, first, delimiter, width)
    rows, where, odd = [], [], 0
    for number in filled[filled.index(first) :]:
        cells = _split(lines[number], delimiter)
        if (len(cells) < width and number != filled[-1]) or not _numbers(cells, delimiter):
            odd += 1
            continue
        rows.append((cells + [""] * width)[:width])
        where.append(number + 1)
    if len(rows) < LEAST_ROWS:
        raise LogRefused(
            f"{len(rows)} rows of numbers",
            f"{LEAST_ROWS} readings or more",
            "take the table that the logger gives, whole",
        )
    said = [*said, f"columns parted by {_DELIMITER_WORDS[delimiter]}"]
    left = "1 line that is no reading" if odd == 1 else f"{odd} lines that are no readings"
    said += [f"{left} left out"] if odd else []
    columns = [_column([row[i] for row in rows], delimiter) for i in range(width)]
    found = [unit or column[1] for unit, column in zip(units, columns, strict=True)]
    return Grid(
        names=names,
        units=tuple(found),
        values=np.column_stack([column[0] for column in columns]),
        clocks=frozenset(i for i, column in enumerate(columns) if column[1] == "clock"),
        texts=frozenset(i for i, column in enumerate(columns) if np.isnan(column[0]).all()),
        lines=np.array(where),
        delimiter=delimiter,
        said=tuple(said),
    )


def _decoded(raw: bytes) -> tuple[str, list[str]]:
    zeros = raw[:4000].count(0)
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        text, kind = raw.decode("utf-16", "replace"), "UTF-16"
    elif zeros > 0.3 * len(raw[:4000]):
        little = raw[1:4000:2].count(0) >= raw[0:4000:2].count(0)
        text, kind = raw.decode("utf-16-le" if little else "utf-16-be", "replace"), "UTF-16"
    else:
        try:
            text, kind = raw.decode("utf-8-sig"), ""
        except UnicodeDecodeError:
            text, kind = raw.decode("cp1252", "replace"), "Windows-1252"
    said = [f"read as {kind}"] if kind else []
    if "\0" in text:
        said.append(f"{text.count(chr(0))} empty bytes left out")
    return text.replace("\0", "").lstrip("\ufeff"), said


def _split(line: str, delimiter: str) -> list[str]:
    cells = line.split() if delimiter == " " else line.split(delimiter)
    cells = [cell.strip().strip("\"'").strip() for cell in cells]
    if len(cells) > 1 and not cells[-1] and delimiter != " ":
        cells.pop()  # a delimiter at the end of every line
    return cells


def _delimiter(lines: list[str]) -> tuple[str, int]:
    """The delimiter that gives most numbers in rows of one width, and that width."""
    looked = [lines[i] for i in np.unique(np.linspace(0, len(lines) - 1, _LOOKS).astype(int))]
    best = (0.0, 0, "")
    for delimiter in DELIMITERS:
        rows = [_split(line, delimiter) for line in looked]
        width, _ = (
            Counter(len(row) for row in rows if len(row) > 1).most_common(1)[:1][0]
            if any(len(row) > 1 for row in rows)
            else (0, 0)
        )
        if not 1 < width <= MOST_COLUMNS:
            continue
        even = [row for row in rows if len(row) == width]
        share = sum(_number(cell, delimiter) is not None for row in even for cell in row)
        score = share / (len(rows) * width)
        best = max(best, (round(score, 2), width, delimiter))
    if best[0] < 0.1:
        raise LogRefused(
            "no table of numbers",
            "columns of numbers, one reading a line",
            "save the log as CSV from the logger's own program",
        )
    return best[2], best[1]


def _number(cell: str, delimiter: str) -> float | None:
    """A plain number, or a clock in seconds; None for anything else."""
    if not cell or "_" in cell or len(cell) > 60:
        return None
    plain = cell if delimiter == "," else cell.replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        clock = _CLOCK.fullmatch(cell)
        if clock:
            hours, minutes, seconds = clock.groups()
            return 3600.0 * int(hours or 0) + 60.0 * int(minutes) + _plain(seconds)
        found = _WITH_UNIT.fullmatch(cell)
        try:
            value = float(_comma(found[1], delimiter)) if found else np.nan
        except ValueError:
            return None
    return value if abs(value) < WIDEST else None


def _comma(digits: str, delimiter: str) -> str:
    return digits if delimiter == "," else digits.replace(",", ".")


def _plain(digits: str) -> float:
    return float(digits.replace(",", "."))


def _numbers(cells: list[str], delimiter: str) -> bool:
    return any(_number(cell, delimiter) is not None for cell in cells[:MOST_COLUMNS])


def _mostly(cells: list[str], delimiter: str) -> bool:
    known = sum(_number(cell, delimiter) is not None for cell in cells)
    return known >= 2 or known >= 0.5 * len(cells)


def _first_row(lines: list[str], filled: list[int], delimiter: str, width: int) -> int:
    for number in filled:
        cells = _split(lines[number], delimiter)
        remark = lines[number].lstrip().startswith(("#", "%"))
        if len(cells) >= width and not remark and _mostly(cells, delimiter):
            return number
    return filled[0]


def _head(
    lines: list[str], filled: list[int], first: int, delimiter: str, width: int
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names and units of the columns from up to two lines above the first row."""
    above = []
    for number in reversed(filled[max(0, filled.index(first) - 4) : filled.index(first)]):
        cells = _split(lines[number].lstrip("#%/ \t"), delimiter)
        if len(cells) == width:
            above.append(cells)
    none = ("",) * width
    if not above:
        return none, none
    from goodflight.project.logs.meaning import is_unit

    if len(above) > 1 and all(is_unit(cell) for cell in above[0]):
        return tuple(cell[:80] for cell in above[1]), tuple(above[0])
    return tuple(cell[:80] for cell in above[0]), none


def _column(cells: list[str], delimiter: str) -> tuple[Array, str]:
    """Numbers of one column, and the unit that stands beside them ("clock" for times of day)."""
    try:
        values = np.array([cell or "nan" for cell in cells]).astype(np.float64)
        return np.where(np.abs(values) < WIDEST, values, np.nan), ""
    except (ValueError, OverflowError):
        pass
    found = [_number(cell, delimiter) for cell in cells]
    values = np.array([np.nan if each is None else each for each in found])
    if np.isnan(values).all():
        return values, ""
    sample = [cell for cell, each in zip(cells, found, strict=True) if each is not None][:200]
    if sum(_CLOCK.fullmatch(cell) is not None for cell in sample) > 0.5 * len(sample):
        return values, "clock"
    beside = [match[2] for match in map(_WITH_UNIT.fullmatch, sample) if match]
    if len(beside) > 0.5 * len(sample):
        return values, Counter(beside).most_common(1)[0][0].strip()
    return values, ""
