"""What is asked of a search, from the texts that were typed; every fault told at once."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from typing import Annotated

from goodflight.physics.air.model import Day
from goodflight.physics.sun import LAST_LIGHT_RAD, SUNSET_RAD, julian_day, sun_sinks_s
from goodflight.physics.sweep import COVER, COVERS
from goodflight.project import Project
from goodflight.project.outlines import metres_per_degree
from goodflight.quantity.refusal import Record
from goodflight.studies.case.planned import Case
from goodflight.studies.finding.sightings import (
    NotSeenError,
    Sightings,
    fault,
    quantity_of,
    sightings_of,
)

Point = tuple[float, float]
GROUND = tuple((each.key, each.words) for each in COVERS)  # what may stand on the ground
FARTHEST_ZONE = 14.0  # hours before or after universal time


@dataclass(frozen=True)
class Asked:
    """What was typed of a search; empty texts are what was not said. See `find`."""

    seen: dict[str, str] = field(default_factory=dict)
    bearings: Sequence[str] = ()
    declination: str = ""
    nothing_opened: bool = False
    wind: str = ""
    wind_from: str = ""
    cover: str = "short"
    people: int = 1
    pad: str = ""
    at: str = ""
    zone: str = ""


@dataclass(frozen=True)
class Light:
    """Sunset and last light in the clock's own time."""

    sunset: Annotated[str, "sun below a level horizon, HH:MM; empty = not that evening"]
    last: Annotated[str, "sun 6 deg below it, HH:MM; empty = not that evening"]
    now: Annotated[str, "the time given, HH:MM"]
    left_s: Annotated[float | None, "from then to last light [s]; null = not that evening"]


@dataclass(frozen=True)
class Search:
    """The same read: the flight on the day as it was, what was seen, where and when."""

    case: Case
    sightings: Sightings
    pad: Point | None
    light: Light | None


def search_of(project: Project, case: Case, asked: Asked) -> Search:
    """Read everything that was typed.

    Raises
    ------
    NotSeenError - what cannot be read, all of it.
    """
    faults: list[Record] = []
    sightings = Sightings()
    try:
        sightings = sightings_of(
            asked.seen, asked.bearings, asked.declination, asked.nothing_opened
        )
    except NotSeenError as error:
        faults += error.records
    day = _with_wind(case.day, asked, faults)
    if asked.cover not in COVER:
        faults.append(fault("cover", f'"{asked.cover}"', "one of " + ", ".join(COVER), "choose"))
    if asked.people < 1:
        faults.append(fault("people", str(asked.people), "1 or more", "count yourself"))
    pad = _pad(project, case, asked.pad, faults)
    light = _light(pad, asked.at, asked.zone, faults)
    if faults:
        raise NotSeenError(faults)
    return Search(replace(case, day=day), sightings, pad, light)


def _with_wind(day: Day, asked: Asked, faults: list[Record]) -> Day:
    """The day with the wind as it was measured."""
    for key, text, kind, names in (
        ("wind", asked.wind, "wind", ("wind_m_s", "wind_sigma_m_s")),
        ("wind_from", asked.wind_from, "angle", ("wind_from_rad", "wind_from_sigma_rad")),
    ):
        figure = quantity_of(key, text, kind, faults) if text.strip() else None
        if figure is not None and figure.value < 0.0:
            faults.append(fault(key, f'"{text}"', "0 or more", "check the sign"))
        elif figure is not None:
            spread = {} if figure.sigma is None else {names[1]: figure.sigma}
            day = replace(day, **{names[0]: figure.value, **spread})
    return day


def _pad(project: Project, case: Case, typed: str, faults: list[Record]) -> Point | None:
    """Longitude and latitude of the pad: as typed, else of a field's file that is in degrees."""
    if typed.strip():
        parts = typed.replace(";", ",").split(",")
        try:
            east, north = (float(each) for each in parts)
        except ValueError:
            east = north = math.nan
        if not (abs(east) <= 180.0 and abs(north) <= 85.0):
            wanted = "longitude, latitude in degrees, like 11.5812, 52.1304"
            faults.append(fault("pad", f'"{typed}"', wanted, "longitude first"))
            return None
        return east, north
    return pad_of(project, case)


def pad_of(project: Project, case: Case) -> Point | None:
    """Longitude and latitude of the pad in the field's file; None where it is not in degrees."""
    stem = case.origin.site_path.removeprefix("sites/").removesuffix(".toml")
    head = project.site_files[stem][0] if stem in project.site_files else None
    if head is None or head.coordinates != "lonlat" or head.pad is None:
        return None
    return head.pad[0], head.pad[1]


def _light(pad: Point | None, at: str, zone: str, faults: list[Record]) -> Light | None:
    """Sunset and last light of the day; None where the place or the clock is not known."""
    if not at.strip():
        return None
    try:
        now = datetime.fromisoformat(at.strip()).replace(tzinfo=None)
        ahead = _ahead(zone) if zone.strip() else None
        if pad is None or ahead is None:
            return None
        sunset, last = (_sinks(now.date(), pad, ahead, h) for h in (SUNSET_RAD, LAST_LIGHT_RAD))
    except (ValueError, OverflowError):
        wanted = "2026-10-17 14:20 and hours before universal time, like +2"
        faults.append(fault("at", f'"{at}" in zone "{zone}"', wanted, "correct it"))
        return None
    left = None if last is None else (last - now).total_seconds()
    evening = [f"{each:%H:%M}" if each else "" for each in (sunset, last)]
    return Light(evening[0], evening[1], f"{now:%H:%M}", left)


def _ahead(zone: str) -> timedelta:
    """Of universal time; ValueError where no clock on earth is."""
    hours = float(zone)
    if not abs(hours) <= FARTHEST_ZONE:
        raise ValueError(zone)
    return timedelta(hours=hours)


def _sinks(day: date, pad: Point, ahead: timedelta, height_rad: float) -> datetime | None:
    """When the sun sinks to a height that evening, as the clock shows it."""
    start = julian_day(day.year, day.month, day.day)
    after_s = sun_sinks_s(start, math.radians(pad[1]), math.radians(pad[0]), height_rad)
    if after_s is None:
        return None
    return datetime(day.year, day.month, day.day) + timedelta(seconds=after_s) + ahead


def lonlat_of(pad: Point, place: Point) -> Point:
    """Longitude and latitude of a place in metres east and north of the pad [deg]."""
    east, north = metres_per_degree(pad[1])
    return pad[0] + place[0] / east, pad[1] + place[1] / north
