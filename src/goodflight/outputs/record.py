"""A result as data, and what its fields mean, both from the result's own dataclass.

A field of a result that says what it means, `mass_kg: Annotated[float, "mass ready to fly [kg]"]`,
needs no other place: its name is the field in JSON, its meaning the line in docs/json.md. What only
an output can say of a result, its words above all, is given besides, as `More` by class and name.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Annotated, Any, Final, get_args, get_origin, get_type_hints

import numpy as np

from goodflight.outputs.words import at_least, speak
from goodflight.quantity.said import Said, placed

CHANCE: Final = {"chance", "low", "high"}
POINTS: Final = (5, 50, 95)  # % of the flights
SUFFIX: Final = "_5_50_95"
IN_FIGURES: Final = "in_figures"


@dataclass(frozen=True)
class More:
    """A field of a record that is worked out from the result: its meaning and its value.

    kind : class of the records it holds.
    """

    meaning: str
    of: Callable[[Any], Any]
    kind: type | None = None


Mores = Mapping[type, Mapping[str, More | None]]  # by class and field; None: no part of the record
NOTHING: Final[Mores] = {}


def record(result: Any, mores: Mores = NOTHING) -> dict[str, Any]:
    """The fields of a result by name, all the way down.

    Sentences are told in metric units, and the figures they name as numbers too (`in_figures`).
    Where a record holds a chance with its interval, the chance is in it in words too. Figures of
    every flight are told by their 5, 50 and 95 % points.
    """
    more, found = mores.get(type(result), {}), dict[str, Any]()
    for each in fields(result):
        value = getattr(result, each.name)
        if each.name in more:
            continue
        if isinstance(value, np.ndarray):
            found[each.name + SUFFIX] = points(value)
        else:
            found[each.name] = _plain(value, mores)
    sentences = _sentences(result, more)
    if sentences:
        told = ((name, _in_figures(value)) for name, value in sentences.items())
        found[IN_FIGURES] = {name: figures for name, figures in told if figures}
    if found.keys() >= CHANCE:
        spoken = speak(found["chance"], found["low"], found["high"])
        found["spoken"] = at_least(spoken, found["chance"], found.get("unknown", 0))
    said = ((name, one.of(result)) for name, one in more.items() if one is not None)
    return found | {name: _plain(value, mores) for name, value in said}


def _sentences(result: Any, more: Mapping[str, More | None]) -> dict[str, Any]:
    """The fields that hold a sentence, or a list of them."""
    kind: type = type(result)
    hints = _hints(kind)
    said = (each.name for each in fields(result) if each.name not in more)
    return {name: getattr(result, name) for name in said if _says(hints[name])}


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


def _says(hint: Any) -> bool:
    bare = get_args(hint)[0] if get_origin(hint) is Annotated else hint
    return bare is Said or Said in get_args(bare)


def _in_figures(value: Any) -> Any:
    """What a sentence names: name -> value and dimension; of several sentences, one for each."""
    if isinstance(value, tuple | list):
        each = [_in_figures(one) for one in value]
        return each if any(each) else []
    if value is None:
        return {}
    named = ((name, at) for name, at in value.figures.items() if f"{{{name}}}" in value.text)
    return {name: {"value": at, "dimension": kind} for name, (at, kind) in named}


def points(values: np.ndarray[Any, Any]) -> list[float] | None:
    """The 5, 50 and 95 % points of what is finite; None where nothing is."""
    finite = values[np.isfinite(values)]
    return [float(point) for point in np.percentile(finite, POINTS)] if finite.size else None


def _plain(value: Any, mores: Mores) -> Any:
    if isinstance(value, Said):
        return placed(value)
    if is_dataclass(value):
        return record(value, mores)
    if isinstance(value, Mapping):
        return {key: _plain(each, mores) for key, each in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(each, mores) for each in value]
    return value


def sections(kind: type, name: str, mores: Mores = NOTHING) -> dict[str, dict[str, str]]:
    """Sections of docs/json.md for a result and for the records inside it: field -> meaning.

    Raises TypeError for a field that does not say what it means: a programmer's fault.
    """
    own: dict[str, str] = {}
    inside: dict[str, dict[str, str]] = {}
    more = mores.get(kind, {})

    def put(field: str, meaning: str, *parts: Any) -> None:
        for part in parts:
            if isinstance(part, type) and is_dataclass(part) and part is not Said:
                meaning += f", see `{in_words(part)}`"
                inside.update(sections(part, in_words(part), mores))
        own[field] = meaning

    hints, says = _hints(kind), False
    for field in (each.name for each in fields(kind) if each.name not in more):
        hint = hints[field]
        if get_origin(hint) is not Annotated:
            raise TypeError(f'{kind.__name__}.{field}: say what it means, Annotated[..., "..."]')
        bare, meaning = get_args(hint)
        says |= _says(hint)
        if get_origin(bare) is np.ndarray:
            put(field + SUFFIX, f"5, 50 and 95 % points of {meaning} [SI]")
        else:
            put(field, meaning, bare, *get_args(bare))
    if says:
        own[IN_FIGURES] = "what its sentences name, by field and name: value [SI] and dimension"
    if own.keys() >= CHANCE:
        own["spoken"] = "the chance in words"
    for field, each in more.items():
        if each is not None:
            put(field, each.meaning, each.kind)
    return {name: own} | inside


def in_words(kind: type) -> str:
    """A class name as the heading of its section: RowNeed is "row need".

    A class that shares its name with another states its HEADING.
    """
    heading: str | None = getattr(kind, "HEADING", None)
    return heading or re.sub(r"(?<=[a-z])(?=[A-Z])", " ", kind.__name__).lower()
