"""Volume, centroid and inertia of solids and skins of revolution, of unit density.

Everything round on a rocket is one of these: nose shell, tube, transition, ring, disc, paint
film. Integrals are Gauss-Legendre with 96 points in s, x = L s^4, which takes away the root
singularity of blunt tips. Inertias are about the solid's own centroid.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle.shapes import outline

Array = NDArray[np.float64]
Meridian = Callable[[Array], tuple[Array, Array]]  # x from the front end -> radius, slope

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(96)
_S: Final = 0.5 * (_NODES + 1.0)
_FRACTION: Final = _S**4  # x / L
_STEP: Final = 0.5 * _WEIGHTS * 4.0 * _S**3  # dx / L


@dataclass(frozen=True)
class Solid:
    """A body of unit density: amount (volume m3, or area m2 for a skin), centroid, inertias."""

    amount: float
    centroid_m: float  # from the solid's front end
    pitch: float  # about the centroid, any transverse axis, per unit density
    roll: float  # about the rocket's axis, per unit density


def _gather(amount: Array, x: Array, pitch_own: Array, roll: Array) -> Solid:
    """Sum slices: their amounts, places, own transverse and roll inertias."""
    total = float(np.sum(amount))
    if total <= 0.0:
        return Solid(0.0, 0.5 * float(x[0] + x[-1]), 0.0, 0.0)
    centroid = float(np.sum(amount * x)) / total
    pitch = float(np.sum(pitch_own + amount * (x - centroid) ** 2))
    return Solid(total, centroid, pitch, float(np.sum(roll)))


def revolve(meridian: Meridian, length_m: float, wall_m: float) -> Solid:
    """Mass integrals of a solid (wall 0) or a shell of even wall, for a turned part.

    The wall is measured square to the surface, so its thickness across the axis is
    w sqrt(1 + r'^2), and no more than the radius.

    Parameters
        meridian : function - x from the front end [m] -> radius [m], slope [-]. [-]
        length_m : float - along the axis. [m]
        wall_m : float - wall thickness; 0 = solid. [m]
    Returns
        solid : Solid - volume, centroid, inertias per unit density. [m3, m, m5, m5]
    Raises
        nothing
    Validity
        Smooth outlines; with r ~ x^n at the tip, n >= 1/4 is integrated to better than 1e-9, the
        inner tip of a shell (a corner) to about 1e-5 of the volume.
    Source
        Definition of the integrals; derived. Tests hold cone, ellipsoid and cylinder.
    Example
        >>> cone = revolve(lambda x: (0.1 * x, 0.1 + 0.0 * x), 1.0, 0.0)
        >>> round(cone.centroid_m, 9)
        0.75
    """
    x = length_m * _FRACTION
    dx = length_m * _STEP
    outer, slope = meridian(x)
    if wall_m > 0.0:
        inner = np.maximum(outer - wall_m * np.sqrt(1.0 + slope * slope), 0.0)
    else:
        inner = np.zeros_like(outer)
    volume = np.pi * (outer**2 - inner**2) * dx
    fourth = np.pi * (outer**4 - inner**4) * dx
    return _gather(volume, x, 0.25 * fourth, 0.5 * fourth)


def skin(meridian: Meridian, length_m: float) -> Solid:
    """Area integrals of the outer surface of a turned part, for paint and skin friction.

    Parameters
        meridian : function - x from the front end [m] -> radius [m], slope [-]. [-]
        length_m : float - along the axis. [m]
    Returns
        solid : Solid - area, centroid, inertias per unit area density. [m2, m, m4, m4]
    Raises
        nothing
    Validity
        As `revolve`.
    Source
        Definition, dA = 2 pi r sqrt(1 + r'^2) dx; derived.
    Example
        >>> tube = skin(lambda x: (0.1 + 0.0 * x, 0.0 * x), 1.0)
        >>> round(tube.amount, 6)
        0.628319
    """
    x = length_m * _FRACTION
    dx = length_m * _STEP
    radius, slope = meridian(x)
    area = 2.0 * np.pi * radius * np.sqrt(1.0 + slope * slope) * dx
    roll = area * radius**2
    return _gather(area, x, 0.5 * roll, roll)


def planform(meridian: Meridian, length_m: float) -> tuple[float, float]:
    """Side area of a turned part and its centroid, for cross-flow lift.

    Parameters
        meridian : function - x from the front end [m] -> radius [m], slope [-]. [-]
        length_m : float - along the axis. [m]
    Returns
        area_m2, centroid_m : float - side area [m2], its centroid from the front end [m].
    Raises
        nothing
    Validity
        As `revolve`.
    Source
        Definition; derived.
    Example
        >>> area, centroid = planform(lambda x: (0.1 * x, 0.1 + 0.0 * x), 1.0)
        >>> round(area, 9), round(centroid, 9)
        (0.1, 0.666666667)
    """
    x = length_m * _FRACTION
    area = 2.0 * meridian(x)[0] * length_m * _STEP
    total = float(np.sum(area))
    return total, (float(np.sum(area * x)) / total if total > 0.0 else 0.5 * length_m)


def cylinder(length_m: float, outer_radius_m: float, inner_radius_m: float = 0.0) -> Solid:
    """Mass integrals of a tube, ring or disc in closed form.

    Parameters
        length_m : float - along the axis; 0 gives nothing. [m]
        outer_radius_m : float - outer radius. [m]
        inner_radius_m : float - bore; 0 = solid. [m]
    Returns
        solid : Solid - volume, centroid, inertias per unit density. [m3, m, m5, m5]
    Raises
        ValueError - bore not smaller than the outside
    Validity
        Exact.
    Source
        Textbook: I_pitch = m (3(a^2 + b^2) + L^2)/12, I_roll = m (a^2 + b^2)/2; derived.
    Example
        >>> round(cylinder(1.0, 0.1).amount, 6)
        0.031416
    """
    if inner_radius_m > outer_radius_m or inner_radius_m < 0.0 or length_m < 0.0:
        raise ValueError(
            f"bore {2 * inner_radius_m:g} m, outside diameter {2 * outer_radius_m:g} m and length "
            f"{length_m:g} m do not make a tube; the bore must lie between 0 and the outside "
            "diameter and the length must not be negative."
        )
    volume = np.pi * (outer_radius_m**2 - inner_radius_m**2) * length_m
    squares = outer_radius_m**2 + inner_radius_m**2
    return Solid(
        volume,
        0.5 * length_m,
        volume * (3.0 * squares + length_m**2) / 12.0,
        0.5 * volume * squares,
    )


def join(pieces: list[tuple[Solid, float]]) -> Solid:
    """One solid out of several, each with the place of its front end (same density).

    Parameters
        pieces : list of (Solid, float) - solid and where its front end is. [-, m]
    Returns
        solid : Solid - sum, centroid from the common origin, parallel axes applied.
    Raises
        nothing
    Validity
        Exact; a piece of negative amount (cut-out) is allowed.
    Source
        Parallel-axis theorem.
    Example
        >>> half = cylinder(0.5, 0.1)
        >>> round(join([(half, 0.0), (half, 0.5)]).pitch / cylinder(1.0, 0.1).pitch, 12)
        1.0
    """
    total = sum(solid.amount for solid, _ in pieces)
    if total <= 0.0:
        return Solid(0.0, pieces[0][1] if pieces else 0.0, 0.0, 0.0)
    centroid = sum(s.amount * (at + s.centroid_m) for s, at in pieces) / total
    pitch = sum(s.pitch + s.amount * (at + s.centroid_m - centroid) ** 2 for s, at in pieces)
    return Solid(total, centroid, pitch, sum(s.roll for s, _ in pieces))


def nose_meridian(shape: str, parameter: float, length_m: float, radius_m: float) -> Meridian:
    """Outline function of a nose, tip first, for the integrals above.

    Parameters
        shape : str - one of NOSE_SHAPES. [-]
        parameter : float - shape parameter. [-]
        length_m : float - tip to base. [m]
        radius_m : float - at the base. [m]
    Returns
        meridian : function - x [m] -> radius [m], slope [-].
    Raises
        ValueError - on use, see shapes.check_shape
    Validity
        As shapes.outline.
    Source
        As shapes.outline.
    Example
        >>> float(nose_meridian("cone", 0.0, 1.0, 0.1)(np.array([0.5]))[0][0])
        0.05
    """
    return lambda x: outline(shape, parameter, x, length_m, radius_m)


def frustum_meridian(length_m: float, fore_radius_m: float, aft_radius_m: float) -> Meridian:
    """Outline function of a straight tube or transition, for the integrals above.

    Parameters
        length_m : float - along the axis. [m]
        fore_radius_m : float - at the front. [m]
        aft_radius_m : float - at the back. [m]
    Returns
        meridian : function - x [m] -> radius [m], slope [-].
    Raises
        nothing
    Validity
        Exact; length must be above zero.
    Source
        Straight line.
    Example
        >>> float(frustum_meridian(1.0, 0.1, 0.2)(np.array([0.5]))[0][0])
        0.15000000000000002
    """
    slope = (aft_radius_m - fore_radius_m) / length_m
    return lambda x: (fore_radius_m + slope * x, np.full_like(x, slope))
