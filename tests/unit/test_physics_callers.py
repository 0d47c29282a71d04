"""Every public function of physics is called by the program: the tested formula is the flown one.

Walks the names that the sources use; what only a function without a caller uses does not count.
Functions are told by their last name, so two of one name vouch for each other.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src" / "goodflight"
Place = tuple[str, int, int]  # file, first and last line
BY_THE_COMPILER = {"define_pipelines", "run_pass"}  # of classes of its own that physics derives


def definitions(tree: ast.Module, file: str) -> Iterator[tuple[str, Place]]:
    """Public functions and methods of one module, with their places."""
    for node in tree.body:
        inside = node.body if isinstance(node, ast.ClassDef) else [node]
        for each in inside:
            if not isinstance(each, ast.FunctionDef) or each.name in BY_THE_COMPILER:
                continue
            if not each.name.startswith("_"):
                yield each.name, (file, each.lineno, each.end_lineno or each.lineno)


def uses(tree: ast.Module, file: str) -> Iterator[tuple[str, str, int]]:
    """Names and attributes a module uses, with file and line; imports are no use."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield node.id, file, node.lineno
        elif isinstance(node, ast.Attribute):
            yield node.attr, file, node.lineno


def uncalled(texts: dict[str, str]) -> list[str]:
    """Public functions of `physics/` that nothing uses but themselves and each other."""
    trees = {file: ast.parse(text) for file, text in texts.items()}
    found = [
        each
        for file, tree in trees.items()
        if "physics/" in file
        for each in definitions(tree, file)
    ]
    used = [use for file, tree in trees.items() for use in uses(tree, file)]
    dead: dict[Place, str] = {}
    while True:
        alive = {
            (name, file, line)
            for name, file, line in used
            if not any(f == file and a <= line <= b for f, a, b in dead)
        }
        by_name: dict[str, list[tuple[str, int]]] = {}
        for name, file, line in alive:
            by_name.setdefault(name, []).append((file, line))
        more = {
            place: name
            for name, place in found
            if place not in dead
            and not any(
                file != place[0] or not place[1] <= line <= place[2]
                for file, line in by_name.get(name, ())
            )
        }
        if not more:
            return sorted(f"{place[0]}: {name}" for place, name in dead.items())
        dead |= more


def test_every_public_function_of_physics_has_a_caller() -> None:
    texts = {
        path.relative_to(SOURCE).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(SOURCE.rglob("*.py"))
    }
    assert uncalled(texts) == []


def test_the_walk_sees_what_nobody_calls() -> None:
    """One that calls itself, one that only it calls, one that a study calls."""
    physics = (
        "def lonely(n):\n    return lonely(n - 1) + helper(n)\n"
        "def helper(n):\n    return n\n"
        "def flown(n):\n    return n\n"
    )
    study = "from goodflight.physics.x import flown, lonely\nanswer = flown(1)\n"
    found = uncalled({"physics/x.py": physics, "studies/y.py": study})
    assert found == ["physics/x.py: helper", "physics/x.py: lonely"]
