"""The height of a flight as its log shows it, each event marked beside what was predicted of it.

Below the curve each event has a line on the same scale of time: a wide band holds 9 in 10 of the
predicted flights, the upright is what the log shows. Heights are of the standard atmosphere.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from html import escape
from types import MappingProxyType
from typing import Final

from goodflight.constants import NINE_TENTHS
from goodflight.outputs.flight.curves import unit_of
from goodflight.outputs.marks import lettering
from goodflight.quantity import show
from goodflight.studies.debriefing.fit import Place
from goodflight.studies.debriefing.logged import LogCurve

Scale = Callable[[float], float]
Band = tuple[float, float, float]

WIDTH, HIGH = 360.0, 150.0  # px: as wide as a phone
LEFT, TOP, ROW = 30.0, 20.0, 20.0
STEPS: Final = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0)
TICKS: Final = 5
WORDS: Final = {
    "burnout_s": "burnout", "apogee_s": "apogee", "charge_s": "charge", "canopy_s": "cord taut",
    "second_canopy_s": "second canopy", "landing_s": "landing",
}  # fmt: skip
WIDE: Final = 130.0  # px that the words of a line take


def bands_of(
    places: Sequence[Place], kept: Mapping[str, Sequence[float]] = MappingProxyType({})
) -> dict[str, Band]:
    """Low, middle and high of what was predicted: of what was kept, else of the fit's own flights.

    Low and high hold 9 in 10 of the predicted flights.
    """
    found = {
        place.name: (
            place.predicted.value - NINE_TENTHS * place.predicted.error,
            place.predicted.value,
            place.predicted.value + NINE_TENTHS * place.predicted.error,
        )
        for place in places
    }
    points = {name: (each[0], each[len(each) // 2], each[-1]) for name, each in kept.items()}
    return {**found, **points}


def curve_svg(
    curve: LogCurve, bands: Mapping[str, Band] = MappingProxyType({}), units: str = "metric"
) -> str:
    """Height against time with the events of the log, and the bands predicted of them.

    Parameters
        curve : LogCurve - of one log. [SI]
        bands : mapping - what was predicted, from `bands_of`; none before a log is kept. [SI]
        units : str - metric or imperial. [-]
    Returns
        svg : str - to be put into a sheet, which inks it. [-]
    Raises
        nothing
    Validity
        One scale of time for curve and lines.
    Source
        Own drawing.
    Example
        none
    """
    symbol, scale = unit_of("length", units)
    start, end, apogee = min(curve.times_s), max(curve.times_s), bands.get("apogee_standard_m")
    top_m = max(*curve.heights_m, 1.0 if apogee is None else apogee[2])

    def x(time: float) -> float:
        return LEFT + (WIDTH - LEFT) * (min(max(time, start), end) - start) / (end - start)

    def y(height: float) -> float:
        return TOP + HIGH - HIGH * max(height, 0.0) / top_m

    points = zip(curve.times_s, curve.heights_m, strict=True)
    line = "M" + "L".join(f"{x(t):.1f} {y(h):.1f}" for t, h in points)
    marks = [*_height_marks(top_m, symbol, scale, y), *_time_marks(start, end, x)]
    marks += _apogee(apogee, units, x, y)
    marks.append(f'<path class="curve" d="{line}"/>')
    for number, event in enumerate(curve.events):
        marks += _event(
            event.name,
            seen=event.shown.value,
            band=bands.get(event.name),
            number=number,
            units=units,
            x=x,
        )
    high = TOP + HIGH + 22.0 + ROW * len(curve.events) + 4.0
    words = "; ".join(f"{WORDS[e.name]} {show(e.shown.value, 'time', units)}" for e in curve.events)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="overlay" viewBox="0 0 {WIDTH:g} {high:g}" '
        f'role="img" aria-label="height against time: {escape(words)}">{"".join(marks)}</svg>'
    )


def _height_marks(top_m: float, symbol: str, scale: float, y: Scale) -> list[str]:
    step = _step(top_m / scale)
    values = [step * n for n in range(int(top_m / scale / step) + 1)]
    marks = [f'<path class="hair" d="M{LEFT:g} {y(v * scale):.1f}H{WIDTH:g}"/>' for v in values]
    marks += [lettering(LEFT - 4, y(v * scale) + 4, f"{v:g}", "end") for v in values]
    return [*marks, lettering(0, 11, f"{symbol}, standard atmosphere")]


def _time_marks(start: float, end: float, x: Scale) -> list[str]:
    step, base = _step(end - start), TOP + HIGH
    times = [step * n for n in range(math.ceil(start / step), int(end / step) + 1)]
    marks = [f'<path class="axis" d="M{LEFT:g} {base:g}H{WIDTH:g}"/>']
    for time in times:
        words = f"{time:g} s" if time == times[-1] else f"{time:g}"
        anchor = "end" if x(time) > WIDTH - 12 else "middle"
        marks.append(f'<path class="axis" d="M{x(time):.1f} {base:g}v4"/>')
        marks.append(lettering(x(time), base + 15, words, anchor))
    return marks


def _step(span: float) -> float:
    return next((each for each in STEPS if span / each <= TICKS), STEPS[-1])


def _apogee(band: Band | None, units: str, x: Scale, y: Scale) -> list[str]:
    """The predicted apogee as a band across the top of the curve."""
    if band is None:
        return []
    low_m, middle, high_m = band
    top, low = y(high_m), y(low_m)
    words = f"apogee predicted {show(middle, 'length', units)}"
    return [
        f'<rect class="nine" x="{LEFT:g}" y="{top:.1f}" width="{WIDTH - LEFT:g}" '
        f'height="{max(low - top, 1.0):.1f}"/>',
        lettering(WIDTH, min(low + 13.0, TOP + HIGH - 4.0), words, "end"),
    ]


def _event(
    name: str, seen: float, band: Band | None, number: int, units: str, x: Scale
) -> list[str]:
    """One event: a hair from the curve's foot, its predicted band, the upright, its words."""
    top = TOP + HIGH + 24.0 + ROW * number
    ends, marks, off = [x(seen)], list[str](), ""
    words = f"{WORDS[name]} {show(seen, 'time', units)}"
    if band is not None:
        low, high = x(band[0]), x(band[2])
        ends += [low, high]
        marks.append(
            f'<rect class="nine" x="{low:.1f}" y="{top:g}" width="{max(high - low, 2.0):.1f}" '
            'height="14"/>'
        )
        off = "" if band[0] <= seen <= band[2] else " off"
        words += f", predicted {show(band[1], 'time', units)}"
    wide = WIDE if band is not None else 0.6 * WIDE
    right = max(ends) + 6.0 + wide <= WIDTH
    marks.append(f'<path class="hair" d="M{x(seen):.1f} {TOP:g}V{top:g}"/>')
    marks.append(f'<path class="seen{off}" d="M{x(seen):.1f} {top - 2:g}v18"/>')
    at, anchor = (max(ends) + 6.0, "start") if right else (min(ends) - 6.0, "end")
    return [*marks, lettering(at, top + 11.5, words, anchor)]
