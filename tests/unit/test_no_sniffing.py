"""Nothing is told from a name or a sentence: a typed field, a role or a declared key says it.

A beginning or an end of a text, a field asked for by a name made up on the spot, a field that may
not be there, a key put together from pieces: each goes wrong without a sound when a name changes.
Where texts come from outside, or a name is a rule of its own, the place stands below with the
reason. `project` reads files, `page` and `cli` addresses and entries of forms: of these three only
fields that may not be there are asked for (in `project` they are keys of a file, and left out).
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from goodflight.physics.vehicle import parts
from goodflight.physics.vehicle.part import Part

SOURCE: Final = Path(__file__).resolve().parents[2] / "src" / "goodflight"
ROOMS: Final = ("physics", "studies", "outputs", "page", "cli")
READS_TEXT: Final = ("page", "cli")
ENDS: Final = ("startswith", "endswith", "removeprefix", "removesuffix")
CUTS: Final = ("split", "rsplit", "partition", "rpartition")  # of a name at its "_"
FIELD, TEXT, KEY = "field that may not be there", "part of a text", "key in pieces"
FILE: Final = "the kind of a file stands at the end of its name, its room at the beginning"
SENTENCE: Final = "joins its own words into a sentence; nothing is decided"
LIBRARY: Final = "what this system, a library or another module may lack"
MAY: Final = {
    ("physics/flight/compiled.py", FIELD): LIBRARY,
    ("outputs/record.py", FIELD): "a record may have a heading of its own",
    ("page/files_page.py", FIELD): LIBRARY,
    ("page/navigation.py", FIELD): "a module of the page may have routes and a place in the list",
    ("page/room.py", FIELD): LIBRARY,
    ("cli/shell.py", FIELD): LIBRARY,
    ("studies/canopy_name.py", TEXT): "so that none is called canopy canopy; nothing is decided",
    ("studies/bench/outlines.py", TEXT): "a material's name without its thickness, to be shown",
    ("studies/bench/stamps.py", TEXT): FILE,
    ("studies/bench/ticking.py", TEXT): "whether a file ends in a line end",
    ("studies/case/project_case.py", TEXT): FILE,
    ("studies/finding/asked.py", TEXT): FILE,
    ("studies/finding/sightings.py", TEXT): "what somebody typed",
    (
        "studies/sampling/quantity.py",
        TEXT,
    ): "columns of a family: the one place that reads them",
    ("studies/sizing/trying.py", TEXT): FILE,
    ("outputs/calendar/words.py", TEXT): SENTENCE,
    ("outputs/debrief/table.py", TEXT): "cells that a spreadsheet would take for a formula",
    ("outputs/drawing/marks.py", TEXT): "a figure without the unit it was just given",
    ("outputs/field_card/words.py", TEXT): SENTENCE,
    ("outputs/field_sheets/evidence_pdf.py", TEXT): SENTENCE,
    ("outputs/figures.py", TEXT): "a field's name ends in its unit; the one place that reads it",
    ("outputs/scale/text.py", TEXT): SENTENCE,
    ("outputs/words.py", TEXT): SENTENCE,
}


def sniffing(text: str, reads_text: bool = False) -> Iterator[tuple[int, str]]:
    """Lines where something is told from a name, and how."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Subscript) and isinstance(node.ctx, ast.Load):
            found = KEY if isinstance(node.slice, ast.JoinedStr) else ""
        elif isinstance(node, ast.Compare):
            found = TEXT if _looked_for(node) else ""
        else:
            found = _asked(node) if isinstance(node, ast.Call) and node.args else ""
        if found and not (reads_text and found in (TEXT, KEY)):
            yield getattr(node, "lineno", 0), found


def _looked_for(node: ast.Compare) -> bool:
    """A word looked for in a name, or a part picked by the name that somebody gave it."""
    left, right = node.left, node.comparators[0]
    if isinstance(node.ops[0], ast.In | ast.NotIn) and isinstance(left, ast.Constant):
        cut = right.func if isinstance(right, ast.Call) else right
        return isinstance(cut, ast.Attribute) and cut.attr in ("lower", "name")
    said = isinstance(right, ast.Constant) and isinstance(right.value, str) and right.value
    return bool(said) and ast.unparse(left) in ("part.name", "canopy.name", "bay.name")


def _asked(call: ast.Call) -> str:
    named = call.func.id if isinstance(call.func, ast.Name) else ""
    method = call.func.attr if isinstance(call.func, ast.Attribute) else ""
    made_up = isinstance(call.args[-1], ast.JoinedStr | ast.IfExp)
    if named == "hasattr" or (named == "getattr" and (len(call.args) > 2 or made_up)):
        return FIELD
    if method == "get" and isinstance(call.args[0], ast.JoinedStr):
        return KEY
    first = call.args[0]
    cut = method in CUTS and isinstance(first, ast.Constant) and first.value == "_"
    return TEXT if method in ENDS or cut else ""


KINDS: Final = frozenset(
    name
    for name, each in vars(parts).items()
    if isinstance(each, type) and issubclass(each, Part) and each is not Part
)
# modules that ask one part of which kind it is, and how often: a step among all parts, in their
# order, that reads what only that kind has. A rocket's parts of a kind are `rocket.of_kind(...)`,
# those among others `of_kind(parts, ...)`; what holds for any part is answered by its record
ASKS_KIND: Final = {
    "physics/aero/build.py": 1,
    "physics/vehicle/mass.py": 1,
    "project/building.py": 1,
    "project/parts/packed.py": 1,
    "studies/bench/packing.py": 2,
    "studies/case/remade.py": 1,
    "studies/evidence/field.py": 2,
    "studies/levers/cord.py": 1,
    "studies/lists/carry.py": 1,
    "studies/packing.py": 3,
    "studies/rows/damp.py": 3,
    "studies/rows/nose_joint.py": 2,
    "studies/rows/parting.py": 1,
}


def kinds_asked(text: str) -> int:
    """How often a part is asked of which kind it is."""
    return sum(
        1
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "isinstance"
        for kind in ast.walk(node.args[1])
        if isinstance(kind, ast.Name | ast.Attribute)
        and ast.unparse(kind).removeprefix("p.").removeprefix("parts.") in KINDS
    )


def modules() -> list[str]:
    """Every module that is asked."""
    return sorted(
        path.relative_to(SOURCE).as_posix()
        for room in ROOMS
        for path in (SOURCE / room).rglob("*.py")
    )


def found_in(module: str) -> list[tuple[int, str]]:
    text = (SOURCE / module).read_text("utf-8")
    return list(sniffing(text, module.split("/", maxsplit=1)[0] in READS_TEXT))


@pytest.mark.parametrize("room", ROOMS)
def test_nothing_is_told_from_a_name(room: str) -> None:
    found = [
        f"{module}:{line}: {what}"
        for module in modules()
        if module.split("/")[0] == room
        for line, what in found_in(module)
        if (module, what) not in MAY
    ]
    assert not found, "give it a typed field, a role or a declared key"


def test_every_exception_is_still_needed() -> None:
    assert [(m, what) for m, what in MAY if what not in {each for _, each in found_in(m)}] == []


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("a = part.name.endswith('_s')", TEXT),
        ("a = 'paint' in item.name", TEXT),
        ("a = 'canopy' in name.lower()", TEXT),
        ("a = part.name == 'paint'", TEXT),
        ("a = name.rsplit('_', 1)", TEXT),
        ("a = getattr(part, 'length_m', 0.0)", FIELD),
        ("a = getattr(part, f'{key}_m')", FIELD),
        ("a = getattr(trace, 'whole' if full else 'ready')", FIELD),
        ("a = hasattr(part, 'length_m')", FIELD),
        ("a = columns[f'{prefix}_area_m2']", KEY),
        ("a = columns.get(f'{prefix}_area_m2', 0.0)", KEY),
    ],
)
def test_each_kind_is_seen(text: str, what: str) -> None:
    assert list(sniffing(text)) == [(1, what)]


def test_one_part_is_asked_for_its_kind_no_oftener_than_now() -> None:
    asked = {
        path.relative_to(SOURCE).as_posix(): kinds_asked(path.read_text("utf-8"))
        for path in SOURCE.rglob("*.py")
    }
    assert {module: count for module, count in asked.items() if count} == ASKS_KIND
    assert (
        kinds_asked("a = [x for x in y if isinstance(x, p.Fins | Tube) or isinstance(x, int)]") == 2
    )
