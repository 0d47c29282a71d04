"""What helps: for every row the least change of every lever that brings it under its limit.

Levers that do not fly are judged on all flights. The others are flown again on two strata of them:
those that fail and those that stand, each cut to a limited number and weighted back. Before is the
chance that the ledger shows, from all flights. After is made of two shares counted on the flights
flown again: how many of those that failed in the row still do, and how many of those that stood now
fail. So a remedy starts at its row's own figure, and a change that changes nothing shows a
difference of exactly zero. The flights before and after are the same, so what a difference may be
by chance comes from the flights that change sides alone.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.chance import FAILS_ABOVE, MARGINAL_ABOVE, state_of
from goodflight.studies.judging.evaluate import Evaluated, any_against, any_failing, evaluate
from goodflight.studies.judging.solving import Found, least_change
from goodflight.studies.levers.whatif import Change
from goodflight.studies.results import Cost, Remedy, Side, State
from goodflight.studies.rows import LIMIT_STATES, View
from goodflight.studies.sampling.flights import fly_trials, part_of
from goodflight.studies.sampling.trials import make_trials

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Ladder = tuple[Change, ...]
Progress = Callable[[str, float], None]

SCREENED: Final = 80  # flights of each stratum that are flown again
REFINED: Final = 300  # and for the changes that are worth most
MAX_REFINED: Final = 4
MAX_LISTED: Final = 5  # remedies a row shows
WORSE_BY: Final = 0.005  # a row is named as moved when its chance does by more than this
BETTER_BY: Final = 0.002  # a remedy is listed when the row's chance falls by more than this ...
BETTER_SHARE: Final = 0.1  # ... and by more than this share of it ...
ERRORS: Final = 2.0  # ... and by more than this many times the error of the difference
NOT_FOR_MARGINAL: Final = ("motor", "delay")  # levers too great for a row that is only marginal
RULES: Final = {limit.key: limit.title for limit in LIMIT_STATES if limit.kind != "failure"}
ROWS: Final = {limit.key: limit for limit in LIMIT_STATES}
WORTH: Final[dict[Cost, float]] = {
    "free": 1.0, "minutes": 0.9, "evening": 0.75, "purchase": 0.6, "another_day": 0.4,
}  # fmt: skip
"""What a gain counts by its cost, so that the cheapest thing that does the job stands first."""
STATES: Final[tuple[State, ...]] = ("ok", "marginal", "fails", "unknown")
COSTS: Final = tuple(WORTH)  # the cheapest first


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
        part = part_of(view, self.sample.chosen)
        self.rows = evaluate(part)
        self.before = {row.limit.key: float(row.failing.mean()) for row in rows if row.known}
        self.total = float(any_failing(rows).mean())
        self.masks = {row.limit.key: row.failing for row in self.rows if row.known}
        self._all = {row.limit.key: row.failing for row in rows if row.known}

    def masks_of_all(self) -> Mapping[str, Mask]:
        """Failing flights of every row that has figures, of all flights."""
        return self._all

    def needy(self, limit: float = MARGINAL_ABOVE) -> tuple[str, ...]:
        """Keys of the rows that are above a limit, in their order."""
        return tuple(key for key, chance in self.before.items() if chance > limit)

    def changed(self, change: Change, whole: bool = False) -> View:
        """The part of the flights with a change, or all of them where they need not be flown."""
        count = self.view.count
        if change.lever.flies:
            return fly_trials(change.case, count, self.seed, self.sample.chosen)
        if whole:
            return View(change.case, make_trials(change.case, count, self.seed), self.view.outcomes)
        trials = make_trials(change.case, count, self.seed, self.sample.chosen)
        return View(change.case, trials, self.view.outcomes[self.sample.chosen])

    def chance(self, key: str, view: View) -> float:
        """Chance of one row on changed flights; one that is not known any more helps nobody."""
        (row,) = evaluate(view, (ROWS[key],))
        if not row.known:
            return math.inf
        if view.count != self.sample.chosen.size:
            return float(row.failing.mean())
        return chance_after(self.before[key], self.masks[key], row.failing, self.weights)

    def effect(
        self, change: Change, view: View | None = None, for_rows: Iterable[str] = ()
    ) -> Effect:
        """One change on the same flights: chances before and after."""
        after = evaluate(self.changed(change, True) if view is None else view)
        flies = change.lever.flies
        count = self.view.count
        old, weights = (
            (self.rows, self.weights) if flies else (self.whole, np.full(count, 1.0 / count))
        )
        was = self.masks if flies else self._all
        chances, errors, masks = {}, {}, {}
        lost = tuple(row.limit.key for row in after if not row.known and row.limit.key in was)
        for row in after:
            key = row.limit.key
            if not row.known:
                continue
            before = self.before.get(key, 0.0)
            known = was.get(key, np.zeros_like(row.failing))
            chances[key] = (
                chance_after(before, known, row.failing, weights)
                if flies else float(row.failing.mean())
            )  # fmt: skip
            errors[key] = paired_error(known, row.failing, weights)
            masks[key] = row.failing if flies else row.failing[self.sample.chosen]
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
            change,
            self.before,
            chances,
            self.total,
            chance_after(self.total, any_failing(old), total, weights)
            if flies else float(total.mean()),
            float(weights[open_before].sum()) - float(weights[open_after].sum()),
            paired_error(open_before, open_after, weights),
            paired_error(any_failing(old), total, weights),
            errors,
            masks,
            lost,
            tuple(for_rows),
        )  # fmt: skip


def effects_of(
    flown: Flown,
    ladders: Sequence[Ladder],
    progress: Progress | None = None,
    limit: float = MARGINAL_ABOVE,
) -> tuple[Effect, ...]:
    """The least change of every lever for every row above a limit that it may help."""
    needy, found = flown.needy(limit), dict[str, Effect]()
    failing = {key for key in needy if flown.before[key] > FAILS_ABOVE}
    for number, ladder in enumerate(ladders):
        lever = ladder[0].lever
        too_great = lever.key in NOT_FOR_MARGINAL or ladder[0].cost == "another_day"
        rows = [key for key in needy if not lever.helps or key in lever.helps]
        rows = [key for key in rows if key in failing or not too_great]
        if not rows:
            continue
        if progress is not None:
            progress(str(ladder[0].setting.title), number / len(ladders))
        for effect in _solved(flown, ladder, rows):
            found.setdefault(effect.change.key, effect)
    return tuple(found.values())


def refined(
    flown: Flown, effects: Sequence[Effect], each: int = REFINED, progress: Progress | None = None
) -> tuple[Effect, ...]:
    """The same effects; of what has to be flown, the most useful on a larger part."""
    flying = [effect for effect in effects if effect.change.lever.flies]
    best = sorted(flying, key=worth, reverse=True)[:MAX_REFINED]
    if not best or flown.sample.chosen.size == flown.view.count:
        return tuple(effects)
    larger, again = Flown(flown.view, flown.whole, flown.seed, each), dict[str, Effect]()
    for number, effect in enumerate(best):
        if progress is not None:
            progress(
                f"once more on more flights: {effect.change.setting.title}", number / len(best)
            )
        found = larger.effect(effect.change, None, effect.for_rows)
        again[effect.change.key] = replace(found, masks=effect.masks)
    return tuple(again.get(effect.change.key, effect) for effect in effects)


def _solved(flown: Flown, ladder: Ladder, rows: Sequence[str]) -> tuple[Effect, ...]:
    """The least change of one ladder for each of some rows, with its effect on every row."""
    part: dict[int, View] = {}
    whole: dict[int, View] = {}

    def on_part(place: int) -> View:
        if place not in part:
            part[place] = flown.changed(ladder[place])
        return part[place]

    def on_all(place: int) -> View:
        if ladder[place].lever.flies:
            return on_part(place)
        if place not in whole:
            whole[place] = flown.changed(ladder[place], True)
        return whole[place]

    places: dict[int, list[str]] = {}
    for key in rows:
        found = _least(flown, key, len(ladder), on_part, on_all)
        if found is not None and found.chance < flown.before[key] - BETTER_BY:
            places.setdefault(found.place, []).append(key)
    return tuple(
        flown.effect(ladder[place], on_all(place), keys) for place, keys in sorted(places.items())
    )


def _least(
    flown: Flown,
    key: str,
    count: int,
    on_part: Callable[[int], View],
    on_all: Callable[[int], View],
) -> Found | None:
    """The least change that makes a row ok, or not failing, or else the nearest."""
    seen: dict[int, float] = {}
    counted: dict[int, float] = {}

    def chance(place: int) -> float:
        if place not in seen:
            seen[place] = flown.chance(key, on_part(place))
        return seen[place]

    def chance_of_all(place: int) -> float:
        if place not in counted:
            counted[place] = flown.chance(key, on_all(place))
        return counted[place]

    found = None
    for limit in (MARGINAL_ABOVE, FAILS_ABOVE):
        found = least_change(count, chance, limit)
        if found is None or found.chance >= flown.before[key]:
            return None
        if found.does or flown.before[key] <= FAILS_ABOVE:
            break
    assert found is not None
    return settled(found, count, chance_of_all, limit)


def settled(found: Found, count: int, chance: Callable[[int], float], limit: float) -> Found:
    """A place found on a part of the flights, moved until it is the least that does on all."""
    place = found.place
    if not found.does:
        return Found(place, chance(place), chance(place) <= limit)
    while chance(place) > limit and place < count - 1:
        place += 1
    while place > 0 and chance(place) <= limit and chance(place - 1) <= limit:
        place -= 1
    return Found(place, chance(place), chance(place) <= limit)


def remedies_for(key: str, effects: Sequence[Effect]) -> tuple[Remedy, ...]:
    """What helps one row: what brings it under its limit first, by total gain for the cost.

    At most two of a lever. What the flights cannot tell apart from the one before has its rank,
    and stands in the order of cost and then of the levers.
    """
    helping = [each for each in effects if key in each.for_rows and helps(key, each)]
    helping.sort(key=lambda each: (STATES.index(reached(key, each)), -worth(each)))
    kinds: dict[str, int] = {}
    groups: list[list[Effect]] = []
    for effect in helping:
        kind = effect.change.lever.key
        kinds[kind] = kinds.get(kind, 0) + 1
        if kinds[kind] > 2:
            continue
        if groups and _tied(key, groups[-1][0], effect):
            groups[-1].append(effect)
        else:
            groups.append([effect])
    place = {each.change.key: number for number, each in enumerate(effects)}
    listed: list[Remedy] = []
    for group in groups:
        group.sort(key=lambda each: (COSTS.index(each.change.cost), place[each.change.key]))
        rank = len(listed) + 1
        listed += [remedy_of(key, each, rank) for each in group]
    return tuple(listed[:MAX_LISTED])


def reached(key: str, effect: Effect) -> State:
    """What a row is called after a change."""
    return state_of(effect.after.get(key), None, True)


def _tied(key: str, one: Effect, other: Effect) -> bool:
    """Whether the flights cannot tell two changes apart, in the row's state and in the total."""
    if reached(key, one) != reached(key, other):
        return False
    error = math.hypot(one.gain_error, other.gain_error)
    return abs(one.gain - other.gain) <= max(ERRORS * error, BETTER_BY)


def helps(key: str, effect: Effect) -> bool:
    """Whether a change lowers the chance of a row, and is not paid for elsewhere."""
    if key not in effect.before or key not in effect.after:
        return False
    if effect.gain < -BETTER_BY:
        return False  # what is won here is lost elsewhere
    if effect.total - effect.total_before > max(WORSE_BY, ERRORS * effect.total_error):
        return False
    gain = effect.before[key] - effect.after[key]
    least = max(BETTER_BY, BETTER_SHARE * effect.before[key])
    return gain > max(least, ERRORS * effect.errors.get(key, 0.0))


def worth(effect: Effect) -> float:
    """Fall of the total, counted by its cost; a rise counts in full."""
    gain = effect.gain
    return gain * WORTH[effect.change.cost] if gain > 0.0 else gain


def sides_of(effect: Effect, besides: Iterable[str] = ()) -> tuple[Side, ...]:
    """Other rows that a change moves by more than chance may, and those it makes unknown."""
    left_out = set(besides)
    moved = [
        Side(key, effect.before.get(key, 0.0), chance)
        for key, chance in effect.after.items()
        if key not in left_out
        and abs(chance - effect.before.get(key, 0.0))
        > max(WORSE_BY, ERRORS * effect.errors.get(key, 0.0))
    ]
    return (*moved, *(Side(key, effect.before[key], None) for key in effect.lost))


def remedy_of(key: str, effect: Effect, rank: int = 1) -> Remedy:
    """One effect as a row shows it."""
    change, sides = effect.change, sides_of(effect, (key,))
    worse = tuple(s.key for s in sides if s.after is not None and s.after > s.before)
    dark = (each for each in change.lever.touches if each not in effect.after)
    return Remedy(
        change.key, change.setting.title, change.cost, change.note,
        effect.after.get(key, 0.0), effect.before.get(key, 0.0),
        effect.total, effect.total_before, worse, change.setting.writes,
        ((change.lever.key, change.setting.id),), change.lever.caution,
        reached(key, effect), rank, sides, tuple(dict.fromkeys((*effect.lost, *dark))),
    )  # fmt: skip
