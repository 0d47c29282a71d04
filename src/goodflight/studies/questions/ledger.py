"""The ledger: everything that can still fail a planned flight, how likely, why, and what helps."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from types import MappingProxyType
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.project import Project
from goodflight.quantity.said import Words
from goodflight.studies.case.doubts import doubts_of
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import WHO_DECIDES
from goodflight.studies.judging.base_rates import BASE_RATES
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.drivers import (
    by_chance,
    group_effects,
    named_drivers,
    smooth_tails,
)
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.judging.failing import failing_of
from goodflight.studies.judging.flown import Effect, Flown
from goodflight.studies.judging.knowledge import knowledge_of
from goodflight.studies.judging.measure_next import check, measure_next
from goodflight.studies.judging.parted import Powers, parts_of_rows
from goodflight.studies.judging.plan import judged
from goodflight.studies.judging.remedies import effects_of, refined, remedies_for
from goodflight.studies.judging.stands_out import enough_flights
from goodflight.studies.judging.way import way_of
from goodflight.studies.levers.whatif import Tried, tried
from goodflight.studies.processes import side_by_side
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Driver, Knowledge, Ledger, NotHere, Row, Way
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.inputs import inputs_of
from goodflight.studies.stands_on import stands_on
from goodflight.studies.unseen import UNSEEN

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]

FLOWN_AT: Final = 0.2  # share of the work that is done when all flights are flown ...
HELPED_AT: Final = 0.75  # ... when all changes are ...
AGAIN_AT: Final = 0.8  # ... when the best are flown once more ...
WAY_AT: Final = 0.95  # ... and when the way is found
NOT_MODELLED: Final = (
    *(each.title for each in UNSEEN),
    "joints that flex, a nose that swings back",
    "nylon cord that is stiffer in a jerk than slowly pulled",
)
BESIDE: Final = ("finding what drives each row", "moving the guesses over their ranges")
DEFER: Final = "Chances are computed from this project's figures. " + WHO_DECIDES


@dataclass(frozen=True)
class Beside:
    """What is put beside the rows when it is asked for.

    next_checked : whether what to measure next is checked by flying again.
    base_rates : whether rates of what is not computed stand there.
    """

    next_checked: bool = False
    base_rates: bool = False


def ledger(
    project: Project,
    plan: str | None = None,
    flights: int = 2000,
    seed: int = 1,
    *,
    remedies: bool = True,
    progress: Progress | None = None,
    check_next: bool = False,
    base_rates: bool = False,
) -> Ledger:
    """What can still fail this flight, how likely is it, what drives it, and what helps.

    Every row is demand against capacity on the same flights; the total counts those that fail in
    any row, so what fails together counts once. Remedies are flown again on the same flights.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - size of the ensemble. [-]
        seed : int - same seed, same answer on one machine. [-]
        remedies : bool - whether changes are flown as well. [-]
        progress : callable or None - told (what, share done). [-]
        check_next : bool - whether what to measure next is checked by flying again. [-]
        base_rates : bool - whether rates of what is not computed are put beside it. [-]
    Returns
        ledger : Ledger - rows in the order of the flight. [SI]
    Raises
        NoSuchPlan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        See each row's warnings and `not_modelled`.
    Source
        Structural reliability: limit states on a common sample.
    Example
        >>> ledger = goodflight.ledger(goodflight.load("fieldfare"), flights=100)
        >>> ledger.flights, ledger.rows[0].phase
        (100, 'pad')
    """
    beside = Beside(check_next, base_rates)
    return ledger_of(case_of(project, plan), flights, seed, remedies, progress, beside=beside)


def ledger_of(
    case: Case,
    flights: int = 2000,
    seed: int = 1,
    remedies: bool = True,
    progress: Progress | None = None,
    settings: Mapping[str, str] = MappingProxyType({}),
    beside: Beside = Beside(),
) -> Ledger:
    """The ledger of a resolved case with settings tried on it; see `ledger`."""
    trial = tried(case, settings) if remedies or settings else Tried(case, case, (), ())
    case = trial.case
    if flights < 1:
        raise StudyRefused(f"{flights} flights", "one or more", "2000 is usual", "flights")
    view = fly_trials(case, flights, seed, progress=_between(progress, 0.0, FLOWN_AT))
    _tell(progress, "judging every row", FLOWN_AT)
    evaluated = evaluate(view)
    flown = Flown(view, evaluated, seed)
    effects = _effects(trial, flown, progress) if remedies else ()
    way, drivers, knowledge = _beside_rows(trial, flown, effects, remedies, progress)
    rows = tuple(
        ledger_row(view, row, drivers.get(row.limit.key, ()), effects)
        for row in evaluated
        if not row.not_here
    )
    if remedies:
        apart = {row.limit.key: failing_of(view, row) for row in evaluated}
        rows = tuple(replace(row, failing=apart[row.key]) for row in rows)
    _tell(progress, "finding what to measure next", WAY_AT)
    next_figures = measure_next(view, evaluated)
    if beside.next_checked:
        next_figures = check(view, evaluated, next_figures)
    plan = judged(rows, evaluated, flights)
    _tell(progress, "done", 1.0)
    return Ledger(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        site=case.site.name,
        flights=flights,
        seed=seed,
        rows=rows,
        chance=plan.total.chance,
        low=plan.total.low,
        high=plan.total.high,
        state=plan.state,
        unknown=plan.unknown,
        unmet=plan.unmet,
        open=plan.open,
        measured=case.origin.measured,
        figures=case.origin.figures,
        not_modelled=NOT_MODELLED,
        warnings=_warnings(case, rows),
        stands_on=stands_on(case),
        invented=case.origin.invented,
        measure_next=next_figures,
        base_rates=BASE_RATES if beside.base_rates else (),
        not_here=not_here_of(evaluated),
        way=way,
        knowledge=knowledge,
    )


def _effects(trial: Tried, flown: Flown, progress: Progress | None) -> tuple[Effect, ...]:
    """What every lever does by itself."""
    effects = effects_of(flown, trial.ladders, _between(progress, FLOWN_AT, HELPED_AT))
    return refined(flown, effects, progress=_between(progress, HELPED_AT, AGAIN_AT))


def _beside_rows(
    trial: Tried,
    flown: Flown,
    effects: Sequence[Effect],
    remedies: bool,
    progress: Progress | None,
) -> tuple[Way | None, dict[str, tuple[Driver, ...]], Knowledge | None]:
    """The way of several levers together, what drives each row, and what rests on guesses."""

    def way() -> Way | None:
        tell = _between(progress, AGAIN_AT, WAY_AT)
        return way_of(trial.planned, trial.settings, flown, effects, tell) if remedies else None

    def told(number: int) -> None:
        if number:
            _tell(progress, BESIDE[number - 1], WAY_AT)

    works: tuple[Callable[[], Any], ...] = (
        way,
        partial(drivers_of, flown.view, flown.whole),
        partial(knowledge_of, flown.view, flown.whole),
    )
    found, drivers, knowledge = side_by_side(works, told=told)
    return found, drivers, knowledge


def drivers_of(view: View, rows: Sequence[Evaluated]) -> dict[str, tuple[Driver, ...]]:
    """Drivers of every row whose reserve varies: shares from one fit, in order of the chance."""
    known = [row for row in rows if row.known and np.isfinite(row.metric).sum() > 1]
    if not known or view.count < 8:
        return {}
    factors = view.trials.factors
    reserves = np.column_stack([smooth_tails(row.metric) for row in known])
    groups = [factor.group for factor in factors]
    labels = {factor.group: factor.label for factor in reversed(factors)}
    names, shares, left = group_effects(view.trials.z, groups, reserves)
    powers, found = Powers(view.trials.z), {}
    told, enough = [labels[name] for name in names], enough_flights(view.count, len(groups))
    parts = parts_of_rows(known, powers)
    for i, (row, part) in enumerate(zip(known, parts)):
        named = named_drivers(names, told, shares[i], float(left[i]), enough)
        found[row.limit.key] = by_chance(named, row, part, powers, groups)
    return found


def ledger_row(
    view: View, row: Evaluated, drivers: tuple[Driver, ...], effects: Sequence[Effect]
) -> Row:
    """One evaluated limit state with its words, inputs, drivers and what helps."""
    limit, figures = row.limit, counted(row, view.count)
    return Row(
        key=limit.key,
        title=limit.title,
        phase=limit.phase,
        unit=limit.unit,
        more_is_worse=limit.more_is_worse,
        basis=row.basis,
        kind=limit.kind,
        inputs=inputs_of(view, limit),
        drivers=drivers,
        remedies=remedies_for(limit.key, effects) if figures["failed"] else (),
        answered=row.answered,
        **figures,
    )


def not_here_of(rows: Sequence[Evaluated]) -> tuple[NotHere, ...]:
    """The limit states that this rocket cannot fail in, with the reason."""
    return tuple(
        NotHere(row.limit.key, row.limit.title, row.not_here) for row in rows if row.not_here
    )


def _warnings(case: Case, rows: Sequence[Row]) -> tuple[Words, ...]:
    found = [DEFER, *case.tables.warnings, *doubts_of(case)]
    unknown = [row.title for row in rows if row.state == "unknown" and row.kind == "failure"]
    if unknown:
        found.append("not known, so the total is a lower bound: " + "; ".join(unknown))
    return tuple(found)


def _between(progress: Progress | None, low: float, high: float) -> Progress | None:
    """The progress of one stage of the work, as a share of all of it."""
    if progress is None:
        return None

    def tell(what: str, share: float) -> None:
        progress(what, low + (high - low) * share)

    return tell


def _tell(progress: Progress | None, what: str, share: float) -> None:
    if progress is not None:
        progress(what, share)
