"""The first sheet of the build book: the workshop print to scale, over a title block to fill in."""

import re
from math import ceil
from typing import Final

from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS
from goodflight.outputs.drawing.ink import Sheet
from goodflight.outputs.drawing.svg import Shape, drawing_sheet, side_scale
from goodflight.outputs.figures import SIZE_UNIT, SIZE_UNIT_NAME
from goodflight.quantity import show
from goodflight.studies.bench.limits import GENERAL
from goodflight.studies.questions.layout import Layout

EDGE_MM: Final = 8.0
TITLE_MM: Final = 25.0
LEAST_LETTER_MM: Final = 1.75  # read at arm's length; common practice of print, no source
SMALLEST: Final = 10.5  # letters of the drawing, in its units
ERROR_DIGITS: Final = {"metric": 2, "imperial": 1}
INKS: Final = {
    "paper": "#ffffff", "ink": "#000000", "fine": "#777777", "soft": "#333333", "signal": "#000000",
}  # fmt: skip
_OTHER_LIGHT: Final = re.compile(r"@media \([^)]*\)\{.*?\}\}|@media print\{.*?\}\}", re.DOTALL)


def first_sheet(layout: Layout, paper: str, number: str, units: str, cut_error_m: float) -> str:
    """The sheet as markup.

    Parameters
        layout : Layout - what is drawn. [SI]
        paper : str - laid across. [-]
        number : str - markup of the sheet's number, day and stamp. [-]
        units : str - of the drawing. [-]
        cut_error_m : float - one standard deviation of where a cut edge lies. [m]
    Returns
        markup : str - one page. [-]
    Raises
        KeyError - no such paper
    Validity
        The scale holds where the sheet is printed at 100 %.
    Source
        Fields of a title block as ISO 7200 lists them, arrangement of views ISO 5456-2; from
        memory. Own layout.
    Example
        none
    """
    high, wide = PAPERS[paper]
    room = (wide - 2 * EDGE_MM, high - 2 * EDGE_MM - TITLE_MM)
    sheet, scale, across = _laid(layout, units, room)
    down = across * sheet.height / sheet.width
    picture = inked(sheet, layout.rocket).replace("\\", "\\\\").replace('"', '\\"')
    cells = _cells(layout, units, scale, cut_error_m)
    fields = [f"[#soft[{text(name)}] \\ {text(value)}]" for name, value in cells]
    boxes = ", ".join(fields[:5]), ", ".join(fields[5:])
    return "\n".join(
        [
            f"#page(width: {mm(wide)}, height: {mm(high)})[",
            f"#place(dx: {mm((wide - across) / 2)}, dy: {mm(EDGE_MM + (room[1] - down) / 2)}, "
            f'image(bytes("{picture}"), format: "svg", width: {mm(across)}))',
            f"#place(dx: {mm(EDGE_MM)}, dy: {mm(high - EDGE_MM - TITLE_MM + 3)}, "
            f"box(width: {mm(wide - 2 * EDGE_MM)})[#set text(size: 7.5pt)",
            "#table(columns: (1.2fr, 1.2fr, 1fr, 1.5fr, 1.2fr, 1fr), rows: 11mm, stroke: hair, "
            f"inset: 1.4mm, {boxes[0]}, table.cell(rowspan: 2)[{number}], {boxes[1]})])",
            "]",
        ]
    )


def _laid(layout: Layout, units: str, room_mm: tuple[float, float]) -> tuple[Sheet, float, float]:
    """The drawing, its scale to the next half and its width [mm]; where letters get too small it
    goes without its lists, which stand on the next sheet.
    """
    shapes: tuple[Shape, ...] = ("wide", "bare")
    for shape in shapes:
        sheet = drawing_sheet(layout, units, shape)
        most = min(room_mm[0], room_mm[1] * sheet.width / sheet.height)
        metre = side_scale(layout, shape) / sheet.width  # share of the width
        scale = ceil(2e3 / (most * metre)) / 2
        across = 1e3 / (scale * metre)
        if SMALLEST * across / sheet.width >= LEAST_LETTER_MM:
            break
    return sheet, scale, across


def _cells(
    layout: Layout, units: str, scale: float, cut_error_m: float
) -> tuple[tuple[str, str], ...]:
    """The fields of the title block; those of the builder's hand are empty."""
    error = show(cut_error_m, "length", unit=SIZE_UNIT[units], digits=ERROR_DIGITS[units])
    return (
        ("title", f"{layout.rocket}, build book" + (" (invented)" if layout.invented else "")),
        ("scale", f"1 : {scale:g}, printed at 100 %"),
        ("lengths", SIZE_UNIT_NAME[units]),
        ("projection", "third angle: view from the tail at its right"),
        ("tolerance", f"{GENERAL}; cut edges ± {error}, one sigma"),
        ("made of", f"plan {layout.plan}, motor {layout.motor}"),
        ("drawn by", ""),
        ("date", ""),
        ("checked by", ""),
        ("revision", ""),
    )


def inked(sheet: Sheet, title: str) -> str:
    """The drawing as SVG with plain inks, for a reader that knows no variables."""
    svg = _OTHER_LIGHT.sub("", sheet.svg(title, title))
    for name, ink in INKS.items():
        svg = svg.replace(f"var(--{name})", ink)
    return svg
