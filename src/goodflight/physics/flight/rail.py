"""Leaving the rail: both guides in the slot, then the last one alone.

With both guides engaged the rocket only slides, held back by friction on the side load. When the
forward guide has left, the aft guide's point must stay on the rail line: its two side reactions
are found so that the acceleration of that point has no part across the rail; the rocket may turn
about it, but not roll. Friction of the single guide is left out (its side load lasts milliseconds).
Rigid-body mechanics; no further source.
"""

import math
from typing import Any

from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.forces import CG, FELT, body_loads, read_all
from goodflight.physics.flight.record import NEW, WIDE
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.flight.rigid import body_axes, quaternion_rates, rotation_rates

_TILT, _AZIMUTH = PARAMETER_INDEX["rail_tilt_rad"], PARAMETER_INDEX["rail_azimuth_rad"]
_FRICTION = PARAMETER_INDEX["rail_friction"]
_AFT = PARAMETER_INDEX["guide_aft_m"]
_GRAVITY = PARAMETER_INDEX["gravity_m_s2"]


@compiled
def rail_direction(p: Any) -> tuple[float, float, float]:
    """Unit vector up the rail: east, north, up."""
    s = math.sin(p[_TILT])
    return s * math.sin(p[_AZIMUTH]), s * math.cos(p[_AZIMUTH]), math.cos(p[_TILT])


@compiled
def sliding_rates(time_s: float, w: Any, at: int, segment: int) -> None:
    """Right-hand side with both guides on the rail: sliding along it, nothing else."""
    read_all(time_s, w, at, segment)
    fx, fy, fz, _, _, _, mass, _, _ = body_loads(w, 1, 0, at)
    x1, x2, x3, _, _, y3, _, _, z3 = body_axes(w[at + 6], w[at + 7], w[at + 8], w[at + 9])
    weight = mass * w[_GRAVITY]
    side_y, side_z = fy - weight * y3, fz - weight * z3
    drag = w[_FRICTION] * math.sqrt(side_y * side_y + side_z * side_z)
    a = (fx - weight * x3 - drag) / mass
    to = NEW
    for i in range(to, to + WIDE):
        w[i] = 0.0
    w[to], w[to + 1], w[to + 2] = w[at + 3], w[at + 4], w[at + 5]
    w[to + 3], w[to + 4], w[to + 5] = a * x1, a * x2, a * x3
    w[FELT] = abs(fx - drag) / mass


@compiled
def pivot_rates(time_s: float, w: Any, at: int, segment: int) -> None:
    """Right-hand side with only the aft guide on the rail.

    The reaction at the guide, across the rail, is solved from two linear equations.
    """
    read_all(time_s, w, at, segment)
    fx, fy, fz, _, my, mz, mass, inertia, roll_inertia = body_loads(w, 1, 0, at)
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(w[at + 6], w[at + 7], w[at + 8], w[at + 9])
    weight = mass * w[_GRAVITY]
    fx, fy, fz = fx - weight * x3, fy - weight * y3, fz - weight * z3
    arm = w[CG] - w[_AFT]
    q, r = w[at + 11], w[at + 12]
    to = NEW
    # acceleration of the guide's point without reaction, body axes
    ax = fx / mass - arm * (q * q + r * r)
    ay = fy / mass + arm * mz / inertia
    az = fz / mass - arm * my / inertia
    dx, dn, du = rail_direction(w)
    tx = dx * x1 + dn * x2 + du * x3
    ty = dx * y1 + dn * y2 + du * y3
    tz = dx * z1 + dn * z2 + du * z3
    # two directions across the rail, nearly body y and z
    scale = 1.0 / math.sqrt(tx * tx + ty * ty)
    e1x, e1y, e1z = -ty * scale, tx * scale, 0.0
    e2x, e2y, e2z = ty * e1z - tz * e1y, tz * e1x - tx * e1z, tx * e1y - ty * e1x
    give = arm * arm / inertia
    a11 = 1.0 / mass + give * (e1y * e1y + e1z * e1z)
    a22 = 1.0 / mass + give * (e2y * e2y + e2z * e2z)
    a12 = give * (e1y * e2y + e1z * e2z)
    b1 = -(e1x * ax + e1y * ay + e1z * az)
    b2 = -(e2x * ax + e2y * ay + e2z * az)
    det = a11 * a22 - a12 * a12
    r1, r2 = (b1 * a22 - b2 * a12) / det, (b2 * a11 - b1 * a12) / det
    rx, ry, rz = r1 * e1x + r2 * e2x, r1 * e1y + r2 * e2y, r1 * e1z + r2 * e2z
    fx, fy, fz = (fx + rx) / mass, (fy + ry) / mass, (fz + rz) / mass
    w[to], w[to + 1], w[to + 2] = w[at + 3], w[at + 4], w[at + 5]
    w[to + 3] = fx * x1 + fy * y1 + fz * z1
    w[to + 4] = fx * x2 + fy * y2 + fz * z2
    w[to + 5] = fx * x3 + fy * y3 + fz * z3
    w[to + 6], w[to + 7], w[to + 8], w[to + 9] = quaternion_rates(
        w[at + 6], w[at + 7], w[at + 8], w[at + 9], 0.0, q, r
    )
    _, w[to + 11], w[to + 12] = rotation_rates(
        0.0, my - arm * rz, mz + arm * ry, 0.0, q, r, roll_inertia, inertia, inertia
    )
    w[to + 10] = 0.0
    w[FELT] = math.sqrt(fx * fx + fy * fy + fz * fz)
