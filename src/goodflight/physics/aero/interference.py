"""How body and fins strengthen each other's lift.

Answers: a fin on a body lifts more than the same fin alone, and puts lift on the body too; how
much? Slender-body closed forms. Main source: Pitts, Nielsen & Kaattari, NACA Report 1307.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)


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


def carry_over_spread(body_radius_m: float, span_m: float) -> float:
    """Where swept fins' lift on the body acts, as a share of the exposed semi-span, lifting line.

    Images in the body of a lifting line with an elliptical load: each lies as far aft as the piece
    of the line it mirrors. The integral of u sqrt(1 - u^2) / (u + a)^2 over that without u, from
    0 to 1, a = radius over exposed semi-span, in closed form with k = a / (1 + a).

    Parameters
        body_radius_m : float - r. [m]
        span_m : float - exposed semi-span. [m]
    Returns
        share : float - 0 to 0.33 for bodies up to half the whole span. [-]
    Validity
        Bodies up to 0.49 of the whole span, held beyond.
    Source
        [pitts1957], [datcom1978] 4.3.2.2 (memory); the closed form equals the integral, derived.
    Example
        carry_over_spread(0.33, 0.67) -> 0.277
    """
    k = min(body_radius_m / (body_radius_m + span_m), 0.49)
    if k <= 1e-6:
        return 0.0
    root, pi = np.sqrt(1.0 - 2.0 * k), np.pi
    log = np.log((1.0 - k + root) / k)
    above = root * log - (1.0 - k) + 0.5 * pi * k
    below = k * (1.0 - k) / root * log + (1.0 - k) ** 2 / k - 0.5 * pi * (1.0 - k)
    return float(above / below - k / (1.0 - k))


def carry_over_slender(tau: float) -> float:
    """Where slender fins' lift on the body acts, as a share of the leading edge's sweep distance.

    The body's share of the lift gathered up to a local semi-span s goes as (s - r)^2 K_B(W)(s / r),
    and nothing is added behind the greatest span: 1 less the mean of the gathered share.

    Parameters
        tau : float - greatest semi-span from the axis over body radius. [-]
    Returns
        share : float - 1/2 (no body) to 2/3 (no fin), aft of the root's leading edge. [-]
    Validity
        Slender fins, straight leading edge.
    Source
        [pitts1957] eq 21, read along the fin; derived.
    Example
        carry_over_slender(3.0) -> 0.56
    """
    u = 0.5 * (1.0 + _NODES)
    gathered = u**2 * body_by_fin(1.0 + u * (tau - 1.0)) / body_by_fin(tau)
    return float(1.0 - 0.5 * np.sum(_WEIGHTS * gathered))
