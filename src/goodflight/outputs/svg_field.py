"""The field from above as SVG: outline, keep-outs, pad, landing points, where the wind comes from.

East is to the right, north is up. Marks carry class names only; the sheet inks them.
"""

import math
from collections.abc import Iterable
from html import escape
from typing import Final

import numpy as np

from goodflight.quantity import show
from goodflight.studies.bands import Landings

WIDTH: Final = 760.0
TALLEST: Final = 640.0
EDGE: Final = 34.0
BARS_M: Final = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)


def field_svg(landings: Landings, units: str = "metric") -> str:
    """The map with every landing point: on the field in ink, off it in vermilion."""
    points = [*landings.outline_m, (0.0, 0.0), (-60.0, -60.0), (60.0, 60.0)]
    good = np.isfinite(landings.east_m) & np.isfinite(landings.north_m)
    east, north = landings.east_m[good], landings.north_m[good]
    if east.size:
        points += list(zip(np.quantile(east, (0.005, 0.995)), np.quantile(north, (0.005, 0.995))))
    lows = [min(p[i] for p in points) for i in (0, 1)]
    highs = [max(p[i] for p in points) for i in (0, 1)]
    spans = [highs[i] - lows[i] for i in (0, 1)]
    scale = min((WIDTH - 2 * EDGE) / spans[0], (TALLEST - 2 * EDGE) / spans[1])
    height = spans[1] * scale + 2 * EDGE

    def at(p: tuple[float, float]) -> tuple[float, float]:
        return EDGE + (p[0] - lows[0]) * scale, height - EDGE - (p[1] - lows[1]) * scale

    marks = [_polygon(map(at, landings.outline_m), "field")] if landings.outline_m else []
    for name, ring in landings.keep_outs_m:
        marks.append(_polygon(map(at, ring), "keepout"))
        x, y = at((sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring)))
        x, y = min(max(x, 60.0), WIDTH - 60.0), min(max(y, 20.0), height - 14.0)
        marks.append(f'<text x="{x:.0f}" y="{y:.0f}" text-anchor="middle">{escape(name)}</text>')
    marks += _landed(landings, at)
    x, y = at((0.0, 0.0))
    marks.append(f'<path d="M{x - 9:.1f} {y:.1f}h18M{x:.1f} {y - 9:.1f}v18" class="pad"/>')
    marks.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" class="pad"/>')
    marks.append(f'<text x="{x - 11:.0f}" y="{y + 18:.0f}" text-anchor="end">pad</text>')
    marks.append(_wind(landings, units))
    marks.append(_scale_bar(scale, height, units))
    off = int(landings.off_field[good].sum())
    words = f"{east.size} landings around the pad, {off} of them off the field"
    return (
        f'<svg class="map" viewBox="0 0 {WIDTH:g} {height:.0f}" role="img" '
        f'aria-label="{escape(words)}">{"".join(marks)}</svg>'
    )


def _polygon(points: Iterable[tuple[float, float]], kind: str) -> str:
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f'<polygon points="{path}" class="{kind}"/>'


def _landed(landings: Landings, at: object) -> list[str]:
    place = at if callable(at) else None
    assert place is not None
    inks: dict[str, list[str]] = {"ballistic": [], "landed": [], "off": []}
    for e, n in zip(landings.ballistic_east_m[:200], landings.ballistic_north_m[:200]):
        if math.isfinite(e) and math.isfinite(n):
            x, y = place((float(e), float(n)))
            inks["ballistic"].append(f"M{x - 1.5:.1f} {y:.1f}h3")
    for e, n, off in zip(landings.east_m, landings.north_m, landings.off_field):
        if math.isfinite(e) and math.isfinite(n):
            x, y = place((float(e), float(n)))
            cross = f"M{x - 2.5:.1f} {y - 2.5:.1f}l5 5m-5 0l5 -5"
            inks["off" if off else "landed"].append(cross)
    return [f'<path d="{"".join(m)}" class="{k}"/>' for k, m in inks.items() if m]


def _wind(landings: Landings, units: str) -> str:
    """Feathered shaft flying downwind, with the spread of its direction as two hairs."""
    x, y, long = WIDTH - 78.0, 76.0, 44.0
    to = landings.wind_from_rad + math.pi
    marks = []
    for turn, kind in ((0.0, "shaft"), (-1.0, "hair"), (1.0, "hair")):
        angle = to + turn * landings.wind_from_sigma_rad
        dx, dy = math.sin(angle) * long, -math.cos(angle) * long
        marks.append(
            f'<path d="M{x - dx:.1f} {y - dy:.1f}L{x + dx:.1f} {y + dy:.1f}" class="{kind}"/>'
        )
    dx, dy = math.sin(to), -math.cos(to)
    tip = x + dx * long, y + dy * long
    barb = "".join(
        f"M{tip[0]:.1f} {tip[1]:.1f}l{-dx * 12 + s * dy * 6:.1f} {-dy * 12 - s * dx * 6:.1f}"
        for s in (1, -1)
    )
    bearing = show(landings.wind_from_rad, "angle", units, 3, "deg")
    words = f"wind {show(landings.wind_m_s, 'speed', units)} from {bearing}"
    return (
        f'<g class="wind">{"".join(marks)}<path d="{barb}" class="shaft"/>'
        f'<text x="{WIDTH - 12:g}" y="18" text-anchor="end">{escape(words)}</text></g>'
    )


def _scale_bar(scale: float, height: float, units: str) -> str:
    length = max((b for b in BARS_M if b * scale < WIDTH / 4), default=BARS_M[0])
    x, y = EDGE, height - 10
    return (
        f'<path d="M{x:g} {y - 4:.1f}v4h{length * scale:.1f}v-4" class="shaft"/>'
        f'<text x="{x + length * scale + 6:.1f}" y="{y:.1f}">'
        f"{escape(show(length, 'length', units))}</text>"
        f'<path d="M{WIDTH - 20:g} {height - 34:.1f}v22m-4 -16l4 -6l4 6" class="shaft"/>'
        f'<text x="{WIDTH - 28:g}" y="{height - 14:.1f}" text-anchor="end">north</text>'
    )
