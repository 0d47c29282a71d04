"""Small cards on paper: how large they are, how many to a sheet, and where to cut.

A card that does not hold all its lines goes on with the next one; Typst measures them.
"""

from dataclasses import dataclass
from typing import Final, Literal

from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS

Size = Literal["half", "quarter"]


@dataclass(frozen=True)
class Sheet:
    """A sheet of paper with cards on it [mm]."""

    wide_mm: float
    high_mm: float
    columns: int
    rows: int
    letters_pt: tuple[float, ...]  # the first in which a card holds all its lines, else the last
    gap_mm: float  # between two lines of a card

    @property
    def card_mm(self) -> tuple[float, float]:
        """Width and height of one card."""
        return self.wide_mm / self.columns, self.high_mm / self.rows


LARGE, SMALL = (13.0, 12.0, 11.0, 10.5, 10.0), (10.0, 9.5, 9.0, 8.5)
LETTER_WIDE, LETTER_HIGH = PAPERS["letter"]
SHEETS: Final[dict[str, dict[Size, Sheet]]] = {
    "a4": {
        "half": Sheet(297.0, 210.0, 2, 1, LARGE, 1.8),
        "quarter": Sheet(210.0, 297.0, 2, 2, SMALL, 1.2),
    },
    "letter": {
        "half": Sheet(LETTER_HIGH, LETTER_WIDE, 2, 1, LARGE, 1.8),
        "quarter": Sheet(LETTER_WIDE, LETTER_HIGH, 2, 2, SMALL, 1.0),
    },
    "a5": {
        "half": Sheet(148.0, 210.0, 1, 1, LARGE, 1.8),
        "quarter": Sheet(210.0, 148.0, 2, 1, SMALL, 1.2),
    },
    "a6": {
        "half": Sheet(105.0, 148.0, 1, 1, SMALL, 1.1),
        "quarter": Sheet(105.0, 148.0, 1, 1, SMALL, 1.2),
    },
}
EDGE_MM: Final = 6.0  # inside a card: no printer reaches the edge of the paper
LEAST_PT: Final = 8.0  # smallest letters on a card
FOOT_MM: Final = 5.0
PREAMBLE: Final = """\
#let shared(items, wide, high, gap) = {
  let found = ((),)
  let used = 0pt
  for item in items {
    let tall = measure(block(width: wide, item)).height + gap
    if used + tall > high and found.last().len() > 0 { found.push(()); used = 0pt }
    found.last().push(item)
    used += tall
  }
  found
}
#let card(title, about, foot, items, wide, high, edge, low, gap, sizes) = {
  let top = block(width: wide - 2 * edge, below: gap)[
    #text(size: 12pt, weight: 600)[#title] #h(1fr) #text(size: 8pt)[#about]
    #v(-2.2mm) #line(length: 100%, stroke: 0.25mm)]
  let room = high - 2 * edge - low - measure(top).height - gap
  let at(size) = {
    let sized = items.map(item => { set text(size: size); item })
    shared(sized, wide - 2 * edge, room, gap)
  }
  let fits = sizes.find(size => at(size).len() == 1)
  let groups = at(if fits == none { sizes.last() } else { fits })
  groups.enumerate().map(((number, group)) => box(width: wide, height: high, inset: edge, {
    top
    for item in group { block(width: 100%, above: gap, below: gap, item) }
    place(bottom + left, text(size: 8pt)[#foot #h(1fr)
      #if groups.len() > 1 [#{number + 1} of #groups.len()]])
  }))
}
#let imposed(cards, columns, rows) = {
  for (number, chunk) in cards.chunks(columns * rows).enumerate() {
    if number > 0 { pagebreak() }
    grid(columns: columns, rows: rows,
      stroke: if columns * rows > 1 { (paint: black, thickness: 0.1mm, dash: "dashed") },
      ..chunk)
  }
}
"""


@dataclass(frozen=True)
class CardText:
    """One card in Typst markup: title, what stands right of it, its lines."""

    title: str
    about: str
    items: tuple[str, ...]


def pages(cards: list[CardText], size: Size, paper: str, foot: str) -> str:
    """Cards of one size on sheets of one paper, in order, with lines to cut along."""
    sheet = SHEETS[paper][size]
    wide, high = sheet.card_mm
    sizes = ", ".join(f"{each}pt" for each in sheet.letters_pt)
    made = []
    for each in cards:
        items = "".join(f"[{item}]," for item in each.items)
        made.append(
            f"..card([{text(each.title)}], [{text(each.about)}], [{text(foot)}], ({items}), "
            f"{mm(wide)}, {mm(high)}, {mm(EDGE_MM)}, {mm(FOOT_MM)}, {mm(sheet.gap_mm)}, "
            f"({sizes},))"
        )
    return (
        f"#set page(width: {mm(sheet.wide_mm)}, height: {mm(sheet.high_mm)}, margin: 0mm)\n"
        f"#set text(size: {LEAST_PT}pt, fill: black)\n"
        f"#context imposed(({', '.join(made)},), {sheet.columns}, {sheet.rows})\n"
    )
