"""How much of the drag sits ahead of a separation: what the parts of a coasting rocket feel each.

Left out: incidence, and what a gap at the separation itself adds.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero import drag
from goodflight.physics.aero.build import axial_force
from goodflight.physics.aero.crossflow import crossflow_drag, crossflow_eta
from goodflight.physics.aero.friction import friction_coefficient
from goodflight.physics.aero.geometry import Shape

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

OPEN_TUBE_CD: Final = 0.8  # face of an open tube after parting, on its section
TUMBLE_CD: Final = 0.5  # of the opened, tumbling rocket, on its side view; our guess
TUMBLE_S: Final = 0.4  # from end on to tumbling; our guess
MIN_LENGTH: Final = 0.05  # of the rocket that lies ahead of the separation, whatever the nose
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
    return float((fore / axial_force(shape, *numbers).total)[0])


def tube_side_m2(length_m: float, diameter_m: float) -> float:
    """Cross-flow drag area of a tube broadside: 1.2 x eta(length / diameter) x its side [m2].

    Parameters
        length_m : float - of the tube. [m]
        diameter_m : float - of the tube. [m]
    Returns
        area : float - Cd S. [m2]
    Raises
        nothing
    Validity
        Slow air, laminar cross-flow.
    Source
        [jorgensen1977] eta, [datcom1978] cylinder at low cross-flow Mach number.
    Example
        >>> round(tube_side_m2(0.8, 0.08), 4)
        0.0523
    """
    flow = float(crossflow_drag(0.0)) * float(crossflow_eta(length_m / diameter_m))
    return flow * length_m * diameter_m


def tumble_area_m2(planform_m2: float, factor: Values = 1.0) -> Array:
    """Drag area of the opened rocket that tumbles: its side view with one drag coefficient.

    Parameters
        planform_m2 : float - of the whole rocket from the side. [m2]
        factor : float or array - drawn, about 1. [-]
    Returns
        area : array - drag over dynamic pressure. [m2]
    Source
        our guess of 0.5, between end on and broadside.
    Example
        >>> float(tumble_area_m2(0.1))
        0.05
    """
    return np.asarray(TUMBLE_CD * planform_m2 * factor)


@dataclass(frozen=True, eq=False)
class SectionDrag:
    """Drag areas of both sections, one entry per flight, just after parting and tumbling [m2]."""

    nose_start_m2: Array
    nose_m2: Array
    booster_start_m2: Array
    booster_m2: Array


def section_drag(
    whole_m2: Values,
    share_ahead: Values,
    tumbling_m2: Values,
    *,
    area_m2: float,
    length_m: float,
    joint_m: float,
    nose_length_m: float,
) -> SectionDrag:
    """Drag areas of nose section and booster after they have parted.

    At first each keeps its share of the coasting drag, the booster with an open face; tumbling, the
    side area divides by length, a third of the nose's length missing from the side view.

    Parameters
        whole_m2 : float or array - drag area of the joined rocket. [m2]
        share_ahead : float or array - of it ahead of the separation. [-]
        tumbling_m2 : float or array - drag area of the tumbling parts together. [m2]
        area_m2 : float - reference area, the open face. [m2]
        length_m : float - of the rocket. [m]
        joint_m : float - station of the separation. [m]
        nose_length_m : float - of the nose, 0 without one. [m]
    Returns
        areas : SectionDrag - four arrays. [m2]
    Raises
        nothing
    Validity
        Bodies of one diameter; order of a third.
    Source
        Side areas; face of an open tube 0.8, our guess.
    Example
        >>> found = section_drag(0.003, 0.4, 0.05, area_m2=0.005, length_m=1.3, joint_m=0.5,
        ...     nose_length_m=0.3)
        >>> round(float(found.nose_m2), 6), round(float(found.booster_start_m2), 6)
        (0.016667, 0.0058)
    """
    share, taper = np.asarray(share_ahead, dtype=np.float64), nose_length_m / 3.0
    ahead = max(joint_m - taper, MIN_LENGTH * length_m) / (length_m - taper)
    tumbling = np.asarray(tumbling_m2, dtype=np.float64)
    return SectionDrag(
        np.asarray(share * whole_m2),
        ahead * tumbling,
        np.asarray((1.0 - share) * whole_m2 + OPEN_TUBE_CD * area_m2),
        (1.0 - ahead) * tumbling,
    )
