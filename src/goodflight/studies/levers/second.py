"""Levers of the second canopy: size, height, its bay's hold, its charge, its cord and anchors."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from goodflight.quantity.said import said
from goodflight.studies.asking import of_plan
from goodflight.studies.case.planned import Case, canopy_of, main_cord_of
from goodflight.studies.levers.canopy import DRIFT, LANDING_ROWS, OPENING, PACKED, size_of
from goodflight.studies.levers.cord import strength_of
from goodflight.studies.levers.lever import Lever, Offer, numbers
from goodflight.studies.levers.separation import charged, pinned, stronger
from goodflight.studies.levers.sizes import FIELD

_LOADS: Final = ("main_cord", "main_anchor")
_SIZED: Final = (*LANDING_ROWS, *DRIFT, "main_fits", "main_scorched", "main_opening", *_LOADS)
# what comes before the main is full, and how fast it opens: the main lands the rocket
_FIRST: Final = (*DRIFT, *PACKED, *OPENING, "drogue_speed", "main_early", "main_opening", *_LOADS)
_HELD: Final = ("main_early", "main_coast", "main_shut", *_LOADS)


def _size(base: Case, now: Case) -> Offer | None:
    return size_of(base, now, now.deployment.main_canopy, main=True)


def _first_size(base: Case, now: Case) -> Offer | None:
    """The canopy that opens at the top, of a rocket that lands under another."""
    main = base.deployment.main_canopy
    return None if main is None else size_of(base, now, canopy_of(now))


def _height(base: Case, _now: Case) -> Offer | None:
    """Height at which the altimeter fires the main, in tens of metres."""
    if base.deployment.main_canopy is None:
        return None
    return numbers(
        base.deployment.main_height_m,
        FIELD.between(base, 50.0, 300.0),
        lambda case, height_m: replace(
            case, deployment=replace(case.deployment, main_height_m=height_m)
        ),
        lambda height_m: ((of_plan(base, "main_height"), FIELD.text(base, height_m)),),
        lambda height_m: said("set the main to {height}", height=(height_m, "length")),
    )


def _pins(base: Case, _now: Case) -> Offer | None:
    held = base.rocket.main_separation
    if base.deployment.main_canopy is None or (held.pull_n is None and held.pins == 0):
        return None
    least = 0 if held.pull_n is not None else 1
    return pinned(
        base,
        "hold the main's bay with {count} shear pin",
        "leave the main's shear pins out",
        "shear pins {} of the main",
        least,
        main=True,
    )


def _powder(base: Case, _now: Case) -> Offer | None:
    if base.deployment.main_canopy is None:
        return None
    return charged(base, "{powder} of powder for the main", main=True)


def _strength(base: Case, _now: Case) -> Offer | None:
    return strength_of(base, main_cord_of(base), "use a cord for the main that breaks at {force}")


def _stronger(title: str, *fields: str) -> Callable[[Case, Case], Offer | None]:
    offer = stronger(title, *fields, main=True)
    return lambda base, now: None if base.deployment.main_canopy is None else offer(base, now)


LEVERS: Final = (
    Lever(
        "main_size",
        "size of a main canopy not at hand",
        dimension="length",
        cost="purchase",
        offer=_size,
        note="weigh it, pack it, pull-test it",
        helps=_SIZED,
        touches=_SIZED,
    ),
    Lever(
        "first_size",
        "size of a first canopy not at hand",
        dimension="length",
        cost="purchase",
        offer=_first_size,
        note="weigh it, pack it, pull-test it",
        helps=_FIRST,
        touches=_FIRST,
    ),
    Lever(
        "main_height",
        "height of the main",
        dimension="length",
        cost="minutes",
        offer=_height,
        note="set it in the altimeter and read it back; it drifts further from higher up",
        helps=("main_low", "landing_speed", "off_field", "keep_out"),
        flies=True,
    ),
    Lever(
        "main_pins",
        "shear pins of the main",
        dimension="count",
        cost="minutes",
        offer=_pins,
        note="with a ground test of the main again",
        helps=_HELD,
        flies=False,
        touches=_HELD,
    ),
    Lever(
        "main_powder",
        "powder of the main's charge",
        dimension="powder",
        cost="minutes",
        offer=_powder,
        note="with a ground test of the main again",
        helps=("main_shut", "main_strong", *_LOADS),
        flies=False,
        caution="powder",
        touches=("main_shut", "main_strong", *_LOADS),
    ),
    Lever(
        "main_cord",
        "strength of the main's cord",
        dimension="force",
        cost="purchase",
        offer=_strength,
        note="enter its mass, width and packed length too",
        helps=("main_cord",),
        flies=False,
        touches=("main_fits",),
    ),
    Lever(
        "main_anchors",
        "strength of the main's cord attachments",
        "ratio",
        "evening",
        _stronger(
            "reinforce both attachments of the main's cord to {factor} times their strength",
            "fore_anchor_n",
            "aft_anchor_n",
        ),
        helps=("main_anchor",),
        flies=False,
    ),
    Lever(
        "main_bulkhead",
        "strength of the bulkhead of the main's charge",
        "ratio",
        "evening",
        _stronger(
            "reinforce the bulkhead of the main's charge to {factor} times its strength",
            "bulkhead_n",
        ),
        helps=("main_strong",),
        flies=False,
    ),
)
