"""What a ledger says at first sight: the rows that are not ok, worst first; the rows that stand.

Only chooses and orders rows; every figure comes from the ledger.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from goodflight.outputs.ledger.text import severity
from goodflight.studies.judging.drivers import LEFT_OUT, TOO_FEW, TOO_FEW_LABEL
from goodflight.studies.results import Ledger, Row, State

COUNTED: Final[dict[State, str]] = {
    "fails": "failing",
    "unknown": "not known",
    "marginal": "marginal",
    "ok": "ok",
}
FOLDED: Final = 3  # rows that wait for one thing are folded from this number on
NAMED: Final = 10  # further rows that are named at once
LISTED: Final = 5  # rows of the list of what can still fail


@dataclass(frozen=True)
class FirstLook:
    """The rows that are not ok: those listed, worst first, and the others."""

    listed: tuple[Row, ...]
    others: tuple[Row, ...]
    numbers: dict[str, int]  # number in the list, by key


@dataclass(frozen=True)
class Standing:
    """Rows of one phase: those that need a look; those folded into one line each.

    waiting : what rows wait for, and the rows; stand : rows that are ok.
    """

    open: tuple[Row, ...]
    waiting: tuple[tuple[str, tuple[Row, ...]], ...]
    stand: tuple[Row, ...]
    words: str


def first_look(ledger: Ledger) -> FirstLook:
    """Return what can still fail, worst first; rows that are not known count as such.

    Of rows that wait for the same figure the list holds one.
    """
    waits = Counter(row.advice for row in ledger.rows if row.state == "unknown")

    def order(row: Row) -> tuple[tuple[int, float], int]:
        return severity(row), -waits[row.advice] if row.state == "unknown" else 0

    listed, others, asked = list[Row](), list[Row](), set[str]()
    for row in sorted((r for r in ledger.rows if r.state != "ok"), key=order):
        again = row.state == "unknown" and row.advice in asked
        (others if again or len(listed) == LISTED else listed).append(row)
        if row.state == "unknown":
            asked.add(row.advice)
    return FirstLook(tuple(listed), tuple(others), {r.key: n for n, r in enumerate(listed, 1)})


def standing(rows: Sequence[Row]) -> Standing:
    """Return the rows of one phase: the ok ones, and those that wait for one thing, apart."""
    stand = tuple(row for row in rows if row.state == "ok")
    asked = Counter(row.advice for row in rows if row.state == "unknown")
    waiting = tuple(
        (advice, tuple(row for row in rows if row.state == "unknown" and row.advice == advice))
        for advice, count in asked.items()
        if count >= FOLDED
    )
    folded = {row.key for _, found in waiting for row in found}
    left = tuple(row for row in rows if row.state != "ok" and row.key not in folded)
    return Standing(left, waiting, stand, _stand_words(stand))


def more_waiting(seen: FirstLook, row: Row) -> str:
    """`16 more rows wait for this`; empty when none does or the row is known."""
    if row.state != "unknown":
        return ""
    count = sum(each.state == "unknown" and each.advice == row.advice for each in seen.others)
    if count == 0:
        return ""
    return f"{count} more rows wait for this" if count > 1 else "1 more row waits for this"


def _stand_words(rows: Sequence[Row]) -> str:
    """`6 ok; closest to failing: separates while handled`; empty for no rows."""
    if not rows:
        return ""
    near = min(
        (r for r in rows if r.margin is not None), key=lambda r: r.margin or 0.0, default=None
    )
    if near is None:
        return f"{len(rows)} ok"
    return f"{len(rows)} ok; closest to failing: {near.title[0].lower()}{near.title[1:]}"


def driver_words(row: Row) -> str:
    """`mainly: wind`: the strongest driver that has a name, or that flights are too few."""
    if any(driver.key == TOO_FEW for driver in row.drivers):
        return f"what drives it: {TOO_FEW_LABEL}"
    named = [driver.label for driver in row.drivers if driver.key != LEFT_OUT]
    return f"mainly: {named[0]}" if named else ""


def others_words(rows: Sequence[Row]) -> str:
    """`and 6 more: 2 failing, 1 not known, 3 marginal`; empty for no rows."""
    counts = Counter(row.state for row in rows)
    said = ", ".join(f"{count} {COUNTED[state]}" for state, count in counts.items())
    return f"and {len(rows)} more: {said}" if rows else ""
