"""Bands of the ensemble as plain numbers in the reader's units, for curves that can be zoomed."""

from collections.abc import Sequence
from typing import Any, Final

import numpy as np

from goodflight.quantity import DIMENSIONS
from goodflight.studies.bands import CURVES, Bands
from goodflight.studies.results import FlightReport

UNITS: Final[dict[str, dict[str, str]]] = {
    "metric": {"length": "m", "speed": "m/s", "angle": "deg", "angular_rate": "deg/s",
               "calibre": "cal"},
    "imperial": {"length": "ft", "speed": "ft/s", "angle": "deg", "angular_rate": "deg/s",
                 "calibre": "cal"},
}  # fmt: skip
SHARES: Final = (0.05, 0.5, 0.95)


def bands_record(bands: Bands, units: str = "metric") -> dict[str, Any]:
    """Every curve: words, unit, the 5, 50 and 95 % edges, and the single flights."""
    curves = []
    for name, (words, dimension, _) in CURVES.items():
        symbol, scale = _unit(dimension, units)
        curves.append(
            {
                "name": name,
                "words": words,
                "unit": symbol,
                "edges": [_numbers(bands.quantile(name, share) / scale) for share in SHARES],
                "flights": [_numbers(row / scale) for row in bands.curves[name]],
            }
        )
    events = [{"words": words, "time_s": round(time, 3)} for words, time, _ in bands.events]
    return {"time_s": _numbers(bands.time_s), "curves": curves, "events": events}


def height_record(report: FlightReport, units: str = "metric") -> dict[str, Any]:
    """Height of one nominal flight against time, to shortly after ejection."""
    symbol, scale = _unit("length", units)
    end = (report.figures.get("ejection_s") or report.figures.get("apogee_s") or 20.0) + 2.0
    every = slice(0, int(np.searchsorted(report.history["time_s"], end)), 4)
    return {
        "unit": symbol,
        "time_s": _numbers(report.history["time_s"][every]),
        "height": _numbers(report.history["up_m"][every] / scale),
        "events": [{"words": w, "time_s": round(t, 3)} for w, t, _ in report.events],
    }


def _unit(dimension: str, units: str) -> tuple[str, float]:
    symbol = UNITS[units][dimension]
    found = DIMENSIONS[dimension].unit(symbol)
    return symbol, found.scale if found else 1.0


def _numbers(values: Sequence[float] | np.ndarray[Any, Any]) -> list[float | None]:
    """Numbers for JSON, four digits; what is not known becomes null."""
    return [float(f"{v:.4g}") if np.isfinite(v) else None for v in values]
