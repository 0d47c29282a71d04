"""Every trim of the delay as SVG: chance of the flight, and when and how fast it ejects."""

import math
from html import escape
from typing import Final

from goodflight.outputs.words import speak
from goodflight.quantity import show
from goodflight.studies.results import TrimStudy

WIDTH: Final = 760.0
ROW: Final = 40.0
LEFT: Final = 118.0
MIDDLE: Final = 470.0  # right edge of the time axis


def trim_svg(study: TrimStudy, units: str = "metric") -> str:
    """One line for each trim in the order of the delay; apogee is the chain line."""
    rows = sorted(study.rows, key=lambda row: row.delay_s)
    ends = [t for row in rows for t in row.after_apogee_s if math.isfinite(t)]
    if not ends:
        return ""
    low, high = min([*ends, -1.0]) - 0.3, max([*ends, 1.0]) + 0.3
    scale = (MIDDLE - LEFT) / (high - low)
    zero = LEFT - low * scale
    height = 34 + ROW * len(rows) + 20
    marks = [
        f'<text x="0" y="16">taken out</text><text x="{zero:.0f}" y="16" '
        f'text-anchor="middle">apogee</text><text x="{MIDDLE + 16:g}" y="16">'
        f"speed then, and chance that anything fails</text>",
        f'<path d="M{zero:.1f} 22V{height - 18:g}" class="chain"/>',
        f'<text x="{LEFT:g}" y="{height - 2:g}">{escape(show(low, "time", units, 2))}</text>',
        f'<text x="{MIDDLE:g}" y="{height - 2:g}" text-anchor="end">'
        f"{escape(show(high, 'time', units, 2))} after</text>",
    ]
    best = study.rows[0].trim_s
    for i, row in enumerate(rows):
        y = 34 + ROW * (i + 0.5)
        first, middle, last = (LEFT + (t - low) * scale for t in row.after_apogee_s)
        kind = "best" if row.trim_s == best else "other"
        planned = "planned" if row.trim_s == study.planned_trim_s else ""
        name = show(row.trim_s, "time", units, 2) + (", planned" if planned else "")
        speed = show(row.ejection_m_s[1], "speed", units)
        said = f"{speed}; {speak(row.chance, row.low, row.high)}"
        said += ", the least" if kind == "best" else ""
        marks.append(
            f'<g class="{kind} {planned}"><path d="M0 {y + 18:.1f}H{WIDTH:g}" class="hair"/>'
            f'<text x="0" y="{y + 4:.1f}">{escape(name)}</text>'
            f'<path d="M{first:.1f} {y:.1f}H{last:.1f}M{first:.1f} {y - 5:.1f}v10'
            f'M{last:.1f} {y - 5:.1f}v10" class="reach"/>'
            f'<path d="M{middle:.1f} {y - 9:.1f}v18" class="mid"/>'
            f'<text x="{MIDDLE + 16:g}" y="{y + 4:.1f}">{escape(said)}</text>' + "</g>"
        )
    words = f"{len(rows)} trims of the delay; least chance with {best:g} s taken out"
    return (
        f'<svg class="trims" viewBox="0 0 {WIDTH:g} {height:g}" role="img" '
        f'aria-label="{escape(words)}">{"".join(marks)}</svg>'
    )
