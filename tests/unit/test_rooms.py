"""The package has six rooms in one direction; each may use only the rooms above it.

quantity -> physics -> project -> studies -> outputs -> page, cli. Physics knows nothing of
quantities, outputs see only quantities and what studies hand back, a view never sees physics.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src" / "goodflight"
LONGEST_MODULE = 400  # lines; at 150 a module is of good size
LONGEST_BODY = 60  # lines of a function below its docstring
# one compiled piece: in parts, each a call of the kernel, it would be inlined otherwise
LONG_BODIES = {"physics/flight/forces.py: aero_forces"}

ALLOWED = {
    "constants": set(),
    "quantity": {"constants"},
    "physics": {"constants"},
    "project": {"constants", "quantity", "physics"},
    "studies": {"constants", "quantity", "physics", "project"},
    "outputs": {"constants", "quantity", "studies"},
    "page": {"quantity", "project", "studies", "outputs", "interface"},
    "cli": {"quantity", "project", "studies", "outputs", "page", "interface"},
    "interface": {"project", "studies", "outputs", "page"},
    "__main__": {"cli"},
    "__init__": set(),
}
# the command line may ask whether the kernel is compiled, to show progress before it is
EXCEPTIONS = {("cli/progress.py", "physics")}

MODULES = sorted(SOURCE.rglob("*.py"))


def room_of(path: Path) -> str:
    return path.relative_to(SOURCE).parts[0].removesuffix(".py")


def imported_rooms(text: str, folders: tuple[str, ...]) -> Iterator[str]:
    package = ["goodflight", *folders]
    for node in ast.walk(ast.parse(text)):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) + 1 - node.level] if node.level else []
            start = ".".join([*base, node.module] if node.module else base)
            names = [start]
            if start == "goodflight":
                names = [f"goodflight.{alias.name}" for alias in node.names]
        for name in names:
            words = name.split(".")
            if words[0] == "goodflight" and len(words) > 1 and not words[1].startswith("__"):
                yield words[1]


def test_imports_point_one_way() -> None:
    surplus = []
    for path in MODULES:
        room, place = room_of(path), path.relative_to(SOURCE)
        rooms = imported_rooms(path.read_text(encoding="utf-8"), place.parts[:-1])
        for other in sorted(set(rooms) - {room} - ALLOWED[room]):
            if (place.as_posix(), other) not in EXCEPTIONS:
                surplus.append(f"{place.as_posix()} is in {room} and may not import {other}")
    assert surplus == []


def test_modules_stay_small() -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    long = {str(path.relative_to(SOURCE)): n for path, n in lengths.items() if n > LONGEST_MODULE}
    assert long == {}, "split it by subject"


def test_functions_stay_small() -> None:
    found = set()
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                first = node.body[min(ast.get_docstring(node) is not None, len(node.body) - 1)]
                if (node.end_lineno or 0) - first.lineno >= LONGEST_BODY:
                    found.add(f"{path.relative_to(SOURCE).as_posix()}: {node.name}")
    assert found == LONG_BODIES


def test_the_walk_sees_every_way_to_import() -> None:
    text = (
        "from ..physics import air\n"
        "def inside():\n    import goodflight.cli\n"
        "from goodflight import page, __version__\n"
        "from goodflight.studies.results import Row\n"
        "import numpy\n"
    )
    assert set(imported_rooms(text, ("outputs",))) == {"physics", "cli", "page", "studies"}
