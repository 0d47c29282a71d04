"""Signed distance from many points to a polygon's edge, for margins on the field."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.bearings import nearest_on_m

Array = NDArray[np.float64]


def signed_distance_m(
    east_m: Array, north_m: Array, outline_m: Sequence[tuple[float, float]]
) -> Array:
    """Distance to the outline, positive outside, negative inside.

    Inside by crossings of a ray to the east; distance to the nearest edge.

    Parameters
        east_m : Array, (n,) - points, east of the pad. [m]
        north_m : Array, (n,) - points, north of the pad. [m]
        outline_m : sequence of (east, north) - corners in order, closed or not. [m]
    Returns
        distance : Array, (n,) - positive outside. [m]
    Raises
        ValueError - fewer than three corners.
    Validity
        Simple polygons; a point exactly on the edge has distance 0.
    Source
        Geometry (even-odd rule).
    Example
        >>> square = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
        >>> signed_distance_m(np.array([0.0]), np.array([0.0]), square)
        array([-1.])
    """
    corners = np.asarray(outline_m, dtype=float)
    if len(corners) < 3:
        raise ValueError(f"an outline needs at least three corners, found {len(corners)}")
    best = np.full(east_m.shape, np.inf)
    inside = np.zeros(east_m.shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(corners, np.roll(corners, -1, axis=0)):
        best = np.minimum(best, nearest_on_m(east_m, north_m, (x0, y0), (x1, y1)))
        dx, dy = x1 - x0, y1 - y0
        crosses = (y0 > north_m) != (y1 > north_m)
        left = (east_m - x0) * dy - (north_m - y0) * dx
        inside ^= crosses & ((left < 0.0) == (dy > 0.0))
    return np.where(inside, -best, best)


def min_width_m(outline_m: Sequence[tuple[float, float]]) -> float:
    """Least distance between two parallel lines that hold the outline between them [m].

    Parameters
        outline_m : sequence of (east, north) - corners. [m]
    Returns
        width : float - least. [m]
    Source
        Geometry: it lies across one of the hull's edges.
    """
    corners = np.asarray(outline_m, dtype=float)
    edges = np.roll(corners, -1, axis=0) - corners
    widths = []
    for edge in edges:
        length = float(np.hypot(*edge))
        if length > 0.0:
            reach = corners @ np.array([-edge[1], edge[0]]) / length
            widths.append(float(reach.max() - reach.min()))
    return min(widths) if widths else 0.0


def enclosed_area_m2(outline_m: Sequence[tuple[float, float]]) -> float:
    """Area inside a closed line, negative where it runs clockwise [m2].

    Parameters
        outline_m : sequence of (east, north) - corners in order. [m]
    Returns
        area : float - anticlockwise positive. [m2]
    Raises
        nothing
    Validity
        Lines that do not cross themselves.
    Source
        Shoelace formula.
    Example
        >>> enclosed_area_m2([(0, 0), (2, 0), (2, 3), (0, 3)])
        6.0
    """
    x, y = np.asarray(outline_m, dtype=float).T
    return 0.5 * float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())


def lines_across_m(
    lines_m: Sequence[Sequence[tuple[float, float]]], bearing_rad: float, spacing_m: float
) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Parallel straight pieces that lie inside closed lines, one every `spacing_m`.

    Parameters
        lines_m : sequence of closed lines - outlines one way round, holes in them the other way;
            outlines may overlap. [m]
        bearing_rad : float - the way the pieces run, clockwise from north. [rad]
        spacing_m : float - between neighbours, the first half of it from the edge. [m]
    Returns
        pieces : list of (start, end) - from left to right as seen along the bearing. [m]
    Raises
        nothing
    Validity
        Simple lines.
    Source
        Geometry.
    Example
        >>> square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
        >>> len(lines_across_m([square], 0.0, 5.0))
        2
    """
    turn = np.array(
        [[np.sin(bearing_rad), np.cos(bearing_rad)], [np.cos(bearing_rad), -np.sin(bearing_rad)]]
    )
    turned = [np.asarray(line) @ turn.T for line in lines_m]  # along, to the right
    if not turned:
        return []
    low, high = (float(pick([pick(t[:, 1]) for t in turned])) for pick in (min, max))
    count = max(1, int(np.ceil((high - low) / spacing_m - 1e-6)))
    found = []
    for right in low + (np.arange(count) + 0.5) * (high - low) / count:
        cuts: list[tuple[float, int]] = []  # where a line is crossed, and which way it runs
        for t in turned:
            a, b = t, np.roll(t, -1, axis=0)
            hit = (a[:, 1] > right) != (b[:, 1] > right)
            part = (right - a[hit, 1]) / (b[hit, 1] - a[hit, 1])
            ways = np.sign(b[hit, 1] - a[hit, 1]).astype(int).tolist()
            cuts += zip((a[hit, 0] + part * (b[hit, 0] - a[hit, 0])).tolist(), ways)
        for start, end in _held(sorted(cuts)):
            ends = np.array([[start, right], [end, right]]) @ turn
            found.append(
                ((float(ends[0, 0]), float(ends[0, 1])), (float(ends[1, 0]), float(ends[1, 1])))
            )
    return found


def _held(cuts: Sequence[tuple[float, int]]) -> list[tuple[float, float]]:
    """Pieces along which the lines crossed so far run round, once or more often."""
    found, start, count = [], 0.0, 0
    for at, way in cuts:
        if count == 0:
            start = at
        count += way
        if count == 0:
            found.append((start, at))
    return found
