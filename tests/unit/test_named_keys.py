"""Names in quotes that other modules declare: each is one of them, or it would be found nowhere.

What asks a table with `.get` and a name that is not there is told "not known" without a sound.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, get_args

import pytest

from goodflight.outputs.figures import FIGURES
from goodflight.physics.flight.registry import OUTCOMES, PARAMETERS
from goodflight.physics.recovery.parting import PARTING_OUTCOMES
from goodflight.project.fields import Table
from goodflight.project.parts import PART_TABLES
from goodflight.project.schemas import MODELS
from goodflight.studies.rows import LIMIT_STATES
from sample_case import sample_case

SOURCE: Final = Path(__file__).resolve().parents[2] / "src" / "goodflight"
FLOWN: Final = frozenset(OUTCOMES)
FEATURES: Final = frozenset(sample_case().uncertainty.features)
ROWS: Final = frozenset(row.key for row in LIMIT_STATES)
METHODS: Final = {  # what is called -> names it takes
    "outcome": FLOWN,
    "band": FLOWN,
    "has": FLOWN,
    "parameter": frozenset(PARAMETERS),
}
TABLES: Final = {  # what a table is called that is asked by `.get` -> its keys
    "rows": ROWS,
    "figures": FLOWN | frozenset(FIGURES),
    "features": FEATURES,
}
PARTING: Final = frozenset(PARTING_OUTCOMES)


def named(tree: ast.AST, module: str) -> Iterator[tuple[int, str, frozenset[str]]]:
    """Line, name and the names there are, of every place that asks for one in quotes."""
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Call) and node.args and isinstance(node.func, ast.Attribute)):
            continue
        asked, table, method = node.args[0], node.func.value, node.func.attr
        if not (isinstance(asked, ast.Constant) and isinstance(asked.value, str)):
            continue
        known = METHODS.get(method)
        last = ast.unparse(table).rpartition(".")[2]
        if method == "get":
            known = TABLES.get(last)
            if last in ("found", "parting") and module.startswith("studies/rows/"):
                known = PARTING
        if known is not None:
            yield node.lineno, asked.value, known


def modules() -> list[str]:
    return sorted(
        path.relative_to(SOURCE).as_posix()
        for room in ("studies", "outputs")
        for path in (SOURCE / room).rglob("*.py")
    )


@pytest.mark.parametrize("room", ["studies", "outputs"])
def test_every_name_in_quotes_is_declared(room: str) -> None:
    wrong = [
        f"{module}:{line}: {name}"
        for module in modules()
        if module.startswith(room)
        for line, name, known in named(ast.parse((SOURCE / module).read_text("utf-8")), module)
        if name not in known
    ]
    assert not wrong


def test_names_are_seen() -> None:
    text = 'a = view.outcome("apogee_m")\nb = seen.rows.get("zippr")\nc = found.get("max")\n'
    seen = [
        (line, name in known)
        for line, name, known in named(ast.parse(text), "studies/rows/cord.py")
    ]
    assert seen == [(1, True), (2, False), (3, False)]


ENTRY: Final = re.compile(r"\"((?:rocket|plans|build|weighings)\.toml):([^\" ]+)\"")
FILES: Final = {f"{n}.toml": MODELS[f"{n}.json"] for n in ("rocket", "plans", "build", "weighings")}


def tables_in(annotation: Any) -> list[type[Table]]:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return [annotation]
    return [each for part in get_args(annotation) for each in tables_in(part)]


def not_there(file: str, path: str) -> str:
    """The first step of an entry's path that no table there has; empty: all are there.

    What is made up on the spot, `{...}`, is not looked at, nor what follows a table of that kind.
    """
    tables: list[type[Table]] = [FILES[file]]
    for step in re.sub(r"\[[^\]]*\]", "", path).split("."):
        if "{" in step or "}" in step:
            return ""
        held = [table for table in tables if step in table.model_fields]
        if not held:
            return step
        tables = [one for table in held for one in tables_in(table.model_fields[step].annotation)]
        tables = list(PART_TABLES.values()) if step == "part" else tables
    return ""


def test_every_entry_in_quotes_is_a_key_of_its_file() -> None:
    """Where a lever writes, a row asks or a quantity is told."""
    texts = {path: path.read_text("utf-8") for path in SOURCE.rglob("*.py")}
    found = [
        (path.relative_to(SOURCE).as_posix(), file, entry)
        for path, text in texts.items()
        for file, entry in ENTRY.findall(text)
    ]
    assert len(found) > 90
    assert [each for each in found if not_there(*each[1:])] == []


def test_a_wrong_entry_is_seen() -> None:
    assert not_there("rocket.toml", "retention.hold") == "hold"
    assert not_there("rocket.toml", "part[{name}].strengh") == "strengh"
    assert not_there("rocket.toml", "part[{name}].strength") == ""
    assert not_there("rocket.toml", "{table}.pull") == ""
