"""Sizes of a template as lines: thin, arrowheads, the figure above its line.

As drafting practice has it (ISO 129-1: lines of size, arrowheads, place of the figure; ISO 128-2:
thin lines; ISO 3098: 2.5 mm letters; from memory). Where a size leaves no room between its
extension lines, arrows and figure stand outside them.
"""

from collections.abc import Iterable
from dataclasses import replace
from math import cos, pi, sin
from typing import Final

from goodflight.constants import INCH_M
from goodflight.outputs.figures import SIZE_UNIT
from goodflight.studies.bench.shapes import (
    LETTER_WIDE,
    Dim,
    Limits,
    Line,
    Point,
    Shape,
    Template,
    Words,
)

INCH_DECIMALS: Final = 3  # a thousandth is less than any tool here cuts to
LETTER_M: Final = 0.0025
ARROW_M: Final = (0.003, 0.0005)  # length, half width
GAP_M: Final = 0.001  # from the outline to its extension line
BEYOND_M: Final = 0.0015  # of an extension line behind the line of size
ABOVE_M: Final = 0.0022  # from the line to the middle of the figure


def dimensioned(template: Template, units: str = "metric") -> Template:
    """A template with its sizes drawn on it."""
    drawn = (shape for dim in template.dims for shape in lines_of(dim, units))
    return replace(template, shapes=(*template.shapes, *drawn), dims=())


def figure(value_m: float, units: str = "metric", decimals: int = 2) -> str:
    """A size as it is written: mm without needless noughts, or inches to a thousandth, from ten on
    to a hundredth."""
    if units == "imperial":
        inches = value_m / INCH_M
        return f"{inches:.{INCH_DECIMALS if inches < 10.0 else INCH_DECIMALS - 1}f}"
    return f"{1e3 * value_m:.{decimals}f}".rstrip("0").rstrip(".")


def sized_words(value_m: float, units: str = "metric") -> str:
    """A size with its unit: "4 mm", "0.157 in"."""
    return f"{figure(value_m, units)} {SIZE_UNIT[units]}"


def limits(limits_m: Limits | None, units: str = "metric") -> str:
    """` +0.4 -0.2`, above and below, in the unit of the size; empty without limits."""
    if limits_m is None:
        return ""
    scale, near = (1.0 / INCH_M, INCH_DECIMALS) if units == "imperial" else (1e3, 1)
    above, below = (f"{scale * each:+.{near}f}" for each in reversed(limits_m))
    same = above[1:] == below[1:]
    told = f" ±{above[1:]}" if same else f" {above} {below}"
    return "" if same and not float(above) else told


def lines_of(dim: Dim, units: str = "metric") -> Iterable[Shape]:
    """The lines, arrowheads and figure of one size."""
    u: Point = (cos(dim.turn_rad), sin(dim.turn_rad))
    n: Point = (-u[1], u[0])

    def on_line(point: Point) -> Point:
        rise = dim.level_m - (point[0] * n[0] + point[1] * n[1])
        return point[0] + rise * n[0], point[1] + rise * n[1]

    start, end = on_line(dim.start_m), on_line(dim.end_m)
    for point, foot in ((dim.start_m, start), (dim.end_m, end)):
        yield from _extension(point, foot)
    near = 1 if dim.sign == "R" else 2  # decimals of a millimetre
    words = f"{dim.sign}{figure(dim.value_m, units, near)}{dim.note}{limits(dim.limits_m, units)}"
    wide = LETTER_WIDE * LETTER_M * len(words)
    arrows = ARROW_M[0] * (1 if dim.one_arrow else 2)
    if dim.value_m > max(wide, arrows) + GAP_M:
        yield Line((start, end), "dimension")
        yield _arrow(end, u)
        if not dim.one_arrow:
            yield _arrow(start, (-u[0], -u[1]))
        half = wide / 2.0
        along = min(max(dim.share * dim.value_m, half), dim.value_m - half)
        yield _figure(words, start, along, dim.turn_rad)
        return
    out = 2.0 * ARROW_M[0]
    reach = dim.value_m + out + wide
    yield Line((_along(start, u, -out), _along(start, u, reach)), "dimension")
    yield _arrow(start, u)
    yield _arrow(end, (-u[0], -u[1]))
    yield _figure(words, start, reach - wide / 2.0, dim.turn_rad)


def _along(point: Point, u: Point, far: float) -> Point:
    return point[0] + far * u[0], point[1] + far * u[1]


def _extension(point: Point, foot: Point) -> Iterable[Line]:
    dx, dy = foot[0] - point[0], foot[1] - point[1]
    far = (dx**2 + dy**2) ** 0.5
    if far > 2.0 * GAP_M:
        u = (dx / far, dy / far)
        yield Line((_along(point, u, GAP_M), _along(foot, u, BEYOND_M)), "dimension")


def _arrow(tip: Point, u: Point) -> Line:
    long, half = ARROW_M
    back = _along(tip, u, -long)
    sides = [_along(back, (-u[1], u[0]), s * half) for s in (1.0, -1.0)]
    return Line((tip, *sides), "dimension", True)


def _figure(words: str, start: Point, along_m: float, turn_rad: float) -> Words:
    """The figure above its line, to be read from below or from the right."""
    at = _along(start, (cos(turn_rad), sin(turn_rad)), along_m)
    turn = (turn_rad + pi / 2.0 - 1e-9) % pi - pi / 2.0 + 1e-9  # in (-90, 90] degrees
    middle = _along(at, (-sin(turn), cos(turn)), ABOVE_M)
    return Words(words, middle, LETTER_M, turn, "dimension")
