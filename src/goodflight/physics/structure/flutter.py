"""The speed at which a fin begins to flutter.

A bending-and-torsion criterion for thin cantilever fins. It is a bound for design, not a
simulation: left out are the body's own bending, play in the mounting, tip weights.
"""

from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import HEAT_RATIO, SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_SOUND_M_S
from goodflight.physics.vehicle.fins import panel

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

CG_BEHIND_QUARTER: Final = 0.25  # eps: fin section's CG aft of the quarter chord, over the chord
# 24 eps kappa / pi: times sea-level pressure 14.696 psi this is the report's 39.3 psi
PRESSURE_FACTOR: Final = 24.0 * CG_BEHIND_QUARTER * HEAT_RATIO / pi


@dataclass(frozen=True)
class Trapezoid:
    """A fin of straight edges: the same root, span and area as the drawn outline."""

    root_chord_m: float
    tip_chord_m: float
    semi_span_m: float

    @property
    def area_m2(self) -> float:
        """Area of one fin [m2]."""
        return 0.5 * (self.root_chord_m + self.tip_chord_m) * self.semi_span_m

    @property
    def taper(self) -> float:
        """Tip chord over root chord [-]."""
        return self.tip_chord_m / self.root_chord_m


def equivalent_trapezoid(outline_m: tuple[tuple[float, float], ...]) -> Trapezoid:
    """The straight-edged fin with the same root, span and area, for formulas that need one.

    Tip chord = 2 S / s - root chord, not below zero; a panel fuller than its root keeps S by a
    tip longer than the root.

    Parameters
        outline_m : tuple of (aft, outward) - corners, root leading edge first. [m]
    Returns
        trapezoid : Trapezoid - chords and span. [m]
    Raises
        ValueError - outline without area, or without a root on the body
    Validity
        Exact for trapezia; for a tip chord that would be negative the area is a little larger
        than drawn.
    Source
        Geometry.
    Example
        >>> t = equivalent_trapezoid(((0, 0), (0.07, 0.08), (0.13, 0.08), (0.15, 0)))
        >>> round(t.tip_chord_m, 9), t.semi_span_m
        (0.06, 0.08)
    """
    area = panel(outline_m).area_m2
    span = max(w for _, w in outline_m)
    on_body = [u for u, w in outline_m if abs(w) < 1e-4]
    root = max(on_body) - min(on_body) if on_body else 0.0
    if root <= 0.0:
        raise ValueError(
            "the fin outline has no root: two of its corners must have outward = 0, the leading "
            "and the trailing edge of the root."
        )
    return Trapezoid(root, max(2.0 * area / span - root, 0.0), span)


def flutter_speed_tn4197(
    shear_modulus_pa: Values,
    thickness_m: Values,
    *,
    root_chord_m: Values,
    tip_chord_m: Values,
    semi_span_m: Values,
    pressure_pa: Values,
    sound_m_s: Values,
) -> Array:
    """Flutter speed of a thin fin, to compare with the greatest air speed at that height.

    V = a sqrt( G / ( (24 eps kappa/pi) p  A^3 / ((t/c)^3 (A + 2))  (taper + 1)/2 ) )
    with aspect ratio A = s^2/S of one exposed fin, t/c at the root, taper = tip/root chord, a speed
    of sound, p the air's pressure at the height, eps = 0.25 the section's CG aft of the quarter
    chord (a plate's middle), kappa = 1.4.

    Where it comes from: with the bending frequency well below the torsion frequency, the fin
    flutters near the speed at which lift about the CG overcomes the torsion spring,
    K = q c (slope) (eps c), slope 2 pi A/(A + 2); rho = kappa p/a^2 brings in pressure and speed
    of sound; the spring of a cantilever plate goes with G c t^3/s^2. That gives every power above.
    The constant is the report's: 24 eps kappa/pi = 2.674, times 14.696 psi = 39.3 psi. A flat
    plate with J = c t^3/3 in its first torsion mode alone would give 12 in place of 24, a speed
    sqrt(2) higher: the report's criterion lies on the safe side of it.

    Trap: a form in circulation writes 1.337 p A^3 (taper + 1) / (2 (A + 2)(t/c)^3). 1.337 is
    already half of 2.674, so the 2 is in there twice and the speed comes out sqrt(2) too high.

    Parameters
        shear_modulus_pa : float or array - in-plane shear modulus of the fin as built. [Pa]
        thickness_m : float or array - of the fin. [m]
        root_chord_m : float or array - at the body. [m]
        tip_chord_m : float or array - at the tip, 0 for a point. [m]
        semi_span_m : float or array - exposed span of one fin. [m]
        pressure_pa : float or array - of the air at the height of greatest speed. [Pa]
        sound_m_s : float or array - speed of sound there. [m/s]
    Returns
        speed : array - true air speed at which flutter begins. [m/s]
    Raises
        nothing
    Validity
        Thin solid fins, subsonic to low supersonic, firmly fixed at the root. Wood varies by a
        fifth in G; plywood at 45 deg is stiffer. Keep the greatest speed below 0.8 of this.
    Source
        Martin 1958, NACA TN 4197, with 39.3 psi; formula held from memory, constant
        re-derived.
    Example
        >>> speed = flutter_speed_tn4197(
        ...     0.62e9, 0.004, root_chord_m=0.15, tip_chord_m=0.06, semi_span_m=0.08,
        ...     pressure_pa=101325.0, sound_m_s=340.3)
        >>> round(float(speed), 1)
        211.7
    """
    root = np.asarray(root_chord_m, dtype=np.float64)
    tip = np.asarray(tip_chord_m, dtype=np.float64)
    aspect = 2.0 * np.asarray(semi_span_m) / (root + tip)
    relative = np.asarray(thickness_m) / root
    shape = aspect**3 / (relative**3 * (aspect + 2.0)) * (tip / root + 1.0) / 2.0
    stiffness = np.asarray(shear_modulus_pa) / (PRESSURE_FACTOR * np.asarray(pressure_pa) * shape)
    return np.asarray(sound_m_s * np.sqrt(stiffness))


def stiffness_speed_ratio(shear_ratio: Values) -> Array:
    """How the flutter speed goes with the shear modulus: its root, from the formula [-].

    Parameters
        shear_ratio : float or array - modulus over the one a speed was worked out for. [-]
    Returns
        ratio : array - of the two speeds. [-]
    Source
        [martin1958], the formula of `flutter_speed_tn4197`.
    """
    return np.sqrt(np.asarray(shear_ratio, dtype=np.float64))


def flutter_at_height(sea_level_m_s: Values, pressure_pa: Values, sound_m_s: Values) -> Array:
    """Flutter speed at a height from the one in sea-level air.

    The formula goes with the speed of sound over the root of the pressure.

    Parameters
        sea_level_m_s : float or array - at 101325 Pa and 340.294 m/s. [m/s]
        pressure_pa : float or array - of the air at the height. [Pa]
        sound_m_s : float or array - speed of sound there. [m/s]
    Returns
        speed : array - true air speed at which flutter begins. [m/s]
    Raises
        nothing
    Validity
        As flutter_speed_tn4197.
    Source
        Martin 1958, NACA TN 4197; from its form.
    Example
        >>> float(flutter_at_height(200.0, 101325.0, 340.294))
        200.0
    """
    thin = np.asarray(sound_m_s, dtype=np.float64) / SEA_LEVEL_SOUND_M_S
    return np.asarray(sea_level_m_s * (thin * np.sqrt(SEA_LEVEL_PRESSURE_PA / pressure_pa)))
