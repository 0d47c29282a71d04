"""What the field card's file needs to search without a program: flights, tables, sentences.

The flights are flown here; the script in the file puts them together for the day as it was and
weights them by what is entered. Every constant of the search is handed on, none is typed again.
"""

import base64
import math
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.outputs.find import find_words
from goodflight.project import Project
from goodflight.project.outlines import metres_per_degree
from goodflight.quantity import brief, parse
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.card import FieldCard, carried_for
from goodflight.studies.finding import carried as kept
from goodflight.studies.finding import evenings
from goodflight.studies.finding.asked import pad_of
from goodflight.studies.finding.constants import SEARCH
from goodflight.studies.finding.sightings import EVENTS
from goodflight.studies.questions import find
from goodflight.studies.questions.landings import SIDES

FEET: Final = {
    "m": parse("1 ft", "length").value,
    "area": find_words.ACRE_M2,
    "unit": "ft",
    "areas": "acres",
}
METRES: Final = {"m": 1.0, "area": 1e4, "unit": "m", "areas": "ha"}
FASTEST: Final = {"metric": ("m/s", 1.0), "imperial": ("mph", parse("1 mph", "wind").value)}


def search_data(project: Project, card: FieldCard, units: str = "metric") -> dict[str, Any]:
    """Everything the search in the file stands on."""
    case = case_of(project, card.plan)
    day, rail = case.day, case.rail
    speed, scale = FASTEST[units]
    return {
        "carried": [_carried(card, each) for each in carried_for(case, card)],
        **SEARCH,
        "scores": _packed(kept.scores()),
        "few": find.FEW,
        "odd": find.ODD,
        "most": find.MOST_LANES,
        "events": EVENTS,
        "kinds": list(find.KINDS.values()),
        "sides": SIDES,
        "units": FEET if units == "imperial" else METRES,
        "speed": [speed, scale],
        "wind": {
            "share": day.wind_sigma_m_s / day.wind_m_s if day.wind_m_s else 0.0,
            "error": day.wind_sigma_m_s,
            "from": round(math.degrees(day.wind_from_rad), 1),
            "fromError": math.degrees(day.wind_from_sigma_rad),
        },
        "tilt": math.degrees(rail.tilt_rad),
        "azimuth": None if rail.azimuth_rad is None else math.degrees(rail.azimuth_rad),
        "pad": pad_of(project, case),
        "outline": case.site.outline_m,
        "areas": case.site.keep_outs_m,
        "evenings": _evenings(),
        "rocket": card.rocket,
        "planned": find.PLANNED_WIND,
        "noGpx": find_words.NO_PLACE,
        "practice": find_words.PRACTICE,
    }


def _carried(card: FieldCard, flown: tuple[str, kept.Carried]) -> dict[str, Any]:
    key, each = flown
    place = card.grid.motors.index(key)
    out = brief(each.delay_out_s, "time")
    name = each.motor if card.motors[place].delay_s is None else f"{each.motor}, {out} out"
    return {
        "motor": place,
        "name": name,
        "out": each.delay_out_s,
        "nodes": _packed(each.nodes),
        "exponent": _packed(each.exponent),
        "leaned": _packed(each.leaned),
    }


def _evenings() -> dict[str, Any]:
    """Sunset, last light and the size of a degree, by latitude."""
    latitudes = evenings.LATITUDES_DEG
    return {
        "first": latitudes[0],
        "step": latitudes[1] - latitudes[0],
        "latitudes": len(latitudes),
        "every": evenings.EVERY_DAYS,
        "never": evenings.NEVER,
        "minutes": _packed(evenings.evenings()),
        "degree_m": [[round(each, 1) for each in metres_per_degree(lat)] for lat in latitudes],
    }


def _packed(values: NDArray[np.int16]) -> str:
    """Whole steps as text, the lower byte first."""
    return base64.b64encode(values.astype("<i2").tobytes()).decode()
