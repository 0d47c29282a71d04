"""Templates as one SVG in millimetres, one group for each template and layer."""

from collections.abc import Sequence
from html import escape
from math import degrees
from typing import Final

from goodflight.outputs.bench.paper import arranged
from goodflight.studies.bench.shapes import (
    LAYERS,
    Circle,
    Layer,
    Line,
    Shape,
    TemplateSet,
    Words,
    bounds_of,
)

_PENS: Final[dict[Layer, str]] = {
    "cut": "stroke-width:0.2",
    "bore": "stroke-width:0.2;stroke:#a33b1c",
    "paper": "stroke-width:0.2;stroke:#6b7a2f",
    "mark": "stroke-width:0.12;stroke:#2f5d8a",
    "bevel": "stroke-width:0.12;stroke-dasharray:0.4 0.6",
    "grain": "stroke-width:0.25;stroke:#56605c",
    "hidden": "stroke-width:0.12;stroke-dasharray:2 0.8;stroke:#56605c",
    "dimension": "stroke-width:0.12;stroke:#2f6b4f",
    "words": "",
}


def template_svg(of: TemplateSet) -> str:
    """All templates of a set side by side, true to size, ready for a cutter or a drawing program.

    Parameters
        of : TemplateSet - what to draw. [m]
    Returns
        svg : str - user units are millimetres. [-]
    Raises
        nothing
    Validity
        Coordinates are written to 0.1 micrometre.
    Source
        SVG 1.1 (W3C).
    Example
        >>> template_svg(TemplateSet("r", "s", ()))[:4]
        '<svg'
    """
    shapes = arranged(of.templates)
    solid = [shape for shape in shapes if not isinstance(shape, Words)]
    left, top, wide, tall = _box(solid)
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.4f}mm" height="{tall:.4f}mm" '
        f'viewBox="{left:.4f} {top:.4f} {wide:.4f} {tall:.4f}">',
        f"<title>{escape(f'{of.rocket}: {of.subject}, 1:1 in mm')}</title>",
    ]
    for layer, meaning in LAYERS.items():
        drawn = [_element(shape) for shape in shapes if shape.layer == layer]
        if drawn:
            pen = "" if layer == "words" else f' style="fill:none;stroke:#000;{_PENS[layer]}"'
            rows += [f'<g id="{layer}"{pen}><desc>{escape(meaning)}</desc>', *drawn, "</g>"]
    return "\n".join([*rows, "</svg>", ""])


def _box(shapes: Sequence[Shape]) -> tuple[float, float, float, float]:
    if not shapes:
        return 0.0, 0.0, 10.0, 10.0
    b, rim = bounds_of(shapes), 10.0
    return (
        1e3 * b.left_m - rim,
        -1e3 * b.high_m - rim,
        1e3 * b.width_m + 2 * rim,
        1e3 * b.height_m + 2 * rim,
    )


def _element(shape: Shape) -> str:
    if isinstance(shape, Circle):
        x, y = shape.centre_m
        return f'<circle cx="{1e3 * x:.4f}" cy="{-1e3 * y:.4f}" r="{1e3 * shape.radius_m:.4f}"/>'
    if isinstance(shape, Line):
        points = "L".join(f"{1e3 * x:.4f} {-1e3 * y:.4f}" for x, y in shape.points_m)
        return f'<path d="M{points}{"Z" if shape.closed else ""}"/>'
    x, y = 1e3 * shape.at_m[0], -1e3 * shape.at_m[1]
    turn = f' transform="rotate({-degrees(shape.turn_rad):.4g} {x:.4f} {y:.4f})"'
    return (
        f'<text x="{x:.4f}" y="{y:.4f}" font-size="{1.38e3 * shape.height_m:.2f}" '
        f'font-family="Source Sans 3,Noto Sans,DejaVu Sans,sans-serif" text-anchor="middle" '
        f'fill="#000" stroke="none" dominant-baseline="middle"'
        f"{turn if shape.turn_rad else ''}>{escape(str(shape.text))}</text>"
    )
