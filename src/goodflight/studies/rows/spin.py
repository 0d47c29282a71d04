"""Spin from cant and twist of the fins: what it does to the flight, and the cant that may be."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from goodflight.physics.aero.reading import scalar
from goodflight.physics.aero.spin import (
    DOUBLED,
    cant_for_ratio_rad,
    tip_offset_m,
    turns_per_s,
)
from goodflight.physics.aero.upset import stall_start_rad
from goodflight.physics.flight import fly_ensemble
from goodflight.physics.flight.monitor import NEAR_RATIO
from goodflight.physics.flight.registry import OUTCOME_INDEX, PARAMETER_INDEX
from goodflight.physics.sources import Constant
from goodflight.quantity.said import Words, said
from goodflight.studies.case.planned import fins_of
from goodflight.studies.rows.applies import point
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View
from goodflight.studies.rows.structure import NO_FINS
from goodflight.studies.sampling import airframe, model

REFLOWN: Final = 20  # flights with the most cant, flown again without it
CANTS: Final = ("cant_roll_rad", "cant_y_rad", "cant_z_rad")  # all that crooked fins do
LOCKED: Final = 0.05  # share of flights through the pitch frequency from which the row warns


@dataclass(frozen=True)
class CantLimit:
    """Mean cant at which the spin reaches its limit, as an angle and at the tip's trailing edge."""

    angle_rad: float
    tip_m: float


@dataclass(frozen=True)
class SpinCost:
    """What crooked fins cost the flights with the most cant, less the same with straight ones."""

    cant_rad: float
    incidence_rad: float
    side_load_n: float
    height_m: float


def ratio_of(view: View) -> Array:
    """Greatest roll rate over the one that meets the pitch frequency, of each flight, (n,) [-]."""
    return view.outcome("max_spin_ratio")


def cant_limit(view: View) -> CantLimit | None:
    """Mean cant that doubles the angle of attack of a small asymmetry: roll goes with mean cant."""
    fins = fins_of(view.case.rocket)
    angle = cant_for_ratio_rad(view.parameter("cant_roll_rad"), ratio_of(view))
    if fins is None or angle is None:
        return None
    return CantLimit(angle, tip_offset_m(fins.outline_m, angle))


def cost_of(view: View) -> SpinCost:
    """What cant costs in angle of attack, side load and height: the same flights without it."""
    most = np.argsort(-np.abs(view.parameter("cant_roll_rad")))[:REFLOWN]
    true = view.trials.parameters[most].copy()
    for name in CANTS:
        true[:, PARAMETER_INDEX[name]] = 0.0
    seeds = view.trials.seeds[most]
    flown, without = (
        fly_ensemble(view.case.launch, rows, seeds) for rows in (view.trials.parameters[most], true)
    )
    incidence, load, height = (
        point(flown[:, i] - without[:, i], 50.0)
        for i in (OUTCOME_INDEX[n] for n in ("max_incidence_rad", "max_side_load_n", "apogee_m"))
    )
    cant = point(np.abs(view.parameter("cant_roll_rad")[most]), 50.0)
    return SpinCost(cant, incidence, load, -height)


def _told(view: View) -> tuple[Words, ...]:
    turns = turns_per_s(point(np.abs(view.outcome("max_roll_rad_s")), 95.0))
    cost, found = cost_of(view), cant_limit(view)
    told = [
        said(
            f"19 of 20 flights turn at most {turns:.2g} times a second; the {REFLOWN} most canted "
            "(mean cant {cant}), flown again with straight fins: theirs cost {height} of height, "
            "{load} of side load, {attack} of angle of attack",
            cant=(cost.cant_rad, "angle"),
            height=(float(np.round(cost.height_m)), "length"),
            load=(cost.side_load_n, "force"),
            attack=(round(cost.incidence_rad, 4), "angle"),
        )
    ]
    if found is not None:
        told.append(
            said(
                "mean cant of all fins up to {cant}, {tip} at the tip's trailing edge when the "
                "root's front is on its line, keeps the spin from doubling a small angle of attack",
                cant=(found.angle_rad, "angle"),
                tip=(found.tip_m, "length"),
            )
        )
    return tuple(told)


def _spin(view: View) -> Evaluation | Missing:
    if fins_of(view.case.rocket) is None:
        return NO_FINS
    stall = stall_start_rad(scalar(view.case.tables, "fin_stall_start_sin2")) + view.of(model.stall)
    met = int((ratio_of(view) >= 1.0).sum())
    told, valid = () if view.masks_only else _told(view), met <= LOCKED * view.count
    if met:
        told += (
            f"{met} of {view.count} flights spin as fast as their nose swings: spin that stays "
            "locked there is not computed, and the angle of attack may grow further",
        )
    swings = view.outcome("spin_incidence_rad")
    return Evaluation(swings, np.maximum(stall, 0.0), warnings=told, valid=valid)


ROWS = (
    LimitState(
        "spin_pitch",
        "Crooked fins spin the rocket until its nose swings wide",
        phase="boost",
        unit="angle",
        more_is_worse=True,
        evaluate=_spin,
        formula=(
            "highest angle of attack flown while the roll rate is {near} or more of sqrt(q S d "
            "CNa margin / (Iy - Ix)), the rate at which the nose swings by itself (0 for flights "
            "that stay below), against the angle at which the fins stall; the cant told is the "
            "one that brings the ratio to {doubled}, 1 / (1 - ratio^2) = 2"
        ),
        sources=("kernel", "derived", "winter1936"),
        needs=(airframe.cant, model.fin_slope, model.cp, airframe.mass, model.stall),
        constants={
            "near": Constant(NEAR_RATIO, "ratio", "derived", note="a third more, 1 / (1 - 1/4)"),
            "doubled": Constant(DOUBLED, "ratio", "derived"),
        },
    ),
)
