"""What pulls a separation open before it should, what holds it, and the window between.

In the coast the heavier-dragged part lags and pulls; air trapped at pad pressure pushes as the
rocket climbs. Friction or nylon pins hold; the charge must still win. Left out: bending of the
joint in flight, swelling with moisture.
"""

from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import INCH_M, STANDARD_GRAVITY_M_S2

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

JERK: Final = 1.5  # handling over the still weight; our guess
SAFE: Final = 1.5  # on both ends of the window: charge at 1.5 to 2 times the hold, practice
OVERHANG_M: Final = (0.006, 0.013)  # clips: 6 to 13 mm of motor out; common practice, no source
MIN_SECTION_KG: Final = 1e-3  # of a mass that something is divided by
NYLON_SHEAR_PA: Final = 54e6  # nylon fastener data sheet, seen
# thread -> diameter at the root of the thread [m]; unified thread tables, memory
PIN_ROOTS_M: Final[dict[str, float]] = {
    "#2-56": 0.0641 * INCH_M,
    "#4-40": 0.0813 * INCH_M,
    "#6-32": 0.0997 * INCH_M,
}


def pin_force_n(thread: str, count: int, shear_pa: float = NYLON_SHEAR_PA) -> float:
    """Force that shears the nylon pins of a separation.

    F = count x shear strength x root area, each pin cut once.

    Parameters
        thread : str - "#2-56", "#4-40" or "#6-32". [-]
        count : int - pins in the separation. [-]
        shear_pa : float - shear strength of the nylon. [Pa]
    Returns
        force : float - to shear them all. [N]
    Raises
        ValueError - thread not in the list
    Validity
        Sharp edges close together; hobby tests scatter by a fifth, cut-off edges of cardboard
        raise it. Nylon gets tougher when moist, brittle in the cold.
    Source
        Shear strength: fastener data sheet, seen; root diameters: memory.
    Example
        >>> round(pin_force_n("#2-56", 2))
        225
    """
    if thread not in PIN_ROOTS_M:
        raise ValueError(
            f"pin thread '{thread}' is not known; allowed are {', '.join(PIN_ROOTS_M)}."
        )
    return count * shear_pa * pi / 4.0 * PIN_ROOTS_M[thread] ** 2


def drag_separation_n(
    fore_kg: Values, aft_kg: Values, fore_drag_n: Values, aft_drag_n: Values
) -> Array:
    """Pull in a separation while coasting, from unequal drag to mass.

    Both parts slow down together: T = (m_f D_a - m_a D_f)/(m_f + m_a); gravity cancels.

    Parameters
        fore_kg : float or array - mass ahead of the separation. [kg]
        aft_kg : float or array - mass behind it, motor case included. [kg]
        fore_drag_n : float or array - drag of the forward part. [N]
        aft_drag_n : float or array - drag of the aft part, fins and base included. [N]
    Returns
        pull : array - above zero opens the separation, below zero closes it. [N]
    Raises
        nothing
    Validity
        Rigid parts, no spin; greatest just after burnout.
    Source
        Force balance; derived.
    Example
        >>> round(float(drag_separation_n(0.6, 1.0, 12.0, 48.0)), 9)
        10.5
    """
    fore, aft = np.asarray(fore_kg, dtype=np.float64), np.asarray(aft_kg, dtype=np.float64)
    return np.asarray((fore * aft_drag_n - aft * fore_drag_n) / (fore + aft))


def trapped_air_n(sealed_pa: Values, outside_pa: Values, bore_m: Values) -> Array:
    """Push of air sealed into a bay at the pad when the air outside has thinned.

    F = (p_sealed - p_outside) pi/4 D^2.

    Parameters
        sealed_pa : float or array - pressure when the bay was closed. [Pa]
        outside_pa : float or array - pressure at the height. [Pa]
        bore_m : float or array - of the separation. [m]
    Returns
        force : array - above zero opens the separation. [N]
    Raises
        nothing
    Validity
        A tight bay at even temperature; sun on a closed bay adds 0.3 kPa per kelvin.
    Source
        Definition.
    Example
        >>> round(float(trapped_air_n(101325.0, 89875.0, 0.066)))
        39
    """
    area = pi / 4.0 * np.asarray(bore_m, dtype=np.float64) ** 2
    return np.asarray((np.asarray(sealed_pa) - outside_pa) * area)


@dataclass(frozen=True, eq=False)
class SeparationWindow:
    """Least and most pull that a separation may need to come apart, one entry per flight."""

    min_n: Array
    max_n: Array

    @property
    def open(self) -> NDArray[np.bool_]:
        """Where there is any right pull at all."""
        return np.asarray(self.min_n < self.max_n)


def separation_window(
    drag_pull_n: Values,
    air_push_n: Values,
    hanging_kg: Values,
    charge_push_n: Values,
    *,
    hold_factor: float = SAFE,
    charge_factor: float = SAFE,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> SeparationWindow:
    """The pull force a separation should need, to be set with tape and a luggage scale.

    Least: what tries to open it too early (drag and trapped air together, or the weight of the
    part that hangs from it when carried), times a factor. Most: what the charge can push over a
    factor.

    Parameters
        drag_pull_n : float or array - greatest drag separation pull. [N]
        air_push_n : float or array - trapped air at the top, 0 if vented. [N]
        hanging_kg : float or array - part that hangs from the separation in handling. [kg]
        charge_push_n : float or array - push of the charge with heat loss and leak. [N]
        hold_factor : float - on the least pull. [-]
        charge_factor : float - on the most. [-]
        gravity_m_s2 : float - local gravity. [m/s2]
    Returns
        window : SeparationWindow - least and most pull, arrays. [N]
    Raises
        nothing
    Validity
        least above most means there is no right pull: vent the bay, change the charge.
    Source
        Charge at 1.5 to 2 times pins and friction; joint holds the hanging part: common practice,
        no source.
    Example
        >>> window = separation_window(10.0, 0.0, 1.1, 300.0)
        >>> round(float(window.min_n), 1), round(float(window.max_n), 1)
        (16.2, 200.0)
    """
    flight = np.maximum(np.asarray(drag_pull_n, dtype=np.float64) + air_push_n, 0.0)
    carried = np.asarray(hanging_kg, dtype=np.float64) * gravity_m_s2
    least = hold_factor * np.maximum(flight, carried)
    most = np.asarray(charge_push_n, dtype=np.float64) / charge_factor
    shape = np.broadcast_shapes(least.shape, most.shape)
    return SeparationWindow(np.broadcast_to(least, shape), np.broadcast_to(most, shape))


def coast_pull_n(fore_kg: Values, aft_kg: Values, drag_n: Values, share_ahead: Values) -> Array:
    """Pull that parts a coasting rocket, from its whole drag and the share ahead of the separation.

    See drag_separation_n, with D_f = share x D and D_a = (1 - share) D.

    Parameters
        fore_kg : float or array - mass ahead of the separation, loose gear with it. [kg]
        aft_kg : float or array - mass behind it, motor case included. [kg]
        drag_n : float or array - of the whole rocket D. [N]
        share_ahead : float or array - of the drag that acts ahead of the separation. [-]
    Returns
        pull : array - above zero opens the separation. [N]
    Raises
        nothing
    Validity
        As drag_separation_n.
    Source
        Force balance; derived.
    Example
        >>> round(float(coast_pull_n(0.6, 1.0, 60.0, 0.2)), 9)
        10.5
    """
    aft = np.maximum(np.asarray(aft_kg, dtype=np.float64), MIN_SECTION_KG)
    share, drag = np.asarray(share_ahead), np.asarray(drag_n)
    return drag_separation_n(fore_kg, aft, share * drag, (1.0 - share) * drag)


def closing_joint_pull_n(push_n: Values, hold_n: Values, tip_kg: Values, fore_kg: Values) -> Array:
    """Pull in the joint of the nose where the gas of the charge stands on the nose itself.

    The gas pushes the tip forward, the tube behind it is drawn along through the joint and is
    held back by the separation: T = P - tip / fore x (P - H), or P while H holds. Where
    a bulkhead behind the nose takes the gas, the push presses the nose's joint shut instead.

    Parameters
        push_n : float or array - of the charge on the nose P. [N]
        hold_n : float or array - pull that the separation holds H. [N]
        tip_kg : float or array - mass ahead of the joint. [kg]
        fore_kg : float or array - mass ahead of the separation, tip included. [kg]
    Returns
        pull : array - opens the joint. [N]
    Raises
        nothing
    Validity
        Rigid parts; friction of the gas on the tube left out.
    Source
        Newton; derived.
    Example
        >>> round(float(closing_joint_pull_n(300.0, 60.0, 0.2, 0.6)), 9)
        220.0
    """
    share = np.asarray(tip_kg, dtype=np.float64) / np.maximum(fore_kg, MIN_SECTION_KG)
    push = np.asarray(push_n, dtype=np.float64)
    moves = np.maximum(push - hold_n, 0.0)
    return np.asarray(push - np.minimum(share, 1.0) * moves)


def anchor_loads_n(
    opening_n: Array, snatch_n: Array, fore_kg: Array, aft_kg: Array
) -> tuple[Array, Array]:
    """Load of the anchors at both ends of a cord whose canopy opens between them.

    The canopy slows both bodies alike, so each anchor takes the share of its body's mass; the
    snatch of two bodies that fly apart pulls at both in full. The greater counts.

    Parameters
        opening_n : array (n,) - force of the opening canopy. [N]
        snatch_n : array (n,) - pull of the cord that snaps taut. [N]
        fore_kg : array (n,) - body ahead. [kg]
        aft_kg : array (n,) - body behind. [kg]
    Returns
        loads : tuple of arrays (n,) - forward and aft anchor. [N]
    Validity
        Both hang on the canopy when it opens.
    Source
        Equation of motion; derived.
    Example
        >>> [float(each) for each in anchor_loads_n(100.0, 30.0, 1.0, 3.0)]
        [30.0, 75.0]
    """
    share = fore_kg / np.maximum(fore_kg + aft_kg, MIN_SECTION_KG)
    return np.fmax(opening_n * share, snatch_n), np.fmax(opening_n * (1.0 - share), snatch_n)


def jerk_share_n(pull_n: Values, ahead_kg: Values, part_kg: Values) -> Array:
    """Pull in a separation as a cord behind it stops the part of the rocket that it belongs to.

    The mass ahead m_a slows down with the whole part m: T = F m_a / m.

    Parameters
        pull_n : float or array - of the cord on the part F. [N]
        ahead_kg : float or array - ahead of the separation, loose gear that slides on with it. [kg]
        part_kg : float or array - of the whole part. [kg]
    Returns
        pull : array - opens the separation. [N]
    Raises
        nothing
    Validity
        Rigid parts, the cord behind the separation and along the axis.
    Source
        Newton; derived.
    Example
        >>> float(jerk_share_n(600.0, 0.4, 1.2))
        200.0
    """
    part = np.maximum(np.asarray(part_kg, dtype=np.float64), MIN_SECTION_KG)
    return np.asarray(pull_n * np.minimum(np.asarray(ahead_kg) / part, 1.0))


def handling_pull_n(hanging_kg: Values, gravity_m_s2: Values, jerk_error: Values = 0.0) -> Array:
    """Pull on a separation when the rocket is lifted by its nose.

    m g (JERK + error), at least its still weight.

    Parameters
        hanging_kg : float or array - what hangs from the separation m. [kg]
        gravity_m_s2 : float or array - local gravity g. [m/s2]
        jerk_error : float or array - drawn, about zero. [-]
    Returns
        pull : array - opens the separation. [N]
    Raises
        nothing
    Validity
        Handled by people, not dropped.
    Source
        Our guess.
    Example
        >>> float(handling_pull_n(1.0, 10.0))
        15.0
    """
    jerk = np.maximum(JERK + np.asarray(jerk_error, dtype=np.float64), 1.0)
    return np.asarray(hanging_kg * np.asarray(gravity_m_s2) * jerk)


def outside_window(window: SeparationWindow, pull_n: Values) -> Array:
    """How far a separation's pull uses up its window: above 1 it lies outside.

    Greater of least / pull and pull / most.

    Parameters
        window : SeparationWindow - least and most pull. [N]
        pull_n : float or array - of the separation. [N]
    Returns
        use : array - 1 at either end. [-]
    Source
        Definition.
    """
    return np.asarray(np.fmax(window.min_n / pull_n, pull_n / window.max_n))


def overhang_error_m(overhang_m: Values) -> tuple[Array, float]:
    """Distance of a motor's overhang from the middle of what clips can grip, and half the range.

    Parameters
        overhang_m : float or array - of the motor behind its tube. [m]
    Returns
        off, half : array, float - distance from the middle; what is allowed. [m]
    Source
        beside OVERHANG_M.
    """
    middle, half = 0.5 * sum(OVERHANG_M), 0.5 * (OVERHANG_M[1] - OVERHANG_M[0])
    return np.abs(np.asarray(overhang_m, dtype=np.float64) - middle), half
