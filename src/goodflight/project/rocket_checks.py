"""Whether the parts of a rocket fit together: order, places, diameters, fins, names.

Each check notes its own fault; a check whose figures are themselves faulty is left out.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.project import rocket_file as r
from goodflight.project.building import body_radius, body_stations
from goodflight.project.materials import library
from goodflight.project.measures import Pair
from goodflight.project.outlines import crossing
from goodflight.project.sheets import Sheet, nearest
from goodflight.project.values import Values
from goodflight.quantity import Quantity, show

NEAR_M = 0.0005  # half a millimetre: what counts as touching
OVERHANG_M = 0.06  # motor tubes and retainers may stand out behind the tail
STEP = 0.15  # relative change of diameter that needs a transition


@dataclass(frozen=True)
class Placed:
    """A part that is valid by itself, with its place in the file."""

    path: tuple[str | int, ...]
    table: Any


def _mm(value_m: float) -> str:
    return show(value_m, "length", unit="mm", digits=4 if value_m >= 1 else 3)


def _text(quantity: Quantity | Pair) -> str:
    return f'"{quantity.text}"'


def check_parts(sheet: Sheet, parts: list[Placed], complete: bool) -> None:
    """Check every valid part; checks across parts only when no part has been refused."""
    for part in parts:
        _CHECKS.get(part.table.kind, _no_check)(sheet, part)
        _material(sheet, part)
    if not complete:
        return
    _kinds(sheet, parts)
    body = [part for part in parts if part.table.kind in r.OUTER]
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


def _no_check(sheet: Sheet, part: Placed) -> None:
    return None


def _material(sheet: Sheet, part: Placed) -> None:
    name = part.table.material
    if isinstance(name, str) and name not in library():
        advice = nearest(name, list(library()), "or describe it: material = {name, density}")
        wanted = "a material of the library"
        if not advice.endswith("?"):
            wanted += f": {', '.join(library())}"
        sheet.add((*part.path, "material"), f'"{name}"', wanted, advice)
    if name is None and part.table.mass is None and part.table.kind != "bay":
        advice = "weigh it and write mass, or name its material so that it can be worked out"
        sheet.add((*part.path, "mass"), "neither mass nor material", "one of the two", advice)


def _smaller(
    sheet: Sheet, part: Placed, inner: str, outer: str, factor: float = 1.0, words: str = ""
) -> None:
    small, large = getattr(part.table, inner), getattr(part.table, outer)
    if small is None or large is None or small.value * factor < large.value - 1e-9:
        return
    limit = large.value / factor
    wanted = words or f"less than the {outer.replace('_', ' ')}, {_mm(limit)}"
    sheet.add((*part.path, inner), _text(small), wanted, f"check {inner} and {outer}")


def _hollow(sheet: Sheet, part: Placed) -> None:
    _smaller(sheet, part, "inner_diameter", "outer_diameter")


def _nose(sheet: Sheet, part: Placed) -> None:
    nose = part.table
    half = "less than half the diameter (0 for a solid nose)"
    _smaller(sheet, part, "wall", "diameter", 2.0, half)
    if nose.shoulder is not None and nose.shoulder["diameter"].value >= nose.diameter.value - 1e-9:
        wanted = f"a diameter less than the nose's, {_mm(nose.diameter.value)}"
        advice = "write length x diameter; check shoulder and diameter"
        sheet.add((*part.path, "shoulder"), _text(nose.shoulder), wanted, advice)
    own = r.OUTLINE_FIGURES.get(nose.outline, ("", 0.0))[0]
    for outline, (key, _) in r.OUTLINE_FIGURES.items():
        if key != own and getattr(nose, key) is not None:
            advice = f'remove {key}, or write outline = "{outline}"'
            found = f'{key} of a nose with outline = "{nose.outline}"'
            sheet.add((*part.path, key), found, f"{key} only with outline {outline}", advice)


def _canopy(sheet: Sheet, part: Placed) -> None:
    """A size that its kind can be measured by, once."""
    canopy, kind = part.table, canopy_kind(part.table.shape)
    ways = " or ".join(kind.ways)
    if canopy.across is None and canopy.cloth_area is None:
        wanted = f"across with {ways}, or cloth_area" if ways else "cloth_area, length x width"
        advice = f'add across = "1.00 m {next(iter(kind.ways))}", with your figure'
        advice = advice if ways else 'add cloth_area = "0.1 m2", with your figure'
        sheet.add((*part.path, "cloth_area"), "nothing", wanted, advice)
    elif canopy.across is not None and canopy.across.way not in kind.ways:
        wanted = f"a width {ways}" if ways else "cloth_area, length x width"
        advice = f"measure a {kind.label} canopy that way, or give cloth_area"
        sheet.add((*part.path, "across"), _text(canopy.across), wanted, advice)


def _transition(sheet: Sheet, part: Placed) -> None:
    half = "less than half the smaller diameter (0 for a solid part)"
    narrow = min(("fore_diameter", "aft_diameter"), key=lambda k: getattr(part.table, k).value)
    _smaller(sheet, part, "wall", narrow, 2.0, half)


def _buttons(sheet: Sheet, part: Placed) -> None:
    fore, aft = part.table.station, part.table.aft_station
    if aft.value <= fore.value:
        wanted = f"a station behind the forward guide at {_mm(fore.value)}"
        advice = "station is the forward guide, aft_station the rear one"
        sheet.add((*part.path, "aft_station"), _text(aft), wanted, advice)


def _fins(sheet: Sheet, part: Placed) -> None:
    fins = part.table
    sizes = ("root", "tip", "span", "sweep")
    given = [key for key in sizes if getattr(fins, key) is not None]
    if fins.outline is not None:
        if given:
            advice = "keep the outline, or root, tip, span and sweep"
            found = f"{given[0]} beside an outline"
            sheet.add((*part.path, given[0]), found, "one of the two", advice)
        elif _outline(sheet, part):
            _tab(sheet, part, fins.outline[-1][0].value)
        return
    for key in sizes:
        if key not in given:
            advice = f"add {key}, or give the corners as outline"
            sheet.add((*part.path, key), "nothing", "a length like 80 mm", advice)
    if len(given) == len(sizes):
        _tab(sheet, part, fins.root.value)


def _outline(sheet: Sheet, part: Placed) -> bool:
    path = (*part.path, "outline")
    corners = part.table.outline
    for i, pair in enumerate(corners):
        if len(pair) != 2:
            advice = "write each corner as [aft, outward]"
            sheet.add((*path, i), f"{len(pair)} numbers", "two lengths", advice)
            return False
    points = tuple((pair[0].value, pair[1].value) for pair in corners)
    first, last = corners[0], corners[-1]
    if points[0] != (0.0, 0.0):
        found = f'["{first[0].text}", "{first[1].text}"]'
        advice = "measure all corners from the front end of the root"
        sheet.add((*path, 0), found, '["0 mm", "0 mm"], the front end of the root', advice)
    elif abs(points[-1][1]) > 1e-9 or points[-1][0] <= 0:
        found = f'["{last[0].text}", "{last[1].text}"]'
        advice = "end the outline at the rear end of the root"
        sheet.add((*path, len(points) - 1), found, "a last corner on the root line", advice)
    elif any(y < 0 for _, y in points) or max(y for _, y in points) <= 0:
        advice = "corners stand outward of the body; put what is inside under tab"
        sheet.add(path, "corners inside the body", "corners at 0 or outward", advice)
    elif crossing(points) is not None:
        advice = "put the corners in order around the fin"
        sheet.add(path, "edges that cross", "a simple outline", advice)
    else:
        return True
    return False


def _tab(sheet: Sheet, part: Placed, root_m: float) -> None:
    fins = part.table
    if fins.tab is None:
        return
    end = fins.tab["length"].value + (fins.tab_behind.value if fins.tab_behind else 0.0)
    if end > root_m + 1e-9:
        advice = "shorten tab or tab_behind"
        wanted = f"a tab that ends on the root, within {_mm(root_m)}"
        found = f"a tab that ends {_mm(end)} behind the root's front"
        sheet.add((*part.path, "tab"), found, wanted, advice)


_CHECKS: dict[str, Callable[[Sheet, Placed], None]] = {
    "nose": _nose,
    "tube": _hollow,
    "coupler": _hollow,
    "ring": _hollow,
    "motor_tube": _hollow,
    "transition": _transition,
    "buttons": _buttons,
    "fins": _fins,
    "canopy": _canopy,
}


def _kinds(sheet: Sheet, parts: list[Placed]) -> None:
    kinds = [part.table.kind for part in parts]
    for kind, words in (("nose", "a nose"), ("fins", "a fin set"), ("motor_tube", "a motor tube")):
        if kind not in kinds:
            advice = f'add [[part]] with kind = "{kind}"'
            sheet.add(("part",), f"no part of kind {kind}", words, advice)
    outer = [part for part in parts if part.table.kind in r.OUTER]
    if outer and "nose" in kinds and outer[0].table.kind != "nose":
        advice = "list the body parts front to back, the nose first"
        found = f'kind "{outer[0].table.kind}" as the foremost body part'
        sheet.add((*outer[0].path, "kind"), found, "the nose first", advice)
    for part in outer[1:]:
        if part.table.kind == "nose" and outer[0].table.kind == "nose":
            advice = "remove one of them; a rocket has one nose"
            sheet.add((*part.path, "kind"), "a second nose", "one nose, at the front", advice)


def _ends(table: Any) -> tuple[float, float]:
    if table.kind == "nose":
        return 0.0, table.diameter.value
    if table.kind == "tube":
        return table.outer_diameter.value, table.outer_diameter.value
    return table.fore_diameter.value, table.aft_diameter.value


def _joins(sheet: Sheet, body: list[Placed]) -> None:
    end, diameter, before = 0.0, 0.0, ""
    for part in body:
        table = part.table
        front = end if table.station is None else table.station.value
        if abs(front - end) > NEAR_M:
            word = "a gap of" if front > end else "an overlap of"
            found = f"{_text(table.station)}, {word} {_mm(abs(front - end))}"
            wanted = f"{_mm(end)}, where the part before it ends"
            advice = "leave station out; body parts are placed front to back"
            sheet.add((*part.path, "station"), found, wanted, advice)
        fore, aft = _ends(table)
        comes_late = before and table.kind == "nose"  # said where the kinds are counted
        if before and not comes_late and abs(fore - diameter) > STEP * max(fore, diameter):
            key = "fore_diameter" if table.kind == "transition" else "outer_diameter"
            wanted = f"about {_mm(diameter)}, the diameter where {before} ends"
            advice = "check the diameter, or put a transition between them"
            sheet.add((*part.path, key), f'"{getattr(table, key).text}"', wanted, advice)
        end, diameter, before = front + table.length.value, aft, table.name


def _places(sheet: Sheet, parts: list[Placed]) -> None:
    tables = [part.table for part in parts]
    stations = body_stations(tables, Values())
    ends = [stations[t.name] + t.length.value for t in tables if t.name in stations]
    tail = max(ends)
    for part in parts:
        if part.table.kind in r.OUTER:
            continue
        if part.table.kind == "fins":
            _fins_place(sheet, part, tail)
        elif _inside(sheet, part, tail):
            _fits(sheet, part, tables, stations)
    _balances(sheet, parts, tail)
    _separates(sheet, tail)


def _separates(sheet: Sheet, tail: float) -> None:
    from goodflight.quantity import QuantityError, parse

    text = sheet.data.get("separates_at")
    try:
        at = parse(text, "length").value if isinstance(text, str) else 0.0
    except QuantityError:
        return
    if at > tail:
        wanted = f"a separation on the body, up to {_mm(tail)}"
        advice = "give the station where the rocket separates"
        sheet.add(("separates_at",), f'"{text}"', wanted, advice)


def _balances(sheet: Sheet, parts: list[Placed], tail: float) -> None:
    for part in parts:
        balance = part.table.balance
        if balance is not None and balance.value > tail + OVERHANG_M:
            wanted = f"a station on the rocket, up to {_mm(tail)}"
            advice = "balance is measured from the nose tip"
            sheet.add((*part.path, "balance"), _text(balance), wanted, advice)


def _fins_place(sheet: Sheet, part: Placed, tail: float) -> None:
    fins = part.table
    root = fins.outline[-1][0].value if fins.outline else fins.root.value if fins.root else None
    if fins.station is None:
        advice = "give the station of the root's front end"
        sheet.add((*part.path, "station"), "nothing", "a length like 1060 mm", advice)
    elif root is not None and fins.station.value + root > tail + NEAR_M:
        end = _mm(fins.station.value + root)
        found = f"{_text(fins.station)}, so that the root ends at {end}"
        wanted = f"a root that ends on the body, by {_mm(tail)}"
        sheet.add(
            (*part.path, "station"), found, wanted, "move the fins forward or shorten the root"
        )


def _inside(sheet: Sheet, part: Placed, tail: float) -> bool:
    table = part.table
    long = _long(table)
    end = table.station.value + (long.value if long is not None else 0.0)
    room = OVERHANG_M if table.kind in ("motor_tube", "added_mass") else NEAR_M
    if end <= tail + room:
        return True
    found = f"{_text(table.station)}, so that it ends at {_mm(end)}"
    wanted = f"a place inside the rocket, which ends at {_mm(tail)}"
    sheet.add((*part.path, "station"), found, wanted, "check the station and the length")
    return False


def _long(table: Any) -> Quantity | None:
    if table.kind == "canopy":
        return None if table.roll is None else table.roll["length"]
    found: Quantity | None = table.stowed_length if table.kind == "cord" else r.length_of(table)
    return found


def _fits(sheet: Sheet, part: Placed, tables: list[Any], stations: dict[str, float]) -> None:
    table = part.table
    keys = {"coupler": "outer_diameter", "ring": "outer_diameter", "motor_tube": "outer_diameter",
            "bulkhead": "diameter", "bay": "inner_diameter"}  # fmt: skip
    key = keys.get(table.kind)
    if key is None:
        return
    size = getattr(table, key)
    around = body_radius(tables, stations, min(table.station.value, max(stations.values())))
    for each in tables:
        front = stations.get(each.name)
        if front is None or each.kind != "tube":
            continue
        if front - 1e-9 <= table.station.value <= front + each.length.value + 1e-9:
            around = each.inner_diameter.value / 2
    if around and size.value > 2 * around + 1e-9:
        wanted = f"at most {_mm(2 * around)}, the inside of the body there"
        sheet.add((*part.path, key), _text(size), wanted, f"check {key}, or the station")
