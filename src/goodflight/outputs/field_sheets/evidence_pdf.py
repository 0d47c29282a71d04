"""One page of evidence: eight figures over the upper third, then the 35 answers."""

from collections.abc import Sequence
from math import ceil
from typing import Final

from goodflight.outputs.bench import flow as b
from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS
from goodflight.outputs.bench.pdf import compiled, document_head
from goodflight.outputs.field_sheets import evidence_words as say
from goodflight.outputs.field_sheets import marked as pen
from goodflight.outputs.field_sheets.marked import marked
from goodflight.outputs.words import CAUTION, STATES
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.questions.evidence import Answered, Evidence, Number

LINE: Final = 62  # letters of a line of one column, about
SIDE_MM, TOP_MM, LOW_MM = 14.0, 14.0, 27.0  # margins of a running sheet
FITTED: Final = """\
#let fitted(above, below, wide, high) = context {
  let room = high - measure(block(width: wide, above)).height - 3mm
  let at(size) = block(width: wide, { set text(size: size); below })
  let sizes = (9pt, 8.75pt, 8.5pt, 8.25pt, 8pt)
  let fits = sizes.find(size => measure(at(size)).height <= room)
  above
  at(if fits == none { sizes.last() } else { fits })
}
"""
TICK: Final = "#let tick = [#box(width: 2.2mm, height: 2.2mm, stroke: 0.2mm)#h(0.5mm)]\n"


def evidence_pdf(
    found: Evidence, paper: str = "a4", foot: Sequence[str] = (), units: str = "metric"
) -> bytes:
    """The sheet of evidence.

    Parameters
        found : Evidence - the study's answers. [SI]
        paper : str - "a4" or "letter". [-]
        foot : sequence of str - lines for the foot: day, stamp. [-]
        units : str - "metric" or "imperial". [-]
    Returns
        pdf : bytes - one page, where the answers have room on it. [-]
    Raises
        KeyError - no such paper
    Validity
        Long advice for much that is not known may take a second page.
    Source
        Own layout.
    Example
        none
    """
    of = TemplateSet(found.rocket, "evidence", (), found.invented)
    wide, high = PAPERS[paper][0] - 2 * SIDE_MM, PAPERS[paper][1] - TOP_MM - LOW_MM
    above = _head(found) + _numbers(found.numbers, units)
    blocks = [
        f"#fitted([{above}], [{_answers(found.answers, units)}], {mm(wide)}, {mm(high)})",
    ]
    number = parts.stamped(b.NUMBER, foot)
    subject = f"Evidence, plan {found.plan}, motor {found.motor}"
    page = b.flow_sheets(
        found.rocket,
        invented=found.invented,
        paper=paper,
        subject=subject,
        blocks=blocks,
        number=number,
        use="evidence",
    )
    head = document_head(of) + parts.PREAMBLE + pen.PREAMBLE + TICK
    return compiled(head + FITTED + page)


def _head(found: Evidence) -> str:
    said = (
        f"{found.motor} at {found.site}; masses {found.weighed}; {found.flights} simulated "
        f"flights; {say.counted(found)}. {CAUTION}"
    )
    sign = "".join(f"{who} #blank(1fr, 1.4em); " for who in ("Flyer", "Inspector", "Day, time"))
    return f"#text(size: 8pt)[{marked(said)}]\n\n#block(above: 3mm)[#text(size: 8pt)[{sign}]]"


def _numbers(numbers: Sequence[Number], units: str) -> str:
    cells = ", ".join(f"[{_number(each, units)}]" for each in numbers)
    return (
        "#block(above: 3mm, below: 2.5mm)[#table(columns: (1fr,) * 4, "
        f"stroke: 0.25mm, inset: 1.6mm, {cells})]"
    )


def _number(number: Number, units: str) -> str:
    figure, beside = say.number_words(number, units)
    size = "19pt" if len(figure) < 9 else "15pt"
    state = "" if number.state in (None, "ok") else f" #h(1fr) *{text(STATES[number.state])}*"
    return (
        f"#text(size: 9pt)[{text(number.title)}{state}] \\ "
        f"#text(size: {size}, weight: 600)[{marked(figure)}] \\ #text(size: 9pt)[{marked(beside)}]"
        f" \\ #text(size: 8pt)[#soft[{text(number.stands_on if number.said.text else '')}]]"
    )


def _answers(answers: Sequence[Answered], units: str) -> str:
    """Two columns of about the same height."""
    rows = [_answer(each, units) for each in answers]
    lengths = [LINE * ceil((len(_plain(each, units)) + 1) / LINE) for each in answers]
    half = next(n for n in range(len(rows)) if 2 * sum(lengths[: n + 1]) >= sum(lengths)) + 1
    left, right = "\n".join(rows[:half]), "\n".join(rows[half:])
    return (
        "#set par(leading: 0.42em)\n"
        f"#grid(columns: (1fr, 1fr), column-gutter: 4mm, [\n{left}\n], [\n{right}\n])"
    )


def _plain(answer: Answered, units: str) -> str:
    """About the letters of an answer, for sharing them between the columns."""
    found = (
        say.answer_words(answer, units),
        say.stands_words(answer),
        say.against_words(answer.against),
        say.show_words(answer),
        answer.subject,
    )
    return " ".join(found)


def _answer(answer: Answered, units: str) -> str:
    show, stands = say.show_words(answer), say.stands_words(answer)
    against = say.against_words(answer.against)
    words = marked(say.answer_words(answer, units))
    if answer.how == "unknown":
        words = f"*{text(say.NOT_KNOWN)}*" + words.removeprefix(text(say.NOT_KNOWN))
    body = f"*{answer.number} {text(answer.subject)}:* {words}"
    body += f" #soft[({text(stands)})]" if stands else ""
    body += f" *{text(against[0].upper() + against[1:])}.*" if against else ""
    body += f" #tick {marked(show)}" if show else ""
    edge = "0.9mm + black" if answer.how == "unknown" else "hair"
    return (
        f"#block(breakable: false, width: 100%, stroke: (left: {edge}), inset: (left: 1.4mm), "
        f"below: 1.35mm)[{body}]"
    )
