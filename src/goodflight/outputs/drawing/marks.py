"""Stations and dimensions: the scale under the body, plumb line, wind vane, margin, lengths."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from goodflight.outputs.drawing.ink import Anchor, Box, Point, Sheet, text_box, text_width
from goodflight.outputs.drawing.side import Side, longest_m
from goodflight.outputs.figures import SIZE_UNIT
from goodflight.quantity import show
from goodflight.studies.questions.layout import Layout, Mark

TICKS_M: Final = {  # steps of small and numbered ticks that may be chosen
    "metric": ((0.01, 0.05), (0.02, 0.1), (0.05, 0.1), (0.05, 0.2), (0.1, 0.5), (0.5, 1.0)),
    "imperial": ((0.0127, 0.0254), (0.0254, 0.127), (0.0254, 0.254), (0.127, 0.635)),
}
READY: Final = "ink thin"  # line and bob of the rocket ready to fly
HANG: Final = 74.0  # length of the plumb line below the scale
MARKS_HEIGHT: Final = 158.0
SIDE_LIMIT: Final = 36.0  # no label nearer to the edge of the sheet


def small(value_m: float, units: str, digits: int | None = None) -> str:
    """A length on the drawing without its unit, which the sheet states once."""
    unit = SIZE_UNIT[units]
    if digits is None and units == "metric":
        digits = max(1, len(str(round(abs(value_m) * 1000))))
    return show(value_m, "length", units, digits, unit).removesuffix(unit).strip()


def draw_scale(sheet: Sheet, view: Side, layout: Layout, level: float, units: str) -> None:
    """The station scale, numbered from the nose tip; no number under the string of a plumb line."""
    length_m = longest_m(layout)
    strings = [view.x(m.station_m) for m in (layout.cg_liftoff, layout.cg_burnout, layout.cp)]
    sheet.line((view.x(0.0), level), (view.x(length_m), level), "ink thin")
    room = 46.0 / view.scale
    steps = next((pair for pair in TICKS_M[units] if pair[1] >= room), TICKS_M[units][-1])
    for step, size in ((steps[0], 4.0), (steps[1], 9.0)):
        for i in range(int(length_m / step + 1e-6) + 1):
            x = view.x(i * step)
            sheet.line((x, level), (x, level + size), "ink hair")
            if step == steps[1]:
                number = small(i * step, units)
                number = number.rstrip("0").rstrip(".") if "." in number else number
                box = text_box(number, (x, level + 21), 10.5, "middle")
                if not any(box.left - 1 < each < box.right + 1 for each in strings):
                    sheet.text(number, (x, level + 21), 10.5, "middle", "mono soft")
    sheet.walls.append(Box(view.x(0), level - 1, view.x(length_m), level + 9))


def draw_balance(sheet: Sheet, view: Side, layout: Layout, level: float, units: str) -> None:
    """CG as a plumb line, CP as a wind vane, the margins between them as lengths."""
    _vane(sheet, view, layout, level)
    _plumb(sheet, view, mark=layout.cg_burnout, level=level, hang=HANG - 34, style="fine thin")
    _plumb(sheet, view, mark=layout.cg_liftoff, level=level, hang=HANG, style=READY)
    cg, empty, cp = (view.x(m.station_m) for m in (layout.cg_liftoff, layout.cg_burnout, layout.cp))
    foot = level + HANG + 24
    for x in (cg, cp):
        sheet.line((x, foot - 6), (x, foot + 32), "fine hair")
    sheet.line((empty, level + HANG - 14), (empty, foot + 32), "fine hair dots")
    for start, y, margin_cal, words in (
        (layout.cg_liftoff, foot + 6, layout.margin_liftoff_cal, "at lift-off"),
        (layout.cg_burnout, foot + 28, layout.margin_burnout_cal, "at burnout"),
    ):
        length = small(layout.cp.station_m - start.station_m, units)
        text = f"{show(margin_cal, 'calibre', units, 3)} = {length} {words}"
        _margin(sheet, (view.x(start.station_m), cp), y, text, margin_cal < 0)
    side = -1 if cg < cp else 1
    strings = min(cg, empty) - 12 if side < 0 else max(cg, empty) + 12
    y = level + HANG + 8
    _mark_label(
        sheet, f"CG {_spread(layout.cg_liftoff, units)}", side, [(strings, y), (strings, y - 20)]
    )
    places = [(cp - side * 40, y), (cp - side * 10, foot + 12), (cp - side * 10, foot + 30)]
    _mark_label(sheet, f"CP {_spread(layout.cp, units)}", -side, places)


def _spread(mark: Mark, units: str) -> str:
    text = small(mark.station_m, units)
    near = 1 if units == "imperial" else None
    return f"{text} ±{small(mark.sigma_m, units, near)}" if mark.sigma_m > 0 else text


def _mark_label(sheet: Sheet, words: str, side: int, places: Sequence[Point]) -> None:
    """Write CG or CP beside its mark, at the first place that is free and inside the frame."""
    anchor: Anchor = "start" if side > 0 else "end"
    for place in places:
        box = text_box(words, place, 13, anchor)
        inside = box.left > SIDE_LIMIT and box.right < sheet.width - SIDE_LIMIT
        if inside and not sheet.meets(box):
            sheet.text(words, place, 13, anchor, "strong")
            return
    sheet.text(words, places[-1], 13, anchor, "strong")


def _band(sheet: Sheet, view: Side, mark: Mark, top: float, bottom: float) -> None:
    half = mark.sigma_m * view.scale
    if half > 0.5:
        x = view.x(mark.station_m)
        sheet.rectangle(Box(x - half, top, x + half, bottom), "hair", "url(#gf-spread)")


def _plumb(sheet: Sheet, view: Side, mark: Mark, level: float, hang: float, style: str) -> None:
    """A string from the axis, with a bob; the spread as a hatched band behind it."""
    x = view.x(mark.station_m)
    _band(sheet, view, mark, level + 26, level + hang - 4)
    sheet.line((x, view.axis), (x, level + hang), style)
    sheet.circle((x, view.axis), 2.6, style, "var(--paper)")
    bob = [(x - 5, level + hang), (x + 5, level + hang), (x + 4, level + hang + 8),
           (x, level + hang + 18), (x - 4, level + hang + 8)]  # fmt: skip
    sheet.shape(bob, "ink thin", "var(--ink)" if style == READY else "var(--paper)")


def _vane(sheet: Sheet, view: Side, layout: Layout, level: float) -> None:
    """A wind vane with its post on the CP, its travel with incidence as a dotted line."""
    x, y = view.x(layout.cp.station_m), level + HANG - 22
    _band(sheet, view, layout.cp, level + 26, y - 12)
    sheet.line((x, level), (x, y), "fine hair dots")
    sheet.line((x, y), (x, y + 42), "ink heavy")
    sheet.line((x - 7, y + 42), (x + 7, y + 42), "ink heavy")
    sheet.line((x - 26, y), (x + 20, y), "ink thin")
    sheet.shape([(x - 34, y), (x - 24, y - 4), (x - 24, y + 4)], "ink thin", "var(--ink)")
    feather = [(x + 14, y), (x + 22, y - 8), (x + 34, y - 8), (x + 27, y), (x + 34, y + 8),
               (x + 22, y + 8)]  # fmt: skip
    sheet.shape(feather, "ink thin", "var(--paper)")
    sheet.circle((x, y), 2.4, "ink thin", "var(--paper)")
    travel = view.x(layout.cp_travel_m)
    if abs(travel - x) > 6:
        y_travel = y + 14
        sheet.line((x, y_travel), (travel, y_travel), "ink hair dots")
        sheet.line((travel, y_travel - 4), (travel, y_travel + 4), "ink hair")
        if abs(travel - x) > 40:
            sheet.text("10°", ((x + travel) / 2, y_travel + 13), 11, "middle", "soft")


def _margin(
    sheet: Sheet, ends: tuple[float, float], level: float, words: str, unstable: bool
) -> None:
    """A dimension line with slanted strokes; its words where there is room."""
    left, right = min(ends), max(ends)
    style = "thin" if unstable else "ink thin"
    line = f'<line x1="{left:.2f}" y1="{level:.2f}" x2="{right:.2f}" y2="{level:.2f}" '
    colour = 'stroke="var(--signal)" ' if unstable else ""
    sheet.items.append(f'{line}{colour}class="{style}"/>')
    for x in (left, right):
        sheet.line((x - 3, level + 3), (x + 3, level - 3), "ink thin")
    half = text_width(words, 12) / 2
    centre = (left + right) / 2
    inner = min(max(centre, SIDE_LIMIT + half), sheet.width - SIDE_LIMIT - half)
    places = [(right + 10 + half, level + 4), (left - 10 - half, level + 4), (inner, level + 15)]
    inside = [
        place
        for place in places
        if place[0] - half >= SIDE_LIMIT and place[0] + half <= sheet.width - SIDE_LIMIT
    ]
    sheet.free_text(words, inside, 12)


def draw_lengths(
    sheet: Sheet, view: Side, layout: Layout, levels: tuple[float, float], units: str
) -> None:
    """Chain of the body parts' lengths, and the whole length above it."""
    whole, chain = levels
    joints = [layout.body[0].fore_m, *(piece.aft_m for piece in layout.body)]
    for fore, aft in pairwise(joints):
        _length(sheet, view, (fore, aft), chain, units)
    if len(layout.body) > 1:
        _length(sheet, view, (joints[0], joints[-1]), whole, units)
    for station in joints:
        radius = layout.diameter_m / 2 if station > 0 else 0.0
        top = chain if station not in (joints[0], joints[-1]) else whole
        sheet.line((view.x(station), top - 4), view.at(station, radius + 0.004), "fine hair")


def _length(
    sheet: Sheet, view: Side, ends_m: tuple[float, float], level: float, units: str
) -> None:
    left, right = view.x(ends_m[0]), view.x(ends_m[1])
    sheet.line((left, level), (right, level), "ink hair")
    for x in (left, right):
        sheet.line((x - 3, level + 3), (x + 3, level - 3), "ink thin")
    words = small(ends_m[1] - ends_m[0], units)
    sheet.free_text(words, _along(left, right, level - 4), 12, "mono")


def _along(left: float, right: float, level: float) -> Sequence[Point]:
    """Places along a dimension line, the middle first."""
    steps = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
    return [(left + share * (right - left), level) for share in steps]
