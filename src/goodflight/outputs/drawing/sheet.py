"""The sheet around a drawing: border with zone ticks, parts list, key, title block."""

import math
import string
from collections.abc import Sequence

from goodflight.outputs.drawing.ink import Box, Sheet, text_width
from goodflight.outputs.drawing.marks import small
from goodflight.outputs.drawing.side import Item
from goodflight.outputs.figures import LIGHT_UNIT, SIZE_UNIT_NAME
from goodflight.outputs.words import CAUTION, knowledge
from goodflight.quantity import show
from goodflight.studies.questions.layout import Layout

ROW = 19.0
EDGE = 14.0  # outer border
FRAME = 30.0  # inner border


def draw_frame(sheet: Sheet) -> None:
    """Thin border with numbered zones across and lettered zones down."""
    width, height = sheet.width, sheet.height
    sheet.rectangle(Box(EDGE, EDGE, width - EDGE, height - EDGE), "fine hair")
    sheet.rectangle(Box(FRAME, FRAME, width - FRAME, height - FRAME), "ink thin")
    columns, rows = max(2, round(width / 180)), max(2, round(height / 180))
    for i in range(columns):
        x = FRAME + (i + 0.5) * (width - 2 * FRAME) / columns
        edge = FRAME + (i + 1) * (width - 2 * FRAME) / columns
        for y in (EDGE, height - FRAME):
            if i < columns - 1:
                sheet.line((edge, y), (edge, y + FRAME - EDGE), "fine hair")
            sheet.text(str(i + 1), (x, y + 12), 9.5, "middle", "mono soft")
    for i in range(rows):
        y = FRAME + (i + 0.5) * (height - 2 * FRAME) / rows
        edge = FRAME + (i + 1) * (height - 2 * FRAME) / rows
        for x in (EDGE, width - FRAME):
            if i < rows - 1:
                sheet.line((x, edge), (x + FRAME - EDGE, edge), "fine hair")
            sheet.text(string.ascii_uppercase[i % 26], (x + 8, y + 3), 9.5, "middle", "mono soft")


def draw_parts(
    sheet: Sheet,
    items: Sequence[Item],
    corner: tuple[float, float],
    width: float,
    units: str,
    columns: int,
) -> float:
    """Numbered parts with mass, how it is known, and balance point; returns its lower end."""
    rows = -(-len(items) // columns)
    column = width / columns
    left, top = corner
    for c in range(columns):
        x = left + c * column
        here = list(enumerate(items, 1))[c * rows : (c + 1) * rows]
        if not here:
            continue
        end = x + column - 18
        sheet.text("part", (x + 24, top), 11, "start", "soft")
        sheet.text("mass", (end - 52, top), 11, "end", "soft")
        sheet.text("at", (end, top), 11, "end", "soft")
        sheet.line((x, top + 5), (end, top + 5), "ink hair")
        for r, (number, item) in enumerate(here):
            _part_row(sheet, number, item, (x, end, top + ROW * (r + 1) + 2), units)
    return top + ROW * (rows + 1)


def _part_row(
    sheet: Sheet, number: int, item: Item, place: tuple[float, float, float], units: str
) -> None:
    x, end, y = place
    sheet.text(str(number), (x + 16, y), 11.5, "end", "mono soft")
    mass = show(item.mass_kg, "mass", units, 3, LIGHT_UNIT[units])
    mass = "–" if item.mass_kg is None else mass
    room = end - 52 - text_width(mass, 12) - (x + 24) - 8
    sheet.text(shortened(item.name, room, 12), (x + 24, y), 12)
    box = sheet.text(mass, (end - 52, y), 12, "end", "mono")
    if item.mass_kg is not None:
        sheet.known_line((box.left, y + 4), box.right - box.left, item.known)
    sheet.text(small(item.station_m, units), (end, y), 12, "end", "mono")


def shortened(words: str, room: float, size: float) -> str:
    """A text cut to a width; the cut is seen."""
    if text_width(words, size) <= room:
        return words
    keep = max(1, int(room / text_width("x", size)) - 1)
    return words[:keep].rstrip() + "…"


def draw_key(sheet: Sheet, corner: tuple[float, float], units: str) -> None:
    """How the figures are known, and in what unit lengths stand."""
    x, y = corner
    for known in ("guess", "label", "measured", "flight"):
        words = "from a flight" if known == "flight" else known
        box = sheet.text(words, (x, y), 12)
        sheet.known_line((box.left, y + 4), box.right - box.left, known)
        x = box.right + 16
    sheet.text(
        f"lengths in {SIZE_UNIT_NAME[units]}, stations from the nose tip",
        (corner[0], y + 22),
        12,
        "start",
        "soft",
    )


def title_height(layout: Layout, foot: str = "") -> float:
    """Height that the title block takes."""
    small_rows = (1 if layout.invented else 0) + (1 if foot else 0)
    return 24.0 * 6 + 20.0 * small_rows + 42.0


def margins(layout: Layout, units: str) -> tuple[str, str]:
    """The three static margins ready to fly: as flown, short form, at the gust's angle."""
    flown, short, gust = (
        "-" if math.isnan(value) else show(value, "calibre", units)
        for value in (layout.margin_liftoff_cal, layout.margin_short_cal, layout.margin_gust_cal)
    )
    angle = show(layout.gust_rad, "angle", units, 2)
    return f"margin {flown}, short form {short}", f"in a gust of {angle}: {gust}"


def draw_title(sheet: Sheet, layout: Layout, box: Box, units: str, foot: str = "") -> None:
    """Rocket, what is drawn, state of knowledge, mass and margin, day and stamp, caution."""
    sheet.rectangle(box, "ink thin", "var(--paper)")
    mass = show(layout.liftoff_mass_kg, "mass", units, 4, LIGHT_UNIT[units])
    rows = [
        (layout.rocket, "strong", 17.0),
        (f"plan {layout.plan}, motor {layout.motor}", "", 13.0),
        (f"{mass} ready to fly", "", 13.0),
        *((words, "", 13.0) for words in margins(layout, units)),
        (knowledge(layout.measured, layout.figures), "", 13.0),
    ]
    if layout.invented:
        rows.append(("rocket, motors and field are invented", "soft", 12.0))
    if foot:
        rows.append((foot, "soft", 12.0))
    y, room = box.top, box.right - box.left - 20
    for words, style, size in rows:
        height = 20.0 if size == 12.0 else 24.0
        place = (box.left + 10, y + height / 2 + 0.35 * size)
        sheet.text(shortened(words, room, size), place, size, "start", style)
        y += height
        sheet.line((box.left, y), (box.right, y), "fine hair")
    for i, line in enumerate(folded(CAUTION, room, 10.5)):
        sheet.text(line, (box.left + 10, y + 13 + 13 * i), 10.5, "start", "soft")


def folded(words: str, room: float, size: float) -> list[str]:
    """A sentence in lines of a width."""
    lines: list[str] = []
    for word in words.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
