"""The field from above as SVG: outline, keep-outs, distances, landings, where nothing opens.

East is to the right, north is up. Marks carry class names only; the sheet inks them. Drawn twice,
for a wide sheet and for a narrow one, because names must stay readable on both.
"""

import math
from collections.abc import Iterable
from html import escape
from typing import Final

import numpy as np

from goodflight.outputs.field_map.clip import clipped_area, clipped_line
from goodflight.outputs.field_map.field_words import landed_words
from goodflight.outputs.field_map.ground import Ground, polygon
from goodflight.outputs.field_map.labels import Labels, Place, around, leader, name_mark, within
from goodflight.quantity import brief, show
from goodflight.studies.questions.landings import Landings
from goodflight.studies.questions.one_flight import OneFlight

EDGE: Final = 8.0
SHAPES: Final = {"wide": (760.0, 620.0, 54.0), "narrow": (366.0, 480.0, 54.0)}
RINGS_M: Final = {  # distances that are drawn, by the reader's units
    "metric": (50.0, 100.0, 200.0, 400.0, 800.0, 1600.0, 3200.0),
    "imperial": (76.2, 152.4, 304.8, 609.6, 1219.2, 2438.4, 4876.8),  # 250, 500, 1000 ... ft
}
MAX_RINGS: Final = 3
MIN_RING: Final = 26.0  # on paper
NEAR_M: Final = 60.0  # ground around the pad that is always shown


def field_svg(
    landings: Landings, units: str = "metric", shape: str = "wide", chosen: OneFlight | None = None
) -> str:
    """The map with every landing point: on the field in ink, off it in vermilion."""
    at = _ground(landings, shape, chosen)
    labels = Labels(at.frame)
    points, beyond = _landed(landings, at, labels)
    lines = _lines(landings, at, labels, units)
    names = _names(landings, at, labels, chosen, units)
    left, top, right, bottom = at.frame
    width = SHAPES[shape][0]
    frame = f'x="{left:g}" y="{top:.1f}" width="{right - left:g}" height="{bottom - top:.1f}"'
    said = f"Map of {landings.site}. {landed_words(landings, units)}"
    return (
        f'<svg class="map {shape}" viewBox="0 0 {width:g} {bottom + EDGE:.0f}" role="img" '
        f'aria-label="{escape(said)}">{lines}{points}{beyond}'
        f'<rect {frame} class="neat"/>{names}{_head(landings, units, width)}</svg>'
    )


def _ground(landings: Landings, shape: str, chosen: OneFlight | None) -> Ground:
    """Everything that counts within the frame: field, keep-outs near it, all but rare landings."""
    points = [*landings.outline_m, (-NEAR_M, -NEAR_M), (NEAR_M, NEAR_M)]
    for east, north, rare in (
        (landings.east_m, landings.north_m, 0.01),
        (landings.ballistic_east_m, landings.ballistic_north_m, 0.02),
    ):
        known = np.isfinite(east) & np.isfinite(north)
        if known.any():
            ends = (rare, 1.0 - rare)
            points += zip(np.quantile(east[known], ends), np.quantile(north[known], ends))
    if chosen is not None and math.isfinite(chosen.outcomes["landing_east_m"]):
        points.append((chosen.outcomes["landing_east_m"], chosen.outcomes["landing_north_m"]))
    width, tallest, head = SHAPES[shape]
    west, south = (min(p[i] for p in points) for i in (0, 1))
    across, up = (max(p[i] for p in points) - low for i, low in ((0, west), (1, south)))
    west, south, across, up = west - 0.04 * across, south - 0.04 * up, 1.08 * across, 1.08 * up
    scale = min((width - 2.0 * EDGE) / across, tallest / up)
    west -= 0.5 * ((width - 2.0 * EDGE) / scale - across)
    return Ground(west, south, scale, (EDGE, head, width - EDGE, head + up * scale))


def _lines(landings: Landings, at: Ground, labels: Labels, units: str) -> str:
    """Keep-outs, outline, rings of distance, the safety line, the pad; all remembered as ink."""
    marks: list[str] = []
    for _, ring in landings.keep_outs_m:
        marks.append(polygon(clipped_area([at(p) for p in ring], at.frame), "keepout"))
        labels.draw_line([at(p) for p in ring])
    if landings.outline_m:
        marks.append(polygon(map(at, landings.outline_m), "field"))
        labels.draw_line([at(p) for p in landings.outline_m])
    x, y = at((0.0, 0.0))
    for radius in rings_of(at, units):
        circle = _circle((x, y), radius * at.scale)
        marks.append(f'<path d="{clipped_line(circle, at.frame)}" class="ring"/>')
        labels.draw_line(circle)
    if len(landings.safety_m) > 2:
        line = [at(p) for p in landings.safety_m]
        marks.append(f'<path d="{clipped_line(line, at.frame)}" class="safety"/>')
        labels.draw_line(line)
    marks.append(f'<path d="M{x - 9:.1f} {y:.1f}h18M{x:.1f} {y - 9:.1f}v18" class="pad"/>')
    marks.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" class="pad"/>')
    labels.taken.append((x - 10.0, y - 10.0, x + 10.0, y + 10.0))
    return "".join(marks)


def rings_of(at: Ground, units: str) -> list[float]:
    """Radii of the rings of distance [m]: the largest few that reach into the map."""
    pad = at((0.0, 0.0))
    left, top, right, bottom = at.frame
    corners = [(x, y) for x in (left, right) for y in (top, bottom)]
    far = max(math.hypot(x - pad[0], y - pad[1]) for x, y in corners)
    fitting = [r for r in RINGS_M[units] if MIN_RING <= r * at.scale <= 0.9 * far]
    return fitting[-MAX_RINGS:]


def _circle(middle: Place, radius: float) -> list[Place]:
    count = max(48, math.ceil(radius))
    turns = [2.0 * math.pi * i / count for i in range(count)]
    return [(middle[0] + radius * math.sin(t), middle[1] - radius * math.cos(t)) for t in turns]


def _landed(landings: Landings, at: Ground, labels: Labels) -> tuple[str, str]:
    """Crosses where flights come down, ticks where unopened ones do; dots for those beyond."""
    inks: dict[str, list[str]] = {"ballistic": [], "landed": [], "off": []}
    dots: dict[str, list[str]] = {"landed": [], "off": []}
    for e, n in zip(landings.ballistic_east_m, landings.ballistic_north_m):
        if math.isfinite(e) and math.isfinite(n):
            x, y = at((float(e), float(n)))
            if at.holds((x, y)):
                inks["ballistic"].append(f"M{x - 2:.1f} {y:.1f}h4")
                labels.ink.append((x, y))
    bad = landings.off_field | landings.barred
    for e, n, fails in zip(landings.east_m, landings.north_m, bad):
        if not (math.isfinite(e) and math.isfinite(n)):
            continue
        x, y = at((float(e), float(n)))
        kind = "off" if fails else "landed"
        if at.holds((x, y)):
            inks[kind].append(f"M{x - 2.5:.1f} {y - 2.5:.1f}l5 5m-5 0l5 -5")
        else:
            x, y = at.edge((x, y))
            dots[kind].append(f"M{x - 3:.1f} {y:.1f}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0")
        labels.ink.append((x, y))
    return _paths(inks, ""), _paths(dots, "beyond ")


def _paths(inks: dict[str, list[str]], more: str) -> str:
    return "".join(f'<path d="{"".join(m)}" class="{more}{k}"/>' for k, m in inks.items() if m)


def _names(
    landings: Landings, at: Ground, labels: Labels, chosen: OneFlight | None, units: str
) -> str:
    """Every name, where it covers least ink; thin leaders from those that stand beside."""
    marks = [_chosen(chosen, at, labels)]
    pad = at((0.0, 0.0))
    _put(marks, labels, "pad", around(pad, "pad", (13.0, 20.0, 30.0)))
    for name, ring in landings.keep_outs_m:
        _keep_out(marks, labels, name, [at(p) for p in ring], at)
    for radius in rings_of(at, units):
        text = show(radius, "length", units, 3)
        circle = [p for p in _circle(pad, radius * at.scale)[::6] if at.holds(p)]
        _put(marks, labels, text, circle, "name soft")
    corners = [at(p) for p in landings.safety_m]
    spots = [
        p for c in corners if at.holds(c) for p in around(c, "no parachute opens", (13.0, 24.0))
    ]
    if len(landings.safety_m) > 2:
        _put(marks, labels, "no parachute opens", spots, "name soft")
    return "".join(marks)


def _put(
    marks: list[str], labels: Labels, text: str, places: Iterable[Place], kind: str = "name"
) -> Place | None:
    found = labels.place(text, places)
    if found is not None:
        marks.append(name_mark(text, found, kind))
    return found


def _keep_out(marks: list[str], labels: Labels, name: str, ring: list[Place], at: Ground) -> None:
    if _put(marks, labels, name, within(ring, name, at.frame)) is not None:
        return
    seen = [p for p in ring if at.holds(p)] or ring
    x, y = (sum(p[i] for p in seen) / len(seen) for i in (0, 1))
    point = at.edge((x, y))
    found = _put(marks, labels, name, around(point, name))
    if found is not None:
        marks.insert(0, leader(point, labels.box(name, found)))


def _chosen(chosen: OneFlight | None, at: Ground, labels: Labels) -> str:
    """The landing of one flight, ringed and named."""
    if chosen is None or not math.isfinite(chosen.outcomes["landing_east_m"]):
        return ""
    x, y = at((chosen.outcomes["landing_east_m"], chosen.outcomes["landing_north_m"]))
    labels.taken.append((x - 11.0, y - 11.0, x + 11.0, y + 11.0))
    marks = [
        f'<path d="M{x - 5:.1f} {y - 5:.1f}l10 10m-10 0l10 -10" class="chosen"/>'
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="10" class="chosen"/>'
    ]
    name = f"flight {chosen.number}"
    _put(marks, labels, name, around((x, y), name, (17.0, 26.0, 38.0)), "name strong")
    return "".join(marks)


def _head(landings: Landings, units: str, width: float) -> str:
    """Above the map: the wind as a feathered shaft flying downwind, and north."""
    x, y, long = 30.0, 26.0, 19.0
    to = landings.wind_from_rad + math.pi
    marks = []
    for turn, kind in ((-1.0, "hair"), (1.0, "hair"), (0.0, "shaft")):
        angle = to + turn * landings.wind_from_sigma_rad
        dx, dy = math.sin(angle) * long, -math.cos(angle) * long
        line = f"M{x - dx:.1f} {y - dy:.1f}L{x + dx:.1f} {y + dy:.1f}"
        marks.append(f'<path d="{line}" class="{kind}"/>')
    dx, dy = math.sin(to), -math.cos(to)
    barb = "".join(
        f"M{x + dx * long:.1f} {y + dy * long:.1f}"
        f"l{-dx * 9 + s * dy * 5:.1f} {-dy * 9 - s * dx * 5:.1f}"
        for s in (1, -1)
    )
    bearing = show(landings.wind_from_rad, "angle", units, 3, "deg")
    words = f"wind {brief(landings.wind_m_s, 'wind', units)} from {bearing}"
    return (
        f'<g class="wind">{"".join(marks)}<path d="{barb}" class="shaft"/>'
        f'<text x="60" y="31">{escape(words)}</text>'
        f'<path d="M{width - 20:g} 40v-26m-5 7l5 -8l5 8" class="shaft"/>'
        f'<text x="{width - 32:g}" y="31" text-anchor="end">north</text></g>'
    )
