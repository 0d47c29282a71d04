"""Every delay the motor allows, as SVG: chance of the flight, and when and how fast it ejects.

Drawn twice, wide with a line to each delay and narrow with two; the sheet shows the one that fits.
"""

import math
from dataclasses import dataclass
from html import escape
from typing import Final

from goodflight.outputs.marks import lettering
from goodflight.outputs.words import at_least, speak
from goodflight.quantity import show
from goodflight.studies.motor_results import DelayRow, DelayStudy

HEAD: Final = 34.0
FOOT: Final = 20.0


@dataclass(frozen=True)
class Place:
    """Where things stand in a chart, in its own units: the time axis runs from left to right."""

    width: float
    row: float
    left: float
    right: float
    words: float  # depth of the writing below the middle of its row
    axis: float  # depth of the axis below the middle of its row


WIDE: Final = Place(760.0, 40.0, 118.0, 436.0, 4.0, axis=0.0)
NARROW: Final = Place(340.0, 54.0, 8.0, 262.0, -8.0, axis=12.0)


def delay_svg(study: DelayStudy, units: str = "metric") -> str:
    """Both charts, each in a box of its own; empty when no delay ejects at all."""
    ends = [t for row in study.rows for t in row.after_apogee_s_5_50_95 if math.isfinite(t)]
    if not ends:
        return ""
    span = min([*ends, -1.0]) - 0.3, max([*ends, 1.0]) + 0.3
    return "".join(
        f'<div class="{name}delays">{_chart(study, place, span, units)}</div>'
        for name, place in (("wide", WIDE), ("narrow", NARROW))
    )


def _chart(study: DelayStudy, place: Place, span: tuple[float, float], units: str) -> str:
    """One line for each delay in order; apogee is the chain line."""
    rows = sorted(study.rows, key=lambda row: row.delay_s)
    scale = (place.right - place.left) / (span[1] - span[0])
    zero = place.left - span[0] * scale
    height = HEAD + place.row * len(rows) + FOOT
    marks = [*_head(place, zero, height), *_ends(place, span, height, units)]
    spoken = []
    for i, row in enumerate(rows):
        said = _said(study, row, units)
        marks.append(
            _row(study, row, place, y=HEAD + place.row * (i + 0.5), axis=(zero, scale), said=said)
        )
        spoken.append(f"{said[0]}: ejects at {said[1]}, {said[2]}")
    words = f"delays. {'; '.join(spoken)}"
    return (
        f'<svg class="delays" viewBox="0 0 {place.width:g} {height:g}" role="img" '
        f'aria-label="{escape(words)}">{"".join(marks)}</svg>'
    )


def _said(study: DelayStudy, row: DelayRow, units: str) -> tuple[str, str, str]:
    """Name, speed at ejection and chance of a delay, in words."""
    planned = ", planned" if row.delay_out_s == study.planned_delay_out_s else ""
    least = ", lowest" if row.delay_out_s == study.rows[0].delay_out_s else ""
    least = ", as low" if row.tied else least
    return (
        show(row.delay_out_s, "time", units, 2) + planned,
        show(row.ejection_m_s_5_50_95[1], "speed", units),
        at_least(speak(row.chance, row.low, row.high), row.chance, row.unknown) + least,
    )


def _head(place: Place, zero: float, height: float) -> list[str]:
    """What the columns are, and the line of apogee."""
    line = f'<path d="M{zero:.1f} 22V{height - 18:g}" class="chain"/>'
    if place is NARROW:
        return [
            lettering(0, 16, "taken out"),
            lettering(max(zero - 20, 66), 16, "apogee"),
            lettering(place.width, 16, "anything fails", "end"),
            line,
        ]
    return [
        lettering(0, 16, "taken out"),
        lettering(zero, 16, "apogee", "middle"),
        lettering(place.right + 16, 16, "speed then, and chance that anything fails"),
        line,
    ]


def _ends(place: Place, span: tuple[float, float], height: float, units: str) -> list[str]:
    """The two ends of the time axis, before and after apogee."""
    before, after = (show(abs(end), "time", units, 2) for end in span)
    y = height - 2
    return [
        lettering(place.left, y, f"{before} before"),
        lettering(place.right, y, f"{after} after", "end"),
    ]


def _row(
    study: DelayStudy,
    row: DelayRow,
    place: Place,
    y: float,
    axis: tuple[float, float],
    said: tuple[str, str, str],
) -> str:
    """One delay: when it ejects (9 in 10 flights, and the middle), its name, speed and chance."""
    zero, scale = axis
    kind = "best" if row.delay_out_s == study.rows[0].delay_out_s else "other"
    name, speed, chance = said
    writing = y + place.words
    if place is NARROW:
        words = [lettering(0, writing, name), lettering(place.width, writing, chance, "end")]
        words.append(lettering(place.width, y + place.axis + 4, speed, "end"))
    else:
        words = [
            lettering(0, writing, name),
            lettering(place.right + 16, writing, f"{speed}; {chance}"),
        ]
    at = y + place.axis
    first, middle, last = (zero + t * scale for t in row.after_apogee_s_5_50_95)
    marks = ""
    if all(math.isfinite(x) for x in (first, middle, last)):
        marks = (
            f'<path d="M{first:.1f} {at:.1f}H{last:.1f}M{first:.1f} {at - 5:.1f}v10'
            f'M{last:.1f} {at - 5:.1f}v10" class="reach"/>'
            f'<path d="M{middle:.1f} {at - 9:.1f}v18" class="mid"/>'
        )
    ruled = f'<path d="M0 {y + place.row / 2 - 2:.1f}H{place.width:g}" class="hair"/>'
    return f'<g class="{kind}">{ruled}{marks}{"".join(words)}</g>'
