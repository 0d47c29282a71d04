"""The outer body as one outline: stations and radii for aerodynamics and drawing.

The outer body is every nose, tube and transition, front to back. It must be whole: a gap or an
overlap of more than 1 mm between neighbours is refused. Fins, guides and insides are left out.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle import solids
from goodflight.physics.vehicle.part import Outer
from goodflight.physics.vehicle.parts import Rocket

Array = NDArray[np.float64]

SEAM_M: Final = 1e-3  # largest gap or overlap between neighbours


@dataclass(frozen=True)
class BodySegment:
    """One outer part: where it lies, its end radii, and its surface, volume and side area."""

    name: str
    start_m: float  # station
    end_m: float
    fore_radius_m: float
    aft_radius_m: float
    wetted_area_m2: float
    wetted_centroid_m: float  # station
    volume_m3: float
    planform_area_m2: float
    planform_centroid_m: float  # station

    @property
    def length_m(self) -> float:
        """Length along the axis [m]."""
        return self.end_m - self.start_m


@dataclass(frozen=True, eq=False)
class BodyProfile:
    """The outer body, nose tip to tail.

    `stations_m` never falls; where the diameter steps, a station stands twice. Tubes have
    two points, transitions 21, noses 81, closer together at the tip.
    """

    stations_m: Array
    radii_m: Array
    segments: tuple[BodySegment, ...]
    base_radius_m: float
    reference_diameter_m: float  # greatest body diameter

    @property
    def start_m(self) -> float:
        """Station of the foremost point [m]; 0 unless the rocket was moved."""
        return float(self.stations_m[0])

    @property
    def end_m(self) -> float:
        """Station of the tail end of the body [m]."""
        return float(self.stations_m[-1])

    @property
    def length_m(self) -> float:
        """Length of the body [m]."""
        return self.end_m - self.start_m

    @property
    def reference_area_m2(self) -> float:
        """Area of the greatest body section [m2]."""
        return float(np.pi) * self.reference_diameter_m**2 / 4.0

    @property
    def wetted_area_m2(self) -> float:
        """Area of the outer skin, base not counted [m2]."""
        return sum(s.wetted_area_m2 for s in self.segments)

    @property
    def volume_m3(self) -> float:
        """Volume inside the outer skin [m3]."""
        return sum(s.volume_m3 for s in self.segments)

    @property
    def planform_area_m2(self) -> float:
        """Side area [m2]."""
        return sum(s.planform_area_m2 for s in self.segments)

    @property
    def planform_centroid_m(self) -> float:
        """Station of the side area's centroid [m]."""
        moment = sum(s.planform_area_m2 * s.planform_centroid_m for s in self.segments)
        return moment / self.planform_area_m2


def outer_parts(rocket: Rocket) -> tuple[Outer, ...]:
    """The parts that make the outer body, front to back, checked to be whole.

    Parameters
        rocket : Rocket - all parts, in any order. [-]
    Returns
        parts : tuple of Outer - sorted by station. [-]
    Raises
        ValueError - no outer part, no length, a gap or an overlap
    Validity
        Seams up to 1 mm are accepted as they are.
    Source
        Project convention.
    Example
        >>> [p.name for p in outer_parts(Rocket("r", (Tube("t", 0.0, length_m=1.0,
        ...                                               outer_diameter_m=0.1),)))]
        ['t']
    """
    found = list(rocket.of_kind(Outer))
    if not found:
        raise ValueError(
            f"rocket '{rocket.name}' has no outer body; give it a nose and at least one tube."
        )
    found.sort(key=lambda p: (p.station_m, p.end_m))
    for part in found:
        if part.length_m <= 0.0:
            raise ValueError(
                f"part '{part.name}': length {part.length_m:g} m; an outer part must be longer "
                "than zero."
            )
    for fore, aft in pairwise(found):
        gap = aft.station_m - fore.end_m
        if abs(gap) > SEAM_M:
            kind = "a gap" if gap > 0 else "an overlap"
            raise ValueError(
                f"{kind} of {abs(gap) * 1e3:.1f} mm between '{fore.name}' (ends at "
                f"{fore.end_m:.4f} m) and '{aft.name}' (starts at {aft.station_m:.4f} m); "
                "outer parts must meet within 1 mm. Correct a station or a length."
            )
    return tuple(found)


def _segment(part: Outer) -> BodySegment:
    curve = part.meridian()
    fore, aft = part.end_radii_m
    surface = solids.skin(curve, part.length_m)
    side, side_centroid = solids.planform(curve, part.length_m)
    return BodySegment(
        name=part.name,
        start_m=part.station_m,
        end_m=part.end_m,
        fore_radius_m=fore,
        aft_radius_m=aft,
        wetted_area_m2=surface.amount,
        wetted_centroid_m=part.station_m + surface.centroid_m,
        volume_m3=part.full_m3(),
        planform_area_m2=side,
        planform_centroid_m=part.station_m + side_centroid,
    )


def outer_profile(rocket: Rocket) -> BodyProfile:
    """Outline of the outer body with areas and volumes, for aerodynamics and drawing.

    Parameters
        rocket : Rocket - all parts. [-]
    Returns
        profile : BodyProfile - stations [m], radii [m], segments, base radius [m], reference
        diameter [m].
    Raises
        ValueError - see outer_parts and shapes.check_shape
    Validity
        Straight lines between the stations are exact for tubes and transitions and within 0.1 %
        of the base radius for noses; areas and volumes are integrated from the exact outline.
    Source
        Geometry.
    Example
        >>> body = outer_profile(Rocket("r", (
        ...     Nose("n", 0.0, length_m=0.24, diameter_m=0.079),
        ...     Tube("t", 0.24, length_m=0.98, outer_diameter_m=0.079, inner_diameter_m=0.076))))
        >>> round(body.length_m, 3), round(body.base_radius_m, 4)
        (1.22, 0.0395)
    """
    found: BodyProfile | None = rocket.kept.get(outer_profile)
    if found is None:
        found = rocket.kept[outer_profile] = _profile(rocket)
    return found


def _profile(rocket: Rocket) -> BodyProfile:
    stations: list[Array] = []
    radii: list[Array] = []
    segments = []
    for part in outer_parts(rocket):
        segments.append(_segment(part))
        x = part.drawn_at_m()
        stations.append(part.station_m + x)
        radii.append(part.meridian()(x)[0])
    all_radii = np.concatenate(radii)
    return BodyProfile(
        stations_m=np.maximum.accumulate(np.concatenate(stations)),
        radii_m=all_radii,
        segments=tuple(segments),
        base_radius_m=segments[-1].aft_radius_m,
        reference_diameter_m=2.0 * float(np.max(all_radii)),
    )


def body_length_m(rocket: Rocket) -> float:
    """Length of the outer body, nose tip to tail end [m].

    Parameters
        rocket : Rocket - its parts. [-]
    Returns
        length : float - of the outer parts. [m]
    Source
        Geometry.
    """
    parts = outer_parts(rocket)
    return parts[-1].end_m - parts[0].station_m


def reference_diameter_m(rocket: Rocket) -> float:
    """Greatest diameter of the outer body: the reference length of coefficients, 1 calibre [m].

    Parameters
        rocket : Rocket - its parts. [-]
    Returns
        diameter : float - outside. [m]
    Source
        Definition.
    """
    return 2.0 * max(max(p.end_radii_m) for p in outer_parts(rocket))
