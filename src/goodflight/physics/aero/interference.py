"""How body and fins strengthen each other's lift.

Answers: a fin on a body lifts more than the same fin alone, and puts lift on the body too; how
much? Slender-body closed forms. Main source: Pitts, Nielsen & Kaattari, NACA Report 1307.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def fin_on_body(tau: ArrayLike) -> NDArray[np.float64]:
    """Lift of exposed fins on a body at incidence over that of the fins joined alone, K_W(B).

    Closed form of slender-body theory in tau = semi-span from the axis over body radius.

    Parameters
        tau : float or array - s / r, above 1. [-]
    Returns
        factor : array - K_W(B), 1 (no body) to 2 (no fin). [-]
    Validity
        Slender; used for every aspect ratio and Mach number here, as the report advises.
    Source
        [pitts1957] eq 16 (r/s there is 1/tau here).
    Example
        fin_on_body(5.0) -> 1.1616
    """
    t = np.maximum(np.asarray(tau, dtype=np.float64), 1.0 + 1e-6)
    first = (1.0 + t**-4) * (0.5 * np.arctan(0.5 * (t - 1.0 / t)) + np.pi / 4.0)
    second = t**-2 * ((t - 1.0 / t) + 2.0 * np.arctan(1.0 / t))
    return np.asarray(2.0 / np.pi * (first - second) / (1.0 - 1.0 / t) ** 2)


def body_by_fin(tau: ArrayLike) -> NDArray[np.float64]:
    """Lift carried over from the fins to the body, over that of the fins joined alone, K_B(W).

    K_W(B) + K_B(W) = (1 + 1 / tau)^2.

    Parameters
        tau : float or array - s / r, above 1. [-]
    Returns
        factor : array - K_B(W), 0 to 2. [-]
    Validity
        Subsonic, and supersonic while beta AR is small (below Mach 1.5 for usual fins); with the
        body ending at the fins some of it is lost at higher Mach numbers.
    Source
        [pitts1957] eq 21.
    Example
        body_by_fin(5.0) -> 0.2784
    """
    t = np.maximum(np.asarray(tau, dtype=np.float64), 1.0 + 1e-6)
    return np.asarray((1.0 + 1.0 / t) ** 2 - fin_on_body(t))
