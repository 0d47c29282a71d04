"""How much of the drag sits ahead of a separation: what the parts of a coasting rocket feel each.

Left out: incidence, and what a gap at the separation itself adds.
"""

import numpy as np

from goodflight.physics.aero import drag
from goodflight.physics.aero.build import axial_force
from goodflight.physics.aero.friction import friction_coefficient
from goodflight.physics.aero.geometry import Shape

REYNOLDS_PER_M = 7e6  # 100 m/s at sea level; the share hardly depends on it


def drag_share_ahead(shape: Shape, station_m: float, mach: float = 0.3) -> float:
    """Share of the axial force at zero incidence that acts ahead of a station, motor out.

    Nose pressure and the friction of the wetted surface ahead of it, over the whole. Fins, guides
    and base are taken as aft of it.

    Parameters
        shape : Shape - body, fins, guides, finish. [-]
        station_m : float - of the separation, from the nose tip. [m]
        mach : float - Mach number. [-]
    Returns
        share : float - 0 to 1. [-]
    Raises
        nothing
    Validity
        Joint aft of the nose and ahead of the fins; as the drag build-up, 10 % at low Mach.
    Source
        See `build.axial_force`.
    Example
        drag_share_ahead(rocket_shape(rocket), 0.46)
    """
    body, rough = shape.body, max(shape.roughness_m, 1e-9)
    numbers = np.array([mach]), np.array([REYNOLDS_PER_M])
    cf = friction_coefficient(numbers[1] * body.length_m, numbers[0], body.length_m / rough)
    rubbing = drag.body_friction(cf, body.fineness, body.wetted_m2, body.area_m2)
    length = np.diff(body.stations_m)
    wetted = length * (body.radii_m[1:] + body.radii_m[:-1])
    start = body.stations_m[:-1]
    part = np.clip((station_m - start) / np.maximum(length, 1e-12), 0.0, 1.0)
    ahead = float((wetted * part).sum() / wetted.sum())
    fore = rubbing * ahead + drag.nose_drag(body, numbers[0])
    return float(np.clip(fore / axial_force(shape, *numbers).total, 0.0, 1.0)[0])
