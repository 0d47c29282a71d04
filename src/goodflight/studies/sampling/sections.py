"""Masses of the sections a rocket parts into, and what is packed between them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.motor import motor_case_item
from goodflight.physics.vehicle import MassItem, combine_trials
from goodflight.physics.vehicle.parts import Coupler, Nose, Rocket
from goodflight.studies.case.planned import (
    Case,
    gear_bay,
    joint_m,
    main_bay,
    motor_aft_m,
    separation_of,
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
    across = {p.name for p in rocket.parts if isinstance(p, Coupler) and spans(p, joint)}
    stays_ahead = separation_of(drawn.case, main).coupler_in == "fore"
    ahead = np.array([stays_ahead if i.name in across else i.station_m < joint for i in items])
    ahead &= ~gear
    tip = np.array([item.station_m < _nose_end_m(rocket) for item in items])
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
    nose = next((part for part in rocket.parts if isinstance(part, Nose)), None)
    return nose.length_m if nose is not None else 0.0
