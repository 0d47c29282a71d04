"""What a ledger says at first sight: the rows that are not ok, worst first; the rows that stand.

Only chooses and orders rows; every figure comes from the ledger.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from goodflight.outputs.terminal import severity
from goodflight.outputs.words import change, margin
from goodflight.studies.chance import INDEX_LIMIT
from goodflight.studies.drivers import LEFT_OUT
from goodflight.studies.results import Ledger, Row, State, Step

COUNTED: Final[dict[State, str]] = {
    "fails": "failing",
    "unknown": "not known",
    "watch": "to watch",
    "ok": "ok",
}
LISTED: Final = 5  # rows of the list of what can still fail


@dataclass(frozen=True)
class FirstLook:
    """The rows that are not ok: those listed, worst first, and the others."""

    listed: tuple[Row, ...]
    others: tuple[Row, ...]
    numbers: dict[str, int]  # number in the list, by key


@dataclass(frozen=True)
class Standing:
    """Rows of one phase: those that need a look, and those that stand, folded into one line."""

    open: tuple[Row, ...]
    stand: tuple[Row, ...]
    words: str


def first_look(ledger: Ledger) -> FirstLook:
    """Return what can still fail, worst first; rows that are not known count as such."""
    rows = tuple(sorted((r for r in ledger.rows if r.state != "ok"), key=severity))
    listed = rows[:LISTED]
    return FirstLook(listed, rows[LISTED:], {r.key: n for n, r in enumerate(listed, 1)})


def standing(rows: Sequence[Row]) -> Standing:
    """Return the rows of one phase, the ok ones apart with one line of words."""
    stand = tuple(row for row in rows if row.state == "ok")
    return Standing(tuple(row for row in rows if row.state != "ok"), stand, _stand_words(stand))


def _stand_words(rows: Sequence[Row]) -> str:
    """`6 rows stand, the nearest 2.8 spreads to spare: Joint opens while handled`."""
    if not rows:
        return ""
    count = f"{len(rows)} rows stand" if len(rows) > 1 else "1 row stands"
    near = min(
        (r for r in rows if r.margin is not None), key=lambda r: r.margin or 0.0, default=None
    )
    if near is None:
        return count
    if (near.margin or 0.0) >= INDEX_LIMIT:
        return f"{count}, {'all ' if len(rows) > 1 else ''}far from failing"
    if len(rows) == 1:
        return f"{count}, {margin(near.margin)}: {near.title}"
    return f"{count}, the nearest {margin(near.margin)}: {near.title}"


def driver_words(row: Row) -> str:
    """`driven by wind`: the greatest driver that has a name; empty when there is none."""
    named = [driver.label for driver in row.drivers if driver.key != LEFT_OUT]
    return f"driven by {named[0]}" if named else ""


def others_words(rows: Sequence[Row]) -> str:
    """`and 6 more: 2 failing, 1 not known, 3 to watch`; empty for no rows."""
    counts = Counter(row.state for row in rows)
    said = ", ".join(f"{count} {COUNTED[state]}" for state, count in counts.items())
    return f"and {len(rows)} more: {said}" if rows else ""


def step_effect(step: Step) -> str:
    """Say what the cheapest thing to do does to the total: `68 → 19 in 100`."""
    return change(step.remedy.total_before, step.remedy.total)
