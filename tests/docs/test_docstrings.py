"""Public functions say what they take: parameters as in the signature, each with its unit."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

import goodflight
from goodflight import studies

PARAMETERS = re.compile(
    r"^ *Parameters\n(?: *-+\n)?(.*?)(?=^ *(?:Returns|Raises|Validity|Source|"
    r"Example|Yields)\n|\Z)",
    re.M | re.S,
)
ENTRY = re.compile(r"^ *(\*{0,2}\w+(?:, \*{0,2}\w+)*) : ", re.M)
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


FUNCTIONS = dict(public())


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
