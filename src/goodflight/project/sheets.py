"""One TOML file as read, and how a refused entry becomes a fault with its place.

Every table is validated by itself, so that a fault in one part never hides a fault in another.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import lru_cache, partial
from types import UnionType
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin

from pydantic import ValidationError

from goodflight.project import not_computed
from goodflight.project.budgets import MAX_FAULTS_OF_A_TABLE, long_text, wide_tables
from goodflight.project.faults import ADD_LINE, Fault
from goodflight.project.fields import Table, keys_of
from goodflight.project.lines import Later, Path, line_at, lines_of
from goodflight.project.syntax import syntax_faults
from goodflight.project.text_fields import FAULT, TextField, show_found

Model = TypeVar("Model", bound=Table)
LONG = 5000  # characters of a table that is not remembered
_TAGS = ("name", "table")  # of the two ways to give a material


class _Said:
    """What a table says, equal to what another says if they are written alike."""

    __slots__ = ("data", "text")

    def __init__(self, data: dict[str, Any]) -> None:
        self.data, self.text = data, repr(data)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Said) and other.text == self.text

    def __hash__(self) -> int:
        return hash(self.text)


@lru_cache(maxsize=999)  # most tables of a file that is read again are as they were
def _read_before(model: type[Model], said: _Said) -> Model:
    return model.model_validate(said.data)


def _validated(model: type[Model], data: dict[str, Any]) -> Model:
    """Return a table as its model reads it; no table changes, so of two alike there is one."""
    said = _Said(data)
    return _read_before(model, said) if len(said.text) < LONG else model.model_validate(data)


def key_of(path: Path, data: Any) -> str:
    """Return a path as it is written in faults and overrides: `part[nose].mass`."""
    text, here = "", data
    for step in path:
        here = _into(here, step)
        if isinstance(step, int):
            name = here.get("name") if isinstance(here, dict) else None
            text += f"[{name}]" if isinstance(name, str) and name else f"[#{step + 1}]"
        else:
            text += f".{step}" if text else step
    return text


def _into(here: Any, step: str | int) -> Any:
    try:
        return here[step]
    except (KeyError, IndexError, TypeError):
        return None


@dataclass
class Sheet:
    """A TOML file: its text, its values, the lines of its keys, and the faults found in it."""

    file: str
    text: str
    data: dict[str, Any] = field(default_factory=dict)
    lines: Mapping[Path, int] = field(default_factory=lambda: {(): 1})
    faults: list[Fault] = field(default_factory=list)
    readable: bool = True
    in_columns: bool = False  # a table of comma-separated values: a key is a column there

    def add(self, path: Path, found: str, wanted: str, advice: str) -> None:
        """Note a fault at `path`, or at the table around it when the key is not there."""
        line = line_at(self.lines, path)
        key = key_of(path, self.data)
        self.faults.append(Fault(self.file, line, key, found=found, expected=wanted, advice=advice))

    def check(self, path: Path, value: Any, model: type[Model]) -> Model | None:
        """Validate one table; note its faults and return None when there are any."""
        if not isinstance(value, dict):
            self.add(path, show_found(value), "a table", "write it as [table] with keys below it")
            return None
        try:
            return _validated(model, value)
        except ValidationError as error:
            errors = error.errors()
            for each in errors[:MAX_FAULTS_OF_A_TABLE]:
                self._translate(path, dict(each), model)
            if len(errors) > MAX_FAULTS_OF_A_TABLE:
                more = f"{len(errors) - MAX_FAULTS_OF_A_TABLE} more faults in this table"
                self.add(path, more, "none", "mend those above first, then look again")
            return None

    def rows(self, key: str, kind: str) -> list[dict[str, Any]]:
        """Return the `[[key]]` tables; note a fault when there is something else instead."""
        value = self.data.get(key, [])
        if isinstance(value, list) and all(isinstance(row, dict) for row in value):
            return value
        self.add((key,), show_found(value), f"{kind} tables", f"write each one under [[{key}]]")
        return []

    def _translate(self, base: Path, error: dict[str, Any], model: type[Table]) -> None:
        loc = tuple(step for step in error["loc"])
        if "material" in loc:
            loc = tuple(
                s for i, s in enumerate(loc) if not (s in _TAGS and loc[i - 1] == "material")
            )
        path: Path = (*base, *loc)
        kind, ctx, found = error["type"], error.get("ctx", {}), show_found(error["input"])
        if kind == FAULT:
            self.add(path, ctx["found"], ctx["expected"], ctx["advice"])
        elif kind == "missing":
            wanted = describe(annotation_at(model, loc))
            example = '"..."' if "quotes" in wanted else "..., in its form above"
            if wanted.startswith(("a table", "a list")):
                example = f"..., {wanted}"
            elif " like " in wanted:
                example = f'"{wanted.split(" like ")[1].split(" or ")[0]}", with your figure'
            advice = f"{ADD_LINE}{loc[-1]} = {example}"
            if self.in_columns:
                advice = (
                    f"fill in the column {loc[-1]} of this line; the first line names the columns"
                )
            self.add(path, "nothing", wanted, advice)
        elif kind == "extra_forbidden":
            self._unknown(path, model_at(model, loc[:-1]))
        elif kind == "literal_error":
            choices = literals(annotation_at(model, loc))
            self.add(path, found, one_of(choices), nearest(error["input"], choices))
        elif found == "a list" and path[-1] in not_computed.LISTS:
            self.add(path, found, not_computed.LISTS[path[-1]], "name one")
        elif kind == "string_pattern_mismatch":
            self.add(path, found, "a name", 'leave out [ ] : " and \\ in names')
        else:
            wanted = limit(ctx) or describe(annotation_at(model, loc))
            self.add(path, found, wanted, _advice(kind, ctx))

    def _unknown(self, path: Path, model: type[Table]) -> None:
        allowed = keys_of(model)
        given = str(path[-1])
        if given in not_computed.KEYS and not hasattr(model, given):
            self.add(path, f"the key {given}", not_computed.KEYS[given], "remove this line")
            return
        advice = nearest(given, allowed, "remove this line")
        wanted = f"one of the keys {', '.join(allowed)}"
        if advice.endswith("?"):
            wanted = "a key that is known here"
        self.add(path, f"the key {given}", wanted, advice)


def _advice(kind: str, ctx: Mapping[str, Any]) -> str:
    plain = {
        "string_type": "write it in quotes",
        "int_type": "write a whole number without quotes",
        "bool_type": "write true or false without quotes",
        "float_type": "write a number without quotes",
        "list_type": "write a list in square brackets",
        "string_too_short": "write a text",
    }
    if kind in plain:
        return plain[kind]
    return "check this entry"


def limit(ctx: Mapping[str, Any]) -> str:
    """Return the bound that an entry broke, as a sentence part; empty when there is none."""
    words = {
        "ge": "{} or more",
        "le": "{} or fewer",
        "min_length": "at least {} entries",
        "max_length": "at most {} entries or characters",
    }
    return next((text.format(ctx[key]) for key, text in words.items() if key in ctx), "")


def one_of(choices: list[str]) -> str:
    """Return the choices as a sentence part."""
    return "one of " + ", ".join(f'"{each}"' for each in choices)


def nearest(given: Any, choices: list[str], default: str = "choose one of them") -> str:
    """Return the advice that names the closest allowed word."""
    close = get_close_matches(str(given).lower(), [c.lower() for c in choices], n=1, cutoff=0.6)
    for choice in choices:
        if close and choice.lower() == close[0]:
            return f"did you mean {choice}?"
    return default


def near(given: str, known: list[str]) -> str:
    """Return the advice that names the closest of some names, or all of them."""
    return nearest(given, known, f"there: {', '.join(known)}")


def _strip(annotation: Any) -> Any:
    if get_origin(annotation) in (Union, UnionType):
        inner = [each for each in get_args(annotation) if each is not type(None)]
        return inner[0] if len(inner) == 1 else annotation
    return annotation


def annotation_at(model: type[Table], loc: Path) -> Any:
    """Return the type written for the entry at `loc` inside `model`."""
    here: Any = model
    for step in loc:
        if isinstance(step, int):
            here = _strip(here)
            args = get_args(here)
            here = get_args(args[0])[0] if get_origin(here) is Annotated else args[0]
            continue
        fields = getattr(here, "model_fields", {})
        if step not in fields:
            return str
        info = fields[step]
        here = _strip(info.annotation)
        for extra in info.metadata:
            if isinstance(extra, TextField):
                here = Annotated[here, extra]
    return here


def model_at(model: type[Table], loc: Path) -> type[Table]:
    """Return the table type at `loc` inside `model`."""
    from goodflight.project.fields import MaterialTable

    here: Any = model
    for step in loc:
        if isinstance(step, int):  # a list was opened to its rows already
            continue
        here = MaterialTable if step == "material" else annotation_at(here, (step,))
        if get_origin(here) is list:
            here = get_args(here)[0]
    return here if isinstance(here, type) and issubclass(here, Table) else model


def literals(annotation: Any) -> list[str]:
    """Return the allowed words of a Literal type."""
    inner = _strip(annotation)
    return [str(each) for each in get_args(inner)] if get_origin(inner) is Literal else []


def describe(annotation: Any) -> str:
    """Return what an entry of this type looks like, as a sentence part."""
    inner = _strip(annotation)
    for extra in getattr(inner, "__metadata__", ()):
        if isinstance(extra, TextField):
            return extra.wanted
    if get_origin(inner) is Annotated:
        inner = _strip(get_args(inner)[0])
    if get_origin(inner) is Literal:
        return one_of(literals(inner))
    if get_origin(inner) is list:
        return "a list"
    names = {str: "a text in quotes", int: "a whole number", bool: "true or false"}
    if isinstance(inner, type) and issubclass(inner, Table):
        return "a table"
    return names.get(inner, "a number" if inner is float else "a text in quotes")


def read_sheet(file: str, text: str) -> Sheet:
    """Read one TOML file; syntax faults leave an unreadable sheet with those faults."""
    too_long = long_text(file, text)
    if too_long is not None:
        return Sheet(file, text, faults=[too_long], readable=False)
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError):
        return Sheet(file, text, faults=syntax_faults(file, text), readable=False)
    lines = Later(partial(_lines_of, text))
    wide = wide_tables(file, data, lambda path: line_at(lines, path))
    return Sheet(file, text, data, lines, wide, readable=not wide)


def _lines_of(text: str) -> Mapping[Path, int]:
    """The lines of a file that could be read; brackets within brackets without end have none."""
    try:
        return lines_of(text)
    except RecursionError:
        return {(): 1}
