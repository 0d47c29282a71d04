"""What the cants of single fins do together: turn the rocket, and push it sideways."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def cants_together(angles_rad: Array, cants_rad: Sequence[Array]) -> tuple[Array, Array, Array]:
    """Mean cant that rolls the rocket, and the means that push along its two side axes.

    Roll sum(c) / n; y sum(-sin(a) c) / n, z sum(cos(a) c) / n: a fin that points along y pushes
    along z, and the other way round.

    Parameters
        angles_rad : array (n,) - of every fin about the axis, from y towards z. [rad]
        cants_rad : sequence of arrays - of every fin, one entry a flight. [rad]
    Returns
        roll, y, z : arrays - one entry a flight. [rad]
    Raises
        nothing
    Validity
        Small cants; equal fins.
    Source
        Sum over the fins; derived.
    Example
        >>> cants_together(np.array([0.0, np.pi]), [np.array([0.02]), np.array([0.01])])[0]
        array([0.015])
    """
    count, zero = len(cants_rad), np.zeros_like(cants_rad[0])
    y = sum((-np.sin(a) * c for a, c in zip(angles_rad, cants_rad)), zero) / count
    z = sum((np.cos(a) * c for a, c in zip(angles_rad, cants_rad)), zero) / count
    return sum(cants_rad, zero) / count, y, z
