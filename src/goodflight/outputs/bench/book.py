"""The build book as one PDF: drawing, parts, what to buy, steps, packing, cut sheets, templates."""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.dimension_lines import sized_words
from goodflight.outputs.bench.first_sheet import first_sheet
from goodflight.outputs.bench.flow import (
    NUMBER,
    SIDE_MM,
    fitted,
    flow_sheets,
    heading,
    packing_block,
    table,
)
from goodflight.outputs.bench.list_words import (
    FITS,
    bought,
    bought_line,
    fit_note,
    fit_rows,
    size_words,
    total,
)
from goodflight.outputs.bench.marks import text
from goodflight.outputs.bench.order_text import FOOT, glue_words, span_words, takes_words
from goodflight.outputs.bench.pages import pages_for
from goodflight.outputs.bench.paper import PAPERS, Scale, check_mm
from goodflight.outputs.bench.pdf import compiled, document_head, figures, sheet, sized, table_of
from goodflight.outputs.bench.sheet_parts import bar_words
from goodflight.outputs.bench.spoken import spoken, spoken_template
from goodflight.outputs.drawing.side import items_of
from goodflight.outputs.figures import LIGHT_UNIT, SIZE_UNIT, SIZE_UNIT_NAME
from goodflight.outputs.words import CAUTION, KNOWN
from goodflight.quantity import show
from goodflight.quantity.said import told
from goodflight.studies.bench.answers import Book
from goodflight.studies.bench.cutlist import CutList
from goodflight.studies.bench.limits import general_words
from goodflight.studies.bench.order import Order, Placed
from goodflight.studies.bench.section import overview
from goodflight.studies.bench.shapes import Template, TemplateSet
from goodflight.studies.cautions import CAUTIONS
from goodflight.studies.unseen import HEAD, UNSEEN, second_reader

TO_FILL_IN: Final = "#box(width: 12mm, height: 3mm, stroke: (bottom: 0.2mm))"
ON_ONE: Final = 4  # overviews of cut sheets that stay together
HOW: Final = "#context [; how: sheet #counter(page).at(<how>).first()]"
PRINT: Final = (
    'Print at 100 % ("actual size"). Measure both bars of {bar} with a steel rule before '
    "cutting; if they are off, print again with what you measured: --measured-check and "
    "--measured-down."
)
SMALL: Final = ("a5",)  # too small for most templates in one piece: they are printed apart
APART: Final = (
    "The templates are not in a book of this paper, which would cut most of them into tiles. Print "
    "them apart, on A4, Letter or larger: goodflight print DIR --what templates, and --what guides."
)
IN_BOOK: Final = (
    "powder",
    "motor",
    "epoxy",
    "thin_glue",
    "warm_cure",
    "paint",
    "dust",
    "blade",
    "cells",
)
CHECKS: Final = (
    "Checks",
    "A step is done when its check is done. Photograph what the next step hides.",
)


def build_book(
    book: Book,
    paper: str = "a4",
    scale: Scale | None = None,
    foot: Sequence[str] = (),
    units: str = "metric",
) -> bytes:
    """The whole build book.

    Parameters
        book : Book - studies' answers. [-]
        paper : str - one of PAPERS. [-]
        scale : Scale or None - printer correction for the true-size sheets. [-]
        foot : sequence of str - lines for the foot of every sheet: day, stamp. [-]
        units : str - of the drawing on the first sheet and of the sizes on templates. [-]
    Returns
        pdf : bytes - one file, templates at 1:1 at its end. [-]
    Raises
        KeyError - no such paper
    Validity
        As its parts.
    Source
        Own layout.
    Example
        none
    """
    scale = scale or Scale()
    book = _spoken(book, units)
    book = replace(book, templates=sized(_all_true(book), units), guides=None)
    who, number = (book.rocket, book.invented), parts.stamped(NUMBER, foot)
    head = TemplateSet(book.rocket, "build book", (), book.invented)
    wires = [] if book.wiring is None else [_wires(book.wiring, paper)]
    before = [
        packing_block(book.packing, paper),
        _topics(book, before_flight=True),
        *wires,
        _unseen(),
    ]
    lists = [*list_blocks(book.cuts, paper, units), _topics(book, before_flight=False)]
    drawn = [
        first_sheet(book.layout, paper, number, units, book.cut_error_m),
        flow_sheets(
            *who, paper, "Cautions and parts", [_cautions(book), _parts(book, units)], number
        ),
        flow_sheets(*who, paper, "Cut list, what to buy, workshop", lists, number),
        flow_sheets(*who, paper, "Order of assembly", [_order(book.order, units)], number),
        flow_sheets(*who, paper, "Before the flight", before, number),
        *_templates(book, paper, scale, number, units),
    ]
    return compiled(document_head(head) + parts.PREAMBLE + "\n".join(drawn))


def _templates(book: Book, paper: str, scale: Scale, number: str, units: str) -> list[str]:
    """How they are used, and the templates at 1:1; of a small book, where they are."""
    who = (book.rocket, book.invented, paper)
    if paper in SMALL:
        words = [heading("Templates"), text(APART)]
        return [flow_sheets(*who, "Templates", words, number)]
    how = [_how(book, paper, units)]
    return [
        flow_sheets(*who, "Templates, and how to use them", how, number),
        *true_sheets(book.templates, paper, scale, number, units),
    ]


def _spoken(book: Book, units: str) -> Book:
    """The book with the words of its drawings in the reader's units."""
    wiring, guides = book.wiring, book.guides
    return replace(
        book,
        templates=spoken(book.templates, units),
        guides=None if guides is None else spoken(guides, units),
        packing=tuple(spoken_template(each, units) for each in book.packing),
        wiring=None if wiring is None else spoken_template(wiring, units),
        notes=tuple(told(note, units) for note in book.notes),
    )


def _all_true(book: Book) -> TemplateSet:
    """Templates and guides together, so that small ones share sheets."""
    if book.guides is None:
        return book.templates
    subject = f"{book.templates.subject}, {book.guides.subject}"
    drawn = (*book.templates.templates, *book.guides.templates)
    notes = (*book.templates.notes, *book.guides.notes)
    return replace(book.templates, subject=subject, templates=drawn, notes=notes)


def _wires(diagram: Template, paper: str) -> str:
    """The wiring with its notes."""
    notes = (text(str(note)) for note in diagram.notes)
    return "\n\n".join([figures([fitted(diagram, paper)], 1), *notes])


def true_sheets(of: TemplateSet, paper: str, scale: Scale, number: str, units: str) -> list[str]:
    """Templates at 1:1; each leads back to the table that says how it is used."""
    seen: set[str] = set()
    found = []
    for page in pages_for(of.templates, paper, scale):
        new = {each.template.key for each in page.placed} - seen
        marks = "".join(f"#metadata(none) <{_mark(of, key)}>" for key in sorted(new))
        found.append(sheet(of, page, scale, number=number, units=units, above=marks, how=HOW))
        seen |= new
    return found


def _mark(of: TemplateSet, key: str) -> str:
    """A template's mark in the file."""
    return re.sub(r"[^a-z0-9-]+", "-", f"{of.subject}-{key}".lower())


def _how(book: Book, paper: str, units: str) -> str:
    """Every template: on which sheet, what to check on paper, how it is used."""
    drawn = book.templates.templates
    marks = [_mark(book.templates, each.key) for each in drawn]
    where = [f"#context counter(page).at(<{mark}>).first()" for mark in marks]
    notes = [text(str(note)) for note in book.templates.notes]
    return "\n\n".join(
        [
            f"{heading('Templates, and how to use them')} #metadata(none) <how>",
            text(PRINT.format(bar=bar_words(check_mm(paper)))),
            text(general_words().told(units)),
            *notes,
            table_of(drawn, where, units),
        ]
    )


def _cautions(book: Book) -> str:
    rows = [heading("Before you begin"), text(CAUTION)]
    if book.invented:
        rows.append(text("This rocket is invented; the book shows how one looks."))
    rows += [text(str(note)) for note in book.notes]
    items = "\n".join(
        f"#block(stroke: (left: 0.8mm + black), inset: (left: 2mm, y: 0.6mm), below: 2mm)"
        f"[#text(weight: 600)[{text(name)}.] {text(words)}]"
        for name, words in (*((CAUTIONS[k].title, CAUTIONS[k].words) for k in IN_BOOK), CHECKS)
    )
    return "\n\n".join([*rows, items])


def _unseen() -> str:
    """What no calculation sees, to tick: once by whoever packs, once by a second reader."""
    box = "#box(width: 3.6mm, height: 3.6mm, stroke: 0.2mm)"
    rows = [heading("What no calculation sees"), text(HEAD.partition(": ")[2].capitalize() + ".")]
    rows += [
        f"{box} #h(1mm) {box} #h(2mm) #text(weight: 600)[{text(each.title)}.] {text(each.check)}. "
        f"{text(each.words)}."
        for each in UNSEEN
    ]
    return "\n\n".join([*rows, text(second_reader())])


def _parts(book: Book, units: str) -> str:
    """The parts, those of the drawing with its numbers."""
    numbers = {item.name: str(n) for n, item in enumerate(items_of(book.layout), 1)}
    listed = sorted(book.parts, key=lambda x: int(numbers.get(x.name, "9999")))
    rows = [
        (
            numbers.get(x.name, ""),
            x.name,
            x.kind.replace("_", " "),
            x.material,
            size_words(x.fore_m, units),
            size_words(x.aft_m, units),
            mass_words(x.mass_kg, units),
            KNOWN.get(x.known, x.known),
        )
        for x in listed
    ]
    unit = SIZE_UNIT[units]
    head = ("no.", "part", "kind", "material", f"from {unit}", f"to {unit}", "mass", "known by")
    return (
        heading("Parts, numbered as in the drawing")
        + "\n\n"
        + table("(auto, 2fr, 1fr, 1.6fr, auto, auto, auto, auto)", head, rows)
    )


def mass_words(mass_kg: float | None, units: str) -> str:
    """A mass in grams or ounces; a room of the body has none."""
    return "no mass" if mass_kg is None else show(mass_kg, "mass", unit=LIGHT_UNIT[units])


def _cuts(cuts: CutList, units: str) -> str:
    rows = [
        (
            str(c.count),
            c.name,
            bought(c.source, c.sizes_m, units),
            size_words(c.length_m, units),
            size_words(c.width_m, units)
            or (f"dia. {size_words(c.diameter_m, units)}" if c.diameter_m else ""),
            size_words(c.thickness_m, units),
        )
        for c in cuts.cuts
    ]
    unit = SIZE_UNIT_NAME[units]
    kerf = sized_words(cuts.kerf_m, units)
    note = f"Finished sizes in {unit}; the cut takes {kerf} (kerf)."
    return "\n\n".join(
        [
            heading("Cut list"),
            text(note),
            table(
                "(auto, 1.5fr, 2fr, auto, auto, auto)",
                ("count", "piece", "from", "length", "width", "thick"),
                rows,
            ),
            *(text(each) for each in cuts.left_out),
            *_fits(cuts, units),
        ]
    )


def _fits(cuts: CutList, units: str) -> list[str]:
    """What goes into what along the body, with the limits of its outside."""
    drawn = table("(1fr, 1fr, 1.4fr, auto, 3fr)", FITS, fit_rows(cuts, units))
    return [heading("What goes into what"), text(fit_note(units)), drawn] if cuts.fits else []


def list_blocks(cuts: CutList, paper: str, units: str = "metric") -> list[str]:
    """Cut list, shopping list, cut sheets as overviews."""
    room = (PAPERS[paper][0] - 2 * SIDE_MM - 7.0) / 1e3
    columns = 1 if room < 0.15 or len(cuts.sheets) < 3 else 2
    drawn = figures([overview(each, room / columns) for each in cuts.sheets], columns)
    if columns > 1 and len(cuts.sheets) <= ON_ONE:
        drawn = f"#block(breakable: false)[{drawn}]"
    return [_cuts(cuts, units), _buys(cuts, units), drawn]


def _buys(cuts: CutList, units: str) -> str:
    rows = [
        (*bought_line(b, units), "" if b.cost is None else f"{b.cost:.2f}", "") for b in cuts.buys
    ]
    head = ("amount", "what", "note", "price", "paid")
    drawn = table("(auto, 2fr, 2fr, 14mm, 16mm)", head, rows)
    return "\n\n".join([heading("What to buy"), drawn, text(total(cuts))])


def _topics(book: Book, before_flight: bool) -> str:
    """Headings with their lines: of the building, or of what comes before the flight."""
    blocks = [
        "\n\n".join([heading(topic.title), *(text(line) for line in topic.lines)])
        for topic in book.workshop
        if topic.before_flight == before_flight
    ]
    return "#[#set text(size: 8pt)\n" + "\n\n".join(blocks) + "\n]"


def _step(placed: Placed, order: Order, units: str) -> str:
    step, ticked = placed.step, order.done.get(placed.step.key)
    done = bool(ticked and ticked.done)
    box = f"#box(width: 3.6mm, height: 3.6mm, stroke: 0.2mm){'[#align(center)[x]]' if done else ''}"
    blanks = " ".join(f"#soft[{name}] {TO_FILL_IN}" for name in ("mass", "date", "initials"))
    lines = [f"#text(weight: 600)[{placed.number}\\. {text(step.title)}] #h(1fr) {blanks}"]
    for name, words in (
        ("takes", takes_words(step)),
        ("glue", glue_words(step, units)),
        ("tools", ", ".join(step.tools)),
        ("how", told(step.how, units)),
        ("look again", told(step.warning, units)),
        ("why here", "; ".join(placed.reasons)),
        ("check", told(step.check, units)),
        ("care", ", ".join(CAUTIONS[key].title.lower() for key in step.cautions)),
        ("weight", ticked.mass if ticked else ""),
        ("photo", ticked.photo if ticked else ""),
    ):
        if words:
            lines.append(f"#soft[{name}:] {text(words)}")
    if placed.no_return:
        shut = text(
            "No return: after this you can no longer reach " + "; ".join(placed.shut_off) + "."
        )
        lines.append(f"#block(fill: black, inset: 1mm)[#text(fill: white, weight: 600)[{shut}]]")
    body = " \\\n".join(lines)
    edge = "1.2mm + black" if placed.no_return else "hair"
    return (
        f"#block(breakable: false, width: 100%, stroke: (left: {edge}), inset: (left: 2mm, "
        f"y: 0.5mm), below: 2.2mm)[#grid(columns: (6mm, 1fr), [{box}], [{body}])]"
    )


def _order(order: Order, units: str) -> str:
    shut = [x for x in order.steps if x.no_return]
    names = "; ".join(f"{x.number} {x.step.title}" for x in shut)
    intro = (
        f"Worked out so that no step blocks access to a later one. {FOOT} "
        f"Points of no return: {names}."
    )
    return "\n".join(
        [
            heading("Order of assembly"),
            text(intro),
            *(f"#v(1mm)\n{text(words)}" for words in span_words(order)),
            "#v(2mm)",
            "#set text(size: 8pt)",
            *(_step(each, order, units) for each in order.steps),
        ]
    )
