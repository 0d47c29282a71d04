"""The search on one sheet of paper: strip map, lanes, what to do and not to do."""

from collections.abc import Sequence

from goodflight.outputs.bench import sheet_parts as parts
from goodflight.outputs.bench.marks import mm, text
from goodflight.outputs.bench.paper import PAPERS
from goodflight.outputs.bench.pdf import compiled
from goodflight.outputs.field_map.field_words import bearing_words
from goodflight.outputs.find import find_words as words
from goodflight.outputs.find.map_svg import find_svg
from goodflight.studies.questions.find import FindStudy

ON_SHEET = 18  # lanes listed


def find_pdf(
    study: FindStudy, units: str = "metric", paper: str = "a4", foot: Sequence[str] = ()
) -> bytes:
    """The strip map with its lanes up the sheet, the list of lanes, cautions, lines to fill in."""
    width, height = PAPERS[paper]
    drawing = find_svg(study, units, "paper", alone=True).replace("\\", "").replace('"', '\\"')
    up = bearing_words(study.lane_bearing_rad)
    said = [
        words.headline(study, units),
        words.light_words(study),
        words.lanes_words(study, units),
        *study.warnings,
    ]
    body = "\n".join(
        [
            f"#text(size: 13pt, weight: 600)[{text(study.rocket)}: where to look]\n",
            *(f"{text(each)}\n" for each in said),
            f'#image(bytes("{drawing}"), format: "svg", width: 118mm)',
            f"#soft[Up the sheet is {text(up)} true. Grey: 9 in 10 of the flights that agree; "
            "darker: half of them.]\n",
        ]
    )
    aside = "\n".join(
        [
            "#table(columns: 4, stroke: hair, inset: 1.1mm, align: right,",
            "table.header([lane], [from the pad], [to], [long]),",
            *(
                ", ".join(f"[{text(cell)}]" for cell in words.lane_words(lane, units)) + ","
                for lane in study.lanes[:ON_SHEET]
            ),
            ")",
            "Bearings are true.\n",
            *(f"{text(each)}\n" for each in study.cautions),
            *(
                f"{each} #box(width: 1fr, line(length: 100%, stroke: hair))\n"
                for each in ("found at", "time", "by", "what was broken")
            ),
        ]
    )
    name = (study.rocket, f"search, plan {study.plan}", "invented" if study.invented else "")
    return compiled(
        f"#set document(title: [{text(study.rocket)}: where to look], date: none)\n"
        f"{parts.PREAMBLE}#page(width: {mm(width)}, height: {mm(height)})[\n"
        f"{parts.border(width, height)}\n"
        f"#place(dx: 14mm, dy: 12mm, box(width: 118mm)[{body}])\n"
        f"#place(dx: 136mm, dy: 12mm, box(width: {mm(width - 148)})"
        f"[#set text(size: 7.5pt)\n{aside}])\n"
        f"{parts.title_block(width, height, name, parts.stamped('sheet 1 of 1', foot))}\n]"
    )
