"""Skin friction of a smooth or rough surface, with compressibility.

Answers: how much of the drag is rubbing, and how much of that is the finish? The surface is taken
turbulent from the front, because joints, guides and paint edges trip the flow; a laminar front
part can be asked for. Main sources: Prandtl-Schlichting; USAF DATCOM roughness cut-off.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.curves import ROUGHNESS_EXPONENT

Array = NDArray[np.float64]
MIN_REYNOLDS: Final = 1e4  # below it the flow is slow enough not to matter


def turbulent_friction(reynolds: ArrayLike, mach: ArrayLike) -> Array:
    """Mean friction coefficient of a turbulent flat plate, on its wetted area.

    0.455 / (log10 Re)^2.58 / (1 + 0.144 M^2)^0.58.

    Parameters
        reynolds : float or array - on the plate's length. [-]
        mach : float or array - Mach number. [-]
    Returns
        coefficient : array - Cf. [-]
    Validity
        Re 5e5 to 1e9, Mach 0 to 3, insulated wall; within 2 % of the DATCOM figure to Mach 1.5.
    Source
        [schlichting1979] (memory); Mach factor of the form of [raymer1992] eq 12.27 with the
        exponent fitted here to [datcom1978] fig 4.1.5.1-26 (0.65 there is 2.5 % low at Mach 1.5).
    Example
        turbulent_friction(1e7, 0.0) -> 0.00300
    """
    re = np.maximum(np.asarray(reynolds, dtype=np.float64), MIN_REYNOLDS)
    m = np.asarray(mach, dtype=np.float64)
    return np.asarray(0.455 / np.log10(re) ** 2.58 / (1.0 + 0.144 * m * m) ** 0.58)


def cutoff_reynolds(length_over_roughness: ArrayLike, mach: ArrayLike) -> Array:
    """Reynolds number beyond which a rough surface gains nothing from more speed.

    Re_cut = (l / k)^1.0482 x 10^C(M).

    Parameters
        length_over_roughness : float or array - l / k, k equivalent sand grain. [-]
        mach : float or array - Mach number. [-]
    Returns
        reynolds : array - use the smaller of this and the flow's. [-]
    Validity
        Mach 0 to 3.
    Source
        [datcom1978] fig 4.1.5.1-27.
    Example
        cutoff_reynolds(6.26 * 12 / 0.16e-3, 0.6) -> 3.797e7
    """
    ratio = np.asarray(length_over_roughness, dtype=np.float64)
    return np.asarray(ratio**1.0482 * 10.0 ** ROUGHNESS_EXPONENT(mach))


def friction_coefficient(
    reynolds: ArrayLike,
    mach: ArrayLike,
    length_over_roughness: float = np.inf,
    transition_reynolds: float = 0.0,
) -> Array:
    """Mean friction coefficient of a surface as it is, on its wetted area.

    Turbulent value at the smaller of flow and cut-off Reynolds number. With a laminar front part:
    less Re_t / Re times what the turbulent plate up to the transition has more than the laminar
    one, 1.328 / sqrt(Re).

    Parameters
        reynolds : float or array - on the surface's length. [-]
        mach : float or array - Mach number. [-]
        length_over_roughness : float - l / k; infinity is smooth. [-]
        transition_reynolds : float - 0 turbulent from the front; 5e5 a clean smooth front. [-]
    Returns
        coefficient : array - Cf. [-]
    Validity
        As its parts; the laminar part only for finishes that stay smooth to the touch.
    Source
        [datcom1978] section 4.1.5.1; Prandtl's transition rule [schlichting1979] (memory).
    Example
        friction_coefficient(2.68e7, 0.6, 4.7e5) -> 0.00249
    """
    re = np.maximum(np.asarray(reynolds, dtype=np.float64), MIN_REYNOLDS)
    used = re
    if np.isfinite(length_over_roughness):
        used = np.minimum(re, cutoff_reynolds(length_over_roughness, mach))
    cf = turbulent_friction(used, mach)
    if transition_reynolds <= 0.0:
        return cf
    front = np.minimum(re, transition_reynolds)
    gain = turbulent_friction(front, mach) - 1.328 / np.sqrt(front)
    return np.asarray(np.maximum(cf - front / re * gain, 0.0))
