"""Plane figures as areas: made from corner lists, cut and joined (shapely, named once here)."""

from collections.abc import Callable, Iterable, Sequence
from math import cos, pi, sin
from typing import Any, Final

import shapely
import shapely.affinity
import shapely.geometry

from goodflight.studies.bench.shapes import (
    CHORD_M,
    Circle,
    Layer,
    Line,
    Point,
    Shape,
    Template,
    sides_of_circle,
)

Area = Any  # a shapely polygon or several
area: Final[Callable[..., Area]] = shapely.geometry.Polygon
chain: Final[Callable[..., Any]] = shapely.geometry.LineString
turned_area: Final[Callable[..., Area]] = shapely.affinity.rotate
shifted: Final[Callable[..., Area]] = shapely.affinity.translate
covers: Final[Callable[..., Any]] = shapely.contains_xy
snapped: Final[Callable[..., Area]] = shapely.set_precision
pieces_of: Final[Callable[..., Iterable[Any]]] = shapely.get_parts
box: Final[Callable[..., Area]] = shapely.geometry.box


def disc(centre_m: Point, radius_m: float, chord_m: float = CHORD_M) -> Area:
    """A circle's area, its corners on the circle."""
    count = sides_of_circle(radius_m, chord_m)
    return area(
        [
            (
                centre_m[0] + radius_m * cos(2 * pi * i / count),
                centre_m[1] + radius_m * sin(2 * pi * i / count),
            )
            for i in range(count)
        ]
    )


def bar(middle_m: Point, long_m: float, wide_m: float, turn_rad: float) -> Area:
    """A rectangle about a middle point, its long side in the direction `turn_rad`."""
    c, s = cos(turn_rad), sin(turn_rad)
    corners = ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))
    return area(
        [
            (
                middle_m[0] + x * long_m * c - y * wide_m * s,
                middle_m[1] + x * long_m * s + y * wide_m * c,
            )
            for x, y in corners
        ]
    )


def joined(areas: Sequence[Area]) -> Area:
    """All areas as one."""
    return shapely.union_all(list(areas))


def outline_lines(figure: Area, outer: Layer = "cut", inner: Layer = "bore") -> list[Shape]:
    """The edges of an area as closed chains: outline and holes."""
    found: list[Shape] = []
    for piece in pieces_of(figure):
        rings = [(piece.exterior, outer), *((hole, inner) for hole in piece.interiors)]
        for ring, layer in rings:
            points = tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1])
            found.append(Line(points, layer, True))
    return found


def solid_area(template: Template) -> Area:
    """The area that a template takes on a sheet: what its cut lines enclose."""
    pieces = [
        area(shape.points_m)
        for shape in template.shapes
        if isinstance(shape, Line) and shape.layer == "cut" and shape.closed
    ]
    pieces += [
        disc(shape.centre_m, shape.radius_m)
        for shape in template.shapes
        if isinstance(shape, Circle) and shape.layer == "cut"
    ]
    return joined(pieces)
