"""Flights that agree with what was seen: flown, weighted, and flown again where they lie.

The flights of the ledger's own sample are weighted by what was seen. Where few agree, more are
flown with the quantities that matter drawn near those of the ones that do; all flights together
then count as drawn from the mixture of what they were drawn from, so no answer depends on where
they were drawn. Besides flights as planned there are two kinds of failure: a canopy that comes out
and stays tangled, and a rocket that comes down nose first with nothing open.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.bearings import carried_m
from goodflight.physics.flight import TOLERANCE, registry
from goodflight.physics.recovery.opening import filled_s
from goodflight.physics.sightings import (
    descent_place_m,
    effective_count,
    log_agreement,
    log_aloft,
    most_likely,
    moved_scores,
    normal_density,
    sight_rad,
    slopes,
    softened,
    tail_share,
    turn_rad,
    weights_of,
)
from goodflight.physics.sources import Constant
from goodflight.studies.case.planned import Case
from goodflight.studies.finding.sightings import EVENTS, Sight, Sightings, Timed
from goodflight.studies.sampling.flights import Told, fly_first
from goodflight.studies.sampling.trials import Trials, make_trials, redrawn

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]

FLIGHTS: Final = 2000
ENOUGH: Final = 200.0  # equal flights that a patch is drawn from; fewer: fly more
ROUNDS: Final = 3
WIDER: Final = 1.5  # of the covariance: more flights reach beyond those that agree
TANGLED: Final = Constant(0.114, "ratio", "studentlaunch2018", note="5 of 44 canopies")
UNOPENED: Final = Constant(0.05, "ratio", "guess", note="nothing opens at all")
TANGLED_DRAG: Final = (0.05, 0.5)  # of the canopy's drag area, even in the logarithm; our guess
OPEN, KNOT, SHUT = 0, 1, 2


@dataclass(frozen=True, eq=False)
class Flock:
    """Flights with what an observer sees of each, (n,) each; prior : the share each stands for.

    kind : as planned, canopy tangled, nothing open. Times are after first motion.
    """

    kind: NDArray[np.int64]
    prior: Array
    apogee: Array
    ejection: Array
    canopy: Array
    landing: Array
    turned_s: Array  # where the way down begins
    turned_east_m: Array
    turned_north_m: Array
    east_m: Array
    north_m: Array
    exponent: Array  # of the wind on the way down


@dataclass(frozen=True)
class Entry:
    """One thing that was seen: logarithm of each flight's weight, and how odd it is.

    off : flights less what was seen, in its errors; None = it has two sides only. fails : it says
    that the flight failed.
    """

    words: str
    logs: Callable[[Flock], Array]
    tail: Callable[[Flock, Array], float]
    off: Callable[[Flock], Array] | None = None
    fails: bool = False


def _entry(words: str, off: Callable[[Flock], Array], error: float, circle: bool = False) -> Entry:
    """Of something seen with a normal error, an angle where `circle`."""
    return Entry(
        words,
        lambda flock: log_agreement(off(flock), error),
        lambda flock, weights: tail_share(off(flock), error, weights, circle),
        lambda flock: off(flock) / error,
    )


def entries_of(sightings: Sightings) -> tuple[Entry, ...]:
    """What was seen, in the order in which the patch shrinks."""
    found = [_kinds(sightings.opened)] if sightings.opened is not None else []
    found += [_by_watch(each) for each in sightings.timed]
    return (*found, *(_by_eye(each, sightings) for each in sightings.sights))


def _kinds(opened: bool) -> Entry:
    wanted = (OPEN,) if opened else (KNOT, SHUT)

    def logs(flock: Flock) -> Array:
        return np.where(np.isin(flock.kind, wanted), 0.0, -np.inf)

    words = "canopy seen open" if opened else "no canopy seen open"
    return Entry(
        words,
        logs,
        lambda flock, weights: float(weights[np.isfinite(logs(flock))].sum()),
        fails=not opened,
    )


def _by_watch(seen: Timed) -> Entry:
    words = f"{EVENTS[seen.event]} at {seen.time_s:.1f} s"
    if seen.event == "last_seen":
        return Entry(
            words,
            lambda flock: log_aloft(flock.landing, seen.time_s, seen.error_s),
            lambda flock, weights: float(
                weights[flock.landing > seen.time_s - 2.0 * seen.error_s].sum()
            ),
        )

    def off(flock: Flock) -> Array:
        return np.asarray(getattr(flock, seen.event) - seen.time_s)

    return _entry(words, off, seen.error_s)


def _by_eye(sight: Sight, sightings: Sightings) -> Entry:
    last = None if sight.landing else sightings.time_of("last_seen")

    def off(flock: Flock) -> Array:
        east, north = flock.east_m, flock.north_m
        if last is not None:
            east, north = seen_at(flock, last.time_s)
        return turn_rad(sight_rad(east, north, sight.from_m) - sight.bearing_rad)

    what = "landing" if sight.landing else "last seen"
    words = f"{what} on {sight.degrees:03.0f} deg true from {sight.who}"
    return _entry(words, off, sight.error_rad, circle=True)


def seen_at(flock: Flock, time_s: float) -> tuple[Array, Array]:
    """Where each flight is on its way down, east and north of the pad [m]."""
    ends = ((flock.turned_east_m, flock.east_m), (flock.turned_north_m, flock.north_m))
    east, north = (
        descent_place_m(
            time_s,
            opened_s=flock.turned_s,
            opened_at_m=start,
            landing_s=flock.landing,
            landing_at_m=end,
            wind_exponent=flock.exponent,
        )
        for start, end in ends
    )
    return east, north


def log_weights(flock: Flock, entries: tuple[Entry, ...]) -> Array:
    """Logarithm of each flight's weight by everything that was seen."""
    return np.asarray(sum((entry.logs(flock) for entry in entries), np.zeros(flock.prior.size)))


def flown(
    case: Case,
    trials: Trials,
    kind: int,
    share: float,
    progress: Progress | None = None,
    tolerance: float = TOLERANCE,
) -> Flock:
    """Fly a sample as planned, with its canopies tangled, or with nothing opening."""
    by = registry.NOTHING_OPENS if kind == SHUT else case.deployment.by
    count = len(trials.parameters)
    words = ("simulating flights", "with a tangled canopy", "with nothing open")[kind]
    out = fly_first(case, trials, count, by, tolerance=tolerance, told=Told(progress, words))

    def did(name: str) -> Array:
        return np.asarray(out[:, registry.OUTCOME_INDEX[name]])

    start, apogee, ejection = did("liftoff_s"), did("apogee_s"), did("ejection_s")
    turned = apogee if kind == SHUT else ejection
    fill = filled_s(
        trials.parameter("canopy_fill"), trials.parameter("canopy_diameter_m"), did("opening_m_s")
    )
    never = np.full(count, np.nan)
    ways = [
        carried_m(did(f"apogee_{way}_m"), did(f"apogee_{way}_m_s"), turned - apogee)
        for way in ("east", "north")
    ]
    return Flock(
        kind=np.full(count, kind),
        prior=np.full(count, share / count),
        apogee=apogee - start,
        ejection=never if kind == SHUT else ejection - start,
        canopy=ejection + trials.parameter("stretch_s") + fill - start if kind == OPEN else never,
        landing=did("landing_s") - start,
        turned_s=turned - start,
        turned_east_m=ways[0],
        turned_north_m=ways[1],
        east_m=did("landing_east_m"),
        north_m=did("landing_north_m"),
        exponent=np.zeros(count) if kind == SHUT else trials.parameter("wind_exponent"),
    )


def tangled(trials: Trials) -> Trials:
    """The same flights, the canopies' drag areas cut down at random, evenly in the logarithm."""
    parameters = trials.parameters.copy()
    drawn = np.random.default_rng(len(parameters)).permutation(len(parameters))
    share = np.geomspace(*TANGLED_DRAG, len(parameters))[drawn]
    for name in ("canopy_area_m2", "main_area_m2"):
        parameters[:, registry.PARAMETER_INDEX[name]] *= share
    return Trials(parameters, trials.seeds, trials.drawn)


def joined(*flocks: Flock) -> Flock:
    """All flights of some flocks as one."""
    return Flock(
        **{
            each.name: np.concatenate([getattr(flock, each.name) for flock in flocks])
            for each in fields(Flock)
        }
    )


def failures(case: Case, flights: int, seed: int, progress: Progress | None = None) -> Flock:
    """Flights that come down without a full canopy, with their shares of all flights."""
    trials = make_trials(case, flights, seed)
    return joined(
        flown(case, tangled(trials), KNOT, TANGLED.value, progress),
        flown(case, trials, SHUT, UNOPENED.value, progress),
    )


def gathered(
    case: Case,
    entries: tuple[Entry, ...],
    flights: int = FLIGHTS,
    seed: int = 1,
    progress: Progress | None = None,
) -> Flock:
    """Flights weighted by nothing yet, enough of them near what was seen where that is possible.

    Parameters
        case : Case - the planned flight on the day as it was. [SI]
        entries : tuple of Entry - what was seen. [-]
        flights : int - of the first sample; each further round flies as many. [-]
        seed : int - of the sample. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        flock : Flock - with `prior`: the share of all flights that each stands for. [SI]
    Raises
        StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the flights' own spreads.
    Source
        Adaptive importance sampling with the balance heuristic: Veach and Guibas 1995, memory
        [veach1995].
    """
    seldom = any(each.fails for each in entries)
    rest = failures(case, flights if seldom else max(flights // 4, 1), seed, progress)
    share = 1.0 - TANGLED.value - UNOPENED.value
    trials = make_trials(case, flights, seed)
    flock, scores = flown(case, trials, OPEN, share, progress), trials.z
    drawn_from: list[Near] = []
    sharp = [each.off for each in entries if each.off is not None]
    for number in range(1, ROUNDS + 1):
        logs = log_weights(flock, entries)
        if not sharp or effective_count(weights_of(logs, flock.prior)) >= ENOUGH:
            break
        near = _near(flock, scores, sharp, logs)
        if near is None:
            break
        drawn_from.append(near)
        plain = make_trials(case, flights, seed + number)
        z = moved_scores(plain.z, *near)
        more = flown(case, redrawn(trials, z, plain.seeds), OPEN, share, progress)
        scores = np.concatenate([scores, z])
        prior = _mixed(scores, drawn_from, share / flights)
        flock = replace(joined(flock, more), prior=prior)
    return joined(flock, rest)


Near = tuple[Array, Array, Array]  # directions of the scores, mean and covariance along them


def _near(
    flock: Flock, scores: Array, sharp: list[Callable[[Flock], Array]], logs: Array
) -> Near | None:
    """Where the scores of flights lie that agree with what was seen; None where too few could."""
    offs = np.column_stack([off(flock) for off in sharp])
    whole = np.isfinite(offs).all(axis=1)
    some = softened(np.where(whole, logs, -np.inf), flock.prior, 4.0 * ENOUGH)
    if effective_count(some) < ENOUGH:
        return None
    directions, mean, covariance = most_likely(*slopes(scores[whole], offs[whole], some[whole]))
    return directions, mean, WIDER * covariance


def _mixed(scores: Array, drawn_from: list[Near], share: float) -> Array:
    """Share of all flights that each stands for, all as drawn from the mixture of the rounds."""
    mixture = np.ones(len(scores))  # the first round, over the density of the scores
    for directions, mean, covariance in drawn_from:
        along = scores @ directions
        plain = normal_density(along, np.zeros(mean.size), np.eye(mean.size))
        mixture = mixture + normal_density(along, mean, covariance) / plain
    return np.asarray(share / mixture)
