"""What a flight said on one sheet of paper, with the log book and the judged predictions."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS
from goodflight.outputs.bench.pdf import compiled
from goodflight.outputs.debrief import words
from goodflight.outputs.debrief.picture import overlay_svg
from goodflight.outputs.debrief.right_words import kept_words, right_words
from goodflight.studies.questions.debrief import DebriefStudy

FLIGHTS_SHOWN, LINES_SHOWN = 8, 16  # that go on one sheet; the rest is in the log book's table
MORE: Final = "More in `debrief DIR --csv FILE.csv`."


def debrief_pdf(
    study: DebriefStudy, paper: str = "a4", foot: Sequence[str] = (), units: str = "metric"
) -> bytes:
    """One flight over its bands, the rocket with it; beside it the log book and the predictions."""
    width, height = PAPERS[paper]
    name = f"flight {study.flight}" if study.flight else "no flight noted yet"
    said = [kept_words(study.flight, study.kept)] if study.kept is not None else []
    body = [f"#text(size: 13pt, weight: 600)[{text(study.rocket)}: {text(name)}]\n"]
    body += [f"{text(each)}.\n" for each in study.doubts]
    body += [f"{text(each)}\n" for each in said]
    if study.why is not None:
        svg = overlay_svg(study.places, study.kept, units, alone=True)
        drawing = svg.replace("\\", "").replace('"', '\\"')
        body += [
            f"#text(weight: 600)[{text(study.why.words)}]\n",
            f'#image(bytes("{drawing}"), format: "svg", width: 100mm)',
            "#soft[Wide band: 9 in 10 of the predicted flights; dark: half. Upright: seen.]\n",
            *(f"{text(words.fitted_words(each, units))}\n" for each in study.fitted),
            *(f"{text(each)}\n" for each in (*study.tied, words.known_words(study))),
        ]
    aside = ["#text(weight: 600)[Log book]\n"]
    for line in study.book[-FLIGHTS_SHOWN:]:
        aside.append(f"{text(words.line_words(line, units))}\n")
        aside += [f"#soft[{text(each)}]\n" for each in words.damage_words(line)]
    aside.append(f"{text(words.count_words(study) if study.book else words.EMPTY)}\n")
    aside.append("#text(weight: 600)[Was the ledger right?]\n")
    aside += [f"{text(each)}\n" for each in right_words(study.right)[:LINES_SHOWN]]
    aside += [f"{text(each)}\n" for each in (*study.taken, *study.cautions, MORE)]
    block = (study.rocket, "debrief", "invented" if study.invented else "")
    return compiled(
        f"#set document(title: [{text(study.rocket)}: debrief], date: none)\n"
        f"{parts.PREAMBLE}#page(width: {mm(width)}, height: {mm(height)})[\n"
        f"{parts.border(width, height)}\n"
        f"#place(dx: 14mm, dy: 12mm, box(width: 104mm)[{chr(10).join(body)}])\n"
        f"#place(dx: 124mm, dy: 12mm, box(width: {mm(width - 136)})"
        f"[#set text(size: 7.5pt)\n{chr(10).join(aside)}])\n"
        f"{parts.title_block(width, height, block, parts.stamped('sheet 1 of 1', foot))}\n]"
    )
