"""Print what the twelve well-built rockets and the known mistakes come out as.

python tests/calibration/show.py            the two tables
python tests/calibration/show.py --doc      put them into docs/calibration.md
"""

import re
import sys
from math import isnan
from pathlib import Path
from typing import Final

sys.path.insert(0, str(Path(__file__).parent))

from flown import SEED, Flown, chance, flown, moved
from mistakes import MISTAKES, Mistake
from outside import OUTSIDE
from well_built import ROCKETS

from goodflight.studies.judging.chance import wilson

BAND: Final = (2.0, 12.0)  # in 100
WELL, WRONG = 1000, 400  # flights of a well-built rocket, of a mistake
DOC = Path(__file__).parents[2] / "docs" / "calibration.md"


def in_100(value: float) -> str:
    """A chance in 100, with a decimal where it is small."""
    return "unknown" if isnan(value) else f"{value:.1f}" if value < 9.95 else f"{value:.0f}"


def well_built() -> str:
    """Table of the twelve."""
    lines = [
        "| rocket | what it is | fails, in 100 | what carries it | outside the band, because |",
        "|---|---|---|---|---|",
    ]
    for built in ROCKETS:
        found = flown(built, WELL)
        failed = int(found.total.sum())
        bounds = wilson(failed, found.flights)
        why = ", ".join(f"`{key}` {in_100(share)}" for key, share in found.reasons())
        lines.append(
            f"| {built.key} | {built.title} | {in_100(100 * bounds.chance)} "
            f"({100 * bounds.low:.0f}-{100 * bounds.high:.0f}) | {why or 'nothing above 0.5'} | "
            f"{OUTSIDE.get(built.key, '')} |"
        )
    return "\n".join(lines)


def mistakes() -> str:
    """Table of the mistakes."""
    lines = [
        "| mistake | on | its row | in 100, before and after | moves too, because | not yet |",
        "|---|---|---|---|---|---|",
    ]
    lines += [_line(mistake) for mistake in MISTAKES]
    return "\n".join(lines)


def _line(mistake: Mistake) -> str:
    before, after = flown(mistake.before, WRONG), flown(mistake.after, WRONG)
    also = _also(mistake, before, after)
    return (
        f"| {mistake.name} | {mistake.rocket} | `{mistake.row}` | "
        f"{in_100(chance(before, mistake.row))} to {in_100(chance(after, mistake.row))} | "
        f"{also} | {mistake.missing or mistake.astray} |"
    )


def _also(mistake: Mistake, before: Flown, after: Flown) -> str:
    found = moved(before, after)
    told = []
    for keys, why in mistake.related:
        here = [
            f"`{key}` {in_100(found[key][1])}"
            for key in keys.split()
            if key in found and key != mistake.row
        ]
        if here:
            told.append(f"{', '.join(here)}: {why}")
    stray = [key for key in found if key not in mistake.expected]
    if stray:
        told.append("**should not:** " + ", ".join(f"`{key}`" for key in stray))
    return "; ".join(told)


def into(text: str, name: str, table: str) -> str:
    """The document with the table between its two marks put in anew."""
    marks = re.compile(rf"(<!-- table: {name} -->\n).*?(\n<!-- end -->)", re.DOTALL)
    if not marks.search(text):
        raise SystemExit(f"{DOC} has no marks for the table {name!r}")
    return marks.sub(lambda found: found[1] + table + found[2], text)


def main() -> None:
    """Print the tables, or renew the document."""
    tables = {"well built": well_built(), "mistakes": mistakes()}
    if "--doc" in sys.argv[1:]:
        text = DOC.read_text()
        for name, table in tables.items():
            text = into(text, name, table)
        DOC.write_text(text)
        return
    print(f"Well built: {WELL} flights each, seed {SEED}\n\n{tables['well built']}\n")
    print(f"Known mistakes: {WRONG} flights each, the same ones\n\n{tables['mistakes']}")


if __name__ == "__main__":
    main()
