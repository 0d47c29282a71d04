"""Many cases of one rocket flown and judged at once: the same flights, rows and judgement.

Cases that differ by wind, lean of the rail or seconds out of the delay reach nearly every row by
the flights' own figures alone. Such rows are worked out on the flights of all of them in one
sweep; what reads the case itself (rules of the code, the day's air) is worked out case by case. So
a case's rows are those that its own ledger has, flight for flight.
"""

from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.fall import Impact
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.rows import LIMIT_STATES, LimitState, View
from goodflight.studies.rows.reach import impact_of
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_together, unopened
from goodflight.studies.sampling.joined import joined
from goodflight.studies.sampling.trials import make_trials

Array = NDArray[np.float64]
ALONE: Final = frozenset(  # keys of what reads the case itself
    limit.key
    for limit in LIMIT_STATES
    if (limit.phase == "code" and limit.key != "unopened_reach") or limit.key == "flutter"
)
_REACH: Final = next(limit for limit in LIMIT_STATES if limit.key == "unopened_reach")
_Flown = tuple[tuple[int, ...], tuple[View, ...]]  # places among the cases, and their flights


@dataclass(frozen=True, eq=False)
class Judged:
    """One case with its flights and rows."""

    view: View
    rows: tuple[Evaluated, ...]


def flown_together(
    cases: Sequence[Case],
    flights: int | Sequence[int],
    seed: int,
    masks_only: bool = True,
    limits: Sequence[LimitState] = LIMIT_STATES,
) -> tuple[Judged, ...]:
    """Fly and evaluate many cases of one project.

    Parameters
        cases : sequence of Case - in any order. [SI]
        flights : int or sequence of int - of each. [-]
        seed : int - the same scores in each. [-]
        masks_only : bool - as a view's: no warnings, demands or capacities. [-]
        limits : sequence of LimitState - rows to evaluate. [-]
    Returns
        judged : tuple of Judged - in the order of the cases. [-]
    Raises
        StudyRefused - the rocket lacks what a flight needs.
    Validity
        Longer steps than the ledger's: heights within about 1 m.
    Source
        Same rows as the ledger.
    """
    return _judged(_flown(cases, flights, seed), masks_only, limits)


def flown_in_turn(
    lists: Iterable[Sequence[Case]], flights: int, seed: int, masks_only: bool = True
) -> Iterator[tuple[Judged, ...]]:
    """The same for one list of cases after the other: the next ones fly while one is judged."""
    with ThreadPoolExecutor(1) as pool:
        ahead: Future[list[_Flown]] | None = None
        for cases in lists:
            coming = pool.submit(_flown, tuple(cases), flights, seed)
            if ahead is not None:
                yield _judged(ahead.result(), masks_only)
            ahead = coming
        if ahead is not None:
            yield _judged(ahead.result(), masks_only)


@dataclass(frozen=True, eq=False)
class Unopened:
    """Where the flights of a case come down if nothing opens; near : share that reaches people.

    Flown without ejecting: a charge that fires before apogee would shorten the way up, and with it
    the way down. near : None where it is not known.
    """

    impact: Impact
    near: float | None


def unopened_of(flown: View) -> Unopened:
    """The same flights with nothing opening, nose first from their own apogee."""
    outcomes = unopened(flown, COARSE_TOLERANCE)
    view = View(flown.case, flown.trials, outcomes, masks_only=True)
    (row,) = evaluate(view, (_REACH,))
    return Unopened(impact_of(view), float(row.failing.mean()) if row.known else None)


def _alike(case: Case) -> tuple[Any, ...]:
    """What two cases must share for their rows to be worked out in one sweep."""
    down = case.deployment
    things = case.rocket, case.motor, case.tables, case.rules, down.canopy, down.main_canopy
    figures = down.by, down.apogee_lag_s, down.main_height_m, down.pad_wait_s
    return *map(id, (*things, down.devices)), *figures


def _flown(cases: Sequence[Case], flights: int | Sequence[int], seed: int) -> list[_Flown]:
    """The flights of cases, those together whose rows are worked out in one sweep."""
    counts = [flights] * len(cases) if isinstance(flights, int) else flights
    groups: dict[Any, list[int]] = {}
    for i, case in enumerate(cases):
        groups.setdefault(_alike(case), []).append(i)
    found = []
    for places in groups.values():
        samples = [make_trials(cases[i], counts[i], seed) for i in places]
        views = fly_together([cases[i] for i in places], samples, COARSE_TOLERANCE)
        found.append((tuple(places), views))
    return found


def _judged(
    flown: Sequence[_Flown], masks_only: bool, limits: Sequence[LimitState] = LIMIT_STATES
) -> tuple[Judged, ...]:
    found: dict[int, Judged] = {}
    for places, views in flown:
        told = [replace(each, masks_only=masks_only) for each in views]
        found |= zip(places, _group(told, limits))
    return tuple(found[i] for i in range(len(found)))


def _group(views: Sequence[View], limits: Sequence[LimitState]) -> list[Judged]:
    """Rows of flights that are worked out in one sweep."""
    first, start = views[0], 0
    by_case = [limit for limit in limits if limit.key in ALONE]
    by_flight = [limit for limit in limits if limit.key not in ALONE]
    outcomes = np.concatenate([view.outcomes for view in views])
    whole = View(first.case, joined([view.trials for view in views]), outcomes, first.masks_only)
    shared = {row.limit.key: row for row in evaluate(whole, by_flight)}
    found = []
    for view in views:
        part = slice(start, start + view.count)
        start += view.count
        alone = {row.limit.key: row for row in evaluate(view, by_case)}
        rows = [alone.get(limit.key) or _cut(shared[limit.key], part) for limit in limits]
        found.append(Judged(view, tuple(rows)))
    return found


def _cut(row: Evaluated, part: slice) -> Evaluated:
    """A row on the flights of one case."""
    return Evaluated(
        limit=row.limit,
        found=row.found,
        demand=row.demand[part],
        capacity=row.capacity[part],
        reserve=row.reserve[part],
        metric=row.metric[part],
        failing=row.failing[part],
        warnings=row.warnings,
        valid=row.valid,
        missing=row.missing,
        asks=row.asks,
        not_here=row.not_here,
        answered=row.answered,
    )
