"""The search from above as SVG: field, areas, lines of sight, patches, lanes with their numbers.

North is up on the page; on paper the lanes run up the sheet, as one walks. Marks carry class names;
alone, the drawing brings its own inks, black on white.
"""

import math
from collections.abc import Iterable
from html import escape
from typing import Final

from goodflight.outputs.field_map.clip import clipped_area, clipped_line
from goodflight.outputs.field_map.ground import Ground, polygon, turned
from goodflight.outputs.field_map.labels import Labels, around, name_mark, within
from goodflight.outputs.find.find_words import headline
from goodflight.quantity import show
from goodflight.studies.questions.find import FindStudy

EDGE: Final = 8.0
SHAPES: Final = {  # width, height
    "wide": (760.0, 560.0),
    "narrow": (366.0, 420.0),
    "paper": (520.0, 700.0),
}
BARS_M: Final = {  # lengths of the scale, by the reader's units
    "metric": (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0),
    "imperial": (15.24, 30.48, 60.96, 152.4, 304.8, 609.6),  # 50, 100, 200, 500 ... ft
}
LABELLED: Final = 24  # lanes that carry their number
ALONE: Final = """<style>
text { font: 12px "Source Sans 3", sans-serif; fill: #1b2626; paint-order: stroke; }
text { stroke: #ffffff; stroke-width: 3px; }
.field, .keepout, .sight, .lane, .pad, .shaft, .bar { fill: none; stroke: #1b2626; }
.field { stroke-width: 1.4; } .keepout { stroke-width: .8; stroke-dasharray: 5 3; }
.patch.whole { fill: #e4e0d4; stroke: #1b2626; stroke-width: 1.2; }
.patch.half { fill: #c9c3b2; stroke: #1b2626; stroke-width: .8; }
.sight { stroke-width: .9; stroke-dasharray: 10 3 2 3; } .lane { stroke-width: .9; }
.pad { stroke-width: 1.8; } .neat { fill: none; stroke: #8a938f; }
.shaft, .bar { stroke-width: 1.6; }
</style>"""


def find_svg(
    study: FindStudy, units: str = "metric", shape: str = "wide", alone: bool = False
) -> str:
    """The map; "paper" is turned so that the lanes run up the sheet."""
    at = _ground(study, shape)
    labels = Labels(at.frame)
    marks = [*_areas(study, at, labels), *_patches(study, at)]
    marks += [*_sights(study, at, labels), *_lanes(study, at, labels), *_pad(at, labels)]
    left, top, right, bottom = at.frame
    size = SHAPES[shape]
    frame = f'x="{left:g}" y="{top:g}" width="{right - left:g}" height="{bottom - top:g}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="map find {shape}" role="img" '
        f'viewBox="0 0 {size[0]:g} {size[1] + 44:g}" aria-label="{escape(headline(study, units))}">'
        f'{ALONE if alone else ""}{"".join(marks)}<rect {frame} class="neat"/>'
        f"{_foot(at, units, size)}</svg>"
    )


def _ground(study: FindStudy, shape: str) -> Ground:
    """The patch and the pad on the map; on paper the patch alone, large."""
    up = study.lane_bearing_rad if shape == "paper" else 0.0
    points = [turned(place, up) for line in study.search.lines_m for place in line]
    if shape != "paper":
        points += [turned(place, up) for place in (*study.outline_m, (0.0, 0.0))]
    points = points or [(0.0, 0.0)]
    width, height = SHAPES[shape]
    room = (width - 2.0 * EDGE, height - EDGE)
    low = [min(p[i] for p in points) for i in (0, 1)]
    across = [max(max(p[i] for p in points) - low[i], 20.0) for i in (0, 1)]
    scale = min(room[i] / (1.12 * across[i]) for i in (0, 1))
    start = [low[i] - 0.5 * (room[i] / scale - across[i]) for i in (0, 1)]
    frame = (EDGE, EDGE, width - EDGE, height)
    return Ground(start[0], start[1], scale, frame, up)


def _areas(study: FindStudy, at: Ground, labels: Labels) -> Iterable[str]:
    for name, ring in study.areas_m:
        places = [at(p) for p in ring]
        yield polygon(clipped_area(places, at.frame), "keepout")
        labels.draw_line(places)
        found = labels.place(name, within(places, name, at.frame))
        if found is not None:
            yield name_mark(name, found, "name soft")
    if study.outline_m:
        places = [at(p) for p in study.outline_m]
        yield f'<path d="{clipped_line([*places, places[0]], at.frame)}" class="field"/>'
        labels.draw_line(places)


def _patches(study: FindStudy, at: Ground) -> Iterable[str]:
    for patch, kind in zip(reversed(study.patches), ("whole", "half")):
        rings = [[at(p) for p in line] for line in patch.lines_m]
        path = "".join(
            "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in ring) + "Z" for ring in rings if ring
        )
        yield f'<path d="{path}" class="patch {kind}"/>'


def _sights(study: FindStudy, at: Ground, labels: Labels) -> Iterable[str]:
    for who, start, bearing in study.sights_m:
        far = 5000.0
        end = (start[0] + far * math.sin(bearing), start[1] + far * math.cos(bearing))
        line = [at(start), at(end)]
        yield f'<path d="{clipped_line(line, at.frame)}" class="sight"/>'
        if start != (0.0, 0.0) and at.holds(line[0]):
            x, y = line[0]
            yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" class="pad"/>'
            found = labels.place(who, around((x, y), who, (13.0, 20.0)))
            if found is not None:
                yield name_mark(who, found)


def _lanes(study: FindStudy, at: Ground, labels: Labels) -> Iterable[str]:
    for lane in study.lanes:
        (x0, y0), (x1, y1) = at(lane.start_m), at(lane.end_m)
        yield f'<path d="M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}" class="lane"/>'
        if lane.number <= LABELLED:
            name = str(lane.number)
            found = labels.place(name, around((x0, y0), name, (7.0, 12.0, 18.0)))
            if found is not None:
                yield name_mark(name, found, "name strong")


def _pad(at: Ground, labels: Labels) -> Iterable[str]:
    x, y = at((0.0, 0.0))
    if at.holds((x, y)):
        yield f'<path d="M{x - 9:.1f} {y:.1f}h18M{x:.1f} {y - 9:.1f}v18" class="pad"/>'
        found = labels.place("pad", around((x, y), "pad", (13.0, 20.0, 30.0)))
        if found is not None:
            yield name_mark("pad", found)


def _foot(at: Ground, units: str, size: tuple[float, float]) -> str:
    """Below the map: a bar of a round length, and north."""
    y = size[1] + 26.0
    bar = max((b for b in BARS_M[units] if b * at.scale < 0.4 * size[0]), default=BARS_M[units][0])
    long = bar * at.scale
    x, angle = size[0] - 26.0, -at.turn_rad
    dx, dy = 13.0 * math.sin(angle), -13.0 * math.cos(angle)
    head = "".join(
        f"M{x + dx:.1f} {y + dy:.1f}l{-0.5 * dx + s * 0.3 * dy:.1f} {-0.5 * dy - s * 0.3 * dx:.1f}"
        for s in (1, -1)
    )
    shaft = f"M{x - dx:.1f} {y - dy:.1f}L{x + dx:.1f} {y + dy:.1f}"
    return (
        f'<path d="M{EDGE:g} {y - 5:g}v10M{EDGE:g} {y:g}h{long:.1f}m0 -5v10" class="bar"/>'
        f'<text x="{EDGE + long + 8:.1f}" y="{y + 4:g}">{escape(show(bar, "length", units, 3))}'
        f'</text><path d="{shaft}{head}" class="shaft"/>'
        f'<text x="{x - 20:g}" y="{y + 4:g}" text-anchor="end">true north</text>'
    )
