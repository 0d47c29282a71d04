"""Masses of the sections a rocket parts into, and what is packed between them."""

from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.motor import motor_case_item
from goodflight.physics.vehicle import MassItem, body_length_m, combine_trials
from goodflight.physics.vehicle.mass import part_item
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import AddedMass, Coupler, Nose, Rocket
from goodflight.physics.vehicle.sections import share_ahead
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

Array = NDArray[np.float64]


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
class Held:
    """The mass of a whole as it lies ahead of a separation and behind it.

    share : of it ahead (n,); fore, aft : each side, even over its length; fore_m, aft_m : where
    it balances, (n,) [m].
    """

    share: Array
    fore: MassItem
    aft: MassItem
    fore_m: Array
    aft_m: Array


def held(drawn: Drawn, main: bool = False) -> Held | None:
    """How the mass known only as a whole lies about a separation; None where there is none."""
    rocket = drawn.case.rocket
    joint, whole = joint_m(drawn.case, main), whole_of(rocket)
    if whole is None or joint is None:
        return None
    within = [part for part in rocket.parts if part.mass_kg == 0.0]
    stays = separation_of(drawn.case, main).coupler_in == "fore"
    ahead = [_stands_ahead(part, joint, stays) for part in within]
    end, off = body_length_m(rocket), (airframe.fore_lies, airframe.aft_lies)
    sides, at = [], []
    for here, (first, last), lies in zip((True, False), ((0.0, joint), (joint, end)), off):
        middle = _shaped_m([part for part, side in zip(within, ahead) if side is here])
        middle = 0.5 * (first + last) if middle is None else middle
        length = last - first
        at.append(np.clip(middle + length * drawn.of(lies), first, last))
        even = part_item(AddedMass(whole.name, first, mass_kg=1.0, length_m=length))
        assert even is not None
        sides.append(even)
    share = share_ahead(drawn.of(airframe.balance, whole.name), *at)
    share *= any(ahead)
    share = share if not all(ahead) else np.ones_like(share)
    return Held(share, fore=sides[0], aft=sides[1], fore_m=at[0], aft_m=at[1])


def _stands_ahead(part: Part, joint_m: float, coupler_stays: bool) -> bool:
    if isinstance(part, Coupler) and spans(part, joint_m):
        return coupler_stays
    return part.station_m + 0.5 * part.along_m < joint_m


def _shaped_m(parts: list[Part]) -> float | None:
    """Where parts balance together by shape and material; None where none has both."""
    items = []
    for part in parts:
        with suppress(ValueError):  # no material: it says nothing
            items.append(part_item(replace(part, mass_kg=None, balance_m=None)))
    found = [item for item in items if item is not None]
    mass = sum(item.mass_kg for item in found)
    return sum(item.mass_kg * item.station_m for item in found) / mass if mass > 0.0 else None


def drawn_items(drawn: Drawn, aft_m: float) -> tuple[tuple[MassItem, ...], Array, Array]:
    """Parts and spent motor, their drawn masses and balance points, (n, k) [kg], [m]."""
    case = drawn.case
    motor = motor_case_item(case.motor, aft_m)
    full = np.ones(drawn.count)
    names = [item.name for item in case.items]
    masses = [drawn.of(airframe.mass, name) for name in names] + [motor.mass_kg * full]
    stations = [drawn.of(airframe.balance, name) for name in names] + [motor.station_m * full]
    return (*case.items, motor), np.stack(masses, axis=1), np.stack(stations, axis=1)


def sections_of(drawn: Drawn, main: bool = False) -> Sections | None:
    """Masses of nose section, packed gear and booster; None where the rocket does not separate.

    main : of the second separation; the booster then is all that is behind it.
    """
    rocket = drawn.case.rocket
    joint, aft = joint_m(drawn.case, main), motor_aft_m(rocket)
    if joint is None or aft is None:
        return None
    items, masses, stations = drawn_items(drawn, aft)
    packed = gear_names(drawn.case, main)
    gear = np.array([item.name in packed for item in items])
    across = {p.name for p in rocket.of_kind(Coupler) if spans(p, joint)}
    stays_ahead = separation_of(drawn.case, main).coupler_in == "fore"
    ahead = np.array([stays_ahead if i.name in across else i.station_m < joint for i in items])
    ahead &= ~gear
    tip = np.array([item.station_m < _nose_end_m(rocket) for item in items])
    lies = held(drawn, main)
    if lies is not None:
        place = [item.name for item in items].index(lies.fore.name)
        items = (*items[:place], lies.fore, *items[place + 1 :], lies.aft)
        kg = masses[:, place]
        masses = np.column_stack([masses, kg * (1.0 - lies.share)])
        masses[:, place] = kg * lies.share
        stations = np.column_stack([stations, lies.aft_m])
        stations[:, place] = lies.fore_m
        ahead, gear, tip = (np.append(each, False) for each in (ahead, gear, tip))
        ahead[place], tip[place] = True, False
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


def spans(coupler: Coupler, station_m: float) -> bool:
    """Whether a coupler reaches over a station."""
    return coupler.station_m < station_m < coupler.station_m + coupler.length_m


def _nose_end_m(rocket: Rocket) -> float:
    """Station of the first joint behind the nose."""
    nose = next(iter(rocket.of_kind(Nose)), None)
    return nose.length_m if nose is not None else 0.0
