"""What a ledger says at first sight: the rows that are not ok, worst first; the rows that stand.

Only chooses and orders rows; every figure comes from the ledger.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from goodflight.outputs.ledger.text import severity
from goodflight.studies.judging.drivers import LEFT_OUT, TOO_FEW, TOO_FEW_LABEL
from goodflight.studies.results import Ledger, Row, State
from goodflight.studies.sampling.quantity import ALSO

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
class Waiting:
    """Rows that are not known, folded: what is said of them, and the row that asks for all.

    lead : the first row with what any of them asks for, each thing once; None where they wait for
    different things, each in a box of its own.
    """

    words: str
    rows: tuple[Row, ...]
    lead: Row | None


@dataclass(frozen=True)
class Standing:
    """Rows of one phase: those that need a look; those folded; rows that are ok."""

    open: tuple[Row, ...]
    waiting: tuple[Waiting, ...]
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
    unknown = [row for row in rows if row.state == "unknown"]
    asked = Counter(map(_first_asked, unknown))
    together = [
        _together(first, tuple(row for row in unknown if _first_asked(row) == first))
        for first, count in asked.items()
        if count >= FOLDED
    ]
    alone = tuple(row for row in unknown if asked[_first_asked(row)] < FOLDED)
    if len(alone) >= FOLDED:
        together.append(Waiting(f"{len(alone)} rows are not known, each with its box", alone, None))
    folded = {row.key for found in together for row in found.rows}
    left = tuple(row for row in rows if row.state != "ok" and row.key not in folded)
    return Standing(left, tuple(together), stand, _stand_words(stand))


def _first_asked(row: Row) -> str:
    """What a row that is not known waits for first."""
    return row.advice.partition(ALSO)[0]


def _together(first: str, rows: tuple[Row, ...]) -> Waiting:
    settles = "the same settles them" if len({row.advice for row in rows}) == 1 else "first of all"
    asks = {each.key: each for row in rows for each in row.asks}
    lead = replace(rows[0], asks=tuple(asks.values()))
    return Waiting(f"{len(rows)} rows are not known; {settles}: {first}", rows, lead)


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
