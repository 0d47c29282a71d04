"""A figure of four digits and more, and every shared one, is typed in one module.

Figures in text do not count: examples and formulas in words are read, not calculated with.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from goodflight import constants

SOURCE: Final = Path(__file__).resolve().parents[2] / "src" / "goodflight"
DIGITS: Final = 4
SHARED: Final = {value for value in vars(constants).values() if isinstance(value, float)}
FEET: Final = "round numbers of feet or inches: lengths that are drawn, each list by itself"
CHANCE: Final = "two things that are a round number or a little over one, by chance"
MAY: Final = {
    1.001: CHANCE, 1.4: CHANCE, 32768.0: CHANCE,
    152.4: FEET, 304.8: FEET, 609.6: FEET, 0.0254: FEET,
}  # fmt: skip


def figures(text: str) -> Iterator[float]:
    """Figures of a module that are long or shared."""
    for node in ast.walk(ast.parse(text)):
        said = node.value if isinstance(node, ast.Constant) else None
        if isinstance(said, int | float) and not isinstance(said, bool):
            value = abs(float(said))
            digits = f"{value:.15g}".partition("e")[0].replace(".", "").strip("0")
            if len(digits) >= DIGITS or value in SHARED:
                yield value


def twice(texts: dict[str, str]) -> dict[float, list[str]]:
    """Those that stand in several modules."""
    found: dict[float, list[str]] = {}
    for module, text in texts.items():
        for value in set(figures(text)):
            found.setdefault(value, []).append(module)
    return {value: modules for value, modules in found.items() if len(modules) > 1}


def all_texts() -> dict[str, str]:
    return {
        path.relative_to(SOURCE).as_posix(): path.read_text("utf-8")
        for path in sorted(SOURCE.rglob("*.py"))
    }


def test_each_stands_in_one_module() -> None:
    found = twice(all_texts())
    surplus = {value: modules for value, modules in found.items() if value not in MAY}
    assert not surplus, "import it from where it is at home"
    assert not set(MAY) - set(found), "what stands once is taken off the list"


def test_a_second_home_is_seen() -> None:
    texts = {"a.py": "A = 8.314462618\nB = 2.5", "b.py": "C = 1e3 * 8.314462618 * 2.5"}
    assert twice(texts) == {8.314462618: ["a.py", "b.py"]}
    assert twice({"a.py": "A = 0.0254", "b.py": '"""0.0254"""\nB = -0.0254'})
