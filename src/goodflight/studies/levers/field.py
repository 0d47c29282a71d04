"""Levers of rules and of the place: distances, and what a rule asks the builder to do."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from goodflight.physics.motor import total_impulse_ns
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case
from goodflight.studies.levers.lever import Lever, Offer, numbers, once
from goodflight.studies.levers.sizes import FIELD
from goodflight.studies.results import Cost

# rule not met -> (what to do, cost, note)
_ANSWERS: Final[dict[str, tuple[str, Cost, str]]] = {
    "night": ("fly between sunrise and sunset", "another_day", ""),
    "airport": ("ask the airport, or fly from another field", "another_day", "in writing"),
    "visibility": ("wait until visibility is good enough", "another_day", ""),
    "notice": ("notify air traffic control in time", "another_day", "ask how many days before"),
    "airspace": ("request airspace clearance", "another_day", ""),
    "permission": ("apply for the permission or waiver", "another_day", "weeks ahead"),
    "responsible": ("name the responsible person", "free", "range safety officer"),
    "fire": ("bring water and fire beaters to the pad", "minutes", ""),
}


def _list(names: Sequence[str]) -> str:
    """A list of names as the project writes it."""
    return "[" + ", ".join(f'"{name}"' for name in names) + "]"


def _meet(key: str) -> Callable[[Case, Case], Offer | None]:
    def offer(base: Case, now: Case) -> Offer | None:
        if key not in base.plan_says.denied:
            return None

        def make(case: Case) -> Case:
            """Met; the day of the earlier answers is not the day of this one, so none is left."""
            was = case.plan_says
            denied = [each for each in was.denied if each != key]
            met = [*was.confirmed, key]
            says = was.changed(denied=denied, confirmed=met, confirmed_on="")
            return replace(case, plan_says=says)

        path, says = base.origin.plan_path, make(now).plan_says  # with what else is tried
        day = ((f"{path}.confirmed_on", ""),) if base.plan_says.confirmed_on else ()
        return once(
            said(_ANSWERS[key][0]),
            make,
            (f"{path}.confirmed", _list(says.confirmed)),
            (f"{path}.denied", _list(says.denied)),
            *day,
        )

    return offer


def _people(base: Case, _now: Case) -> Offer | None:
    """Move the people back as far as the code asks."""
    impulse = total_impulse_ns(base.motor)
    table = () if base.rules.code is None else base.rules.code.people_m
    needed = next((limit.value for up_to, limit in table if impulse <= up_to), None)
    stand = base.field_says.spectators
    if needed is None or stand is None or stand.value >= needed:
        return None
    per = FIELD.unit(base)[1]
    away = per * math.ceil(needed / per - 1e-9)
    return numbers(
        stand.value,
        (away,),
        make=lambda case, far: replace(
            case, field_says=case.field_says.changed(spectators=FIELD.text(base, far))
        ),
        writes=lambda far: ((f"{base.origin.site_path}:spectators", FIELD.text(base, far)),),
        title=lambda far: said("move the flight line back to {far}", far=(far, "length")),
        towards="up",
    )


LEVERS: Final = (
    Lever(
        "people_back",
        "distance of the flight line",
        "length",
        "free",
        _people,
        helps=("crew_distance",),
        flies=False,
    ),
    *(
        Lever(
            f"meet_{key}",
            what,
            dimension="",
            cost=cost,
            offer=_meet(key),
            note=note,
            helps=(key,),
            flies=False,
        )
        for key, (what, cost, note) in _ANSWERS.items()
    ),
)
