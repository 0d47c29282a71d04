"""The air and the aerodynamic slopes of each flown trial, as the rows ask for them."""

import numpy as np

from goodflight.physics.aero.reading import Slopes, scalar, slopes_at
from goodflight.physics.air import Air, atmosphere
from goodflight.studies.rows.model import Array, View

EXIT_MACH = 0.06  # leaving the rail; slopes hardly change below Mach 0.3


def air_at(view: View, height_m: Array | float) -> Air:
    """The air at heights above the pad, (n,) each; an unknown height counts as the ground."""
    return atmosphere(
        np.nan_to_num(height_m),
        view.parameter("ground_temperature_k"),
        view.parameter("ground_pressure_pa"),
    )


def density(view: View, height_m: Array | float) -> Array:
    """Air density at heights above the pad, (n,) [kg/m3]."""
    return air_at(view, height_m).density_kg_m3


def pressure(view: View, height_m: Array | float) -> Array:
    """Air pressure at heights above the pad, (n,) [Pa]."""
    return air_at(view, height_m).pressure_pa


def slopes(view: View, mach: Array | float) -> Slopes:
    """Slopes and small-angle CP at a Mach number, with the factors of each trial."""
    return slopes_at(
        view.case.tables,
        np.nan_to_num(mach),
        view.parameter("body_slope_factor"),
        view.parameter("fin_slope_factor"),
    )


def cg_at_exit_m(view: View) -> Array:
    """Centre of gravity as the rocket leaves the rail, from its margin there, (n,) [m]."""
    cp = slopes(view, EXIT_MACH).cp_m + view.parameter("cp_shift_m")
    return cp - view.outcome("margin_exit_cal") * scalar(view.case.tables, "diameter_m")
