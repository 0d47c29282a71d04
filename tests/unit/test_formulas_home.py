"""Formulas live in physics: studies, page and commands only put figures into them.

A formula shows by a power, a root, an angle function, a logarithm, or by gravity. Statistics,
directions on a map, sizes in proportion and the shapes that a template is cut to look like it:
those modules are named below, each with its reason; no other has one.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

SOURCE: Final = Path(__file__).resolve().parents[2] / "src" / "goodflight"
FREE: Final = ("studies", "page", "cli")
FUNCTIONS: Final = {
    *("sin", "cos", "tan", "asin", "acos", "atan", "atan2"),
    *("arcsin", "arccos", "arctan", "arctan2", "tanh", "hypot", "pi"),
    *("sqrt", "cbrt", "power", "exp", "log", "log10", "log2"),
}
ERRORS: Final = "errors of readings added in squares, or their covariance"
MAP: Final = "directions on the map"
SHAPE: Final = "the outline of a template that is cut"
SIZE: Final = "what is made larger weighs and covers in proportion"
STATISTICS: Final = "statistics of the simulated flights"
WHOLE: Final = {
    "studies/bench/guides.py": "the outline of a guide; its errors added in squares",
    "studies/bench/outlines.py": SHAPE,
    "studies/bench/sizes.py": SHAPE,
    "studies/calendar/problem.py": "a number beyond any calendar",
    "studies/calendar/setting.py": "hours drawn about their guess",
    "studies/case/readings.py": ERRORS,
    "studies/case/weighed.py": ERRORS,
    "studies/case/weighed_prior.py": "covariances; where a mass not entered may lie",
    "studies/case/weighed_readings.py": ERRORS,
    "studies/debriefing/film.py": ERRORS,
    "studies/debriefing/fit.py": ERRORS,
    "studies/debriefing/follow.py": ERRORS,
    "studies/debriefing/logged.py": ERRORS,
    "studies/debriefing/order.py": "a bound in multiples of gravity",
    "studies/debriefing/predicted.py": "a curve between two points of it",
    "studies/debriefing/predicting.py": MAP,
    "studies/debriefing/told.py": ERRORS,
    "studies/debriefing/why.py": ERRORS,
    "studies/field/aloft.py": "directions on the map; errors added in squares",
    "studies/finding/carried.py": MAP,
    "studies/finding/sightings.py": MAP,
    **dict.fromkeys(
        (
            f"studies/judging/{each}.py"
            for each in [
                "chance",
                "drivers",
                "failing",
                "flown",
                "measure_next",
                "parted",
                "remedies",
                "solving",
                "stands_out",
            ]
        ),
        STATISTICS,
    ),
    "studies/levers/bays.py": SIZE,
    "studies/levers/canopy.py": SIZE,
    "studies/levers/fins.py": SIZE,
    "studies/lists/ground_table.py": "a force as a luggage scale shows it",
    "studies/questions/ballast.py": ERRORS,
    "studies/questions/bands.py": "an angle from what the kernel keeps of it",
    "studies/questions/landings.py": MAP,
    "studies/questions/layout.py": ERRORS,
    "studies/questions/measuring.py": STATISTICS,
    "studies/questions/one_flight.py": STATISTICS,
    "studies/sizing/finals.py": STATISTICS,
    "studies/sizing/trying.py": STATISTICS,
}
MAY: Final = {
    ("studies/sampling/scores.py", "**"): "the range of whole-number seeds",
    ("page/guard.py", "**"): "how many guesses a code stands",
    ("cli/options.py", "**"): "the range of whole-number seeds",
    ("studies/rows/code.py", "gravity"): "weight from mass",
    ("studies/rows/guides.py", "gravity"): "weight from mass",
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
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div):
            for side in (node.left, node.right):
                named = ast.unparse(side).rpartition(".")[2].lower()
                if isinstance(side, ast.Name | ast.Attribute) and "gravity" in named:
                    yield node.lineno, "gravity"


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
    assert bool(found) == (module in WHOLE), f"{module}: move {found} into physics, with its check"


def test_a_formula_is_seen() -> None:
    text = "e = 0.5 * m * v**2\na = np.arctan2(w, v)\nn = math.sqrt(2)\nv **= 2\nw = m * GRAVITY\n"
    seen = [(1, "**"), (2, "arctan2"), (3, "sqrt"), (4, "**"), (5, "gravity")]
    assert sorted(formulas(text)) == seen
