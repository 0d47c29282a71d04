"""Curves as plain numbers in the reader's units: bands of the ensemble, and single flights."""

import math
from collections.abc import Iterable
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.quantity import DIMENSIONS, show
from goodflight.studies.questions.bands import (
    CURVES,
    EVERY_S,
    WHOLE_EVERY_S,
    Bands,
    Line,
    report_line,
)
from goodflight.studies.results import FlightReport

Array = NDArray[np.float64]
Events = Iterable[tuple[str, float, float]]

UNITS: Final[dict[str, dict[str, str]]] = {
    "metric": {
        "length": "m",
        "speed": "m/s",
        "angle": "deg",
        "angular_rate": "deg/s",
        "calibre": "cal",
    },
    "imperial": {
        "length": "ft",
        "speed": "ft/s",
        "angle": "deg",
        "angular_rate": "deg/s",
        "calibre": "cal",
    },
}
SHARES: Final = (0.05, 0.5, 0.95)
SINGLES: Final = 40  # flights drawn one by one within the bands
WAYS: Final = ("close", "whole")


def bands_record(bands: Bands, units: str = "metric") -> dict[str, Any]:
    """Every curve: words, unit, and for either time axis its edges and single flights."""
    curves = []
    for name, (words, dimension, _) in CURVES.items():
        symbol, scale = unit_of(dimension, units)
        curve: dict[str, Any] = {"name": name, "words": words, "unit": symbol}
        for way in WAYS:
            flown = getattr(bands, way).get(name)
            if flown is not None:
                edges = [bands.quantile(name, share, way == "whole") for share in SHARES]
                curve[way] = {
                    "edges": [_numbers(edge / scale) for edge in edges],
                    "flights": [_numbers(row / scale) for row in flown[:SINGLES]],
                }
        curves.append(curve)
    return {
        "every_s": {"close": EVERY_S, "whole": WHOLE_EVERY_S},
        "curves": curves,
        "flights": bands.flights,
        "middle": line_record(report_line(bands.nominal), units),
    }


def line_record(line: Line, units: str = "metric") -> dict[str, Any]:
    """One flight on the moments of the bands: its curves by name, its events in words."""
    scales = {name: unit_of(kind[1], units)[1] for name, kind in CURVES.items()}
    found: dict[str, Any] = {
        way: {name: _numbers(v / scales[name]) for name, v in getattr(line, way).items()}
        for way in WAYS
    }
    found["events"] = event_records(line.events, units)
    return found


def event_records(events: Events, units: str = "metric") -> list[dict[str, Any]]:
    """Events in order: words, moment, and moment and height as they are shown."""
    return [
        {
            "words": words,
            "time_s": round(time, 3),
            "time": moment(time, units),
            "height": show(height, "length", units) if height else "",
        }
        for words, time, height in events
    ]


def moment(time_s: float, units: str = "metric") -> str:
    """A moment of a flight, to a hundredth of a second and not closer."""
    digits = 3 if time_s >= 0.995 else 2 if time_s >= 0.095 else 1
    return show(round(time_s, 2) + 0.0, "time", units, digits)


def height_record(report: FlightReport, units: str = "metric") -> dict[str, Any]:
    """Height of one nominal flight against time, to shortly after ejection."""
    symbol, scale = unit_of("length", units)
    end = (report.figures.get("ejection_s") or report.figures.get("apogee_s") or 20.0) + 2.0
    every = slice(0, int(np.searchsorted(report.history["time_s"], end)), 4)
    return {
        "unit": symbol,
        "time_s": _numbers(report.history["time_s"][every]),
        "height": _numbers(report.history["up_m"][every] / scale),
        "events": [{"words": w, "time_s": round(t, 3)} for w, t, _ in report.events],
    }


def unit_of(dimension: str, units: str) -> tuple[str, float]:
    """The unit of an axis and its size in SI."""
    symbol = UNITS[units][dimension]
    found = DIMENSIONS[dimension].unit(symbol)
    return symbol, found.scale if found else 1.0


def _numbers(values: Array) -> list[float | None]:
    """Numbers for JSON, four digits; what is not known becomes null."""
    return [float(f"{v:.4g}") if math.isfinite(v) else None for v in values.tolist()]
