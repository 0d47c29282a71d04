"""Whether the parts of a rocket fit together: order, places, diameters, fins, names.

Each check notes its own fault; a check whose figures are themselves faulty is left out.
"""

from typing import Any

from goodflight.project import fit_checks, not_computed
from goodflight.project.building import body_stations
from goodflight.project.lines import Path
from goodflight.project.materials import library
from goodflight.project.parts import OUTER, PART_TABLES, kind_of
from goodflight.project.parts.added_mass import AddedMassTable
from goodflight.project.parts.table import (
    NEAR_M,
    OVERHANG_M,
    PartKind,
    PartTable,
    Placed,
    mm,
    quoted,
)
from goodflight.project.sheets import Sheet, nearest, one_of
from goodflight.project.values import Values

STEP = 0.15  # relative change of diameter that needs a transition


def read_part(sheet: Sheet, number: int, row: dict[str, Any]) -> PartTable | None:
    """Return a part as its kind reads it, None where it is wrong."""
    kind = row.get("kind")
    path = ("part", number)
    if isinstance(kind, str) and kind in PART_TABLES:
        return sheet.check(path, row, PART_TABLES[kind])
    refuse_kind(sheet, (*path, "kind"), kind)
    return None


def refuse_kind(sheet: Sheet, path: Path, kind: Any) -> None:
    """Note a kind of part that there is not: the reason where no model computes it."""
    shown, kinds = "nothing" if kind is None else f'"{kind}"', list(PART_TABLES)
    advice = 'add kind = "tube" or another' if kind is None else nearest(kind, kinds)
    wanted = not_computed.KINDS.get(str(kind))
    sheet.add(path, shown, wanted or one_of(kinds), "take it out" if wanted else advice)


def check_parts(sheet: Sheet, parts: list[Placed], complete: bool) -> None:
    """Check every valid part; checks across parts only when no part has been refused."""
    for part in parts:
        check = kind_of(part.table).check
        if check is not None:
            check(sheet, part)
        _material(sheet, part)
    if not complete:
        return
    _kinds(sheet, parts)
    body = [part for part in parts if part.table.kind in OUTER]
    if not body or body[0].table.kind != "nose":
        return
    _joins(sheet, body)
    _places(sheet, parts)


def check_names(sheet: Sheet, key: str, rows: list[dict[str, Any]]) -> None:
    """Note every name that an earlier row of the same list already has."""
    seen: dict[str, int] = {}
    for i, row in enumerate(rows):
        name = row.get("name")
        if not isinstance(name, str):
            continue
        if name in seen:
            line = sheet.lines.get((key, seen[name], "name"), 1)
            advice = f"rename one of the two; the other stands in line {line}"
            wanted = f"a name that no other {key} has"
            sheet.add((key, i, "name"), f'"{name}" for a second time', wanted, advice)
        else:
            seen[name] = i


def check_holds(sheet: Sheet, rows: list[dict[str, Any]]) -> None:
    """Note every bay that holds a part that is not there."""
    names = [row["name"] for row in rows if isinstance(row.get("name"), str)]
    for i, row in enumerate(rows):
        held = row.get("holds") if row.get("kind") == "bay" else None
        for j, name in enumerate(held if isinstance(held, list) else []):
            if isinstance(name, str) and name not in names:
                path = ("part", i, "holds", j)
                advice = nearest(name, names, "name a part of this file, or remove it here")
                sheet.add(path, f'"{name}"', "the name of a part in rocket.toml", advice)


def _material(sheet: Sheet, part: Placed) -> None:
    name = part.table.material
    if isinstance(name, str) and name not in library():
        advice = nearest(name, list(library()), "or describe it: material = {name, density}")
        wanted = "a material of the library"
        if not advice.endswith("?"):
            wanted += f": {', '.join(library())}"
        sheet.add((*part.path, "material"), f'"{name}"', wanted, advice)
    if name is None and part.table.mass is None and not kind_of(part.table).weightless:
        advice = "weigh it and write mass, or name its material so that it can be worked out"
        sheet.add((*part.path, "mass"), "neither mass nor material", "one of the two", advice)


def _kinds(sheet: Sheet, parts: list[Placed]) -> None:
    kinds = [part.table.kind for part in parts]
    for kind, words in (("nose", "a nose"), ("fins", "a fin set"), ("motor_tube", "a motor tube")):
        if kind not in kinds:
            advice = f'add [[part]] with kind = "{kind}"'
            sheet.add(("part",), f"no part of kind {kind}", words, advice)
    outer = [part for part in parts if part.table.kind in OUTER]
    if outer and "nose" in kinds and outer[0].table.kind != "nose":
        advice = "list the body parts front to back, the nose first"
        found = f'kind "{outer[0].table.kind}" as the foremost body part'
        sheet.add((*outer[0].path, "kind"), found, "the nose first", advice)
    for part in outer[1:]:
        if part.table.kind == "nose" and outer[0].table.kind == "nose":
            advice = "remove one of them; a rocket has one nose"
            sheet.add((*part.path, "kind"), "a second nose", "one nose, at the front", advice)


def _ends(kind: PartKind, table: Any) -> tuple[float, float]:
    """Diameters in front and behind of an outer part; a nose begins in a point."""
    fore, aft = kind.ends(table) if kind.ends is not None else (None, None)
    return 0.0 if fore is None else fore.value, 0.0 if aft is None else aft.value


def _joins(sheet: Sheet, body: list[Placed]) -> None:
    end, diameter, before = 0.0, 0.0, ""
    for part in body:
        table = part.table
        front = end if table.station is None else table.station.value
        if abs(front - end) > NEAR_M:
            word = "a gap of" if front > end else "an overlap of"
            found = f"{quoted(table.station)}, {word} {mm(abs(front - end))}"
            wanted = f"{mm(end)}, where the part before it ends"
            advice = "leave station out; body parts are placed front to back"
            sheet.add((*part.path, "station"), found, wanted, advice)
        kind = kind_of(table)
        fore, aft = _ends(kind, table)
        comes_late = before and table.kind == "nose"  # said where the kinds are counted
        if before and not comes_late and abs(fore - diameter) > STEP * max(fore, diameter):
            key = kind.front
            wanted = f"about {mm(diameter)}, the diameter where {before} ends"
            advice = "check the diameter, or put a transition between them"
            sheet.add((*part.path, key), f'"{getattr(table, key).text}"', wanted, advice)
        end, diameter, before = front + table.length.value, aft, table.name


def _one_mount(sheet: Sheet, parts: list[Placed]) -> None:
    """A second motor tube would hold a motor that is not flown."""
    mounts = [part for part in parts if part.table.kind == "motor_tube"]
    for part in mounts[1:]:
        found = f'"{part.table.name}", beside "{mounts[0].table.name}"'
        advice = "take it out; a tube that holds no motor is a ring or an added_mass"
        sheet.add((*part.path, "kind"), found, not_computed.ONE_MOTOR, advice)


def _one_whole(sheet: Sheet, parts: list[Placed]) -> None:
    """What parts of 0 g weigh together is known once."""
    wholes = [p for p in parts if isinstance(p.table, AddedMassTable) and p.table.whole]
    for part in wholes[1:]:
        found = f'role "whole" of "{part.table.name}", beside "{wholes[0].table.name}"'
        advice = "take it out, or give it the role other"
        sheet.add((*part.path, "role"), found, "one whole", advice)


def _places(sheet: Sheet, parts: list[Placed]) -> None:
    _one_mount(sheet, parts)
    _one_whole(sheet, parts)
    tables = [part.table for part in parts]
    stations = body_stations(tables, Values())
    ends = [stations[t.name] + t.length.value for t in tables if t.name in stations]
    tail = max(ends)
    for part in parts:
        if part.table.kind in OUTER:
            continue
        if part.table.kind == "fins":
            _fins_place(sheet, part, tail)
        elif _inside(sheet, part, tail):
            fit_checks.check_inside(sheet, part, tables, stations)
    fit_checks.check_rings(sheet, parts)
    fit_checks.check_tabs(sheet, parts, tables, stations)
    _balances(sheet, parts, tail)
    _separates(sheet, tail)


def _separates(sheet: Sheet, tail: float) -> None:
    from goodflight.quantity import QuantityError, parse

    second = sheet.data.get("main_separation")
    for path, text in (
        (("separates_at",), sheet.data.get("separates_at")),
        (("main_separation", "at"), second.get("at") if isinstance(second, dict) else None),
    ):
        try:
            at = parse(text, "length").value if isinstance(text, str) else 0.0
        except QuantityError:
            continue
        if at > tail:
            wanted = f"a separation on the body, up to {mm(tail)}"
            advice = "give the station where the rocket separates"
            sheet.add(path, f'"{text}"', wanted, advice)


def _balances(sheet: Sheet, parts: list[Placed], tail: float) -> None:
    for part in parts:
        balance = part.table.balance
        if balance is not None and balance.value > tail + OVERHANG_M:
            wanted = f"a station on the rocket, up to {mm(tail)}"
            advice = "balance is measured from the nose tip"
            sheet.add((*part.path, "balance"), quoted(balance), wanted, advice)


def _fins_place(sheet: Sheet, part: Placed, tail: float) -> None:
    fins = part.table
    root = fins.outline[-1][0].value if fins.outline else fins.root.value if fins.root else None
    if fins.station is None:
        advice = "give the station of the root's front end"
        sheet.add((*part.path, "station"), "nothing", "a length like 1060 mm", advice)
    elif root is not None and fins.station.value + root > tail + NEAR_M:
        end = mm(fins.station.value + root)
        found = f"{quoted(fins.station)}, so that the root ends at {end}"
        wanted = f"a root that ends on the body, by {mm(tail)}"
        sheet.add(
            (*part.path, "station"), found, wanted, "move the fins forward or shorten the root"
        )


def _inside(sheet: Sheet, part: Placed, tail: float) -> bool:
    table = part.table
    kind = kind_of(table)
    long = kind.long(table)
    end = table.station.value + (long.value if long is not None else 0.0)
    if end <= tail + kind.overhang_m:
        return True
    found = f"{quoted(table.station)}, so that it ends at {mm(end)}"
    wanted = f"a place inside the rocket, which ends at {mm(tail)}"
    sheet.add((*part.path, "station"), found, wanted, "check the station and the length")
    return False
