"""A body for the aerodynamics from a list of points, so that tests need no rocket."""

import numpy as np
from numpy.typing import ArrayLike

from goodflight.physics.aero import BodyShape
from goodflight.physics.vehicle.shapes import NoseShape


def body_shape(
    stations_m: ArrayLike,
    radii_m: ArrayLike,
    nose_length_m: float,
    nose_shape: NoseShape = "tangent_ogive",
) -> BodyShape:
    """A body from an outline of straight pieces, nose tip to tail.

    Surface and side area are summed over the conical pieces.

    Parameters
        stations_m : array (n,) - aft of the nose tip, never falling; twice where it steps. [m]
        radii_m : array (n,) - outer radii. [m]
        nose_length_m : float - length of the nose. [m]
        nose_shape : str - one of the nose shapes. [-]
    Returns
        body : BodyShape - outline and areas. [m, m2]
    Raises
        ValueError - fewer than two points, stations that fall, no radius above zero.
    Validity
        Round bodies.
    Source
        Geometry.
    Example
        body_shape([0, 0.2, 1.0], [0, 0.04, 0.04], 0.2, "cone").wetted_m2 -> 0.2267
    """
    x = np.asarray(stations_m, dtype=np.float64)
    r = np.asarray(radii_m, dtype=np.float64)
    if x.ndim != 1 or len(x) < 2 or x.shape != r.shape or np.any(np.diff(x) < 0.0):
        raise ValueError("a body outline needs two or more points with stations that never fall")
    if not np.max(r) > 0.0:
        raise ValueError("a body outline needs a radius above zero somewhere")
    h, r0, r1 = np.diff(x), r[:-1], r[1:]
    side = h * (r0 + r1)
    moment = h * (x[:-1] * (r0 + r1) + h * (r0 + 2.0 * r1) / 3.0)
    skin = np.pi * (r0 + r1) * np.hypot(h, r1 - r0)
    wetted, planform = float(np.sum(skin[h > 0.0])), float(np.sum(side))
    return BodyShape(
        x,
        r,
        nose_length_m,
        nose_shape,
        2.0 * float(np.max(r)),
        wetted,
        planform,
        float(np.sum(moment)) / planform,
    )
