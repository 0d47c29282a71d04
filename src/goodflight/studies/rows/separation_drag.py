"""Drag on the two sections of a rocket: while they coast joined, and after they have parted."""

from functools import lru_cache
from typing import Final

import numpy as np

from goodflight.physics.aero.geometry import rocket_shape
from goodflight.physics.aero.share import drag_share_ahead
from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX, MACH_COUNT, MACH_STEP
from goodflight.physics.vehicle.parts import Nose, Rocket
from goodflight.studies.case.planned import one_part
from goodflight.studies.rows.model import Array, View
from goodflight.studies.sampling import model

OPEN_TUBE_CD: Final = 0.8  # face of an open tube after parting, on its section
SOUND_M_S: Final = 340.0


@lru_cache(maxsize=64)
def share_ahead(rocket: Rocket, station_m: float) -> float:
    """Share of the coasting drag ahead of a station [-]; remembered by rocket."""
    return drag_share_ahead(rocket_shape(rocket), station_m)


def drawn_share(view: View) -> Array:
    """Share of the coasting drag ahead of the separation, (n,) [-]."""
    joint = view.case.rocket.separation_station_m or 0.0
    return np.clip(share_ahead(view.case.rocket, joint) * view.of(model.drag_share), 0.0, 1.0)


def coast_drag_area_m2(view: View, speed_m_s: Array) -> Array:
    """Drag area of the whole rocket while it coasts at a speed, (n,) [m2]."""
    tables = view.case.tables
    mach = np.clip(np.nan_to_num(speed_m_s) / SOUND_M_S, 0.0, (MACH_COUNT - 1) * MACH_STEP)
    grid = np.arange(MACH_COUNT) * MACH_STEP
    axial = np.interp(mach, grid, tables.mach_table[:, AERO_INDEX["axial_low"]])
    area = float(tables.scalars[AERO_SCALAR_INDEX["area_m2"]])
    return np.asarray(axial * area * view.parameter("axial_factor"))


def drag_areas(view: View) -> dict[str, Array]:
    """Drag areas of both sections just after parting and when they tumble, (n,) [m2]."""
    rocket, scalars = view.case.rocket, view.case.tables.scalars
    whole = coast_drag_area_m2(view, view.outcome("ejection_m_s"))
    share = drawn_share(view)
    area = float(scalars[AERO_SCALAR_INDEX["area_m2"]])
    nose = one_part(rocket, Nose)
    taper = nose.length_m / 3.0 if nose is not None else 0.0  # missing from the side view
    length = float(scalars[AERO_SCALAR_INDEX["length_m"]])
    joint = rocket.separation_station_m or 0.0
    ahead = max(joint - taper, 0.05 * length) / (length - taper)
    tumbling = view.parameter("tumble_area_m2")
    return {
        "nose_start_m2": share * whole,
        "nose_m2": ahead * tumbling,
        "booster_start_m2": (1.0 - share) * whole + OPEN_TUBE_CD * area,
        "booster_m2": (1.0 - ahead) * tumbling,
    }
