"""The workshop print of a rocket as SVG: side view, end view, balance, parts list, title block.

Three shapes of the same sheet: `wide` for a desk or paper, `narrow` for a phone, and `bare` for
small paper, with the lists left out so that its letters stay readable. Everything is laid
out from the longest side down, so nothing depends on the size of a particular rocket.
"""

from typing import Final, Literal

from goodflight.outputs.drawing.end import draw_end, heights_m, reach_m
from goodflight.outputs.drawing.ink import Box, Sheet
from goodflight.outputs.drawing.marks import (
    MARKS_HEIGHT,
    draw_balance,
    draw_lengths,
    draw_scale,
)
from goodflight.outputs.drawing.sheet import (
    FRAME,
    draw_frame,
    draw_key,
    draw_parts,
    draw_title,
    title_height,
)
from goodflight.outputs.drawing.side import Side, draw_balloons, draw_side, items_of, longest_m
from goodflight.quantity import show
from goodflight.studies.bench.stamp import stamp_of
from goodflight.studies.questions.layout import Layout

Shape = Literal["wide", "narrow", "bare"]
TALLEST = 190.0  # half height of the side view at most
END_REACH = 118.0  # half height of the end view at most
BALLOONS_AT = 66.0
WIDE = 1440.0
WIDTHS: Final[dict[Shape, float]] = {"wide": WIDE, "narrow": 430.0, "bare": 1040.0}
END_ROOM = 2 * END_REACH + 60
INSIDE = 22.0  # from the frame to what is drawn


def drawing_svg(layout: Layout, units: str = "metric", shape: Shape = "wide", day: str = "") -> str:
    """The sheet as SVG text; the same layout gives the same text.

    With a day, it stands in the title block beside the stamp of the figures.
    """
    sheet = drawing_sheet(layout, units, shape, day)
    margin = show(layout.margin_liftoff_cal, "calibre", units)
    return sheet.svg(
        f"{layout.rocket}: side view and end view",
        f"Length {show(layout.length_m, 'length', units)}, centre of gravity at "
        f"{show(layout.cg_liftoff.station_m, 'length', units)} from the nose tip ready to fly, "
        f"centre of pressure at {show(layout.cp.station_m, 'length', units)}, margin {margin}.",
    )


def drawing_sheet(
    layout: Layout, units: str = "metric", shape: Shape = "wide", day: str = ""
) -> Sheet:
    """The sheet with everything drawn on it."""
    foot = f"made {day}, figures {stamp_of(layout)}" if day else ""
    wide = shape != "narrow"
    sheet = Sheet(WIDTHS[shape])
    left, right = FRAME + INSIDE, sheet.width - FRAME - INSIDE
    reach = reach_m(layout)
    end_room = END_ROOM if wide else 0.0
    scale = side_scale(layout, shape)
    items = items_of(layout)
    chain = BALLOONS_AT + 66.0
    up, down = heights_m(layout)
    view = Side(left + 6, chain + 16 + up * scale, scale)
    ruler = view.axis + down * scale + 22
    draw_side(sheet, view, layout)
    draw_balloons(sheet, view, items, BALLOONS_AT, (left + 8, right - end_room - 8))
    draw_lengths(sheet, view, layout, (chain - 22, chain), units)
    draw_scale(sheet, view, layout, ruler, units)
    draw_balance(sheet, view, layout, ruler, units)
    low = ruler + MARKS_HEIGHT
    end_scale = min(scale, END_REACH / reach)
    if wide:
        centre = (right - END_REACH - 8, max(view.axis, 60 + reach * end_scale))
        end_low = draw_end(sheet, centre, end_scale, layout, units)
        top = max(low + 20, end_low + 30)
        bare = shape == "bare"
        sheet.height = top + FRAME if bare else _lower_wide(sheet, layout, units, foot, top)
    else:
        end_scale = 0.6 * END_REACH / reach
        centre = (sheet.width / 2, low + 20 + reach * end_scale)
        end_low = draw_end(sheet, centre, end_scale, layout, units)
        sheet.height = _lower_narrow(sheet, layout, units, foot, end_low + 40)
    draw_frame(sheet)
    return sheet


def side_scale(layout: Layout, shape: Shape = "wide") -> float:
    """Units of the drawing for a metre of the rocket, on a sheet of a shape."""
    room = WIDTHS[shape] - 2 * (FRAME + INSIDE) - (0.0 if shape == "narrow" else END_ROOM)
    return min((room - 12) / longest_m(layout), TALLEST / reach_m(layout))


def _lower_wide(sheet: Sheet, layout: Layout, units: str, foot: str, top: float) -> float:
    """Parts list at the left, title block at the right."""
    left, right = FRAME + INSIDE, sheet.width - FRAME
    title_width = 420.0
    low = draw_parts(
        sheet,
        items=items_of(layout),
        corner=(left, top),
        width=right - left - title_width - 10,
        units=units,
        columns=3,
    )
    draw_key(sheet, (left, low + 16), units)
    height = max(low + 58, top + title_height(layout, foot) + 16) + FRAME
    box = Box(
        right - title_width, height - FRAME - title_height(layout, foot), right, height - FRAME
    )
    draw_title(sheet, layout, box, units, foot)
    return height


def _lower_narrow(sheet: Sheet, layout: Layout, units: str, foot: str, top: float) -> float:
    """One below the other."""
    left, right = FRAME + 12, sheet.width - FRAME
    low = draw_parts(
        sheet,
        items=items_of(layout),
        corner=(left, top),
        width=right - left + 6,
        units=units,
        columns=1,
    )
    draw_key(sheet, (left, low + 16), units)
    height = low + 58 + title_height(layout, foot) + 26 + FRAME
    box = Box(FRAME, height - FRAME - title_height(layout, foot) - 14, right, height - FRAME)
    draw_title(sheet, layout, box, units, foot)
    return height
