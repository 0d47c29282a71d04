"""Nose and booster on one cord: how they hang below the canopy, and how fast the cord throws them.

Answers whether the nose can swing against the fins once both hang, and how fast they come together
when the cord, snapped tight, shortens again. Left out: whether they then meet, which hangs on a
few degrees of the way they fly.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = Array | float
Span = tuple[Values, Values]


def fins_clear_m(nose: Span, fins: Span) -> Array:
    """Height between the nose and the fins as both hang; negative where they hang side by side.

    Parameters
        nose : (top, bottom) - of the forward part below where the canopy is tied in. [m]
        fins : (top, bottom) - of the booster from the front of its fins to its tail, so. [m]
    Returns
        clear : array - the nearer end to end. [m]
    Raises
        nothing
    Validity
        Cords straight; a nose that hangs beside the tube ahead of the fins counts as clear.
    Source
        Geometry.
    Example
        >>> float(fins_clear_m((2.0, 2.5), (3.5, 4.0)))
        1.0
    """
    return np.maximum(np.subtract(fins[0], nose[1]), np.subtract(nose[0], fins[1]))


def rebound_m_s(
    pull_n: Array, stiffness_n_m: Array, one_kg: Array, other_kg: Array, damping: Array
) -> Array:
    """Speed at which two masses come together once the cord between them has thrown them back.

    From its greatest stretch, at a pull of F, a cord with the share z of critical damping is slack
    again at v = F / sqrt(k m) exp(-z acos(z) / sqrt(1 - z^2)); 1/m = 1/m1 + 1/m2.

    Parameters
        pull_n : array (n,) - greatest pull as it snaps tight. [N]
        stiffness_n_m : array (n,) - of the whole cord. [N/m]
        one_kg : array (n,) - nose. [kg]
        other_kg : array (n,) - booster. [kg]
        damping : array (n,) - of critical. [-]
    Returns
        speed : array (n,) - of approach. [m/s]
    Raises
        nothing
    Validity
        Damping below critical; the pack between them is light beside both.
    Source
        Damped oscillator, textbook; derived.
    Example
        >>> one = np.ones(1)
        >>> rebound_m_s(400.0 * one, 1600.0 * one, 0.5 * one, 0.5 * one, 0.0 * one).tolist()
        [20.0]
    """
    light = 1.0 / one_kg + 1.0 / other_kg
    shared = pull_n * np.sqrt(light / stiffness_n_m)
    lost = damping * np.arccos(damping) / np.sqrt(1.0 - damping**2)
    return np.asarray(shared * np.exp(-lost))
