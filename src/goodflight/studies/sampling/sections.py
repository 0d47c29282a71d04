"""Masses of the sections a rocket parts into, and what is packed between them."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.parts import Bay, Canopy, Cord, Coupler, Nose, Rocket
from goodflight.studies.case.planned import Case

Array = NDArray[np.float64]


def gear_bay(rocket: Rocket) -> Bay | None:
    """The bay the canopy is packed in: the one that holds one, or the only one with holds."""
    canopies = {part.name for part in rocket.parts if isinstance(part, Canopy)}
    bays = [part for part in rocket.parts if isinstance(part, Bay)]
    held = [bay for bay in bays if canopies & set(bay.holds)]
    return held[0] if held else None


def gear_names(rocket: Rocket) -> frozenset[str]:
    """Names of what is packed in the recovery bay: what it holds, canopies and cords."""
    bay = gear_bay(rocket)
    soft = {part.name for part in rocket.parts if isinstance(part, Canopy | Cord)}
    return frozenset(soft | set(bay.holds if bay is not None else ()))


def section_masses(case: Case, items: Sequence[MassItem], masses: Array) -> Mapping[str, Array]:
    """Drawn masses of nose section, packed gear and booster (spent motor included), (n,) [kg]."""
    joint = case.rocket.separation_station_m
    if joint is None:
        return {}
    packed = gear_names(case.rocket)
    gear = np.array([item.name in packed for item in items])
    across = {p.name for p in case.rocket.parts if isinstance(p, Coupler) and spans(p, joint)}
    stays_ahead = case.rocket.separation.coupler_in == "fore"
    ahead = np.array([stays_ahead if i.name in across else i.station_m < joint for i in items])
    ahead &= ~gear
    tip = np.array([item.station_m < _nose_end_m(case.rocket) for item in items])
    return {
        "nose_kg": masses[:, ahead].sum(axis=1),
        "gear_kg": masses[:, gear].sum(axis=1),
        "booster_kg": masses[:, ~ahead & ~gear].sum(axis=1),
        "tip_kg": masses[:, ahead & tip].sum(axis=1),
    }


def spans(coupler: Coupler, station_m: float) -> bool:
    """Whether a coupler reaches over a station."""
    return coupler.station_m < station_m < coupler.station_m + coupler.length_m


def _nose_end_m(rocket: Rocket) -> float:
    """Station of the first joint behind the nose."""
    nose = next((part for part in rocket.parts if isinstance(part, Nose)), None)
    return nose.length_m if nose is not None else 0.0
