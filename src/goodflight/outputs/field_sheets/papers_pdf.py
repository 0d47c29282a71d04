"""Cards, checklists and packing list as PDF, on any of four papers."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Final

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import text
from goodflight.outputs.bench.pdf import compiled, document_head
from goodflight.outputs.field_sheets import imposed
from goodflight.outputs.field_sheets import marked as pen
from goodflight.outputs.field_sheets.imposed import LEAST_PT, CardText
from goodflight.outputs.field_sheets.marked import marked
from goodflight.outputs.words import CAUTION
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.cautions import caution, cautions_of
from goodflight.studies.lists.cards import Field, FieldPapers, PaperCard
from goodflight.studies.lists.carry import Carried
from goodflight.studies.lists.checklists import Checklist, Line

HOW_TO: Final = (
    "One reads the bold words aloud, one does it and answers. Tick when it is true. Black bar: a "
    "flight is lost without it, a second person looks and ticks too."
)
FORM_HIGH: Final = "1.5em"  # of a place for a pen on a form
ALWAYS: Final = ("misfire", "landed")  # cautions on every card and list
TICK: Final = "#move(dy: -0.5mm, tick)"
BOX: Final = {
    "papers": "Papers", "rocket": "Rocket", "motor": "Motor box", "recovery": "Recovery box",
    "electronics": "Electronics", "pad": "Pad bag", "measuring": "Measuring",
    "search": "Search", "people": "People and repair",
}  # fmt: skip


def papers_pdf(
    papers: FieldPapers, paper: str = "a4", foot: Sequence[str] = ()
) -> tuple[bytes, str]:
    """One sheet of the field papers, and what is on it in words.

    Parameters
        papers : FieldPapers - the one to print, `only` that. [-]
        paper : str - a4, letter, a5 or a6. [-]
        foot : sequence of str - lines for the foot: day, stamp. [-]
    Returns
        pdf, words : bytes, str - the file; "4 cards to cut". [-]
    Raises
        KeyError - no such paper
    Validity
        Black on white; no letters below 8 pt.
    Source
        Own layout.
    Example
        none
    """
    if papers.what == "cards":
        return cards_pdf(papers, paper, foot), f"{len(papers.cards)} cards to cut"
    if papers.what == "lists":
        lines = sum(len(each.lines) for each in papers.lists)
        return lists_pdf(papers, paper, foot), f"{len(papers.lists)} checklists, {lines} lines"
    return carry_pdf(papers, paper, foot), f"{len(papers.carried)} things to carry"


def cards_pdf(papers: FieldPapers, paper: str = "a4", foot: Sequence[str] = ()) -> bytes:
    """Flight card, misfire, after the flight, witness summary: A6, or a quarter of the sheet."""
    misfire = next(each for each in papers.lists if each.key == "misfire")
    cards = [
        _card_text(papers, each, _lines(misfire) if each.key == "misfire" else ())
        for each in papers.cards
    ]
    return _pdf(papers, "cards", imposed.pages(cards, "quarter", paper, _foot(papers, foot)))


def lists_pdf(papers: FieldPapers, paper: str = "a4", foot: Sequence[str] = ()) -> bytes:
    """Every checklist: A5, or half of the sheet."""
    cards = [_list_text(papers, each) for each in papers.lists]
    return _pdf(papers, "lists", imposed.pages(cards, "half", paper, _foot(papers, foot)))


def carry_pdf(papers: FieldPapers, paper: str = "a4", foot: Sequence[str] = ()) -> bytes:
    """What goes into the car, by box, to tick twice."""
    by_box = groupby(papers.carried, key=lambda each: each.box)
    boxes = [_box(BOX[box], list(things)) for box, things in by_box]
    lead = "First box: laid out. Second: in the car. Counts are for one attempt and one more."
    card = CardText(
        "Packing list",
        f"{papers.rocket}, {papers.motor}",
        (_small(lead), *boxes, *_cautions([CAUTION])),
    )
    return _pdf(papers, "packing list", imposed.pages([card], "half", paper, _foot(papers, foot)))


def _pdf(papers: FieldPapers, subject: str, pages: str) -> bytes:
    of = TemplateSet(papers.rocket, subject, (), papers.invented)
    head = document_head(of) + parts.PREAMBLE + pen.PREAMBLE + imposed.PREAMBLE
    return compiled(head + "#set par(leading: 0.45em)\n" + pages)


def _foot(papers: FieldPapers, foot: Sequence[str]) -> str:
    shown = (f"plan {papers.plan}", *foot, *(("invented",) if papers.invented else ()))
    return ", ".join(shown)


def _list_text(papers: FieldPapers, found: Checklist) -> CardText:
    lead = _small(f"{found.when[0].upper()}{found.when[1:]}. {HOW_TO}")
    cautions = _cautions(dict.fromkeys([*found.cautions, *map(caution, ALWAYS)]))
    about = f"{papers.rocket}, {papers.motor}"
    return CardText(found.title, about, (lead, *_lines(found), *cautions))


def _card_text(papers: FieldPapers, card: PaperCard, lines: Iterable[str]) -> CardText:
    items = [_small(card.lead), *lines]
    items += [_field(each) for each in card.fields]
    items += [f"#tick {marked(each)}" for each in card.ticks]
    return CardText(
        card.title,
        f"{papers.rocket}, {papers.motor}",
        (*items, *_cautions(cautions_of((*card.cautions, *ALWAYS)))),
    )


def _small(words: str) -> str:
    return f"#text(size: {LEAST_PT}pt)[{text(words)}]"


def _field(field: Field) -> str:
    """A line of a form; its label stands beside the first line of what is filled in."""
    strut = pen.strut(field.value, FORM_HIGH)
    return (
        f"#grid(columns: (22mm, 1fr), [{strut}#soft[{text(field.label)}]], "
        f"[{strut}{marked(field.value, FORM_HIGH)}])"
    )


def _lines(found: Checklist) -> tuple[str, ...]:
    return tuple(_line(number, each) for number, each in enumerate(found.lines, 1))


def _line(number: int, line: Line) -> str:
    """A box to tick, what is read, what is answered; a second box where both look."""
    who: list[str] = [] if line.does == "builder" else [line.does]
    who += ["where fitted"] if line.fitted else []
    said = f"*{number} {text(line.call)}* {marked(line.reply)}"
    said += f" #soft[({text(', '.join(who))})]" if who else ""
    edge = "1.1mm + black" if line.kill else "none"
    second = TICK if line.kill else ""
    return (
        f"#block(width: 100%, breakable: false, stroke: (left: {edge}), inset: (left: 1.8mm))"
        f"[#grid(columns: (5mm, 1fr, 5mm), [{TICK}], [{said}], [#align(right)[{second}]])]"
    )


def _cautions(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(
        f"#block(width: 100%, stroke: 0.25mm, inset: 1mm)[{_small(each)}]" for each in words
    )


def _box(title: str, things: Sequence[Carried]) -> str:
    """A box with all that goes in: it stays together on one card."""
    rows = ", ".join(f"[{_thing(each)}]" for each in things)
    return f"#stack(spacing: 1.6mm, v(0.6mm), [#text(weight: 600)[{text(title)}]], {rows})"


def _thing(each: Carried) -> str:
    count = f"{each.count} x " if each.count > 1 else ""
    more = [each.why] if each.why else []
    more += ["where fitted"] if each.fitted else []
    said = marked(f"{count}{each.what}") + (f" #soft[({text('; '.join(more))})]" if more else "")
    return f"#grid(columns: (4.6mm, 5mm, 1fr), [{TICK}], [{TICK}], [{said}])"
