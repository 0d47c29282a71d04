"""The ejection charge: gas, pressure, leak, and the work it does on the separation.

Black powder in a closed room makes hot gas; the cold tube takes heat, gaps let gas out, and a
ground test decides. The tool does not replace that test, the motor maker's sheet or the rules for
handling powder. Left out: flame spread in large bays, wet or loosely packed powder.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import SEA_LEVEL_PRESSURE_PA

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# gas work per mass of powder, p V = m f
TRADE_IMPETUS_J_KG: Final = 119.26 * 1837.2  # 266 in lbf/(lbm R) x 3307 R; hobby page, seen
# middle of 0.6 and 1.14 of the trade's gas work; 0.6: a small charge in a cold bay, our guess
HEAT_MIDDLE: Final = 0.87
BURN_S: Final = 0.015  # 0.005 to 0.03; middle
GAS_SHARE: Final = 0.5  # of the way from the cloth's solid to its pressed volume
MIN_ROOM: Final = 0.02  # of the bay that is left for the gas, however full
GAS_INDEX: Final = 1.2  # expansion of hot powder gas; textbook range 1.15 to 1.25, memory
_CHOKED: Final = GAS_INDEX**0.5 * (2.0 / (GAS_INDEX + 1.0)) ** (
    (GAS_INDEX + 1.0) / (2.0 * (GAS_INDEX - 1.0))
)


def free_volume_m3(inner_diameter_m: Values, length_m: Values, taken_m3: Values = 0.0) -> Array:
    """Room the gas fills: the bay less what is packed in it.

    V = pi/4 D^2 L - taken.

    Parameters
        inner_diameter_m : float or array - of the bay. [m]
        length_m : float or array - between bulkhead and joint, coupler taken off. [m]
        taken_m3 : float or array - solid volume inside; for cloth between mass/1140 kg/m3 (gas
            gets in) and its packed volume (it does not). [m3]
    Returns
        volume : array - not below zero. [m3]
    Raises
        nothing
    Validity
        Zero means it does not fit: see packing.
    Source
        Geometry.
    Example
        >>> round(float(free_volume_m3(0.076, 0.40)) * 1e6)
        1815
    """
    bay = pi / 4.0 * np.asarray(inner_diameter_m, dtype=np.float64) ** 2 * length_m
    return np.asarray(np.maximum(bay - taken_m3, 0.0))


def charge_pressure_pa(
    powder_kg: Values, free_volume: Values, impetus_j_kg: Values = TRADE_IMPETUS_J_KG
) -> Array:
    """Pressure rise in the bay before the separation moves.

    p = m f / V.

    Parameters
        powder_kg : float or array - black powder. [kg]
        free_volume : float or array - room for the gas, above zero. [m3]
        impetus_j_kg : float or array - gas work per mass: trade value 219 kJ/kg, closed bomb
            250.7, small cold bays less. [J/kg]
    Returns
        pressure : array - above the air outside. [Pa]
    Raises
        nothing
    Validity
        All powder burnt, nothing leaked; up to some bar, where covolume does not matter.
    Source
        Trade constants, hobby page, seen; band from the closed bomb (Noble & Abel in Encyclopaedia
        Britannica 11th ed., seen) down to 0.6 of the trade value (our guess).
    Example
        >>> round(float(charge_pressure_pa(0.001, 0.0018)) / 1e3)
        122
    """
    return np.asarray(np.asarray(powder_kg, dtype=np.float64) * impetus_j_kg / free_volume)


def leak_share(
    free_volume: Values,
    leak_area_m2: Values,
    burn_s: Values,
    impetus_j_kg: Values = TRADE_IMPETUS_J_KG,
    discharge: Values = 0.6,
) -> Array:
    """Share of the sealed pressure that is reached with vents and gaps open.

    Gas comes evenly over the burn and leaves through choked openings with time constant
    tau = V / (Cd A sqrt(f) G): share = (tau/tb) (1 - exp(-tb/tau)).

    Parameters
        free_volume : float or array - room for the gas. [m3]
        leak_area_m2 : float or array - vents and gaps together. [m2]
        burn_s : float or array - time the charge burns, 0.005 to 0.03. [s]
        impetus_j_kg : float or array - sqrt of it sets the gas's outflow. [J/kg]
        discharge : float or array - of the openings. [-]
    Returns
        share : array - 0 to 1. [-]
    Raises
        nothing
    Validity
        Choked flow all the time leaks up to a fifth too much at low pressure: safe side for
        "does it open", not for "too strong".
    Source
        Mass balance of a filled room; derived. G for an index of 1.2.
    Example
        >>> round(float(leak_share(0.0018, 7e-6, 0.01)), 3)
        0.996
    """
    rate = np.asarray(discharge, dtype=np.float64) * leak_area_m2 * np.sqrt(impetus_j_kg) * _CHOKED
    x = np.asarray(burn_s) * rate / free_volume  # tb / tau
    small = x < 1e-9
    return np.asarray(np.where(small, 1.0, -np.expm1(-x) / np.where(small, 1.0, x)))


def separation_push_n(pressure_pa: Values, bore_m: Values) -> Array:
    """Force of the pressure on the separation (bore of the bay) or on the motor (its tube).

    F = p pi/4 D^2.

    Parameters
        pressure_pa : float or array - rise over outside. [Pa]
        bore_m : float or array - diameter the pressure acts on. [m]
    Returns
        force : array - push. [N]
    Raises
        nothing
    Validity
        Still pressure.
    Source
        Definition.
    Example
        >>> round(float(separation_push_n(100e3, 0.076)))
        454
    """
    return np.asarray(
        np.asarray(pressure_pa, dtype=np.float64) * pi / 4.0 * np.asarray(bore_m) ** 2
    )


def gas_work_j(
    pressure_pa: Values,
    free_volume: Values,
    bore_m: Values,
    stroke_m: Values,
    hold_n: Values = 0.0,
    outside_pa: Values = SEA_LEVEL_PRESSURE_PA,
) -> Array:
    """Energy given to the two bodies while the separation slides open.

    Gas at outside + p expands from V to V + A s with p V^n constant, n = 1.2; the air outside is
    pushed back and the separation's hold takes its part over the stroke:
    E = p0 V (1 - (V/V1)^(n-1))/(n-1) - (p_out A + F) s.

    Parameters
        pressure_pa : float or array - rise before it moves. [Pa]
        free_volume : float or array - before it moves. [m3]
        bore_m : float or array - of the separation. [m]
        stroke_m : float or array - length of the separation. [m]
        hold_n : float or array - friction, mean over the stroke. [N]
        outside_pa : float or array - air outside. [Pa]
    Returns
        energy : array - negative when the separation does not come apart. [J]
    Raises
        nothing
    Validity
        No leak, no heat lost during the stroke: upper bound; a separation whose hold is above
        separation_push_n does not start at all.
    Source
        Polytropic expansion; derived.
    Example
        >>> round(float(gas_work_j(100e3, 0.0018, 0.076, 0.075, 60.0)), 1)
        22.7
    """
    area = pi / 4.0 * np.asarray(bore_m, dtype=np.float64) ** 2
    absolute = np.asarray(pressure_pa) + outside_pa
    ratio = np.asarray(free_volume) / (np.asarray(free_volume) + area * stroke_m)
    work = absolute * free_volume * (1.0 - ratio ** (GAS_INDEX - 1.0)) / (GAS_INDEX - 1.0)
    return np.asarray(work - (area * outside_pa + hold_n) * stroke_m)


def opening_work_j(mean_push_n: Values, hold_n: Values, engaged_m: Values) -> Array:
    """Work that is left for the two bodies: mean push less hold, over the separation's length [J].

    Parameters
        mean_push_n : float or array - of the gas over the stroke. [N]
        hold_n : float or array - what keeps it shut. [N]
        engaged_m : float or array - length of the separation. [m]
    Returns
        work : array - negative when it does not come apart. [J]
    Source
        Mechanics; derived.
    Example
        >>> float(opening_work_j(300.0, 100.0, 0.05))
        10.0
    """
    return np.asarray((np.asarray(mean_push_n) - hold_n) * engaged_m)


def gas_room_m3(
    room_m3: Values, solid_m3: Values, pressed: float, into_pack: Values = 0.0
) -> Array:
    """Room that the charge's gas fills between and inside the packed cloth.

    V - solid (1 + share (pressed - 1)), share = GAS_SHARE + error held to 0 to 1: the gas fills the
    cloth (0), or presses it to `pressed` times its solid volume (1).

    Parameters
        room_m3 : float or array - of the closed bay V. [m3]
        solid_m3 : float or array - material packed in it, without air. [m3]
        pressed : float - volume of pressed cloth over its solid volume. [-]
        into_pack : float or array - drawn error of the share. [-]
    Returns
        room : array - at least 2 % of the bay. [m3]
    Raises
        nothing
    Validity
        Order of a tenth; a ground test decides.
    Source
        Our guess between two bounds.
    Example
        >>> float(gas_room_m3(0.002, 0.0002, 3.0))
        0.0016
    """
    share = np.clip(GAS_SHARE + np.asarray(into_pack, dtype=np.float64), 0.0, 1.0)
    taken = np.asarray(solid_m3) * (1.0 + share * (pressed - 1.0))
    return np.maximum(room_m3 - taken, MIN_ROOM * np.asarray(room_m3))


def gap_area_m2(bore_m: Values, clearance_m: Values) -> Array:
    """Area of the ring-shaped gap of a separation: pi D clearance / 2 [m2].

    Parameters
        bore_m : float or array - of the separation D. [m]
        clearance_m : float or array - on the diameter. [m]
    Returns
        area : array - gas leaks through it. [m2]
    Source
        Geometry.
    """
    return np.asarray(pi * np.asarray(bore_m) * np.asarray(clearance_m, dtype=np.float64) / 2.0)


def motor_head_m3(inner_diameter_m: float, length_m: float) -> float:
    """Room in the motor tube ahead of the motor, where the charge's gas starts [m3].

    Parameters
        inner_diameter_m : float - of the motor tube. [m]
        length_m : float - of the tube ahead of the motor; below zero counts as none. [m]
    Returns
        room : float - for the gas. [m3]
    Source
        Geometry.
    """
    return max(length_m, 0.0) * pi / 4.0 * inner_diameter_m**2


def drawn_impetus_j_kg(heat: Values) -> Array:
    """Gas work per mass of powder in a small cold bay: HEAT_MIDDLE of the trade's, times a factor.

    Parameters
        heat : float or array - drawn, about 1. [-]
    Returns
        impetus : array - p V per mass. [J/kg]
    Source
        beside HEAT_MIDDLE and TRADE_IMPETUS_J_KG.
    """
    return np.asarray(HEAT_MIDDLE * TRADE_IMPETUS_J_KG * np.asarray(heat, dtype=np.float64))
