"""The sheet round a template: border with zone ticks, check bars, seams, title block, page map."""

import string
from collections.abc import Sequence
from math import pi
from typing import Final

from goodflight.outputs.bench.marks import line, mm, shapes, text
from goodflight.outputs.bench.paper import (
    BOTTOM_MM,
    FRAME_MM,
    Page,
    Scale,
    Seam,
)
from goodflight.quantity import show
from goodflight.studies.bench.shapes import Line, Words, rectangle

PREAMBLE: Final = """\
#set text(font: ("Source Sans 3", "DejaVu Sans Mono"), size: 9pt, fill: rgb("#1b2626"))
#show raw: set text(font: ("Source Code Pro", "DejaVu Sans Mono"), size: 8pt)
#set page(margin: 0mm)
#let soft(body) = text(fill: rgb("#56605c"), body)
#let hair = 0.13mm + rgb("#8a938f")
"""
TITLE_MM: Final = 15.0


def at(x: float, y: float, body: str) -> str:
    """Something at a place on the page."""
    return f"#place(dx: {mm(x)}, dy: {mm(y)})[{body}]"


def border(width: float, height: float) -> str:
    """Thin border with lettered and numbered zone ticks."""
    far = (width - FRAME_MM, height - FRAME_MM)
    rows = [line(rectangle(FRAME_MM, FRAME_MM, *far, "mark"))]
    columns, lines = max(2, round(width / 50)), max(2, round(height / 50))
    for i in range(columns):
        x0 = FRAME_MM + i * (far[0] - FRAME_MM) / columns
        mid = x0 + (far[0] - FRAME_MM) / columns / 2
        for y, end in ((FRAME_MM - 2.5, FRAME_MM), (far[1], far[1] + 2.5)):
            if i:
                rows.append(line(Line(((x0, y), (x0, end)), "mark")))
            rows.append(shapes([Words(str(i + 1), (mid, (y + end) / 2), 1.5)]))
    for i in range(lines):
        y0 = FRAME_MM + i * (far[1] - FRAME_MM) / lines
        mid = y0 + (far[1] - FRAME_MM) / lines / 2
        for x, end in ((FRAME_MM - 2.5, FRAME_MM), (far[0], far[0] + 2.5)):
            if i:
                rows.append(line(Line(((x, y0), (end, y0)), "mark")))
            rows.append(shapes([Words(string.ascii_uppercase[i], ((x + end) / 2, mid), 1.5)]))
    return "\n".join(rows)


def bar_words(long_mm: float) -> str:
    """How long a bar is, for a rule in either system."""
    return f"{long_mm:g} mm ({show(1e-3 * long_mm, 'length', 'imperial', 4)})"


def check_bars(page: Page, scale: Scale) -> str:
    """A bar across and one upright, as long as they say where the printer is true or corrected."""
    x, y = FRAME_MM + 8.0, page.height_mm - BOTTOM_MM + 6.0
    long = page.check_mm * scale.across
    across = [
        Line(((x, y), (x + long, y)), "cut"),
        *(Line(((x + long * s, y - 2.2), (x + long * s, y + 2.2)), "cut") for s in (0.0, 1.0)),
        *(Line(((x + long * i / 15, y), (x + long * i / 15, y - 1.0)), "mark") for i in range(15)),
    ]
    tall = page.check_mm * scale.down
    u, v = FRAME_MM + 4.0, 14.0
    upright = [
        Line(((u, v), (u, v + tall)), "cut"),
        *(Line(((u - 2.2, v + tall * s), (u + 2.2, v + tall * s)), "cut") for s in (0.0, 1.0)),
        *(Line(((u, v + tall * i / 15), (u + 1.0, v + tall * i / 15)), "mark") for i in range(15)),
    ]
    label = f"{bar_words(page.check_mm)}: measure both bars before cutting"
    return shapes(
        [
            *across,
            *upright,
            Words(label, (x + long / 2, y + 2.6), 1.9),
            Words(f"{page.check_mm:g} mm", (u + 2.6, v + tall / 2), 1.9, pi / 2),
        ]
    )


def seam(page: Page, each: Seam) -> str:
    """A joining line with three register crosses, and which tile joins there."""
    left, top, right, low = page.window
    if each.reach_mm is not None:
        top, low = each.reach_mm
    found: list[Line | Words] = []
    note = f"joins {each.neighbour}"
    far = each.at_mm > (left + right if each.upright else top + low) / 2.0
    beside = each.at_mm + (1.9 if far else -1.9)  # on the strip that is cut off or covered
    down, over = top + 0.3 * (low - top), left + 0.3 * (right - left)
    if each.upright:
        found.append(Line(((each.at_mm, top), (each.at_mm, low)), "hidden"))
        marks = [(each.at_mm, top + (low - top) * s) for s in (0.1, 0.5, 0.9)]
        found.append(Words(note, (beside, down), 1.9, pi / 2))
    else:
        found.append(Line(((left, each.at_mm), (right, each.at_mm)), "hidden"))
        marks = [(left + (right - left) * s, each.at_mm) for s in (0.1, 0.5, 0.9)]
        found.append(Words(note, (over, beside), 1.9))
    for x, y in marks:
        found += [Line(((x - 4, y), (x + 4, y)), "mark"), Line(((x, y - 4), (x, y + 4)), "mark")]
        found.append(rectangle(x - 1.5, y - 1.5, x + 1.5, y + 1.5, "mark"))
    return shapes(found)


def page_map(page: Page, right: float, low: float) -> str:
    """A small grid of the tiles, this one filled."""
    columns, rows = page.grid
    if columns * rows == 1:
        return ""
    cell = min(10.0 / rows, 18.0 / columns, 5.0)
    x0, y0 = right - columns * cell - 3.0, low - rows * cell - 2.5
    found = []
    for row in range(rows):
        for column in range(columns):
            x, y = x0 + column * cell, y0 + row * cell
            fill = 'rgb("#8a938f")' if (column, row) == page.here else "none"
            found.append(
                f"#place(dx: {mm(x)}, dy: {mm(y)}, rect(width: {mm(cell)}, height: {mm(cell)}, "
                f"fill: {fill}, stroke: 0.13mm + black))"
            )
    return "\n".join(found)


def stamped(number: str, foot: Sequence[str]) -> str:
    """The sheet's number (markup), and below it the day and the stamp of its figures."""
    rows = [f"#soft(text(size: 7.5pt)[{text(each)}])" for each in foot]
    return " \\ ".join([number, *rows])


def title_block(width: float, height: float, rows: tuple[str, str, str], number: str) -> str:
    """Rocket and subject, what is on the sheet, how to use it; sheet number (markup) at right."""
    left, right, low = FRAME_MM, width - FRAME_MM, height - FRAME_MM
    top = low - TITLE_MM
    cells = (left, left + 0.30 * (right - left), right - 46.0)
    lines = [Line(((left, top), (right, top)), "mark")]
    lines += [Line(((x, top), (x, low)), "mark") for x in cells[1:]]
    name, subject, use = rows
    room = (cells[1] - cells[0] - 4, cells[2] - cells[1] - 4)
    return "\n".join(
        [
            shapes(lines),
            at(
                left + 2.5,
                top + 1.6,
                f"#box(width: {mm(room[0])})[#text(size: 11pt, weight: 600)"
                f"[{text(name)}]\\ #soft(text(size: 7.5pt)[{text(use)}])]",
            ),
            at(
                cells[1] + 2.5,
                top + 1.8,
                f"#box(width: {mm(room[1])})[#text(size: 9.5pt)[{text(subject)}]]",
            ),
            at(cells[2] + 2.5, top + 1.8, f"#text(size: 8pt)[{number}]"),
        ]
    )
