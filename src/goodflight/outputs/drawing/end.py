"""End view from the tail: body, motor tube, fins, guides in the rail."""

import math

from goodflight.outputs.drawing.ink import Point, Sheet
from goodflight.outputs.drawing.marks import small
from goodflight.studies.questions.layout import Layout

RAIL_M = 0.025  # side of the rail drawn behind the guides


def reach_m(layout: Layout) -> float:
    """Greatest distance of anything from the axis."""
    tips = [radius for fins in layout.fins for _, radius in fins.outline_m]
    return max([layout.diameter_m / 2, *tips])


def heights_m(layout: Layout) -> tuple[float, float]:
    """How far the side view reaches above and below the axis, fins as they stand."""
    places = [
        radius * math.cos(angle)
        for fins in layout.fins
        for _, radius in fins.outline_m
        for angle in fins.angles_rad
    ]
    radius = layout.diameter_m / 2
    up = max([radius, *places])
    return up, max([radius + layout.guide_height_m, *(-place for place in places)])


def draw_end(sheet: Sheet, centre: Point, scale: float, layout: Layout, units: str) -> float:
    """The view, with the body's diameter and the span written beneath; returns its lower end."""

    def at(angle: float, radius_m: float, across_m: float = 0.0) -> Point:
        sine, cosine = math.sin(angle), math.cos(angle)
        x = radius_m * sine + across_m * cosine
        y = radius_m * cosine - across_m * sine
        return centre[0] + x * scale, centre[1] - y * scale

    radius, reach = layout.diameter_m / 2, reach_m(layout)
    sheet.line(at(0, reach + 0.012), at(math.pi, reach + 0.012), "fine hair chain")
    sheet.line(at(math.pi / 2, reach + 0.012), at(-math.pi / 2, reach + 0.012), "fine hair chain")
    for fins in layout.fins:
        half = max(fins.thickness_m / 2, 0.8 / scale)
        tip = max(r for _, r in fins.outline_m)
        root = min(r for _, r in fins.outline_m) - (fins.tab_m[2] if fins.tab_m else 0.0)
        for angle in fins.angles_rad:
            corners = [(root, -half), (tip, -half), (tip, half), (root, half)]
            sheet.shape([at(angle, r, a) for r, a in corners], "ink thin", "var(--paper)")
    sheet.circle(centre, radius * scale, "ink heavy", "none")
    tubes = [p for p in layout.contents if p.kind in ("motor_tube", "motor")]
    for piece in sorted(tubes, key=lambda piece: -piece.outer_radius_m):
        fill = "url(#gf-grain)" if piece.kind == "motor" else "var(--paper)"
        sheet.circle(centre, piece.outer_radius_m * scale, "ink thin", fill)
    if layout.guides_m:
        angle, half = layout.guide_angle_rad, RAIL_M / 2
        foot, slot = radius + layout.guide_height_m, 0.003
        stem = [(radius, -slot), (foot, -slot), (foot, slot), (radius, slot)]
        sheet.shape([at(angle, r, a) for r, a in stem], "ink thin", "var(--ink)")
        near, deep = radius + layout.guide_height_m * 0.45, RAIL_M
        rail = [(near, -slot * 1.7), (near, -half), (near + deep, -half), (near + deep, half),
                (near, half), (near, slot * 1.7)]  # fmt: skip
        sheet.shape([at(angle, r, a) for r, a in rail], "ink thin", close=False)
    rail_low = radius + RAIL_M + layout.guide_height_m if layout.guides_m else 0.0
    low = centre[1] + max(reach, rail_low) * scale
    words = f"body {small(layout.diameter_m, units, 3)}"
    if any(len(fins.angles_rad) % 2 == 0 for fins in layout.fins):
        words += f", span {small(2 * reach, units, 3)}"
    elif layout.fins:
        words += f", fin tips {small(reach, units, 3)} out"
    sheet.text("From the tail", (centre[0], low + 22), 12, "middle", "strong")
    sheet.text(words, (centre[0], low + 38), 12, "middle", "mono")
    return low + 42
