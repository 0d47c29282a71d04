"""Whether parts go together: what lies inside, rings, fin tabs, the motor in its mount.

What cannot be built is a fault; what is only doubtful is a doubt, said beside every answer.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle.fit import LOOSE_M, TOUCHING_M, ahead_of_motor, held_m, motor_room_m
from goodflight.physics.vehicle.parts import MotorTube, Rocket
from goodflight.project.building import body_radius
from goodflight.project.parts import OUTER, kind_of
from goodflight.project.parts.table import Placed, mm, quoted
from goodflight.project.sheets import Sheet
from goodflight.quantity import show
from goodflight.quantity.said import Said, both, literal, said

SHY_M: Final = 0.002  # a tab that ends this far from the motor tube is glued to one tube only
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Doubt:
    """Something that can be built and is probably not meant: where it stands, and what to do."""

    key: str
    words: Said


def opening_m(
    tables: Iterable[Any], stations: Mapping[str, float], fore: float, aft: float
) -> float:
    """Return the narrowest inside diameter of the body between two stations, inf outside it."""
    least = float("inf")
    for each in tables:
        front = stations.get(each.name)
        if front is None or each.kind not in OUTER:
            continue
        begin, end = max(fore, front), min(aft, front + each.length.value)
        if end < begin - 1e-9 or (end - begin < 1e-9 < aft - fore):
            continue
        if each.kind == "tube":
            least = min(least, each.inner_diameter.value)
        elif each.kind == "transition":
            wall = each.wall.value  # 0 = solid: what goes through it is bored out
            radii = (body_radius([each], stations, at) for at in (begin, end))
            least = min(least, *(2 * (radius - wall) for radius in radii))
        else:  # a nose is told by its base: what is in it is told by mass, not by shape
            least = min(least, 2 * body_radius([each], stations, begin))
    return least


def check_inside(sheet: Sheet, part: Placed, tables: list[Any], stations: dict[str, float]) -> bool:
    """Note what is wider than the body anywhere along it; say whether it goes in."""
    table = part.table
    kind = kind_of(table)
    if not kind.fits:
        return True
    size, long = getattr(table, kind.fits), kind.long(table)
    fore = table.station.value
    room = opening_m(tables, stations, fore, fore + (long.value if long is not None else 0.0))
    if size.value <= room + 1e-9:
        return True
    where = "there" if table.kind != "motor_tube" else "on its way to the tail"
    wanted = f"at most {mm(room)}, the inside of the body {where}"
    advice = f"check {kind.fits}, the station, and the body around it"
    sheet.add((*part.path, kind.fits), quoted(size), wanted, advice)
    return False


def check_rings(sheet: Sheet, parts: Iterable[Placed]) -> None:
    """Note rings that do not go over the motor tube they stand on."""
    parts = list(parts)
    for ring, tube in _on_tube([p for p in parts if p.table.kind == "ring"], parts):
        bore, outside = ring.table.inner_diameter, tube.outer_diameter
        if bore.value < outside.value - 1e-9:
            wanted = f"at least {mm(outside.value)}, the outside of {tube.name}"
            advice = "bore it to the motor tube, or check both diameters and the station"
            sheet.add((*ring.path, "inner_diameter"), quoted(bore), wanted, advice)


def check_tabs(
    sheet: Sheet, parts: Iterable[Placed], tables: list[Any], stations: dict[str, float]
) -> None:
    """Note fin tabs deeper than the gap between the body and the motor tube."""
    parts = list(parts)
    for fins in (p for p in parts if p.table.kind == "fins" and p.table.tab is not None):
        gap, inside = tab_gap_m(fins.table, tables, stations)
        depth = fins.table.tab["depth"]
        if gap is not None and depth.value > gap + TOUCHING_M:
            wanted = f"at most {mm(gap)} of depth, from the outside of the body to {inside}"
            advice = "write length x depth; check the depth and the motor tube"
            sheet.add((*fins.path, "tab"), quoted(fins.table.tab), wanted, advice)


def tab_gap_m(
    fins: Any, tables: list[Any], stations: Mapping[str, float]
) -> tuple[float | None, str]:
    """Return the room for a tab's depth, and what ends it; None outside the body."""
    if fins.station is None:
        return None, ""
    fore = fins.station.value + (fins.tab_behind.value if fins.tab_behind is not None else 0.0)
    aft = fore + fins.tab["length"].value
    radius = min(body_radius(tables, stations, at) for at in (fore, aft))
    if radius <= 0.0:
        return None, ""
    over = [t for t in tables if t.kind == "motor_tube" and _overlap(t, fore, aft)]
    if not over:
        return radius, "the middle of the body"
    tube = max(over, key=lambda each: each.outer_diameter.value)
    return radius - tube.outer_diameter.value / 2, tube.name


def doubts_of_parts(tables: list[Any], stations: Mapping[str, float]) -> Iterator[Doubt]:
    """Return what of the rocket's parts is doubtful: loose rings, tabs that are short or cross."""
    placed = [Placed((), table) for table in tables]
    rings = [each for each in placed if each.table.kind == "ring"]
    for ring, tube in _on_tube(rings, placed):
        play = ring.table.inner_diameter.value - tube.outer_diameter.value
        room = opening_m(tables, stations, ring.table.station.value, ring.table.station.value)
        loose = room - ring.table.outer_diameter.value
        key, name = f"part[{ring.table.name}]", literal(ring.table.name)
        if play > LOOSE_M:
            yield Doubt(
                f"{key}.inner_diameter",
                said(
                    f"bore of {name}: {{play}} of play on {literal(tube.name)}; it centres "
                    "nothing until that is filled",
                    play=(play, "length"),
                ),
            )
        if LOOSE_M < loose < float("inf"):
            yield Doubt(
                f"{key}.outer_diameter",
                said(
                    f"outside of {name}: {{play}} of play in the body; it centres nothing until "
                    "that is filled",
                    play=(loose, "length"),
                ),
            )
    for fins in (t for t in tables if t.kind == "fins" and t.tab is not None):
        yield from _tab_doubts(fins, tables, stations, [ring.table for ring in rings])


def _tab_doubts(
    fins: Any, tables: list[Any], stations: Mapping[str, float], rings: list[Any]
) -> Iterator[Doubt]:
    gap, inside = tab_gap_m(fins, tables, stations)
    key, name = f"part[{fins.name}].tab", literal(fins.name)
    if gap is None:
        return
    short = gap - fins.tab["depth"].value
    if short > SHY_M and inside != "the middle of the body":
        words = (
            f"tab of {name}: ends {{short}} short of {literal(inside)}; it is glued to the body "
            "only"
        )
        yield Doubt(key, said(words, short=(short, "length")))
    fore = fins.station.value + (fins.tab_behind.value if fins.tab_behind is not None else 0.0)
    for ring in rings:
        if _overlap(ring, fore + TOUCHING_M, fore + fins.tab["length"].value - TOUCHING_M):
            yield Doubt(
                key,
                said(f"tab of {name}: stands where {literal(ring.name)} is; notch one of the two"),
            )


def _on_tube(rings: list[Placed], parts: Iterable[Placed]) -> Iterator[tuple[Placed, Any]]:
    """Return every ring with the motor tube it stands on."""
    tubes = [each.table for each in parts if each.table.kind == "motor_tube"]
    for ring in rings:
        fore = ring.table.station.value
        for tube in tubes:
            if _overlap(tube, fore, fore + ring.table.thickness.value):
                yield ring, tube


def _overlap(table: Any, fore: float, aft: float) -> bool:
    if table.station is None:
        return False
    long = kind_of(table).long(table)
    front, end = table.station.value, table.station.value + (0.0 if long is None else long.value)
    return bool(front < aft - 1e-9 and fore < end - 1e-9)


class Unfit(NamedTuple):
    """Why a motor cannot go into its mount; narrow: an adapter helps; lies: what stands there."""

    words: Said
    narrow: bool = False
    lies: bool = False


def not_fitting(rocket: Rocket, motor: Motor) -> Said | None:
    """Return why a motor cannot go into a rocket's mount, None when it can."""
    tube = _mount(rocket)
    if tube is None:
        return said("the rocket has no motor tube")
    found = _unfit(rocket, tube, motor)
    return None if found is None else found.words


def _mount(rocket: Rocket) -> MotorTube | None:
    return next(iter(rocket.of_kind(MotorTube)), None)


def _unfit(rocket: Rocket, tube: MotorTube, motor: Motor) -> Unfit | None:
    bore, wide = tube.inner_diameter_m, motor.outside_m
    what = "" if motor.adapter_diameter_m is None else " with its adapter"
    sizes, name = f"{{wide}} wide{what} in a tube of {{bore}}", literal(tube.name)
    figures = {"wide": (wide, "length"), "bore": (bore, "length")}
    if wide > bore + 1e-9:
        return Unfit(said(f"too wide: {sizes}", **figures))
    if bore - wide > LOOSE_M:
        return Unfit(said(f"too narrow: {sizes}, it needs an adapter", **figures), narrow=True)
    if held_m(tube, motor.length_m) <= 0.0:
        at = tube.motor_aft_m, "length"
        place = said(f"its place, with the aft end at {{at}}, lies outside {name}", at=at)
        return Unfit(place, lies=True)
    solid = [e for e in ahead_of_motor(rocket, motor.diameter_m, tube.motor_aft_m) if e.solid]
    room = motor_room_m(tuple(solid), tube.motor_aft_m)
    if motor.length_m > room + TOUCHING_M:
        met = literal(solid[0].part.name) if solid else "the nose tip"
        words = said(
            f"too long: {{long}}, and {met} is {{room}} ahead of its aft end",
            long=(motor.length_m, "length"),
            room=(room, "length"),
        )
        return Unfit(words, lies=True)
    return None


def check_mount(sheet: Sheet, path: Path, name: str, rocket: Rocket, motor: Motor) -> None:
    """Note a plan's motor that cannot go into the rocket."""
    tube = _mount(rocket)
    why = None if tube is None else _unfit(rocket, tube, motor)
    if tube is None or why is None:
        return
    bore = _mm(tube.inner_diameter_m)
    advice = f"choose another motor, or check motors/{name}.toml and {tube.name} in rocket.toml"
    if why.narrow:
        advice = f"add [adapter] with outer_diameter and mass to motors/{name}.toml, or {advice}"
    wanted = f"a motor that goes into {tube.name}, inside {bore}"
    if why.lies:
        wanted = f"a motor that {tube.name} and what stands ahead of it leave room for"
    sheet.add((*path, "motor"), f'"{name}", {why.words}', wanted, advice)


def mount_doubt(rocket: Rocket, motor: Motor) -> Said | None:
    """Return how far a motor stands out of the front of its tube, None when it does not."""
    tube = _mount(rocket)
    out = 0.0 if tube is None else tube.station_m - (tube.motor_aft_m - motor.length_m)
    if tube is None or out <= TOUCHING_M:
        return None
    return said(
        f"{literal(motor.name)} is {{long}} long: {{out}} of it stands ahead of "
        f"{literal(tube.name)}, which holds {{held}}; check what is ahead of it and that nothing "
        "rubs",
        long=(motor.length_m, "length"),
        out=(out, "length"),
        held=(held_m(tube, motor.length_m), "length"),
    )


def _mm(value_m: float) -> str:
    metric = show(value_m, "length", unit="mm", digits=4 if value_m >= 1 else 3)
    return both(value_m, "size", metric)
