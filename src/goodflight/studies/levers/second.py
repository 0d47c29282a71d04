"""Levers of the second canopy: its height, its bay's hold, its charge, its cord and anchors."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from goodflight.physics.vehicle.separation import Figure
from goodflight.studies.asking import of_plan
from goodflight.studies.case.planned import Case, main_cord_of
from goodflight.studies.case.remade import stated
from goodflight.studies.levers.cord import STRONGER, strength_of
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, steps
from goodflight.studies.levers.separation import MAX_PINS, powders, read_again, said_powder
from goodflight.studies.results import said

_LOADS: Final = ("main_cord", "main_anchor")
_HELD: Final = ("main_early", "main_coast", "main_shut", *_LOADS)


def _with_main(case: Case, **changes: Any) -> Case:
    changed = replace(case.rocket.main_separation, **changes)
    return replace(case, rocket=replace(case.rocket, main_separation=changed))


def _height(base: Case, _now: Case) -> Offer | None:
    """Height at which the altimeter fires the main, in tens of metres."""
    if base.deployment.main_canopy is None:
        return None
    return numbers(
        base.deployment.main_height_m, steps(50.0, 300.0, 10.0),
        lambda case, height_m: replace(
            case, deployment=replace(case.deployment, main_height_m=height_m)
        ),
        lambda height_m: ((of_plan(base, "main_height"), f"{height_m:.0f} m"),),
        lambda height_m: said("set the main to {height}", height=(height_m, "length")),
    )  # fmt: skip


def _pins(base: Case, _now: Case) -> Offer | None:
    held = base.rocket.main_separation
    if base.deployment.main_canopy is None or (held.pull_n is None and held.pins == 0):
        return None
    least = 0 if held.pull_n is not None else 1
    return numbers(
        float(held.pins), (float(count) for count in range(least, MAX_PINS + 1)),
        lambda case, count: _with_main(case, pins=round(count)),
        lambda count: ((f"rocket.toml:{held.tables[0]}.pins", f"{count:g}"),),
        lambda count: said(
            f"hold the main's bay with {{count}} shear pin{'' if count == 1.0 else 's'}",
            count=(count, "count"),
        ) if count else said("leave the main's shear pins out"),
        label=f"shear pins {held.pin_thread} of the main",
    )  # fmt: skip


def _powder(base: Case, _now: Case) -> Offer | None:
    own = base.rocket.main_separation.powder_kg
    if base.deployment.main_canopy is None or own is None or own.value <= 0.0:
        return None
    return numbers(
        own.value, powders(own.value),
        lambda case, mass_kg: _with_main(
            case, powder_kg=read_again(own, said_powder(own, mass_kg))
        ),
        lambda mass_kg: ((own.path, said_powder(own, mass_kg).text),),
        lambda mass_kg: said("{powder} of powder for the main", powder=(mass_kg, "mass")),
    )  # fmt: skip


def _strength(base: Case, _now: Case) -> Offer | None:
    return strength_of(main_cord_of(base), "use a cord for the main that breaks at {force}")


def _stronger(*fields: str) -> Callable[[Case, Case], Offer | None]:
    """What holds at the main, times a factor; only where every figure is given."""

    def offer(base: Case, _now: Case) -> Offer | None:
        held = base.rocket.main_separation
        given: dict[str, Figure] = {
            name: figure for name in fields if (figure := getattr(held, name)) is not None
        }
        if base.deployment.main_canopy is None or len(given) < len(fields):
            return None

        def make(case: Case, factor: float) -> Case:
            return _with_main(case, **{
                name: read_again(each, stated(factor * each.value, factor * each.sigma, "N"))
                for name, each in given.items()
            })  # fmt: skip

        def writes(factor: float) -> tuple[Write, ...]:
            return tuple(
                (each.path, stated(factor * each.value, factor * each.sigma, "N").text)
                for each in given.values()
            )

        title = _TITLES[fields[0]]
        return numbers(
            1.0, STRONGER, make, writes, lambda f: said(title, factor=(f, "ratio")), "up"
        )

    return offer


_TITLES: Final = {
    "fore_anchor_n": "reinforce both attachments of the main's cord to {factor} times their "
    "strength",
    "bulkhead_n": "reinforce the bulkhead of the main's charge to {factor} times its strength",
}
LEVERS: Final = (
    Lever("main_height", "height of the main", "length", "minutes", _height,
          "set it in the altimeter and read it back; it drifts further from higher up",
          ("main_low", "landing_speed", "off_field", "keep_out"), True),
    Lever("main_pins", "shear pins of the main", "count", "minutes", _pins,
          "with a ground test of the main again", _HELD, False, touches=_HELD),
    Lever("main_powder", "powder of the main's charge", "mass", "minutes", _powder,
          "with a ground test of the main again", ("main_shut", "main_strong", *_LOADS), False,
          caution="powder", touches=("main_shut", "main_strong", *_LOADS)),
    Lever("main_cord", "strength of the main's cord", "force", "purchase", _strength,
          "enter its mass, width and packed length too", ("main_cord",), False,
          touches=("main_fits",)),
    Lever("main_anchors", "strength of the main's cord attachments", "ratio", "evening",
          _stronger("fore_anchor_n", "aft_anchor_n"), helps=("main_anchor",), flies=False),
    Lever("main_bulkhead", "strength of the bulkhead of the main's charge", "ratio", "evening",
          _stronger("bulkhead_n"), helps=("main_strong",), flies=False),
)  # fmt: skip
