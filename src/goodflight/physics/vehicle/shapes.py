"""Outlines of nose cones: radius and slope along the axis for every named shape.

`length` L and `base radius` R fix the size; x runs aft from the tip. The one parameter means
  cone            nothing
  tangent_ogive   nothing (the arc meets the tube without a corner)
  secant_ogive    arc radius over that of the tangent ogive, at least 1
  ellipsoid       nothing
  parabola        K', 0 (cone) to 1 (meets the tube without a corner)
  haack           C, 0 = least wave drag for length and diameter (von Karman), 1/3 = for length
                  and volume
  power           exponent, above 0 and up to 1 (1 = cone)
The shapes are definitions; [crowell1996] lists them in this form. Held: memory, and every one is
tested here against closed-form volumes and end points.
"""

from collections.abc import Callable
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
NoseShape = Literal[
    "cone", "tangent_ogive", "secant_ogive", "ellipsoid", "parabola", "haack", "power"
]

NOSE_SHAPES: Final[tuple[NoseShape, ...]] = (
    "cone",
    "tangent_ogive",
    "secant_ogive",
    "ellipsoid",
    "parabola",
    "haack",
    "power",
)

# least and greatest allowed parameter and what it is, for the shapes that use one
_PARAMETER_RANGE: Final[dict[str, tuple[float, float, str]]] = {
    "secant_ogive": (1.0, 100.0, "arc radius over that of the tangent ogive"),
    "parabola": (0.0, 1.0, "K'"),
    "haack": (0.0, 2.0 / 3.0, "C"),
    "power": (0.05, 1.0, "exponent"),
}


def check_shape(shape: str, parameter: float, length_m: float, base_radius_m: float) -> None:
    """Refuse a nose outline that cannot be made, with the allowed range.

    Parameters
        shape : str - one of NOSE_SHAPES. [-]
        parameter : float - shape parameter, see the module head. [-]
        length_m : float - from tip to base. [m]
        base_radius_m : float - radius at the base. [m]
    Returns
        None
    Raises
        ValueError - unknown shape, size not above zero, parameter out of range, ogive too short
    Validity
        Geometry only.
    Source
        Definitions; the limits keep the greatest radius at the base.
    Example
        >>> check_shape("power", 0.5, 0.24, 0.0395)
    """
    if shape not in NOSE_SHAPES:
        raise ValueError(
            f"nose shape '{shape}' is not known; allowed are {', '.join(NOSE_SHAPES)}."
        )
    if not (length_m > 0.0 and base_radius_m > 0.0):
        raise ValueError(
            f"nose length {length_m:g} m and base radius {base_radius_m:g} m must both be above "
            "zero; measure them from tip to shoulder and across the base."
        )
    if shape in _PARAMETER_RANGE:
        low, high, meaning = _PARAMETER_RANGE[shape]
        if not low <= parameter <= high:
            raise ValueError(
                f"shape parameter {parameter:g} ({meaning}) of a {shape} nose is outside "
                f"{low:g} to {high:g}; choose a value in that range."
            )
    if shape in ("tangent_ogive", "secant_ogive") and length_m < base_radius_m:
        raise ValueError(
            f"an ogive {length_m:g} m long on a base of radius {base_radius_m:g} m would bulge; "
            "it must be at least one radius long. Use an ellipsoid."
        )


def _arc(parameter: float, length: float, base: float) -> tuple[float, float, float]:
    """Radius of the ogive's arc and the place (x, y) of its centre."""
    tangent = (base * base + length * length) / (2.0 * base)
    arc = tangent * parameter
    half_chord = 0.5 * np.hypot(length, base)
    # the centre lies on the perpendicular through the middle of the chord, inward of it
    offset = float(np.sqrt(max(arc * arc - half_chord * half_chord, 0.0)))
    centre_x = 0.5 * length + offset * base / (2.0 * half_chord)
    centre_y = 0.5 * base - offset * length / (2.0 * half_chord)
    return arc, centre_x, centre_y


def _ogive(x: Array, parameter: float, length: float, base: float) -> tuple[Array, Array]:
    arc, centre_x, centre_y = _arc(parameter, length, base)
    root = np.sqrt(np.maximum(arc * arc - (centre_x - x) ** 2, 0.0))
    return np.maximum(root + centre_y, 0.0), (centre_x - x) / np.maximum(root, 1e-12)


def _cone(x: Array, _parameter: float, length: float, base: float) -> tuple[Array, Array]:
    return base * x / length, np.full_like(x, base / length)


def _tangent_ogive(x: Array, _parameter: float, length: float, base: float) -> tuple[Array, Array]:
    return _ogive(x, 1.0, length, base)


def _ellipsoid(x: Array, _parameter: float, length: float, base: float) -> tuple[Array, Array]:
    f = x / length
    root = np.sqrt(f * (2.0 - f))
    return base * root, base / length * (1.0 - f) / np.maximum(root, 1e-12)


def _parabola(x: Array, parameter: float, length: float, base: float) -> tuple[Array, Array]:
    f = x / length
    scale = base / (2.0 - parameter)
    return scale * (2.0 * f - parameter * f * f), scale / length * 2.0 * (1.0 - parameter * f)


def _haack(x: Array, parameter: float, length: float, base: float) -> tuple[Array, Array]:
    theta = np.arccos(np.clip(1.0 - 2.0 * x / length, -1.0, 1.0))
    sine = np.sin(theta)
    square = np.maximum(theta - 0.5 * np.sin(2.0 * theta) + parameter * sine**3, 0.0) / np.pi
    root = np.sqrt(square)
    square_slope = 2.0 * sine * (2.0 + 3.0 * parameter * np.cos(theta)) / np.pi
    return base * root, base / length * square_slope / (2.0 * np.maximum(root, 1e-12))


def _power(x: Array, parameter: float, length: float, base: float) -> tuple[Array, Array]:
    f = np.maximum(x / length, 1e-30)
    return base * f**parameter, base / length * parameter * f ** (parameter - 1.0)


_OUTLINES: Final[dict[str, Callable[[Array, float, float, float], tuple[Array, Array]]]] = {
    "cone": _cone,
    "tangent_ogive": _tangent_ogive,
    "secant_ogive": _ogive,
    "ellipsoid": _ellipsoid,
    "parabola": _parabola,
    "haack": _haack,
    "power": _power,
}


def outline(
    shape: str, parameter: float, x_m: Array, length_m: float, base_radius_m: float
) -> tuple[Array, Array]:
    """Radius and slope dr/dx of a nose, for integration and drawing.

    r(x): cone R x/L; ogive sqrt(a^2 - (xc - x)^2) + yc with arc radius a; ellipsoid
    R sqrt(f(2-f)); parabola R (2f - K'f^2)/(2 - K'); Haack
    R sqrt((t - sin(2t)/2 + C sin^3 t)/pi), t = acos(1-2f); power R f^n; f = x/L.

    Parameters
        shape : str - one of NOSE_SHAPES. [-]
        parameter : float - shape parameter, see the module head. [-]
        x_m : array (n,) - aft of the tip, 0 to length. [m]
        length_m : float - from tip to base. [m]
        base_radius_m : float - radius at the base. [m]
    Returns
        radius_m, slope : arrays (n,) - radius [m] and dr/dx [-]; at a blunt tip the slope is a
        large number standing for infinity.
    Raises
        ValueError - see check_shape
    Validity
        Geometry; x outside 0 to length is not meaningful.
    Source
        [crowell1996], held from memory; parameter of the secant ogive is ours.
    Example
        >>> float(outline("cone", 0.0, np.array([0.5]), 1.0, 0.1)[0][0])
        0.05
    """
    check_shape(shape, parameter, length_m, base_radius_m)
    x = np.asarray(x_m, dtype=np.float64)
    return _OUTLINES[shape](x, parameter, length_m, base_radius_m)


def radius_m(
    shape: str, parameter: float, x_m: Array, length_m: float, base_radius_m: float
) -> Array:
    """Radius of a nose at x aft of its tip; `outline` without the slope, same arguments.

    Parameters
        shape : str - one of NOSE_SHAPES. [-]
        parameter : float - shape parameter, see the module head. [-]
        x_m : array (n,) - aft of the tip. [m]
        length_m : float - from tip to base. [m]
        base_radius_m : float - radius at the base. [m]
    Returns
        radius : array (n,) - radius. [m]
    Raises
        ValueError - see check_shape
    Validity
        As `outline`.
    Source
        As `outline`.
    Example
        >>> float(radius_m("cone", 0.0, np.array([1.0]), 1.0, 0.1)[0])
        0.1
    """
    return outline(shape, parameter, x_m, length_m, base_radius_m)[0]
