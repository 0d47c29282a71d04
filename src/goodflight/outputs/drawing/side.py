"""Side view in section, to scale: body, contents hatched by kind, fins, guides, item numbers."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from goodflight.outputs.drawing.ink import Box, Point, Sheet, hatching, spread_out
from goodflight.studies.questions.layout import FinSet, Layout, Piece

BALLOON = 10.0  # radius
KNEE = 24.0  # below the balloons, where leaders turn straight down


@dataclass(frozen=True)
class Side:
    """Where the side view stands: station 0 at `left`, axis at `axis`, `scale` px per metre."""

    left: float
    axis: float
    scale: float

    def x(self, station_m: float) -> float:
        """Place of a station."""
        return self.left + station_m * self.scale

    def at(self, station_m: float, up_m: float) -> Point:
        """Place of a point of the section, up positive."""
        return self.left + station_m * self.scale, self.axis - up_m * self.scale


@dataclass(frozen=True)
class Item:
    """A numbered part: what the parts list says, and the dot its leader ends in."""

    name: str
    mass_kg: float | None
    station_m: float
    known: str
    fore_m: float
    aft_m: float
    up_m: float


def longest_m(layout: Layout) -> float:
    """From the nose tip to the last of all that is drawn [m]."""
    return max([layout.length_m, *(piece.aft_m for piece in layout.contents)])


def items_of(layout: Layout) -> list[Item]:
    """All parts, front to back by the station of their dot."""
    found = [_item(piece, piece.outer_radius_m * _skin(piece)) for piece in layout.body]
    found += [_item(piece, _middle(piece)) for piece in layout.contents]
    found += [_fin_item(fins) for fins in layout.fins]
    if layout.guides is not None:
        found.append(_item(layout.guides, -layout.diameter_m / 2 - 0.8 * layout.guide_height_m))
    return sorted(found, key=lambda item: ((item.fore_m + item.aft_m) / 2, item.name))


def _skin(piece: Piece) -> float:
    return 0.55 if piece.kind == "nose" else 0.98


def _middle(piece: Piece) -> float:
    if piece.inner_radius_m > 0.0:
        return (piece.outer_radius_m + piece.inner_radius_m) / 2
    return piece.outer_radius_m * 0.5


def _item(piece: Piece, up_m: float) -> Item:
    station = (piece.fore_m + piece.aft_m) / 2 if piece.balance_m is None else piece.balance_m
    return Item(
        name=piece.name,
        mass_kg=piece.mass_kg,
        station_m=station,
        known=piece.known,
        fore_m=piece.fore_m,
        aft_m=piece.aft_m,
        up_m=up_m,
    )


def _fin_item(fins: FinSet) -> Item:
    stations = [station for station, _ in fins.outline_m]
    radii = [radius for _, radius in fins.outline_m]
    top = max(math.cos(angle) for angle in fins.angles_rad)
    middle = sum(stations) / len(stations)
    inset = 0.3 * (max(stations) - min(stations))
    return Item(
        name=fins.name,
        mass_kg=fins.mass_kg,
        station_m=middle,
        known=fins.known,
        fore_m=min(stations) + inset,
        aft_m=max(stations) - inset,
        up_m=(min(radii) + 0.45 * (max(radii) - min(radii))) * max(top, 0.2),
    )


def draw_side(sheet: Sheet, view: Side, layout: Layout) -> None:
    """The rocket: far fins, walls, contents, outline, near fins, guides, joint."""
    for fins in layout.fins:
        _draw_fins(sheet, view, fins)
    _draw_outline(sheet, view, layout)
    for piece in layout.body:
        _draw_walls(sheet, view, piece)
    for piece in sorted(layout.contents, key=lambda piece: -piece.outer_radius_m):
        _draw_piece(sheet, view, piece)
    _draw_guides(sheet, view, layout)
    reach = layout.diameter_m * 0.62
    sheet.line(view.at(-0.012, 0.0), view.at(layout.length_m + 0.012, 0.0), "fine hair chain")
    joints = (layout.separation_m, layout.main_separation_m)
    for joint_m in (each for each in joints if each is not None):
        for sign in (1, -1):
            sheet.line(
                view.at(joint_m, sign * layout.diameter_m / 2),
                view.at(joint_m, sign * reach),
                "ink heavy",
            )


def _draw_outline(sheet: Sheet, view: Side, layout: Layout) -> None:
    upper = [view.at(station, radius) for station, radius in layout.outline_m]
    lower = [view.at(station, -radius) for station, radius in reversed(layout.outline_m)]
    sheet.shape([*upper, *lower], "ink heavy", "var(--paper)")
    for piece in layout.body[1:]:
        sheet.line(
            view.at(piece.fore_m, piece.outer_radius_m),
            view.at(piece.fore_m, -piece.outer_radius_m),
            "ink thin",
        )


def _draw_walls(sheet: Sheet, view: Side, piece: Piece) -> None:
    if piece.inner_radius_m <= 0.0:
        return
    for sign in (1, -1):
        sheet.line(
            view.at(piece.fore_m, sign * piece.inner_radius_m),
            view.at(piece.aft_m, sign * piece.inner_radius_m),
            "ink hair",
        )


def _draw_piece(sheet: Sheet, view: Side, piece: Piece) -> None:
    if piece.kind == "skin":  # paint and fillets have no room of their own
        return
    fore, aft = piece.fore_m, piece.aft_m
    if (aft - fore) * view.scale < 2.0:  # too thin to hatch: a stroke of its own
        middle, half = (fore + aft) / 2, 1.0 / view.scale
        fore, aft = middle - half, middle + half
    outer, inner = piece.outer_radius_m, piece.inner_radius_m
    style = "fine hair dash" if piece.kind == "bay" else "ink hair"
    halves = ((outer, inner), (-inner, -outer)) if inner > 0.0 else ((outer, -outer),)
    for top, bottom in halves:
        box = Box(*view.at(fore, top), *view.at(aft, bottom))
        if hatching(piece.kind) != "none":
            sheet.rectangle(box, "white")
        sheet.rectangle(box, style, hatching(piece.kind))


def _draw_fins(sheet: Sheet, view: Side, fins: FinSet) -> None:
    """Each fin as it is seen from the side; those that stand edge on are thin."""
    for angle in sorted(fins.angles_rad, key=lambda angle: abs(math.cos(angle))):
        lean = math.cos(angle)
        points = [view.at(station, radius * lean) for station, radius in fins.outline_m]
        sheet.shape(points, "ink thin", "var(--paper)")
        if fins.tab_m is not None:
            fore, aft, depth = fins.tab_m
            root = min(radius for _, radius in fins.outline_m)
            tab = [(fore, root), (aft, root), (aft, root - depth), (fore, root - depth)]
            sheet.shape([view.at(s, r * lean) for s, r in tab], "fine hair dash")


def _draw_guides(sheet: Sheet, view: Side, layout: Layout) -> None:
    radius, height = layout.diameter_m / 2, layout.guide_height_m
    for station in layout.guides_m:
        wide = max(0.004, height * 0.45)
        points = [
            (station - wide * 0.5, -radius), (station - wide * 0.5, -radius - height * 0.6),
            (station - wide, -radius - height * 0.6), (station - wide, -radius - height),
            (station + wide, -radius - height), (station + wide, -radius - height * 0.6),
            (station + wide * 0.5, -radius - height * 0.6), (station + wide * 0.5, -radius),
        ]  # fmt: skip
        sheet.shape([view.at(s, r) for s, r in points], "ink thin", "var(--paper)")


def draw_balloons(
    sheet: Sheet, view: Side, items: Sequence[Item], level: float, ends: tuple[float, float]
) -> None:
    """Numbered circles above the view, each with a leader to its part; leaders never cross."""
    if not items:
        return
    dots = _dots(view, items)
    gap = min(2.6 * BALLOON, (ends[1] - ends[0]) / len(items))
    places = spread_out(dots, gap, *ends)
    staggered = gap < 2.1 * BALLOON
    for number, (item, dot, place) in enumerate(zip(items, dots, places, strict=True), 1):
        top = level - (2.1 * BALLOON if staggered and number % 2 else 0.0)
        end = view.axis - item.up_m * view.scale
        sheet.shape(
            [(place, top + BALLOON), (place, level + BALLOON), (dot, level + KNEE), (dot, end)],
            "ink hair",
            close=False,
        )
        sheet.circle((dot, end), 1.7, "solid")
        sheet.walls.append(Box(dot - 1, level + KNEE, dot + 1, end))
        sheet.circle((place, top), BALLOON, "ink thin", "var(--paper)")
        sheet.text(str(number), (place, top + 4), 11, "middle", "mono")


def _dots(view: Side, items: Sequence[Item]) -> list[float]:
    """Where the leaders end: mid part, moved apart where two would fall on each other."""
    wanted = [view.x((item.fore_m + item.aft_m) / 2) for item in items]
    return spread_out(wanted, 6.0, min(wanted) - 20, max(wanted) + 20)
