"""Rigid-body rotation: Euler's equations and the attitude quaternion.

The quaternion (w, x, y, z) turns body axes into world axes. Classical mechanics.
"""

import math
from typing import Any

from goodflight.physics.flight.compiled import compiled, compiled_inside


@compiled_inside
def rotation_rates(
    mx: float, my: float, mz: float, p: float, q: float, r: float, ix: float, iy: float, iz: float
) -> tuple[float, float, float]:
    """Angular accelerations of a body about its principal axes (Euler's equations).

    Moments in N m, rates in rad/s, inertias in kg m2; returns rad/s2 about body x, y, z.
    """
    return (
        (mx + (iy - iz) * q * r) / ix,
        (my + (iz - ix) * r * p) / iy,
        (mz + (ix - iy) * p * q) / iz,
    )


@compiled_inside
def quaternion_rates(
    w: float, x: float, y: float, z: float, p: float, q: float, r: float
) -> tuple[float, float, float, float]:
    """Rate of the body-to-world quaternion for body rates p, q, r in rad/s."""
    return (
        -0.5 * (x * p + y * q + z * r),
        0.5 * (w * p + y * r - z * q),
        0.5 * (w * q + z * p - x * r),
        0.5 * (w * r + x * q - y * p),
    )


@compiled_inside
def body_axes(
    w: float, x: float, y: float, z: float
) -> tuple[float, float, float, float, float, float, float, float, float]:
    """World components of the body axes x, y, z, one after the other."""
    return (
        1.0 - 2.0 * (y * y + z * z),
        2.0 * (x * y + w * z),
        2.0 * (x * z - w * y),
        2.0 * (x * y - w * z),
        1.0 - 2.0 * (x * x + z * z),
        2.0 * (y * z + w * x),
        2.0 * (x * z + w * y),
        2.0 * (y * z - w * x),
        1.0 - 2.0 * (x * x + y * y),
    )


@compiled
def set_attitude(w: Any, at: int, dx: float, dy: float, dz: float) -> None:
    """Write into the state at a place the least rotation that turns body x to the unit vector d."""
    norm = math.sqrt((1.0 + dx) ** 2 + dz * dz + dy * dy)
    w[at + 6] = (1.0 + dx) / norm
    w[at + 7] = 0.0
    w[at + 8] = -dz / norm
    w[at + 9] = dy / norm


@compiled_inside
def normalise_attitude(w: Any, at: int) -> None:
    """Scale the attitude of the state at a place of the record back to unit length."""
    inverse = 1.0 / math.sqrt(w[at + 6] ** 2 + w[at + 7] ** 2 + w[at + 8] ** 2 + w[at + 9] ** 2)
    for i in range(at + 6, at + 10):
        w[i] *= inverse
