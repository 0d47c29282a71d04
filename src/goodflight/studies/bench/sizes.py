"""Which sizes are drawn on a template: those a builder checks with a rule before cutting.

Lines of size stand off the outline, the smaller nearer to it, so that none crosses another. Left
out: what the outline itself shows once (fin 2 is fin 1) and stations, which the strips name.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import pi
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.limits import tab_depth
from goodflight.studies.bench.places import FinCan
from goodflight.studies.bench.shapes import (
    Circle,
    Dim,
    Limits,
    across,
    between,
    radius_to,
    through,
    upright,
)

FIRST_M: Final = 0.007  # from the outline to the nearest line of size
NEXT_M: Final = 0.007  # from one line of size to the next
CROSS_M: Final = 0.0045  # reach of the mark in the middle of a ring
SAME_M: Final = 1e-4  # what is shorter is not drawn


def fin_sizes(can: FinCan) -> tuple[Dim, ...]:
    """Root, tip, span, sweep and tab of a fin."""
    fins, root, span = can.fins, can.root_m[1] - can.root_m[0], can.span_m
    front = min(x for x, y in fins.outline_m if abs(y) < SAME_M)
    end = (front + root, 0.0)
    tip = [x for x, y in fins.outline_m if span - y < SAME_M]
    low = -(fins.tab_depth_m if can.tab_m else 0.0)
    found: list[Dim] = []
    deep = tab_depth(can)
    level = low - FIRST_M
    if can.tab_m:
        a, b = fins.tab_offset_m, fins.tab_offset_m + fins.tab_length_m
        found += _chain([front, a, b], low, level)
        level -= NEXT_M
    found.append(across((front, 0.0), end, level))
    high = span + FIRST_M
    found += _chain([front, min(tip)], span, high)
    if max(tip) - min(tip) > SAME_M:
        found.append(across((min(tip), span), (max(tip), span), high))
    right = max(x for x, _ in fins.outline_m) + FIRST_M
    found.append(upright(end, (max(tip), span), right))
    if can.tab_m:
        tab = upright((fins.tab_offset_m + fins.tab_length_m, low), end, right)
        found.append(replace(tab, limits_m=deep))
    return tuple(found)


def _chain(places: Sequence[float], foot_m: float, level_m: float) -> list[Dim]:
    """Sizes one behind the other on one line."""
    return [
        across((a, foot_m), (b, foot_m), level_m)
        for a, b in pairwise(places)
        if abs(b - a) > SAME_M
    ]


def slot_sizes(
    long_m: float, wide_m: float, reach_m: float, limits_m: tuple[Limits, Limits]
) -> tuple[Dim, ...]:
    """Length and width of a slot; reach_m : of its middle line beyond both ends."""
    x, y = long_m / 2.0, wide_m / 2.0
    return (
        replace(across((-x, -y), (x, -y), -y - FIRST_M), limits_m=limits_m[0]),
        replace(upright((x, -y), (x, y), x + reach_m + FIRST_M / 2.0), limits_m=limits_m[1]),
    )


def box_sizes(left: float, low: float, right: float, high: float) -> tuple[Dim, ...]:
    """Length below and width at the right of a rectangle."""
    return (
        across((left, low), (right, low), low - FIRST_M),
        upright((right, low), (right, high), right + FIRST_M),
    )


def ring_sizes(
    ring: p.Ring,
    notch_m: tuple[float, float] | None,
    holes: Sequence[Circle],
    limits_m: tuple[Limits | None, Limits | None] = (None, None),
) -> tuple[Dim, ...]:
    """Outside, bore, notch at fin 1 and legs of a U-bolt.

    notch_m : half width, radius of floor; limits_m : of the outside and of the notch's width.
    """
    outer, inner = ring.outer_diameter_m / 2.0, ring.inner_diameter_m / 2.0
    found = [outside(outer, limits_m[0]), through((0.0, 0.0), inner, pi / 4.0)]
    if notch_m is not None:
        half, floor = notch_m
        top = (outer**2 - half**2) ** 0.5
        found.append(
            replace(across((-half, top), (half, top), outer + FIRST_M), limits_m=limits_m[1])
        )
        inside, wood = (CROSS_M, inner), (inner, floor)  # where its figure crosses no edge
        low, high = max(inside, wood, key=lambda band: band[1] - band[0])
        found.append(radius_to((0.0, floor), (low + high) / 2.0 / floor))
    if len(holes) == 2:
        found.append(_legs(holes, outer))
    return tuple(found)


def outside(radius_m: float, limits_m: Limits | None = None) -> Dim:
    """An outside diameter, upright at the right."""
    ends = ((0.0, -radius_m), (0.0, radius_m))
    return Dim(*ends, pi / 2.0, -radius_m - FIRST_M, "Ø", limits_m=limits_m)


def _legs(holes: Sequence[Circle], outer_m: float) -> Dim:
    """How far two holes stand apart, written outside the ring on their side."""
    (ax, ay), (bx, by) = (hole.centre_m for hole in holes)
    middle = ((ax + bx) / 2.0, (ay + by) / 2.0)
    left = (bx - ax) * middle[1] - (by - ay) * middle[0] > 0.0
    one, other = ((ax, ay), (bx, by)) if left else ((bx, by), (ax, ay))
    far = (middle[0] ** 2 + middle[1] ** 2) ** 0.5
    return between(one, other, outer_m - far + FIRST_M)


def disc_sizes(radius_m: float, hole_m: float, limits_m: Limits | None) -> tuple[Dim, ...]:
    """Outside and middle hole of a bulkhead."""
    return (outside(radius_m, limits_m), through((0.0, 0.0), hole_m, pi / 4.0))


def wrap_sizes(
    around_m: float, lines_m: Sequence[float], heights_m: Sequence[float]
) -> tuple[Dim, ...]:
    """Distances of the lines round a tube, once round, and heights over the lower edge.

    lines_m : places of all lines between the edges. heights_m : from the lower edge up; written in
    the widest gap between two lines.
    """
    places = sorted({0.0, around_m, *(round(x, 9) for x in lines_m)})
    found = _chain(places, 0.0, -FIRST_M)
    if len(places) > 2:
        found.append(across((0.0, 0.0), (around_m, 0.0), -FIRST_M - NEXT_M))
    heights = sorted({round(y, 9) for y in heights_m if y > SAME_M})
    left, right = max(pairwise(places), key=lambda pair: round(pair[1] - pair[0], 6))
    step = min(NEXT_M, (right - left) / (len(heights) + 1.0))
    first = (left + right) / 2.0 - step * (len(heights) - 1.0) / 2.0
    for number, height in enumerate(heights):
        x = first + number * step
        found.append(upright((x, 0.0), (x, height), x))
    return tuple(found)
