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
PRACTICE_SPEED_M_S: Final = 6.1  # upper speed for paper and wood airframes; practice, no source
TWO_IN_HUNDRED: Final = 2.054  # normal quantile: 2 % damaged at the lower speed, 98 % at the upper
PEAK: Final = 2.0  # peak force over mean, our guess
GROUND_GIVES_M: Final = 0.030  # soft soil or stubble, our guess


# turf of 100 g under the standard hammer (ASTM F1702: 2.25 kg, 50 mm face, 455 mm drop): it stops
# 1150 kg/m2 from 3 m/s in 9.1 mm, so 120 MN/m3 (44 to 180 for 60 to 120 g); derived
BEDDING_N_M3: Final = 120e6


def bedded_force_n(
    mass_kg: Values, speed_m_s: Values, area_m2: Values, bedding_n_m3: Values = BEDDING_N_M3
) -> Array:
    """Greatest force of ground that gives like a spring under an area.

    F = v sqrt(m k), k = bedding modulus x area; the ground gives v sqrt(m / k).

    Parameters
        mass_kg : float or array - that must be stopped. [kg]
        speed_m_s : float or array - at touch-down. [m/s]
        area_m2 : float or array - that bears on the ground. [m2]
        bedding_n_m3 : float or array - of the ground. [N/m3]
    Returns
        force : array - greatest. [N]
    Raises
        nothing
    Validity
        Turf, to some 50 mm; a stone or a frozen field is harder.
    Source
        Energy balance of a spring, textbook; modulus derived from the hammer of ASTM F1702 (seen).
    Example
        >>> round(float(bedded_force_n(2.0, 6.0, 315e-6)))
        1650
    """
    stiff = np.asarray(bedding_n_m3, dtype=np.float64) * area_m2
    return np.asarray(np.asarray(speed_m_s) * np.sqrt(np.asarray(mass_kg) * stiff))


def landing_energy_j(mass_kg: Values, speed_m_s: Values) -> Array:
    """Energy of motion of one part at touch-down: m v^2/2 [J].

    Parameters
        mass_kg : float or array - of the part. [kg]
        speed_m_s : float or array - at touch-down. [m/s]
    Returns
        energy : array - of motion. [J]
    Source
        Mechanics.
    """
    return np.asarray(0.5 * np.asarray(mass_kg, dtype=np.float64) * np.asarray(speed_m_s) ** 2)


def speed_for_energy_m_s(mass_kg: Values, energy_j: Values = STUDENT_LIMIT_J) -> Array:
    """Landing speed at which a part has a given energy: sqrt(2 E/m) [m/s].

    Parameters
        mass_kg : float or array - of the part. [kg]
        energy_j : float or array - of motion. [J]
    Returns
        speed : array - at touch-down. [m/s]
    Source
        Mechanics; the limit is beside STUDENT_LIMIT_J.
    """
    return np.sqrt(2.0 * np.asarray(energy_j, dtype=np.float64) / mass_kg)


def stopping_force_n(mass_kg: Values, speed_m_s: Values, way_m: Values) -> Array:
    """Mean force on what touches first.

    F = m v^2 / (2 s), s = how far ground and part give way.

    Parameters
        mass_kg : float or array - that must be stopped. [kg]
        speed_m_s : float or array - at touch-down. [m/s]
        way_m : float or array - stopping distance: stubble 0.03, hard ground 0.005, guesses. [m]
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


def landing_speed_stood_m_s(mass_kg: Values, score: Values) -> Array:
    """Descent speed that an airframe stands, spread between practice and the energy limit.

    2 in 100 are damaged at practice's upper speed, 98 in 100 at the speed of STUDENT_LIMIT_J (at
    least 5 % above practice): middle + half width / 2.054 x score.

    Parameters
        mass_kg : float or array - that lands. [kg]
        score : float or array - standard-normal, 0 for the middle. [-]
    Returns
        speed : array - not below 1 m/s. [m/s]
    Raises
        nothing
    Validity
        Paper and wood; nothing measured.
    Source
        6.1 m/s: common practice, no source; 101.7 J: a student programme's limit, memory.
    Example
        >>> round(float(landing_speed_stood_m_s(1.6, 0.0)), 3)
        8.687
    """
    upper = np.maximum(speed_for_energy_m_s(mass_kg), PRACTICE_SPEED_M_S * 1.05)
    middle = 0.5 * (PRACTICE_SPEED_M_S + upper)
    half = 0.5 * (upper - PRACTICE_SPEED_M_S)
    return np.asarray(np.maximum(middle + half / TWO_IN_HUNDRED * np.asarray(score), 1.0))


def touch_force_n(mass_kg: Values, speed_m_s: Values, gives: Values = 1.0) -> Array:
    """Peak force on what touches the ground first.

    PEAK x mean force over GROUND_GIVES_M x gives.

    Parameters
        mass_kg : float or array - that must be stopped. [kg]
        speed_m_s : float or array - at touch-down. [m/s]
        gives : float or array - how far the ground gives, over GROUND_GIVES_M. [-]
    Returns
        force : array - peak. [N]
    Raises
        nothing
    Validity
        As stopping_force_n; soft ground.
    Source
        Work and energy; derived. Peak and ground: our guess.
    Example
        >>> round(float(touch_force_n(1.6, 6.0)))
        1920
    """
    return PEAK * stopping_force_n(mass_kg, speed_m_s, GROUND_GIVES_M * np.asarray(gives))


def mass_that_counts_kg(mass_kg: Values, gyration_m2: Values, lever_m: Values) -> Array:
    """Mass that a blow beside the centre of gravity has to stop; the rest turns out of the way.

    m i^2 / (i^2 + l^2), i the radius of gyration.

    Parameters
        mass_kg : float or array - of the body m. [kg]
        gyration_m2 : float or array - inertia over mass i^2. [m2]
        lever_m : float or array - of the blow past the CG, square to it l. [m]
    Returns
        mass : array - m at no lever. [kg]
    Raises
        nothing
    Validity
        Free body, short blow.
    Source
        Momentum and angular momentum; derived.
    Example
        >>> float(mass_that_counts_kg(2.0, 0.09, 0.3))
        1.0
    """
    gyration = np.asarray(gyration_m2, dtype=np.float64)
    return np.asarray(mass_kg * gyration / (gyration + np.asarray(lever_m) ** 2))
