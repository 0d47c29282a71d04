"""Bodies and fins as the aerodynamic functions want them: plain arrays and numbers.

A `BodyShape` is an outline of straight pieces; a `FinShape` is one set of equal fins boiled down
from any polygon to area, span, chords, sweeps. Published geometries are fed in the same way as a
rocket's. Left out: fins that lap over each other along the span, bodies that are not round.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.vehicle.part import Outer, Part, of_kind
from goodflight.physics.vehicle.parts import Buttons, FinEdges, Fins, Nose, Rocket
from goodflight.physics.vehicle.profile import outer_profile
from goodflight.physics.vehicle.shapes import NoseShape

Array = NDArray[np.float64]
NODES, WEIGHTS = np.polynomial.legendre.leggauss(3)  # exact for the cubics of a straight edge


@dataclass(frozen=True, eq=False)
class BodyShape:
    """A body of revolution: outline, nose, and its areas."""

    stations_m: Array
    radii_m: Array
    nose_length_m: float
    nose_shape: NoseShape
    diameter_m: float  # greatest
    wetted_m2: float
    planform_m2: float
    planform_cp_m: float

    @property
    def length_m(self) -> float:
        """Length along the axis [m]."""
        return float(self.stations_m[-1] - self.stations_m[0])

    @property
    def fineness(self) -> float:
        """Length over greatest diameter [-]."""
        return self.length_m / self.diameter_m

    @property
    def area_m2(self) -> float:
        """Greatest cross-section, the reference area [m2]."""
        return float(np.pi) * self.diameter_m**2 / 4.0

    @property
    def base_radius_m(self) -> float:
        """Radius at the tail [m]."""
        return float(self.radii_m[-1])


@dataclass(frozen=True)
class FinShape:
    """A set of equal fins. Distances aft are from the nose tip, outward from the body's axis."""

    count: int
    area_m2: float  # one exposed panel
    span_m: float  # exposed semi-span
    root_m: float  # root chord
    taper: float  # of the trapezoid with the same area, span and span-wise centroid
    mean_chord_m: float  # mean aerodynamic chord
    quarter_m: float  # station of the area's mean quarter chord
    half_m: float  # and of its mean half chord (the centroid)
    centroid_m: float  # outward of the axis, of the area
    radius2_m2: float  # mean square distance from the axis, weighted with area
    tan_lead: float  # tangent of sweep of the leading edge, mean over the span
    tan_half: float  # of the half-chord line
    body_radius_m: float
    thickness_m: float
    edges: FinEdges | None  # None = not said
    bevel_m: float

    @property
    def aspect(self) -> float:
        """Aspect ratio of two panels joined at their roots [-]."""
        return 2.0 * self.span_m**2 / self.area_m2

    @property
    def tau(self) -> float:
        """Semi-span from the axis over body radius [-]."""
        return 1.0 + self.span_m / self.body_radius_m


@dataclass(frozen=True)
class GuideShape:
    """Rail guides: how many and how big each looks from ahead."""

    count: int
    frontal_m2: float


def _strips(outline: Array) -> tuple[Array, Array, Array, Array]:
    """Heights, leading-edge positions, chords and weights of exact strips across a polygon."""
    levels = np.unique(outline[:, 1])
    levels = levels[np.concatenate(([True], np.diff(levels) > 1e-9 * (levels[-1] - levels[0])))]
    half = 0.5 * np.diff(levels)[:, None]
    w = (levels[:-1, None] + half * (1.0 + NODES)).ravel()
    weight = (half * WEIGHTS).ravel()
    u0, w0 = outline.T
    u1, w1 = np.roll(u0, -1), np.roll(w0, -1)
    rise = np.where(w1 == w0, 1.0, w1 - w0)
    t = (w[:, None] - w0) / rise
    crossing = (w1 != w0) & (t >= 0.0) & (t <= 1.0)
    u = u0 + t * (u1 - u0)
    lead = np.min(np.where(crossing, u, np.inf), axis=1)
    trail = np.max(np.where(crossing, u, -np.inf), axis=1)
    return w, lead, trail - lead, weight


def fin_shape(
    count: int,
    station_m: float,
    outline_m: ArrayLike,
    body_radius_m: float,
    *,
    thickness_m: float = 0.0,
    edges: FinEdges | None = None,
    bevel_m: float = 0.0,
) -> FinShape:
    """One set of fins of any polygon, boiled down to what the slope and drag formulas need.

    Strips across the span, exact for straight edges. Sweeps are straight lines fitted to the
    leading edge and the half chord with the chord as weight, exact for straight edges.

    Parameters
        count : int - number of fins. [-]
        station_m : float - of the root's leading edge, from the nose tip. [m]
        outline_m : array (n, 2) - corners (aft of the root's leading edge, outward). [m]
        body_radius_m : float - of the body at the root. [m]
        thickness_m : float - of the plate. [m]
        edges : str or None - blunt, rounded, bevelled or faired; None = not said. [-]
        bevel_m : float - width of the bevel of bevelled edges. [m]
    Returns
        fins : FinShape - the set. [m, m2]
    Raises
        ValueError - fewer than three corners, no span, no area, no body at the root.
    Validity
        Outlines that one strip along the chord cuts once; notches are filled in.
    Source
        Geometry.
    Example
        fin_shape(4, 0.9, [(0, 0), (0, 0.1), (0.1, 0.1), (0.1, 0)], 0.05).aspect -> 2.0
    """
    outline = np.asarray(outline_m, dtype=np.float64)
    if outline.ndim != 2 or len(outline) < 3 or np.ptp(outline[:, 1]) <= 0.0:
        raise ValueError(
            f"a fin outline of {len(outline)} corners without area; give at least three corners "
            "(aft, outward) that enclose an area"
        )
    if body_radius_m <= 0.0:
        raise ValueError("fins where there is no body; check their station and the lengths before")
    w, lead, chord, weight = _strips(outline)
    area = float(weight @ chord)
    if area <= 0.0:
        raise ValueError("a fin outline that encloses no area; check the order of its corners")
    span = float(np.max(outline[:, 1]))
    share = weight * chord / area
    centroid = float(share @ w)
    offset = w - centroid
    spread = float(share @ offset**2)
    ratio = 3.0 * centroid / span
    x = station_m + lead
    y = body_radius_m + w
    root = chord[0] + (chord[0] - chord[1]) / (w[1] - w[0]) * w[0]
    return FinShape(
        count=count,
        area_m2=area,
        span_m=span,
        root_m=float(root),
        taper=float(np.clip((ratio - 1.0) / (2.0 - min(ratio, 1.99)), 0.0, 1.0)),
        mean_chord_m=float(share @ chord),
        quarter_m=float(share @ (x + 0.25 * chord)),
        half_m=float(share @ (x + 0.5 * chord)),
        centroid_m=body_radius_m + centroid,
        radius2_m2=float(share @ y**2),
        tan_lead=float(share @ (offset * lead)) / spread,
        tan_half=float(share @ (offset * (lead + 0.5 * chord))) / spread,
        body_radius_m=body_radius_m,
        thickness_m=thickness_m,
        edges=edges,
        bevel_m=bevel_m,
    )


@dataclass(frozen=True, eq=False)
class Shape:
    """Everything of a rocket that the air feels."""

    body: BodyShape
    fins: tuple[FinShape, ...]
    guides: tuple[GuideShape, ...]
    roughness_m: float


@lru_cache(maxsize=256)
def _body_of(outer: tuple[Part, ...]) -> BodyShape:
    """Body shape of nose, tubes and transitions; remembered, since most changes leave it alone."""
    profile = outer_profile(Rocket("outline", outer))
    nose = next(iter(of_kind(outer, Nose)), None)
    for array in (profile.stations_m, profile.radii_m):
        array.setflags(write=False)
    return BodyShape(
        stations_m=profile.stations_m,
        radii_m=profile.radii_m,
        nose_length_m=nose.length_m if nose else 0.0,
        nose_shape=nose.shape if nose else "tangent_ogive",
        diameter_m=profile.reference_diameter_m,
        wetted_m2=profile.wetted_area_m2,
        planform_m2=profile.planform_area_m2,
        planform_cp_m=profile.planform_centroid_m,
    )


@lru_cache(maxsize=256)
def fins_shape(part: Fins) -> FinShape:
    """Fin shape of a fin set as the air sees it; remembered likewise.

    Parameters
        part : Fins - of the rocket. [m]
    Returns
        shape : FinShape - the same set. [m]
    Validity
        As `fin_shape`.
    Source
        Geometry.
    Example
        fins_shape(part).mean_chord_m -> 0.1
    """
    return fin_shape(
        part.count,
        part.station_m,
        part.outline_m,
        part.body_radius_m,
        thickness_m=part.thickness_m,
        edges=part.edges,
        bevel_m=part.bevel_m,
    )


def rocket_shape(rocket: Rocket) -> Shape:
    """The rocket as the air sees it, from its parts.

    Guides without a frontal area get a square of their stand-off.

    Parameters
        rocket : Rocket - all parts. [-]
    Returns
        shape : Shape - body, fin sets, guides, finish. [m, m2]
    Raises
        ValueError - outline or fin polygon that does not enclose anything.
    Validity
        Round bodies; stations counted from the nose tip.
    Source
        Geometry.
    Example
        rocket_shape(rocket).body.fineness -> 15.4
    """
    outer = rocket.of_kind(Outer)
    if not outer:
        outer_profile(rocket)  # refuses it with the rocket's name
    fins = tuple(fins_shape(p) for p in rocket.of_kind(Fins))
    guides = tuple(
        GuideShape(2, p.frontal_area_m2 or p.height_m**2) for p in rocket.of_kind(Buttons)
    )
    return Shape(_body_of(outer), fins, guides, rocket.roughness_m)
