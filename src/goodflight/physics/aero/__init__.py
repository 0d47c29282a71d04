"""Aerodynamics: normal force, centre of pressure, drag and roll of a rocket, Mach 0 to 1.5."""

from goodflight.physics.aero.body import apparent_mass_factor, body_slope
from goodflight.physics.aero.build import (
    AxialForce,
    CpSpread,
    Summary,
    aero_tables,
    axial_force,
    cp_spread,
    edges_share,
    shape_tables,
    summary,
)
from goodflight.physics.aero.crossflow import crossflow_drag, crossflow_eta
from goodflight.physics.aero.fins import (
    fin_forces,
    fin_stall,
    panel_slope,
    subsonic_slope,
    supersonic_slope,
)
from goodflight.physics.aero.geometry import (
    BodyShape,
    FinShape,
    GuideShape,
    Shape,
    fin_shape,
    rocket_shape,
)
from goodflight.physics.aero.interference import body_by_fin, fin_on_body
from goodflight.physics.aero.margin import NormalForce, normal_force
from goodflight.physics.aero.roll import roll_factors
from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.aero.validity import (
    MODEL_SPREAD,
    ModelSpread,
    mach_warning,
    shape_warnings,
)

__all__ = [
    "MODEL_SPREAD",
    "AeroTables",
    "AxialForce",
    "BodyShape",
    "CpSpread",
    "FinShape",
    "GuideShape",
    "ModelSpread",
    "NormalForce",
    "Shape",
    "Summary",
    "aero_tables",
    "apparent_mass_factor",
    "axial_force",
    "body_by_fin",
    "body_slope",
    "cp_spread",
    "crossflow_drag",
    "crossflow_eta",
    "edges_share",
    "fin_forces",
    "fin_on_body",
    "fin_shape",
    "fin_stall",
    "mach_warning",
    "normal_force",
    "panel_slope",
    "rocket_shape",
    "roll_factors",
    "shape_tables",
    "shape_warnings",
    "subsonic_slope",
    "summary",
    "supersonic_slope",
]
