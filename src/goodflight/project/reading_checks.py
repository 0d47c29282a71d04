"""Whether every reading of a figure names one that there is, in units that it can be read in."""

from collections.abc import Sequence

from pydantic_core import PydanticCustomError

from goodflight.project.bench_files import ReadingTable, WeighingsFile
from goodflight.project.measured_keys import (
    DROPPED,
    bounds_of,
    counts,
    in_file,
    place_of,
    read_as,
)
from goodflight.project.parts.table import PartTable
from goodflight.project.plan_checks import check_reference
from goodflight.project.rocket_file import RocketHead
from goodflight.project.sheets import Sheet
from goodflight.project.text_fields import QuantityField
from goodflight.quantity import QuantityError, parse

Path = tuple[str | int, ...]


def check_readings(
    sheet: Sheet, file: WeighingsFile, rocket: tuple[RocketHead, Sequence[PartTable]], of: Sheet
) -> None:
    """Note what cannot be meant; `of` is the rocket's file, whose own faults come first.

    A figure that was changed after it was measured is let alone.
    """
    where = "the [[instrument]] tables of weighings.toml"
    instruments = [each.name for each in file.instrument]
    for number, row in enumerate(file.reading):
        path: Path = ("reading", number)
        check_reference(
            sheet,
            path=(*path, "instrument"),
            name=row.instrument,
            known=instruments,
            kind="name",
            where=where,
        )
        if not of.faults and in_file(row.of) and counts(of.data, row):
            _figure(sheet, path, row, *rocket)


def _figure(
    sheet: Sheet, path: Path, row: ReadingTable, head: RocketHead, parts: Sequence[PartTable]
) -> None:
    place = place_of(head, parts, row.of)
    if isinstance(place, str):
        wanted = "a figure of rocket.toml that is measured one at a time"
        sheet.add((*path, "of"), f'"{row.of}"', wanted, place)
        return
    kinds = read_as(row, place.key, place.dimension)
    if isinstance(kinds, str):
        key = "hung" if row.hung is not None else "height" if row.height is not None else "over"
        sheet.add((*path, key), f"{key} of {row.of}", "keys that fit what was measured", kinds)
        return
    plain = kinds == (place.dimension, "") and place.key != DROPPED
    bounds = bounds_of(head, parts, place) if plain else None
    entries(sheet, path, row, kinds, bounds)


def entries(
    sheet: Sheet,
    path: Path,
    row: ReadingTable,
    kinds: tuple[str, str],
    bounds: QuantityField | None = None,
) -> None:
    """Note texts that are no quantities of their kind; `bounds` of the figure itself."""
    dimension, over = kinds
    signed = dimension == "angle" or kinds == ("length", "length")  # of a fin, either way
    texts = [((*path, "read", i), text, dimension) for i, text in enumerate(row.read)]
    texts += [((*path, "error"), row.error, dimension)] if row.error else []
    texts += [((*path, "over"), row.over, over)] if row.over else []
    for place, text, kind in texts:
        try:
            found = parse(text, kind, "measured")
            if bounds is not None and "read" in place:
                bounds.read(text)
            elif found.value <= 0.0 and not (signed and "read" in place):
                sheet.add(place, f'"{text}"', "more than 0", "check the number")
        except QuantityError as error:
            sheet.add(place, error.found, error.expected, error.advice)
        except PydanticCustomError as error:
            ctx = dict(error.context or {})
            sheet.add(place, str(ctx["found"]), str(ctx["expected"]), str(ctx["advice"]))
