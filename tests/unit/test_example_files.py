"""The files of docs/examples are read: the least holds no key too many, the full one every key."""

import copy
import fnmatch
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, get_args

import pytest

from goodflight import load
from goodflight.physics.vehicle import mass_items
from goodflight.project import ProjectErrors, read_project
from goodflight.project.fields import Table
from goodflight.project.idea import load_idea, read_idea
from goodflight.project.schemas import MODELS
from goodflight.studies.case.project_case import case_of

LEAST: Final = Path(__file__).parents[2] / "docs" / "examples" / "minimal"
TEXTS: Final = {
    str(each.relative_to(LEAST)): each.read_text("utf-8") for each in sorted(LEAST.rglob("*.*"))
}


def toml(value: Any) -> str:
    """A value as TOML, tables in place."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {toml(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(toml(each) for each in value) + "]"
    return json.dumps(value, ensure_ascii=False)


def keys(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every key of a file, into its tables."""
    for step, inner in node.items() if isinstance(node, dict) else enumerate(node):
        if isinstance(node, dict):
            yield (*path, step)
        if isinstance(inner, (dict, list)):
            yield from keys(inner, (*path, step))


def less(text: str, path: tuple[Any, ...] = ()) -> str:
    """A file written anew, without one key."""
    data = copy.deepcopy(tomllib.loads(text))
    node: Any = data
    for step in path[:-1]:
        node = node[step]
    if path:
        del node[path[-1]]
    return "".join(f"{key} = {toml(value)}\n" for key, value in data.items())


def read(texts: dict[str, str]) -> None:
    """Read a project, and the idea beside it."""
    read_project({file: text for file, text in texts.items() if file != "idea.toml"})
    read_idea({"idea.toml": texts["idea.toml"]})


def test_the_least_project_is_read_and_says_that_it_is_invented() -> None:
    assert load(LEAST).plan().name == "first"
    read({file: less(text) if ".toml" in file else text for file, text in TEXTS.items()})
    assert all("nvented" in text for file, text in TEXTS.items() if file.endswith(".toml"))


CASES: Final = [
    (file, path)
    for file, text in TEXTS.items()
    if file.endswith(".toml")
    for path in keys(tomllib.loads(text))
]


@pytest.mark.parametrize(("file", "path"), CASES)
def test_nothing_of_the_least_files_can_be_left_out(file: str, path: tuple[Any, ...]) -> None:
    with pytest.raises(ProjectErrors):
        read({**TEXTS, file: less(TEXTS[file], path)})


FULL: Final = LEAST.with_name("full")
PLACES: Final = {"motor.json": "motors/*", "site.json": "sites/*", "notes.json": "flights/*/notes",
                 "code.json": "codes/*"}  # fmt: skip
OTHERWISE: Final = {  # what excludes a key that is shown, or is written by the program alone
    ("NoseTable", "haack_c"): "exponent",
    ("NoseTable", "ogive_ratio"): "exponent",
    ("NoseTable", "parabola_k"): "exponent",
    ("IdeaFile", "site"): "field",
    ("ButtonsTable", "bore"): "neck",
    ("WeighingsFile", "rocket"): "",
}


def tables_of(annotation: Any) -> list[type[Table]]:
    """The tables that an entry may be."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return [annotation]
    return [each for part in get_args(annotation) for each in tables_of(part)]


def declared(model: type[Table]) -> set[tuple[str, str]]:
    """Every key of a table and of the tables in it."""
    found = set()
    for key, field in model.model_fields.items():
        found.add((model.__name__, field.alias or key))
        for inner in tables_of(field.annotation):
            found |= declared(inner)
    return found


def used(model: type[Table], data: dict[str, Any]) -> set[tuple[str, str]]:
    """The declared keys that a file holds."""
    fields = {field.alias or key: field for key, field in model.model_fields.items()}
    found = {(model.__name__, key) for key in data if key in fields}
    for key, value in data.items():
        tables = tables_of(fields[key].annotation) if key in fields else []
        for each in value if isinstance(value, list) else [value]:
            if tables and isinstance(each, dict):
                found |= used(next(t for t in tables if len(tables) == 1 or of_kind(t, each)), each)
    return found


def of_kind(model: type[Table], data: dict[str, Any]) -> bool:
    """Whether a table is the one of this kind of part."""
    field = model.model_fields.get("kind")
    return field is not None and data.get("kind") in get_args(field.annotation)


def test_a_part_called_paint_and_a_film_of_paint_are_two_masses() -> None:
    """Both are in the full example; by one name they were one as soon as anything was weighed."""
    names = [item.name for item in mass_items(load(FULL).rocket())]
    assert len(names) == len(set(names)) and "paint film" in names


def test_the_full_files_agree_with_what_was_weighed() -> None:
    assert case_of(load(FULL)).rocket.name == "Fieldfare"  # a weighing that contradicts is refused


def test_the_full_files_are_read_and_use_every_key() -> None:
    assert load(FULL).plan().name == "morning"
    load_idea(FULL)
    texts = {str(f.relative_to(FULL)): f.read_text("utf-8") for f in FULL.rglob("*.toml")}
    assert all("nvented" in text for text in texts.values())
    every, shown = set[tuple[str, str]](), set[tuple[str, str]]()
    for schema, model in MODELS.items():
        place = PLACES.get(schema, schema.removesuffix(".json")) + ".toml"
        every |= declared(model)
        for file, text in texts.items():
            if fnmatch.fnmatch(file, place):
                shown |= used(model, tomllib.loads(text))
    assert every - shown == set(OTHERWISE)
    assert {(table, key) for (table, _), key in OTHERWISE.items() if key} <= shown
