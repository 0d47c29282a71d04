"""The sentences of a search, for terminal, page and paper."""

import math
from typing import Final

from goodflight.outputs.field_map.field_words import bearing_words
from goodflight.outputs.words import percent
from goodflight.quantity import show
from goodflight.studies.questions.find import FindStep, FindStudy, Lane
from goodflight.studies.questions.landings import direction

ACRE_M2: Final = 4046.8564224  # 43 560 square feet
NO_PLACE: Final = (
    "No file for a satellite receiver: longitude and latitude of the pad are not known"
)
NO_GPX: Final = f"{NO_PLACE} (--pad)."
PRACTICE: Final = "practice, no source: try how far you see your own canopy on this ground"


def side_words(bearing_rad: float) -> str:
    """A bearing as a compass direction, with its degrees."""
    return f"{direction(bearing_rad)}, bearing {bearing_words(bearing_rad)} true"


def area_words(area_m2: float, units: str = "metric") -> str:
    """An area of ground: hectares, or acres."""
    if units == "imperial":
        return f"{area_m2 / ACRE_M2:.1f} acres"
    return f"{area_m2 / 1e4:.1f} ha"


def headline(study: FindStudy, units: str = "metric") -> str:
    """Where to look, in one sentence."""
    pad = study.places[0]
    return (
        f"Look {show(pad.distance_m, 'length', units)} from the pad, {side_words(pad.bearing_rad)}:"
        f" 9 in 10 of the flights that agree come down on {area_words(study.search.area_m2, units)}"
        f", half of them on {area_words(study.patches[0].area_m2, units)}."
    )


def step_words(step: FindStep) -> str:
    """Whether an entry agrees with the flights."""
    return "" if step.agrees else "contradicts"


def share_words(share: float) -> str:
    """A share of the flights; none that was counted shows as none at all."""
    return percent(share) if share >= 0.001 else "under 0.1 %"


def ways_words(study: FindStudy) -> str:
    """How it may have come down."""
    shown = [f"{way.words} {share_words(way.share)}" for way in study.ways]
    return "How it came down, of the flights that agree: " + ", ".join(shown) + "."


def lanes_words(study: FindStudy, units: str = "metric") -> str:
    """How the patch is walked."""
    apart = show(study.spacing_m, "length", units)
    way, back = (bearing_words(study.lane_bearing_rad + turn) for turn in (0.0, math.pi))
    words = (
        f"{len(study.lanes)} lanes along {way} and back {back} true, {apart} apart "
        f"({study.cover}; {PRACTICE}). "
        f"{study.people} walking: about {minutes(study.walk_s)} for all; the first holds "
        f"{share_words(study.lanes[0].share)}."
        if study.lanes
        else "The patch is smaller than one lane: walk to its middle."
    )
    if study.left_out:
        words += (
            f" {study.left_out} further lanes are not listed: too much to walk like this. Bring "
            "more people, or one more bearing."
        )
    return words


def minutes(time_s: float) -> str:
    """A long time in hours and minutes."""
    whole = round(time_s / 60.0)
    return f"{whole} min" if whole < 90 else f"{whole // 60} h {whole % 60:02d} min"


def light_words(study: FindStudy) -> str:
    """Sunset, last light and the time that is left."""
    light = study.light
    if light is None:
        return (
            "Last light is not known: give the pad's longitude and latitude, the day, the clock "
            "and its zone."
        )
    if not light.last or light.left_s is None:
        return (
            "The sun does not sink past 6 deg below the horizon that evening: light all night, or "
            "dark all day."
        )
    if light.left_s <= 0.0:
        return f"It is past last light ({light.last}): search tomorrow."
    return (
        f"Sunset {light.sunset}, last light {light.last}: {minutes(light.left_s)} left at "
        f"{light.now}, the way back included."
    )


def lane_words(lane: Lane, units: str = "metric") -> tuple[str, str, str, str]:
    """Number, start and end as bearing and distance from the pad, length."""
    start, end = (
        f"{bearing_words(math.atan2(*place))} {show(math.hypot(*place), 'length', units)}"
        for place in (lane.start_m, lane.end_m)
    )
    return str(lane.number), start, end, show(lane.length_m, "length", units)
