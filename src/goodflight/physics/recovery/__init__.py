"""Coming back: canopies, their opening load, cords, and the way down."""

from goodflight.physics.recovery.canopy import (
    cloth_area_m2,
    diameter_for_m,
    drag_area_m2,
    nominal_diameter_m,
    on_cloth_area,
)
from goodflight.physics.recovery.canopy_kinds import (
    CANOPY_KINDS,
    CanopyKind,
    canopy_kind,
    polygon_area_over_square,
)
from goodflight.physics.recovery.cord import (
    JOINTS,
    Joint,
    energy_to_break_j,
    held_force_n,
    in_series,
    parting_speed_m_s,
    shared_mass_kg,
    snatch_force_n,
    stiffness_n_m,
    stretch_time_s,
)
from goodflight.physics.recovery.opening import (
    fill_time_s,
    force_reduction,
    mass_ratio,
    opening_force_n,
    speed_left,
    terminal_speed_m_s,
)

__all__ = [
    "CANOPY_KINDS",
    "JOINTS",
    "CanopyKind",
    "Joint",
    "canopy_kind",
    "cloth_area_m2",
    "diameter_for_m",
    "drag_area_m2",
    "energy_to_break_j",
    "fill_time_s",
    "force_reduction",
    "held_force_n",
    "in_series",
    "mass_ratio",
    "nominal_diameter_m",
    "on_cloth_area",
    "opening_force_n",
    "parting_speed_m_s",
    "polygon_area_over_square",
    "shared_mass_kg",
    "snatch_force_n",
    "speed_left",
    "stiffness_n_m",
    "stretch_time_s",
    "terminal_speed_m_s",
]
