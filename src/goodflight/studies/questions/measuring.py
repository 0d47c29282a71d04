"""What to measure next at the bench, and when to stop: the ledger's list with a plain rule.

Figures stand by what knowing them moves the total for a minute's work. Flights have noise: what
moves the total less than they can tell is not seen, so the rule to stop says how little that is.
"""

import math
from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.quantity.said import Said, literal, said
from goodflight.studies.judging.measure_next import NOISE_SIGMAS
from goodflight.studies.results import Ledger, Measurement

STOP_BELOW: Final = 0.01  # of the total: one flight in a hundred; our choice


@dataclass(frozen=True)
class NextFigure:
    """One figure worth measuring."""

    key: Annotated[str, "name of the figure"]
    label: Annotated[str, "the same in words"]
    how: Annotated[str, "what to do; empty = it cannot be measured"]
    instrument: Annotated[str, "with what"]
    minutes: Annotated[float | None, "work, our guess; null = not estimated"]
    moves: Annotated[float | None, "of the total, one standard deviation; null = nobody entered it"]
    file: Annotated[str, "file it is written in"]
    place: Annotated[str, "and its key there"]
    why_not: Annotated[str, "why it cannot be measured"]
    of: Annotated[str, "name to enter a reading of it under; empty = none is taken"] = ""
    rows: Annotated[
        tuple[str, ...], "keys of the failures of the flight that wait for it, when it is not known"
    ] = ()


def next_of(ledger: Ledger) -> tuple[tuple[NextFigure, ...], Said]:
    """What to measure next, and whether to go on.

    Parameters
        ledger : Ledger - of the rocket as weighed. [-]
    Returns
        figures, stop : tuple of NextFigure, Said - most for the work first; the rule. [-]
    Raises
        nothing
    Validity
        What moves the total less than `seen_from` of its flights is not seen.
    Source
        `measure_next`.
    """
    found = tuple(map(_figure, ledger.measure_next))
    return found, _stop(ledger, found)


def seen_from(ledger: Ledger) -> float:
    """The least move of the total that this many flights can tell from noise."""
    spread = ledger.chance * (1.0 - ledger.chance)
    return NOISE_SIGMAS * math.sqrt(spread / ledger.flights)


def _figure(each: Measurement) -> NextFigure:
    return NextFigure(
        key=each.key,
        label=each.label,
        how=each.how,
        instrument=each.instrument,
        minutes=each.minutes,
        moves=each.moves,
        file=each.file,
        place=each.place,
        why_not=each.why_not,
        rows=each.rows,
    )


def _stop(ledger: Ledger, found: tuple[NextFigure, ...]) -> Said:
    open_ = [each for each in found if each.moves is None]
    if open_:
        more = "figures that nobody has" if len(open_) > 1 else "figure that nobody has"
        return said(f"Go on: {len(open_)} {more} entered, so part of what can fail is not known.")
    least = max(STOP_BELOW, seen_from(ledger))
    left = [each for each in found if not each.why_not and (each.moves or 0.0) >= least]
    told = f"{100.0 * least:.0f} in 100"
    limit = "" if least <= STOP_BELOW else f", which is what {ledger.flights} flights can tell"
    if left:
        top = max(left, key=lambda each: each.moves or 0.0)
        name = literal(top.label)
        return said(
            f"Go on until nothing left moves the total by more than {told}{limit}. "
            f"Now: {name}, {100.0 * (top.moves or 0.0):.0f} in 100."
        )
    return said(
        f"You may stop: nothing left to measure moves the total by more than {told}{limit}."
    )
