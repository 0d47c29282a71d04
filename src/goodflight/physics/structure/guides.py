"""Side load on the rail guides as the rocket leaves the rail in a cross-wind.

Left out: binding of the guides in a bent rail, play in the slot.
"""

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

MIN_REACH_M = 1e-3  # between two guides, so that one place for both gives a number


def guide_load_n(
    side_n: Values,
    cp_m: Values,
    weight_n: Values,
    rail_tilt_rad: Values,
    fore_m: float,
    aft_m: float,
) -> Array:
    """Greatest load of one rail guide, square to the rail.

    The wind's side force acts at the CP and is shared between the two guides by levers; one guide
    may carry all of the weight's share across the leaning rail.

    Parameters
        side_n : float or array - side force of the wind. [N]
        cp_m : float or array - station it acts at. [m]
        weight_n : float or array - of the rocket. [N]
        rail_tilt_rad : float or array - lean of the rail from the vertical. [rad]
        fore_m : float - station of the forward guide. [m]
        aft_m : float - station of the aft guide. [m]
    Returns
        load : array - of the guide that carries more. [N]
    Raises
        nothing
    Validity
        Both guides still in the rail; steady wind.
    Source
        Statics; derived.
    Example
        >>> float(guide_load_n(10.0, 0.9, 0.0, 0.0, 0.5, 1.0))
        8.0
    """
    reach = max(aft_m - fore_m, MIN_REACH_M)
    side = np.asarray(side_n, dtype=np.float64)
    aft = side * (np.asarray(cp_m) - fore_m) / reach
    lean = np.asarray(weight_n) * np.sin(np.asarray(rail_tilt_rad))
    return np.asarray(np.maximum(np.abs(aft), np.abs(side - aft)) + lean)


def crosswind_force_n(
    speed_m_s: Values, across_m_s: Values, density_kg_m3: Values, lift_area_m2: Values
) -> Array:
    """Side force of the wind on a rocket on its rail.

    1/2 rho (v^2 + w^2) A CNa atan(w / v).

    Parameters
        speed_m_s : float or array - air speed along the axis v. [m/s]
        across_m_s : float or array - air speed across it w. [m/s]
        density_kg_m3 : float or array - of the air. [kg/m3]
        lift_area_m2 : float or array - reference area x normal-force slope A CNa. [m2/rad]
    Returns
        force : array - across the axis. [N]
    Raises
        nothing
    Validity
        Angles of the linear range; beyond the stall on the safe side.
    Source
        Definition of the normal-force slope.
    Example
        >>> round(float(crosswind_force_n(20.0, 0.2, 1.225, 0.05)), 4)
        0.1225
    """
    speed, across = np.asarray(speed_m_s, dtype=np.float64), np.asarray(across_m_s)
    pressure = 0.5 * np.asarray(density_kg_m3) * (speed**2 + across**2)
    return np.asarray(pressure * lift_area_m2 * np.arctan2(across, speed))
