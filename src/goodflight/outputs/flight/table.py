"""The curves as a table: moments against figures, for readers who do not see curves, and paper."""

from collections.abc import Iterable
from typing import Final

import numpy as np

from goodflight.outputs.flight.curves import SHARES, moment, unit_of
from goodflight.studies.questions.bands import CURVES, EVERY_S, WHOLE_EVERY_S, Bands

STEPS_S: Final = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 120.0)
MAX_LINES: Final = 14  # of each time axis


def curves_table(
    bands: Bands, units: str = "metric"
) -> tuple[list[str], list[tuple[str, list[str]]]]:
    """Heads and lines: closely until after ejection, then with wide steps to the ground.

    A figure is the middle of the flights, with the range of 9 in 10 behind it.
    """
    heads = [f"{words}, {unit_of(dimension, units)[0]}" for words, dimension, _ in CURVES.values()]
    close, whole = bands.close["up_m"].shape[1], bands.whole["up_m"].shape[1]
    lines = _lines(bands, units, False, EVERY_S, range(0, close, _step(close, EVERY_S)))
    late = _step(whole, WHOLE_EVERY_S)
    after = [i for i in range(0, whole, late) if i * WHOLE_EVERY_S > (close - 1) * EVERY_S]
    return heads, lines + _lines(bands, units, True, WHOLE_EVERY_S, after)


def _step(moments: int, every_s: float) -> int:
    least = moments * every_s / MAX_LINES
    return round(next((s for s in STEPS_S if s >= least), STEPS_S[-1]) / every_s)


def _lines(
    bands: Bands, units: str, whole: bool, every_s: float, at: Iterable[int]
) -> list[tuple[str, list[str]]]:
    cells = {}
    for name, (_, dimension, _) in CURVES.items():
        scale = unit_of(dimension, units)[1]
        known = name in (bands.whole if whole else bands.close)
        cells[name] = (
            [bands.quantile(name, share, whole) / scale for share in SHARES] if known else None
        )
    lines = []
    for i in at:
        row = [_cell([edge[i] for edge in c]) if c else "" for c in cells.values()]
        if any(row):
            lines.append((moment(i * every_s, units), row))
    return lines


def _cell(edges: list[np.float64]) -> str:
    low, middle, high = (f"{e + 0.0:.3g}" if abs(e) < 100.0 else f"{e:.0f}" for e in edges)
    return f"{middle} ({low} to {high})" if all(map(np.isfinite, edges)) else ""
