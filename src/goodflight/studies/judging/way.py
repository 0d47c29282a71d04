"""The way to a good flight: the cheapest changes that together bring a plan under its limit.

Chosen one by one by what they take off per cost, foretold from the flights on which each was tried
alone: a row that a change moves is taken as it is with that change. What turns out not to be needed
is left out again. The list is then flown together, on all flights; where it does not do, what helps
is looked for anew from there. Every figure shown is counted on all flights.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.case.planned import Case
from goodflight.studies.judging.chance import FAILS_ABOVE, TOTAL_FAILS_ABOVE, wilson
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.judging.flown import ROWS, Effect, Flown, paired_error
from goodflight.studies.judging.remedies import (
    BETTER_BY,
    COSTS,
    ERRORS,
    NOT_FOR_MARGINAL,
    RULES,
    WORTH,
    effects_of,
    remedy_of,
)
from goodflight.studies.levers.whatif import Change, Tried, applied, tried
from goodflight.studies.results import Cost, Way, WayStep
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_sample
from goodflight.studies.sampling.trials import make_trials

Mask = NDArray[np.bool_]
Masks = Mapping[str, Mask]
Progress = Callable[[str, float], None]

MOST_STEPS: Final = 8
MOST_FURTHER: Final = 3  # steps that lower a total that is under its limit already
DECIDES: Final = 0.5  # of the fall of the total: what is lost without a step that decides
BY_GAIN: Final[Mapping[Cost, float]] = dict.fromkeys(COSTS, 1.0)  # where cost does not count
ROUNDS: Final = 3  # times that what helps is looked for anew


class _Flights:
    """All flights with some changes on a plan, each set of changes flown once.

    What does not change the flight takes over how the others flew.
    """

    def __init__(self, case: Case, settings: Mapping[str, str], base: Flown) -> None:
        self.case, self.settings, self.base = case, settings, base
        self._outcomes = {frozenset[str](): base.view.outcomes}
        self._flown = {frozenset[str](): base}
        self._offers = dict[frozenset[str], tuple[Effect, ...]]()

    def trial(self, changes: Sequence[Change]) -> Tried:
        """The plan with these changes, what they write, and what can be done besides."""
        return tried(self.case, {**self.settings, **_settings(changes)})

    def offers(self, changes: Sequence[Change]) -> tuple[Effect, ...]:
        """What helps besides these changes, looked for once."""
        key = frozenset(each.key for each in changes)
        if key not in self._offers:
            ladders = self.trial(changes).ladders
            self._offers[key] = effects_of(self.of(changes), ladders, limit=FAILS_ABOVE)
        return self._offers[key]

    def of(self, changes: Sequence[Change]) -> Flown:
        """All flights with these changes, and their rows."""
        key = frozenset(each.key for each in changes)
        if key not in self._flown:
            self._flown[key] = self._fly(changes)
        return self._flown[key]

    def _fly(self, changes: Sequence[Change]) -> Flown:
        case = applied(self.case, {**self.settings, **_settings(changes)})
        seed = self.base.seed
        trials = make_trials(case, self.base.view.count, seed)
        flies = frozenset(each.key for each in changes if each.lever.flies)
        if flies not in self._outcomes:
            self._outcomes[flies] = fly_sample(case, trials).outcomes
        view = View(case, trials, self._outcomes[flies], masks_only=True)
        return Flown(view, evaluate(view), seed)


@dataclass(frozen=True, eq=False)
class _Taken:
    """Steps taken so far, and the flights with all of them."""

    changes: tuple[Change, ...]
    flown: Flown


def way_of(
    case: Case,
    settings: Mapping[str, str],
    flown: Flown,
    effects: Sequence[Effect],
    progress: Progress | None = None,
) -> Way:
    """Find the way of a plan from what its levers do one by one.

    Parameters
        case : Case - as planned. [SI]
        settings : mapping - what is tried on it already, by lever. [-]
        flown : Flown - all flights with that, and their rows. [SI]
        effects : sequence of Effect - the least change of every lever for every row. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        way : Way - the steps that decide and then the others, each the cheapest first, with the
            total after each. [-]
    Raises
        nothing
    Validity
        The cheapest list that the search finds, not proven to be the cheapest there is.
    Source
        Greedy choice and pruning; our choice.
    """
    already = excess(flown.masks_of_all()) <= 0.0
    flights = _Flights(case, settings, flown)
    taken = _found(flights, effects, WORTH, already, progress)
    if not already:
        if not _does(taken):  # what is cheap may stand in the way of what does
            again = _found(flights, effects, BY_GAIN, already, progress)
            taken = min(taken, again, key=lambda each: excess(each.flown.masks_of_all()))
        if _does(taken):
            taken = _pruned(flights, taken)
        taken = _deciding_first(flights, taken)
    return _told(flights, taken, already)


def _found(
    flights: _Flights,
    effects: Sequence[Effect],
    worth: Mapping[Cost, float],
    already: bool,
    progress: Progress | None,
) -> _Taken:
    """What is chosen by its gain, counted by what its cost makes it worth; flown together."""
    taken, offered = _Taken((), flights.base), tuple(effects)
    for number in range(1 if already else ROUNDS):
        chosen = _chosen(taken.flown, offered, worth, already)
        if not chosen:
            break
        if progress is not None:
            progress("flying the changes together", number / ROUNDS)
        changes = _together(taken.changes, tuple(each.change for each in chosen))
        now = flights.of(changes)
        while already and changes and excess(now.masks_of_all()) > 0.0:  # a step too far
            changes = changes[:-1]
            now = flights.of(changes)
        if not already and excess(now.masks_of_all()) >= excess(taken.flown.masks_of_all()):
            break
        taken = _Taken(changes, now)
        if already or _does(taken):
            break
        offered = flights.offers(changes)
    return taken


def _does(taken: _Taken) -> bool:
    """Whether no row and not the total is above its limit."""
    return excess(taken.flown.masks_of_all()) <= 0.0


def _pruned(flights: _Flights, taken: _Taken) -> _Taken:
    """The steps without those that are not needed, the most costly looked at first."""
    for change in reversed(taken.changes):
        fewer = tuple(each for each in taken.changes if each is not change)
        if not fewer:
            break
        flown = flights.of(fewer)
        if excess(flown.masks_of_all()) <= 0.0:
            taken = _Taken(fewer, flown)
    return taken


def _deciding_first(flights: _Flights, taken: _Taken) -> _Taken:
    """The steps in the order of cost, before them those without which most of the fall is lost.

    A row that fails on nearly every flight hides what all other steps do, until it is mended.
    """
    if len(taken.changes) < 2:
        return taken
    half = taken.flown.total + DECIDES * (flights.base.total - taken.flown.total)

    def helps_later(change: Change) -> bool:
        return flights.of([each for each in taken.changes if each is not change]).total < half

    return replace(taken, changes=tuple(sorted(taken.changes, key=helps_later)))


def excess(masks: Masks, weights: NDArray[np.float64] | None = None) -> float:
    """By how much all rows and the total together are above what fails a plan; 0: nothing is.

    A rule of thumb is a caution beside rows that judge what follows from it: it fails no plan.
    """
    if not masks:
        return 0.0
    if weights is None:
        count = next(iter(masks.values())).size
        weights = np.full(count, 1.0 / count)
    rows = np.array([mask for key, mask in masks.items() if not ROWS[key].thumb])
    over = np.maximum(rows @ weights - FAILS_ABOVE, 0.0).sum()
    return float(over + max(0.0, _total(masks, weights) - TOTAL_FAILS_ABOVE))


def _total(masks: Masks, weights: NDArray[np.float64]) -> float:
    """Chance that any failure of the flight happens."""
    return float(weights[_any(masks)].sum())


def _any(masks: Masks) -> Mask:
    """Flights in which any failure of the flight happens."""
    found = [mask for key, mask in masks.items() if ROWS[key].kind == "failure"]
    out: Mask = np.any(found, axis=0)
    return out


def _chosen(
    flown: Flown, offered: Sequence[Effect], worth: Mapping[Cost, float], already: bool
) -> tuple[Effect, ...]:
    """The changes that are foretold to do together, none of them needless."""
    weights, chosen = flown.weights, list[Effect]()
    offered = [replace(each, masks=_moved(flown.masks, each)) for each in offered]

    def score(effects: Sequence[Effect]) -> float:
        masks = foretold(flown.masks, effects)
        over = excess(masks, weights)
        return _total(masks, weights) + over if already else over

    now = score(())
    while len(chosen) < (MOST_FURTHER if already else MOST_STEPS) and now > 0.0:
        fit = (each for each in offered if not each.lost and not _idle(each, already))
        tries = [(each, _with(chosen, each)) for each in fit]
        falls = [(now - score(many)) * worth[each.change.cost] for each, many in tries]
        order = sorted(range(len(falls)), key=lambda place: -falls[place])
        useful = (tries[place][1] for place in order if falls[place] > 0.0)
        best = next((many for many in useful if _clear(flown, chosen, many, already)), None)
        if best is None:
            break
        chosen = best
        now = score(chosen)
    for each in sorted(chosen, key=lambda e: -COSTS.index(e.change.cost)):
        without = [other for other in chosen if other is not each]
        if not already and score(without) <= now:
            chosen = without
    return tuple(chosen)


def _idle(effect: Effect, already: bool) -> bool:
    """Whether a change is too great for a plan that is under its limit already."""
    change = effect.change
    too_great = change.lever.key in NOT_FOR_MARGINAL or change.cost == "another_day"
    return already and too_great


def _with(chosen: Sequence[Effect], more: Effect) -> list[Effect]:
    """The choice with one more; of one lever the later setting holds."""
    lever = more.change.lever.key
    return [*(each for each in chosen if each.change.lever.key != lever), more]


def _clear(flown: Flown, old: Sequence[Effect], new: Sequence[Effect], already: bool) -> bool:
    """Whether what a choice gains, in the total or in a row above its limit, is beyond chance."""
    was, now = foretold(flown.masks, old), foretold(flown.masks, new)
    weights = flown.weights
    pairs = [(_any(was), _any(now))]
    if not already:
        voting = [key for key in was if key in now and not ROWS[key].thumb]
        over = [key for key in voting if float(weights[was[key]].sum()) > FAILS_ABOVE]
        pairs += [(was[key], now[key]) for key in over]
    falls = (
        float(weights[a].sum()) - float(weights[b].sum()) - ERRORS * paired_error(a, b, weights)
        for a, b in pairs
    )
    return max(falls) > 0.0


def foretold(masks: Masks, effects: Sequence[Effect]) -> dict[str, Mask]:
    """Rows with several changes, each row as it is with the last change that moves it."""
    found = dict(masks)
    for effect in effects:
        found |= _moved(masks, effect)
    return found


def _moved(masks: Masks, effect: Effect) -> dict[str, Mask]:
    """The rows that are otherwise with a change."""
    return {
        key: mask
        for key, mask in effect.masks.items()
        if key not in masks or not np.array_equal(mask, masks[key])
    }


def _together(old: Sequence[Change], new: Sequence[Change]) -> tuple[Change, ...]:
    """Old and new changes, of one lever the new one; the cheapest first."""
    levers = {each.lever.key: each for each in (*old, *new)}
    return tuple(sorted(levers.values(), key=lambda each: COSTS.index(each.cost)))


def _settings(changes: Sequence[Change]) -> dict[str, str]:
    return {each.lever.key: each.setting.id for each in changes}


def _told(flights: _Flights, taken: _Taken, already: bool) -> Way:
    """The steps one after the other, on all flights."""
    steps, before = list[WayStep](), flights.base
    for number, change in enumerate(taken.changes, 1):
        now = flights.of(taken.changes[:number])
        steps.append(_step(change, before, now))
        before = now
    failed = int(any_failing(before.whole).sum())
    total = wilson(failed, before.view.count)
    masks = before.masks_of_all()
    voting = ((key, mask) for key, mask in masks.items() if not ROWS[key].thumb)
    over = tuple(key for key, mask in voting if float(mask.mean()) > FAILS_ABOVE)
    trial = flights.trial(taken.changes)
    return Way(
        steps=tuple(steps),
        total_before=flights.base.total,
        total=total.chance,
        low=total.low,
        high=total.high,
        limit=TOTAL_FAILS_ABOVE,
        reached=excess(masks) <= 0.0,
        already=already,
        against=over,
        unknown=tuple(
            row.limit.key for row in before.whole if not row.known and row.limit.kind == "failure"
        ),
        change=trial.writes,
        settings=tuple(trial.settings.items()),
    )


def _step(change: Change, before: Flown, now: Flown) -> WayStep:
    """What one step does on top of those before it, on all flights."""
    effect = between(change, before, now)
    falls = {key: before.before[key] - now.before.get(key, 0.0) for key in before.before}
    helped = sorted((k for k in falls if falls[k] > BETTER_BY), key=lambda k: -falls[k])
    meets = tuple(
        RULES[key]
        for key in helped
        if key in RULES and before.before[key] > FAILS_ABOVE >= now.before.get(key, 0.0)
    )
    return WayStep(remedy_of(helped[0] if helped else "", effect), tuple(helped), meets)


def between(change: Change, before: Flown, now: Flown) -> Effect:
    """The effect of a change between two sets of all flights."""
    was, then = before.masks_of_all(), now.masks_of_all()
    weights = np.full(now.view.count, 1.0 / now.view.count)
    errors = {
        key: paired_error(was.get(key, np.zeros_like(mask)), mask, weights)
        for key, mask in then.items()
    }
    return Effect(
        change=change,
        before=before.before,
        after=now.before,
        total_before=before.total,
        total=now.total,
        gain=before.total - now.total,
        errors=errors,
        masks=then,
        lost=tuple(key for key in was if key not in then),
    )
