"""Which figure of `rocket.toml` a reading is of, what may be read for it, and the figure changed.

A reading names its figure as faults do: `separation.pull`, `part[large].roll.length`.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Any, Final, Literal

from goodflight.project.bench_files import ReadingTable
from goodflight.project.fields import Table
from goodflight.project.head_figures import FIGURE_TABLES
from goodflight.project.measures import AcrossField, Pair, PairField
from goodflight.project.parts.table import PartTable
from goodflight.project.rocket_file import RocketHead
from goodflight.project.sheets import near
from goodflight.project.text_fields import QuantityField
from goodflight.quantity import Quantity

TABLES: Final = (*FIGURE_TABLES, "surface")
OF: Final = re.compile(
    rf"(?:part\[(?P<part>[^\]]+)\]|(?P<table>{'|'.join(TABLES)}))\.(?P<key>\w+)(?:\.(?P<sub>\w+))?"
)
_WEIGHED: Final = ("mass", "balance")
_OVER: Final = {"pressure": ("force", "area"), "angle": ("length", "length")}
DROPPED: Final = "drag_coefficient"
NOTHING: Final = "nothing"
_ALSO: Final = {"separation.edge_strength": ("edge",)}  # another edge has another strength


@dataclass(frozen=True)
class Place:
    """One figure of the rocket's file: a part's or a table's, its key, a pair's half; dimension."""

    of: str
    part: str
    table: str
    key: str
    sub: str
    dimension: str


def in_file(of: str) -> bool:
    """Whether a reading names a key of the file, rather than a figure that no file has."""
    return "." in of or "[" in of


def stands(rocket: Mapping[str, Any], of: str) -> str:
    """What a rocket's file, as it is written, says of a measured figure and of what stands for it.

    Of the fins' cants: a few letters that change with the fins.
    """
    parts = [part for part in rocket.get("part", []) if isinstance(part, dict)]
    if of.startswith("cant:"):
        fins = [part for part in parts if part.get("kind") == "fins"]
        return sha256(repr(fins).encode()).hexdigest()[:8]
    match = OF.fullmatch(of)
    if match is None:
        return ""
    owner: Any = rocket.get(match["table"]) if match["table"] else None
    if match["part"]:
        owner = next((part for part in parts if part.get("name") == match["part"]), None)
    if not isinstance(owner, dict):
        return NOTHING
    return " ".join(str(owner.get(key, NOTHING)) for key in (*_ALSO.get(of, ()), match["key"]))


def counts(rocket: Mapping[str, Any], row: ReadingTable) -> bool:
    """Whether the figure that was measured was not changed since."""
    return row.design is None or row.design == stands(rocket, row.of)


def place_of(head: RocketHead, parts: Sequence[PartTable], of: str) -> Place | str:
    """The figure that is named, or what to write instead."""
    match = OF.fullmatch(of)
    if match is None:
        return f"write a part's key as part[NAME].KEY, or one of {', '.join(TABLES)} and its key"
    name, table, key, sub = (match[g] or "" for g in ("part", "table", "key", "sub"))
    owner = getattr(head, table) if table else next((p for p in parts if p.name == name), None)
    if owner is None:
        return near(f"part[{name}]", [f"part[{part.name}]" for part in parts])
    if key in _WEIGHED and name:
        return f'weigh it: a [[weighing]] with what = ["{name}"]'
    found = {k: d for k in type(owner).model_fields if (d := _dimension(type(owner), k, sub))}
    if key not in found:
        return near(key, sorted(found))
    now = getattr(owner, key)
    if now is None and (sub or _field(type(owner), key, AcrossField)):
        return f"write {key} in rocket.toml first"
    return Place(of=of, part=name, table=table, key=key, sub=sub, dimension=found[key])


def _field(model: type[Table], key: str, kind: type) -> Any:
    metadata = model.model_fields[key].metadata
    inner = getattr(model.model_fields[key].annotation, "__args__", ())
    for each in (*metadata, *(m for arg in inner for m in getattr(arg, "__metadata__", ()))):
        if isinstance(each, kind):
            return each
    return None


def _dimension(model: type[Table], key: str, sub: str) -> str:
    """Of a key that holds one quantity, or of a half of its pair; empty = it does not."""
    if sub:
        pair = _field(model, key, PairField)
        halves = dict(zip(pair.names, (pair.first, pair.second), strict=True)) if pair else {}
        return halves[sub].dimension if sub in halves and sub != "count" else ""
    field = _field(model, key, QuantityField)
    if field is not None:
        return str(field.dimension)
    return "length" if _field(model, key, AcrossField) else ""


def read_as(row: ReadingTable, key: str, dimension: str) -> tuple[str, str] | str:
    """Dimension of the readings and of `over` ("" = none), or what is wrong with the row."""
    if row.hung is not None:
        if key != DROPPED or row.over:
            return f"hung belongs to a canopy's {DROPPED} alone, without over"
        return ("time" if row.height is not None else "speed"), ""
    if row.height is not None or row.air is not None:
        return "height and air belong to a canopy that was dropped: add hung"
    if not row.over:
        return dimension, ""
    found = _OVER.get(dimension)
    return found or f"over belongs to strengths and angles; here it is a {dimension}"


def bounds_of(head: RocketHead, parts: Sequence[PartTable], place: Place) -> QuantityField | None:
    """What the file takes for the figure."""
    model: type[Table] = type(_owner(head, parts, place))
    found = None if place.sub else _field(model, place.key, QuantityField)
    return found if isinstance(found, QuantityField) else None


def _owner(head: RocketHead, parts: Sequence[PartTable], place: Place) -> Table:
    if place.table:
        table: Table = getattr(head, place.table)
        return table
    return next(part for part in parts if part.name == place.part)


def figure_at(head: RocketHead, parts: Sequence[PartTable], place: Place) -> Quantity | None:
    """The figure as it stands."""
    found = getattr(_owner(head, parts, place), place.key)
    if found is not None and place.sub:
        found = found[place.sub]
    return found if isinstance(found, Quantity) else None


def with_figure(
    head: RocketHead,
    parts: tuple[PartTable, ...],
    place: Place,
    value: float,
    sigma: float,
    known: Literal["measured", "flight"] = "measured",
) -> tuple[RocketHead, tuple[PartTable, ...]]:
    """The rocket's tables with the figure measured, or as flights say it."""
    owner = _owner(head, parts, place)
    old = getattr(owner, place.key)
    if isinstance(old, Pair):
        half = replace(old[place.sub], value=value, sigma=sigma, known=known, stated=True)
        first = place.sub == old.names[0]
        new: Any = replace(old, first=half) if first else replace(old, second=half)
    elif old is None:
        new = Quantity(
            value=value,
            sigma=sigma,
            known=known,
            unit="",
            text="",
            dimension=place.dimension,
            stated=True,
        )
    else:
        new = replace(old, value=value, sigma=sigma, known=known, stated=True)
    changed = owner.model_copy(update={place.key: new})
    if place.table:
        return head.model_copy(update={place.table: changed}), parts
    return head, tuple(changed if part is owner else part for part in parts)  # type: ignore[misc]
