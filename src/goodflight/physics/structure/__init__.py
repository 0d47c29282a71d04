"""What breaks: fin flutter, fin root, bonds, landing; and the workmanship behind them."""

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

__all__ = [
    "Trapezoid",
    "equivalent_trapezoid",
    "fin_root_moment_nm",
    "fin_root_stress_pa",
    "fin_side_load_n",
    "flutter_speed_tn4197",
]
