"""Spin from cant and twist against the pitch frequency, and the cant that may be."""

from dataclasses import dataclass

import numpy as np

from goodflight.physics.aero.reading import scalar
from goodflight.physics.aero.spin import (
    COAST,
    DOUBLED,
    cant_for_ratio_rad,
    pitch_frequency_rad_s,
    spin_ratio,
    tip_offset_m,
)
from goodflight.physics.sources import Constant
from goodflight.quantity import show
from goodflight.studies.case.planned import fins_of
from goodflight.studies.rows.air import air_at, slopes
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View
from goodflight.studies.sampling import airframe, model


@dataclass(frozen=True)
class CantLimit:
    """Mean cant at which the spin reaches its limit, as an angle and at the tip's trailing edge."""

    angle_rad: float
    tip_m: float


def ratio_of(view: View) -> Array:
    """Greatest roll rate over pitch frequency of each flight, (n,) [-]."""
    tables, speed = view.case.tables, np.nan_to_num(view.outcome("burnout_m_s"))
    air = air_at(view, view.outcome("burnout_m"))
    pitch = pitch_frequency_rad_s(
        0.5 * air.density_kg_m3 * speed**2,
        area_m2=scalar(tables, "area_m2"),
        diameter_m=scalar(tables, "diameter_m"),
        slope_per_rad=slopes(view, speed / air.sound_m_s).total,
        margin_cal=view.outcome("margin_burnout_cal"),
        pitch_inertia_kg_m2=view.parameter("dry_pitch_inertia_kg_m2"),
        roll_inertia_kg_m2=view.parameter("dry_roll_inertia_kg_m2"),
    )
    return spin_ratio(view.outcome("burnout_roll_rad_s"), pitch)


def cant_limit(view: View) -> CantLimit | None:
    """Mean cant that brings the spin to its limit: roll goes with mean cant."""
    fins = fins_of(view.case.rocket)
    angle = cant_for_ratio_rad(view.parameter("cant_roll_rad"), ratio_of(view))
    if fins is None or angle is None:
        return None
    return CantLimit(angle, tip_offset_m(fins.outline_m, angle))


def _spin(view: View) -> Evaluation | Missing:
    if fins_of(view.case.rocket) is None:
        return Missing("add the fins")
    limit = np.maximum(DOUBLED + view.of(model.spin_limit), 0.3)
    told: tuple[str, ...] = ()
    found = cant_limit(view)
    if found is not None:
        told = (
            f"mean cant of all fins up to {show(found.angle_rad, 'angle')}, "
            f"{show(found.tip_m, 'length', unit='mm', digits=2)} at the tip's trailing edge when "
            "the root's front is on its line",
        )
    return Evaluation(ratio_of(view), limit, warnings=told)


ROWS = (
    LimitState(
        "spin_pitch",
        "Spin meets the pitch frequency",
        "boost",
        "ratio",
        True,
        _spin,
        "roll rate at burnout from cant and twist of the fins / sqrt(q S d CNa margin / (Iy "
        "- Ix)) x "
        "{coast} for the coast, where roll lags the falling speed, against {doubled}, where "
        "the angle "
        "of attack is doubled, 1 / (1 - ratio^2) = 2",
        ("derived", "kernel"),
        (airframe.cant, model.fin_slope, model.cp, airframe.mass, model.spin_limit),
        {
            "coast": Constant(COAST, "ratio", "derived", note="from the history of one flight"),
            "doubled": Constant(DOUBLED, "ratio", "derived"),
        },
    ),
)
