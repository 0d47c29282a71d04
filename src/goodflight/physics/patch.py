"""The smallest patch of ground that holds a share of weighted landing points.

The points are smoothed in the axes of their own scatter and the densest ground is taken first. How
dense the edge is, is read at each flight's own place from what all other flights make there: so the
patch holds a fresh flight as often as it says, however much was smoothed. Groups of points far
apart (canopy open, nothing open) are smoothed each in its own axes and share one level. Left out:
what the ground is like.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
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
    weight, others_1_m2 : (k,) of the points; density that all other flights make at each.
    """

    middle_m: Array
    axes: Array
    along: Array  # (n,) middles of the cells [-]
    across: Array  # (m,)
    density_1_m2: Array  # (n, m)
    weight: Array
    others_1_m2: Array

    @property
    def steps(self) -> Point:
        """Size of a cell along and across [-]."""
        return float(self.along[1] - self.along[0]), float(self.across[1] - self.across[0])

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
        variance, n the effective number of points: the ground is blurred, its share is not.
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
            flight = np.flatnonzero(known) // each
            found.append((points, _smoothed(points, weight[known] / whole, count, flight)))
    return tuple(
        replace(own, others_1_m2=np.maximum.reduce([own.others_1_m2, *_beside(points, i, found)]))
        for i, (points, own) in enumerate(found)
    )


def _beside(points: Array, own: int, found: Sequence[tuple[Array, Ground]]) -> list[Array]:
    """Density that the other groups make at the points of one."""
    return [_density_at(ground, points) for i, (_, ground) in enumerate(found) if i != own]


def _smoothed(points: Array, weight: Array, count: float, flight: NDArray[np.int64]) -> Ground:
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
    ground = Ground(
        middle,
        axes,
        along,
        across,
        left @ mass @ right / cell_m2,
        weight=weight,
        others_1_m2=weight,
    )
    scale = 1.0 / (2.0 * np.pi * width**2 * abs(float(np.linalg.det(axes))))
    own = scale * _own(units / width, weight, flight)
    return replace(ground, others_1_m2=np.maximum(_density_at(ground, points) - own, 0.0))


def _own(units: Array, weight: Array, flight: NDArray[np.int64]) -> Array:
    """What the points of its own flight make at each point, in kernels of height 1."""
    own = weight.copy()
    for apart in range(1, weight.size):
        same = flight[apart:] == flight[:-apart]
        if not same.any():
            break
        off = ((units[apart:] - units[:-apart]) ** 2).sum(axis=1)
        kernel = np.where(same, np.exp(-0.5 * off), 0.0)
        own[apart:] += kernel * weight[:-apart]
        own[:-apart] += kernel * weight[apart:]
    return own


def _density_at(ground: Ground, points: Array) -> Array:
    """Density at places east and north (k, 2), straight between the middles of the cells."""
    units = (points - ground.middle_m) @ np.linalg.inv(ground.axes)
    first = np.array([ground.along[0], ground.across[0]])
    cells = np.clip((units - first) / ground.steps + 1.0, 0.0, CELLS + 1.0)
    field = np.pad(ground.density_1_m2, 1)
    i, j = np.minimum(cells.astype(int), CELLS).T
    p, q = cells[:, 0] - i, cells[:, 1] - j
    return np.asarray(
        (1.0 - p) * ((1.0 - q) * field[i, j] + q * field[i, j + 1])
        + p * ((1.0 - q) * field[i + 1, j] + q * field[i + 1, j + 1])
    )


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

    Its edge has the density that this share of the weight finds at its own place, made by all
    other flights: a flight that is not among them lies inside as often.

    Parameters
        grounds : sequence of Ground - from `grounds_of`. [1/m2]
        share : float - 0 to 1. [-]
    Returns
        patch : Patch - closed lines, area. [m, m2]
    Raises
        nothing
    Validity
        Flights like those that were smoothed, whatever the shape of their scatter.
    Source
        Highest density region by the density at the points: Hyndman, The American Statistician 50,
        1996; each point left out of its own density, so that fresh ones are held: Lei, Robins and
        Wasserman, J. American Statistical Association 108, 2013; memory.
    Example
        >>> rng = np.random.default_rng(1)
        >>> points = rng.normal(0, 100, 9999), rng.normal(0, 50, 9999), np.ones(9999)
        >>> bool(abs(patch_of(grounds_of([points]), 0.9).area_m2 / 72337 - 1.0) < 0.05)
        True
    """
    density = np.concatenate([each.others_1_m2 for each in grounds])
    weight = np.concatenate([each.weight for each in grounds])
    order = np.argsort(-density)
    held = np.cumsum(weight[order])
    level = float(density[order[min(int(np.searchsorted(held, share * held[-1])), held.size - 1)]])
    lines = tuple(line for each in grounds for line in _lines(each, level))
    return Patch(share, lines, sum(map(enclosed_area_m2, lines)) - _twice_m2(grounds, level))


def _twice_m2(grounds: Sequence[Ground], level: float) -> float:
    """Ground inside the lines of more than one group, as often as it is counted too much [m2]."""
    found = 0.0
    for i, own in enumerate(grounds):
        along, across = np.nonzero(own.density_1_m2 > level)
        places = own.places(np.column_stack([own.along[along], own.across[across]]))
        before = [_density_at(each, places) > level for each in grounds[:i]]
        cell_m2 = own.steps[0] * own.steps[1] * abs(float(np.linalg.det(own.axes)))
        found += cell_m2 * float(np.sum(np.any(before, axis=0))) if before else 0.0
    return found


def _lines(ground: Ground, level: float) -> list[tuple[Point, ...]]:
    """Closed lines of a level, by marching squares; holes run the other way round."""
    field = np.pad(ground.density_1_m2, 1)  # nothing beyond the edge, so every line closes
    first, second = ground.steps
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
