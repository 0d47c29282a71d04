"""A result as data, and what its fields mean, both from the result's own dataclass.

A field of a result that says what it means, `mass_kg: Annotated[float, "mass ready to fly [kg]"]`,
needs no other place: its name is the field in JSON, its meaning the line in docs/json.md.
"""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Annotated, Any, Final, get_args, get_origin, get_type_hints

from goodflight.outputs.words import at_least, speak
from goodflight.studies.results import Said

CHANCE: Final = {"chance", "low", "high"}


def record(result: Any) -> dict[str, Any]:
    """The fields of a result by name, all the way down; sentences are told in metric units.

    Where a record holds a chance with its interval, the chance is in it in words too.
    """
    found = {each.name: _plain(getattr(result, each.name)) for each in fields(result)}
    if found.keys() >= CHANCE:
        spoken = speak(found["chance"], found["low"], found["high"])
        found["spoken"] = at_least(spoken, found["chance"], found.get("unknown", 0))
    return found


def _plain(value: Any) -> Any:
    if isinstance(value, Said):
        return value.told()
    if is_dataclass(value):
        return record(value)
    if isinstance(value, Mapping):
        return {key: _plain(each) for key, each in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    return value


def sections(kind: type, name: str) -> dict[str, dict[str, str]]:
    """Sections of docs/json.md for a result and for the records inside it: field -> meaning.

    Raises TypeError for a field that does not say what it means: a programmer's fault.
    """
    own: dict[str, str] = {}
    inside: dict[str, dict[str, str]] = {}
    for field, hint in get_type_hints(kind, include_extras=True).items():
        if get_origin(hint) is not Annotated:
            raise TypeError(f'{kind.__name__}.{field}: say what it means, Annotated[..., "..."]')
        bare, meaning = get_args(hint)
        for part in (bare, *get_args(bare)):
            if not isinstance(part, type) or not is_dataclass(part) or part is Said:
                continue
            title = in_words(part)
            meaning += f", see `{title}`"
            inside |= sections(part, title)
        own[field] = meaning
    if own.keys() >= CHANCE:
        own["spoken"] = "the chance in words"
    return {name: own} | inside


def in_words(kind: type) -> str:
    """A class name as the heading of its section: RowNeed is "row need"."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", kind.__name__).lower()
