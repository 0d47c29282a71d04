"""What helps: every change flown again on the same flights, and its effect on rows and total.

Two strata of flights are flown again: those that fail and those that stand, each cut to a limited
number and weighted back. Before is the chance that the ledger shows, from all flights. After is
made of two shares counted on the flights flown again: how many of those that failed in the row
still do, and how many of those that stood now fail. So a remedy starts at its row's own figure, and
a change that changes nothing shows a difference of exactly zero.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.chance import FAILS_ABOVE
from goodflight.studies.judging.evaluate import Evaluated, any_against, any_failing, evaluate
from goodflight.studies.levers.whatif import Change
from goodflight.studies.results import Remedy, Step
from goodflight.studies.rows import LIMIT_STATES, View
from goodflight.studies.sampling.flights import fly_trials, part_of
from goodflight.studies.sampling.trials import make_trials

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]

SCREENED = 80  # flights of each stratum flown again for every change
REFINED = 300  # and for the changes that stand first in some row
MAX_REFINED = 4
CONTENDERS = 2  # changes that may be the cheapest thing to do: always flown on the larger part
MAX_LISTED = 5  # remedies a row shows
WORSE_BY = 0.005  # a row is named as worse when its chance rises by more than this
BETTER_BY = 0.002  # a remedy is listed when the row's chance falls by more than this ...
BETTER_SHARE = 0.1  # ... and by more than this share of it
RULES = {limit.key: limit.title for limit in LIMIT_STATES if limit.kind == "rule"}
WORTH = {"free": 1.0, "minutes": 0.9, "evening": 0.75, "purchase": 0.6, "another_day": 0.4}
"""What a gain counts by its cost, so that the cheapest thing that does the job stands first."""


@dataclass(frozen=True)
class Sample:
    """Trials flown again, and how many flights each stands for."""

    chosen: NDArray[np.int64]
    weights: Array


@dataclass(frozen=True)
class Effect:
    """Chances of every row (by key) and in total, before and after one change.

    gain : fall of the chance that any row fails, without rows that fail on every flight anyway.
    refined : flown on the larger part of the flights.
    """

    change: Change
    before: dict[str, float]
    after: dict[str, float]
    total_before: float
    total: float
    gain: float
    refined: bool = False


def stratified(failing: NDArray[np.bool_], each: int) -> Sample:
    """Trials to fly again: up to `each` of the failing and of the standing, in their order.

    The scores of every quantity are shuffled, so the first flights of a stratum are a random part.
    """
    chosen, weights = [], []
    for stratum in (np.flatnonzero(failing), np.flatnonzero(~failing)):
        taken = stratum[:each]
        chosen.append(taken)
        weights.append(np.full(taken.size, stratum.size / taken.size if taken.size else 0.0))
    return Sample(np.concatenate(chosen), np.concatenate(weights))


def chance_after(
    before: float, was: NDArray[np.bool_], now: NDArray[np.bool_], weights: Array
) -> float:
    """Chance after a change, from the chance before it on all flights and a part flown again.

    Two shares of the part, each weighted: failing flights that still fail, standing ones that now
    fail. Where none in the part fails, nothing shows that the change helps: all still fail.
    """

    def share(stratum: NDArray[np.bool_], unseen: float) -> float:
        whole = float(weights[stratum].sum())
        return float(weights[stratum & now].sum()) / whole if whole > 0.0 else unseen

    return before * share(was, 1.0) + (1.0 - before) * share(~was, 0.0)


def effects_of(
    base: View,
    rows: Sequence[Evaluated],
    offered: Sequence[Change],
    flights: int,
    seed: int,
    progress: Progress | None = None,
    screened: int = SCREENED,
    refined: int = REFINED,
) -> tuple[Effect, ...]:
    """Every change of the case on a part of the same flights; the best again on more of them."""
    failed = {row.limit.key for row in rows if row.failing.any()}
    changes = [c for c in offered if not c.lever.helps or failed & set(c.lever.helps)]
    failing = any_against([row for row in rows if not row.failing.all()] or rows)
    part, effects = _Part(base, rows, failing, screened), {}
    for number, change in enumerate(changes):
        if progress is not None:
            progress(str(change.setting.title), number / (len(changes) + MAX_REFINED))
        effects[change.key] = part.effect(change, flights, seed)
    if refined > screened and changes:
        part = _Part(base, rows, failing, refined)
        for number, key in enumerate(_first_choices(rows, tuple(effects.values()))):
            change = effects[key].change
            words = f"once more on more flights: {change.setting.title}"
            share = (len(changes) + number) / (len(changes) + MAX_REFINED)
            tell = _beat(progress, words, share)
            effects[key] = replace(part.effect(change, flights, seed, tell), refined=True)
    return tuple(effects.values())


def _beat(progress: Progress | None, words: str, share: float) -> Progress | None:
    """Progress that stands still while one change is flown, so that a stop is seen within it."""
    if progress is None:
        return None
    progress(words, share)
    return lambda _what, _share: progress(words, share)


def _first_choices(rows: Sequence[Evaluated], effects: tuple[Effect, ...]) -> list[str]:
    """Keys of the changes worth most in total, then of those that stand first in most rows."""
    best = sorted((e for e in effects if _worth(e) > BETTER_BY), key=_worth, reverse=True)
    firsts = {effect.change.key: len(rows) for effect in best[:CONTENDERS]}
    for row in rows:
        listed = remedies_for(row.limit.key, effects) if row.failing.any() else ()
        if listed:
            firsts[listed[0].key] = firsts.get(listed[0].key, 0) + 1
    return sorted(firsts, key=lambda key: -firsts[key])[:MAX_REFINED]


class _Part:
    """A stratified part of flown flights, with the rows before any change.

    before : chance of every row that has figures, by key, on all flights; total : of any row.
    """

    def __init__(
        self, base: View, whole: Sequence[Evaluated], failing: NDArray[np.bool_], each: int
    ) -> None:
        self.sample = stratified(failing, each)
        self.view = part_of(base, self.sample.chosen)
        self.rows = evaluate(self.view)
        self.before = {row.limit.key: float(row.failing.mean()) for row in whole if row.known}
        self.total = float(any_failing(whole).mean())

    def effect(
        self, change: Change, flights: int, seed: int, progress: Progress | None = None
    ) -> Effect:
        """One change on these flights: chances before and after, with the same weights."""
        if change.lever.flies:
            after_view = fly_trials(change.case, flights, seed, self.sample.chosen, progress)
        else:
            redrawn = make_trials(change.case, flights, seed, self.sample.chosen)
            after_view = View(change.case, redrawn, self.view.outcomes)
        if progress is not None:
            progress(str(change.setting.title), 1.0)
        after = evaluate(after_view)
        weights = self.sample.weights / self.sample.weights.sum()

        def share(failing: NDArray[np.bool_]) -> float:
            return float(weights[failing].sum())

        stuck = {
            new.limit.key
            for old, new in zip(self.rows, after)
            if old.failing.all() and new.failing.all()
        }
        open_before = [row for row in self.rows if row.limit.key not in stuck]
        open_after = [row for row in after if row.limit.key not in stuck]
        was = {row.limit.key: row.failing for row in self.rows}
        chances = {
            row.limit.key: chance_after(
                self.before.get(row.limit.key, 0.0), was[row.limit.key], row.failing, weights
            )
            for row in after
            if row.known
        }
        return Effect(
            change,
            self.before,
            chances,
            self.total,
            chance_after(self.total, any_failing(self.rows), any_failing(after), weights),
            share(any_against(open_before)) - share(any_against(open_after)),
        )


def remedies_for(key: str, effects: Sequence[Effect]) -> tuple[Remedy, ...]:
    """What helps one row: most total gain for its cost first; at most two of a kind."""
    helping = [e for e in effects if _helps(key, e)]
    helping.sort(key=lambda e: (-_worth(e), e.after[key]))
    kinds: dict[str, int] = {}
    listed = []
    for effect in helping:
        kind = effect.change.lever.key
        kinds[kind] = kinds.get(kind, 0) + 1
        if kinds[kind] <= 2:
            listed.append(remedy_of(key, effect))
    return tuple(listed[:MAX_LISTED])


def _helps(key: str, effect: Effect) -> bool:
    if key not in effect.before or key not in effect.after:
        return False
    if effect.gain < -WORSE_BY:
        return False  # what is won here is lost elsewhere
    gain = effect.before[key] - effect.after[key]
    return gain > BETTER_BY and gain > BETTER_SHARE * effect.before[key]


def _worth(effect: Effect) -> float:
    """Fall of the total, counted by its cost; a rise counts in full."""
    gain = effect.gain
    return gain * WORTH[effect.change.cost] if gain > 0.0 else gain


def cheapest_of(effects: Sequence[Effect]) -> Step | None:
    """The one change over all rows that lowers the total most for its cost; None when none does.

    Among the changes flown on the larger part of the flights when there are any: the best of many
    small samples looks better than it is.
    """
    best = max([e for e in effects if e.refined] or effects, key=_worth, default=None)
    if best is None or _worth(best) <= BETTER_BY:
        return None
    falls = {key: best.before[key] - best.after.get(key, 0.0) for key in best.before}
    helps = sorted((k for k in falls if falls[k] > BETTER_BY), key=lambda k: -falls[k])
    meets = tuple(
        RULES[key]
        for key in helps
        if key in RULES and best.before[key] > FAILS_ABOVE >= best.after.get(key, 0.0)
    )
    return Step(remedy_of(helps[0] if helps else "", best), tuple(helps), meets)


def remedy_of(key: str, effect: Effect) -> Remedy:
    """One effect as a row shows it."""
    change = effect.change
    worse = tuple(
        name
        for name, chance in effect.after.items()
        if chance - effect.before.get(name, 0.0) > WORSE_BY
    )
    return Remedy(
        change.key, change.setting.title, change.cost, change.note,
        effect.after.get(key, 0.0), effect.before.get(key, 0.0),
        effect.total, effect.total_before, worse, change.setting.writes,
        ((change.lever.key, change.setting.id),), change.lever.caution,
    )  # fmt: skip
