"""The side view alone, with scale, plumb line and wind vane: small enough to stand in a margin.

`plain` takes the drawing's own style out, for a page that inks it by class.
"""

import re
from typing import Final

from goodflight.outputs.drawing.end import heights_m, reach_m
from goodflight.outputs.drawing.ink import Sheet
from goodflight.outputs.drawing.marks import MARKS_HEIGHT, draw_balance, draw_scale
from goodflight.outputs.drawing.side import Side, draw_side, longest_m
from goodflight.quantity import show
from goodflight.studies.questions.layout import Layout

WIDTH: Final = 430.0
TALLEST: Final = 70.0
_STYLE = re.compile(r"<style>.*?</style>", re.DOTALL)
_FILL = re.compile(r'class="([^"]*)" style="fill:([^"]*)"')
_LOOK = re.compile(r' style="[^"]*"')
_NAME = re.compile(r"[^a-z-]+")


def side_svg(layout: Layout, units: str = "metric") -> str:
    """The side view to scale, narrow."""
    sheet = Sheet(WIDTH)
    scale = min((WIDTH - 40) / longest_m(layout), TALLEST / reach_m(layout))
    up, down = heights_m(layout)
    view = Side(20, 8 + up * scale, scale)
    ruler = view.axis + down * scale + 16
    draw_side(sheet, view, layout)
    draw_scale(sheet, view, layout, ruler, units)
    draw_balance(sheet, view, layout, ruler, units)
    sheet.height = ruler + MARKS_HEIGHT - 10
    return sheet.svg(
        f"{layout.rocket}: side view",
        f"margin {show(layout.margin_liftoff_cal, 'calibre', units)} ready to fly",
    )


def plain(svg: str) -> str:
    """The same drawing without style sheet or style attributes: every fill becomes a class."""
    bare = _STYLE.sub("", svg)

    def as_class(match: re.Match[str]) -> str:
        name = _NAME.sub("-", match[2].replace("url(#", "").replace("var(--", "")).strip("-")
        return f'class="{match[1]} fill-{name}"'

    return _LOOK.sub("", _FILL.sub(as_class, bare))
