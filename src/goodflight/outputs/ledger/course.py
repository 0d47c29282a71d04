"""The flight in one line as SVG: its course from pad to ground, then code and workmanship.

One mark for every row of the ledger, in the order of the flight, each a link to its row; the rows
that are listed as worst carry the number they have in that list. Drawn twice: as one line across
a wide sheet, and phase by phase on a phone.
"""

from collections.abc import Mapping, Sequence
from html import escape
from itertools import groupby
from typing import Final

from goodflight.outputs.ledger.row_words import answer
from goodflight.outputs.words import PHASES, STATES
from goodflight.studies.results import Phase, Row

WIDE: Final = 1330.0
TALL: Final = 128.0
GROUND: Final = 88.0
RISE: Final = 62.0  # of the apex above the ground
EDGE: Final = 12.0
GAP: Final = 1.4  # between two phases, in pitches
MARK: Final = 14.0

NARROW: Final = 366.0
LINE: Final = 32.0  # one phase on a phone
NAMES: Final = 92.0
SHORT: Final[dict[str, str]] = {"Pad and rail": "Pad", "Descent and landing": "Descent"}

UP: Final = ("boost", "coast")
DOWN: Final = ("deployment", "descent")
INKS: Final[dict[Phase, str]] = {
    "pad": "ground", "boost": "flown", "coast": "flown", "deployment": "flown",
    "descent": "flown", "code": "shore", "workmanship": "shore",
}  # fmt: skip

Groups = list[tuple[Phase, list[Row]]]


def course_svg(rows: Sequence[Row], numbers: Mapping[str, int], narrow: bool = False) -> str:
    """Return the course for rows in the order of the flight; `numbers` by key of a listed row."""
    groups = [(phase, list(found)) for phase, found in groupby(rows, lambda row: row.phase)]
    return _narrow(groups, numbers) if narrow else _wide(groups, numbers)


def _svg(kind: str, width: float, height: float, marks: Sequence[str]) -> str:
    return (
        f'<svg class="course {kind}" viewBox="0 0 {width:g} {height:g}" role="group" '
        f'aria-label="the flight in one line: one mark for each row">{"".join(marks)}</svg>'
    )


def _places(groups: Groups) -> dict[str, float]:
    """The place of every row along the line [px]."""
    count = sum(len(rows) for _, rows in groups) - 1 + GAP * (len(groups) - 1)
    pitch = (WIDE - 2 * EDGE - MARK) / max(count, 1.0)
    places, at = {}, EDGE + MARK / 2
    for _, rows in groups:
        for row in rows:
            places[row.key] = at
            at += pitch
        at += GAP * pitch
    return places


def _height(x: float, left: float, apex: float, right: float) -> float:
    """How far the line stands above the ground, 0 to 1: up to the apex and down again."""
    if not left < x < right:
        return 0.0
    reach = (x - apex) / (apex - left if x < apex else right - apex)
    return float(1.0 - reach * reach)


def _turns(groups: Groups, places: Mapping[str, float]) -> tuple[float, float, float]:
    """Where the line leaves the ground, where it turns and where it comes back [px]."""
    up = [places[row.key] for phase, rows in groups if phase in UP for row in rows]
    down = [places[row.key] for phase, rows in groups if phase in DOWN for row in rows]
    ends = up or down or [0.0]
    step = MARK
    apex = 0.5 * (up[-1] + down[0]) if up and down else ends[len(ends) // 2]
    return ends[0] - step, apex, (down or ends)[-1] + step


def _wide(groups: Groups, numbers: Mapping[str, int]) -> str:
    places = _places(groups)
    left, apex, right = _turns(groups, places)

    def y(x: float) -> float:
        return GROUND - RISE * _height(x, left, apex, right)

    steps = [left + (right - left) * i / 60 for i in range(61)]
    flown = "L".join(f"{x:.1f} {y(x):.1f}" for x in steps)
    marks = [
        f'<path class="ground" d="M0 {GROUND:g}H{right + MARK:.1f}"/>',
        f'<path class="soil" d="{_soil(right + MARK)}"/>',
        f'<path class="flown" d="M{EDGE:g} {GROUND:g}L{flown}"/>',
        f'<path class="shore" d="M{right + 2 * MARK:.1f} {GROUND:g}H{WIDE:g}"/>',
    ]
    for phase, rows in groups:
        first, last = places[rows[0].key], places[rows[-1].key]
        marks.append(
            f'<path class="stop" d="M{first - 9:.1f} {GROUND + 10:g}v12H{last + 9:.1f}v-12"/>'
            f'<text class="phase" x="{0.5 * (first + last):.1f}" y="{GROUND + 37:g}" '
            f'text-anchor="middle">{escape(_name(phase, last - first))}</text>'
        )
        marks += [_mark(row, places[row.key], y(places[row.key]), numbers, "cw") for row in rows]
    return _svg("wide", WIDE, TALL, marks)


def _name(phase: Phase, room: float) -> str:
    name = PHASES[phase]
    return SHORT.get(name, name) if room < 7.0 * len(name) else name


def _soil(end: float) -> str:
    """Short slanting strokes under the ground line."""
    return "".join(f"M{x} {GROUND:g}l-5 6" for x in range(6, int(end), 9))


def _narrow(groups: Groups, numbers: Mapping[str, int]) -> str:
    tall = LINE * len(groups)
    marks = []
    for number, (phase, rows) in enumerate(groups):
        y = LINE * (number + 0.6)
        pitch = min(20.0, (NARROW - NAMES - MARK) / max(len(rows) - 1, 1))
        end = NAMES + pitch * (len(rows) - 1) + MARK / 2
        name = PHASES[phase]
        marks.append(
            f'<path class="{INKS[phase]}" d="M{NAMES - MARK:g} {y:.1f}H{end:.1f}"/>'
            f'<text class="phase" x="0" y="{y + 4:.1f}">{escape(SHORT.get(name, name))}</text>'
        )
        marks += [
            _mark(row, NAMES + pitch * place, y, numbers, "cn") for place, row in enumerate(rows)
        ]
    return _svg("narrow", NARROW, tall, marks)


def _mark(row: Row, x: float, y: float, numbers: Mapping[str, int], start: str) -> str:
    """One mark, a link to its row, named by what it says."""
    said = f"{row.title}: {STATES[row.state]}, {answer(row)}"
    number = numbers.get(row.key)
    size = MARK + (4 if row.state == "fails" else 0)
    label = (
        f'<text class="number" x="{x:.1f}" y="{y - 11:.1f}" text-anchor="middle">{number}</text>'
        if number
        else ""
    )
    return (
        f'<a id="{start}-{row.key}" href="#row-{row.key}" class="{row.state}" '
        f'aria-label="{escape(said)}"><title>{escape(said)}</title>'
        f'<circle class="under" cx="{x:.1f}" cy="{y:.1f}" r="{size / 2 - 2.5:g}"/>'
        f'<use href="#mark-{row.state}" x="{x - size / 2:.1f}" y="{y - size / 2:.1f}" '
        f'width="{size:g}" height="{size:g}"/>{label}</a>'
    )
