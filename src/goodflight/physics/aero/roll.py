"""Rolling moments of crooked and of spinning fins.

Answers: how fast does a small cant spin the rocket? Strips with the fin's own finite-span slope,
reduced by what the slender-body solution of N fins on a round body says a strip overstates: the
tip carries less than its share when the load is twisted. Strips with a section slope of 2 pi would
more than double the damping. Main source: Adams & Dugan, NACA Report 1088; own solution of the
cross-flow problem (design/fin_roll_slender.py).
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.body import BLEND, subsonic_mach, supersonic_mach
from goodflight.physics.aero.curves import Surface, smoothstep
from goodflight.physics.aero.geometry import FinShape

Array = NDArray[np.float64]

_COUNTS: Final = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
_RADII: Final = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)  # body radius over semi-span s
# apparent moment of inertia of N fins over rho s^4; pi/8 and 2/pi exact for 2 and 4 without body
SLENDER_DAMPING: Final = Surface(
    _COUNTS,
    _RADII,
    (
        (0.3927, 0.4034, 0.4185, 0.4189, 0.3944, 0.3427, 0.2682, 0.1807, 0.0946),
        (0.5280, 0.5325, 0.5458, 0.5524, 0.5337, 0.4779, 0.3844, 0.2646, 0.1404),
        (0.6366, 0.6383, 0.6465, 0.6531, 0.6393, 0.5862, 0.4844, 0.3417, 0.1847),
        (0.7253, 0.7259, 0.7301, 0.7339, 0.7217, 0.6722, 0.5687, 0.4113, 0.2270),
        (0.7989, 0.7992, 0.8008, 0.8013, 0.7884, 0.7415, 0.6391, 0.4733, 0.2670),
        (0.9139, 0.9139, 0.9132, 0.9088, 0.8922, 0.8464, 0.7476, 0.5758, 0.3397),
    ),
    "design/fin_roll_slender.py, damping",
)
# rolling moment of a common cant over rho V^2 s^3
SLENDER_CANT: Final = Surface(
    _COUNTS,
    _RADII,
    (
        (0.6667, 0.6900, 0.6971, 0.6617, 0.5835, 0.4730, 0.3454, 0.2176, 0.1067),
        (0.8660, 0.8762, 0.8853, 0.8605, 0.7849, 0.6581, 0.4946, 0.3185, 0.1585),
        (1.0170, 1.0205, 1.0236, 1.0023, 0.9333, 0.8048, 0.6227, 0.4112, 0.2084),
        (1.1351, 1.1358, 1.1330, 1.1102, 1.0451, 0.9197, 0.7302, 0.4948, 0.2561),
        (1.2300, 1.2294, 1.2226, 1.1966, 1.1325, 1.0105, 0.8193, 0.5691, 0.3013),
        (1.3729, 1.3714, 1.3604, 1.3288, 1.2625, 1.1437, 0.9551, 0.6917, 0.3832),
    ),
    "design/fin_roll_slender.py, cant",
)


def flatness(pair_slope: Array, mach: Array) -> Array:
    """How close a fin's slope is to that of an wing of infinite span: 0 slender, 1 endless.

    Slope over 2 pi / b below and 4 / beta above the speed of sound.

    Parameters
        pair_slope : array (m,) - slope of two panels joined, on their area. [1/rad]
        mach : array (m,) - Mach number. [-]
    Returns
        share : array (m,) - 0 to 1. [-]
    Validity
        Joined smoothly from Mach 0.8 to 1.2.
    Source
        Definition.
    Example
        flatness(np.array([3.14]), np.array([0.0])) -> 0.5
    """
    low = np.sqrt(1.0 - subsonic_mach(mach) ** 2) / (2.0 * np.pi)
    high = np.sqrt(supersonic_mach(mach) ** 2 - 1.0) / 4.0
    weight = smoothstep(mach, *BLEND)
    return np.asarray(np.clip(pair_slope * (low * (1.0 - weight) + high * weight), 0.0, 1.0))


def roll_factors(fins: FinShape, share: Array) -> tuple[Array, Array]:
    """What is left of strip-theory rolling moments of a fin set.

    R + (1 - R) q^1.5, R slender-body over slender strip (slope pi A / 2), q the flatness. For an
    elliptical wing without body this follows (A + 2) / (A + 4) within 0.05.

    Parameters
        fins : FinShape - the set. [-]
        share : array (m,) - flatness q. [-]
    Returns
        force : array (m,) - for the moment of a common cant. [-]
        damp : array (m,) - for the damping. [-]
    Validity
        2 to 8 fins, body radius up to 0.8 of the semi-span from the axis.
    Source
        [adams1952]; design/fin_roll_slender.py; the mixing rule is ours.
    Example
        roll_factors(fins, np.zeros(1))
    """
    s = fins.body_radius_m + fins.span_m
    ratio = fins.body_radius_m / s
    strip = fins.count * np.pi * fins.span_m**2 / 2.0
    force = float(SLENDER_CANT(fins.count, ratio)) * s**3 / (strip * fins.centroid_m)
    damp = float(SLENDER_DAMPING(fins.count, ratio)) * s**4 / (strip * fins.radius2_m2)
    force, damp = min(force, 1.0), min(damp, 1.0)
    blend = share**1.5
    return force + (1.0 - force) * blend, damp + (1.0 - damp) * blend
