"""A ledger row as SVG: the ticks of all flights against the line of what is allowed.

Same strip as the terminal's, finer: failing is always to the right of the line. No colours or
sizes of type stand in the marks, only class names; the sheet they are put into inks them.
"""

from html import escape
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.outputs.figures import figure
from goodflight.outputs.ledger.strip import Strip, strip
from goodflight.studies.reserve import reserve_of
from goodflight.studies.results import Row

CELLS: Final = 72
CELL: Final = 4.0  # px
HEIGHT: Final = 30.0
BASE: Final = HEIGHT - 3
TICK: Final = (0.0, 6.0, 11.0, 17.0, 23.0)
_TICKS: Final = [
    [f"M{(i + 0.5) * CELL:g} {BASE:g}v-{tick:g}" for tick in TICK] for i in range(CELLS)
]
BARS: Final = 44
TALL: Final = 96.0


def strip_svg(row: Row, units: str = "metric") -> str:
    """The strip, or an empty hatched one when nothing is known."""
    drawn = strip(row, CELLS)
    width = CELLS * CELL
    if drawn is None and row.chance is not None:
        return _svg(
            width, HEIGHT, "no figure that varies", f'<path d="M0 27H{width:g}" class="fine"/>'
        )
    if drawn is None:
        hatched = f'<rect x="0" y="8" width="{width:g}" height="14" class="unknown"/>'
        return _svg(width, HEIGHT, "not known", hatched)
    marks = [f'<path d="M0 {BASE:g}H{width:g}" class="fine"/>']
    for ink, path in _inks(drawn).items():
        if path:
            marks.append(f'<path d="{path}" class="{ink}"/>')
    left, right = (figure(end, row.unit, units) for end in (drawn.left, drawn.right))
    words = f"flights from {left} to {right}; {_allowed(row, units)}, right of that line fails"
    return _svg(width, HEIGHT, words, "".join(marks))


def _allowed(row: Row, units: str) -> str:
    """What the line of the strip stands for: the median of what is allowed, with its unit."""
    middle = float(np.median(row.capacity[np.isfinite(row.capacity)]))
    most = "at most" if row.more_is_worse else "at least"
    return f"allowed {most} {figure(middle, row.unit, units)}"


def _inks(drawn: Strip) -> dict[str, str]:
    """The paths of a strip by ink; what is left of the mark stands, what is right of it fails."""
    weights, mark = drawn.ticks.tolist(), drawn.mark
    ticked = [i for i, weight in enumerate(weights) if weight]
    first, last = drawn.band
    band = f"M{first * CELL:g} {BASE - 11.5:g}H{(last + 1) * CELL:g}" if first < last else ""
    return {
        "band": band,
        "demand": "".join(_TICKS[i][weights[i]] for i in ticked if i <= mark),
        "fails": "".join(_TICKS[i][weights[i]] for i in ticked if i > mark),
        "capacity": f"M{(mark + 0.5) * CELL:g} {HEIGHT:g}V0",
    }


def _svg(width: float, height: float, words: str, marks: str) -> str:
    said = escape(words)
    return (
        f'<svg class="strip" viewBox="0 0 {width:g} {height:g}" role="img" '
        f'preserveAspectRatio="none" aria-label="{said}"><title>{said}</title>{marks}</svg>'
    )


def histogram_svg(row: Row, units: str = "metric") -> str:
    """Demand above, capacity below the axis, with their ends and the allowed middle written."""
    demand, capacity = (v[np.isfinite(v)] for v in (row.demand, row.capacity))
    if demand.size == 0 or capacity.size == 0:
        return ""
    ends = [*np.quantile(demand, (0.002, 0.998)), *np.quantile(capacity, (0.02, 0.98))]
    low, high = float(min(ends)), float(max(ends))
    air = 0.04 * (high - low or max(abs(high), 1.0))
    low, high = low - air, high + air
    width, axis = 560.0, TALL + 14
    up, down = (_bars(v, low, high, size) for v, size in ((demand, TALL), (capacity, 34.0)))
    fails = demand_fails(row)
    red = _bars(fails, low, high, TALL, demand) if fails.size else ""
    middle = float(np.median(capacity))
    x = (middle - low) / (high - low) * width
    anchor = "end" if x > 0.6 * width else "start"
    words = f"allowed: {figure(middle, row.unit, units)}"
    marks = (
        f'<g transform="translate(0 {axis:g}) scale(1 -1)"><path d="{up}" class="demand"/>'
        f'<path d="{red}" class="fails"/></g>'
        f'<g transform="translate(0 {axis:g})"><path d="{down}" class="band"/></g>'
        f'<path d="M0 {axis:g}H{width:g}" class="fine"/>'
        f'<path d="M{x:.1f} 12V{axis + 40:g}" class="capacity"/>'
        f'<text x="{x + (-6 if anchor == "end" else 6):.1f}" y="{axis + 50:g}" '
        f'text-anchor="{anchor}">{escape(words)}</text>'
        f'<text x="0" y="{axis + 50:g}">{escape(figure(low, row.unit, units))}</text>'
        f'<text x="{width:g}" y="{axis + 50:g}" text-anchor="end">'
        f"{escape(figure(high, row.unit, units))}</text>"
    )
    return (
        f'<svg class="histogram" viewBox="0 0 {width:g} {axis + 56:g}" role="img" '
        f'aria-label="all flights above the line, the limit below; {escape(words)}">'
        f"{marks}</svg>"
    )


def demand_fails(row: Row) -> NDArray[np.float64]:
    """The demand of the flights that fail this row."""
    if row.demand.shape != row.capacity.shape:
        return np.zeros(0)
    return row.demand[reserve_of(row.demand, row.capacity, row.more_is_worse) < 0.0]


def _bars(
    values: NDArray[np.float64],
    low: float,
    high: float,
    tall: float,
    whole: NDArray[np.float64] | None = None,
) -> str:
    edges = np.clip(values, low, high)
    counts, _ = np.histogram(edges, bins=BARS, range=(low, high))
    top = counts.max()
    if whole is not None:
        top = np.histogram(np.clip(whole, low, high), bins=BARS, range=(low, high))[0].max()
    step = 560.0 / BARS
    return "".join(
        f"M{(i + 0.5) * step:.1f} 0v{count / max(top, 1) * tall:.1f}"
        for i, count in enumerate(counts)
        if count
    )
