"""Flights that a file carries to the field: flown beforehand, put together there for any wind.

Every flight is flown upright in a few winds; its own mass, delay, canopy and gusts stay. Between
those winds it is in between. What a lean does to all of them in the mean is flown too, the rail
leaning three ways round from the wind: as the lean turns it goes round as a first harmonic, in
proportion to the lean. What is measured on the day scatters over every flight. So one set serves
all winds, leans and aims of a motor and delay, and what reads the file only puts together and
weights, as `flock_of` does here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from goodflight.studies.case.planned import Case
from goodflight.studies.finding.flock import (
    KNOT,
    OPEN,
    SHUT,
    TANGLED,
    UNOPENED,
    Flock,
    flown,
    tangled,
)
from goodflight.studies.sampling.flights import COARSE_TOLERANCE
from goodflight.studies.sampling.trials import make_trials

Array = NDArray[np.float64]
Whole = NDArray[np.int16]

WINDS_M_S: Final = (0.5, 1.5, 3.5, 6.5, 9.5)
ROUND_RAD: Final = tuple(math.tau * i / 3.0 for i in range(3))  # the lean from the wind
LEAN_RAD: Final = math.radians(4.0)  # middle of what is flown
COUNTS: Final = {OPEN: 480, KNOT: 100, SHUT: 100}
LEANING: Final = 0.25  # share of them flown leaning, too
SHARES: Final = {
    OPEN: 1.0 - TANGLED.value - UNOPENED.value,
    KNOT: TANGLED.value,
    SHUT: UNOPENED.value,
}
FIELDS: Final = {  # of a flight, with the step in which it is kept [s or m]
    "apogee": 0.01,
    "ejection": 0.01,
    "canopy": 0.01,
    "landing": 0.02,
    "turned_east_m": 0.25,
    "turned_north_m": 0.25,
    "east_m": 0.25,
    "north_m": 0.25,
}
NEVER: Final = -32768
MOST: Final = 32767
SCORES: Final = 997  # pairs; each flight takes the next ones of them
EACH: Final = 25  # winds that a flight is put together for
SCORE_STEP: Final = 1e-3
SHORT: Final = 0.6  # of the usual time to apogee: a flight that turned over in that wind
EXPONENT_STEP: Final = 1e-3
CALM_M_S: Final = 0.2  # of a wind that scatters, the least


@dataclass(frozen=True, eq=False)
class Carried:
    """Flights of one motor and delay, in whole steps; the wind from the north.

    kind, exponent : (n,); nodes : (n, winds, fields); leaned : (kinds, winds, 2, fields), what a
    lean of `LEAN_RAD` adds to all of a kind, into the wind and to the right of it.
    """

    motor: str
    delay_out_s: float
    kind: NDArray[np.int64]
    exponent: Whole
    nodes: Whole
    leaned: Whole


@dataclass(frozen=True)
class Flown:
    """The day as it was: wind with its spread, and how the rail leaned.

    azimuth_rad : where the rail leaned to; None = into the wind.
    """

    wind_m_s: float
    wind_sigma_m_s: float
    wind_from_rad: float
    wind_from_sigma_rad: float
    tilt_rad: float
    azimuth_rad: float | None = None


def scores() -> Whole:
    """Pairs of normal scores that fill the plane evenly, in whole steps; (SCORES, 2).

    Returns
        scores : array of int - of the wind's speed and direction. [SCORE_STEP]
    Source
        Additive recurrence on the plastic number: Roberts 2018, memory.
    """
    plastic = 1.32471795724474602596
    steps = np.array([1.0 / plastic, 1.0 / plastic**2])
    even = (0.5 + np.arange(1, SCORES + 1)[:, None] * steps) % 1.0
    return np.asarray(np.rint(ndtri(even) / SCORE_STEP), dtype=np.int16)


def carried_of(
    case: Case,
    counts: dict[int, int] | None = None,
    seed: int = 1,
    winds: Sequence[float] = WINDS_M_S,
) -> Carried:
    """Fly what a file carries of one motor and delay.

    Parameters
        case : Case - with that motor and delay. [SI]
        counts : dict or None - flights as planned, tangled, unopened. [-]
        seed : int - of the sample. [-]
        winds : sequence of float - in which each is flown. [m/s]
    Returns
        carried : Carried - in whole steps. [-]
    Raises
        StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the flights. Gusts differ between two winds, so a flight between them has a little less
        of them than one flown there. A flight that turns over in a wind is left out near it.
    """
    counts = counts or COUNTS
    kinds = np.repeat(list(counts), list(counts.values()))
    found = [
        [_fields(_in_wind(case, wind), kind, count, seed) for wind in winds]
        for kind, count in counts.items()
    ]
    leaned = [
        [_leaned(case, wind, kind, count, seed) for wind in winds] for kind, count in counts.items()
    ]
    exponents = [
        np.zeros(count)
        if kind == SHUT
        else make_trials(case, count, seed).parameter("wind_exponent")
        for kind, count in counts.items()
    ]
    steps = np.array(list(FIELDS.values()))
    nodes = np.concatenate([np.stack(each, axis=1) for each in found])
    return Carried(
        motor=case.motor.name,
        delay_out_s=case.deployment.delay_out_s,
        kind=kinds,
        exponent=_whole(np.concatenate(exponents), EXPONENT_STEP),
        nodes=_whole(nodes, steps),
        leaned=_whole(np.array(leaned), steps),
    )


def _in_wind(case: Case, wind_m_s: float, way_rad: float | None = None) -> Case:
    """The flight in one wind from the north, the rail leaning so far round from it, or upright."""
    still = {"wind_sigma_m_s": 0.0, "wind_from_rad": 0.0, "wind_from_sigma_rad": 0.0}
    tilt = 0.0 if way_rad is None else LEAN_RAD
    return replace(
        case,
        day=replace(case.day, wind_m_s=wind_m_s, **still),
        rail=replace(case.rail, tilt_rad=tilt, azimuth_rad=way_rad or 0.0),
    )


def _fields(case: Case, kind: int, count: int, seed: int, share: float = 1.0) -> Array:
    """What is kept of flights, or the first of them, (n, fields); none of it if turned over."""
    chosen = np.arange(math.ceil(share * count))
    trials = make_trials(case, count, seed, chosen)
    flock = flown(
        case, tangled(trials) if kind == KNOT else trials, kind, 1.0, tolerance=COARSE_TOLERANCE
    )
    fields = np.column_stack([getattr(flock, name) for name in FIELDS])
    fields[~(flock.apogee > SHORT * np.nanmedian(flock.apogee))] = np.nan
    return fields


def _leaned(case: Case, wind_m_s: float, kind: int, count: int, seed: int) -> Array:
    """What a lean adds to all flights of a kind in the mean, (2, fields)."""
    upright, *ways = (
        _fields(_in_wind(case, wind_m_s, way), kind, count, seed, LEANING)
        for way in (None, *ROUND_RAD)
    )
    added = np.nan_to_num([_mean(each - upright) for each in ways])
    turns = np.array([np.cos(ROUND_RAD), np.sin(ROUND_RAD)])
    return np.asarray(2.0 / len(ways) * turns @ added)


def _mean(values: Array) -> Array:
    """Of what is known in each column; nan where nothing is."""
    known = np.isfinite(values)
    count = known.sum(axis=0)
    return np.asarray(np.where(known, values, 0.0).sum(axis=0) / np.where(count, count, np.nan))


def _whole(values: Array, step: float | Array) -> Whole:
    steps = np.clip(np.rint(values / step), -MOST, MOST)
    return np.asarray(np.where(np.isfinite(steps), steps, NEVER), dtype=np.int16)


def flock_of(carried: Carried, day: Flown) -> Flock:
    """The flights on the day as it was, its wind scattering over each.

    Parameters
        carried : Carried - of the motor and delay that flew. [-]
        day : Flown - wind and rail. [SI]
    Returns
        flock : Flock - weighted by nothing yet. [SI]
    Raises
        nothing
    Validity
        Winds beyond those flown go on in a straight line; leans to 10 deg.
    """
    count = len(carried.kind)
    steps = np.array(list(FIELDS.values()))
    nodes = np.where(carried.nodes == NEVER, np.nan, carried.nodes * steps)
    flight = np.repeat(np.arange(count), EACH)
    speed_z, turn_z = (SCORE_STEP * scores()[np.arange(count * EACH) % SCORES]).T
    wind = np.maximum(np.abs(day.wind_m_s + day.wind_sigma_m_s * speed_z), CALM_M_S)
    from_rad = day.wind_from_rad + day.wind_from_sigma_rad * turn_z
    way = np.zeros_like(wind) if day.azimuth_rad is None else day.azimuth_rad - from_rad
    kind = carried.kind[flight]
    turns = day.tilt_rad / LEAN_RAD * np.array([np.cos(way), np.sin(way)])
    leaned = _between(carried.leaned[kind] * steps, wind)
    fields = _between(nodes[flight], wind) + (turns.T[:, :, None] * leaned).sum(axis=1)
    east, north = np.cos(from_rad), np.sin(from_rad)  # of the axes flown in, turned to the wind
    told = dict(zip(FIELDS, fields.T))
    for along, across in (("turned_east_m", "turned_north_m"), ("east_m", "north_m")):
        x, y = told[along], told[across]
        told[along], told[across] = x * east + y * north, y * east - x * north
    there = np.isfinite(told["landing"])
    share = np.array([SHARES[k] / max((there & (kind == k)).sum(), 1) for k in SHARES])
    return Flock(
        kind=kind,
        prior=np.where(there, share[kind], 0.0),
        turned_s=np.where(kind == SHUT, told["apogee"], told["ejection"]),
        exponent=np.asarray(EXPONENT_STEP * carried.exponent[flight], dtype=np.float64),
        **told,
    )


def _between(nodes: Array, wind: Array) -> Array:
    """Figures (n, winds, ...) at a wind of each, between the winds flown."""
    low = np.clip(np.searchsorted(WINDS_M_S, wind) - 1, 0, len(WINDS_M_S) - 2)
    left, right = np.array(WINDS_M_S)[low], np.array(WINDS_M_S)[low + 1]
    at, ones = np.arange(len(wind)), (1,) * (nodes.ndim - 2)
    part = ((wind - left) / (right - left)).reshape(-1, *ones)
    return np.asarray((1.0 - part) * nodes[at, low] + part * nodes[at, low + 1])
