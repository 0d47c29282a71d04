"""What an instrument showed, as readings of the figure itself: own errors, and errors shared."""

import tomllib
from collections.abc import Callable, Sequence
from math import atan
from typing import Final

from goodflight.project import Project, defaults
from goodflight.project.bench_files import ReadingTable
from goodflight.project.measured_keys import counts
from goodflight.quantity import Quantity, parse
from goodflight.studies.case.readings import Before, MeasuredFigure, Readings, together

FILE: Final = "weighings.toml"
ROCKET: Final = "rocket.toml"
Becomes = Callable[[float], float]


def by_figure(project: Project, chosen: Callable[[str], bool]) -> dict[str, list[int]]:
    """Numbers of the readings that count, by what they are of."""
    rows: dict[str, list[int]] = {}
    if not project.weighings.reading:
        return rows
    rocket = tomllib.loads(project.texts[ROCKET])
    for number, row in enumerate(project.weighings.reading):
        if chosen(row.of) and counts(rocket, row):
            rows.setdefault(row.of, []).append(number)
    return rows


def changed_since(project: Project) -> tuple[str, ...]:
    """Figures with readings that count no more, as the design was changed after them."""
    kept = by_figure(project, lambda _of: True)
    there = [number for numbers in kept.values() for number in numbers]
    rows = enumerate(project.weighings.reading)
    return tuple(dict.fromkeys(row.of for number, row in rows if number not in there))


def row_of(number: int) -> str:
    """Where the table of a reading stands."""
    return f"{FILE}:reading[#{number + 1}]"


def path_of(number: int, key: str = "read") -> str:
    """Where a reading stands."""
    return f"{row_of(number)}.{key}"


def figure_of(
    project: Project, of: str, numbers: Sequence[int], before: Before, readings: Readings
) -> MeasuredFigure:
    """All readings of one figure taken together."""
    value, sigma = together(project, before, readings)
    rows = [project.weighings.reading[number] for number in numbers]
    return MeasuredFigure(
        of=of,
        label=before.label,
        dimension=before.dimension,
        path=row_of(numbers[0]),
        date=", ".join(dict.fromkeys(row.date for row in rows if row.date)),
        note="; ".join(row.note for row in rows if row.note),
        read=tuple(text for row in rows for text in row.read),
        readings=tuple(readings.values),
        design=before.value,
        design_sigma=before.sigma,
        value=value,
        sigma=sigma,
        known="flight" if all(row.flight for row in rows) else "measured",
    )


def error_of(row: ReadingTable, shown: Quantity) -> float | None:
    """One standard deviation of what was shown, in its unit; None where nobody says it."""
    if shown.sigma is not None:
        return shown.sigma
    return parse(row.error, shown.dimension, "measured").value if row.error else None


def add_shown(
    project: Project,
    number: int,
    readings: Readings,
    shown: Quantity,
    kinds: tuple[str, str],
    usual: float,
    becomes: Becomes = float,
) -> None:
    """One reading as the figure itself; `usual` : its error where nobody says it, of the figure."""
    row = project.weighings.reading[number]
    value, per, shares = shown.value, 1.0, dict[str, float]()
    if row.over:
        over = parse(row.over, kinds[1], "measured")
        wide = defaults.sigma_of("over", over, "measured") / over.value
        value, per = value / over.value, over.value
        value = atan(value) if kinds == ("length", "length") else value
        shares[f"over {number}"] = abs(value) * wide
    step = 1e-4 * abs(value) or 1e-6
    slope = abs(becomes(value + step) - becomes(value)) / step
    shares = {name: slope * size for name, size in shares.items()}
    found, error = becomes(value), error_of(row, shown)
    if row.instrument:
        shares[row.instrument] = calibration(project, row.instrument) * abs(found)
    readings.add(path_of(number), found, usual if error is None else slope * error / per, shares)


def calibration(project: Project, name: str) -> float:
    """What all readings of an instrument may be off by together, a share."""
    return next(i.calibration.value for i in project.weighings.instrument if i.name == name)
