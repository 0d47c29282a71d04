"""How hard a canopy opens and how fast it comes down.

While a canopy fills, the rocket slows; a light rocket has lost most of its speed before the cloth
stands full, a heavy one has not. The finite-mass factor X1 says how much of the full force is
felt. Left out: added air mass, cloth stretch (both inside the opening factor Cx), gravity and the
change of path during the filling, which last some tenths of a second.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import STANDARD_GRAVITY_M_S2

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

RESERVE_M: Final = 10.0  # height kept for packing that opens late, common practice, no source
# at ejection: common practice, no source; safe to 20 m/s, alarm from 25 to 30 m/s
DEPLOY_SPEED_M_S: Final = 25.0
MIN_SPEED_M_S: Final = 0.1  # at line stretch: below it there is no opening load


@dataclass(frozen=True, eq=False)
class Filling:
    """How a canopy fills, by its kind.

    fill_constant : n of the fill time n Do / v. growth : exponent j of drag area over time.
    opening_factor : Cx, greatest force over steady drag at the same speed, infinite mass.
    """

    fill_constant: Values
    growth: Values
    opening_factor: Values


def mass_ratio(
    mass_kg: Values,
    drag_area_m2: Values,
    density_kg_m3: Values,
    speed_m_s: Values,
    fill_time: Values,
) -> Array:
    """Ballistic parameter A of an opening: rocket mass against the air met while filling.

    A = 2 m / (rho CdS v1 tf).

    Parameters
        mass_kg : float or array - everything the canopy slows. [kg]
        drag_area_m2 : float or array - CdS of the full canopy. [m2]
        density_kg_m3 : float or array - air. [kg/m3]
        speed_m_s : float or array - air speed at line stretch v1. [m/s]
        fill_time : float or array - tf; 0 gives infinity. [s]
    Returns
        ratio : array - A. [-]
    Raises
        nothing
    Validity
        Definition. With tf = n Do/v1 the speed drops out.
    Source
        Knacke 1991 (Pflanz's method); memory; same group as in the derivation of
        force_reduction.
    Example
        >>> round(float(mass_ratio(1.5, 0.4921, 1.225, 15.0, 0.4875)), 4)
        0.6806
    """
    air_kg = np.asarray(density_kg_m3, dtype=np.float64) * drag_area_m2 * speed_m_s * fill_time
    result = np.full(np.broadcast_shapes(np.shape(mass_kg), air_kg.shape), np.inf)
    np.divide(2.0 * np.asarray(mass_kg), air_kg, out=result, where=air_kg > 0.0)
    return result


def force_reduction(ratio: Values, growth: Values) -> Array:
    """Finite-mass factor X1: greatest force while filling over the force without slowing down.

    Drag area grows as (t/tf)^j and only drag slows the mass: m dv/dt = -1/2 rho CdS (t/tf)^j v^2.
    With s = t/tf and A = 2m/(rho CdS v1 tf) it integrates to
        v/v1 = 1 / (1 + s^(j+1) / (A (j+1))),
    so the force over 1/2 rho CdS v1^2 is s^j (v/v1)^2. Its derivative vanishes at
        s*^(j+1) = A j (j+1) / (j+2),
    where it is s*^j ((j+2)/(2j+2))^2. If s* >= 1 the greatest force comes at full opening:
        X1 = (1 + 1/(A (j+1)))^-2.

    Parameters
        ratio : float or array - A, above zero; infinity gives 1. [-]
        growth : float or array - j; 2 solid cloth, 1 ribbon and slotted, 0.5 reefed stages. [-]
    Returns
        factor : array - X1, 0 to 1. [-]
    Raises
        nothing
    Validity
        Level or fast openings: weight neglected against drag while filling. Deployment at the
        very top of a flight, slower than the descent speed, gives less force than the weight.
    Source
        Pflanz 1942 in Knacke 1991, fig. 5-48 area (memory); closed form derived here.
    Example
        >>> round(float(force_reduction(1.0, 2.0)), 4)
        0.5625
    """
    a = np.asarray(ratio, dtype=np.float64)
    j = np.asarray(growth, dtype=np.float64)
    a, j = np.broadcast_arrays(a, j)
    peak = a * j * (j + 1.0) / (j + 2.0)  # s*^(j+1)
    full = (1.0 + 1.0 / (a * (j + 1.0))) ** -2.0
    early = np.minimum(peak, 1.0) ** (j / (j + 1.0)) * ((j + 2.0) / (2.0 * j + 2.0)) ** 2
    return np.where(peak >= 1.0, full, early)


def opening_force_n(
    mass_kg: Values,
    drag_area_m2: Values,
    *,
    nominal_diameter_m: Values,
    filling: Filling,
    speed_m_s: Values,
    density_kg_m3: Values,
) -> Array:
    """Greatest force of an opening canopy, for cord, anchor and canopy.

    F = 1/2 rho v1^2 CdS Cx X1(A, j), A from the fill time n Do/v1.

    Parameters
        mass_kg : float or array - everything the canopy slows. [kg]
        drag_area_m2 : float or array - CdS of the full canopy. [m2]
        nominal_diameter_m : float or array - Do from the cloth area. [m]
        filling : Filling - n, j and Cx of the kind. [-]
        speed_m_s : float or array - air speed at line stretch. [m/s]
        density_kg_m3 : float or array - air. [kg/m3]
    Returns
        force : array - greatest force, weight not added. [N]
    Raises
        nothing
    Validity
        As force_reduction; tables of Cx and n spread by 10 to 20 %: carry that spread.
    Source
        Knacke 1991 (Pflanz's method); memory; X1 derived in force_reduction.
    Example
        >>> force = opening_force_n(
        ...     1.5, 0.4921, nominal_diameter_m=0.914, filling=Filling(8.0, 2.0, 1.7),
        ...     speed_m_s=15.0, density_kg_m3=1.225)
        >>> round(float(force), 1)
        51.9
    """
    speed = np.asarray(speed_m_s, dtype=np.float64)
    steady = 0.5 * np.asarray(density_kg_m3) * speed**2 * drag_area_m2
    # tf v1 = n Do, so A does not need the speed
    ratio = mass_ratio(
        mass_kg,
        drag_area_m2,
        density_kg_m3,
        1.0,
        np.asarray(filling.fill_constant) * nominal_diameter_m,
    )
    return steady * filling.opening_factor * force_reduction(ratio, filling.growth)


def filled_s(fill: Values, diameter_m: Values, speed_m_s: Values) -> Array:
    """Time a canopy takes to fill: n D / v.

    Parameters
        fill : float or array - fill constant n. [-]
        diameter_m : float or array - of the cloth laid flat D. [m]
        speed_m_s : float or array - air speed at line stretch v. [m/s]
    Returns
        time : array - infinite at rest. [s]
    Raises
        nothing
    Validity
        As the constant: no cloth in a bag.
    Source
        Knacke 1991, memory.
    Example
        >>> float(filled_s(8.0, 1.0, 16.0))
        0.5
    """
    with np.errstate(divide="ignore"):
        return np.asarray(np.asarray(fill) * diameter_m / np.asarray(speed_m_s, dtype=np.float64))


def height_needed_m(
    speed_m_s: Values, stretch_s: Values, fill_constant: Values, nominal_diameter_m: Values
) -> Array:
    """Height at ejection that a canopy needs to stand open before the ground.

    RESERVE_M + v ts + n Do: way to line stretch and way while it fills.

    Parameters
        speed_m_s : float or array - air speed v. [m/s]
        stretch_s : float or array - from ejection to line stretch ts. [s]
        fill_constant : float or array - n of the canopy kind. [-]
        nominal_diameter_m : float or array - Do from the cloth area. [m]
    Returns
        height : array - above the ground. [m]
    Raises
        nothing
    Validity
        Straight down at that speed: upper bound.
    Source
        Fill distance: Knacke 1991, memory; 10 m: common practice, no source.
    Example
        >>> float(height_needed_m(20.0, 0.5, 8.0, 1.0))
        28.0
    """
    fill = np.asarray(fill_constant, dtype=np.float64) * nominal_diameter_m
    return np.asarray(RESERVE_M + speed_m_s * np.asarray(stretch_s) + fill)


def deploy_speed_stood_m_s(error_m_s: Values) -> Array:
    """Air speed at which the gear may open: DEPLOY_SPEED_M_S + error, at least 1 m/s [m/s].

    Parameters
        error_m_s : float or array - drawn, about zero. [m/s]
    Returns
        speed : array - that the gear stands. [m/s]
    Source
        beside DEPLOY_SPEED_M_S.
    """
    return np.maximum(DEPLOY_SPEED_M_S + np.asarray(error_m_s, dtype=np.float64), 1.0)


def terminal_speed_m_s(
    mass_kg: Values,
    drag_area_m2: Values,
    density_kg_m3: Values,
    gravity_m_s2: Values = STANDARD_GRAVITY_M_S2,
) -> Array:
    """Steady speed down under a canopy.

    v = sqrt(2 m g / (rho CdS)).

    Parameters
        mass_kg : float or array - everything that hangs. [kg]
        drag_area_m2 : float or array - sum of all drag areas. [m2]
        density_kg_m3 : float or array - air. [kg/m3]
        gravity_m_s2 : float or array - local gravity. [m/s2]
    Returns
        speed : array - down through the air. [m/s]
    Raises
        nothing
    Validity
        Still air; up- and downdraughts add directly.
    Source
        Force balance; derived.
    Example
        >>> round(float(terminal_speed_m_s(1.5, 0.4921, 1.225)), 3)
        6.986
    """
    weight = np.asarray(mass_kg, dtype=np.float64) * gravity_m_s2
    return np.sqrt(2.0 * weight / (np.asarray(density_kg_m3) * drag_area_m2))


def dropped_drag_area_m2(
    mass_kg: Values,
    speed_m_s: Values,
    density_kg_m3: Values,
    gravity_m_s2: Values = STANDARD_GRAVITY_M_S2,
) -> Array:
    """Drag area of a canopy from a drop: what hangs from it and how fast it came down.

    CdS = 2 m g / (rho v^2), the steady speed turned round.

    Parameters
        mass_kg : float or array - everything that hangs, the canopy included. [kg]
        speed_m_s : float or array - steady speed down, more than 0. [m/s]
        density_kg_m3 : float or array - air. [kg/m3]
        gravity_m_s2 : float or array - local gravity. [m/s2]
    Returns
        drag_area : array - CdS. [m2]
    Raises
        nothing
    Validity
        Timed once it falls evenly, in still air.
    Source
        Force balance; derived.
    Example
        >>> round(float(dropped_drag_area_m2(1.5, 6.986, 1.225)), 4)
        0.4921
    """
    weight = np.asarray(mass_kg, dtype=np.float64) * gravity_m_s2
    return np.asarray(2.0 * weight / (np.asarray(density_kg_m3) * np.asarray(speed_m_s) ** 2))
