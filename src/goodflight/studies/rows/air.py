"""The air and the aerodynamic slopes of each flown trial, as the rows ask for them."""

import numpy as np

from goodflight.physics.aero.reading import Slopes, slopes_at
from goodflight.physics.air.over_pad import density_over_pad_kg_m3, pressure_over_pad_pa
from goodflight.studies.rows.model import Array, View


def density(view: View, height_m: Array) -> Array:
    """Air density at heights above the pad, (n,) [kg/m3]."""
    return density_over_pad_kg_m3(
        view.parameter("ground_pressure_pa"), view.parameter("ground_temperature_k"), height_m
    )


def pressure(view: View, height_m: Array) -> Array:
    """Air pressure at heights above the pad, (n,) [Pa]."""
    return pressure_over_pad_pa(
        view.parameter("ground_pressure_pa"), view.parameter("ground_temperature_k"),
        view.parameter("gravity_m_s2"), height_m,
    )  # fmt: skip


def slopes(view: View, mach: Array | float) -> Slopes:
    """Slopes and small-angle CP at a Mach number, with the factors of each trial."""
    return slopes_at(
        view.case.tables,
        np.nan_to_num(mach),
        view.parameter("body_slope_factor"),
        view.parameter("fin_slope_factor"),
    )
