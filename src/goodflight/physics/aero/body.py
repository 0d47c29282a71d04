"""Normal force of the body alone at small incidence: slope and its moments about the nose tip.

Answers: how hard, and where, does the body push when it meets the air at a slant? Slender-body
lift of every change of section below the speed of sound, the published ogive- and cone-cylinder
slopes above it, joined smoothly between Mach 0.8 and 1.2. Cross-flow lift is in `crossflow`.
Main sources: Munk; USAF DATCOM; Barrowman 1967.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.curves import (
    APPARENT_MASS,
    CONE_SLOPE,
    OGIVE_SLOPE,
    smoothstep,
)
from goodflight.physics.aero.geometry import BodyShape

Array = NDArray[np.float64]
BLEND: Final = (0.8, 1.2)  # Mach numbers between which the two theories are mixed


class SlopeSums(NamedTuple):
    """Zeroth, first and second moment of the normal-force slope about the nose tip."""

    slope: Array  # [1/rad]
    moment_m: Array  # [m/rad]
    second_m2: Array  # [m2/rad]


def subsonic_mach(mach: ArrayLike) -> Array:
    """Mach number for the subsonic formulas: itself to 0.8, then levelling off at 0.98 by 1.2.

    Parameters
        mach : float or array - Mach number. [-]
    Returns
        mach : array - for the formulas. [-]
    Source
        our choice, so that no formula meets its pole at 1.
    """
    m = np.asarray(mach, dtype=np.float64)
    t = np.clip((m - BLEND[0]) / 0.4, 0.0, 1.0)
    bent = 0.8 * (1 - 3 * t**2 + 2 * t**3) + 0.4 * (t - 2 * t**2 + t**3) + 0.98 * (3 - 2 * t) * t**2
    return np.asarray(np.where(m <= BLEND[0], m, bent))


def supersonic_mach(mach: ArrayLike) -> Array:
    """Mach number for the supersonic formulas: 1.07 up to 0.8, itself from 1.2, smooth between.

    Linear theory fails where beta^2 is under about (t / c)^(2/3): Mach 1.07 for 5 % thick fins.

    Parameters
        mach : float or array - Mach number. [-]
    Returns
        mach : array - for the formulas. [-]
    Source
        our choice.
    """
    m = np.asarray(mach, dtype=np.float64)
    t = np.clip((m - BLEND[0]) / 0.4, 0.0, 1.0)
    bent = 1.07 * (1 - 3 * t**2 + 2 * t**3) + 1.2 * (3 - 2 * t) * t**2 + 0.4 * (t**3 - t**2)
    return np.asarray(np.where(m >= BLEND[1], m, bent))


def segment_sums(stations_m: Array, radii_m: Array) -> tuple[Array, Array, Array]:
    """Moments of the change of section of each straight piece, for slender-body lift.

    Integrals of dA, x dA and x^2 dA over each cone, in closed form.

    Parameters
        stations_m : array (n,) - outline, aft of the nose tip. [m]
        radii_m : array (n,) - outline. [m]
    Returns
        sums : three arrays (n-1,) - of dA, x dA, x^2 dA. [m2, m3, m4]
    Validity
        Any outline; a step (same station twice) counts at its station.
    Source
        Calculus; derived.
    Example
        segment_sums([0, 1], [0, 1]) -> pi, 2/3 pi, 1/2 pi
    """
    x0, r0 = stations_m[:-1], radii_m[:-1]
    h, d = np.diff(stations_m), np.diff(radii_m)
    two = 2.0 * np.pi * d
    zeroth = two * (r0 + d / 2)
    first = two * (r0 * x0 + (r0 * h + d * x0) / 2 + d * h / 3)
    second = two * (
        x0**2 * r0
        + (2 * x0 * h * r0 + x0**2 * d) / 2
        + (h**2 * r0 + 2 * x0 * h * d) / 3
        + h**2 * d / 4
    )
    return zeroth, first, second


def apparent_mass_factor(fineness: ArrayLike) -> Array:
    """Part of the slender-body lift that a body of finite length keeps.

    Munk's k2 - k1.

    Parameters
        fineness : float or array - length over diameter. [-]
    Returns
        factor : array - k2 - k1. [-]
    Validity
        4 to 20, held outside.
    Source
        [datcom1978] fig 4.2.1.1-20.
    Example
        apparent_mass_factor(10.0) -> 0.94
    """
    return APPARENT_MASS(fineness)


def potential_end_m(body: BodyShape) -> float:
    """Station behind which a body that narrows has no slender-body lift any more.

    x0 / l = 0.378 + 0.527 x1 / l, x1 where the section shrinks fastest; the whole length for a
    body that never narrows.

    Parameters
        body : BodyShape - outline. [-]
    Returns
        station : float - from the nose tip. [m]
    Validity
        Subsonic, small incidence; bodies with one tail.
    Source
        [datcom1978] section 4.2.1.1.
    Example
        potential_end_m(cylinder) -> its length
    """
    x, r = body.stations_m, body.radii_m
    with np.errstate(divide="ignore", invalid="ignore"):
        shrinking = np.diff(r**2) / np.diff(x)
    shrinking[np.abs(np.diff(r)) <= 1e-4 * body.diameter_m] = 0.0
    fastest = int(np.argmin(shrinking))
    if shrinking[fastest] >= 0.0:
        return float(x[-1])
    place = float(x[fastest] - x[0]) / body.length_m
    return float(x[0]) + (0.378 + 0.527 * place) * body.length_m


def _potential_sums(body: BodyShape) -> tuple[float, float, float]:
    """Moments of the change of section, narrowing behind the potential flow's end left out."""
    end = potential_end_m(body)
    x, r = body.stations_m, body.radii_m
    if end < x[-1]:
        at = int(np.searchsorted(x, end, side="right"))
        r = np.insert(r, at, np.interp(end, x, r))
        x = np.insert(x, at, end)
    lifting = (x[1:] <= end) | (np.diff(r) > 0.0)
    zeroth, first, second = (float(np.sum(s[lifting])) for s in segment_sums(x, r))
    return zeroth, first, second


def _after_nose(body: BodyShape) -> tuple[float, float]:
    """Length of the cylinder behind the nose and the nose's base radius."""
    x, r = body.stations_m, body.radii_m
    end = x[0] + body.nose_length_m
    i = int(np.searchsorted(x, end - 1e-9))
    if i >= len(x) - 1:
        return 0.0, float(r[-1])
    same = np.abs(r[i:] - r[i]) < 1e-3 * body.diameter_m
    run = len(same) if same.all() else int(np.argmin(same))
    return float(x[i + run - 1] - x[i]), float(r[i])


def _supersonic_nose(body: BodyShape, mach: Array) -> SlopeSums:
    """Lift of nose and following cylinder from the published slopes, on the reference area.

    The rows of the table, read as lift gathered up to that length of cylinder, give where the
    carried-over lift acts.
    """
    table = CONE_SLOPE if body.nose_shape == "cone" else OGIVE_SLOPE
    cylinder, radius = _after_nose(body)
    length = body.nose_length_m
    fineness = length / (2.0 * radius)
    beta = np.sqrt(supersonic_mach(mach) ** 2 - 1.0)
    gathered = table.along_rows(beta / fineness)
    rows = np.asarray(table.rows)
    reach = min(cylinder / length, float(rows[-1]))
    cuts = np.concatenate((rows[rows < reach], [reach]))
    k = np.clip(np.searchsorted(rows, cuts) - 1, 0, len(rows) - 2)
    t = (cuts - rows[k]) / (rows[k + 1] - rows[k])
    lift = gathered[:, k] * (1 - t) + gathered[:, k + 1] * t
    steps = np.diff(lift, axis=1)
    x = body.stations_m[0] + length * (1.0 + 0.5 * (cuts[1:] + cuts[:-1]))
    nose = body.stations_m <= body.stations_m[0] + length + 1e-9
    n = max(int(np.count_nonzero(nose)), 2)
    c0, c1, c2 = (float(np.sum(s)) for s in segment_sums(body.stations_m[:n], body.radii_m[:n]))
    share = np.pi * radius**2 / body.area_m2
    alone = lift[:, 0]
    return SlopeSums(
        share * (alone + np.sum(steps, axis=1)),
        share * (alone * c1 / c0 + steps @ x),
        share * (alone * c2 / c0 + steps @ x**2),
    )


def body_slope(body: BodyShape, mach: ArrayLike) -> SlopeSums:
    """Normal-force slope of the body without fins and its moments about the nose tip.

    Subsonic: 2 (k2 - k1) dA / S for every change of section; where the body narrows only up to the
    end of potential flow. Supersonic: nose and following cylinder from the published slopes, other
    changes of section 2 dA / S.

    Parameters
        body : BodyShape - outline and nose. [-]
        mach : float or array (m,) - Mach number. [-]
    Returns
        sums : SlopeSums - arrays (m,), on the greatest section. [1/rad, m/rad, m2/rad]
    Validity
        Mach 0 to 2, fineness above 4; above the speed of sound shrinking sections steeper than
        about 8 deg separate and lose less lift than this says.
    Source
        [munk1924], [datcom1978] sections 4.2.1.1 and 4.2.2.1, [barrowman1967] section 3.
    Example
        body_slope(ogive_cylinder, 0.3).slope -> 2 (k2 - k1)
    """
    m = np.atleast_1d(np.asarray(mach, dtype=np.float64))
    zeroth, first, second = segment_sums(body.stations_m, body.radii_m)
    low = 2.0 * float(apparent_mass_factor(body.fineness)) / body.area_m2
    sums = [low * each for each in _potential_sums(body)]
    one = np.ones_like(m)
    subsonic = SlopeSums(*(s * one for s in sums))
    weight = smoothstep(m, *BLEND)
    if body.nose_length_m <= 0.0 or not np.any(weight):
        return subsonic
    nose = _supersonic_nose(body, m)
    behind = body.stations_m[:-1] >= body.stations_m[0] + body.nose_length_m - 1e-9
    rest = [2.0 / body.area_m2 * float(np.sum(s[behind])) for s in (zeroth, first, second)]
    return SlopeSums(
        *(a * (1.0 - weight) + (b + c) * weight for a, b, c in zip(subsonic, nose, rest))
    )
