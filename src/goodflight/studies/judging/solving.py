"""The least change that does: bracketing and bisection along the settings of a lever.

Settings stand in order, the least change first; each has a chance of failing. Nothing is assumed
of the chances but that they fall before they rise again: what is looked for is bracketed from the
near end, in steps that double, and then halved, so that the setting found does and the one before
it does not. Where none does, the setting with the lowest chance is looked for.
"""

from collections.abc import Callable
from dataclasses import dataclass

CLOSER = 6  # looks at settings about the best one where none does
WORTH_IT = 0.75  # of the chance as it is: where none looked at comes lower, none is looked for


@dataclass(frozen=True)
class Found:
    """A place among the settings, the chance there, and whether it is under the limit."""

    place: int
    chance: float
    does: bool


def least_change(
    count: int, chance: Callable[[int], float], limit: float, before: float = 1.0
) -> Found | None:
    """Find the first setting whose chance is at most a limit, or else the one with the lowest.

    Parameters
        count : int - settings, the least change first. [-]
        chance : callable - place of a setting -> its chance. [-]
        limit : float - what the chance may be. [-]
        before : float - the chance as it is. [-]
    Returns
        found : Found - None without settings. [-]
    Raises
        nothing
    Validity
        Chances that fall and may rise again once. A dip that lies wholly between two places looked
        at (0, 1, 3, 7, ...) is found when it is the lowest and shows in one of them; another one
        may be missed.
    Source
        Bracketing by doubled steps and bisection, standard.
    Example
        >>> least_change(100, lambda place: 1.0 - 0.01 * place, 0.5).place
        50
    """
    if count < 1:
        return None
    seen: dict[int, float] = {}

    def at(place: int) -> float:
        if place not in seen:
            seen[place] = chance(place)
        return seen[place]

    place = _bracket(count, at, limit)
    if limit < at(place) <= WORTH_IT * before:
        place = _lowest(count, at, limit)
    if at(place) > limit:
        return Found(place, at(place), False)
    before = max((each for each in seen if each < place), default=-1)
    while place - before > 1:
        middle = (before + place) // 2
        before, place = (before, middle) if at(middle) <= limit else (middle, place)
    return Found(place, at(place), True)


def _bracket(count: int, at: Callable[[int], float], limit: float) -> int:
    """The first of the places 0, 1, 3, 7, ... that does, or else the best of them."""
    places = _doubled(count)
    for place in places:
        if at(place) <= limit:
            return place
    return min(places, key=lambda place: (at(place), place))


def _doubled(count: int) -> list[int]:
    """The places 0, 1, 3, 7, ... and the last."""
    first = (2**step - 1 for step in range(count.bit_length()))
    return [place for place in first if place < count - 1] + [count - 1]


def _lowest(count: int, at: Callable[[int], float], limit: float) -> int:
    """The place with the lowest chance about the best of those seen, closing in by halves."""
    seen = _doubled(count)
    best = min(seen, key=lambda place: (at(place), place))
    low = max((each for each in seen if each < best), default=best)
    high = min((each for each in seen if each > best), default=best)
    for _ in range(CLOSER):
        if at(best) <= limit or high - low <= 2:
            break
        wide_left = best - low >= high - best
        middle = (low + best) // 2 if wide_left else (best + high) // 2
        if middle in (low, best, high):
            break
        if (at(middle), middle) < (at(best), best):
            low, high, best = (low, best, middle) if wide_left else (best, high, middle)
        else:
            low, high = (middle, high) if wide_left else (low, middle)
    return best
