"""What a recovery cord holds after its joints, and how hard it snatches.

Two bodies fly apart after ejection; the cord must take up their relative motion. Left out here:
air drag on the parts while the cord pays out, friction of folds and tape, hysteresis.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]


DAMPING: Final = 0.1  # of critical, of the cord; our guess
CANOPY_PLACE: Final = 1.0 / 3.0  # of the cord from the nose, when not given
PAY_OUT_M_S: Final = 10.0  # parts that leave each other; 6 to 14 m/s, common practice, no source
NO_CORD_M: Final = 5.0  # taken for a rocket that has no cord yet
LEAST_STRETCH_S: Final = 0.05
FRICTION_WEIGHTS: Final = 2.0  # pull that draws a pack out over its weight, when not given


@dataclass(frozen=True)
class Joint:
    """How much of the cord's strength a way of joining leaves."""

    key: str
    label: str
    efficiency: float
    source: str


JOINTS: Final[dict[str, Joint]] = {
    joint.key: joint
    for joint in (
        Joint("overhand", "overhand knot, worst", 0.35, "sailing knots page, seen"),
        Joint("two_knots", "two unnamed knots", 0.50, "common practice, no source"),
        Joint("bowline", "bowline", 0.65, "0.80-0.90 seen; laboratory means lower, plan 0.65"),
        Joint("clove_hitch", "clove hitch", 0.75, "knot encyclopedia page, seen"),
        Joint("sewn", "sewn loop", 0.80, "Knacke 1991 design factors, memory"),
        Joint("palomar", "palomar knot, aramid", 0.85, "student recovery page, seen"),
        Joint("splice", "splice", 0.90, "knot encyclopedia page, seen (up to)"),
    )
}


def stretch_s(cord_m: float | None, factor: Values = 1.0) -> Array:
    """Time from ejection until the cord is paid out: L / v.

    Parameters
        cord_m : float or None - its length; None = there is none yet. [m]
        factor : float or array - scatter of the time, about 1. [-]
    Returns
        time : array - at least LEAST_STRETCH_S. [s]
    Raises
        nothing
    Validity
        The flight's own estimate; the motion of the parts themselves: `parting`.
    Source
        Common practice, no source.
    Example
        >>> float(stretch_s(5.5))
        0.55
    """
    paid = NO_CORD_M if cord_m is None else cord_m
    return np.maximum(paid / PAY_OUT_M_S * np.asarray(factor, dtype=np.float64), LEAST_STRETCH_S)


def held_force_n(strength_n: Values, efficiency: Values) -> Array:
    """Force a cord holds with its knots or seams.

    F = strength of the straight cord x efficiency of its weakest joint.

    Parameters
        strength_n : float or array - new, straight. [N]
        efficiency : float or array - weakest joint, see JOINTS. [-]
    Returns
        force : array - what it holds. [N]
    Raises
        nothing
    Validity
        New dry cord; aramid ribbon loses 3 to 13 % when wet (seen).
    Source
        Definition of joint efficiency.
    Example
        >>> float(held_force_n(6672.0, 0.5))
        3336.0
    """
    return np.asarray(strength_n, dtype=np.float64) * efficiency


def stiffness_n_m(strength_n: Values, elongation: Values, length_m: Values) -> Array:
    """Spring rate of a cord from its breaking point.

    k = F / (eps L).

    Parameters
        strength_n : float or array - breaking force of the straight cord. [N]
        elongation : float or array - at break. [-]
        length_m : float or array - unstretched. [m]
    Returns
        stiffness : array - spring rate. [N/m]
    Raises
        nothing
    Validity
        As energy_to_break_j.
    Source
        Definition; derived.
    Example
        >>> round(float(stiffness_n_m(6672.0, 0.25, 5.0)), 1)
        5337.6
    """
    return np.asarray(strength_n, dtype=np.float64) / (np.asarray(elongation) * length_m)


def in_series(*stiffnesses_n_m: Values) -> Array:
    """Spring rate of cords tied end to end, e.g. an aramid leader and nylon.

    1/k = sum of 1/k_i; the softest decides.

    Parameters
        stiffnesses_n_m : floats or arrays - of each cord. [N/m]
    Returns
        stiffness : array - of the whole. [N/m]
    Raises
        nothing
    Validity
        As stiffness_n_m.
    Source
        Textbook.
    Example
        >>> float(in_series(100.0, 100.0))
        50.0
    """
    soft = np.zeros(())
    for stiffness in stiffnesses_n_m:
        soft = soft + 1.0 / np.asarray(stiffness, dtype=np.float64)
    return np.asarray(1.0 / soft)


def shared_mass_kg(fore_kg: Values, aft_kg: Values) -> Array:
    """Reduced mass of two bodies on one cord: m1 m2 / (m1 + m2) [kg].

    Parameters
        fore_kg : float or array - one body. [kg]
        aft_kg : float or array - the other. [kg]
    Returns
        mass : array - reduced mass. [kg]
    Source
        Mechanics of two bodies.
    """
    fore, aft = np.asarray(fore_kg, dtype=np.float64), np.asarray(aft_kg, dtype=np.float64)
    return np.asarray(fore * aft / (fore + aft))


def parting_speed_m_s(energy_j: Values, fore_kg: Values, aft_kg: Values) -> Array:
    """Speed at which two bodies leave each other after the gas has pushed them.

    E = 1/2 mu v^2: v = sqrt(2 E / mu).

    Parameters
        energy_j : float or array - work of the gas less friction. [J]
        fore_kg : float or array - forward body. [kg]
        aft_kg : float or array - aft body. [kg]
    Returns
        speed : array - relative. [m/s]
    Raises
        nothing
    Validity
        Negative energy (the joint does not open) gives 0.
    Source
        Energy and momentum balance; derived.
    Example
        >>> round(float(parting_speed_m_s(20.0, 0.6, 1.0)), 2)
        10.33
    """
    energy = np.maximum(np.asarray(energy_j, dtype=np.float64), 0.0)
    return np.sqrt(2.0 * energy / shared_mass_kg(fore_kg, aft_kg))


def snatch_n(speed_m_s: Values, stiffness_n_m: Values, mass_kg: Values) -> Array:
    """Highest pull of a cord that stops two bodies from leaving each other.

    All energy of the motion goes into the cord: 1/2 mu v^2 = F^2 / (2 k), F = v sqrt(k mu).

    Parameters
        speed_m_s : float or array - at which they part v. [m/s]
        stiffness_n_m : float or array - of the whole cord k. [N/m]
        mass_kg : float or array - their reduced mass mu. [kg]
    Returns
        force : array - as the cord is longest. [N]
    Raises
        nothing
    Validity
        No drag on the way, no loss in the cord: upper bound.
    Source
        Energy balance; derived.
    Example
        >>> float(snatch_n(8.0, 900.0, 0.25))
        120.0
    """
    spring = np.asarray(stiffness_n_m, dtype=np.float64) * mass_kg
    return np.asarray(speed_m_s * np.sqrt(spring))


@dataclass(frozen=True)
class CordLengths:
    """The cord ahead of the canopy and behind it, and the leader at its aft end [m]."""

    fore_m: float
    aft_m: float
    leader_m: float


def cord_lengths(length_m: float, canopy_at_m: float | None, leader_m: float = 0.0) -> CordLengths:
    """Where the canopy divides the cord.

    A third from the nose unless stated; no piece shorter than a twentieth of the cord.

    Parameters
        length_m : float - of the whole cord. [m]
        canopy_at_m : float or None - from the forward anchor; None = not stated. [m]
        leader_m : float - of the aft end that is another material. [m]
    Returns
        lengths : CordLengths - fore, aft (leader included), leader. [m]
    Raises
        nothing
    Validity
        A canopy tied in beyond nine tenths counts as tied in there.
    Source
        Geometry; a third is common practice, no source.
    Example
        >>> cord_lengths(6.0, None, 1.0)
        CordLengths(fore_m=2.0, aft_m=4.0, leader_m=1.0)
    """
    stated = CANOPY_PLACE * length_m if canopy_at_m is None else min(canopy_at_m, 0.9 * length_m)
    fore = max(stated, 0.05 * length_m)
    aft = length_m - fore
    return CordLengths(fore, aft, min(leader_m, 0.95 * aft))


def pack_friction_n(pack_kg: Values, gravity_m_s2: Values, factor: Values = 1.0) -> Array:
    """Friction of a pack in its tube when nobody has pulled it: FRICTION_WEIGHTS weights [N].

    Parameters
        pack_kg : float or array - of the packed gear. [kg]
        gravity_m_s2 : float or array - local gravity. [m/s2]
        factor : float or array - drawn, about 1. [-]
    Returns
        friction : array - against sliding. [N]
    Source
        our guess; pull the pack with a scale instead.
    """
    weight = np.asarray(pack_kg, dtype=np.float64) * gravity_m_s2
    return np.asarray(FRICTION_WEIGHTS * weight * factor)


def weakest_cord_n(strength_n: float, leader_length_m: float, leader_strength_n: float) -> float:
    """Breaking force of the weaker length of a cord, straight; a leader counts where there is one.

    Parameters
        strength_n : float - of the cord. [N]
        leader_length_m : float - 0 = none. [m]
        leader_strength_n : float - 0 = none. [N]
    Returns
        strength : float - of the weaker. [N]
    Source
        Statics: in series both carry the load.
    """
    has_leader = leader_length_m > 0.0 and leader_strength_n > 0.0
    return min(strength_n, leader_strength_n) if has_leader else strength_n


def climb_angle_rad(speed_m_s: Values, climb_m_s: Values) -> Array:
    """Angle of the path above the horizontal: asin(w / v), 0 when it stands still.

    Parameters
        speed_m_s : float or array - air speed v; below 0.1 m/s counts as standing. [m/s]
        climb_m_s : float or array - vertical speed w. [m/s]
    Returns
        angle : array - up positive. [rad]
    Source
        Geometry.
    """
    speed, climb = np.asarray(speed_m_s, dtype=np.float64), np.asarray(climb_m_s)
    ratio = np.divide(climb, speed, out=np.zeros(np.shape(speed)), where=speed > 0.1)
    return np.asarray(np.arcsin(np.clip(ratio, -1.0, 1.0)))
