"""What helps: for every row the least change of every lever that brings it under its limit."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.chance import FAILS_ABOVE, MARGINAL_ABOVE, state_of
from goodflight.studies.judging.flown import Changed, Effect, Flown
from goodflight.studies.judging.solving import Found, least_change
from goodflight.studies.levers.whatif import Change
from goodflight.studies.processes import side_by_side
from goodflight.studies.results import Cost, Remedy, SideRow, State
from goodflight.studies.rows import LIMIT_STATES
from goodflight.studies.rows.parting import MOTIONS
from goodflight.studies.rows.reach import FALLS
from goodflight.studies.sampling.flights import FLIGHTS

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Ladder = tuple[Change, ...]
OnPart = Callable[[int], Changed]  # place among the settings -> the part of the flights with it
Progress = Callable[[str, float], None]

AT_ONCE: Final = 3  # levers solved in threads beside each other: two fly while one judges
KEEPS: Final = (FLIGHTS, MOTIONS, FALLS)
REFINED: Final = 300  # flights of each stratum for the changes that are worth most
MAX_REFINED: Final = 4
MAX_LISTED: Final = 5  # remedies a row shows
WORSE_BY: Final = 0.005  # a row is named as moved when its chance does by more than this
BETTER_BY: Final = 0.002  # a remedy is listed when the row's chance falls by more than this ...
BETTER_SHARE: Final = 0.1  # ... and by more than this share of it ...
ERRORS: Final = 2.0  # ... and by more than this many times the error of the difference
NOT_FOR_MARGINAL: Final = ("motor", "delay")  # levers too great for a row that is only marginal
RULES: Final = {limit.key: limit.title for limit in LIMIT_STATES if limit.kind != "failure"}
WORTH: Final[dict[Cost, float]] = {
    "free": 1.0, "minutes": 0.9, "evening": 0.75, "purchase": 0.6, "another_day": 0.4,
}  # fmt: skip
"""What a gain counts by its cost, so that the cheapest thing that does the job stands first."""
STATES: Final[tuple[State, ...]] = ("ok", "marginal", "fails", "unknown")
COSTS: Final = tuple(WORTH)  # the cheapest first


def effects_of(
    flown: Flown,
    ladders: Sequence[Ladder],
    progress: Progress | None = None,
    limit: float = MARGINAL_ABOVE,
) -> tuple[Effect, ...]:
    """The least change of every lever for every row above a limit that it may help."""
    needy, found = flown.needy(limit), dict[str, Effect]()
    wanted = [(ladder, rows) for ladder in ladders if (rows := _helped(flown, ladder, needy))]
    order = sorted(range(len(wanted)), key=lambda place: _long(wanted[place][0]))

    def told(number: int) -> None:
        if progress is not None:
            title = wanted[order[number]][0][0].setting.title
            progress(str(title), number / len(wanted))

    solved = side_by_side(
        [partial(_solved, flown, *wanted[place]) for place in order],
        threads=AT_ONCE,
        known=[flown.before, *(change for ladder, _ in wanted for change in ladder)],
        keeps=KEEPS,
        told=told,
    )
    by_place = dict(zip(order, solved))
    for effect in (effect for place in sorted(order) for effect in by_place[place]):
        found.setdefault(effect.change.key, effect)
    return tuple(found.values())


def _long(ladder: Ladder) -> tuple[bool, int]:
    """Order of ladders, the longest to solve first, so that nobody waits long at the end."""
    return not ladder[0].lever.flies, -len(ladder)


def _helped(flown: Flown, ladder: Ladder, needy: Sequence[str]) -> list[str]:
    """The rows that a ladder is tried for."""
    lever = ladder[0].lever
    too_great = lever.key in NOT_FOR_MARGINAL or ladder[0].cost == "another_day"
    return [
        key
        for key in needy
        if (not lever.helps or key in lever.helps)
        and (flown.before[key] > FAILS_ABOVE or not too_great)
    ]


def refined(
    flown: Flown, effects: Sequence[Effect], each: int = REFINED, progress: Progress | None = None
) -> tuple[Effect, ...]:
    """The same effects, the most useful on a larger part of the flights."""
    best = sorted(effects, key=worth, reverse=True)[:MAX_REFINED]
    if not best or flown.sample.chosen.size == flown.view.count:
        return tuple(effects)
    larger = Flown(flown.view, flown.whole, flown.seed, each)

    def told(number: int) -> None:
        if progress is not None:
            title = best[number].change.setting.title
            progress(f"once more on more flights: {title}", number / len(best))

    found = side_by_side(
        [partial(larger.effect, effect.change, None, effect.for_rows) for effect in best],
        known=[larger.before, *(effect.change for effect in best)],
        keeps=KEEPS,
        told=told,
    )
    again = {old.change.key: replace(new, masks=old.masks) for old, new in zip(best, found)}
    return tuple(again.get(effect.change.key, effect) for effect in effects)


def _solved(flown: Flown, ladder: Ladder, rows: Sequence[str]) -> tuple[Effect, ...]:
    """The least change of one ladder for each of some rows, with its effect on every row."""
    part, planned = dict[int, Changed](), dict[int, Changed]()

    def on_part(place: int) -> Changed:
        if place not in part:
            part[place] = flown.changed(ladder[place], like=planned.get(place))
        return part[place]

    def as_planned(place: int) -> Changed:
        if place not in planned:
            planned[place] = flown.changed(ladder[place], flies=False)
        return planned[place]

    places: dict[int, list[str]] = {}
    for key in rows:
        if ladder[0].lever.as_planned:
            found = _flown_too(flown, key, len(ladder), on_part, as_planned)
        else:
            found = _least(flown, key, len(ladder), on_part)
        if found is not None and found.chance < flown.before[key] - BETTER_BY:
            places.setdefault(found.place, []).append(key)

    def effect(place: int, keys: Sequence[str]) -> Effect:
        return flown.effect(ladder[place], on_part(place), keys)

    found_at: dict[str, Effect] = {}  # a part of one change may be what another row asks for
    for place, keys in sorted(places.items()):
        new = _paid_for(effect, place, keys)
        old = found_at.get(new.change.key)
        for_rows = new.for_rows if old is None else (*old.for_rows, *new.for_rows)
        found_at[new.change.key] = replace(new, for_rows=for_rows)
    return tuple(found_at.values())


def _paid_for(
    effect: Callable[[int, Sequence[str]], Effect], place: int, keys: Sequence[str]
) -> Effect:
    """A change, or a half or a quarter of it where all of it loses more elsewhere than it wins."""
    whole = effect(place, keys)
    if whole.gain >= -BETTER_BY:
        return whole
    less = [effect(each, keys) for each in sorted({place // 2, place // 4} - {place})]
    best = max((whole, *less), key=lambda each: each.gain)
    return best if any(helps(key, best) for key in keys) else whole


def _flown_too(
    flown: Flown, key: str, count: int, on_part: OnPart, as_planned: OnPart
) -> Found | None:
    """The least change as found on flights as planned, if flying it shows the same.

    The same state with it, and with the one before it where it does; else all are flown.
    """
    found = _least(flown, key, count, as_planned)
    if found is None:
        return None
    near = [found.place, found.place - 1] if found.does and found.place else [found.place]
    for place in near:
        each = (flown.chance(key, on(place)) for on in (as_planned, on_part))
        if len({state_of(chance, None, True) for chance in each}) > 1:
            return _least(flown, key, count, on_part)
    return replace(found, chance=flown.chance(key, on_part(found.place)))


def _least(
    flown: Flown,
    key: str,
    count: int,
    on_part: OnPart,
) -> Found | None:
    """The least change that makes a row ok, or not failing, or else the nearest."""
    seen: dict[int, float] = {}

    def chance(place: int) -> float:
        if place not in seen:
            seen[place] = flown.chance(key, on_part(place))
        return seen[place]

    found = None
    for limit in (MARGINAL_ABOVE, FAILS_ABOVE):
        found = least_change(count, chance, limit, flown.before[key])
        if found is None or found.chance >= flown.before[key]:
            return None
        if found.does or flown.before[key] <= FAILS_ABOVE:
            break
    return found


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


def sides_of(effect: Effect, besides: Iterable[str] = ()) -> tuple[SideRow, ...]:
    """Other rows that a change moves by more than chance may, and those it makes unknown."""
    left_out = set(besides)
    moved = [
        SideRow(key, effect.before.get(key, 0.0), chance)
        for key, chance in effect.after.items()
        if key not in left_out
        and abs(chance - effect.before.get(key, 0.0))
        > max(WORSE_BY, ERRORS * effect.errors.get(key, 0.0))
    ]
    return (*moved, *(SideRow(key, effect.before[key], None) for key in effect.lost))


def remedy_of(key: str, effect: Effect, rank: int = 1) -> Remedy:
    """One effect as a row shows it."""
    change, sides = effect.change, sides_of(effect, (key,))
    worse = tuple(s.key for s in sides if s.after is not None and s.after > s.before)
    dark = (each for each in change.lever.touches if each not in effect.after)
    return Remedy(
        key=change.key,
        title=change.setting.title,
        cost=change.cost,
        cost_note=change.note,
        chance=effect.after.get(key, 0.0),
        chance_before=effect.before.get(key, 0.0),
        total=effect.total,
        total_before=effect.total_before,
        worsens=worse,
        change=change.setting.writes,
        settings=((change.lever.key, change.setting.id),),
        caution=change.lever.caution,
        reaches=reached(key, effect),
        rank=rank,
        sides=sides,
        unknown=tuple(dict.fromkeys((*effect.lost, *dark))),
    )
