"""Public functions say what they take: parameters as in the signature, each with its unit.

Those of `physics` also say what they give and where it comes from; only the compiled kernel, which
works on one record that `registry` lists, and what starts it do not.
"""

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

import goodflight
from goodflight import physics, studies

PARAMETERS = re.compile(
    r"^ *Parameters\n(?: *-+\n)?(.*?)(?=^ *(?:Returns|Raises|Validity|Source|"
    r"Example|Yields)\n|\Z)",
    re.M | re.S,
)
ENTRY = re.compile(r"^ *(\*{0,2}\w+(?:, \*{0,2}\w+)*) : ", re.M)
STARTS = (
    "cores", "flight.compiled", "flight.loop", "flight.ready", "flight.record", "flight.sample",
)  # fmt: skip
UNIT = re.compile(r"\[[^\]\n]+\]")


def public() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Functions listed in `__all__` of any package, and what the studies document."""
    seen: set[int] = set()
    for info in pkgutil.walk_packages(goodflight.__path__, "goodflight."):
        if not info.ispkg or info.name.endswith(".page"):
            continue
        package = importlib.import_module(info.name)
        for name in getattr(package, "__all__", ()):
            held = getattr(package, name)
            if inspect.isfunction(held) and id(held) not in seen:
                seen.add(id(held))
                yield f"{info.name.removeprefix('goodflight.')}.{name}", held
    for info in pkgutil.walk_packages(studies.__path__, "goodflight.studies."):
        module = importlib.import_module(info.name)
        for name, held in vars(module).items():  # studies are asked module by module
            own = inspect.isfunction(held) and held.__module__ == info.name
            if own and PARAMETERS.search(inspect.getdoc(held) or ""):
                yield f"{info.name.removeprefix('goodflight.')}.{name}", held
    for name in goodflight.__all__:
        held = getattr(goodflight, name)
        if inspect.isfunction(held):
            yield name, held


def of_physics() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Every public function of physics but those of the compiled kernel and what starts it."""
    for info in pkgutil.walk_packages(physics.__path__, "goodflight.physics."):
        name = info.name.removeprefix("goodflight.physics.")
        if info.ispkg or name in STARTS:
            continue
        module = importlib.import_module(info.name)
        text = Path(inspect.getfile(module)).read_text("utf-8")
        for node in ast.parse(text).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                made_by = {ast.unparse(each) for each in node.decorator_list}
                if not any(each.startswith("compiled") for each in made_by):
                    yield f"{name}.{node.name}", getattr(module, node.name)


FUNCTIONS = dict(public())
PHYSICS = dict(of_physics())


def faults_of(function: Callable[..., Any]) -> list[str]:
    text = inspect.getdoc(function) or ""
    if not text:
        return ["no docstring"]
    wanted = [name for name in inspect.signature(function).parameters if name != "self"]
    section = PARAMETERS.search(text)
    if section is None:
        return ["no Parameters"] if wanted else []
    entries = ENTRY.split("\n" + section[1])[1:]
    named = [each.strip("*") for part in entries[::2] for each in part.split(", ")]
    faults = []
    if named != wanted:
        faults.append(f"parameters {named}, in the signature {wanted}")
    faults += [
        f"{name}: no unit"
        for name, words in zip(entries[::2], entries[1::2], strict=True)
        if not UNIT.search(words)
    ]
    return faults


@pytest.mark.parametrize("name", FUNCTIONS)
def test_parameters_and_units_are_those_of_the_signature(name: str) -> None:
    assert not faults_of(FUNCTIONS[name])


@pytest.mark.parametrize("name", PHYSICS)
def test_a_formula_says_what_it_takes_gives_and_comes_from(name: str) -> None:
    text = inspect.getdoc(PHYSICS[name]) or ""
    lacking = [each for each in ("Returns", "Source") if not re.search(rf"^ *{each}$", text, re.M)]
    assert not faults_of(PHYSICS[name]) and not lacking


def test_a_wrong_docstring_is_seen() -> None:
    def wrong(mass_kg: float, length_m: float) -> None:
        """Weigh.

        Parameters
            mass_kg : float - of the part.
            width_m : float - of the part. [m]
        """

    assert faults_of(wrong) == [
        "parameters ['mass_kg', 'width_m'], in the signature ['mass_kg', 'length_m']",
        "mass_kg: no unit",
    ]
