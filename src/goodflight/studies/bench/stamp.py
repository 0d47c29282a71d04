"""A stamp for every printed sheet: a short mark of the very figures that it shows.

The same figures give the same stamp, on every day and every machine; another figure on the sheet
gives another stamp. So a sheet on the bench can be asked whether it still holds: nothing is
written down anywhere, the project as it stands answers (`stamps`).
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, Final

from goodflight.quantity.said import Said
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.questions.layout import Layout

DIGITS: Final = 5  # of a metre, a kilogram: what no builder can measure makes no new sheet
COARSE: Final = 4  # of an overall drawing
LENGTH: Final = 8


def stamp_of(shown: Any) -> str:
    """The stamp of what a sheet shows: eight letters and figures in two groups.

    Parameters
        shown : answer of the workbench, or a layout - what is printed: a record. [SI]
    Returns
        stamp : str - "7F3A C21B". [-]
    Raises
        nothing
    Validity
        Figures are taken to 1e-5 of their unit, on an overall drawing to 1e-4; two different
        sheets share a stamp by chance once in 4 thousand million.
    Source
        SHA-256, shortened.
    Example
        >>> stamp_of(TemplateSet("r", "s", ()))
        '5C4F 1D59'
    """
    parts = (shown.templates,) if isinstance(shown, TemplateSet) else (shown,)
    text = "\n".join(_words(parts, COARSE if isinstance(shown, Layout) else DIGITS))
    mark = hashlib.sha256(text.encode()).hexdigest()[:LENGTH].upper()
    return in_groups(mark)


def in_groups(mark: str) -> str:
    """A mark as it is printed."""
    return f"{mark[:4]} {mark[4:]}"


def _words(value: Any, digits: int) -> Iterator[str]:
    """Everything in a record, in order, figures rounded."""
    if isinstance(value, float):
        yield f"{round(value, digits) + 0.0:.{digits}f}"
    elif isinstance(value, Said):
        yield value.told()  # no finer than it is shown
    elif is_dataclass(value) and not isinstance(value, type):
        yield type(value).__name__
        for each in fields(value):
            yield from _words(getattr(value, each.name), digits)
    elif isinstance(value, Mapping):
        for key in sorted(value, key=str):
            yield str(key)
            yield from _words(value[key], digits)
    elif isinstance(value, Iterable) and not isinstance(value, str):
        items = [tuple(_words(each, digits)) for each in value]
        for item in sorted(items) if isinstance(value, frozenset | set) else items:
            yield from item
        yield "]"
    else:
        yield str(value)
