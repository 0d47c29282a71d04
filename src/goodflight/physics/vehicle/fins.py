"""Mass integrals of a fin set: panels of any polygon, tabs, bevels, glue fillets, faces to paint.

One fin lies in a plane through the rocket's axis: u runs aft from the leading edge of the root,
w outward from the body surface. The set of N equal fins is spread evenly round the body, so its
transverse inertia is the same about every axis for N >= 3 (for 1 or 2 fins the mean of the two
axes is given). Left out: the curve of the body under the root, twist.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, pi, sqrt, tau

import numpy as np

from goodflight.physics.vehicle.parts import FinEdges, Fins
from goodflight.physics.vehicle.solids import Solid

# what is left of a sheet of even thickness after shaping it to a symmetric four-digit section:
# area / (chord x thickness) = 10 (.2969*2/3 - .1260/2 - .3516/3 + .2843/4 - .1015/5)
AIRFOIL_FILL = 10.0 * (0.2969 * 2 / 3 - 0.1260 / 2 - 0.3516 / 3 + 0.2843 / 4 - 0.1015 / 5)

# ... and by the widest bevel there can be: one over the whole chord, or two that meet
WEDGE_FILL = 0.5


@dataclass(frozen=True)
class Panel:
    """Area integrals of a flat figure in its own plane, about the origin of u and w."""

    area_m2: float
    u_m: float  # centroid aft of the root's leading edge
    w_m: float  # centroid outward of the body surface
    uu: float  # second moments about the centroid [m4]
    ww: float


def panel(outline_m: tuple[tuple[float, float], ...]) -> Panel:
    """Area, centroid and second moments of a fin's outline, for mass and drawing.

    Shoelace sums over the edges; the sense of the outline does not matter.

    Parameters
        outline_m : tuple of (aft, outward) - corners in order, root leading edge first. [m]
    Returns
        panel : Panel - area, centroid, second moments about the centroid. [m2, m, m4]
    Raises
        ValueError - fewer than three corners or no area
    Validity
        Any polygon that does not cross itself.
    Source
        Green's theorem; derived.
    Example
        >>> panel(((0, 0), (0, 1), (2, 1), (2, 0))).area_m2
        2.0
    """
    if len(outline_m) < 3:
        raise ValueError(
            f"a fin outline needs at least three corners, {len(outline_m)} given; list them from "
            "the root's leading edge to the root's trailing edge."
        )
    area = u = w = uu = ww = 0.0
    closed = (*outline_m, outline_m[0])
    for (u0, w0), (u1, w1) in pairwise(closed):
        cross = u0 * w1 - u1 * w0
        area += cross / 2.0
        u += (u0 + u1) * cross / 6.0
        w += (w0 + w1) * cross / 6.0
        uu += (u0 * u0 + u0 * u1 + u1 * u1) * cross / 12.0
        ww += (w0 * w0 + w0 * w1 + w1 * w1) * cross / 12.0
    if area == 0.0:
        raise ValueError("the fin outline has no area; its corners lie on one line.")
    u, w = u / area, w / area
    sign = 1.0 if area > 0.0 else -1.0
    area, uu, ww = sign * area, sign * uu, sign * ww
    return Panel(area, u, w, uu - area * u * u, ww - area * w * w)


def root_chord_m(fins: Fins) -> float:
    """Length of the fin's root along the body, for fillets and bonds.

    Parameters
        fins : Fins - the fin set. [-]
    Returns
        chord : float - from the first to the last outline point on the body. [m]
    Raises
        ValueError - fewer than two corners on the body
    Validity
        Corners on the body are those with |outward| below 0.1 mm.
    Source
        Geometry.
    Example
        >>> root_chord_m(Fins("f", 1.0, outline_m=((0, 0), (0.1, 0.1), (0.15, 0))))
        0.15
    """
    on_body = [u for u, w in fins.outline_m if abs(w) < 1e-4]
    if len(on_body) < 2:
        raise ValueError(
            f"fin set '{fins.name}' has {len(on_body)} outline corner(s) on the body; it needs the "
            "root's leading and trailing edge with outward = 0."
        )
    return max(on_body) - min(on_body)


def _edge_rods(fins: Fins) -> list[tuple[float, float, float, float, float]]:
    """Volume taken off along each free edge: (volume, u, w, own uu, own ww) of a thin rod."""
    t = fins.thickness_m
    if fins.edges == "rounded":
        section_m2 = t * t * (0.5 - pi / 8.0)  # half square less half circle
    elif fins.edges == "bevelled":
        section_m2 = 0.5 * fins.bevel_m * t  # two triangles of width b, height t/2
    else:
        return []
    rods = []
    for (u0, w0), (u1, w1) in pairwise((*fins.outline_m, fins.outline_m[0])):
        if abs(w0) < 1e-4 and abs(w1) < 1e-4:
            continue  # the root
        volume = section_m2 * hypot(u1 - u0, w1 - w0)
        rods.append(
            (
                -volume,
                (u0 + u1) / 2.0,
                (w0 + w1) / 2.0,
                -volume * (u1 - u0) ** 2 / 12.0,
                -volume * (w1 - w0) ** 2 / 12.0,
            )
        )
    return rods


def _fill(fins: Fins) -> float:
    """Share of the sheet left in the panel; halfway where nothing says how far it was shaped."""
    if shaped_unsaid(fins.edges, fins.bevel_m):
        return 0.5 * (1.0 + WEDGE_FILL)
    return AIRFOIL_FILL if fins.edges == "faired" else 1.0


def shaped_unsaid(edges: FinEdges | None, bevel_m: float) -> bool:
    """Whether nobody says how far edges were shaped: not how, or bevelled but not how wide.

    Parameters
        edges : str or None - as the builder says; None = not said. [-]
        bevel_m : float - width of a bevel, 0 = not said. [m]
    Returns
        unsaid : bool - true where drag and mass are a range. [-]
    Validity
        Any.
    Source
        Ours.
    Example
        >>> shaped_unsaid("bevelled", 0.0)
        True
    """
    return edges is None or (edges == "bevelled" and bevel_m <= 0.0)


def edges_sigma_m3(fins: Fins) -> float:
    """One standard deviation of the volume of a fin set whose edges nobody described.

    Anything from bevels that meet (half of the sheet; a faired section lies between) to the whole
    sheet is as likely: a flat law between the two. So it is of bevels whose width is not told.

    Parameters
        fins : Fins - the fin set. [-]
    Returns
        sigma : float - 0 where the edges are told, and how wide bevelled ones are. [m3]
    Raises
        ValueError - outline without area
    Validity
        As fin_solid.
    Source
        Variance of a flat law; the bounds are those of fin_solid.
    Example
        >>> plate = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
        >>> fins = Fins("f", 1.0, count=4, outline_m=plate, thickness_m=0.004)
        >>> round(edges_sigma_m3(fins) * 1e6, 1)
        23.1
    """
    if not shaped_unsaid(fins.edges, fins.bevel_m):
        return 0.0
    sheet_m3 = fins.count * panel(fins.outline_m).area_m2 * fins.thickness_m
    return sheet_m3 * (1.0 - WEDGE_FILL) / sqrt(12.0)


def _place_around(
    count: int, pieces: list[tuple[float, float, float, float, float]], radius_m: float, tt: float
) -> Solid:
    """Sum the pieces (amount, u, w, uu, ww) of one fin and set `count` of them round the body.

    tt is the mean square distance from the fin's mid-plane. Pitch: sum of axial spread and half
    of the radial second moment, which is exact for three or more fins.
    """
    amount = sum(p[0] for p in pieces)
    if amount <= 0.0:
        return Solid(0.0, pieces[0][1], 0.0, 0.0)
    centroid = sum(p[0] * p[1] for p in pieces) / amount
    axial = sum(p[3] + p[0] * (p[1] - centroid) ** 2 for p in pieces)
    radial = sum(p[4] + p[0] * (radius_m + p[2]) ** 2 for p in pieces) + amount * tt
    return Solid(count * amount, centroid, count * (axial + 0.5 * radial), count * radial)


def fin_solid(fins: Fins) -> Solid:
    """Volume integrals of the whole fin set with tabs, bevels and section, per unit density.

    Panel of even thickness x its section's fill, less rods along bevelled or rounded edges, plus
    a rectangular tab inside the body.

    Parameters
        fins : Fins - the fin set. [-]
    Returns
        solid : Solid - volume, centroid aft of the root's leading edge, inertias. [m3, m, m5, m5]
    Raises
        ValueError - outline without area, tab deeper than the body's radius
    Validity
        Thin fins; the airfoil's fill is even over the chord (its CG moves forward in truth by
        about 0.08 of the local chord). Own transverse inertia of 1 or 2 fins is the mean.
    Source
        Derived; fill of a four-digit section from its thickness polynomial (Abbott & von
        Doenhoff 1959, memory).
    Example
        >>> square = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
        >>> fins = Fins("f", 1.0, count=4, outline_m=square, thickness_m=0.004, edges="blunt")
        >>> round(fin_solid(fins).amount, 9)
        0.00016
    """
    if fins.tab_depth_m > fins.body_radius_m:
        raise ValueError(
            f"fin set '{fins.name}': tab depth {fins.tab_depth_m:g} m is greater than the body's "
            f"radius {fins.body_radius_m:g} m; the tabs would meet. Make the tab shallower."
        )
    shape = panel(fins.outline_m)
    t = fins.thickness_m * _fill(fins)
    pieces = [(shape.area_m2 * t, shape.u_m, shape.w_m, shape.uu * t, shape.ww * t)]
    pieces += _edge_rods(fins)
    length, depth = fins.tab_length_m, fins.tab_depth_m
    if length > 0.0 and depth > 0.0:
        volume = length * depth * fins.thickness_m
        pieces.append(
            (
                volume,
                fins.tab_offset_m + length / 2.0,
                -depth / 2.0,
                volume * length**2 / 12.0,
                volume * depth**2 / 12.0,
            )
        )
    return _place_around(fins.count, pieces, fins.body_radius_m, fins.thickness_m**2 / 12.0)


def fillet_solid(fins: Fins) -> Solid:
    """Volume integrals of the glue fillets of a fin set, per unit density.

    Two to a fin, along the root; section (1 - pi/4) r^2, centroid 0.2234 r from both surfaces.

    Parameters
        fins : Fins - the fin set with `fillet_radius_m`. [-]
    Returns
        solid : Solid - volume, centroid aft of the root's leading edge, inertias. [m3, m, m5, m5]
    Raises
        ValueError - see root_chord_m
    Validity
        Body radius well above the fillet's, so that the corner is nearly square: at r/R = 0.3 the
        section is about a tenth larger than taken here.
    Source
        Geometry: square less quarter circle; centroid r (10 - 3 pi)/(3 (4 - pi)); derived.
    Example
        >>> fins = Fins("f", 1.0, count=3, outline_m=((0, 0), (0.1, 0.1), (0.15, 0)),
        ...             fillet_radius_m=0.01)
        >>> round(fillet_solid(fins).amount * 1e6, 3)
        19.314
    """
    chord, r = root_chord_m(fins), fins.fillet_radius_m
    start = min(u for u, w in fins.outline_m if abs(w) < 1e-4)
    volume = 2.0 * (1.0 - pi / 4.0) * r * r * chord
    offset = r * (10.0 - 3.0 * pi) / (3.0 * (4.0 - pi))
    piece = (volume, start + chord / 2.0, offset, volume * chord**2 / 12.0, 0.0)
    return _place_around(fins.count, [piece], fins.body_radius_m, offset**2)


def fillet_kg(fins: Fins) -> float:
    """Glue in the outer fillets of a fin set: its density times their volume [kg].

    Parameters
        fins : Fins - with `fillet_radius_m` and `fillet_density_kg_m3`. [-]
    Returns
        mass : float - of all fillets. [kg]
    Source
        Geometry.
    Example
        >>> fins = Fins("f", 1.0, count=3, outline_m=((0, 0), (0.1, 0.1), (0.15, 0)),
        ...             fillet_radius_m=0.01, fillet_density_kg_m3=1150.0)
        >>> round(fillet_kg(fins), 5)
        0.02221
    """
    return fins.fillet_density_kg_m3 * fillet_solid(fins).amount


def fin_faces(fins: Fins) -> Solid:
    """Area integrals of both faces of all fins, for the paint film.

    Parameters
        fins : Fins - the fin set. [-]
    Returns
        solid : Solid - area, centroid aft of the root's leading edge, inertias. [m2, m, m4, m4]
    Raises
        ValueError - outline without area
    Validity
        Edges are left out (about thickness / span of the area).
    Source
        Geometry; derived.
    Example
        >>> square = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
        >>> round(fin_faces(Fins("f", 1.0, count=4, outline_m=square)).amount, 9)
        0.08
    """
    shape = panel(fins.outline_m)
    piece = (2.0 * shape.area_m2, shape.u_m, shape.w_m, 2.0 * shape.uu, 2.0 * shape.ww)
    return _place_around(fins.count, [piece], fins.body_radius_m, (fins.thickness_m / 2.0) ** 2)


def half_gap_rad(fins: Fins) -> float:
    """Angle about the axis from a fin to the middle between it and the next [rad].

    Parameters
        fins : Fins - evenly spread. [-]
    Returns
        angle : float - pi over their number. [rad]
    Source
        Geometry.
    """
    return pi / fins.count


def fin_angles_rad(fins: Fins) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Angle of every fin about the rocket's axis, for the end view and cant of single fins.

    Parameters
        fins : Fins - the fin set. [-]
    Returns
        angles : array (count,) - roll phase plus equal steps. [rad]
    Raises
        nothing
    Validity
        Evenly spread fins.
    Source
        Geometry.
    Example
        >>> [round(float(a), 4) for a in fin_angles_rad(Fins("f", 1.0, count=4))]
        [0.0, 1.5708, 3.1416, 4.7124]
    """
    return fins.roll_phase_rad + 2.0 * pi * np.arange(fins.count) / fins.count


def rail_guide_angle_rad(sets: Sequence[Fins]) -> float:
    """Angle about the axis of the line the rail guides stand on, for every view and template.

    Down (pi from the datum that fin angles are counted from), or the middle of the gap between
    two fins that is nearest to down; of two as near, the first.

    Parameters
        sets : sequence of Fins - all fin sets of the rocket. [-]
    Returns
        angle : float - about the axis, from 0 to 2 pi. [rad]
    Raises
        nothing
    Validity
        A convention of this program: with fin 1 up the rail lies opposite to it.
    Source
        Geometry.
    Example
        >>> round(rail_guide_angle_rad([Fins("f", 1.0, count=4)]) / pi, 6)
        0.75
    """
    angles = sorted(float(angle) % tau for fins in sets for angle in fin_angles_rad(fins))
    if not angles:
        return pi
    following = [*angles[1:], angles[0] + tau]
    gaps = [(a + b) / 2.0 % tau for a, b in zip(angles, following, strict=True)]
    return min(gaps, key=lambda gap: (round(abs(gap - pi), 9), gap))
