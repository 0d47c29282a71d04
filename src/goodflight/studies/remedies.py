"""What helps: every change flown again on the same draws, and its effect on rows and total.

Two strata of draws are flown again: those that fail and those that stand, each cut to a limited
number and weighted back. Before and after are taken from the same draws with the same weights, so
a change that changes nothing shows a difference of exactly zero.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.changes import Change, changes_of
from goodflight.studies.draws import draw
from goodflight.studies.evaluate import Evaluated, any_failing, evaluate
from goodflight.studies.flights import fly_draws, part_of
from goodflight.studies.limit_states import View
from goodflight.studies.results import Remedy

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]

OF_EACH_STRATUM = 200  # draws flown again for every change
MOST_LISTED = 5  # remedies a row shows
WORSE_BY = 0.005  # a row is named as worse when its chance rises by more than this
BETTER_BY = 0.002  # a remedy is listed when the row's chance falls by more than this ...
BETTER_SHARE = 0.1  # ... and by more than this share of it
WORTH = {"free": 1.0, "minutes": 0.9, "evening": 0.75, "purchase": 0.6, "another_day": 0.4}
"""What a gain counts by its cost, so that the cheapest thing that does the job stands first."""


@dataclass(frozen=True)
class Sample:
    """Draws flown again, and how many draws each stands for."""

    chosen: NDArray[np.int64]
    weights: Array


@dataclass(frozen=True)
class Effect:
    """Chances of every row (by key) and in total, before and after one change."""

    change: Change
    before: dict[str, float]
    after: dict[str, float]
    total_before: float
    total: float


def stratified(failing: NDArray[np.bool_], each: int = OF_EACH_STRATUM) -> Sample:
    """Draws to fly again: up to `each` of the failing and of the standing, in their order.

    The scores of every quantity are shuffled, so the first draws of a stratum are a random part.
    """
    chosen, weights = [], []
    for stratum in (np.flatnonzero(failing), np.flatnonzero(~failing)):
        taken = stratum[:each]
        chosen.append(taken)
        weights.append(np.full(taken.size, stratum.size / taken.size if taken.size else 0.0))
    return Sample(np.concatenate(chosen), np.concatenate(weights))


def effects_of(
    base: View,
    rows: Sequence[Evaluated],
    draws: int,
    seed: int,
    progress: Progress | None = None,
    each: int = OF_EACH_STRATUM,
) -> tuple[Effect, ...]:
    """Every change of the case, flown again on a stratified part of the same draws."""
    sample = stratified(any_failing(rows), each)
    part = part_of(base, sample.chosen)
    before_rows = evaluate(part)
    changes = changes_of(base.case)
    effects = []
    for number, change in enumerate(changes):
        if progress is not None:
            progress(change.title, number / len(changes))
        effects.append(effect_of(change, part, before_rows, sample, draws, seed))
    return tuple(effects)


def effect_of(
    change: Change,
    part: View,
    before_rows: Sequence[Evaluated],
    sample: Sample,
    draws: int,
    seed: int,
) -> Effect:
    """One change on the given draws: chances before and after, with the same weights."""
    if change.flies:
        after_view = fly_draws(change.case, draws, seed, sample.chosen)
    else:
        redrawn = draw(change.case, draws, seed, sample.chosen)
        after_view = View(change.case, redrawn, part.outcomes)
    after_rows = evaluate(after_view)
    weights = sample.weights / sample.weights.sum()
    return Effect(
        change,
        {r.limit.key: float(weights[r.failing].sum()) for r in before_rows if r.known},
        {r.limit.key: float(weights[r.failing].sum()) for r in after_rows if r.known},
        float(weights[any_failing(before_rows)].sum()),
        float(weights[any_failing(after_rows)].sum()),
    )


def remedies_for(key: str, effects: Sequence[Effect]) -> tuple[Remedy, ...]:
    """What helps one row: most total gain for its cost first; at most two of a kind."""
    helping = [e for e in effects if _helps(key, e)]
    helping.sort(key=lambda e: (-_worth(e), e.after[key]))
    kinds: dict[str, int] = {}
    listed = []
    for effect in helping:
        kind = effect.change.key.split("_")[0]
        kinds[kind] = kinds.get(kind, 0) + 1
        if kinds[kind] <= 2:
            listed.append(remedy_of(key, effect))
    return tuple(listed[:MOST_LISTED])


def _helps(key: str, effect: Effect) -> bool:
    if key not in effect.before or key not in effect.after:
        return False
    gain = effect.before[key] - effect.after[key]
    return gain > BETTER_BY and gain > BETTER_SHARE * effect.before[key]


def _worth(effect: Effect) -> float:
    """Gain in the total, counted by its cost; a loss counts in full."""
    gain = effect.total_before - effect.total
    return gain * WORTH[effect.change.cost] if gain > 0.0 else gain


def remedy_of(key: str, effect: Effect) -> Remedy:
    """One effect as a row shows it."""
    change = effect.change
    worse = tuple(
        name
        for name, chance in effect.after.items()
        if chance - effect.before.get(name, 0.0) > WORSE_BY
    )
    return Remedy(
        change.key, change.title, change.cost, change.cost_note,
        effect.after.get(key, 0.0), effect.before.get(key, 0.0),
        effect.total, effect.total_before, worse, change.writes,
    )  # fmt: skip
