"""Words to write on: strokes become a rule, [ ] a box; a figure stays with its unit."""

import re
from typing import Final

from goodflight.outputs.bench.marks import text

RULE: Final = re.compile(r"_{6,}")
ONE: Final = 6  # strokes of a place for one word; more of them take the rest of the line
SPLIT: Final = re.compile(r"(?<=\d) (?=[A-Za-z%°])")
PREAMBLE: Final = """\
#let square = box(width: 3.4mm, height: 3.4mm, stroke: 0.25mm, baseline: 0.5mm)
#let tick = [#h(1.4mm, weak: true)#square#h(0.6mm)]
#let blank(wide, high) = box(width: wide, height: high, stroke: (bottom: 0.13mm), baseline: 0.15em)
"""


def marked(words: str, high: str = "1em") -> str:
    """Typst markup of words with boxes to tick and places for a pen, `high` tall."""
    found, done = "", 0
    for blank in RULE.finditer(words):
        wide = "1fr" if len(blank.group()) > ONE else "13mm"
        found += _boxed(words[done : blank.start()]) + f"#blank({wide}, {high});"
        done = blank.end()
    return found + _boxed(words[done:])


def strut(words: str, high: str) -> str:
    """What makes a line as tall as one with the places that words have, and nothing else."""
    first = RULE.search(words)
    return f"#blank(0pt, {high});" if first and first.start() < 40 else ""


def _boxed(words: str) -> str:
    kept = SPLIT.sub("\u00a0", words)
    return text(kept).replace(text("[ ]"), "#tick;")
