"""Where a slot holds a finished fin: the flat that bevels, rounding and fillets leave of it.

A plate at a station holds the fin between two heights when the fin is of full thickness through
the whole plate there. Two plates keep a fin from leaning by what both hold at the same height.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product

from goodflight.physics.structure import guided_cant_rad
from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.outlines import bevel_m, fin_corners
from goodflight.studies.bench.planes import Area, area, box, chain, pieces_of, shifted

HELD_M = 0.008  # least height that both slots hold alike
HELD_SHARE = 0.25  # of the span, where the fin allows it
SPARE_M = 0.002  # of flat ahead of and behind a plate, as nobody places it to the hair
FAR_M = 10.0
HAIR_M = 1e-8  # so that a line along an edge cuts it


@dataclass(frozen=True)
class Hold:
    """Where one plate holds the fin: its middle, and between which heights over the body."""

    station_m: float
    low_m: float
    high_m: float


@dataclass(frozen=True)
class Pair:
    """The two places that keep a fin straight, front and rear."""

    fore: Hold
    aft: Hold

    @property
    def apart_m(self) -> float:
        """From middle to middle."""
        return self.aft.station_m - self.fore.station_m

    @property
    def both_m(self) -> tuple[float, float]:
        """Heights over the body between which both hold."""
        return max(self.fore.low_m, self.aft.low_m), min(self.fore.high_m, self.aft.high_m)


def flat_of(fins: p.Fins) -> Area:
    """What is left of full thickness: the panel and its tab less the shaped free edges [m].

    Aft of the root's front, outward of the body. Faired fins have no flat.

    Example
        >>> square = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
        >>> fins = p.Fins("f", 1.0, outline_m=square, thickness_m=0.004, edges="rounded")
        >>> tuple(round(x, 6) for x in flat_of(fins).bounds)
        (0.002, 0.0, 0.098, 0.098)
    """
    whole = area(fin_corners(fins))
    if fins.edges == "faired":
        return area()
    shaped = bevel_m(fins)
    return whole.difference(chain(fins.outline_m).buffer(shaped)) if shaped else whole


def _worn(flat: Area, aft_m: Iterable[float], out_m: Iterable[float]) -> Area:
    """Places from which a figure with these corners lies in the flat."""
    left = flat
    for u, w in product(tuple(aft_m), tuple(out_m)):
        left = left.intersection(shifted(flat, -u, -w))
    return left


def _along(figure: Area, height_m: float) -> tuple[float, float] | None:
    """First and last station of a figure at a height."""
    cut = figure.buffer(HAIR_M).intersection(chain(((-FAR_M, height_m), (FAR_M, height_m))))
    return None if cut.is_empty else (cut.bounds[0] + 2 * HAIR_M, cut.bounds[2] - 2 * HAIR_M)


def _hold(thin: Area, station_m: float, middle_m: float) -> Hold:
    """All that a plate holds in one piece about a height."""
    cut = thin.buffer(HAIR_M).intersection(chain(((station_m, -FAR_M), (station_m, FAR_M))))
    spans = [(x.bounds[1], x.bounds[3]) for x in pieces_of(cut)]
    low, high = next(x for x in spans if x[0] <= middle_m <= x[1])
    return Hold(station_m, low, high)


def best_pair(
    fins: p.Fins,
    plate_m: float,
    reach_m: tuple[float, float],
    between_m: tuple[float, float],
    turn: tuple[float, float, float],
) -> Pair | None:
    """The two stations at which slots keep a finished fin straightest.

    Parameters
        fins : Fins - with edges, bevel, tab. [-]
        plate_m : float - length along the axis that a slot holds. [m]
        reach_m : tuple - heights over the body between which slots reach the fin. [m]
        between_m : tuple - first and last station that a plate's faces may take. [m]
        turn : tuple - clearance, turn of one plate against the other, body radius. [m, rad, m]
    Returns
        pair : Pair or None - none: nowhere do two plates hold alike. [m]
    Raises
        nothing
    Validity
        Of least bound of cant, found at the corners of where a plate may stand: between them the
        bound is monotone, a ratio of straight lines. A quarter of the span is held where that
        goes, at least `HELD_M`.
    Source
        Derived.
    Example
        none
    """
    half = plate_m / 2.0
    grip = half + SPARE_M
    first, last = (station - fins.station_m for station in between_m)
    reach = box(-FAR_M, reach_m[0], FAR_M, max(reach_m))
    thin = _worn(flat_of(fins).intersection(reach), (-grip, 0.0, grip), (0.0,))
    thin = thin.intersection(box(first + half, -FAR_M, max(first, last - half), FAR_M))
    span = max(out for _, out in fins.outline_m)
    for held in (max(HELD_SHARE * span, HELD_M), HELD_M):
        pair = _pair(thin, held, 4.0 * plate_m, turn)
        if pair is not None:
            put = fins.station_m
            return Pair(*(replace(x, station_m=put + x.station_m) for x in pair))
    return None


def _pair(
    thin: Area, held_m: float, least_m: float, turn: tuple[float, float, float]
) -> tuple[Hold, Hold] | None:
    """The pair of least cant that holds so much height alike; stations from the root's front."""
    clearance, turned, radius = turn
    band = _worn(thin, (0.0,), (0.0, held_m / 2.0, held_m))
    pieces = [x for x in pieces_of(band) if x.geom_type == "Polygon"]
    found = []
    for height in sorted({w for piece in pieces for _, w in piece.exterior.coords}):
        ends = _along(band, height)
        if ends is not None and ends[1] - ends[0] >= least_m:
            cant = guided_cant_rad(clearance, turned, radius + height, ends[1] - ends[0])
            found.append((cant, height, ends))
    if not found:
        return None
    _, height, (fore, aft) = min(found)
    middle = height + held_m / 2.0
    return _hold(thin, fore, middle), _hold(thin, aft, middle)
