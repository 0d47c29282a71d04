"""The rocket as built: shapes, parts, mass properties and the outer outline."""

from goodflight.physics.vehicle.fins import (
    fin_angles_rad,
    half_gap_rad,
    panel,
    rail_guide_angle_rad,
    root_chord_m,
)
from goodflight.physics.vehicle.mass import (
    MassItem,
    MassProperties,
    MassTrials,
    combine,
    combine_trials,
    mass_items,
    part_item,
    ring_inertia_kg_m2,
)
from goodflight.physics.vehicle.profile import (
    BodyProfile,
    BodySegment,
    body_length_m,
    outer_profile,
    reference_diameter_m,
)
from goodflight.physics.vehicle.shapes import NOSE_SHAPES, check_shape, radius_m
from goodflight.physics.vehicle.weighing import (
    ReadOff,
    balance_reading,
    bifilar_period_s,
    mass_reading,
    swing_reading,
)

__all__ = [
    "NOSE_SHAPES",
    "BodyProfile",
    "BodySegment",
    "MassItem",
    "MassProperties",
    "MassTrials",
    "ReadOff",
    "balance_reading",
    "bifilar_period_s",
    "body_length_m",
    "check_shape",
    "combine",
    "combine_trials",
    "fin_angles_rad",
    "half_gap_rad",
    "mass_items",
    "mass_reading",
    "outer_profile",
    "panel",
    "part_item",
    "radius_m",
    "rail_guide_angle_rad",
    "reference_diameter_m",
    "ring_inertia_kg_m2",
    "root_chord_m",
    "swing_reading",
]
