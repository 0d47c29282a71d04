"""What a flight said on one sheet of paper, with the log book and the judged predictions."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS
from goodflight.outputs.bench.pdf import compiled
from goodflight.outputs.debrief import next_words, words
from goodflight.outputs.debrief.picture import overlay_svg
from goodflight.outputs.debrief.right_words import kept_words, right_words
from goodflight.quantity.said import told as words_in
from goodflight.studies.questions.debrief import DebriefStudy

FLIGHTS_SHOWN, LINES_SHOWN = 8, 16  # that go on one sheet; the rest is in the log book's table
MORE: Final = "More in `debrief DIR --csv FILE.csv`."
TITLE_MM, TOP_MM = 26.0, 12.0  # foot of the sheet that the title block takes, and above the text
FITTED: Final = """#let fitted(body, wide, high, sizes) = context {
  let one = sizes.map(s => box(width: wide, { set text(size: s); set par(spacing: 0.9em); body }))
  let held = one.filter(b => measure(b).height <= high)
  if held.len() > 0 { held.first() } else { one.last() }
}
"""


def debrief_pdf(
    study: DebriefStudy, paper: str = "a4", foot: Sequence[str] = (), units: str = "metric"
) -> bytes:
    """One flight over its bands, the rocket with it and where to look; beside it what is next, the
    log book and the predictions. Letters grow smaller until each column fits."""
    width, height = PAPERS[paper]
    high = mm(height - TITLE_MM - 2.0 * TOP_MM)
    flight, aside = ("\n".join(each(study, units)) for each in (_flight, _aside))
    block = (study.rocket, "debrief", "invented" if study.invented else "")
    return compiled(
        f"#set document(title: [{text(study.rocket)}: debrief], date: none)\n"
        f"{parts.PREAMBLE}{FITTED}#page(width: {mm(width)}, height: {mm(height)})[\n"
        f"{parts.border(width, height)}\n"
        f"#place(dx: 14mm, dy: 12mm, fitted([{flight}], 104mm, {high}, "
        "(9pt, 8.5pt, 8pt, 7.5pt, 7pt, 6.5pt)))\n"
        f"#place(dx: 124mm, dy: 12mm, fitted([{aside}], {mm(width - 136)}, {high}, "
        "(7.5pt, 7pt, 6.5pt, 6pt, 5.5pt)))\n"
        f"{parts.title_block(width, height, block, parts.stamped('sheet 1 of 1', foot))}\n]"
    )


def _flight(study: DebriefStudy, units: str) -> list[str]:
    """The flight over what was predicted, the rocket before and with it, and where to look."""
    name = f"flight {study.flight}" if study.flight else "no flight noted yet"
    body = [f"#text(size: 13pt, weight: 600)[{text(study.rocket)}: {text(name)}]\n"]
    body += [f"{text(each)}.\n" for each in study.doubts]
    if study.kept is not None:
        body.append(f"{text(kept_words(study.flight, study.kept))}\n")
    if study.why is None:
        return body
    svg = overlay_svg(study.places, study.kept, units, alone=True)
    drawing = svg.replace("\\", "").replace('"', '\\"')
    order = () if study.order is None else words.order_words(study.order, units)
    first = [] if study.again is None else [each for each in study.again.loads if each.first]
    return [
        *body,
        f"#text(weight: 600)[{_sentence(study.why.words)}]\n",
        f'#image(bytes("{drawing}"), format: "svg", width: 100mm)',
        "#soft[Wide band: 9 in 10 of the predicted flights; dark: half. Upright: seen.]\n",
        *(f"{_sentence(words.fitted_words(each, units))}\n" for each in study.fitted),
        *(f"{_sentence(each)}\n" for each in (*study.tied, words.known_words(study))),
        *([_head("Cord, canopy and booster after the charge")] if order else []),
        *(f"{_sentence(each)}\n" for each in order),
        *([_head("Before it flies again: look at these first")] if first else []),
        *(f"{_sentence(words.load_words(each, units))}\n" for each in first),
    ]


def _aside(study: DebriefStudy, units: str) -> list[str]:
    """What is next, the log book, whether the ledger was right."""
    aside = list[str]()
    if study.next is not None:
        found = study.next
        told = [next_words.basis_words(found, units), *next_words.delay_words(found)]
        told += [next_words.motor_words(each, units) for each in found.motors]
        aside += [_head("The next flight"), *(f"{_sentence(each)}\n" for each in told)]
        aside.append(_head(next_words.level_title(found.level)))
        told = [next_words.code_words(found.level)]
        told += [next_words.gap_words(each, units) for each in found.level.gaps]
        aside += [f"{_sentence(each)}\n" for each in told]
    aside.append(_head("Log book"))
    for line in study.book[-FLIGHTS_SHOWN:]:
        aside.append(f"{text(words.line_words(line, units))}\n")
        aside += [f"#soft[{text(each)}]\n" for each in words.damage_words(line)]
    aside.append(f"{text(words.count_words(study) if study.book else words.EMPTY)}\n")
    aside.append(_head("Was the ledger right?"))
    aside += [f"{_sentence(each)}\n" for each in right_words(study.right)[:LINES_SHOWN]]
    told = [words_in(each, units) for each in (*study.taken, *study.cautions)]
    return [*aside, *(f"{_sentence(each)}\n" for each in (*told, MORE))]


def _head(title: str) -> str:
    return f"#v(0.5em)\n#text(weight: 600)[{text(title)}]\n"


def _sentence(each: str) -> str:
    return text(f"{each[0].upper()}{each[1:].rstrip('.')}.")
