"""Rockets with random fins, and their fin guides, as solids (manifold3d): what touches what.

Independent of the outlines' arithmetic: the finished fin is the hull of its flat and its sharp
outline, fillets are cut from boxes by cylinders, and a guide slides on when the room it sweeps
aft of its place is free.
"""

import itertools
from math import pi
from random import Random
from typing import Final, Literal

import numpy as np
from manifold3d import (  # type: ignore[import-not-found]
    CrossSection,
    FillRule,
    Manifold,
)

from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.guide_parts import key_slots, plate_area
from goodflight.studies.bench.guide_print import PrintedGuide, Prism
from goodflight.studies.bench.guides import Guide
from goodflight.studies.bench.outlines import bevel_m
from goodflight.studies.bench.places import FinCan
from goodflight.studies.bench.planes import Area

FAR = 900.0  # mm, past any tail
BUTTON = (20.0, 12.0)  # mm: how long and wide a rail guide is drawn


def extruded(figure: Area, low: float, high: float) -> Manifold:
    """A plane figure in metres, between two heights in mm."""
    contours = [
        1e3 * np.asarray(ring.coords)[:-1]
        for piece in getattr(figure, "geoms", [figure])
        for ring in (piece.exterior, *piece.interiors)
    ]
    section = CrossSection(contours, FillRule.EvenOdd)
    return Manifold.extrude(section, high - low).translate((0, 0, low))


def finished_fin(can: FinCan) -> Manifold:
    """Fin 1 (up, in the plane x = 0) of a convex outline, its free edges shaped; z points aft."""
    fins = can.fins
    corners = 1e3 * np.asarray(fins.outline_m) + (1e3 * fins.station_m, 1e3 * fins.body_radius_m)
    half, width = 5e2 * fins.thickness_m, 1e3 * bevel_m(fins)
    flat = inset(corners, width)
    points = [(x, w, u) for u, w in flat for x in (-half, half)]
    points += [(0.0, w, u) for u, w in corners] if width else []
    return Manifold.hull_points(np.asarray(points))


def inset(corners: np.ndarray, width: float) -> np.ndarray:
    """A convex outline with its free sides moved in; the first and last corner stay on the root."""
    lines = []
    middle = corners.mean(axis=0)
    for (u0, w0), (u1, w1) in itertools.pairwise(corners):
        normal = np.array((w0 - w1, u1 - u0)) / np.hypot(u1 - u0, w1 - w0)
        normal *= np.sign(normal @ (middle - (u0, w0)))
        lines.append((normal, normal @ (u0, w0) + width))
    root = (np.array((0.0, 1.0)), corners[0][1])
    chain = [root, *lines, root]
    return np.array(
        [
            np.linalg.solve(np.array((a, b)), np.array((c, d)))
            for (a, c), (b, d) in itertools.pairwise(chain)
        ]
    )


def turned(solid: Manifold, angle_rad: float) -> Manifold:
    return solid.rotate((0.0, 0.0, angle_rad * 180.0 / pi))


def dry_rocket(can: FinCan, fins: bool = True) -> Manifold:
    """Tube, finished fins, fillets and rail guides; front view, z points aft."""
    fin, radius = can.fins, 1e3 * can.fins.body_radius_m
    tail = 1e3 * can.tube.end_m
    whole = Manifold.cylinder(400.0, radius, radius, 360).translate((0, 0, tail - 400.0))
    a, b = (1e3 * s for s in can.root_m)
    r, half = 1e3 * fin.fillet_radius_m, 5e2 * fin.thickness_m
    one = finished_fin(can)
    if r:
        low = np.sqrt((radius + r) ** 2 - (half + r) ** 2)  # of the round stick's middle
        box = Manifold.cube((2 * (half + r), low - radius + r, b - a))
        box = box.translate((-half - r, radius - r, a))
        for side in (-1.0, 1.0):
            stick = Manifold.cylinder(b - a, r, r, 96)
            box -= stick.translate((side * (half + r), low, a))
        one += box
    for i in range(fin.count if fins else 0):
        whole += turned(one, 2 * pi * i / fin.count)
    if can.buttons:
        long, wide = BUTTON
        high = 1e3 * can.buttons.height_m
        for station in (can.buttons.station_m, can.buttons.aft_station_m):
            box = Manifold.cube((wide, high + 1.0, long))
            box = box.translate((-wide / 2, radius - 1.0, 1e3 * station - long / 2))
            whole += turned(box, can.button_angle_rad)
    return whole


def swept_plates(guide: Guide) -> Manifold:
    """All the room that plates and keys take on their way from the tail to their place."""
    front = 1e3 * (guide.stations_m[0] - guide.plate_m / 2)
    room = extruded(plate_area(guide), front, front + FAR)
    for slot in key_slots(guide):
        room += extruded(slot, front, front + FAR)
    return room


def plates(guide: Guide) -> list[Manifold]:
    """The end plates in their places."""
    ends = (guide.stations_m[0], guide.stations_m[-1])
    half = guide.plate_m / 2
    return [extruded(plate_area(guide), 1e3 * (s - half), 1e3 * (s + half)) for s in ends]


def swept_print(guide: PrintedGuide) -> Manifold:
    """The same of the printed piece: ring and walls, each from its front face aft."""
    room = Manifold()
    for prism in guide.prisms:
        front = 1e3 * (guide.rear_m - prism.high_m)
        room += extruded(prism.figure, front, front + FAR)
    return room


def print_in_place(guide: PrintedGuide) -> Manifold:
    def put(prism: Prism) -> Manifold:
        low, high = (1e3 * (guide.rear_m - z) for z in (prism.high_m, prism.low_m))
        return extruded(prism.figure, low, high)

    return put(guide.prisms[0]) + put(guide.prisms[1])


EDGES: Final[tuple[Literal["blunt", "rounded", "bevelled"], ...]] = ("blunt", "rounded", "bevelled")


def random_rocket(seed: int) -> p.Rocket:
    """A tube with fins of any count, root, tip, span, sweep, edges and fillet; perhaps a rail guide
    behind the fins."""
    draw = Random(seed)
    radius = draw.uniform(0.02, 0.08)
    root = draw.uniform(0.08, 0.22)
    span = draw.uniform(0.6, 2.2) * radius
    tip = draw.uniform(0.25, 1.0) * root
    sweep = draw.uniform(0.0, 1.2) * root
    edges = draw.choice(EDGES)
    thickness = draw.uniform(0.002, 0.006)
    fins = p.Fins(
        "fins",
        0.8,
        count=draw.choice([3, 3, 4, 4, 5, 6]),
        outline_m=((0.0, 0.0), (sweep, span), (sweep + tip, span), (root, 0.0)),
        thickness_m=thickness,
        body_radius_m=radius,
        edges=edges,
        bevel_m=draw.uniform(1.0, 3.0) * thickness if edges == "bevelled" else 0.0,
        fillet_radius_m=draw.choice([0.0, draw.uniform(0.003, 0.012)]),
    )
    behind = draw.choice([0.0, 0.005, 0.02, 0.05])
    tube = p.Tube(
        "tube",
        0.2,
        length_m=0.6 + root + behind,
        outer_diameter_m=2 * radius,
        inner_diameter_m=2 * radius - 0.003,
    )
    aft = 0.8 + draw.choice([-0.1, 0.5, 1.0]) * root + (0.7 * behind if behind > 0.04 else -0.02)
    buttons = p.Buttons("guides", 0.5, aft_station_m=aft, height_m=draw.uniform(0.006, 0.012))
    nose = p.Nose("nose", 0.0, length_m=0.2, diameter_m=2 * radius, wall_m=0.002)
    return p.Rocket("random", (nose, tube, fins, *([buttons] if draw.random() < 0.7 else [])))


def near_fin_1(piece: Manifold) -> Manifold:
    """What of a piece fin 1 can touch, for speed."""
    return piece ^ Manifold.cube((20.0, 400.0, 2000.0)).translate((-10.0, 0.0, 0.0))


def leaned(can: FinCan, cant_rad: float, offset_mm: float, tilt_rad: float = 0.0) -> Manifold:
    """Fin 1, canted about the radius through its middle, tilted about its root, moved across."""
    middle, radius = 5e2 * sum(can.root_m), 1e3 * can.fins.body_radius_m
    fin = finished_fin(can).translate((0, -radius, -middle))
    fin = fin.rotate((0.0, cant_rad * 180.0 / pi, tilt_rad * 180.0 / pi))
    return fin.translate((offset_mm, radius, middle))
