"""Running text, tables and sketches over as many sheets as they take, with border and title."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS
from goodflight.outputs.bench.pdf import figures
from goodflight.studies.bench.section import reduced
from goodflight.studies.bench.shapes import Template

NUMBER: Final = "#context [sheet #counter(page).display() of #counter(page).final().first()]"
SIDE_MM: Final = 14.0  # margin beside running text


def flow_sheets(
    rocket: str,
    invented: bool,
    paper: str,
    subject: str,
    blocks: Sequence[str],
    number: str = NUMBER,
    use: str = "build book",
) -> str:
    """Running text and tables over as many sheets as they take."""
    width, height = PAPERS[paper]
    use += ", invented" if invented else ""
    ground = "\n".join(
        [
            parts.border(width, height),
            parts.title_block(width, height, (rocket, subject, use), number),
        ]
    )
    body = "\n\n".join(blocks)
    return (
        f"#page(width: {mm(width)}, height: {mm(height)}, margin: (x: {mm(SIDE_MM)}, "
        f"top: 14mm, bottom: 27mm), background: place(top + left, box(width: {mm(width)}, "
        f"height: {mm(height)})[\n{ground}\n]))[\n{body}\n]"
    )


def heading(words: str) -> str:
    """A heading."""
    shown = f"[#text(size: 12pt, weight: 600)[{text(words)}]]"
    return f"#block(above: 4mm, below: 2mm, sticky: true){shown}"


def table(columns: str, head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table with a head that is repeated on every sheet."""
    cells = [f"[{text(cell)}]" for row in rows for cell in row]
    names = ", ".join(f"[#soft[{text(each)}]]" for each in head)
    return (
        f"#table(columns: {columns}, stroke: (x: none, y: hair), inset: (x: 1mm, y: 0.9mm), "
        f"table.header({names}),\n{', '.join(cells)})"
    )


def fitted(drawn: Template, paper: str) -> Template:
    """A drawing as wide as the text at most; made smaller, it names no scale."""
    room = (PAPERS[paper][0] - 2 * SIDE_MM) / 1e3
    if drawn.bounds.width_m <= room:
        return drawn
    return replace(reduced(drawn, room), title=drawn.title.partition(", scale")[0])


def packing_block(drawn: Sequence[Template], paper: str) -> str:
    """How the bays are packed, with the order of insertion."""
    told = [text(str(note)) for each in drawn for note in each.notes[:1]]
    shown = figures([fitted(each, paper) for each in drawn], 1)
    return "\n\n".join([heading("Packing of the bays"), shown, *told]) if drawn else ""
