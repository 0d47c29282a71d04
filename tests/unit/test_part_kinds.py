"""A kind of part nobody knows is weighed, drawn, listed and met by a motor as its record says."""

import ast
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from goodflight.physics.vehicle import parts
from goodflight.physics.vehicle.fit import ahead_of_motor
from goodflight.physics.vehicle.mass import mass_items
from goodflight.physics.vehicle.part import Long, Material, Turned
from goodflight.studies.bench.section import parts_list
from goodflight.studies.questions.layout import layout_of
from sample_case import sample_case

SOURCE = Path(__file__).resolve().parents[2] / "src" / "goodflight"
KINDS = {name for name, each in vars(parts).items() if isinstance(each, type)}


@dataclass(frozen=True)
class Band(Long, Turned):
    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0

    def stops(self, diameter_m: float) -> bool | None:
        """By its bore."""
        return self.inner_diameter_m < diameter_m or None


BAND = Band(
    "band",
    0.62,
    Material("made up", 1000.0),
    length_m=0.05,
    outer_diameter_m=0.06,
    inner_diameter_m=0.04,
)


def test_a_new_kind_needs_its_record_alone() -> None:
    case = sample_case()
    rocket = replace(case.rocket, parts=(*case.rocket.parts, BAND))
    item = next(each for each in mass_items(rocket) if each.name == "band")
    # by hand: pi / 4 (0.06^2 - 0.04^2) 0.05 m = 78.54 cm3, of 1 g/cm3
    assert item.mass_kg == pytest.approx(0.07854, rel=1e-4)
    assert (item.kind, item.station_m) == ("band", pytest.approx(0.645))
    drawn = layout_of(replace(case, rocket=rocket)).contents
    piece = next(each for each in drawn if each.name == "band")
    assert (piece.outer_radius_m, piece.inner_radius_m) == pytest.approx((0.03, 0.02))
    assert piece.aft_m == pytest.approx(0.67)
    listed = next(each for each in parts_list(rocket) if each.name == "band")
    assert (listed.kind, listed.material) == ("band", "made up")
    met = [each.part.name for each in ahead_of_motor(rocket, 0.054, 1.2)]
    assert "band" in met
    assert "band" not in [each.part.name for each in ahead_of_motor(rocket, 0.038, 1.2)]


def chains(tree: ast.AST) -> list[int]:
    """Lines that ask a part for its kind in several cases, or in both ways of one expression."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Match):
            asked = [case.pattern for case in node.cases]
            named = [each.cls for each in asked if isinstance(each, ast.MatchClass)]
            found += [node.lineno] if sum(map(_kind, named)) > 1 else []
        elif isinstance(node, ast.Call) and ast.unparse(node.func) == "isinstance":
            kinds = node.args[1]
            several = isinstance(kinds, ast.BinOp) and _kind(kinds.left) and _kind(kinds.right)
            found += [node.lineno] if several else []
    return found


def _kind(node: ast.expr) -> bool:
    return ast.unparse(node).rpartition(".")[2] in KINDS


def test_no_module_tells_kinds_of_parts_apart_for_all_parts() -> None:
    found = [
        f"{path.relative_to(SOURCE)}:{line}"
        for path in sorted(SOURCE.rglob("*.py"))
        for line in chains(ast.parse(path.read_text("utf-8")))
    ]
    assert not found, "let the record answer: physics/vehicle/part.py"


def test_both_forms_are_seen() -> None:
    text = "match part:\n    case p.Nose():\n        a = 1\n    case p.Tube():\n        a = 2\n"
    assert chains(ast.parse(text)) == [1]
    assert chains(ast.parse("a = isinstance(part, Canopy | Cord)")) == [1]
    assert chains(ast.parse("a = isinstance(part, Canopy)")) == []
