"""Flights flown again with a change: on which of them, and what differs by more than chance.

A lever is tried on two strata of the flights: those that fail and those that stand, each cut to a
limited number and weighted back. Before is the chance that the ledger shows, from all flights.
After is made of two shares counted on the flights tried: how many of those that failed in the row
still do, and how many of those that stood now fail. So a remedy starts at its row's own figure, and
a change that changes nothing shows a difference of exactly zero. The flights before and after are
the same, so what a difference may be by chance comes from the flights that change sides alone.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.case.planned import Case
from goodflight.studies.judging.chance import MARGINAL_ABOVE
from goodflight.studies.judging.evaluate import (
    SHOWS,
    Evaluated,
    any_against,
    any_failing,
    evaluate,
    evaluate_unflown,
)
from goodflight.studies.levers.whatif import Change
from goodflight.studies.rows import LIMIT_STATES, View
from goodflight.studies.sampling.flights import fly_sample
from goodflight.studies.sampling.trials import Trials, make_trials

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

SCREENED: Final = 80  # flights of each stratum that are flown again
ROWS: Final = {limit.key: limit for limit in LIMIT_STATES}


@dataclass(frozen=True)
class Sample:
    """Trials flown again, and how many flights each stands for."""

    chosen: NDArray[np.int64]
    weights: Array


@dataclass(frozen=True, eq=False)
class Effect:
    """Chances of every row (by key) and in total, before and after one change.

    gain : fall of the chance that anything is against the flight, without rows that fail on every
    flight anyway. gain_error, total_error, errors : standard errors of the differences.
    masks : failing flights of the part, by row.
    lost : keys of rows that were known and are not any more.
    """

    change: Change
    before: Mapping[str, float]
    after: Mapping[str, float]
    total_before: float
    total: float
    gain: float
    gain_error: float = 0.0
    total_error: float = 0.0
    errors: Mapping[str, float] = field(default_factory=dict)
    masks: Mapping[str, Mask] = field(default_factory=dict)
    lost: tuple[str, ...] = ()
    for_rows: tuple[str, ...] = ()  # keys of the rows that it was solved for


def stratified(failing: Mask, each: int) -> Sample:
    """Trials to fly again: up to `each` of the failing and of the standing, in their order.

    The scores of every quantity are shuffled, so the first flights of a stratum are a random part.
    """
    chosen, weights = [], []
    for stratum in (np.flatnonzero(failing), np.flatnonzero(~failing)):
        taken = stratum[:each]
        chosen.append(taken)
        weights.append(np.full(taken.size, stratum.size / taken.size if taken.size else 0.0))
    return Sample(np.concatenate(chosen), np.concatenate(weights))


def chance_after(before: float, was: Mask, now: Mask, weights: Array) -> float:
    """Chance after a change, from the chance before it on all flights and a part flown again.

    Two shares of the part, each weighted: failing flights that still fail, standing ones that now
    fail. Where none in the part fails, nothing shows that the change helps: all still fail.
    """

    def share(stratum: Mask, unseen: float) -> float:
        whole = float(weights[stratum].sum())
        return float(weights[stratum & now].sum()) / whole if whole > 0.0 else unseen

    return before * share(was, 1.0) + (1.0 - before) * share(~was, 0.0)


def paired_error(was: Mask, now: Mask, weights: Array) -> float:
    """Standard error of a difference on the same flights: from those that change sides alone."""
    return math.sqrt(float((weights[was != now] ** 2).sum()))


class NotFlownError(LookupError):
    """A row looks at how flights flew that are not flown yet."""


@dataclass(frozen=True, eq=False)
class _Unflown(View):
    """Flights that are drawn and not flown: enough for rows that ask nothing of a flight."""

    @property
    def count(self) -> int:
        """Number of flights."""
        return len(self.trials.seeds)

    def outcome(self, name: str) -> Array:
        """There is none."""
        raise NotFlownError(name)


class Changed:
    """The part of the flights with a change; each row is evaluated once.

    Flown when the first row asks how they flew. flying : keys of the rows that are known to ask;
    None: all are flown at once.
    """

    def __init__(
        self, case: Case, trials: Trials, fly: Callable[[], View], flying: set[str] | None
    ) -> None:
        self._unflown = _Unflown(case, trials, np.empty((len(trials.seeds), 0)), masks_only=True)
        self._fly, self._flying = fly, flying
        self._rows: dict[str, Evaluated] = {}
        self._on_the_ground: dict[str, Evaluated] = {}

    @property
    def trials(self) -> Trials:
        """What was drawn for it."""
        return self._unflown.trials

    @cached_property
    def view(self) -> View:
        """The flights, flown."""
        return self._fly()

    def row(self, key: str) -> Evaluated:
        """One row on it."""
        return self._grounded(key) or self._flown(key)

    def _grounded(self, key: str) -> Evaluated | None:
        """A row that asks nothing of the flights, unless they are flown already."""
        if self._flying is None or key in self._flying or "view" in vars(self):
            return self._on_the_ground.get(key)
        if key not in self._on_the_ground:
            try:
                self._on_the_ground[key] = evaluate_unflown(self._unflown, ROWS[key])
            except NotFlownError:
                self._flying.add(key)
        return self._on_the_ground.get(key)

    def _flown(self, key: str) -> Evaluated:
        if key not in self._rows:
            (self._rows[key],) = evaluate(self.view, (ROWS[key],))
        return self._rows[key]

    def rows(self) -> tuple[Evaluated, ...]:
        """Every row on it, in their order."""
        new = [limit for limit in LIMIT_STATES if limit.key not in self._rows]
        self._rows |= {row.limit.key: row for row in evaluate(self.view, new)}
        return tuple(self._rows[limit.key] for limit in LIMIT_STATES)


class Flown:
    """Flown flights of a plan with their rows, and the part of them that is flown again.

    before : chance of every row that has figures, by key, on all flights; total : of any row.
    """

    def __init__(
        self, view: View, rows: Sequence[Evaluated], seed: int, each: int = SCREENED
    ) -> None:
        self.view, self.whole, self.seed = view, rows, seed
        open_rows = [row for row in rows if not row.failing.all()] or rows
        self.sample = stratified(any_against(open_rows), each)
        self.weights = self.sample.weights / self.sample.weights.sum()
        self.before = {row.limit.key: float(row.failing.mean()) for row in rows if row.known}
        self.total = float(any_failing(rows).mean())
        self._all = {row.limit.key: row.failing for row in rows if row.known}
        status = view.outcome("status")  # a flight that counts in one row only has to be known
        apart = np.isin(status, list(SHOWS.values())).any()
        self._flying: set[str] | None = None if apart else set()

    @cached_property
    def rows(self) -> tuple[Evaluated, ...]:
        """Every row on the part, each flight failing as it does among all."""
        chosen = self.sample.chosen
        return tuple(replace(row, failing=row.failing[chosen]) for row in self.whole)

    @cached_property
    def masks(self) -> Mapping[str, Mask]:
        """Failing flights of every row that has figures, of the part."""
        return {key: mask[self.sample.chosen] for key, mask in self._all.items()}

    def masks_of_all(self) -> Mapping[str, Mask]:
        """Failing flights of every row that has figures, of all flights."""
        return self._all

    def needy(self, limit: float = MARGINAL_ABOVE) -> tuple[str, ...]:
        """Keys of the rows that are above a limit, in their order."""
        return tuple(key for key, chance in self.before.items() if chance > limit)

    def changed(
        self, change: Change, flies: bool | None = None, like: Changed | None = None
    ) -> Changed:
        """The part of the flights with a change, flown again where it changes the flight.

        flies : whether it does; None: as its lever says. like : the same change, drawn already.
        """
        chosen, flies = self.sample.chosen, change.lever.flies if flies is None else flies
        drawn = None if like is None else like.trials
        trials = drawn or make_trials(change.case, self.view.count, self.seed, chosen)

        def fly() -> View:
            if not flies:
                return View(change.case, trials, self.view.outcomes[chosen], masks_only=True)
            return replace(fly_sample(change.case, trials), masks_only=True)

        return Changed(change.case, trials, fly, self._flying if flies else None)

    def chance(self, key: str, changed: Changed) -> float:
        """Chance of one row on changed flights; one that is not known any more helps nobody."""
        row = changed.row(key)
        if not row.known:
            return math.inf
        return chance_after(self.before[key], self.masks[key], row.failing, self.weights)

    def effect(
        self, change: Change, changed: Changed | None = None, for_rows: Iterable[str] = ()
    ) -> Effect:
        """One change on the same flights: chances before and after."""
        after = (self.changed(change) if changed is None else changed).rows()
        old, weights, was = self.rows, self.weights, self.masks
        chances, errors, masks = {}, {}, {}
        lost = tuple(row.limit.key for row in after if not row.known and row.limit.key in was)
        for row in after:
            key = row.limit.key
            if not row.known:
                continue
            before = self.before.get(key, 0.0)
            known = was.get(key, np.zeros_like(row.failing))
            chances[key] = chance_after(before, known, row.failing, weights)
            errors[key] = paired_error(known, row.failing, weights)
            masks[key] = row.failing
        # what is not known any more is not better: its flights count as they did
        after = tuple(
            new if new.limit.key not in lost else replace(new, failing=a.failing)
            for a, new in zip(old, after)
        )
        stuck = {
            new.limit.key for a, new in zip(old, after) if a.failing.all() and new.failing.all()
        }
        open_before, open_after = (
            any_against([row for row in rows if row.limit.key not in stuck])
            for rows in (old, after)
        )
        total = any_failing(after)
        return Effect(
            change=change,
            before=self.before,
            after=chances,
            total_before=self.total,
            total=chance_after(self.total, any_failing(old), total, weights),
            gain=float(weights[open_before].sum()) - float(weights[open_after].sum()),
            gain_error=paired_error(open_before, open_after, weights),
            total_error=paired_error(any_failing(old), total, weights),
            errors=errors,
            masks=masks,
            lost=lost,
            for_rows=tuple(for_rows),
        )
