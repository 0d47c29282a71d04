"""What breaks: fin flutter, fin root, bonds, landing; and the workmanship behind them."""

from goodflight.physics.structure.bonds import (
    FILLET_SHARE,
    KRAFT_PLY_PA,
    PANEL_SHEAR_PA,
    PLY_ROLLING_SHEAR_PA,
    anchor_holds_n,
    anchor_stress_pa,
    glued_width_m,
    ring_bond_stress_pa,
    rings_hold_n,
    thrust_on_glue_n,
)
from goodflight.physics.structure.crush import (
    CRUSH_PA,
    crush_force_n,
    crush_pa,
    edge_area_m2,
    nose_area_m2,
)
from goodflight.physics.structure.cure import (
    cured_share,
    daily_temperature_k,
    pace_between,
    time_factor,
)
from goodflight.physics.structure.fin_guide import (
    KeyedPlates,
    guided_cant_rad,
    guided_spread_rad,
    key_turn_rad,
)
from goodflight.physics.structure.fin_load import (
    fin_root_moment_nm,
    fin_root_stands_nm,
    fin_root_stress_pa,
    fin_side_load_n,
    gust_incidence_rad,
)
from goodflight.physics.structure.flutter import (
    Trapezoid,
    equivalent_trapezoid,
    flutter_at_height,
    flutter_speed_tn4197,
)
from goodflight.physics.structure.guides import crosswind_force_n, guide_load_n
from goodflight.physics.structure.landing import (
    landing_speed_stood_m_s,
    mass_that_counts_kg,
    stopping_force_n,
    touch_force_n,
)
from goodflight.physics.structure.moisture import (
    MAX_HUMIDITY,
    dew_point_k,
    min_surface_k,
    recoat_error_s,
)
from goodflight.physics.structure.touch import (
    fin_blow_nm,
    fin_bond_moment_nm,
    fin_bond_stands_nm,
    fin_touch_tilt_rad,
    tilted_fin_lever_m,
)

__all__ = [
    "CRUSH_PA",
    "FILLET_SHARE",
    "KRAFT_PLY_PA",
    "MAX_HUMIDITY",
    "PANEL_SHEAR_PA",
    "PLY_ROLLING_SHEAR_PA",
    "KeyedPlates",
    "Trapezoid",
    "anchor_holds_n",
    "anchor_stress_pa",
    "crosswind_force_n",
    "crush_force_n",
    "crush_pa",
    "cured_share",
    "daily_temperature_k",
    "dew_point_k",
    "edge_area_m2",
    "equivalent_trapezoid",
    "fin_blow_nm",
    "fin_bond_moment_nm",
    "fin_bond_stands_nm",
    "fin_root_moment_nm",
    "fin_root_stands_nm",
    "fin_root_stress_pa",
    "fin_side_load_n",
    "fin_touch_tilt_rad",
    "flutter_at_height",
    "flutter_speed_tn4197",
    "glued_width_m",
    "guide_load_n",
    "guided_cant_rad",
    "guided_spread_rad",
    "gust_incidence_rad",
    "key_turn_rad",
    "landing_speed_stood_m_s",
    "mass_that_counts_kg",
    "min_surface_k",
    "nose_area_m2",
    "pace_between",
    "recoat_error_s",
    "ring_bond_stress_pa",
    "rings_hold_n",
    "stopping_force_n",
    "thrust_on_glue_n",
    "tilted_fin_lever_m",
    "time_factor",
    "touch_force_n",
]
