"""The rocket in section with every part a shape of its own, those on the scale lit.

Drawn lying for a desk and upright for a phone. A shape carries the part's name, so that a touch
on it can put the part on the scale or take it off; the page inks `part` and `part on`.
"""

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

from goodflight.studies.questions.layout import FinSet, Layout, Piece

LYING: Final = 960.0  # longest side, and room around it
STANDING: Final = 620.0
ROOM: Final = 8.0
THIN: Final = 5.0  # least width of a shape that a finger or an eye must find
SKIN: Final = 3.0  # paint and fillets are drawn as a band along the body
GEAR: Final = ("canopy", "cord", "added_mass")  # what lies packed beside other things
MOTOR: Final = "motor"
Place = Callable[[float, float], tuple[float, float]]


@dataclass(frozen=True)
class _Shape:
    name: str
    kind: str
    points: tuple[tuple[float, float], ...]  # station and height above the axis [m]


def state_svg(
    layout: Layout,
    on: Collection[str],
    guides: str = "",
    motor: bool = False,
    upright: bool = False,
) -> str:
    """The rocket, the parts on the scale lit.

    Parameters
        layout : Layout - where everything is. [SI]
        on : collection of str - names of the parts on the scale. [-]
        guides : str - name of the part that the rail guides are. [-]
        motor : bool - whether a loaded motor is in it. [-]
        upright : bool - nose up, for a phone. [-]
    Returns
        svg : str - one group for each part, named in `data-part`. [-]
    Raises
        nothing
    Validity
        To scale, but thin parts are widened and packed gear is drawn side by side.
    Source
        Own drawing.
    Example
        none
    """
    shapes = list(_shapes(layout, guides))
    lit = {*on, *([MOTOR] if motor else [])}
    reach = max(abs(r) for shape in shapes for _, r in shape.points)
    last = max(s for shape in shapes for s, _ in shape.points)
    scale = ((STANDING if upright else LYING) - 2 * ROOM) / last
    wide = 2 * (reach * scale + ROOM)
    size = (wide, last * scale + 2 * ROOM) if upright else (last * scale + 2 * ROOM, wide)

    def at(station: float, height: float) -> tuple[float, float]:
        along, across = ROOM + station * scale, wide / 2 - height * scale
        return (across, along) if upright else (along, across)

    drawn = "".join(_drawn(shape, at, shape.name in lit) for shape in shapes)
    named = ", ".join(sorted(lit & {shape.name for shape in shapes})) or "nothing"
    axis = "M{:.1f} {:.1f}L{:.1f} {:.1f}".format(*at(-0.005, 0.0), *at(last + 0.005, 0.0))
    return (
        f'<svg class="state {"upright" if upright else "lying"}" viewBox="0 0 {size[0]:.0f} '
        f'{size[1]:.0f}" role="img" aria-label="on the scale: {escape(named)}">'
        f'{drawn}<path d="{axis}" class="axis"/></svg>'
    )


def _drawn(shape: _Shape, at: Place, lit: bool) -> str:
    path = "".join(
        f"{'L' if i else 'M'}{x:.1f} {y:.1f}"
        for i, (x, y) in enumerate(at(s, r) for s, r in shape.points)
    )
    name = escape(shape.name, quote=True)
    return (
        f'<path data-part="{name}" class="part {shape.kind}{" on" if lit else ""}" d="{path}z">'
        f"<title>{name}</title></path>"
    )


def _shapes(layout: Layout, guides: str) -> Iterable[_Shape]:
    """From the back to the front: far fins, body, what is in it, near fins, guides, skins."""
    for fins in layout.fins:
        yield from _fin_shapes(fins)
    for piece in layout.body:
        yield _Shape(piece.name, "shell", _outline(layout, piece))
    gear = [p for p in layout.contents if p.kind in GEAR]
    for piece in sorted(layout.contents, key=lambda each: -each.outer_radius_m):
        if piece.kind in ("bay", "skin") or piece in gear:
            continue
        name = MOTOR if piece.kind == "motor" else piece.name
        outer, inner = piece.outer_radius_m, piece.inner_radius_m
        if piece.kind in ("motor", "coupler", "motor_tube") or inner <= 0.0:
            yield _box(layout, name, piece.kind, piece, (outer, -outer))
        else:
            yield _box(layout, name, piece.kind, piece, (outer, inner))
            yield _box(layout, name, piece.kind, piece, (-inner, -outer))
    yield from _packed(layout, gear)
    for piece in layout.contents:
        if piece.kind == "skin":
            outer, thick = piece.outer_radius_m, SKIN * layout.length_m / LYING
            yield _box(layout, piece.name, "skin", piece, (outer + thick, outer))
            yield _box(layout, piece.name, "skin", piece, (-outer, -outer - thick))
    for station in layout.guides_m if guides else ():
        radius, half = layout.diameter_m / 2, THIN * layout.length_m / LYING
        low = radius + max(layout.guide_height_m, 2 * half)
        yield _Shape(
            guides,
            "guide",
            (
                (station - half, -radius),
                (station + half, -radius),
                (station + half, -low),
                (station - half, -low),
            ),
        )


def _fin_shapes(fins: FinSet) -> Iterable[_Shape]:
    for angle in sorted(fins.angles_rad, key=lambda each: abs(math.cos(each))):
        lean = math.cos(angle)
        yield _Shape(fins.name, "fin", tuple((s, r * lean) for s, r in fins.outline_m))


def _outline(layout: Layout, piece: Piece) -> tuple[tuple[float, float], ...]:
    """The body's own outline between a piece's ends."""
    upper = [(s, r) for s, r in layout.outline_m if piece.fore_m - 1e-9 <= s <= piece.aft_m + 1e-9]
    if len(upper) < 2:
        outer = piece.outer_radius_m
        upper = [(piece.fore_m, outer), (piece.aft_m, outer)]
    return (*upper, *((s, -r) for s, r in reversed(upper)))


def _box(layout: Layout, name: str, kind: str, piece: Piece, ends: tuple[float, float]) -> _Shape:
    """A rectangle between two heights, widened where it would be too thin to be seen."""
    middle = (piece.fore_m + piece.aft_m) / 2
    half = max((piece.aft_m - piece.fore_m) / 2, 0.5 * THIN * layout.length_m / LYING)
    fore, aft, (top, low) = middle - half, middle + half, ends
    return _Shape(name, kind, ((fore, top), (aft, top), (aft, low), (fore, low)))


def _packed(layout: Layout, gear: Sequence[Piece]) -> Iterable[_Shape]:
    """Things that lie at the same stations, side by side across the tube."""
    room = 0.43 * layout.diameter_m
    for group in _together(gear):
        lanes: list[list[Piece]] = []
        for piece in group:
            free = next((lane for lane in lanes if lane[-1].aft_m <= piece.fore_m), None)
            if free is None:
                lanes.append(free := [])
            free.append(piece)
        alone, lane_m = len(lanes) == 1, 2 * room / len(lanes)
        for number, lane in enumerate(lanes):
            for piece in lane:
                half = min(room, max(piece.outer_radius_m, 0.15 * layout.diameter_m))
                top = room - number * lane_m
                ends = (half, -half) if alone else (top - 0.04 * lane_m, top - 0.96 * lane_m)
                yield _box(layout, piece.name, piece.kind, piece, ends)


def _together(gear: Sequence[Piece]) -> list[list[Piece]]:
    """Groups of pieces whose stations overlap, each front to back."""
    groups: list[list[Piece]] = []
    for piece in sorted(gear, key=lambda each: (each.fore_m, each.aft_m)):
        if groups and piece.fore_m < max(each.aft_m for each in groups[-1]):
            groups[-1].append(piece)
        else:
            groups.append([piece])
    return groups
