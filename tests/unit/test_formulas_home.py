"""Formulas live in physics: rows, draws, packing and the page only put figures into them.

A formula shows by a power, a root, an angle function or a logarithm. Statistics of the draws and
page names that look like it are named below, each with its reason.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

SOURCE: Final = Path(__file__).resolve().parents[2] / "src" / "goodflight"
FREE: Final = ("studies/rows", "studies/sampling", "studies/packing.py", "page")
FUNCTIONS: Final = {
    *("sin", "cos", "tan", "asin", "acos", "atan", "atan2"),
    *("arcsin", "arccos", "arctan", "arctan2", "tanh", "hypot", "pi"),
    *("sqrt", "cbrt", "power", "exp", "log", "log10", "log2"),
}
MAY: Final = {
    ("studies/sampling/scores.py", "**"): "the range of whole-number seeds",
    ("page/guard.py", "**"): "how many guesses a code stands",
}


def formulas(text: str) -> Iterator[tuple[int, str]]:
    """Lines with a power or a function that a formula needs."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.BinOp | ast.AugAssign) and isinstance(node.op, ast.Pow):
            yield node.lineno, "**"
        if (
            isinstance(node, ast.Attribute)
            and isinstance(node.value, ast.Name)
            and node.value.id in ("np", "math")
            and node.attr in FUNCTIONS
        ):
            yield node.lineno, node.attr


def modules() -> list[str]:
    """Every module in which no formula may stand."""
    found = [path for place in FREE for path in _below(SOURCE / place)]
    return sorted(str(path.relative_to(SOURCE)) for path in found)


def _below(place: Path) -> list[Path]:
    return [place] if place.suffix == ".py" else list(place.rglob("*.py"))


@pytest.mark.parametrize("module", modules())
def test_no_formula_stands_outside_physics(module: str) -> None:
    found = [
        (line, what)
        for line, what in formulas((SOURCE / module).read_text("utf-8"))
        if (module, what) not in MAY
    ]
    assert not found, f"{module}: move these into physics, each with its check"


def test_a_formula_is_seen() -> None:
    text = "e = 0.5 * m * v**2\na = np.arctan2(w, v)\nn = math.sqrt(2)\nv **= 2\n"
    assert sorted(formulas(text)) == [(1, "**"), (2, "arctan2"), (3, "sqrt"), (4, "**")]
