"""The smallest patch of ground that holds a share of weighted landing points.

The points are smoothed in the axes of their own scatter and the densest ground is taken first.
Groups of points far apart (canopy open, nothing open) are smoothed each in its own axes and share
one level. Left out: what the ground is like.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.polygon import enclosed_area_m2
from goodflight.physics.sightings import effective_count

Array = NDArray[np.float64]
Point = tuple[float, float]
CELLS: Final = 48  # along each axis of the scatter
BEYOND: Final = 4.0  # smoothing widths around the outermost points that count
LEAST: Final = 1e-9  # share of the weight below which a point is left out
RARE: Final = 1e-5  # share of the weight that is left out at each end
SMALLEST_M: Final = 2.0  # least scatter: a landing place is no mathematical point


@dataclass(frozen=True, eq=False)
class Ground:
    """Density of one group on a grid in the axes of its scatter.

    axes : (2, 2), metres east and north for one unit along and across, the longer one first.
    """

    middle_m: Array
    axes: Array
    along: Array  # (n,) middles of the cells [-]
    across: Array  # (m,)
    density_1_m2: Array  # (n, m)

    def places(self, cells: Array) -> Array:
        """Metres east and north (k, 2) of places along and across."""
        return np.asarray(self.middle_m + cells @ self.axes)


@dataclass(frozen=True)
class Patch:
    """Closed lines around the densest ground; a line inside another is a hole."""

    share: float
    lines_m: tuple[tuple[Point, ...], ...]
    area_m2: float


def grounds_of(groups: Sequence[tuple[Array, Array, Array]], each: int = 1) -> tuple[Ground, ...]:
    """Smooth groups of weighted points.

    Parameters
        groups : sequence of (east, north, weight) - weights of all groups on one scale. [m, m, -]
        each : int - neighbours in a group that are one flight, so count as one point. [-]
    Returns
        grounds : tuple of Ground - one for each group that has weight. [1/m2]
    Raises
        ValueError - no point has weight.
    Validity
        Scatter near normal within a group. Smoothing widens the scatter by `n^(-1/3)` of its
        variance, n the effective number of points.
    Source
        Kernel density estimate, Scott's rule h = n^(-1/6) in two dimensions; Scott 1992, memory.
    Example
        >>> points = np.array([0.0, 10.0]), np.array([0.0, 0.0]), np.ones(2)
        >>> len(grounds_of([points]))
        1
    """
    whole = sum(float(np.nansum(weight)) for _, _, weight in groups)
    if not whole > 0.0:
        raise ValueError("no flight agrees with what was seen")
    found = []
    for east, north, weight in groups:
        known = np.isfinite(east) & np.isfinite(north) & (weight > LEAST * whole)
        if float(weight[known].sum()) > RARE * whole:
            points = np.column_stack([east[known], north[known]])
            count = effective_count(np.where(known, weight, 0.0).reshape(-1, each).sum(axis=1))
            found.append(_smoothed(points, weight[known] / whole, count))
    return tuple(found)


def _smoothed(points: Array, weight: Array, count: float) -> Ground:
    shares = weight / weight.sum()
    middle = shares @ points
    covariance = (points - middle).T @ ((points - middle) * shares[:, None])
    values, vectors = np.linalg.eigh(covariance + SMALLEST_M**2 * np.eye(2))
    axes = (vectors * np.sqrt(values)).T[::-1]  # the longer first
    axes[1] *= np.sign(np.linalg.det(axes))  # to the left of it, so that lines run one way round
    units = (points - middle) @ np.linalg.inv(axes)
    width = count ** (-1.0 / 6.0)
    ends = [_span(units[:, i], shares, BEYOND * width) for i in (0, 1)]
    bins = [np.linspace(low, high, CELLS + 1) for low, high in ends]
    steps = [float(b[1] - b[0]) for b in bins]
    cells = [
        np.clip((units[:, i] - bins[i][0]) / steps[i], 0, CELLS - 1).astype(int) for i in (0, 1)
    ]
    mass = np.bincount(cells[0] * CELLS + cells[1], weight, CELLS * CELLS).reshape(CELLS, CELLS)
    left, right = (_kernel(step, width) for step in steps)
    cell_m2 = steps[0] * steps[1] * abs(float(np.linalg.det(axes)))
    along, across = (0.5 * (b[1:] + b[:-1]) for b in bins)
    return Ground(middle, axes, along, across, left @ mass @ right / cell_m2)


def _span(units: Array, shares: Array, room: float) -> Point:
    """Ends of the points that count, with room for the smoothing."""
    order = np.argsort(units)
    summed = np.cumsum(shares[order])
    low, high = np.searchsorted(summed, (RARE, 1.0 - RARE))
    return float(units[order[low]]) - room, float(units[order[min(high, order.size - 1)]]) + room


def _kernel(step: float, width: float) -> Array:
    """Normal smoothing between the cells of one axis, each column summing to 1."""
    apart = step * np.arange(CELLS)
    found = np.exp(-0.5 * ((apart[:, None] - apart[None, :]) / width) ** 2)
    return np.asarray(found / found.sum(axis=0))


def patch_of(grounds: Sequence[Ground], share: float) -> Patch:
    """The densest ground that holds a share of all weight.

    Parameters
        grounds : sequence of Ground - from `grounds_of`. [1/m2]
        share : float - 0 to 1. [-]
    Returns
        patch : Patch - closed lines, area. [m, m2]
    Raises
        nothing
    Validity
        Where two groups overlap their densities are not added, so the patch is a little large.
    Source
        Highest density region: Hyndman, The American Statistician 50, 1996, memory.
    Example
        >>> rng = np.random.default_rng(1)
        >>> points = rng.normal(0, 100, 9999), rng.normal(0, 50, 9999), np.ones(9999)
        >>> bool(abs(patch_of(grounds_of([points]), 0.9).area_m2 / 72337 - 1.0) < 0.1)
        True
    """
    cells = [
        (each.density_1_m2.ravel(), np.full(each.density_1_m2.size, _cell_m2(each)))
        for each in grounds
    ]
    density = np.concatenate([each for each, _ in cells])
    area = np.concatenate([each for _, each in cells])
    order = np.argsort(-density)
    held = np.cumsum((density * area)[order])
    level = float(density[order[min(int(np.searchsorted(held, share * held[-1])), held.size - 1)]])
    lines = tuple(line for each in grounds for line in _lines(each, level))
    return Patch(share, lines, sum(map(enclosed_area_m2, lines)))


def _cell_m2(ground: Ground) -> float:
    steps = (a[1] - a[0] for a in (ground.along, ground.across))
    return float(next(steps) * next(steps)) * abs(float(np.linalg.det(ground.axes)))


def _lines(ground: Ground, level: float) -> list[tuple[Point, ...]]:
    """Closed lines of a level, by marching squares; holes run the other way round."""
    field = np.pad(ground.density_1_m2, 1)  # nothing beyond the edge, so every line closes
    first, second = (a[1] - a[0] for a in (ground.along, ground.across))
    start = ground.along[0] - first, ground.across[0] - second
    follows: dict[tuple[int, int, int], tuple[int, int, int]] = {}
    inside = field > level
    for i, j in np.argwhere(_mixed(inside)):
        for a, b in _steps(int(i), int(j), inside):
            follows[a] = b
    found = []
    while follows:
        begin, at = follows.popitem()
        ring = [begin]
        while at != begin:
            ring.append(at)
            at = follows.pop(at)
        cells = np.array([_crossing(edge, field, level) for edge in ring])
        places = ground.places(np.array(start) + cells * (first, second))
        found.append(tuple((float(e), float(n)) for e, n in places))
    return found


def _mixed(inside: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Squares of four neighbours that are neither all inside nor all outside."""
    count = sum(
        inside[a : a - 1 or None, b : b - 1 or None].astype(int) for a in (0, 1) for b in (0, 1)
    )
    return np.asarray((count > 0) & (count < 4))


def _steps(
    i: int, j: int, inside: NDArray[np.bool_]
) -> list[tuple[tuple[int, int, int], tuple[int, int, int]]]:
    """Pieces of line through one square, each from edge to edge with the inside on its left.

    An edge is (corner, corner, direction 0 along or 1 across). Two opposite corners inside are
    kept apart.
    """
    around = ((i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1))
    edges = ((i, j, 0), (i + 1, j, 1), (i, j + 1, 0), (i, j, 1))
    held = [bool(inside[corner]) for corner in around]
    into = [k for k in range(4) if not held[k] and held[(k + 1) % 4]]
    out = [k for k in range(4) if held[k] and not held[(k + 1) % 4]]
    if len(into) == 2:  # each inside corner has its own piece
        return [(edges[(k + 1) % 4], edges[k]) for k in into]
    return [(edges[out[0]], edges[into[0]])]


def _crossing(edge: tuple[int, int, int], field: Array, level: float) -> Point:
    """Where a level crosses an edge of the grid, in cells."""
    i, j, across = edge
    a, b = float(field[i, j]), float(field[i + (1 - across), j + across])
    part = (level - a) / (b - a)
    return (i + part, float(j)) if not across else (float(i), j + part)
