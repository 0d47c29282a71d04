"""Masses of the sections a rocket parts into, and what is packed between them."""

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.motor import motor_case_item
from goodflight.physics.vehicle import MassItem, body_length_m, combine_trials
from goodflight.physics.vehicle.mass import part_item
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import AddedMass, Nose, Rocket
from goodflight.physics.vehicle.sections import ahead_by_coupler, share_ahead
from goodflight.studies.case.planned import (
    Case,
    gear_bay,
    joint_m,
    main_bay,
    motor_aft_m,
    separation_of,
    whole_of,
)
from goodflight.studies.sampling import airframe
from goodflight.studies.sampling.drawn import Drawn
from goodflight.studies.sampling.positive import moved_ratio
from goodflight.studies.sampling.quantity import Quantity

Array = NDArray[np.float64]
Items = tuple[tuple[MassItem, ...], Array, Array]
_ITEMS: "WeakKeyDictionary[Drawn, Items]" = WeakKeyDictionary()


def gear_names(case: Case, main_opens: bool = False) -> frozenset[str]:
    """Names of what is packed behind a separation: its bay's gear, canopies and cords.

    What lies in the main canopy's bay stays there until the second separation.
    """
    bay, main = gear_bay(case), main_bay(case)
    if main_opens:
        return frozenset(() if main is None else main.holds)
    soft = {part.name for part in case.rocket.parts if part.soft}
    return frozenset(
        soft.difference(() if main is None else main.holds) | set(() if bay is None else bay.holds)
    )


@dataclass(frozen=True, eq=False)
class Sections:
    """Drawn masses of the sections a rocket parts into, spent motor included, (n,) each [kg]."""

    nose_kg: Array
    gear_kg: Array
    booster_kg: Array
    tip_kg: Array  # ahead of the first joint behind the nose
    booster_cg_m: Array  # station [m]
    booster_inertia_kg_m2: Array  # about that, across its axis


@dataclass(frozen=True, eq=False)
class Lump:
    """A length of the rocket and the share of the mass of a whole that lies in it.

    share : of the whole (n,); at_m : where it balances, (n,)
    [m]; parts : those in it whose mass is within the whole; lies : how far each side of a cut of
    it may balance from where shapes say.
    """

    first_m: float
    last_m: float
    share: Array
    at_m: Array
    parts: tuple[Part, ...]
    lies: tuple[Quantity, Quantity]


def held(drawn: Drawn) -> tuple[Lump, ...] | None:
    """How the mass known only as a whole lies about the separations; None where there is none.

    One split for all of them: the first separation parts the whole, the second the side it stands
    in, each by moments, so that on every flight the lumps weigh and balance as the whole does.
    """
    case, rocket = drawn.case, drawn.case.rocket
    whole = whole_of(rocket)
    cuts = [
        (at, separation_of(case, main).coupler_in == "fore")
        for main in (False, True)
        if (at := joint_m(case, main)) is not None
    ]
    if whole is None or not cuts:
        return None
    within = tuple(part for part in rocket.parts if part.mass_kg == 0.0)
    lies = (airframe.fore_lies, airframe.aft_lies)
    at_m = drawn.of(airframe.balance, whole.name)
    full, end = np.ones(drawn.count), body_length_m(rocket)
    lumps: tuple[Lump, ...] = (Lump(0.0, end, full, at_m, parts=within, lies=lies),)
    for cut in cuts:
        lumps = tuple(side for lump in lumps for side in _parted(drawn, lump, cut))
    return lumps


def _even(name: str, first_m: float, last_m: float) -> MassItem:
    """1 kg of a whole, even over a length."""
    found = part_item(AddedMass(name, first_m, mass_kg=1.0, length_m=last_m - first_m))
    assert found is not None
    return found


def _parted(drawn: Drawn, lump: Lump, cut: tuple[float, bool]) -> tuple[Lump, ...]:
    """A lump as it lies ahead of a cut and behind it, by moments; whole where it is not cut."""
    joint, stays = cut
    if not lump.first_m < joint < lump.last_m:
        return (lump,)
    fixed = ahead_by_coupler(drawn.case.rocket, joint, stays)
    ahead = [fixed.get(p.name, p.station_m + 0.5 * p.along_m < joint) for p in lump.parts]
    bounds, sides, at = ((lump.first_m, joint), (joint, lump.last_m)), [], []
    for here, (first, last), lies in zip((True, False), bounds, lump.lies):
        parts = tuple(part for part, side in zip(lump.parts, ahead) if side is here)
        middle = _shaped_m(parts)
        middle = 0.5 * (first + last) if middle is None else middle
        at.append(np.clip(middle + (last - first) * drawn.of(lies), first, last))
        sides.append(parts)
    share = share_ahead(lump.at_m, *at)
    if lump.parts and (all(ahead) or not any(ahead)):
        share = np.full(drawn.count, float(all(ahead)))
    at = [np.where(none, lump.at_m, each) for none, each in zip((share >= 1.0, share <= 0.0), at)]
    return tuple(
        Lump(
            first_m=within[0],
            last_m=within[1],
            share=lump.share * part,
            at_m=place,
            parts=parts,
            lies=(lies, lies),
        )
        for within, part, place, parts, lies in zip(
            bounds, (share, 1.0 - share), at, sides, lump.lies
        )
    )


def fixed_ahead(case: Case, joint_m: float, main: bool = False) -> dict[str, bool]:
    """Parts whose side of a separation is told by the coupler they are, or lie in."""
    stays = separation_of(case, main).coupler_in == "fore"
    return ahead_by_coupler(case.rocket, joint_m, stays)


def _shaped_m(parts: Iterable[Part]) -> float | None:
    """Where parts balance together by shape and material; None where none has both."""
    items = []
    for part in parts:
        with suppress(ValueError):  # no material: it says nothing
            items.append(part_item(replace(part, mass_kg=None, balance_m=None)))
    found = [item for item in items if item is not None]
    mass = sum(item.mass_kg for item in found)
    return sum(item.mass_kg * item.station_m for item in found) / mass if mass > 0.0 else None


def drawn_items(drawn: Drawn) -> Items:
    """Parts and spent motor, their drawn masses and balance points, (n, k) [kg], [m].

    As weighed or guessed, and as lengths and densities move those that follow from a shape. Worked
    out once of a sample, for the whole and for what it parts into.
    """
    if drawn not in _ITEMS:
        _ITEMS[drawn] = _drawn_items(drawn)
    return _ITEMS[drawn]


def _drawn_items(drawn: Drawn) -> Items:
    case = drawn.case
    aft_m = motor_aft_m(case.rocket)
    assert aft_m is not None  # who asks knows that the motor has a place
    motor = motor_case_item(case.motor, aft_m)
    full = np.ones(drawn.count)
    names = [item.name for item in case.items]
    masses = [drawn.of(airframe.mass, name) for name in names] + [motor.mass_kg * full]
    stations = [drawn.of(airframe.balance, name) for name in names] + [motor.station_m * full]
    for figure in case.uncertainty.sensitivities:
        score = drawn.score(airframe.figure, figure.path) if figure.items else full
        for place, name in enumerate(names):
            share, shift = figure.items.get(name, (0.0, 0.0))
            if share != 0.0:
                masses[place] = masses[place] * moved_ratio(score, share, 1.0)
            if shift != 0.0:
                stations[place] = stations[place] + shift * score
    found = np.stack(masses, axis=1), np.stack(stations, axis=1)
    for each in found:
        each.setflags(write=False)
    return (*case.items, motor), *found


def sections_of(drawn: Drawn, main: bool = False) -> Sections | None:
    """Masses of nose section, packed gear and booster; None where the rocket does not separate.

    main : of the second separation; the booster then is all that is behind it.
    """
    rocket = drawn.case.rocket
    joint = joint_m(drawn.case, main)
    if joint is None or motor_aft_m(rocket) is None:
        return None
    items, masses, stations = drawn_items(drawn)
    packed = gear_names(drawn.case, main)
    gear = np.array([item.name in packed for item in items])
    fixed = fixed_ahead(drawn.case, joint, main)
    ahead = np.array([fixed.get(item.name, item.station_m < joint) for item in items])
    ahead &= ~gear
    tip = np.array([item.station_m < _nose_end_m(rocket) for item in items])
    lumps, whole = held(drawn), whole_of(rocket)
    if lumps is not None and whole is not None:
        place = [item.name for item in items].index(whole.name)
        kg = masses[:, place]
        lie = [lump.last_m <= joint for lump in lumps]
        items = (
            *items[:place],
            *items[place + 1 :],
            *(_even(whole.name, x.first_m, x.last_m) for x in lumps),
        )
        masses = _without(masses, place, [kg * lump.share for lump in lumps])
        stations = _without(stations, place, [lump.at_m for lump in lumps])
        none = [False] * len(lumps)
        gear, tip = (np.append(np.delete(each, place), none) for each in (gear, tip))
        ahead = np.append(np.delete(ahead, place), lie)
    behind = ~ahead & ~gear
    kept = [item for item, here in zip(items, behind) if here]
    booster = combine_trials(kept, masses[:, behind], stations[:, behind])
    return Sections(
        nose_kg=masses[:, ahead].sum(axis=1),
        gear_kg=masses[:, gear].sum(axis=1),
        booster_kg=booster.mass_kg,
        tip_kg=masses[:, ahead & tip].sum(axis=1),
        booster_cg_m=booster.cg_m,
        booster_inertia_kg_m2=booster.pitch_inertia_kg_m2,
    )


def _without(columns: Array, place: int, more: Iterable[Array]) -> Array:
    """Columns without one of them, and more behind."""
    return np.column_stack([np.delete(columns, place, axis=1), *more])


def _nose_end_m(rocket: Rocket) -> float:
    """Station of the first joint behind the nose."""
    nose = next(iter(rocket.of_kind(Nose)), None)
    return nose.length_m if nose is not None else 0.0
