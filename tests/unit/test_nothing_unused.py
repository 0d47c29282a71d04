"""What a module defines is used somewhere in the program: names nobody asks for are taken out."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Final

SOURCE = Path(__file__).resolve().parents[2] / "src" / "goodflight"
MAY: Final = {
    "__init__.py: __getattr__": "Python asks for it",
    "__init__.py: __dir__": "Python asks for it",
    "physics/flight/__init__.py: __getattr__": "Python asks for it",
    "studies/bench/nesting.py: placed_area": "the outline that tests lay side by side",
    "studies/judging/drivers.py: total_index_jansen": "the brute force that drivers are tested by",
    "studies/case/codes.py: UNITED_STATES": "the code set that tests take for granted",
    "project/editing.py: edit": "one entry by its path: tests change a project so",
    "studies/finding/carried.py: flock_of": "what the script in a card does, and is held against",
}
BY_PLACE: Final = {"QUESTION", "ROUTES", "PAGE", "KIND", "MORE", "__all__", "__version__"}


def defined(tree: ast.Module) -> Iterator[str]:
    """Functions, classes and constants of a module, by name."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign):
            yield from (each.id for each in node.targets if isinstance(each, ast.Name))
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield node.target.id


def read(tree: ast.Module) -> Iterator[str]:
    """Names a module reads; in its texts too, where one names a place: "module:name"."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from re.findall(r"(?<=:)\w+$|\w+(?=\(\)$)", node.value)


def unused(modules: dict[str, str], pages: str = "") -> list[str]:
    """What is defined and read nowhere."""
    trees = {name: ast.parse(text) for name, text in modules.items()}
    words = Counter(word for tree in trees.values() for word in read(tree))
    words.update(re.findall(r"\w+", pages))
    found = [(name, each) for name, tree in trees.items() for each in defined(tree)]
    return [f"{name}: {each}" for name, each in found if not words[each] and each not in BY_PLACE]


def test_every_name_of_a_module_is_used() -> None:
    modules = {
        path.relative_to(SOURCE).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(SOURCE.rglob("*.py"))
    }
    pages = " ".join(path.read_text(encoding="utf-8") for path in SOURCE.rglob("*.html"))
    found = unused(modules, pages)
    assert set(found) == set(MAY), "take it out, or say in MAY why it stays"


def test_the_walk_sees_what_is_not_used() -> None:
    text = "A = 1\nB: int = 2\ndef f(): return B\ndef g(): pass\ndef h(): pass\nP = 'x.y:g'\n"
    assert unused({"m.py": text}, "{{ h(3) }}") == ["m.py: A", "m.py: f", "m.py: P"]
