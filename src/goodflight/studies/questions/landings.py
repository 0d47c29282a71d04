"""Where a planned flight comes down: on the field or off it, over which side, and unopened."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.bearings import bearing_rad, distance_m
from goodflight.physics.flight import registry
from goodflight.physics.polygon import signed_distance_m
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.bands import SAMPLE
from goodflight.studies.sampling.flights import Told, fly_first
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Point = tuple[float, float]
Progress = Callable[[str, float], None]

FLOWN: Final = 600  # flights flown as planned
UNOPENED: Final = 200  # and with nothing opening
WITHIN_LINE: Final = 0.95  # share of the unopened flights that the safety line holds
AT_ONCE: Final = 100  # between two looks at whether anybody still waits
SIDES: Final = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip


@dataclass(frozen=True)
class Over:
    """How many landings leave the field one way: over an edge, or into a keep-out."""

    words: str  # "over the north edge", "into standing maize"
    count: int


@dataclass(frozen=True, eq=False)
class Landings:
    """Landing points east and north of the pad, as planned and when nothing opens.

    off_field : outside the outline; barred : inside a keep-out; over : the off-field landings by
    the way they leave; worst_rad : bearing from the pad to the middle of them, None without any;
    safety_m : line around most unopened flights; past_line : how many it leaves out; unopened_m,
    unopened_rad : distance and bearing of the furthest of them all.
    """

    site: str
    flights: int
    east_m: Array
    north_m: Array
    off_field: Mask
    barred: Mask
    over: tuple[Over, ...]
    worst_rad: float | None
    ballistic_east_m: Array
    ballistic_north_m: Array
    safety_m: tuple[Point, ...]
    past_line: int
    unopened_m: float | None
    unopened_rad: float | None
    outline_m: tuple[Point, ...]
    keep_outs_m: tuple[tuple[str, tuple[Point, ...]], ...]
    wind_m_s: float
    wind_from_rad: float
    wind_from_sigma_rad: float


def landings_of(
    case: Case,
    flights: int = FLOWN,
    sample: int = SAMPLE,
    seed: int = 1,
    progress: Progress | None = None,
) -> Landings:
    """Where the first flights of the ledger's sample come down, and some of them unopened.

    Parameters
        case : Case - the planned flight. [SI]
        flights : int - flights flown: number 1 to this one. [-]
        sample : int - flights of the ledger. [-]
        seed : int - of the ledger. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        landings : Landings - points, field and wind. [SI]
    Raises
        ValueError - the rocket lacks what a flight needs.
    Validity
        As the rows of landing in the ledger. The safety line holds most of the flights flown, not
        every flight that could be; distances to people are the range safety officer's to decide.
    Source
        The flight kernel; the site's outline.
    """
    drawn = make_trials(case, sample, seed)
    east, north = _flown(case, drawn, flights, case.deployment.by, progress)
    fell_east, fell_north = _flown(
        case, drawn, min(flights, UNOPENED), registry.NOTHING_OPENS, progress
    )
    outline, rings = case.site.outline_m, case.site.keep_outs_m
    outside = _inside(east, north, outline, False)
    inside = [_inside(east, north, ring, True) for _, ring in rings]
    kept = [(name, each) for (name, _), each in zip(rings, inside)]
    barred = np.any(inside, axis=0) if inside else np.zeros(east.size, dtype=bool)
    far, toward = _furthest(fell_east, fell_north)
    close = _closest(fell_east, fell_north)
    return Landings(
        site=case.site.name,
        flights=east.size,
        east_m=east,
        north_m=north,
        off_field=outside,
        barred=barred,
        over=_ways_out(east, north, outside, outline, kept),
        worst_rad=_bearing(east[outside], north[outside]),
        ballistic_east_m=fell_east,
        ballistic_north_m=fell_north,
        safety_m=hull(fell_east[close], fell_north[close]),
        past_line=int((np.isfinite(fell_east) & ~close).sum()),
        unopened_m=far,
        unopened_rad=toward,
        outline_m=outline,
        keep_outs_m=rings,
        wind_m_s=case.day.wind_m_s,
        wind_from_rad=case.day.wind_from_rad,
        wind_from_sigma_rad=case.day.wind_from_sigma_rad,
    )


def _flown(
    case: Case, drawn: Trials, flights: int, deployment: int, progress: Progress | None
) -> tuple[Array, Array]:
    """Landing points of the first flights; NaN where one never flew."""
    words = (
        "simulating flights without a parachute"
        if deployment == registry.NOTHING_OPENS
        else "simulating to the ground"
    )
    flown = fly_first(case, drawn, flights, deployment, told=Told(progress, words, AT_ONCE))
    east, north = (
        flown[:, registry.OUTCOME_INDEX[way]] for way in ("landing_east_m", "landing_north_m")
    )
    return east, north


def _inside(east: Array, north: Array, ring: Sequence[Point], wanted: bool) -> Mask:
    """Whether points lie inside a ring (or, wanted False, outside); never where unknown."""
    if len(ring) < 3:
        return np.zeros(east.size, dtype=bool)
    found: Mask = (signed_distance_m(east, north, ring) < 0.0) == wanted
    return found & np.isfinite(east)


def _ways_out(
    east: Array,
    north: Array,
    outside: Mask,
    outline: Sequence[Point],
    barred: Sequence[tuple[str, Mask]],
) -> tuple[Over, ...]:
    """Off-field landings by keep-out, the rest by the edge that the way from the pad crosses."""
    counts: dict[str, int] = {}
    for i in np.flatnonzero(outside):
        held = next((f"into {name}" for name, inside in barred if inside[i]), None)
        words = held or f"over the {edge_crossed((float(east[i]), float(north[i])), outline)} edge"
        counts[words] = counts.get(words, 0) + 1
    return tuple(Over(w, c) for w, c in sorted(counts.items(), key=lambda each: -each[1]))


def edge_crossed(point: Point, outline: Sequence[Point]) -> str:
    """Side of the field over which the straight way from the pad to a point leaves it last.

    Parameters
        point : (east, north) - outside the outline. [m]
        outline : sequence of (east, north) - corners in order. [m]
    Returns
        side : str - one of eight compass directions: the outward direction of that edge; of the
            point itself when no edge lies between (a pad outside the field). [-]
    """
    east, north = point
    turn = math.copysign(1.0, sum(_cross(a, b) for a, b in _edges(outline)))
    last, side = -1.0, direction(math.atan2(east, north))
    for (x0, y0), (x1, y1) in _edges(outline):
        dx, dy = x1 - x0, y1 - y0
        across = east * dy - north * dx
        if across == 0.0:
            continue
        along, place = (x0 * dy - y0 * dx) / across, (x0 * north - y0 * east) / across
        if 0.0 <= along <= 1.0 and 0.0 <= place <= 1.0 and along > last:
            last, side = along, direction(math.atan2(turn * dy, -turn * dx))
    return side


def direction(bearing_rad: float) -> str:
    """The nearest of eight compass directions in words."""
    return SIDES[round(bearing_rad / (math.pi / 4.0)) % 8]


def hull(east: Array, north: Array) -> tuple[Point, ...]:
    """The smallest convex line around points, anticlockwise (Andrew's monotone chain)."""
    known = np.isfinite(east) & np.isfinite(north)
    points = sorted({(float(e), float(n)) for e, n in zip(east[known], north[known])})
    if len(points) < 3:
        return tuple(points)
    halves = []
    for way in (points, points[::-1]):
        line: list[Point] = []
        for p in way:
            while len(line) > 1 and _turns_right(line[-2], line[-1], p):
                line.pop()
            line.append(p)
        halves += line[:-1]
    return tuple(halves)


def _turns_right(a: Point, b: Point, c: Point) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0.0


def _edges(outline: Sequence[Point]) -> list[tuple[Point, Point]]:
    return [(a, b) for a, b in zip(outline, [*outline[1:], outline[0]]) if a != b]


def _cross(a: Point, b: Point) -> float:
    return a[0] * b[1] - a[1] * b[0]


def _bearing(east: Array, north: Array) -> float | None:
    if east.size == 0:
        return None
    return float(bearing_rad(np.median(east), np.median(north)))


def _closest(east: Array, north: Array) -> Mask:
    """The points nearest to the middle of them all, as many as the safety line is to hold."""
    known = np.isfinite(east) & np.isfinite(north)
    if not known.any():
        return known
    away = distance_m(east - np.median(east[known]), north - np.median(north[known]))
    close: Mask = known & (away <= np.quantile(away[known], WITHIN_LINE))
    return close


def _furthest(east: Array, north: Array) -> tuple[float | None, float | None]:
    away = distance_m(east, north)
    if not np.isfinite(away).any():
        return None, None
    i = int(np.nanargmax(away))
    return float(away[i]), float(bearing_rad(east[i], north[i]))
