"""Which way a canopy is measured: one small drawing a way, with the cloth that 1 m of it makes."""

from collections.abc import Callable, Mapping
from html import escape
from math import cos, pi, sin
from typing import Final

WIDE: Final = 132.0
HIGH: Final = 128.0
SIDES: Final = {"flat hexagonal": 6, "flat octagonal": 8, "flat square": 4}


def across_svg(kind: str, ways: Mapping[str, float]) -> str:
    """Draw every way a kind of canopy may be measured, side by side.

    Parameters
        kind : str - label of the kind, e.g. "flat hexagonal". [-]
        ways : mapping - way: cloth area over the square of that width. [-]
    Returns
        svg : str - without style; empty for a kind that is known by its cloth area only. [-]
    Source
        Drawing convention only.
    """
    if not ways:
        return ""
    figures = "".join(
        f'<g transform="translate({i * WIDE:g},0)">{_figure(kind, way)}'
        f'<text x="{WIDE / 2:g}" y="106" text-anchor="middle">{escape(way)}</text>'
        f'<text x="{WIDE / 2:g}" y="121" text-anchor="middle">1 m is {area:.2f} m²</text></g>'
        for i, (way, area) in enumerate(ways.items())
    )
    said = "; ".join(f"{way}: 1 m is {area:.2f} square metres" for way, area in ways.items())
    return (
        f'<svg class="asked ways" viewBox="0 0 {len(ways) * WIDE:g} {HIGH:g}" role="img" '
        f'aria-label="{escape(f"how a {kind} canopy is measured: {said}")}">{figures}</svg>'
    )


def _figure(kind: str, way: str) -> str:
    if kind in SIDES:
        return _polygon(SIDES[kind], way == "across corners")
    return DRAWN.get(kind, _dome)(way)


def _line(x1: float, y1: float, x2: float, y2: float) -> str:
    """A dimension between two points, with ticks across its ends."""
    long = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    u, v = 4.0 * (y2 - y1) / long, -4.0 * (x2 - x1) / long
    ticks = "".join(
        f"M{x - u:.1f} {y - v:.1f}L{x + u:.1f} {y + v:.1f}" for x, y in ((x1, y1), (x2, y2))
    )
    return f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}{ticks}" class="heavy"/>'


def _polygon(sides: int, corners: bool) -> str:
    x0, y0, radius = WIDE / 2, 48.0, 40.0
    points = [
        (x0 + radius * cos(2 * pi * i / sides), y0 + radius * sin(2 * pi * i / sides))
        for i in range(sides)
    ]
    outline = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    half = 0.0 if corners else pi / sides
    reach = radius if corners else radius * cos(pi / sides)
    a, b = reach * cos(half), reach * sin(half)
    return f'<path d="M{outline}Z" class="ink"/>' + _line(x0 - a, y0 - b, x0 + a, y0 + b)


def _disc(way: str) -> str:
    return f'<circle cx="{WIDE / 2:g}" cy="48" r="40" class="ink"/>' + _line(26, 48, 106, 48)


def _arms(way: str) -> str:
    arms = "M53 8h26v27h27v26H79v27H53V61H26V35H53Z"
    return f'<path d="{arms}" class="ink"/>' + _line(26, 48, 106, 48)


def _dome(way: str) -> str:
    dome, lines = "M24 60C30 12 102 12 108 60Z", "M24 60L66 98M108 60L66 98M66 60V98"
    drawn = f'<path d="{dome}" class="ink"/><path d="{lines}" class="thin"/>'
    if way == "along the cloth":
        return drawn + '<path d="M24 60C30 12 102 12 108 60M20 60h8M104 60h8" class="heavy"/>'
    return drawn + _line(24, 60, 108, 60)


DRAWN: Final[dict[str, Callable[[str], str]]] = {
    "flat circular": _disc,
    "ringslot": _disc,
    "cross": _arms,
}
