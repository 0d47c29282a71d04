"""Normal force, centre of pressure, roll and stall of a fin set.

Answers: how much do the fins lift at small incidence, where, how do crooked fins spin the rocket,
and when do they stall? Lifting-surface formula below the speed of sound, linear theory above,
joined between Mach 0.8 and 1.2. Main sources: USAF DATCOM, Barrowman 1967, NACA Report 1307.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.body import BLEND, subsonic_mach, supersonic_mach
from goodflight.physics.aero.curves import Curve, smoothstep
from goodflight.physics.aero.geometry import FinShape
from goodflight.physics.aero.interference import (
    body_by_fin,
    carry_over_slender,
    carry_over_spread,
    fin_on_body,
)
from goodflight.physics.aero.roll import flatness, roll_factors

Array = NDArray[np.float64]

# Lift of one fin of a set of n over that of one of four. Memory: MIL-HDBK-762 section 5-3.
CROWDING: Final = Curve(
    ((4, 1.0), (5, 0.948), (6, 0.913), (7, 0.854), (8, 0.81)), "[mil-hdbk-762] 5-3 (memory)"
)
# Incidence at which thin flat plates stop gaining lift, deg, against aspect ratio. Memory: Winter,
# NACA TM 798: sharp-edged plates of aspect ratio 1 hold to about 38 deg, 2 to 22 deg, 5 to 11 deg.
STALL_DEG: Final = Curve(((0.5, 40.0), (1, 36.0), (2, 22.0), (3, 16.0), (5, 11.0)), "[winter1936]")
STALL_WIDTH: Final = 1.6  # end of the stall over its start, both as incidence


class FinForces(NamedTuple):
    """A fin set's coefficients on a reference area and length, arrays over Mach."""

    slope: Array  # normal force, both interferences included [1/rad]
    cp_m: Array
    side: Array  # side force per rad of mean directed cant [1/rad]
    roll_force: Array  # [1/rad]
    roll_damp: Array  # [1/rad], negative


def subsonic_slope(
    aspect: float, tan_half: float, mach: ArrayLike, section_ratio: float = 1.0
) -> Array:
    """Normal-force slope of a straight-edged wing below the speed of sound, on its own area.

    2 pi A / (2 + sqrt(4 + (A b / k)^2 (1 + (tan L / b)^2))), b = sqrt(1 - M^2), L sweep of the
    half-chord line, k section slope over 2 pi / b.

    Parameters
        aspect : float - aspect ratio of the two panels joined. [-]
        tan_half : float - tangent of the half-chord sweep. [-]
        mach : float or array - below 1; held at 1. [-]
        section_ratio : float - k. [-]
    Returns
        slope : array - dCN/d(alpha). [1/rad]
    Validity
        Aspect ratio 0.5 to 8, Mach below 0.8; about 5 %.
    Source
        [datcom1978] section 4.1.3.2. The form with A b / cos L is 8 to 9 % above it at Mach 0.6.
    Example
        subsonic_slope(2.0, 0.0, 0.0) -> 2.60
    """
    b2 = np.maximum(1.0 - np.asarray(mach, dtype=np.float64) ** 2, 0.0)
    root = np.sqrt(4.0 + (aspect / section_ratio) ** 2 * (b2 + tan_half**2))
    return np.asarray(2.0 * np.pi * aspect / (2.0 + root))


def _rectangular(a: Array) -> tuple[Array, Array]:
    """beta CN / 4 and CP (share of chord) of rectangular wings against a = beta x aspect ratio."""
    t = np.clip(a, 0.0, 1.0)
    low = np.pi / 8 * (t - 2 * t**2 + t**3) + 0.5 * (3 - 2 * t) * t**2 + 0.5 * (t**3 - t**2)
    cp_low = 0.25 * (1 - 3 * t**2 + 2 * t**3) + (3 - 2 * t) * t**2 / 3 + (t**3 - t**2) / 3
    big = np.maximum(a, 1.0)
    high = 1.0 - 0.5 / big
    cp_high = (big - 2.0 / 3.0) / (2.0 * big - 1.0)
    return np.where(a < 1.0, low, high), np.where(a < 1.0, cp_low, cp_high)


def elliptic_e(other: Array) -> Array:
    """Complete elliptic integral of the second kind, from the complementary modulus.

    Arithmetic-geometric mean: a, b start at 1 and k', c^2 = (a - b)^2 / 4; then
    E = pi / (2 a) (1 - sum of 2^(n-1) c_n^2), with c_0^2 = 1 - k'^2.

    Parameters
        other : Array - complementary modulus k', 0 to 1; the parameter is m = 1 - k'^2. [-]
    Returns
        integral : Array - E, 1 at k' = 0 and pi / 2 at k' = 1. [-]
    Validity
        Six rounds reach full precision for k' above 1e-4; below, E is 1 within 1e-7.
    Source
        [dlmf] 19.8.6
    Example
        elliptic_e(np.array([1.0])) -> 1.5708
    """
    a, b = np.ones_like(other), np.maximum(other, 1e-4)
    rest, weight = 0.5 * (1.0 - b * b), 0.5
    for _ in range(6):
        weight *= 2.0
        a, b, c = 0.5 * (a + b), np.sqrt(a * b), 0.5 * (a - b)
        rest = rest + weight * c * c
    return np.asarray(np.pi / (2.0 * a) * (1.0 - rest))


def _delta(a: Array) -> Array:
    """beta CN / 4 of triangular wings against a = beta x aspect ratio.

    The corner at a = 4, where the leading edge turns supersonic, is rounded from 3.4 to 4.6.
    """
    m = np.clip(a / 4.0, 0.0, 0.85)
    exact = np.pi / 2 * m / elliptic_e(m)
    t = np.clip((a / 4.0 - 0.85) / 0.3, 0.0, 1.0)
    # from value 0.91741 and slope 0.6051 of the exact curve at m = 0.85 to 1 and 0 at 1.15
    bent = 0.91741050 * (1 - 3 * t**2 + 2 * t**3) + (3 - 2 * t) * t**2
    bent = bent + 0.30 * 0.6051251 * (t - 2 * t**2 + t**3)
    return np.where(a < 3.4, exact, bent)


def supersonic_slope(aspect: float, taper: float, mach: ArrayLike) -> tuple[Array, Array]:
    """Slope and centre of pressure of a straight-tapered wing above the speed of sound.

    Linear theory: triangular wing (taper 0) and rectangular wing (taper 1), mixed by the share
    w = 4 t^2 / (1 + t)^2 of the tip loss, which is exact where the leading edge is supersonic.

    Parameters
        aspect : float - aspect ratio of the two panels joined. [-]
        taper : float - tip over root chord. [-]
        mach : float or array - above 1. [-]
    Returns
        slope : array - dCN/d(alpha) on the wing's own area. [1/rad]
        cp : array - centre of pressure as a share of the mean aerodynamic chord. [-]
    Validity
        Thin wings with trailing edges swept little; nearer 1 than Mach 1.05 only as a bound.
    Source
        [jones1946] slender limit, [brown1946] triangular, [harmon1947] tip loss of 4 / beta
        (1 - 1 / (2 beta A)); from memory, held by the exact limits.
    Example
        supersonic_slope(2.0, 1.0, 2.0 ** 0.5) -> 3.0, 0.444
    """
    beta = np.sqrt(np.maximum(np.asarray(mach, dtype=np.float64) ** 2 - 1.0, 1e-12))
    a = beta * aspect
    w = 4.0 * taper**2 / (1.0 + taper) ** 2
    rectangular, cp = _rectangular(a)
    share = w * rectangular + (1.0 - w) * _delta(a)
    return np.asarray(4.0 / beta * share), np.asarray(w * cp + (1.0 - w) * 0.5)


def panel_slope(fins: FinShape, mach: ArrayLike) -> tuple[Array, Array]:
    """Slope of two panels joined, on their own area, and where it acts, at any Mach number.

    Parameters
        fins : FinShape - the set. [-]
        mach : float or array - Mach number. [-]
    Returns
        slope : array - dCN/d(alpha) on the panels' area. [1/rad]
        cp_m : array - station of the centre of pressure. [m]
    Validity
        Mach 0 to 2; between 0.8 and 1.2 a smooth join, not a theory.
    Source
        [datcom1978] 4.1.3.2 below, linear theory above; CP from the quarter chord.
    Example
        panel_slope(fins, 0.0)
    """
    m = np.asarray(mach, dtype=np.float64)
    weight = smoothstep(m, *BLEND)
    low = subsonic_slope(fins.aspect, fins.tan_half, subsonic_mach(m))
    high, share = supersonic_slope(fins.aspect, fins.taper, supersonic_mach(m))
    place = 0.25 + weight * (share - 0.25)
    cp = fins.quarter_m + 4.0 * (place - 0.25) * (fins.half_m - fins.quarter_m)
    return low * (1.0 - weight) + high * weight, np.asarray(cp)


def carried_over_cp_m(fins: FinShape, mach: ArrayLike) -> Array:
    """Station where the lift acts that the fins put on the body.

    Lifting line: the root's chord where panels of that Mach number have their centre, moved along
    the sweep by the images' share of the span. Slender: a share of the leading edge's sweep
    distance. Below the speed of sound straight between them in b A, 0 slender, 4 lifting line.

    Parameters
        fins : FinShape - the set. [-]
        mach : float or array - Mach number. [-]
    Returns
        station : array - from the nose tip. [m]
    Validity
        The body goes on at least to the root's end; above Mach 1.2 an order of size.
    Source
        [datcom1978] 4.3.2.2 (memory) for the way between the two ends, which are derived.
    Example
        carried_over_cp_m(fins, 0.0)
    """
    m = np.asarray(mach, dtype=np.float64)
    weight = smoothstep(m, *BLEND)
    _, own = supersonic_slope(fins.aspect, fins.taper, supersonic_mach(m))
    place = 0.25 + weight * (own - 0.25)  # of the chord
    out = fins.centroid_m - fins.body_radius_m  # where the mean chord stands, from the root
    lead = 2.0 * fins.quarter_m - fins.half_m - out * fins.tan_lead  # of the root
    at_root = lead + 4.0 * place * (fins.half_m - fins.quarter_m - out * _opening(fins))
    sweep = fins.tan_lead + 4.0 * place * _opening(fins)
    images = carry_over_spread(fins.body_radius_m, fins.span_m)
    line = at_root + images * fins.span_m * sweep
    slender = lead + carry_over_slender(fins.tau) * fins.span_m * max(fins.tan_lead, 0.0)
    flat = np.clip(fins.aspect * np.sqrt(1.0 - subsonic_mach(m) ** 2) / 4.0, 0.0, 1.0)
    share = flat + weight * (1.0 - flat)
    return np.asarray(slender + share * (line - slender))


def _opening(fins: FinShape) -> float:
    """How much more the quarter-chord line is swept than the leading edge, as tangents."""
    return 0.5 * (fins.tan_half - fins.tan_lead)


def effective_count(count: int) -> float:
    """Pairs of fins that a set is worth in any plane.

    count / 2 (the mean of sin^2 over three or more even fins), less for crowded sets.

    Parameters
        count : int - number of fins. [-]
    Returns
        pairs : float - 1.5 for three, 2 for four. [-]
    Validity
        3 to 8; one or two fins have no single value, the mean over roll is given.
    Source
        [barrowman1967]; crowding [mil-hdbk-762] (memory).
    Example
        effective_count(3) -> 1.5
    """
    return 0.5 * count * float(CROWDING(count))


def fin_forces(fins: FinShape, mach: ArrayLike, area_m2: float, length_m: float) -> FinForces:
    """All small-angle coefficients of a fin set against Mach number.

    Normal force with both interferences, each where it acts; side force of canted fins with K_W(B)
    (which is k_W(B) + k_B(W)); rolling moments from `roll`.

    Parameters
        fins : FinShape - the set. [-]
        mach : float or array - Mach number. [-]
        area_m2 : float - reference area. [m2]
        length_m : float - reference length. [m]
    Returns
        forces : FinForces - arrays over Mach. [1/rad, m, 1/rad, 1/rad, 1/rad]
    Validity
        Small incidence and cant.
    Source
        [pitts1957], [barrowman1967].
    Example
        fin_forces(fins, 0.3, body.area_m2, body.diameter_m).roll_damp
    """
    m = np.asarray(mach, dtype=np.float64)
    pair, cp = panel_slope(fins, m)
    single = pair * fins.area_m2 / area_m2  # one panel on the reference area
    kw, kb = float(fin_on_body(fins.tau)), float(body_by_fin(fins.tau))
    crowding = float(CROWDING(fins.count))
    force, damp = roll_factors(fins, flatness(pair, m))
    return FinForces(
        slope=effective_count(fins.count) * single * (kw + kb),
        cp_m=(kw * cp + kb * carried_over_cp_m(fins, m)) / (kw + kb),
        side=fins.count * crowding * single * kw,
        roll_force=fins.count * single * fins.centroid_m / length_m * force,
        roll_damp=-2.0 * fins.count * single * fins.radius2_m2 / length_m**2 * damp,
    )


def fin_stall(fins: FinShape) -> tuple[float, float, float]:
    """Incidence range over which the fins turn from wings into plates, and their broadside area.

    Start: stall of thin flat plates of that aspect ratio over K_W(B) (the body's upwash brings
    the fin there sooner); end 1.6 times that. Area: mean over roll of |cos^3| of all fins.

    Parameters
        fins : FinShape - the set. [-]
    Returns
        start_sin2, end_sin2 : floats - sin^2 of the rocket's incidence. [-]
        plate_m2 : float - area that counts broadside. [m2]
    Validity
        A default with wide spread (start within about a third); wakes and lee side not modelled.
    Source
        [winter1936] from memory; width and broadside mean are judgement and geometry.
    Example
        fin_stall(fins)[0]
    """
    start = np.radians(float(STALL_DEG(fins.aspect))) / float(fin_on_body(fins.tau))
    end = STALL_WIDTH * start
    plate = fins.count * 4.0 / (3.0 * np.pi) * fins.area_m2
    return float(np.sin(start) ** 2), float(np.sin(end) ** 2), plate
