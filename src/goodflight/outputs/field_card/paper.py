"""The field card on A5 or A6: front what is looked up, back the winds one by one and cautions.

Black and white; nothing is told by colour.
"""

from datetime import date
from typing import Final

from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.pdf import compiled
from goodflight.outputs.bench.sheet_parts import PREAMBLE
from goodflight.outputs.field_card import words
from goodflight.outputs.field_map.allowed_words import allowed_words
from goodflight.outputs.field_sheets.marked import marked
from goodflight.outputs.words import CAUTION
from goodflight.studies.field.card import FieldCard

SIZES: Final = {"a5": (148.0, 210.0, 11.0), "a6": (105.0, 148.0, 8.0)}  # width, height [mm], pt


def card_pdf(card: FieldCard, paper: str = "a6", units: str = "metric", day: str = "") -> bytes:
    """The card as a PDF of two or more sides.

    Parameters
        card : FieldCard - as worked out. [SI]
        paper : str - "a5" or "a6". [-]
        units : str - "metric" or "imperial". [-]
        day : str - when it was made; empty = today. [-]
    Returns
        pdf : bytes - the file. [-]
    Raises
        KeyError - no such paper
    Validity
        As the card.
    Source
        Own layout.
    Example
        none
    """
    width, height, size = SIZES[paper]
    made = day or date.today().isoformat()
    invented = ", invented" if card.grid.invented else ""
    foot = f"{card.rocket}, plan {card.plan}{invented}. Made {made}, figures {card.stamp}"
    body = "\n".join(
        [
            f"#set document(title: [{text(f'{card.rocket}: field card')}], date: none)",
            PREAMBLE,
            f"#set page(width: {mm(width)}, height: {mm(height)}, margin: (x: 6mm, top: 6mm, "
            f"bottom: 11mm), footer: text(size: {0.75 * size}pt)[{text(foot)} #h(1fr) "
            "#context [side #counter(page).display()]])",
            f"#set text(size: {size}pt)",
            "#set par(leading: 0.5em, spacing: 0.8em)",
            "#set table.cell(breakable: false)",  # a wind stays on one side
            *_front(card, units, size),
            _winds(card, units),
            _allowed(card, units, size),
            *_cautions(card, size),
        ]
    )
    return compiled(body)


def _front(card: FieldCard, units: str, size: float) -> list[str]:
    """What is looked at first, each in a box of its own."""
    rows = [
        f"#block(width: 100%, stroke: {1.0 if key == 'refuse' else 0.4}pt, inset: 2mm, below: "
        f"1.5mm)[#text(size: {1.35 * size}pt, weight: 600)[{marked(line)}]]"
        for key, line in words.top_lines(card, units)
    ]
    small = (
        words.refuse_why(card, units),
        words.limits_words(card, units),
        *words.pull_advice(card),
        words.wind_words(card),
        words.stands_words(card),
    )
    return [*rows, *(f"#text(size: {0.85 * size}pt)[{marked(each)}]\n" for each in small)]


def _winds(card: FieldCard, units: str) -> str:
    """A line for each wind: what fails least there."""
    cells = []
    for wind, cell in words.by_wind(card, units):
        refuse = f"#linebreak()*{marked(cell.refuse)}*" if cell.refuse else ""
        mainly = dict(cell.why)["mainly"]
        cells.append(
            f"[*{marked(wind)}*], [{marked('. '.join(cell.do))}{refuse}], "
            f"[{marked(cell.chance)}#linebreak()#soft[{marked(mainly)}]],"
        )
    return "\n".join(
        [
            "#v(1mm)",
            "#table(columns: (auto, 1.3fr, 1fr), stroke: hair, inset: 1.3mm,",
            "table.header([*wind*], [*what fails least*], [*anything fails, mainly*]),",
            *cells,
            ")",
        ]
    )


def _allowed(card: FieldCard, units: str, size: float) -> str:
    """The highest apogee that the field allows, by wind."""
    told = allowed_words(card.allowed, units)
    notes = [f"#text(size: {0.85 * size}pt)[{marked(each)}]\n" for each in told.notes]
    if not told.rows:
        return "\n".join([f"*{marked(told.title)}*", *notes])
    return "\n".join(
        [
            f"#v(1mm) *{marked(told.title)}*",
            "#table(columns: (auto, 1.2fr, 1.2fr, 1fr), stroke: hair, inset: 1.1mm,",
            f"table.header({', '.join(f'[*{marked(each)}*]' for each in told.head)}),",
            *("".join(f"[{marked(each)}], " for each in row) for row in told.rows),
            ")",
            *notes,
        ]
    )


def _cautions(card: FieldCard, size: float) -> list[str]:
    return [f"#text(size: {0.85 * size}pt)[{marked(each)}]\n" for each in (*card.cautions, CAUTION)]
