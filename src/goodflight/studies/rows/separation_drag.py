"""Drag on the two sections of a rocket: while they coast joined, and after they have parted."""

from functools import lru_cache

import numpy as np

from goodflight.physics.aero.geometry import rocket_shape
from goodflight.physics.aero.reading import coast_drag_area_m2, scalar
from goodflight.physics.aero.share import SectionDrag, drag_share_ahead, section_drag
from goodflight.physics.vehicle.parts import Nose, Rocket
from goodflight.studies.case.planned import joint_m, one_part
from goodflight.studies.rows.air import air_at
from goodflight.studies.rows.model import Array, View
from goodflight.studies.sampling import model


@lru_cache(maxsize=64)
def share_ahead(rocket: Rocket, station_m: float) -> float:
    """Share of the coasting drag ahead of a station [-]; remembered by rocket."""
    return drag_share_ahead(rocket_shape(rocket), station_m)


def drawn_share(view: View, main: bool = False) -> Array:
    """Share of the coasting drag ahead of a separation, (n,) [-]."""
    joint = joint_m(view.case, main) or 0.0
    return np.clip(share_ahead(view.case.rocket, joint) * view.of(model.drag_share), 0.0, 1.0)


def coast_area_m2(view: View, speed_m_s: Array, height_m: Array) -> Array:
    """Drag area of the whole rocket while it coasts at a speed and height, (n,) [m2]."""
    mach = np.nan_to_num(speed_m_s) / air_at(view, height_m).sound_m_s
    return coast_drag_area_m2(view.case.tables, mach, view.parameter("axial_factor"))


def drag_areas(view: View) -> SectionDrag:
    """Drag areas of both sections just after parting and when they tumble, (n,) [m2]."""
    rocket, tables = view.case.rocket, view.case.tables
    nose = one_part(rocket, Nose)
    return section_drag(
        coast_area_m2(view, view.outcome("ejection_m_s"), view.outcome("ejection_m")),
        drawn_share(view),
        view.parameter("tumble_area_m2"),
        area_m2=scalar(tables, "area_m2"),
        length_m=scalar(tables, "length_m"),
        joint_m=rocket.separation_station_m or 0.0,
        nose_length_m=nose.length_m if nose is not None else 0.0,
    )
