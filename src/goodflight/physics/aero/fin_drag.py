"""Drag of the fins at zero incidence: friction and thickness, leading and trailing edges, waves.

Answers: what does a square edge cost against a rounded or shaped one? Main sources: USAF DATCOM
(faired fins), Barrowman 1967 after Hoerner (edges), linear theory (waves).
"""

from dataclasses import replace
from typing import Final, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.base import separated_share
from goodflight.physics.aero.curves import LIFTING_SURFACE, smoothstep
from goodflight.physics.aero.geometry import FinShape
from goodflight.physics.vehicle.fins import shaped_unsaid
from goodflight.physics.vehicle.parts import FinEdges

Array = NDArray[np.float64]
Shapes = tuple[tuple[FinEdges, float], ...]
STEEPEST: Final = 0.5  # narrowest bevel over thickness: 45 deg on each face; practice


def faired_fin_drag(
    friction: ArrayLike, mach: ArrayLike, thickness_ratio: float, cos_sweep: float
) -> Array:
    """Friction and form drag of a faired fin, on its plan area (one side).

    2 Cf (1 + L t + 100 t^4) R, L = 1.2 with the thickest point at 0.3 chord or behind.

    Parameters
        friction : float or array - mean friction coefficient Cf. [-]
        mach : float or array - Mach number. [-]
        thickness_ratio : float - thickness over chord t. [-]
        cos_sweep : float - cosine of sweep of the line of greatest thickness. [-]
    Returns
        coefficient : array - on the fin's plan area. [-]
    Validity
        Subsonic, faired sections, Mach 0.25 to 0.9 for R, held outside.
    Source
        [datcom1978] section 4.1.5.1, R from fig 4.1.5.1-28b.
    Example
        faired_fin_drag(0.003, 0.25, 0.04, 0.9) -> 0.0067
    """
    form = 1.0 + 1.2 * thickness_ratio + 100.0 * thickness_ratio**4
    return np.asarray(2.0 * np.asarray(friction) * form * LIFTING_SURFACE(mach, cos_sweep))


def rounded_edge_drag(mach: ArrayLike) -> Array:
    """Pressure drag of a rounded leading edge on its frontal area, across the edge.

    (1 - M^2)^-0.417 - 1 below 0.9; 1 - 1.785 (M - 0.9) to 1; 1.214 - 0.502 / M^2 + 0.1095 / M^4.

    Parameters
        mach : float or array - Mach number. [-]
    Returns
        coefficient : array - on frontal area; times cos^2 of the sweep. [-]
    Validity
        Mach 0 to 3.
    Source
        [barrowman1967] section 4 (memory).
    Example
        rounded_edge_drag(0.0) -> 0.0
    """
    m = np.asarray(mach, dtype=np.float64)
    low = (1.0 - np.minimum(m, 0.9) ** 2) ** -0.417 - 1.0
    middle = 1.0 - 1.785 * (m - 0.9)
    big = np.maximum(m, 1.0)
    high = 1.214 - 0.502 / big**2 + 0.1095 / big**4
    return np.asarray(np.where(m < 0.9, low, np.where(m < 1.0, middle, high)))


def square_edge_drag(mach: ArrayLike) -> Array:
    """Pressure drag of a square-cut leading edge on its frontal area, across the edge.

    0.85 of the stagnation pressure: 0.85 (1 + M^2 / 4 + M^4 / 40), above Mach 1
    0.85 (1.84 - 0.76 / M^2 + 0.166 / M^4 + 0.035 / M^6).

    Parameters
        mach : float or array - Mach number. [-]
    Returns
        coefficient : array - on frontal area; times cos^2 of the sweep. [-]
    Validity
        Mach 0 to 3; low-speed plates that reattach early have less (0.5 to 0.85).
    Source
        [hoerner1965] 15-4 and 16-3 (memory).
    Example
        square_edge_drag(0.0) -> 0.85
    """
    m = np.asarray(mach, dtype=np.float64)
    low = 1.0 + m**2 / 4.0 + m**4 / 40.0
    big = np.maximum(m, 1.0)
    high = 1.84 - 0.76 / big**2 + 0.166 / big**4 + 0.035 / big**6
    return np.asarray(0.85 * np.where(m < 1.0, low, high))


def trailing_base_drag(friction: ArrayLike, mach: ArrayLike, chord_over_base: float) -> Array:
    """Base drag of a blunt trailing edge on its own area.

    Subsonic 0.135 / (2 Cf c / h)^(1/3); supersonic (1 - 0.52 M^-1.19) / M^2 of a two-dimensional
    base; joined between Mach 0.8 and 1.1.

    Parameters
        friction : float or array - mean friction coefficient of the fin. [-]
        mach : float or array - Mach number. [-]
        chord_over_base : float - chord over base height c / h. [-]
    Returns
        coefficient : array - on the trailing edge's area. [-]
    Validity
        Mach 0 to 3; turbulent.
    Source
        [hoerner1965] 3-20; [barrowman1967] section 4 after Love, NACA TN 3819 (memory).
    Example
        trailing_base_drag(0.004, 0.3, 25.0) -> 0.23
    """
    m = np.asarray(mach, dtype=np.float64)
    low = 0.135 / np.cbrt(2.0 * np.asarray(friction, dtype=np.float64) * chord_over_base)
    big = np.maximum(m, 1.0)
    high = (1.0 - 0.52 * big**-1.19) / big**2
    return np.asarray(low + (high - low) * smoothstep(m, 0.8, 1.1))


def wedge_wave_drag(mach: ArrayLike, half_angle_rad: float, frontal_over_plan: float) -> Array:
    """Wave drag of a wedge front on the fin's plan area, above the speed of sound.

    Linear pressure 2 d / beta on the frontal area, limited near Mach 1 by the transonic
    similarity value at detachment, 1.5 (d)^(2/3); from Mach 0.85 it rises to that.

    Parameters
        mach : float or array - Mach number across the leading edge's sweep. [-]
        half_angle_rad : float - half angle of the wedge d. [rad]
        frontal_over_plan : float - frontal over plan area. [-]
    Returns
        coefficient : array - on plan area. [-]
    Validity
        Thin wedges; the transonic limit is good to about a quarter.
    Source
        Ackeret; transonic similarity [guderley] wedge at Mach 1, cp about 1.5 d^(2/3) (memory).
    Example
        wedge_wave_drag(1.4142, 0.04, 0.08) -> 0.0064
    """
    m = np.asarray(mach, dtype=np.float64)
    d = half_angle_rad
    beta = np.sqrt(np.maximum(m * m - 1.0, 1e-12))
    pressure = np.minimum(2.0 * d / beta, 1.5 * d ** (2.0 / 3.0))
    return np.asarray(pressure * frontal_over_plan * smoothstep(m, 0.85, 1.0))


def bevel_drag(mach: ArrayLike, bevel_m: float, thickness_m: float, cos_sweep: float) -> Array:
    """Pressure drag of a leading edge bevelled on both faces, on its frontal area, below Mach 1.

    sin^2 d of that of a square edge across the sweep, tan d = t / (2 b): a bevel of no width is
    the square edge, a long one costs nothing.

    Parameters
        mach : float or array - Mach number. [-]
        bevel_m : float - width of the bevel on each face b. [m]
        thickness_m : float - of the sheet t. [m]
        cos_sweep : float - cosine of the leading edge's sweep. [-]
    Returns
        coefficient : array - on frontal area. [-]
    Validity
        A rough rule, its two ends exact; between them as the corner of nose and tube.
    Source
        Hoerner 3-12 and 16-3 [hoerner1965] (memory): sin^2 of the angle; ours for a fin.
    Example
        bevel_drag(0.0, 0.002, 0.004, 1.0) -> 0.425
    """
    steep = thickness_m**2 / (thickness_m**2 + 4.0 * bevel_m**2)
    return np.asarray(steep * cos_sweep**2 * square_edge_drag(np.asarray(mach) * cos_sweep))


def _bevelled(
    fins: FinShape, mach: Array, friction: ArrayLike, bevel_m: float, edge: float
) -> Array:
    """Edges of bevelled fins on the plan area: a bevel of more than half the chord is one wedge."""
    t, chord = fins.thickness_m, fins.mean_chord_m
    across = 1.0 / np.sqrt(1.0 + fins.tan_lead**2)
    wave = wedge_wave_drag(mach, float(np.arctan2(t / 2.0, bevel_m)), edge)
    lead = np.maximum(wave, edge * bevel_drag(mach, bevel_m, t, float(across)))
    blunt = edge * trailing_base_drag(friction, mach, chord / t)
    if bevel_m > 0.5 * chord + 1e-6:
        return np.asarray(lead + blunt)
    left = separated_share(bevel_m, t)
    return np.asarray(lead + left * blunt + (1.0 - left) * wave)


def fin_drag(fins: FinShape, mach: ArrayLike, friction: ArrayLike, area_m2: float) -> Array:
    """Drag of a whole fin set at zero incidence on the reference area.

    Friction of both faces, plus by edges: blunt - square leading and trailing edges; rounded -
    rounded leading edge and half the blunt trailing edge; bevelled - `bevel_drag` and what the
    flow leaves of the trailing edge as of a boat-tail, or their waves (a bevel of more than half
    the chord is one wedge with a blunt trailing edge); faired - form factor and lifting-surface
    correction, waves of the thickness. Edges that are not said, and bevels of unknown width, have
    the middle of `edge_range`.

    Parameters
        fins : FinShape - the set. [-]
        mach : float or array - Mach number. [-]
        friction : float or array - mean friction coefficient on the mean chord. [-]
        area_m2 : float - reference area. [m2]
    Returns
        coefficient : array - drag coefficient. [-]
    Validity
        Mach 0 to 2, thickness under a tenth of the chord.
    Source
        See its parts.
    Example
        fin_drag(fins, 0.3, 0.004, body.area_m2)
    """
    m = np.asarray(mach, dtype=np.float64)
    plan = fins.count * fins.area_m2 / area_m2
    t = fins.thickness_m
    edge = t * fins.span_m / fins.area_m2  # frontal over plan area
    cos2 = 1.0 / (1.0 + fins.tan_lead**2)
    cosine = 1.0 / np.sqrt(1.0 + fins.tan_half**2)
    across = np.sqrt(cos2)
    plain = 2.0 * np.asarray(friction, dtype=np.float64)
    if t <= 0.0:
        return np.asarray(plan * plain)
    if shaped_unsaid(fins.edges, fins.bevel_m):
        least, most = edge_range(fins, m, friction, area_m2)
        return np.asarray((least + most) / 2.0)
    blunt = edge * trailing_base_drag(friction, m, fins.mean_chord_m / t)
    if fins.edges == "blunt":
        total = plain + edge * cos2 * square_edge_drag(m * across) + blunt
    elif fins.edges == "rounded":
        total = plain + edge * cos2 * rounded_edge_drag(m * across) + 0.5 * blunt
    elif fins.edges == "bevelled":
        total = plain + _bevelled(fins, m, friction, fins.bevel_m, edge)
    else:
        ratio = t / fins.mean_chord_m
        total = faired_fin_drag(friction, m, ratio, cosine)
        total = total + 2.0 * wedge_wave_drag(m, ratio, edge)
    return np.asarray(plan * total)


def shapes_of(edges: FinEdges | None, thickness_m: float, chord_m: float) -> Shapes:
    """Every shape that edges may have that are not said, each with its bevel [m].

    Bevels of unknown width are anything from half the thickness (45 deg on each face: steeper is
    no bevel) to those that meet mid chord; of fins that say nothing any other shape too.

    Parameters
        edges : str or None - bevelled; None = not said. [-]
        thickness_m : float - of the sheet. [m]
        chord_m : float - mean chord. [m]
    Returns
        shapes : tuple of (str, float) - edges and bevel, bevels first. [-, m]
    Validity
        Bounds of a range, not shapes that are likely.
    Source
        Common practice, no source; geometry.
    Example
        shapes_of("bevelled", 0.004, 0.1) -> (("bevelled", 0.002), ("bevelled", 0.05))
    """
    bevels: Shapes = (("bevelled", STEEPEST * thickness_m), ("bevelled", 0.5 * chord_m))
    others: Shapes = tuple((each, 0.0) for each in get_args(FinEdges) if each != "bevelled")
    return bevels if edges == "bevelled" else (*bevels, *others)


def edge_range(
    fins: FinShape, mach: ArrayLike, friction: ArrayLike, area_m2: float
) -> tuple[Array, Array]:
    """Least and most drag that a fin set has, whatever its edges are shaped like.

    Of all `shapes_of` it, at each Mach number; below the speed of sound long bevels are the least
    and blunt the most. The middle is half way between the two, so that the drag of edges drawn
    evenly between them is on average that of edges that are not said.

    Parameters
        fins : FinShape - the set; edges that it says do not count, bevels of unknown width do. [-]
        mach : float or array - Mach number. [-]
        friction : float or array - mean friction coefficient on the mean chord. [-]
        area_m2 : float - reference area. [m2]
    Returns
        least, most : array - drag coefficients. [-]
    Validity
        As `fin_drag`.
    Source
        Ours.
    Example
        edge_range(fins, 0.3, 0.004, body.area_m2)
    """
    shapes = shapes_of(fins.edges, fins.thickness_m, fins.mean_chord_m)
    found = [
        fin_drag(replace(fins, edges=edges, bevel_m=bevel_m), mach, friction, area_m2)
        for edges, bevel_m in shapes
    ]
    return np.min(found, axis=0), np.max(found, axis=0)
