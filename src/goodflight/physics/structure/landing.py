"""What the ground does: energy at touch-down and the force it becomes.

Left out: which corner touches first and the tumble after it.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# greatest energy of any part at landing in a student programme: 75 ft lbf; memory
STUDENT_LIMIT_J: Final = 101.7


def landing_energy_j(mass_kg: Values, speed_m_s: Values) -> Array:
    """Energy of motion of one part at touch-down: m v^2/2 [J]."""
    return np.asarray(0.5 * np.asarray(mass_kg, dtype=np.float64) * np.asarray(speed_m_s) ** 2)


def speed_for_energy_m_s(mass_kg: Values, energy_j: Values = STUDENT_LIMIT_J) -> Array:
    """Landing speed at which a part has a given energy: sqrt(2 E/m) [m/s]."""
    return np.sqrt(2.0 * np.asarray(energy_j, dtype=np.float64) / mass_kg)


def stopping_force_n(mass_kg: Values, speed_m_s: Values, way_m: Values) -> Array:
    """Mean force on what touches first.

    F = m v^2 / (2 s), s = how far ground and part give way.

    Parameters
        mass_kg : float or array - that must be stopped. [kg]
        speed_m_s : float or array - at touch-down. [m/s]
        way_m : float or array - stopping way: stubble 0.03, hard ground 0.005 (our guesses). [m]
    Returns
        force : array - mean; the peak is about twice it. [N]
    Raises
        nothing
    Validity
        Straight stop without turning over.
    Source
        Work and energy; derived.
    Example
        >>> round(float(stopping_force_n(1.6, 6.0, 0.03)))
        960
    """
    return np.asarray(landing_energy_j(mass_kg, speed_m_s) / np.asarray(way_m))
