"""Places on level ground: distance and direction from the pad, and back."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = Array | float


def distance_m(east_m: Values, north_m: Values) -> Array:
    """Distance from the pad [m].

    Parameters
        east_m, north_m : float or array - the place. [m]
    Returns
        distance : array - same shape. [m]
    Source
        Geometry.
    """
    return np.asarray(np.hypot(east_m, north_m))


def bearing_rad(east_m: Values, north_m: Values) -> Array:
    """Direction from the pad, clockwise from north, 0 ... 2 pi.

    Parameters
        east_m, north_m : float or array - the place. [m]
    Returns
        bearing : array - same shape; 0 at the pad itself. [rad]
    Raises
        nothing
    Validity
        Level ground.
    Source
        Geometry.
    Example
        >>> round(float(bearing_rad(-1.0, 0.0)), 4)
        4.7124
    """
    return np.asarray(np.arctan2(east_m, north_m) % (2.0 * np.pi))


def place_m(distance_m: Values, bearing_rad: Values) -> tuple[Array, Array]:
    """East and north of a place seen from the pad.

    Parameters
        distance_m : float or array - from the pad. [m]
        bearing_rad : float or array - clockwise from north. [rad]
    Returns
        east, north : arrays. [m]
    Raises
        nothing
    Validity
        Level ground.
    Source
        Geometry.
    Example
        >>> east, north = place_m(2.0, np.pi / 2.0)
        >>> round(float(east), 6), round(float(north), 6)
        (2.0, 0.0)
    """
    return np.asarray(distance_m * np.sin(bearing_rad)), np.asarray(
        distance_m * np.cos(bearing_rad)
    )


def lean_rad(along_rad: Values, across_rad: Values) -> tuple[Array, Array]:
    """How far a rail leans that leans two ways at right angles, and how far beside the first.

    Parameters
        along_rad, across_rad : float or array - small leans. [rad]
    Returns
        tilt, beside : arrays - of the rail; clockwise from the first way. [rad]
    Raises
        nothing
    Validity
        Leans of some degrees: they add as two sides of a right angle.
    Source
        Geometry.
    Example
        >>> tilt, beside = lean_rad(0.03, 0.04)
        >>> round(float(tilt), 4), round(float(beside), 4)
        (0.05, 0.9273)
    """
    return np.asarray(np.hypot(along_rad, across_rad)), np.asarray(
        np.arctan2(across_rad, along_rad)
    )


def carried_m(start_m: Values, speed_m_s: Values, time_s: Values) -> Array:
    """Where something is that keeps its speed over the ground: x + v t [m]; t below 0 counts as 0.

    Parameters
        start_m : float or array - place at time 0. [m]
        speed_m_s : float or array - over the ground. [m/s]
        time_s : float or array - since then. [s]
    Returns
        place : array. [m]
    Source
        Definition.
    """
    return np.asarray(start_m + np.asarray(speed_m_s) * np.maximum(time_s, 0.0))


def nearest_on_m(
    east_m: Values, north_m: Values, start_m: Sequence[float], end_m: Sequence[float]
) -> Array:
    """Distance of points from a straight piece of ground [m].

    Parameters
        east_m, north_m : float or array - the points. [m]
        start_m, end_m : (east, north) - its ends. [m]
    Returns
        distance : array - same shape. [m]
    Raises
        nothing
    Validity
        Level ground.
    Source
        Geometry.
    Example
        >>> float(nearest_on_m(3.0, 4.0, (0.0, 0.0), (10.0, 0.0)))
        4.0
    """
    dx, dy = end_m[0] - start_m[0], end_m[1] - start_m[1]
    east, north = np.asarray(east_m) - start_m[0], np.asarray(north_m) - start_m[1]
    square = dx * dx + dy * dy
    part = np.clip((east * dx + north * dy) / square, 0.0, 1.0) if square > 0.0 else 0.0
    return np.asarray(np.hypot(east - part * dx, north - part * dy))
