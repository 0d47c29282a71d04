"""Lines, circles and words of a workshop template, true to size, in metres.

A template is drawn in its own plane: x to the right, y up. Each line says what it is for (its
layer), so that paper, cutter and drawing files treat it alike. Curves other than circles are
chains of short lines that stray less than `CHORD_M` from the true curve.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import acos, atan2, ceil, cos, hypot, inf, pi, sin
from typing import Annotated, Final, Literal

from goodflight.quantity.said import Said
from goodflight.quantity.said import Words as Sentence
from goodflight.studies.refusal import StudyRefused

Point = tuple[float, float]
Layer = Literal["cut", "bore", "paper", "mark", "bevel", "grain", "hidden", "dimension", "words"]
LAYERS: Final[dict[Layer, str]] = {
    "cut": "outline, cut through",
    "bore": "hole, cut or drill through",
    "paper": "edge of paper or card, for scissors",
    "mark": "line to mark, do not cut",
    "bevel": "where a bevel begins",
    "grain": "direction of the outer grain",
    "hidden": "what lies behind, for reference",
    "dimension": "sizes with their lines, to read only",
    "words": "names and figures",
}
LETTER_WIDE: Final = 0.75  # of a letter, of its height
CHORD_M: Final = 5e-6  # a chain of lines strays at most this far from its curve


@dataclass(frozen=True)
class Line:
    """A chain of straight lines through `points_m`; closed chains return to the first."""

    points_m: tuple[Point, ...]
    layer: Layer = "cut"
    closed: bool = False


@dataclass(frozen=True)
class Circle:
    """A full circle."""

    centre_m: Point
    radius_m: float
    layer: Layer = "bore"


@dataclass(frozen=True)
class Words:
    """A short text; `at_m` is the middle of its line, `turn_rad` its direction."""

    text: str | Said
    at_m: Point
    height_m: float = 0.003
    turn_rad: float = 0.0
    layer: Layer = "words"


Shape = Line | Circle | Words
Seen = Literal["", "seen from the front", "either side up", "printed side out"]


Limits = tuple[float, float]  # how far a finished size may lie below (-) and above (+) [m]


@dataclass(frozen=True)
class Dim:
    """A size to be written on the drawing: how far from one point to another in one direction.

    turn_rad : that direction. level_m : where its line runs, from the origin to the left of the
    direction. sign : before the figure, as "Ø" or "R"; note : behind it. share : where the figure
    stands on its line. one_arrow : only at the second point, as of a radius. limits_m : of the
    finished size, None = the general class.
    """

    start_m: Point
    end_m: Point
    turn_rad: float
    level_m: float
    sign: str = ""
    note: str = ""
    share: float = 0.5
    one_arrow: bool = False
    limits_m: Limits | None = None

    @property
    def value_m(self) -> float:
        """The size [m]."""
        (x0, y0), (x1, y1) = self.start_m, self.end_m
        return (x1 - x0) * cos(self.turn_rad) + (y1 - y0) * sin(self.turn_rad)


def across(start: Point, end: Point, y_m: float, note: str = "") -> Dim:
    """A size measured level, its line at a height; the points from left to right."""
    first, last = sorted((start, end))
    return Dim(first, last, 0.0, y_m, note=note)


def upright(start: Point, end: Point, x_m: float, note: str = "") -> Dim:
    """A size measured upright, its line at a place across; the points from low to high."""
    first, last = sorted((start, end), key=lambda point: point[1])
    return Dim(first, last, pi / 2.0, -x_m, note=note)


def through(centre: Point, radius_m: float, turn_rad: float, share: float = 0.75) -> Dim:
    """A diameter, its line through the middle."""
    c, s = cos(turn_rad), sin(turn_rad)
    (x, y), r = centre, radius_m
    ends = ((x - r * c, y - r * s), (x + r * c, y + r * s))
    return Dim(*ends, turn_rad, y * c - x * s, "Ø", share=share)


def radius_to(point: Point, share: float = 0.5) -> Dim:
    """A radius from the origin to a point."""
    turn = atan2(point[1], point[0])
    return Dim((0.0, 0.0), point, turn, 0.0, "R", share=share, one_arrow=True)


def between(start: Point, end: Point, off_m: float, note: str = "") -> Dim:
    """A size along two points, its line so far to the left of them."""
    turn = atan2(end[1] - start[1], end[0] - start[0])
    level = start[1] * cos(turn) - start[0] * sin(turn) + off_m
    return Dim(start, end, turn, level, note=note)


@dataclass(frozen=True)
class Bounds:
    """A rectangle around something."""

    left_m: float
    low_m: float
    right_m: float
    high_m: float

    @property
    def width_m(self) -> float:
        """Extent along x [m]."""
        return self.right_m - self.left_m

    @property
    def height_m(self) -> float:
        """Extent along y [m]."""
        return self.high_m - self.low_m


@dataclass(frozen=True)
class Template:
    """One thing to cut or mark, true to size, with what is written beside it."""

    key: Annotated[str, "name of the drawing"]
    title: Annotated[str, "the same in words"]
    shapes: tuple[Shape, ...]
    count: Annotated[int, "how many are needed"] = 1
    material: Annotated[str, "what it is cut from; empty = paper"] = ""
    thickness_m: Annotated[float | None, "of the material [m]; null = paper"] = None
    notes: Annotated[tuple[Sentence, ...], "cautions about it"] = ()
    seen: Annotated[Seen, "the side that is drawn; empty = a sketch, or paper folded"] = ""
    sizes: tuple[tuple[str, float], ...] = ()  # named lengths, to check against the print [m]
    grain: bool = False  # may only be turned end for end on the sheet
    flat: bool = True  # cut from sheet; paper strips and drawings are not
    reduced: Annotated[bool, "says its own scale, or that it is not to size"] = False
    dims: tuple[Dim, ...] = ()  # sizes drawn on paper sheets, on a layer of their own elsewhere

    @property
    def bounds(self) -> Bounds:
        """The rectangle around all lines, words left out."""
        return bounds_of(self.shapes)


def bounds_of(shapes: Iterable[Shape]) -> Bounds:
    """The rectangle around all lines and circles; of words only figures of sizes count, about."""
    left = low = inf
    right = high = -inf
    for shape in shapes:
        if isinstance(shape, Words):
            if shape.layer != "dimension":
                continue
            corners: Iterable[Point] = room_of(shape)
        elif isinstance(shape, Circle):
            (x, y), r = shape.centre_m, shape.radius_m
            corners = ((x - r, y - r), (x + r, y + r))
        else:
            corners = shape.points_m
        for x, y in corners:
            left, right = min(left, x), max(right, x)
            low, high = min(low, y), max(high, y)
    return Bounds(left, low, right, high)


def room_of(words: Words) -> tuple[Point, ...]:
    """Corners of the rectangle that a text takes, about."""
    half = (LETTER_WIDE * words.height_m * len(str(words.text)) / 2.0, words.height_m / 2.0)
    corners = [(sx * half[0], sy * half[1]) for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    (x, y), turn = words.at_m, words.turn_rad
    return tuple((x + u, y + v) for u, v in (turned(corner, turn) for corner in corners))


def turned(point: Point, angle_rad: float) -> Point:
    """A point turned about the origin, counter-clockwise."""
    c, s = cos(angle_rad), sin(angle_rad)
    return point[0] * c - point[1] * s, point[0] * s + point[1] * c


def placed(shape: Shape, move_m: Point = (0.0, 0.0), turn_rad: float = 0.0) -> Shape:
    """A shape turned about the origin, then moved."""

    def put(point: Point) -> Point:
        x, y = turned(point, turn_rad) if turn_rad else point
        return x + move_m[0], y + move_m[1]

    if isinstance(shape, Line):
        return replace(shape, points_m=tuple(put(point) for point in shape.points_m))
    if isinstance(shape, Circle):
        return replace(shape, centre_m=put(shape.centre_m))
    return replace(shape, at_m=put(shape.at_m), turn_rad=shape.turn_rad + turn_rad)


def moved(template: Template, move_m: Point, turn_rad: float = 0.0) -> tuple[Shape, ...]:
    """All shapes of a template, turned and then moved."""
    return tuple(placed(shape, move_m, turn_rad) for shape in template.shapes)


def sides_of_circle(radius_m: float, chord_m: float = CHORD_M) -> int:
    """How many straight sides keep a chain within `chord_m` of a circle; a multiple of 12."""
    if radius_m <= chord_m:
        return 12
    step = 2.0 * acos(1.0 - chord_m / radius_m)
    return max(24, 12 * ceil(2.0 * pi / step / 12.0))


def arc(
    centre_m: Point, radius_m: float, start_rad: float, end_rad: float, chord_m: float = CHORD_M
) -> tuple[Point, ...]:
    """Points on an arc from `start_rad` to `end_rad`, both ends included and exact."""
    steps = max(1, ceil(abs(end_rad - start_rad) / (2.0 * pi) * sides_of_circle(radius_m, chord_m)))
    angles = (start_rad + (end_rad - start_rad) * i / steps for i in range(steps + 1))
    return tuple((centre_m[0] + radius_m * cos(a), centre_m[1] + radius_m * sin(a)) for a in angles)


def cross(at_m: Point, reach_m: float, layer: Layer = "mark") -> tuple[Line, Line]:
    """A centre mark of two lines."""
    x, y = at_m
    return (
        Line(((x - reach_m, y), (x + reach_m, y)), layer),
        Line(((x, y - reach_m), (x, y + reach_m)), layer),
    )


def rectangle(left: float, low: float, right: float, high: float, layer: Layer = "cut") -> Line:
    """A closed rectangle [m]."""
    return Line(((left, low), (right, low), (right, high), (left, high)), layer, True)


def length_m(line: Line) -> float:
    """Length of a chain, its closing side included."""
    points = (*line.points_m, line.points_m[0]) if line.closed else line.points_m
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))


def turned_size(dim: Dim, angle_rad: float) -> Dim:
    """A size turned about the origin, counter-clockwise."""
    ends = turned(dim.start_m, angle_rad), turned(dim.end_m, angle_rad)
    return replace(dim, start_m=ends[0], end_m=ends[1], turn_rad=dim.turn_rad + angle_rad)


class DoesNotFitError(StudyRefused):
    """A hole or a part that has no room; says how much is missing."""


@dataclass(frozen=True)
class TemplateSet:
    """Templates that are printed together, and what the title block says."""

    rocket: Annotated[str, "name of the rocket"]
    subject: str
    templates: Annotated[tuple[Template, ...], "every drawing"]
    invented: bool = False
    notes: tuple[Sentence, ...] = field(default_factory=tuple)
    kerf_m: float = 0.0  # what the builder's cutter takes
