"""The highest apogee that the field allows in each wind, in words."""

from typing import Final, NamedTuple

from goodflight.outputs.field_map.field_words import bearing_words
from goodflight.outputs.words import speak
from goodflight.quantity import brief, show
from goodflight.studies.field.allowed import Allowed, AllowedApogees

TITLE: Final = "Apogee that the field allows"
HEAD: Final = ("wind", "apogee at most", "this plan", "unopened")
AS_PLANNED: Final = "canopy, delay and lean of the rail as planned"
AS_TYPED: Final = "air, motor, canopy, delay and lean of the rail as typed here, else as planned"
ASK: Final = (
    "Not known: the field's outline is missing. Walk its corners and enter them in the Ledger, at "
    "the row that waits for the outline of the field."
)
UNOPENED: Final = (
    "Unopened: share of falls from that apogee, nose first, that would reach people or property. "
    "Times the chance that nothing opens it is what range safety sets against 1 in a million for "
    "one person (RCC 321, from memory). The range safety officer decides."
)


class AllowedWords(NamedTuple):
    """A table and what it means; no rows where the outline is not known."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]


def allowed_words(found: AllowedApogees, units: str, typed: bool = False) -> AllowedWords:
    """Each wind: the apogee with its interval, the plan's own, the share that reaches people.

    typed : of what is measured and chosen on the day and saved nowhere, not of the plan as written.
    """
    rows = tuple(
        (
            brief(each.wind_m_s, "wind", units),
            _apogee(found, each, units),
            _planned(each, units),
            _near(found, each),
        )
        for each in found.winds
    )
    return AllowedWords(TITLE, HEAD, rows, _notes(found, units, typed) if rows else (ASK,))


def _notes(found: AllowedApogees, units: str, typed: bool) -> tuple[str, ...]:
    """What the table means, what it stands on, what it leaves out."""
    direction, off = bearing_words(found.wind_from_rad), brief(found.wind_from_sigma_rad, "angle")
    bound = "" if found.keep_outs else " No keep-outs are known: the real figure may be lower."
    ceiling = (
        ""
        if found.ceiling_m is None
        else f" The agreed ceiling of {show(found.ceiling_m, 'length', units)} holds beside it."
    )
    return (
        f"Up to this apogee {round(10 * found.share)} in 10 landings under the canopy stay inside "
        f"the field and out of keep-outs; in brackets, how far {found.flights} flights can tell. "
        f"Wind from {direction} ± {off}; {AS_TYPED if typed else AS_PLANNED}. A motor "
        f"that leaves the rail slower leans further into the wind.{bound}{ceiling}",
        UNOPENED,
    )


def _apogee(found: AllowedApogees, each: Allowed, units: str) -> str:
    if each.apogee_m is None:
        return f"below {brief(found.lowest_m, 'length', units)}"
    if each.apogee_m >= found.highest_m:
        return f"above {brief(found.highest_m, 'length', units)}"
    high = each.apogee_m if each.high_m is None else each.high_m
    ends = " to ".join(brief(end, "length", units) for end in (each.low_m or found.lowest_m, high))
    below = "below " if each.low_m is None else ""
    return f"{brief(each.apogee_m, 'length', units)} ({below}{ends})"


def _planned(each: Allowed, units: str) -> str:
    if each.planned_m is None or each.planned_inside is None:
        return "not known"
    inside = round(100 * each.planned_inside)
    return f"{brief(each.planned_m, 'length', units)}, {inside} in 100 inside"


def _near(found: AllowedApogees, each: Allowed) -> str:
    if each.apogee_m is None:
        return "not worked out"
    if each.unopened_near is None:
        return "not known"
    return speak(each.unopened_near) if each.unopened_near else f"none of {found.flights}"
