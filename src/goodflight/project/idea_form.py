"""An idea as a form: its boxes from the declared keys, its text from what was typed.

A box is named `motor.0.impulse`, or `field.size` of a table that stands once. Rows left empty are
left out. Each entry stands on a line of its own, so that a fault finds its box by its line.
"""

import json
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from goodflight.project.codes import packaged_codes
from goodflight.project.differences import as_text
from goodflight.project.faults import Fault
from goodflight.project.fields import Table, key_words
from goodflight.project.idea import example
from goodflight.project.idea_file import (
    IdeaCanopy,
    IdeaCarry,
    IdeaCord,
    IdeaField,
    IdeaFile,
    IdeaMotor,
    IdeaMount,
    IdeaSheet,
    IdeaTube,
    IdeaWind,
)
from goodflight.project.materials import library
from goodflight.project.sheets import annotation_at, literals

HEAD: Final = "#:schema ./.schema/idea.json\n"
ONCE: Final = (
    ("", "The flight", IdeaFile),
    ("field", "The field", IdeaField),
    ("carry", "What must be carried", IdeaCarry),
)
LISTS: Final = (
    ("wind", "Winds of the season", IdeaWind),
    ("motor", "Motors at hand", IdeaMotor),
    ("tube", "Body tubes at hand", IdeaTube),
    ("mount", "Motor tubes at hand", IdeaMount),
    ("sheet", "Sheet for fins", IdeaSheet),
    ("canopy", "Parachutes at hand", IdeaCanopy),
    ("cord", "Cords at hand", IdeaCord),
)
_OWN: Final = ("name", "level", "evenings")  # of the file itself; the rest are tables
_BARE: Final = ("evenings",)
_MANY: Final = ("rails", "delay_out_allowed")
MORE_ROWS: Final = 1  # empty ones, for further pieces
MOST_ROWS: Final = 12


@dataclass(frozen=True)
class Box:
    """One entry: name, what it is called, what it is for, what may be chosen."""

    name: str
    label: str
    hint: str
    choices: tuple[str, ...]
    required: bool


@dataclass(frozen=True)
class Rows:
    """A group of boxes; a list has several rows, the last of them empty."""

    key: str
    title: str
    rows: tuple[tuple[Box, ...], ...]


def groups(texts: Mapping[str, str]) -> tuple[Rows, ...]:
    """Return the groups of the form, as many rows in a list as are filled and one more.

    Parameters
    ----------
    texts : mapping - what stands in the boxes, by name. [-]
    """
    found = [Rows(key, title, (_boxes(key, model),)) for key, title, model in ONCE]
    for key, title, model in LISTS:
        count = min(max(_filled(texts, key), default=-1) + 1 + MORE_ROWS, MOST_ROWS)
        rows = tuple(_boxes(f"{key}.{i}", model) for i in range(count))
        found.append(Rows(key, title, rows))
    return tuple(found)


def _filled(texts: Mapping[str, str], key: str) -> list[int]:
    """Numbers of the rows of a list that hold something."""
    names = (name.split(".") for name, text in texts.items() if text.strip())
    return sorted({int(n[1]) for n in names if n[0] == key and len(n) == 3 and n[1].isdigit()})


def _boxes(place: str, model: type[Table]) -> tuple[Box, ...]:
    keys = _OWN if model is IdeaFile else tuple(model.model_fields)
    return tuple(_box(f"{place}.{key}" if place else key, model, key) for key in keys)


def _box(name: str, model: type[Table], key: str) -> Box:
    words = key_words(model, key)
    choices = tuple(literals(annotation_at(model, (key,))))
    if key == "material":
        choices = tuple(library())
    elif key == "code":
        choices = ("", *packaged_codes())
    hint = words.meaning if words else ""
    if words and words.left_out:
        hint += f"; left out: {words.left_out}"
    if key in _MANY:
        hint += "; commas between"
    return Box(name, key.replace("_", " "), hint, choices, model.model_fields[key].is_required())


def typed(text: str) -> dict[str, str]:
    """Return what stands in the boxes for the text of an idea; empty where it cannot be read."""
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return {}
    found: dict[str, str] = {key: _shown(data[key]) for key in _OWN if key in data}
    for key, _, _ in ONCE[1:]:
        table = data.get(key)
        if isinstance(table, dict):
            found |= {f"{key}.{inner}": _shown(value) for inner, value in table.items()}
    for key, _, _ in LISTS:
        rows = data.get(key)
        for i, row in enumerate(rows if isinstance(rows, list) else ()):
            if isinstance(row, dict):
                found |= {f"{key}.{i}.{inner}": _shown(value) for inner, value in row.items()}
    return found


def first_texts() -> dict[str, str]:
    """Return what stands in the boxes of a new form: the example, all of it invented."""
    return typed(example())


def _shown(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return as_text(value) if not isinstance(value, str) else value


def written(texts: Mapping[str, str]) -> tuple[str, dict[int, str]]:
    """Return the text of an idea and the box of each of its lines.

    Parameters
    ----------
    texts : mapping - what was typed, by name of the box. [-]
    """
    rows, at = [HEAD.rstrip()], dict[int, str]()

    def add(line: str, name: str) -> None:
        rows.append(line)
        at[len(rows)] = name

    def entries(place: str, boxes: Iterable[Box]) -> None:
        for box in boxes:
            key, text = box.name.rpartition(".")[2], texts.get(box.name, "").strip()
            if text:
                add(f"{key} = {_value(key, text)}", box.name)

    for group in groups(texts):
        for i, boxes in enumerate(group.rows):
            if not any(texts.get(box.name, "").strip() for box in boxes):
                continue
            many = group.key in {key for key, _, _ in LISTS}
            if group.key:
                add(f"\n[[{group.key}]]" if many else f"\n[{group.key}]", boxes[0].name)
                rows[-1:] = ["", rows[-1].strip()]
                at[len(rows)] = at.pop(len(rows) - 1)
            entries(f"{group.key}.{i}", boxes)
    return "\n".join(rows) + "\n", at


def _value(key: str, text: str) -> str:
    if key in _BARE and text.isdigit():
        return str(int(text))
    if key in _MANY:
        parts = [part.strip() for part in text.replace(";", ",").split(",") if part.strip()]
        return json.dumps(parts, ensure_ascii=False)
    return json.dumps(text, ensure_ascii=False)


def placed(
    faults: Iterable[Fault], at: Mapping[int, str], texts: Mapping[str, str]
) -> dict[str, str]:
    """Return what is wrong, by box; "" for what has none.

    Parameters
    ----------
    faults : iterable of Fault - of the text that `written` made. [-]
    at : mapping - box of each line. [-]
    texts : mapping - what was typed. [-]
    """
    boxes = {box.name for group in groups(texts) for row in group.rows for box in row}
    found: dict[str, str] = {}
    for fault in faults:
        name = at.get(fault.line, "")
        if fault.found == "nothing":  # it stands on no line: the box of its key in the same row
            own = f"{name.rpartition('.')[0]}.{fault.key.rpartition('.')[2]}".lstrip(".")
            name = own if own in boxes else _first_of(fault.key, boxes)
        found[name] = "; ".join(filter(None, (found.get(name), fault.in_form)))
    return found


def _first_of(key: str, boxes: Iterable[str]) -> str:
    """The first box of a list that is missing altogether."""
    return min((box for box in boxes if box.startswith(f"{key}.0.")), default="")
