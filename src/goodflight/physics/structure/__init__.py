"""What breaks: fin flutter, fin root, bonds, landing; and the workmanship behind them."""

from goodflight.physics.structure.bonds import (
    KRAFT_PLY_PA,
    PLY_ROLLING_SHEAR_PA,
    anchor_stress_pa,
    ring_bond_stress_pa,
)
from goodflight.physics.structure.cure import cured_share, time_factor
from goodflight.physics.structure.fin_load import (
    fin_root_moment_nm,
    fin_root_stress_pa,
    fin_side_load_n,
)
from goodflight.physics.structure.flutter import (
    Trapezoid,
    equivalent_trapezoid,
    flutter_speed_tn4197,
)
from goodflight.physics.structure.landing import stopping_force_n
from goodflight.physics.structure.moisture import DEW_MARGIN_K, GREATEST_HUMIDITY, dew_point_k
from goodflight.physics.structure.touch import fin_bond_moment_nm, fin_touch_tilt_rad

__all__ = [
    "DEW_MARGIN_K",
    "GREATEST_HUMIDITY",
    "KRAFT_PLY_PA",
    "PLY_ROLLING_SHEAR_PA",
    "Trapezoid",
    "anchor_stress_pa",
    "cured_share",
    "dew_point_k",
    "equivalent_trapezoid",
    "fin_bond_moment_nm",
    "fin_root_moment_nm",
    "fin_root_stress_pa",
    "fin_side_load_n",
    "fin_touch_tilt_rad",
    "flutter_speed_tn4197",
    "ring_bond_stress_pa",
    "stopping_force_n",
    "time_factor",
]
