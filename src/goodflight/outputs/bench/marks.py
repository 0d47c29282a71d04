"""Typst markup of lines, circles and words in page millimetres, and of plain text."""

from collections.abc import Iterable
from math import degrees
from typing import Final

from goodflight.studies.bench.shapes import Circle, Layer, Line, Shape, Words

# layer: (stroke width mm, dash pattern)
PENS: Final[dict[Layer, tuple[float, str]]] = {
    "cut": (0.22, ""),
    "bore": (0.22, ""),
    "paper": (0.22, ""),
    "mark": (0.13, ""),
    "bevel": (0.13, '("dot", 0.6mm)'),
    "grain": (0.25, ""),
    "hidden": (0.13, "(2mm, 0.8mm)"),
    "dimension": (0.13, ""),
    "words": (0.13, ""),
}
_SPECIAL: Final = frozenset("\\#$*_`<>@[]~=-+/'\"")


def text(words: str) -> str:
    """Text that Typst shows as it is."""
    return "".join(f"\\{each}" if each in _SPECIAL else each for each in words)


def mm(value: float) -> str:
    """A length, to the hundredth of a micrometre."""
    number = f"{value:.5f}".rstrip("0").rstrip(".")
    return f"{'0' if number in ('-0', '') else number}mm"


def stroke(layer: Layer) -> str:
    """The pen of a layer."""
    width, dash = PENS[layer]
    pattern = f", dash: {dash}" if dash else ""
    return f'(paint: black, thickness: {width}mm, join: "miter"{pattern})'


def line(shape: Line) -> str:
    """A chain of lines."""
    points = [f"({mm(x)}, {mm(y)})" for x, y in shape.points_m]
    steps = [f"curve.move({points[0]})", *(f"curve.line({point})" for point in points[1:])]
    if shape.closed:
        steps.append('curve.close(mode: "straight")')
    ink = "fill: black, " if shape.closed and shape.layer == "dimension" else ""  # an arrowhead
    return f"#place(curve({ink}stroke: {stroke(shape.layer)}, {', '.join(steps)}))"


def circle(shape: Circle) -> str:
    """A circle."""
    x, y, r = *shape.centre_m, shape.radius_m
    return (
        f"#place(dx: {mm(x - r)}, dy: {mm(y - r)}, "
        f"circle(radius: {mm(r)}, stroke: {stroke(shape.layer)}))"
    )


def words(shape: Words) -> str:
    """A text centred on a point, turned."""
    size = f"{shape.height_m * 1.38:.2f}mm"  # letters of this height
    turn = f"{degrees(shape.turn_rad):.3f}deg"
    x, y = shape.at_m
    body = f"#text(size: {size})[{text(str(shape.text))}]"
    return (
        f"#place(dx: {mm(x - 60)}, dy: {mm(y - 10)}, rotate({turn}, "
        f"box(width: 120mm, height: 20mm, align(center + horizon)[{body}])))"
    )


def shapes(of: Iterable[Shape]) -> str:
    """All shapes, one a line."""
    rows = []
    for shape in of:
        if isinstance(shape, Line):
            rows.append(line(shape))
        elif isinstance(shape, Circle):
            rows.append(circle(shape))
        else:
            rows.append(words(shape))
    return "\n".join(rows)
