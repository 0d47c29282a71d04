"""Density and pressure at heights over the pad, for loads on many flights at once.

Left out: the fall of the temperature with height, see `atmosphere`.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

GAS_CONSTANT: Final = 287.05287  # J/(kg K), dry air; as the flight's own column of air
SCALE_HEIGHT_M: Final = 8435.0  # of the lower atmosphere's density


def gas_density_kg_m3(pressure_pa: Values, temperature_k: Values) -> Array:
    """Density of dry air: p / (R T) [kg/m3].

    Parameters
        pressure_pa : float or array - of the air. [Pa]
        temperature_k : float or array - of the air. [K]
    Returns
        density : array - of dry air. [kg/m3]
    """
    heat = GAS_CONSTANT * np.asarray(temperature_k, dtype=np.float64)
    return np.asarray(pressure_pa / heat)


def density_over_pad_kg_m3(
    ground_pressure_pa: Values, ground_temperature_k: Values, height_m: Values
) -> Array:
    """Air density at a height over the pad.

    Ground density x exp(-h / 8435 m); an unknown height (nan) counts as the ground.

    Parameters
        ground_pressure_pa : float or array - at the pad. [Pa]
        ground_temperature_k : float or array - at the pad. [K]
        height_m : float or array - above the pad. [m]
    Returns
        density : array - of dry air. [kg/m3]
    Raises
        nothing
    Validity
        Up to 2 km within 1 %.
    Source
        Hydrostatic equation of an even column.
    Example
        >>> round(float(density_over_pad_kg_m3(101325.0, 288.15, 0.0)), 4)
        1.225
    """
    ground = gas_density_kg_m3(ground_pressure_pa, ground_temperature_k)
    return np.asarray(ground * np.exp(-np.nan_to_num(height_m) / SCALE_HEIGHT_M))


def pressure_over_pad_pa(
    ground_pressure_pa: Values,
    ground_temperature_k: Values,
    gravity_m_s2: Values,
    height_m: Values,
) -> Array:
    """Air pressure at a height over the pad.

    p0 exp(-h g / (R T0)); an unknown height (nan) counts as the ground.

    Parameters
        ground_pressure_pa : float or array - at the pad. [Pa]
        ground_temperature_k : float or array - at the pad. [K]
        gravity_m_s2 : float or array - local gravity. [m/s2]
        height_m : float or array - above the pad. [m]
    Returns
        pressure : array - of the air. [Pa]
    Raises
        nothing
    Validity
        Up to 1 km within 0.2 %.
    Source
        Hydrostatic equation of an even column.
    Example
        >>> float(pressure_over_pad_pa(101325.0, 288.15, 9.80665, 0.0))
        101325.0
    """
    scale = GAS_CONSTANT * np.asarray(ground_temperature_k, dtype=np.float64) / gravity_m_s2
    return np.asarray(ground_pressure_pa * np.exp(-np.nan_to_num(height_m) / scale))
