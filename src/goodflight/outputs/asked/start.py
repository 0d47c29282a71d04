"""What the first questions ask for, as five small drawings to the scale of the answers given.

A balloon carries the number of its question and stands on the length that is asked. No colours
stand in the marks, only class names; the sheet they are put into inks them.
"""

import math
from collections.abc import Callable, Mapping
from html import escape
from itertools import pairwise
from typing import Final

WIDTH: Final = 420.0
EDGE: Final = 16.0
Answers = Mapping[str, float]  # SI
Numbers = Mapping[str, int]


def asked_svg(group: str, answers: Answers, numbers: Numbers) -> str:
    """The drawing of one group of questions.

    Parameters
        group : str - a key of `DRAWINGS`. [-]
        answers : mapping - value by question, lengths from the nose tip. [SI]
        numbers : mapping - number in its balloon, by question. [-]
    Returns
        svg : str - without style, for a page that inks it by class. [-]
    Raises
        KeyError - no such group.
    Validity
        Any positive lengths; a rocket that cannot be is drawn as it was answered.
    Source
        Drawing convention only.
    """
    height, draw = DRAWINGS[group]
    marks = draw(answers, numbers)
    span = [numbers[each] for each in numbers]
    words = f"where the answers {min(span)} to {max(span)} are measured"
    return (
        f'<svg class="asked" viewBox="0 0 {WIDTH:g} {height:g}" role="img" '
        f'aria-label="{escape(words)}">{"".join(marks)}</svg>'
    )


def _path(d: str, kind: str = "ink") -> str:
    return f'<path d="{d}" class="{kind}"/>'


def _balloon(x: float, y: float, number: int) -> str:
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="9.5" class="balloon"/>'
        f'<text x="{x:.1f}" y="{y + 4.2:.1f}" text-anchor="middle">{number}</text>'
    )


def _across(x1: float, x2: float, y: float, number: int, at: float = 0.5) -> str:
    """A dimension along the rocket, its balloon on the line."""
    ticks = f"M{x1:.1f} {y - 5:.1f}v10M{x2:.1f} {y - 5:.1f}v10"
    return _path(f"M{x1:.1f} {y:.1f}H{x2:.1f}{ticks}", "dim") + _balloon(
        x1 + (x2 - x1) * at, y, number
    )


def _upright(x: float, y1: float, y2: float, number: int, beside: float = 0.0) -> str:
    """A dimension across the rocket, its balloon on the line or beside it."""
    ticks = f"M{x - 5:.1f} {y1:.1f}h10M{x - 5:.1f} {y2:.1f}h10"
    return _path(f"M{x:.1f} {y1:.1f}V{y2:.1f}{ticks}", "dim") + _balloon(
        x + beside, (y1 + y2) / 2, number
    )


def _long(a: Answers) -> float:
    """Length of the rocket. [m]"""
    return a["nose_length"] + a["body_length"]


def _fin(a: Answers, x: float, y: float, scale: float, way: float = -1.0) -> str:
    """Outline of one fin, its front root corner at a point."""
    points = (
        (0.0, 0.0),
        (a["fin_sweep"], a["fin_span"]),
        (a["fin_sweep"] + a["fin_tip"], a["fin_span"]),
        (a["fin_root"], 0.0),
    )
    at = " ".join(f"{x + along * scale:.1f},{y + way * out * scale:.1f}" for along, out in points)
    return f"M{at}"


def _rocket(a: Answers, left: float, axis: float, scale: float) -> list[str]:
    """Side view: nose, body cut at the separation, two fins in the plane of the paper."""
    half, nose = a["diameter"] / 2 * scale, a["nose_length"] * scale
    tail = left + _long(a) * scale
    base = left + nose
    tip = f"M{base:.1f} {axis - half:.1f}Q{left + nose * 0.4:.1f} {axis - half:.1f} {left:.1f} "
    tip += f"{axis:.1f}Q{left + nose * 0.4:.1f} {axis + half:.1f} {base:.1f} {axis + half:.1f}Z"
    body = f"M{base:.1f} {axis - half:.1f}H{tail:.1f}V{axis + half:.1f}H{base:.1f}"
    cut = left + a["separation"] * scale
    fins = tail - (a["fin_gap"] + a["fin_root"]) * scale
    return [
        _path(tip),
        _path(body),
        _path(f"M{cut:.1f} {axis - half - 3:.1f}V{axis + half + 3:.1f}", "heavy"),
        _path(_fin(a, fins, axis - half, scale)),
        _path(_fin(a, fins, axis + half, scale, 1.0)),
        _path(f"M{left - 8:.1f} {axis:.1f}H{tail + 8:.1f}", "chain"),
    ]


def _stations(left: float, y: float, scale: float, long: float) -> str:
    """The scale of stations: a tick each 50 mm, longer each 100 mm."""
    marks = [f"M{left:.1f} {y:.1f}H{left + long * scale:.1f}"]
    count = min(round(long / 0.05), 400)
    marks += [
        f"M{left + i * 0.05 * scale:.1f} {y:.1f}v{-7 if i % 2 == 0 else -4}"
        for i in range(count + 1)
    ]
    return _path("".join(marks), "dim")


def _body(a: Answers, n: Numbers) -> list[str]:
    scale = (WIDTH - 3.6 * EDGE - 34) / _long(a)
    axis, half = 88.0, a["diameter"] / 2 * scale
    tail = EDGE + _long(a) * scale
    base, cut = EDGE + a["nose_length"] * scale, EDGE + a["separation"] * scale
    wall = a["inner_diameter"] / 2 * scale
    return [
        *_rocket(a, EDGE, axis, scale),
        _path(
            f"M{base:.1f} {axis - wall:.1f}H{tail:.1f}M{base:.1f} {axis + wall:.1f}H{tail:.1f}",
            "thin",
        ),
        _across(EDGE, base, 24, n["nose_length"]),
        _across(base, tail, 24, n["body_length"]),
        _across(EDGE, cut, 136, n["separation"]),
        _stations(EDGE, 164, scale, _long(a)),
        _upright(tail + 16, axis - half, axis + half, n["diameter"], 22),
        _path(f"M{cut + 34:.1f} {axis:.1f}V56", "thin"),
        _path(f"M{cut + 34:.1f} {axis - wall:.1f}V{axis + wall:.1f}", "heavy"),
        _balloon(cut + 34, 54, n["inner_diameter"]),
    ]


def _fins(a: Answers, n: Numbers) -> list[str]:
    long = max(a["fin_root"], a["fin_sweep"] + a["fin_tip"])
    scale = min(150 / long, 78 / a["fin_span"])
    left, root, tip = 34.0, 118.0, 118 - a["fin_span"] * scale
    rear = left + a["fin_root"] * scale
    tail = rear + a["fin_gap"] * scale
    front = left + a["fin_sweep"] * scale
    view, half = (344.0, 96.0), 26.0
    out = min(a["fin_span"] / a["diameter"] * 2 * half, 58.0)
    count = max(1, min(round(a["fin_count"]), 8))
    turns = [2 * math.pi * i / count - math.pi / 2 for i in range(count)]
    ends = [
        (
            half * math.cos(t),
            half * math.sin(t),
            (half + out) * math.cos(t),
            (half + out) * math.sin(t),
        )
        for t in turns
    ]
    spokes = "".join(
        f"M{view[0] + x1:.1f} {view[1] + y1:.1f}L{view[0] + x2:.1f} {view[1] + y2:.1f}"
        for x1, y1, x2, y2 in ends
    )
    return [
        _path(f"{_fin(a, left, root, scale)}Z", "ink hatched"),
        _path(f"M12 {root:g}H{tail:.1f}V{root + 30:g}", "ink"),
        _across(left, rear, root + 18, n["fin_root"], 0.4),
        _across(rear, max(tail, rear + 1), root + 46, n["fin_gap"], 3.2),
        _across(left, front, 22, n["fin_sweep"]),
        _across(front, front + a["fin_tip"] * scale, 22, n["fin_tip"]),
        _path(f"M{front:.1f} 27V{tip:.1f}M{left:.1f} 27V{root:g}", "thin"),
        _upright(max(tail, front + a["fin_tip"] * scale) + 24, tip, root, n["fin_span"]),
        f'<circle cx="{view[0]:g}" cy="{view[1]:g}" r="{half:g}" class="ink"/>',
        _path(spokes, "heavy"),
        _balloon(*view, n["fin_count"]),
        _path(
            f"M{view[0] + ends[0][2]:.1f} {view[1] + ends[0][3] + 8:.1f}H{view[0] + 26:.1f}", "thin"
        ),
        _balloon(view[0] + 34, view[1] + ends[0][3] + 8, n["fin_thickness"]),
    ]


def _whole(a: Answers, n: Numbers) -> list[str]:
    scale = (WIDTH - 4 * EDGE) / _long(a)
    axis, half = 74.0, a["diameter"] / 2 * scale
    tail, hung = EDGE + _long(a) * scale, EDGE + a["balance"] * scale
    bore, fore = a["motor_tube"] / 2 * scale, tail - min(0.3, 0.4 * a["body_length"]) * scale
    tube = f"M{tail:.1f} {axis - bore:.1f}H{fore:.1f}V{axis + bore:.1f}H{tail:.1f}"
    return [
        *_rocket(a, EDGE, axis, scale),
        _path(tube + "Z", "ink hatched"),
        _path(f"M{hung:.1f} {axis - half:.1f}V12M{hung - 7:.1f} 12h14"),
        _path(
            f"M{hung - 6:.1f} {axis + half:.1f}L{hung:.1f} {axis + half - 8:.1f}"
            f"L{hung + 6:.1f} {axis + half:.1f}",
            "heavy",
        ),
        _across(EDGE, hung, 124, n["balance"]),
        _path(f"M{hung:.1f} {axis + half:.1f}V129", "thin"),
        _path(f"M{hung:.1f} 34H{hung - 22:.1f}", "thin"),
        _balloon(hung - 30, 34, n["mass"]),
        _path(f"M{fore + 22:.1f} {axis:.1f}V120", "thin"),
        _balloon(fore + 22, 124, n["motor_tube"]),
    ]


def _recovery(a: Answers, n: Numbers) -> list[str]:
    wide = min(240.0, 60 + 110 * a["canopy"])
    left, right, knot = 200 - wide / 2, 200 + wide / 2, (200.0, 142.0)
    folds = [left + wide * i / 6 for i in range(7)]
    scallops = "".join(f"Q{(p + q) / 2:.1f} 58 {q:.1f} 66" for p, q in pairwise(folds))
    lines = "".join(f"M{x:.1f} 66L{knot[0]:g} {knot[1]:g}" for x in folds)
    return [
        _path(f"M{left:.1f} 66C{left:.1f} 20 {right:.1f} 20 {right:.1f} 66"),
        _path(f"M{left:.1f} 66{scallops}"),
        _path(lines, "thin"),
        _across(left, right, 14, n["canopy"]),
        _path(
            f"M{knot[0]:g} {knot[1]:g}C190 170 130 150 118 168M{knot[0]:g} {knot[1]:g}"
            "C214 178 280 150 296 166",
            "heavy",
        ),
        _path("M108 168h20v14Q126 200 118 212Q110 200 108 182Z"),
        _path("M286 166h20v44h-20ZM286 196l-12 14h12M306 196l12 14h-12"),
        _path("M164 154V182", "thin"),
        _balloon(164, 190, n["cord_length"]),
        _path("M252 158V176", "thin"),
        _balloon(252, 184, n["cord_strength"]),
    ]


def _field(a: Answers, n: Numbers) -> list[str]:
    ground, top = 186.0, 14.0
    scale = (ground - 8 - top) / max(a["rail"], _long(a) + 0.1)
    rail, foot = 96.0, ground - 8
    tip, half = foot - _long(a) * scale, max(a["diameter"] / 2 * scale, 3.0)
    axis = rail + 6 + half
    nose = tip + a["nose_length"] * scale
    fore, aft = tip + a["guide_fore"] * scale, tip + a["guide_aft"] * scale
    mast = ground - 2 * scale
    return [
        _path(f"M10 {ground:g}H{WIDTH - 10:g}", "heavy"),
        _path(f"M{rail:g} {ground:g}V{foot - a['rail'] * scale:.1f}", "heavy"),
        _path(
            f"M{axis - half:.1f} {foot:g}V{nose:.1f}Q{axis - half:.1f} {tip:.1f} {axis:.1f} "
            f"{tip:.1f}Q{axis + half:.1f} {tip:.1f} {axis + half:.1f} {nose:.1f}V{foot:g}Z"
            f"M{axis + half:.1f} {foot - a['fin_root'] * scale:.1f}l{a['fin_span'] * scale:.1f} "
            f"{a['fin_root'] * scale * 0.7:.1f}V{foot:g}h{-a['fin_span'] * scale:.1f}"
        ),
        _path(f"M{rail:g} {fore:.1f}h6M{rail:g} {aft:.1f}h6", "heavy"),
        _upright(40, foot - a["rail"] * scale, foot, n["rail"]),
        _path(
            f"M{axis:.1f} {tip:.1f}H244M{rail + 6:g} {fore:.1f}H184M{rail + 6:g} {aft:.1f}H234",
            "thin",
        ),
        _upright(178, tip, fore, n["guide_fore"]),
        _upright(228, tip, aft, n["guide_aft"]),
        _path(f"M300 {ground:g}V{mast:.1f}", "dim"),
        _path(f"M262 {mast:.1f}h62l-9 -5M324 {mast:.1f}l-9 5", "ink"),
        _balloon(340, mast, n["wind"]),
        _path(f"M376 {ground:g}l-6 -10h12ZM376 {ground:g}V206M352 206q6 -5 12 0t12 0t12 0t12 0"),
        _balloon(376, ground - 24, n["elevation"]),
    ]


DRAWINGS: Final[dict[str, tuple[float, Callable[[Answers, Numbers], list[str]]]]] = {
    "body": (170.0, _body),
    "fins": (190.0, _fins),
    "whole": (150.0, _whole),
    "recovery": (222.0, _recovery),
    "field": (214.0, _field),
}
