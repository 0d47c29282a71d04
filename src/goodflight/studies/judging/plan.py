"""What a plan is called as a whole: one judgement for ledger, motors, page and JSON.

The total counts failures of the flight. Rules are met or not, statements confirmed or not; neither
is part of the total, both keep a plan from being ok. A failure that is not known bounds the total
from below and leaves the plan unknown: nothing that is missing makes an answer better.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from goodflight.studies.judging.chance import MARGINAL_ABOVE, TOTAL_FAILS_ABOVE, Interval, wilson
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import Evaluated, any_failing
from goodflight.studies.results import RowKind, State


class Judged(Protocol):
    """A row with its state."""

    @property
    def key(self) -> str:
        """Name of the row."""
        ...

    @property
    def kind(self) -> RowKind:
        """Failure, rule or statement."""
        ...

    @property
    def state(self) -> State:
        """What it is called."""
        ...


@dataclass(frozen=True)
class Plan:
    """The whole: chance of failing in any known row, what it is called, what is not known.

    unknown : keys of failures of the flight that are not known; the chance is then a lower bound.
    unmet : keys of rules not met and of statements denied. open : keys of those not answered.
    """

    total: Interval
    state: State
    unknown: tuple[str, ...]
    unmet: tuple[str, ...]
    open: tuple[str, ...]


def judged(rows: Sequence[Judged], evaluated: Sequence[Evaluated], flights: int) -> Plan:
    """Judge a plan from its rows and from the flights they were evaluated on.

    Parameters
        rows : sequence of Judged - with state, in any order. [-]
        evaluated : sequence of Evaluated - the same limit states on the flights. [-]
        flights : int - how many. [-]
    Returns
        plan : Plan - total, state, what is not known. [-]
    Raises
        ValueError - no flights.
    Validity
        A row that this rocket does not have is no row.
    Source
        Definition: a failure fails the flight, a rule forbids it, a statement is the builder's.
    """
    total = wilson(int(any_failing(evaluated).sum()), flights)
    failures = [row for row in rows if row.kind == "failure"]
    others = [row for row in rows if row.kind != "failure"]
    unknown = tuple(row.key for row in failures if row.state == "unknown")
    unmet = tuple(row.key for row in others if row.state == "fails")
    waiting = tuple(row.key for row in others if row.state == "unknown")
    return Plan(total, _state(total, rows, bool(unknown)), unknown, unmet, waiting)


def judged_alone(evaluated: Sequence[Evaluated], flights: int, margins: bool = True) -> Plan:
    """The same from the evaluated limit states alone, for studies that show no rows.

    margins : False does not look how close rows are, which tells only ok from marginal.
    """
    rows = [
        _Named(each.limit.key, each.limit.kind, counted(each, flights, margins)["state"])
        for each in evaluated
        if not each.not_here
    ]
    return judged(rows, evaluated, flights)


@dataclass(frozen=True)
class _Named:
    key: str
    kind: RowKind
    state: State


def _state(total: Interval, rows: Sequence[Judged], unknown: bool) -> State:
    states = {row.state for row in rows}
    if total.chance > TOTAL_FAILS_ABOVE or "fails" in states:
        return "fails"
    if unknown:
        return "unknown"
    if total.chance > MARGINAL_ABOVE or states & {"marginal", "unknown"}:
        return "marginal"
    return "ok"
