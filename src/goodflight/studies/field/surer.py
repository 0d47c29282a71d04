"""More flights where few cannot tell on which side of the chance agreed they are.

Only where nothing else forbids the flight: what is forbidden anyway stays so, however many fly.
"""

from collections.abc import Callable, Sequence
from typing import Final, TypeVar

from goodflight.project.day_file import OwnLimitsTable
from goodflight.studies.case.planned import Case
from goodflight.studies.field.checks import Check, bound_of, forbids
from goodflight.studies.field.choices import Tried, tried_in_turn
from goodflight.studies.field.grid import Checked

T = TypeVar("T")

MORE_FLIGHTS: Final = 800  # 95 % interval of 1 in 4: 3 in 100 to either side; of 100 flights: 8


def cannot_tell(
    low: float, high: float, checks: Sequence[Check], limits: OwnLimitsTable | None
) -> bool:
    """Whether the interval holds the chance agreed, and nothing but that chance forbids."""
    return low <= bound_of(limits) < high and all(each.key == "chance" for each in checks)


def surer(
    asked: Sequence[tuple[Case, Sequence[Tried]]],
    limits: OwnLimitsTable | None,
    checked: Checked,
    seed: int,
    against: Callable[[Sequence[Check]], list[Check]] = forbids,
) -> list[list[Tried]]:
    """The same sets of choices of each case, on more flights where those flown cannot tell.

    against : the checks that forbid, among all; where others than the chance are, nothing flies.
    """

    def few(each: Tried) -> bool:
        choice = each.choice
        return each.found.view.count < MORE_FLIGHTS and cannot_tell(
            choice.low, choice.high, against(each.checks), limits
        )

    wanted = [
        (case, list(dict.fromkeys(each.conditions for each in tries if few(each))))
        for case, tries in asked
    ]
    again = tried_in_turn([each for each in wanted if each[1]], checked, MORE_FLIGHTS, seed)
    told = []
    for (_, conditions), (_, tries) in zip(wanted, asked):
        flown = dict(zip(conditions, next(again))) if conditions else {}
        told.append([flown.get(each.conditions, each) for each in tries])
    return told


def first_refused(
    winds: Sequence[T],
    start: int,
    refused: Callable[[T], bool],
    again: Callable[[T], T],
) -> tuple[list[T], int]:
    """Place of the first wind refused, those beside it looked at again; past the last: none is.

    winds : from the lowest up. start : the place as found on few flights.
    """
    found, done, at = list(winds), set[int](), start

    def bad(i: int) -> bool:
        if i not in done:
            done.add(i)
            found[i] = again(found[i])
        return refused(found[i])

    while at < len(found) and not bad(at):
        at += 1
    while at > 0 and bad(at - 1):
        at -= 1
    return found, at
