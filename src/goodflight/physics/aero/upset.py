"""Incidence that gusts bring, and the one at which the static margin is used up.

Answers: how far may the air come from the side before the CP has moved forward to the CG, and what
air speed is left across the path at the top?
"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

# of a circular cylinder below the critical cross-flow, [jorgensen1977] fig. 1
CROSSFLOW_DRAG: Final = 1.2


def crossflow_slope(eta: float, planform_m2: float, area_m2: float, factor: Values = 1.0) -> Array:
    """Normal force of the cross-flow per radian squared on the reference area, K.

    K = eta Cdn Ap / A; the force coefficient is K sin^2(incidence).

    Parameters
        eta : float - finite-length factor. [-]
        planform_m2 : float - side area of the bodies Ap. [m2]
        area_m2 : float - reference area A. [m2]
        factor : float or array - of the flight. [-]
    Returns
        slope : array - K. [-]
    Raises
        nothing
    Validity
        Cross-flow below Mach 0.4.
    Source
        [allen1951], [jorgensen1977].
    Example
        >>> float(crossflow_slope(0.5, 0.1, 0.005))
        12.0
    """
    return np.asarray(eta * CROSSFLOW_DRAG * planform_m2 / area_m2 * factor, dtype=np.float64)


def stable_incidence_rad(
    slope_per_rad: Values, margin_cal: Values, cross: Values, lever_cal: Values
) -> Array:
    """Incidence at which the static margin is used up.

    Cross-flow lift grows with the square of the incidence and acts at the planform's centroid, so
    the CP moves forward: margin(a) = (CNa m0 + K a mc) / (CNa + K a), zero at - CNa m0 / (K mc),
    with m0 and mc the margins of the small-angle CP and of the centroid.

    Parameters
        slope_per_rad : float or array - CNa. [1/rad]
        margin_cal : float or array - m0, calibres. [-]
        cross : float or array - K, see `crossflow_slope`. [-]
        lever_cal : float or array - centroid ahead of the CG by this, -mc, calibres. [-]
    Returns
        incidence : array - 0 to pi / 2; pi / 2 where the centroid is aft of the CG. [rad]
    Raises
        nothing
    Validity
        Small angles in the slopes; past 25 deg an order of size.
    Source
        [allen1951]; derived.
    Example
        >>> round(float(stable_incidence_rad(10.0, 1.5, 12.0, 5.0)), 6)
        0.25
    """
    push = np.asarray(cross, dtype=np.float64) * lever_cal
    with np.errstate(divide="ignore", invalid="ignore"):
        angle = np.where(push > 1e-9, slope_per_rad * np.asarray(margin_cal) / push, math.pi / 2.0)
    return np.clip(angle, 0.0, math.pi / 2.0)


def stall_start_rad(start_sin2: float) -> float:
    """Incidence at which fins begin to stall, from the square of its sine as tabled [rad].

    Parameters
        start_sin2 : float - sin^2 of the incidence, held to 0 to 1. [-]
    Returns
        incidence : float - where the stall begins. [rad]
    Source
        Definition.
    """
    return math.asin(math.sqrt(min(max(start_sin2, 0.0), 1.0)))


def speed_at_top_m_s(speed_m_s: Values, climb_m_s: Values, apogee_m_s: Values) -> Array:
    """Air speed a rocket has left at the top; one opened on the way up: what it had across then.

    sqrt(v^2 - w^2) where w > 0, else the air speed at apogee.

    Parameters
        speed_m_s : float or array - air speed v at ejection. [m/s]
        climb_m_s : float or array - vertical speed w then, up positive. [m/s]
        apogee_m_s : float or array - air speed at apogee. [m/s]
    Returns
        speed : array - across the vertical. [m/s]
    Raises
        nothing
    Validity
        Wind changes little between ejection and apogee.
    Source
        Kinematics.
    Example
        >>> float(speed_at_top_m_s(5.0, 4.0, 9.0)), float(speed_at_top_m_s(5.0, -4.0, 9.0))
        (3.0, 9.0)
    """
    speed, climb = np.asarray(speed_m_s, dtype=np.float64), np.asarray(climb_m_s)
    across = np.sqrt(np.maximum(speed**2 - climb**2, 0.0))
    return np.where(climb > 0.0, across, apogee_m_s)
