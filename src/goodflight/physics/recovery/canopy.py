"""A canopy's numbers: cloth area, drag area, nominal diameter, what the lines hold.

Left out: oscillation, gliding, cloth porosity. What is known of each kind is in `canopy_kinds`.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.physics.vehicle.parts import Canopy

Values = NDArray[np.float64] | float

LINE_KNOT: Final = 0.65  # what the knots leave of a canopy line: canopy data sheet, seen


def cloth_area_m2(canopy: Canopy) -> float:
    """Total cloth area So of a canopy with its spill hole taken off, for drag and packing.

    Given area wins; otherwise k D^2 with k of the kind and the way D was measured: circle pi/4,
    polygons see `polygon_area_over_square`, hemisphere pi/2 across the mouth, cross 2 W/D -
    (W/D)^2 with arms a third as wide as long.

    Parameters
        canopy : Canopy - kind, size and the way it was measured, area if known, spill hole. [-]
    Returns
        area : float - cloth that makes drag. [m2]
    Raises
        ValueError - unknown kind or way; no size; hole larger than the canopy; streamer without
        an area
    Validity
        The usual convention counts a vent below 1 % of So as cloth; we take off any hole, at most
        1 % different there.
    Source
        Areas: geometry, derived; cross: project sheet, seen; Dc/Do: Knacke 1991, memory.
    Example
        >>> round(cloth_area_m2(Canopy("c", 0.5, across_m=1.0, way="across corners")), 4)
        0.6495
    """
    kind = canopy_kind(canopy.kind)
    area = canopy.cloth_area_m2
    if area <= 0.0 and canopy.across_m > 0.0 and kind.ways:
        area = kind.area_over_square(canopy.way) * canopy.across_m**2
    if area <= 0.0:
        how = f"its width ({' or '.join(kind.ways)}) or " if kind.ways else ""
        raise ValueError(
            f"canopy '{canopy.name}' ({kind.label}) has no size; give {how}its cloth area."
        )
    hole = pi / 4.0 * canopy.spill_hole_diameter_m**2
    if hole >= area:
        raise ValueError(
            f"canopy '{canopy.name}': spill hole of {canopy.spill_hole_diameter_m:g} m is as large "
            f"as the cloth of {area:.3g} m2; measure both again."
        )
    return area - hole


def drag_area_m2(canopy: Canopy) -> float:
    """Drag coefficient times cloth area [m2]; the coefficient is on total cloth area.

    Parameters
        canopy : Canopy - the canopy. [-]
    Returns
        area : float - CdS. [m2]
    Source
        Definition.
    """
    return canopy.drag_coefficient * cloth_area_m2(canopy)


def nominal_diameter_m(area_m2: Values) -> Values:
    """Diameter Do of the circle with the cloth's area, which fill constants refer to.

    Parameters
        area_m2 : float or array - total cloth area So. [m2]
    Returns
        diameter : same shape - Do = sqrt(4 So/pi). [m]
    Raises
        nothing
    Validity
        Definition.
    Source
        Knacke 1991, definition of nominal diameter; memory.
    Example
        >>> round(float(nominal_diameter_m(0.7853981634)), 6)
        1.0
    """
    return np.sqrt(4.0 * np.asarray(area_m2) / pi)


def width_ratio(area_ratio: Values) -> NDArray[np.float64]:
    """How much wider a canopy of one shape is when its cloth is larger: the root [-].

    Parameters
        area_ratio : float or array - of the two cloth areas. [-]
    Returns
        ratio : same shape - of the two widths. [-]
    Source
        Geometry.
    """
    return np.sqrt(np.asarray(area_ratio, dtype=np.float64))


def lines_hold_n(line_strength_n: float, line_count: int) -> float:
    """Force that a canopy's lines hold with their knots: strength x lines x LINE_KNOT [N].

    Parameters
        line_strength_n : float - of one line, straight. [N]
        line_count : int - lines. [-]
    Returns
        force : float - evenly shared. [N]
    Source
        Statics; the share that knots leave beside LINE_KNOT.
    """
    return line_strength_n * line_count * LINE_KNOT
