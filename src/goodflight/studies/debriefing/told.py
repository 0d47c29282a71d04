"""What is known of a flight, typed, in its notes or from a log, as figures with their errors.

A figure without an error of its own takes a common one, which is told.
"""

import math
from collections.abc import Mapping
from typing import Final

from goodflight.physics.recorded import DIMENSION_OF, EVENT_OF, TIME_OF, Happened, Measured
from goodflight.physics.sightings import WATCH_ERROR_S
from goodflight.project.bench_files import NotesFile, SeenTimesTable
from goodflight.quantity import Quantity, QuantityError, brief, parse
from goodflight.quantity.refusal import Record
from goodflight.studies.debriefing.film import film_of, film_times
from goodflight.studies.debriefing.logged import EVENTS as SHOWN
from goodflight.studies.finding.sightings import NotSeenError, fault

EVENTS: Final = tuple(SeenTimesTable.model_fields)
PEAK_ERROR: Final = 0.02  # of a peak figure, one standard deviation; our guess
COMMON: Final = {"apogee_standard_m": PEAK_ERROR, "last_rate_mps": 0.1}  # shares; our guess
RATE_WORDS: Final = "a speed down without an error is taken as good to 10 % (our guess)"
WATCH_WORDS: Final = "a time without an error is taken as good to 0.3 s (common practice)"
PEAK_WORDS: Final = "a peak without an error is taken as good to 2 % (our guess)"
APART: Final = 3.0  # standard errors between notes and log: told
ORDER_WORDS: Final = "the order of a flight"


def happened_of(
    notes: NotesFile,
    peak: str = "",
    seen: Mapping[str, str] | None = None,
    log: Happened | None = None,
    film: Mapping[str, str] | None = None,
) -> tuple[Happened, tuple[str, ...]]:
    """What is known of a flight, and what was taken for granted.

    Typed figures stand first; of notes, film and log the one with the smaller error.

    Raises
    ------
    NotSeenError - texts that cannot be read, or times out of order; all of them.
    """
    filmed, taken, faults = _filmed(notes, film)
    typed = dict(seen or {})
    for event in [each for each in typed if each not in EVENTS]:
        allowed = "one of " + ", ".join(EVENTS)
        faults.append(fault("seen", f'"{event}"', allowed, "name what was seen"))
    figures: dict[str, Quantity] = {}
    for event in EVENTS:
        noted = None if notes.seen is None else getattr(notes.seen, event)
        try:
            found = parse(typed[event], "time") if event in typed else noted
        except QuantityError as error:
            faults.append(fault(event, error.found, error.expected, error.advice))
            continue
        if found is not None:
            figures[TIME_OF[event]] = found
    try:
        height = parse(peak, "length") if peak.strip() else notes.apogee
        if height is not None:
            figures["apogee_standard_m"] = height
    except QuantityError as error:
        faults.append(fault("peak", error.found, error.expected, error.advice))
    faults += [
        fault(name, f"{each.text}", "above zero", "count times from lift-off, heights from the pad")
        for name, each in figures.items()
        if each.value <= 0.0
    ]
    times = {name: each.value for name, each in figures.items() if name in EVENT_OF}
    faults += _out_of_order(times, "seen", "count all times from lift-off")
    if notes.last_rate is not None:
        figures["last_rate_mps"] = notes.last_rate
    if faults:
        raise NotSeenError(faults)
    known = {name: _measured(name, each) for name, each in figures.items()}
    first = {TIME_OF[event] for event in typed} | ({"apogee_standard_m"} if peak.strip() else set())
    apart, bare = list[str](), dict(figures)
    for source, what in ((Happened(**filmed), "the film"), (log or Happened(), "the log")):
        better, words = _surer(known, source, what)
        better = {name: each for name, each in better.items() if name not in first}
        bare = {name: each for name, each in bare.items() if name not in better}
        known, apart = {**known, **better}, [*apart, *words]
    return Happened(**known), (*_taken(bare), *taken, *apart)


def _filmed(
    notes: NotesFile, typed: Mapping[str, str] | None
) -> tuple[dict[str, Measured], tuple[str, ...], list[Record]]:
    """Times of a film, typed or noted, what was taken for granted, and what is wrong with it."""
    film, faults = film_of(typed) if typed else (notes.film, [])
    if film is None:
        return {}, (), faults
    times, taken = film_times(film)
    for name, each in times.items():
        if each.value <= 0.0:
            event = EVENT_OF[name]
            found = f"frame {getattr(film, event).text} with lift-off in {film.lift_off.text}"
            advice = "count all frames from the film's first"
            faults.append(fault(f"film {event}", found, "a frame after lift-off", advice))
    middles = {name: each.value for name, each in times.items()}
    return times, taken, faults + _out_of_order(middles, "film", "look at the frames again")


def _out_of_order(times: Mapping[str, float], key: str, advice: str) -> list[Record]:
    return [
        fault(
            key,
            f"{late} not after {early}",
            ORDER_WORDS,
            advice,
        )
        for early, late in (
            ("burnout", "apogee"),
            ("charge", "canopy"),
            ("apogee", "landing"),
            ("canopy", "landing"),
        )
        for one, two in ((times.get(TIME_OF[early]), times.get(TIME_OF[late])),)
        if one is not None and two is not None and two <= one
    ]


def _surer(
    known: Mapping[str, Measured], log: Happened, what: str
) -> tuple[dict[str, Measured], tuple[str, ...]]:
    """What a film or log knows better, and where it and what was noted are far apart."""
    better, apart = {}, []
    for name, logged in log.given().items():
        noted = known.get(name)
        if noted is None or logged.error < noted.error:
            better[name] = logged
        off = 0.0 if noted is None else abs(logged.value - noted.value)
        if noted is not None and off > APART * math.hypot(logged.error, noted.error):
            said, told = (brief(each.value, DIMENSION_OF[name]) for each in (noted, logged))
            apart.append(f"{SHOWN[name]}: noted {said}, {what} says {told}; look at both")
    return better, tuple(apart)


def _measured(name: str, each: Quantity) -> Measured:
    given = each.sigma if each.sigma else None
    common = WATCH_ERROR_S if name in EVENT_OF else COMMON[name] * each.value
    return Measured(each.value, common if given is None else given)


def _taken(figures: Mapping[str, Quantity]) -> tuple[str, ...]:
    bare = [name for name, each in figures.items() if not each.sigma]
    said = []
    if any(name in EVENT_OF for name in bare):
        said.append(WATCH_WORDS)
    if "apogee_standard_m" in bare:
        said.append(PEAK_WORDS)
    if "last_rate_mps" in bare:
        said.append(RATE_WORDS)
    return tuple(said)
