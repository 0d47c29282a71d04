"""The example files of docs/examples: each is read, and holds only what cannot be left out."""

import copy
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import pytest

from goodflight import load
from goodflight.project import ProjectErrors, read_project
from goodflight.project.idea import read_idea

LEAST: Final = Path(__file__).parents[2] / "docs" / "examples" / "minimal"
TEXTS: Final = {
    str(each.relative_to(LEAST)): each.read_text("utf-8")
    for each in sorted(LEAST.rglob("*.*"))
}  # fmt: skip


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
