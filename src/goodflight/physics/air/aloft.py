"""The wind above the reading: by the power law, and what a canopy's drift says of it.

Answers: how strong is the wind at another height, how far does a canopy drift, and which growth
with height does a drift that was seen stand for. Left out: a wind that turns with height.
"""

import math
from typing import Final

HIGHEST_EXPONENT: Final = 0.6  # table: cities in stable air; [kaltschmitt2007]
LOWEST_EXPONENT: Final = 0.0
_HALVINGS: Final = 60


def wind_at_m_s(wind_m_s: float, height_m: float, exponent: float, at_m: float) -> float:
    """Mean wind at another height: v (z / h)^a.

    Parameters
        wind_m_s : float - mean wind v read at `height_m`. [m/s]
        height_m : float - of the reading h, above ground. [m]
        exponent : float - a of the power law. [-]
        at_m : float - z, above ground. [m]
    Returns
        wind : float - at z. [m/s]
    Validity
        0.5 to about 300 m in neutral air; above that it overstates.
    Source
        [hellmann], exponents as tabulated by [kaltschmitt2007].
    Example
        >>> round(wind_at_m_s(3.5, 2.0, 0.16, 100.0), 2)
        6.54
    """
    return float(wind_m_s * (at_m / height_m) ** exponent)


def layer_wind_m_s(wind_m_s: float, height_m: float, exponent: float, top_m: float) -> float:
    """Mean wind from the ground to a height: v (z / h)^a / (1 + a).

    What a canopy that comes down at a steady speed drifts with, on the whole.

    Parameters
        wind_m_s : float - mean wind v read at `height_m`. [m/s]
        height_m : float - of the reading h. [m]
        exponent : float - a of the power law. [-]
        top_m : float - z, where the canopy opened. [m]
    Returns
        wind : float - mean over the layer. [m/s]
    Validity
        As the power law; speed of descent constant (within 3 % below 600 m).
    Source
        Integral of [hellmann]; derived.
    Example
        >>> round(layer_wind_m_s(3.5, 2.0, 0.16, 400.0), 2)
        7.04
    """
    return wind_at_m_s(wind_m_s, height_m, exponent, top_m) / (1.0 + exponent)


def exponent_of_drift(drift_m_s: float, wind_m_s: float, height_m: float, top_m: float) -> float:
    """Growth of the wind with height that a canopy's drift stands for.

    The exponent a that makes `layer_wind_m_s` the drift; by halving, the drift grows with a.

    Parameters
        drift_m_s : float - way over the ground per second of descent. [m/s]
        wind_m_s : float - mean wind read at `height_m`. [m/s]
        height_m : float - of the reading. [m]
        top_m : float - where the canopy opened, at least three times `height_m`. [m]
    Returns
        exponent : float - 0 to 0.6; an end where the drift is beyond it. [-]
    Raises
        ValueError - no wind, or an opening too low to tell.
    Validity
        As the power law.
    Source
        [hellmann]; derived.
    Example
        >>> round(exponent_of_drift(7.04, 3.5, 2.0, 400.0), 2)
        0.16
    """
    if wind_m_s <= 0.0 or top_m < 3.0 * height_m:
        raise ValueError(
            f"a wind of {wind_m_s:g} m/s at {height_m:g} m and a drift from {top_m:g} m say "
            "nothing of the growth with height: read a wind, take a higher opening"
        )
    low, high = LOWEST_EXPONENT, HIGHEST_EXPONENT
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if layer_wind_m_s(wind_m_s, height_m, middle, top_m) < drift_m_s:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def weighed_together(
    first: tuple[float, float], second: tuple[float, float]
) -> tuple[float, float]:
    """Two readings of one figure, each with its error: the mean by 1 / error squared, its error.

    Parameters
        first, second : (value, standard deviation) - independent; a deviation of 0 is exact. [any]
    Returns
        both : (value, standard deviation) - never wider than either. [any]
    Validity
        Normal errors.
    Source
        Textbook, inverse-variance weighting.
    Example
        >>> weighed_together((1.0, 3.0), (2.0, 3.0))[0]
        1.5
    """
    (a, s), (b, t) = first, second
    if s <= 0.0 or t <= 0.0:
        return first if s <= 0.0 else second
    share = s**2 / (s**2 + t**2)
    return a + share * (b - a), s * t / math.hypot(s, t)


def drift_sigma_m_s(distance_m: float, time_s: float, errors: tuple[float, float]) -> float:
    """Standard deviation of a drift, distance over time, from the errors of both.

    Parameters
        distance_m, time_s : float - way over the ground and how long it took. [m], [s]
        errors : (float, float) - one standard deviation of each. [m], [s]
    Returns
        sigma : float. [m/s]
    Validity
        First order in both.
    Source
        Propagation of small errors.
    Example
        >>> round(drift_sigma_m_s(300.0, 60.0, (60.0, 3.0)), 2)
        1.03
    """
    return math.hypot(errors[0] / time_s, distance_m * errors[1] / time_s**2)
