"""The demo project "Fieldfare": rocket, motors, field and weather are invented, and say so.

The rocket was planned on the middle motor in calm air, came out heavier and more tail-heavy when
weighed, got ballast in the nose, and meets a rising wind on a field with one bad side. Its files
stand under `data/demo/` as they are written.
"""

from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def demo_files() -> dict[str, str]:
    """Return the texts of the demo project by path inside its folder."""
    home = files("goodflight.project").joinpath("data", "demo")
    return {name: each.read_text(encoding="utf-8") for name, each in _walk(home, "")}


def _walk(folder: Traversable, above: str) -> Iterator[tuple[str, Traversable]]:
    for each in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if each.name.startswith((".", "__")):
            continue
        if each.is_dir():
            yield from _walk(each, f"{above}{each.name}/")
        else:
            yield f"{above}{each.name}", each


def write_demo(folder: Path) -> None:
    """Write the demo project into a new or empty folder.

    Raises
    ------
    SaveRefused - the folder holds something already.
    """
    from goodflight.project.saving import write_project

    write_project(folder, demo_files())
