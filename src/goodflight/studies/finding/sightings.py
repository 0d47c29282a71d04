"""What was seen of a flight, from the texts that were typed; every fault told at once.

Times are seconds after lift-off. A bearing is read from a named place: on a compass, with the
declination typed, or as a true bearing, or as the line to a landmark whose place is known.
"""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from goodflight.physics.sightings import (
    COMPASS_ERROR_RAD,
    LANDMARK_ERROR_RAD,
    WATCH_ERROR_S,
    sight_rad,
    true_bearing_rad,
)
from goodflight.quantity import Quantity, QuantityError, Refused, parse
from goodflight.quantity.refusal import Record

EVENTS: Final = {  # in the order of a flight
    "apogee": "highest point",
    "ejection": "charge heard or smoke seen",
    "canopy": "canopy full",
    "last_seen": "last seen in the air",
    "landing": "seen to land",
}
BEFORE: Final = (  # a charge may come before the highest point
    ("ejection", "canopy"),
    *((each, last) for last in ("last_seen", "landing") for each in list(EVENTS)[:3]),
    ("last_seen", "landing"),
)
SIGHTS: Final = (
    "pad: 52 deg compass; flight line (-60, 40): 48 deg true; pad: over 900, 1200 (east and north "
    "of the pad, metres); with last seen in front: the bearing then, not of the landing"
)
_SIGHT: Final = re.compile(
    r"(?P<when>last seen )?\s*(?P<who>[^:()]*?)\s*"
    r"(?:\(\s*(?P<east>[-+\d.]+)\s*,\s*(?P<north>[-+\d.]+)\s*\))?\s*:\s*(?P<what>.+)"
)
_OVER: Final = re.compile(r"over\s+(?P<east>[-+\d.]+)\s*,\s*(?P<north>[-+\d.]+)(?P<rest>.*)")
_DECLINED: Final = re.compile(r"(?P<size>.+?)\s*(?P<side>east|west|e|w)", re.IGNORECASE)


class NotSeenError(Refused, ValueError):
    """Entries that cannot be read, all at once."""

    def __init__(self, records: Sequence[Record]) -> None:
        first = {key: str(words) for key, words in records[0].items()}
        super().__init__(first["found"], first["expected"], first["advice"], first["key"])
        self._all = tuple(records)

    @property
    def records(self) -> tuple[Record, ...]:
        """Every fault as data."""
        return self._all


@dataclass(frozen=True)
class Timed:
    """When something was seen after lift-off, with the watch's error (one standard deviation)."""

    event: str
    time_s: float
    error_s: float


@dataclass(frozen=True)
class Sight:
    """A true bearing from an observer's place, to the landing or to where it was last seen."""

    who: str
    from_m: tuple[float, float]
    bearing_rad: float
    error_rad: float
    landing: bool = True

    @property
    def degrees(self) -> float:
        """The bearing in whole turns of 360."""
        return math.degrees(self.bearing_rad) % 360.0


@dataclass(frozen=True)
class Sightings:
    """All that was seen. opened : whether a canopy was seen full, None = nobody could tell."""

    timed: tuple[Timed, ...] = ()
    sights: tuple[Sight, ...] = ()
    opened: bool | None = None

    def time_of(self, event: str) -> Timed | None:
        """When an event was seen."""
        return next((each for each in self.timed if each.event == event), None)


def sightings_of(
    seen: Mapping[str, str],
    bearings: Sequence[str] = (),
    declination: str = "",
    nothing_opened: bool = False,
) -> Sightings:
    """Read what was typed.

    Parameters
        seen : mapping - event of `EVENTS` -> time after lift-off, "11.9 s ± 0.5 s". [-]
        bearings : sequence of str - as `SIGHTS` shows. [-]
        declination : str - of the compass, "3 deg east"; needed where one was read. [-]
        nothing_opened : bool - the rocket was seen to come down with nothing open. [-]
    Returns
        sightings : Sightings - typed. [SI]
    Raises
        NotSeenError - texts that cannot be read; all of them.
    """
    faults: list[Record] = []
    timed = [_timed(event, text, faults) for event, text in seen.items() if text.strip()]
    turn = _declination(declination, faults)
    sights = [_sight(text, turn, faults) for text in bearings if text.strip()]
    known = tuple(sorted((t for t in timed if t), key=lambda t: list(EVENTS).index(t.event)))
    if nothing_opened and any(each.event == "canopy" for each in known):
        faults.append(
            fault(
                "canopy",
                "a full canopy and nothing open",
                "one of them",
                "leave out what was not seen",
            )
        )
    when = {each.event: each.time_s for each in known}
    late = [b for a, b in BEFORE if a in when and b in when and when[b] < when[a]]
    faults += [
        fault(
            each,
            "earlier than the event before it",
            "the order of a flight",
            "check the watch; all times are after lift-off",
        )
        for each in dict.fromkeys(late)
    ]
    if any(s and not s.landing for s in sights) and "last_seen" not in {t.event for t in known}:
        faults.append(
            fault(
                "bearing",
                "a bearing when it was last seen",
                "the time of that, too",
                "enter last_seen",
            )
        )
    if faults:
        raise NotSeenError(faults)
    opened = True if any(t.event == "canopy" for t in known) else False if nothing_opened else None
    return Sightings(known, tuple(s for s in sights if s), opened)


def fault(key: str, found: str, expected: str, advice: str) -> Record:
    """One entry that cannot be used, as data."""
    return Refused(found, expected, advice, key).records[0]


def quantity_of(key: str, text: str, dimension: str, faults: list[Record]) -> Quantity | None:
    """A figure as typed; None with a fault told where it cannot be read."""
    try:
        return parse(text.strip(), dimension)
    except QuantityError as error:
        faults.append(fault(key, error.found, error.expected, error.advice))
        return None


def _timed(event: str, text: str, faults: list[Record]) -> Timed | None:
    if event not in EVENTS:
        faults.append(
            fault("seen", f'"{event}"', "one of " + ", ".join(EVENTS), "name what was seen")
        )
        return None
    found = quantity_of(event, text, "time", faults)
    if found is None:
        return None
    if found.value <= 0.0 or (found.sigma is not None and found.sigma <= 0.0):
        faults.append(
            fault(event, f'"{text}"', "a time after lift-off, more than 0", "count from lift-off")
        )
        return None
    return Timed(event, found.value, WATCH_ERROR_S if found.sigma is None else found.sigma)


def _declination(text: str, faults: list[Record]) -> float | None:
    """Typed, never looked up: it changes with place and year."""
    if not text.strip():
        return None
    match = _DECLINED.fullmatch(text.strip())
    size = quantity_of("declination", match["size"], "angle", faults) if match else None
    if match is None:
        faults.append(
            fault(
                "declination",
                f'"{text}"',
                'an angle and a side, like "3 deg east"',
                "read it from a map of this year; east when the needle points east of true north",
            )
        )
    if match is None or size is None:
        return None
    return size.value if match["side"][0].lower() == "e" else -size.value


def _sight(text: str, declination: float | None, faults: list[Record]) -> Sight | None:
    match = _SIGHT.fullmatch(text.strip())
    if match is None:
        faults.append(fault("bearing", f'"{text[:60]}"', "who: bearing", SIGHTS))
        return None
    place = _place(match["east"], match["north"], faults) if match["east"] else (0.0, 0.0)
    who = match["who"] or "pad"
    if match["east"] is None and who != "pad":
        faults.append(
            fault(
                "bearing",
                f'"{who}" without a place',
                "where that is",
                f"{who} (east, north of the pad in metres): ...",
            )
        )
        return None
    if place is None:
        return None
    found = _line(match["what"].strip(), place, declination, faults)
    if found is None:
        return None
    return Sight(who, place, *found, not match["when"])


def _place(east: str, north: str, faults: list[Record]) -> tuple[float, float] | None:
    try:
        return float(east), float(north)
    except ValueError:
        faults.append(fault("bearing", f"({east}, {north})", "metres east and north", SIGHTS))
        return None


def _line(
    what: str, place: tuple[float, float], declination: float | None, faults: list[Record]
) -> tuple[float, float] | None:
    """True bearing and error of one line of sight."""
    over = _OVER.fullmatch(what)
    if over is not None:
        mark = _place(over["east"], over["north"], faults)
        if mark is None:
            return None
        rest = over["rest"].strip().removeprefix("±").strip()
        error = quantity_of("bearing", rest, "angle", faults) if rest else None
        return float(sight_rad(*mark, place)), error.value if error else LANDMARK_ERROR_RAD
    size, _, kind = what.rpartition(" ")
    if kind not in ("compass", "true"):
        faults.append(fault("bearing", f'"{what}"', "compass or true after it", SIGHTS))
        return None
    found = quantity_of("bearing", size, "angle", faults)
    if found is None:
        return None
    usual = COMPASS_ERROR_RAD if kind == "compass" else LANDMARK_ERROR_RAD
    error_rad = usual if found.sigma is None else found.sigma
    if not 0.0 < error_rad < math.pi / 2.0:
        faults.append(fault("bearing", f'"{what}"', "an error between 0 and 90 deg", SIGHTS))
        return None
    if kind == "true":
        return found.value % (2.0 * math.pi), error_rad
    if declination is None:
        faults.append(
            fault(
                "declination",
                "a compass bearing without it",
                '"3 deg east" or so',
                "read the declination from a map of this year, or give a bearing "
                "that is true, or a line over a landmark",
            )
        )
        return None
    return true_bearing_rad(found.value, declination), error_rad
