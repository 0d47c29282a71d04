"""The way to a good flight in words: what it reaches, its steps, what stands against it."""

from collections.abc import Mapping
from typing import Final

from goodflight.outputs.ledger.side_words import side_words
from goodflight.outputs.words import COSTS, change
from goodflight.studies.results import Way, WayStep

NAMED: Final = 5  # rows that are named before the rest is counted


def way_first(way: Way, titles: Mapping[str, str]) -> tuple[str, ...]:
    """What must be known before any of it counts: the failures that are not known."""
    if not way.unknown:
        return ()
    named = "; ".join(titles.get(key, key) for key in way.unknown[:NAMED])
    if len(way.unknown) > NAMED:
        named += f"; and {len(way.unknown) - NAMED} more"
    return (f"First, not known, and no change answers it: {named}. Totals are at least these.",)


def way_words(way: Way, titles: Mapping[str, str]) -> str:
    """`These changes bring it under its limit of 25 in 100: anything fails 68 → 19 in 100.`"""
    limit = f"{100.0 * way.limit:.0f} in 100"
    effect = f"anything fails {change(way.total_before, way.total)}"
    if way.already:
        already = f"Under the limit of {limit} already, and no row fails."
        return (
            f"{already} To lower it further: {effect}."
            if way.steps
            else (f"{already} No change tried lowers it further.")
        )
    if way.reached and way.total_before <= way.limit:
        under = (
            f"Under the limit of {limit} already, but a row fails; with these together none does"
        )
        return f"{under}: {effect}."
    if way.reached:
        return f"These together bring it under the limit of {limit}, and no row fails: {effect}."
    against = "; ".join(titles.get(key, key) for key in way.against) or f"the limit of {limit}"
    if not way.steps:
        return f"No change tried gets nearer. What stands against it: {against}."
    return f"No changes tried are enough; the nearest: {effect}. Still against it: {against}."


def step_words(
    step: WayStep, titles: Mapping[str, str], units: str = "metric", brief: bool = False
) -> str:
    """`use the 3 m rail: 30 → 12 in 100 (free, longer queue); makes worse: ...`."""
    remedy = step.remedy
    cost = COSTS[remedy.cost] + (f", {remedy.cost_note}" if remedy.cost_note else "")
    effect = change(remedy.total_before, remedy.total)
    if remedy.total_before == remedy.total and step.helps:
        row = titles.get(step.helps[0], step.helps[0])
        effect = f"total stays; {row} {change(remedy.chance_before, remedy.chance)}"
    words = f"{remedy.title.told(units)}: {effect} ({cost})"
    if step.meets and brief:
        words += f"; meets {len(step.meets)} more rule{'' if len(step.meets) == 1 else 's'}"
    elif step.meets:
        words += "; then met: " + ", ".join(step.meets)
    return words + side_words(remedy, titles)
