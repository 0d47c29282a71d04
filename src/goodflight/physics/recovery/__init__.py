"""Coming back: canopies, their opening load, cords, and the way down."""

from goodflight.physics.recovery.canopy import (
    cloth_area_m2,
    drag_area_m2,
    nominal_diameter_m,
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
    held_force_n,
    in_series,
    parting_speed_m_s,
    shared_mass_kg,
    stiffness_n_m,
)
from goodflight.physics.recovery.opening import (
    Filling,
    dropped_drag_area_m2,
    force_reduction,
    mass_ratio,
    opening_force_n,
    terminal_speed_m_s,
)

__all__ = [
    "CANOPY_KINDS",
    "JOINTS",
    "CanopyKind",
    "Filling",
    "Joint",
    "canopy_kind",
    "cloth_area_m2",
    "drag_area_m2",
    "dropped_drag_area_m2",
    "force_reduction",
    "held_force_n",
    "in_series",
    "mass_ratio",
    "nominal_diameter_m",
    "opening_force_n",
    "parting_speed_m_s",
    "polygon_area_over_square",
    "shared_mass_kg",
    "stiffness_n_m",
    "terminal_speed_m_s",
]
