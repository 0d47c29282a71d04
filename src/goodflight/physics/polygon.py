"""Signed distance from many points to a polygon's edge, for margins on the field."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

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
        dx, dy = x1 - x0, y1 - y0
        square = dx * dx + dy * dy
        if square == 0.0:
            continue
        place = np.clip(((east_m - x0) * dx + (north_m - y0) * dy) / square, 0.0, 1.0)
        gap = np.hypot(east_m - x0 - place * dx, north_m - y0 - place * dy)
        best = np.minimum(best, gap)
        crosses = (y0 > north_m) != (y1 > north_m)
        left = (east_m - x0) * dy - (north_m - y0) * dx
        inside ^= crosses & ((left < 0.0) == (dy > 0.0))
    return np.where(inside, -best, best)


def min_width_m(outline_m: Sequence[tuple[float, float]]) -> float:
    """Least distance between two parallel lines that hold the outline between them [m]."""
    corners = np.asarray(outline_m, dtype=float)
    edges = np.roll(corners, -1, axis=0) - corners
    widths = []
    for edge in edges:
        length = float(np.hypot(*edge))
        if length > 0.0:
            reach = corners @ np.array([-edge[1], edge[0]]) / length
            widths.append(float(reach.max() - reach.min()))
    return min(widths) if widths else 0.0
