"""Where to look for a rocket that has flown: the patch that agrees with what was seen."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.bearings import bearing_rad, distance_m, nearest_on_m
from goodflight.physics.patch import Ground, Patch, grounds_of, patch_of
from goodflight.physics.polygon import lines_across_m
from goodflight.physics.sightings import effective_count, sight_rad, softened, weights_of
from goodflight.physics.sweep import COVER, found_share, walk_s
from goodflight.project import Project
from goodflight.studies.case.project_case import case_of
from goodflight.studies.finding.asked import Asked, Light, search_of
from goodflight.studies.finding.flock import (
    FLIGHTS,
    KNOT,
    OPEN,
    SHUT,
    Entry,
    Flock,
    entries_of,
    gathered,
    log_weights,
)
from goodflight.studies.finding.sightings import Sightings

Array = NDArray[np.float64]
Point = tuple[float, float]
Progress = Callable[[str, float], None]

HALF, NINE_TENTHS = 0.5, 0.9
ODD: Final = 0.01  # an entry further out than all but this share of flights
FEW: Final = 30.0  # equal flights that a patch can stand on
MOST_LANES: Final = 60
SAFE: Final = (
    "Never take a rocket down from a power line: keep away from it and call the line's operator. "
    "Do not climb trees or enter water for it.",
    "Ask whoever owns or farms the ground before you step on it; walk between rows, not through "
    "crop.",
    "Disarm what can still fire before anything else. Photograph the rocket as it lies, then carry "
    "it unrepaired to whoever signs.",
)
PLANNED_WIND: Final = (
    "The wind is the plan's, not a measured one: times and bearings do not show a stronger one, "
    "which carries the rocket further along the bearing. Enter the wind as measured."
)
KINDS: Final = {OPEN: "canopy open", KNOT: "canopy tangled", SHUT: "nothing open"}


@dataclass(frozen=True)
class FindStep:
    """The patch after one more entry."""

    words: Annotated[str, "what was seen"]
    area_m2: Annotated[float, "ground that holds 9 in 10 flights that agree so far [m2]"]
    odd: Annotated[float | None, "chance of an entry at least as far out, 0 to 1; null = not asked"]
    agrees: Annotated[bool, "false: it contradicts the flights and the entries before it"]


@dataclass(frozen=True)
class SearchPatch:
    """The smallest ground that holds a share of the flights that agree."""

    share: Annotated[float, "share of the flights inside, 0 to 1"]
    area_m2: Annotated[float, "its area [m2]"]
    lines_m: Annotated[tuple[tuple[Point, ...], ...], "closed lines, [east, north] of the pad [m]"]


@dataclass(frozen=True)
class FromObserver:
    """The middle of the patch from one place."""

    who: Annotated[str, "pad, or the observer"]
    distance_m: Annotated[float, "to the middle of the patch [m]"]
    bearing_rad: Annotated[float, "true, clockwise from north [rad]"]


@dataclass(frozen=True)
class Lane:
    """One straight line to walk."""

    number: Annotated[int, "in the order to walk, the likeliest first"]
    start_m: Annotated[Point, "east and north of the pad [m]"]
    end_m: Annotated[Point, "east and north of the pad [m]"]
    length_m: Annotated[float, "how long [m]"]
    share: Annotated[float, "share of the flights within half a spacing of it, 0 to 1"]


@dataclass(frozen=True)
class WayDown:
    """One way to come down, and how likely it is now."""

    words: Annotated[str, "canopy open, canopy tangled, nothing open"]
    share: Annotated[float, "of the flights that agree, 0 to 1"]


@dataclass(frozen=True)
class FindStudy:
    """The answer."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the plan"]
    site: Annotated[str, "name of the field"]
    invented: Annotated[bool, "whether anything in it is invented"]
    flights: Annotated[int, "flights simulated"]
    effective: Annotated[float, "equal flights that agree with everything seen"]
    steps: Annotated[tuple[FindStep, ...], "how the patch shrinks; the first is before any entry"]
    patches: Annotated[tuple[SearchPatch, ...], "half of the flights, then 9 in 10"]
    middle_m: Annotated[Point, "middle of the flights that agree, east and north of the pad [m]"]
    places: Annotated[tuple[FromObserver, ...], "from the pad and from each observer"]
    ways: Annotated[tuple[WayDown, ...], "how it may have come down"]
    lanes: Annotated[tuple[Lane, ...], "to walk, the likeliest first"]
    lane_bearing_rad: Annotated[float, "the way the lanes run, true [rad]"]
    spacing_m: Annotated[float, "between lanes [m]; practice, not measured here"]
    cover: Annotated[str, "what stands on the ground"]
    people: Annotated[int, "who walk side by side"]
    walk_s: Annotated[float, "to walk all lanes [s]"]
    found: Annotated[float, "chance that walking all of them finds it, 0 to 1"]
    left_out: Annotated[int, "lanes of the 9 in 10 patch that are not listed"]
    light: Annotated[Light | None, "null = place, day or zone not given"]
    pad_lonlat: Annotated[Point | None, "longitude and latitude of the pad [deg]; null = not known"]
    wind_m_s: Annotated[float, "mean wind the flights were flown in [m/s]"]
    wind_from_rad: Annotated[float, "where it came from [rad]"]
    outline_m: Annotated[tuple[Point, ...], "the field, [east, north] of the pad [m]"]
    areas_m: Annotated[
        tuple[tuple[str, tuple[Point, ...]], ...], "keep-outs: name, [east, north] of the pad [m]"
    ]
    sights_m: Annotated[
        tuple[tuple[str, Point, float], ...], "bearings: who, from [m], true bearing [rad]"
    ]
    warnings: Annotated[tuple[str, ...], "what speaks against the patch"]
    cautions: Annotated[tuple[str, ...], "what always holds"]

    @property
    def search(self) -> SearchPatch:
        """The patch that is searched: 9 in 10."""
        return self.patches[-1]


def find(
    project: Project,
    plan: str | None = None,
    seen: Mapping[str, str] | None = None,
    *,
    bearings: Sequence[str] = (),
    declination: str = "",
    nothing_opened: bool = False,
    wind: str = "",
    wind_from: str = "",
    cover: str = "short",
    people: int = 1,
    pad: str = "",
    at: str = "",
    zone: str = "",
    flights: int = FLIGHTS,
    seed: int = 1,
    progress: Progress | None = None,
) -> FindStudy:
    """Where to look for the rocket, from what was seen of its flight.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan was flown; None = the first. [-]
        seen : mapping or None - apogee, ejection, canopy, last_seen, landing -> time after
            lift-off, "11.9 s ± 0.5 s". [-]
        bearings : sequence of str - "pad: 52 deg compass", "line (-60, 40): 48 deg true",
            "pad: over 900, 1200"; with "last seen " in front, of the last sight of it. [-]
        declination : str - of the compass, "3 deg east"; typed, never guessed. [-]
        nothing_opened : bool - seen to come down without a canopy. [-]
        wind, wind_from : str - as measured; empty = as the plan has it. [-]
        cover : str - short, knee, hip or tall: what stands on the ground. [-]
        people : int - who walk. [-]
        pad : str - "longitude, latitude" of the pad in degrees; empty = of the field's file. [-]
        at : str - day and time of the clock, "2026-10-17 14:20". [-]
        zone : str - hours of that clock before universal time, "+2". [-]
        flights : int - of the first sample. [-]
        seed : int - of the sample. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        study : FindStudy - patches, lanes, light. [SI]
    Raises
        NotSeenError - texts that cannot be read, all of them; StudyRefused - no such flight.
    Validity
        Wind grows with height by one power law in one direction; where it veers aloft the patch
        turns with it, and the entries say so. A stronger wind they do not show: with 1.6 times
        the wind entered, the patch of 9 in 10 held 4 in 10 of synthetic flights; 36 deg beside it,
        6 in 10, with half of them told as contradicting. Lanes and their spacing are practice.
    Source
        The flight kernel; Bayes' rule; [koopman1957] for what a walk finds.
    Example
        >>> seen = {"apogee": "11.2 s", "landing": "104 s"}
        >>> found = goodflight.find(goodflight.load("fieldfare"), seen=seen, flights=300)
        >>> found.steps[-1].area_m2 < found.steps[0].area_m2
        True
    """
    asked = Asked(
        seen=dict(seen or {}),
        bearings=bearings,
        declination=declination,
        nothing_opened=nothing_opened,
        wind=wind,
        wind_from=wind_from,
        cover=cover,
        people=people,
        pad=pad,
        at=at,
        zone=zone,
    )
    return find_asked(project, plan, asked, flights, seed=seed, progress=progress)


def find_asked(
    project: Project,
    plan: str | None,
    asked: Asked,
    flights: int = FLIGHTS,
    seed: int = 1,
    progress: Progress | None = None,
) -> FindStudy:
    """The same from one record of texts; see `find`."""
    search = search_of(project, case_of(project, plan), asked)
    case, sightings, cover = search.case, search.sightings, COVER[asked.cover]
    entries = entries_of(sightings)
    flock = gathered(case, entries, flights, seed, progress)
    weights = agreeing(flock, entries)
    effective = effective_count(weights_of(log_weights(flock, entries), flock.prior))
    steps = _steps(flock, entries)
    warnings = _warnings(steps, effective)
    if not weights.any():  # nothing can agree: as before any entry, and said
        weights = flock.prior / flock.prior.sum()
    ground = grounds(flock, weights)
    patches = tuple(_as_record(patch_of(ground, share)) for share in (HALF, NINE_TENTHS))
    lanes, along, left_out = _lanes(flock, weights, ground, patches, cover.spacing_m)
    middle = _middle(flock, weights)
    walked = sum(each.length_m for each in lanes)
    held = sum(each.share for each in lanes)
    strips = max(min(patches[-1].area_m2, walked * cover.spacing_m), 1.0)  # lanes may be left out
    return FindStudy(
        rocket=case.rocket.name,
        plan=case.plan,
        site=case.site.name,
        invented=case.origin.invented,
        flights=flock.prior.size,
        effective=effective,
        steps=steps,
        patches=patches,
        middle_m=middle,
        places=_places(middle, sightings),
        ways=tuple(
            WayDown(words, float(weights[flock.kind == k].sum())) for k, words in KINDS.items()
        ),
        lanes=lanes,
        lane_bearing_rad=along,
        spacing_m=cover.spacing_m,
        cover=cover.words,
        people=asked.people,
        walk_s=float(walk_s(walked, asked.people)),
        found=held * float(found_share(strips, walked, cover.spacing_m)),
        left_out=left_out,
        light=search.light,
        pad_lonlat=search.pad,
        wind_m_s=case.day.wind_m_s,
        wind_from_rad=case.day.wind_from_rad,
        outline_m=case.site.outline_m,
        areas_m=case.site.keep_outs_m,
        sights_m=tuple((s.who, s.from_m, s.bearing_rad) for s in sightings.sights),
        warnings=warnings,
        cautions=SAFE if asked.wind.strip() else (PLANNED_WIND, *SAFE),
    )


def agreeing(flock: Flock, entries: tuple[Entry, ...]) -> Array:
    """Weights of the flights by what was seen; where hardly any agrees, with wider errors."""
    return softened(log_weights(flock, entries), flock.prior, FEW)


def grounds(flock: Flock, weights: Array, each: int = 1) -> tuple[Ground, ...]:
    """The ground where weighted flights come down, each way to come down by itself.

    each : neighbours that are one flight in other winds.
    """
    return grounds_of(
        [
            (
                flock.east_m[flock.kind == kind],
                flock.north_m[flock.kind == kind],
                weights[flock.kind == kind],
            )
            for kind in KINDS
        ],
        each,
    )


def _as_record(patch: Patch) -> SearchPatch:
    return SearchPatch(patch.share, patch.area_m2, patch.lines_m)


def _steps(flock: Flock, entries: tuple[Entry, ...]) -> tuple[FindStep, ...]:
    """The patch before any entry and after each."""
    weights, found = flock.prior / flock.prior.sum(), []
    for count in range(len(entries) + 1):
        words, odd = "before anything was seen", None
        if count:
            entry = entries[count - 1]
            words, odd = entry.words, entry.tail(flock, weights)
            odd = odd if math.isfinite(odd) else 0.0
            weights = agreeing(flock, entries[:count])
        area = patch_of(grounds(flock, weights), NINE_TENTHS).area_m2 if weights.any() else 0.0
        found.append(FindStep(words, area, odd, odd is None or odd >= ODD))
    return tuple(found)


def _warnings(steps: tuple[FindStep, ...], effective: float) -> tuple[str, ...]:
    """What speaks against the patch."""
    found = [
        f"{each.words}: hardly any flight does this, with what was entered before it. Check the "
        "watch and the bearing; if they are right, wind, motor or delay were not as planned: "
        "walk along the bearing, beyond the patch on both sides."
        for each in steps
        if not each.agrees
    ]
    if effective < FEW:
        found.append(
            f"Only about {effective:.0f} of the simulated flights agree with everything entered, "
            f"so the patch is drawn with all errors taken wider, until {FEW:.0f} do. Do not trust "
            "it: search along the bearings first, as far as the canopy can drift."
        )
    return tuple(found)


def _middle(flock: Flock, weights: Array) -> Point:
    known = np.isfinite(flock.east_m) & (weights > 0.0)
    shares = weights[known] / weights[known].sum()
    return float(shares @ flock.east_m[known]), float(shares @ flock.north_m[known])


def _places(middle: Point, sightings: Sightings) -> tuple[FromObserver, ...]:
    """The middle of the patch from the pad and from every observer."""
    east, north = middle
    found = [FromObserver("pad", float(distance_m(east, north)), float(bearing_rad(east, north)))]
    for sight in sightings.sights:
        if sight.from_m == (0.0, 0.0) or any(each.who == sight.who for each in found):
            continue
        away = float(distance_m(east - sight.from_m[0], north - sight.from_m[1]))
        found.append(FromObserver(sight.who, away, float(sight_rad(east, north, sight.from_m))))
    return tuple(found)


def _lanes(
    flock: Flock,
    weights: Array,
    ground: tuple[Ground, ...],
    patches: tuple[SearchPatch, ...],
    spacing_m: float,
) -> tuple[tuple[Lane, ...], float, int]:
    """Lanes along the patch, likeliest first; their bearing; how many are not listed."""
    main = max(ground, key=lambda each: float(each.density_1_m2.sum()))
    way = main.axes[0] * (1.0 if main.axes[0] @ main.middle_m >= 0.0 else -1.0)  # from the pad
    along = float(bearing_rad(float(way[0]), float(way[1])))
    pieces = lines_across_m(patches[-1].lines_m, along, spacing_m)
    known = np.isfinite(flock.east_m) & np.isfinite(flock.north_m) & (weights > 0.0)
    east, north = flock.east_m[known], flock.north_m[known]
    away = np.array([nearest_on_m(east, north, *piece) for piece in pieces])
    mine = away.argmin(axis=0) if pieces else np.zeros(0, dtype=int)  # each flight's nearest lane
    near = weights[known] * (away.min(axis=0, initial=np.inf) <= 0.5 * spacing_m)
    shares = np.bincount(mine, near, len(pieces)) if pieces else np.zeros(0)
    found = [(float(share), *piece) for share, piece in zip(shares, pieces)]
    order = sorted(found, key=lambda each: -each[0])[:MOST_LANES]
    lanes: list[Lane] = []
    at = (0.0, 0.0)
    for share, *ends in order:
        start, end = sorted(ends, key=lambda each: math.dist(at, each))
        lanes.append(Lane(len(lanes) + 1, start, end, math.dist(start, end), share))
        at = end
    return tuple(lanes), along, len(found) - len(order)
