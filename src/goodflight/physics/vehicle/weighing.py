"""What a scale, an edge and a swing on two wires would read of some masses on one axis.

Answers what weight, balance point and time of a swing several parts have together, and how each
reading moves with each mass and place: the rows of the estimate of the rocket as built.
"""

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import STANDARD_GRAVITY_M_S2

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ReadOff:
    """One reading and its slopes: per mass (k,), per place (k,), per factor of the inertia."""

    value: float
    by_mass: Array
    by_place: Array
    by_factor: float = 0.0


def bifilar_period_s(
    mass_kg: float,
    inertia_kg_m2: float,
    spacing_m: float,
    wires_m: float,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> float:
    """Time of one full swing about the upright axis, hung level on two equal upright wires.

    Turned by a small angle q, each wire leans by (d/2) q / L, and the pair turns the body back with
    the moment m g (d/2)^2 q / L; so T = 2 pi sqrt(I L / (m g)) / (d/2).

    Parameters
        mass_kg : float - hung mass, more than 0. [kg]
        inertia_kg_m2 : float - about the upright axis through its CG. [kg m2]
        spacing_m : float - d, between the wires, the CG midway, more than 0. [m]
        wires_m : float - L, length of each wire, more than 0. [m]
        gravity_m_s2 : float - of the place. [m/s2]
    Returns
        period : float - there and back. [s]
    Raises
        ValueError - a length or mass of 0 or less
    Validity
        Small angles (20 deg: 0.8 % too short), light wires, no damping; the CG midway.
    Source
        [jardin2009], linear case; a rod hung at its ends: T = 2 pi sqrt(L / (3 g)), textbook.
    Example
        >>> round(bifilar_period_s(1.0, 1.0 / 12.0, 1.0, 3.0, 9.81), 4)
        2.0061
    """
    if min(mass_kg, spacing_m, wires_m) <= 0.0 or inertia_kg_m2 < 0.0:
        raise ValueError("a swing needs a mass, a spacing and wires of more than 0.")
    return 2.0 * pi * sqrt(inertia_kg_m2 * wires_m / (mass_kg * gravity_m_s2)) / (spacing_m / 2.0)


def bifilar_slopes_s_m(period_s: float, spacing_m: float, wires_m: float) -> tuple[float, float]:
    """How the time of a swing moves with the wires' spacing and with their length [s/m].

    T = c sqrt(L) / d: dT/dd = -T / d, dT/dL = T / (2 L). Swings on the same wires share the
    errors of both: each is off the same way.

    Parameters
        period_s : float - T, there and back. [s]
        spacing_m : float - d, between the wires, more than 0. [m]
        wires_m : float - L, length of each wire, more than 0. [m]
    Returns
        by_spacing, by_wires : float - slopes. [s/m]
    Raises
        nothing
    Validity
        As `bifilar_period_s`.
    Source
        Derivatives of `bifilar_period_s`.
    Example
        >>> bifilar_slopes_s_m(4.0, 0.4, 1.0)
        (-10.0, 2.0)
    """
    return -period_s / spacing_m, 0.5 * period_s / wires_m


def mass_reading(masses_kg: Array) -> ReadOff:
    """What a scale reads of some parts.

    Parameters
        masses_kg : array (k,) - of the parts on the scale. [kg]
    Returns
        reading : ReadOff - their sum. [kg]
    Raises
        nothing
    Validity
        Exact.
    Source
        Sum.
    Example
        >>> mass_reading(np.array([0.1, 0.2])).value.round(6)
        0.3
    """
    ones = np.ones_like(masses_kg)
    return ReadOff(masses_kg.sum(), ones, 0.0 * ones)


def balance_reading(masses_kg: Array, stations_m: Array) -> ReadOff:
    """Where some parts balance together: X = sum m x / sum m; dX/dm = (x - X) / M, dX/dx = m / M.

    Parameters
        masses_kg : array (k,) - of the parts, some mass among them. [kg]
        stations_m : array (k,) - of their CG. [m]
    Returns
        reading : ReadOff - station of the balance point. [m]
    Raises
        nothing
    Validity
        Exact.
    Source
        Moments.
    Example
        >>> balance_reading(np.array([1.0, 3.0]), np.array([0.0, 1.0])).value
        0.75
    """
    mass = masses_kg.sum()
    balance = (masses_kg * stations_m).sum() / mass
    return ReadOff(balance, (stations_m - balance) / mass, masses_kg / mass)


def swing_reading(
    masses_kg: Array,
    stations_m: Array,
    own_m2: Array,
    factor: float,
    spacing_m: float,
    wires_m: float,
) -> ReadOff:
    """Time of a swing of some parts on two wires about their common CG.

    I = f sum m (r2 + (x - X)^2); dT/T = (dI/I - dM/M) / 2.

    Parameters
        masses_kg : array (k,) - of the parts. [kg]
        stations_m : array (k,) - of their CG. [m]
        own_m2 : array (k,) - own pitch inertia of each part per mass. [m2]
        factor : float - true inertia over the computed one. [-]
        spacing_m : float - between the wires. [m]
        wires_m : float - length of each wire. [m]
    Returns
        reading : ReadOff - time there and back. [s]
    Raises
        ValueError - as `bifilar_period_s`
    Validity
        As `bifilar_period_s`.
    Source
        [jardin2009]; parallel axes.
    Example
        >>> swing_reading(np.ones(1), np.zeros(1), np.full(1, 1 / 12), 1.0, 1.0, 3.0).value.round(3)
        2.006
    """
    balance = balance_reading(masses_kg, stations_m).value
    arms = stations_m - balance
    inertia = factor * float((masses_kg * (own_m2 + arms**2)).sum())
    mass = float(masses_kg.sum())
    period = bifilar_period_s(mass, inertia, spacing_m, wires_m)
    by_mass = 0.5 * period * (factor * (own_m2 + arms**2) / inertia - 1.0 / mass)
    by_place = 0.5 * period * factor * 2.0 * masses_kg * arms / inertia
    return ReadOff(period, by_mass, by_place, 0.5 * period / factor)
