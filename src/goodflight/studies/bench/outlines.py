"""Outlines to cut: fins, rings, bulkheads, sled, slots, with what is written on each.

Answers "what exactly do I cut?" from the flight's own parts. Outlines are the finished part; the
width of the cut is added by the nesting and told in the notes. Left out: shapes inside printed
noses, hardware.
"""

from collections.abc import Sequence
from math import cos, hypot, pi, sin, sqrt
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.quantity.said import Words as Sentence
from goodflight.quantity.said import either, said
from goodflight.studies.bench.anchors import anchor_holes
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.limits import (
    bulkhead_limits,
    limits_words,
    ring_limits,
    slot_limits,
)
from goodflight.studies.bench.places import FinCan, fin_can, of_kind
from goodflight.studies.bench.planes import area, chain, pieces_of
from goodflight.studies.bench.shapes import (
    Circle,
    Line,
    Point,
    Shape,
    Template,
    Words,
    cross,
    rectangle,
)
from goodflight.studies.bench.sizes import (
    disc_sizes,
    fin_sizes,
    ring_sizes,
    slot_sizes,
)
from goodflight.studies.bench.sled import sled_template

EYE_BOLT: Final = either(
    "Hole for a 6 mm eye bolt with a washer on both sides.",
    "Hole for a 1/4 in eye bolt with a washer on both sides.",
)
ROOMY_M: Final = 0.014  # radius of a bore that has room for the ring's name


def fin_corners(fins: p.Fins) -> tuple[Point, ...]:
    """Corners of one fin with its tab: aft of the root's front, outward of the body [m].

    Example
        >>> square = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
        >>> len(fin_corners(p.Fins("f", 1.0, outline_m=square, tab_length_m=0.05,
        ...     tab_depth_m=0.01, tab_offset_m=0.02)))
        8
    """
    free = tuple((float(x), float(y)) for x, y in fins.outline_m)
    if fins.tab_length_m <= 0.0 or fins.tab_depth_m <= 0.0:
        return free
    front, rear = fins.tab_offset_m, fins.tab_offset_m + fins.tab_length_m
    deep = -fins.tab_depth_m
    tab = ((rear, 0.0), (rear, deep), (front, deep), (front, 0.0))
    return (*free, *(corner for corner in tab if corner not in free))


def bevel_m(fins: p.Fins) -> float:
    """How far in from the free edges the shaping of the edge begins [m]; 0 = square edges."""
    if fins.edges == "bevelled":
        return fins.bevel_m or 2.0 * fins.thickness_m
    if fins.edges == "rounded":
        return fins.thickness_m / 2.0
    return 0.0


def _bevel_lines(fins: p.Fins) -> list[Line]:
    width = bevel_m(fins)
    panel = area(fins.outline_m)
    free = chain(fins.outline_m)  # root front, over the tip, to the root's rear
    if width <= 0.0 or panel.is_empty:
        return []
    side = 1.0 if panel.exterior.is_ccw else -1.0
    offset = free.offset_curve(side * width, join_style="mitre", mitre_limit=20.0)
    inside = offset.intersection(panel)
    pieces = pieces_of(inside)
    return [
        Line(tuple((float(x), float(y)) for x, y in piece.coords), "bevel")
        for piece in pieces
        if piece.geom_type == "LineString" and piece.length > width
    ]


def _grain(fins: p.Fins) -> list[Line]:
    """An arrow along the leading edge: grain along it keeps the tip from splitting off."""
    (x0, y0), (x1, y1) = fins.outline_m[0], fins.outline_m[1]
    long = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    centre = area(fins.outline_m).centroid
    reach, barb = 0.3 * long, 0.004
    tail = (centre.x - reach * ux, centre.y - reach * uy)
    tip = (centre.x + reach * ux, centre.y + reach * uy)
    barbs = [
        Line(
            (
                tip,
                (
                    tip[0] - barb * ux + s * 0.5 * barb * uy,
                    tip[1] - barb * uy - s * 0.5 * barb * ux,
                ),
            ),
            "grain",
        )
        for s in (1.0, -1.0)
    ]
    return [Line((tail, tip), "grain"), *barbs]


def fin_template(can: FinCan) -> Template:
    """One fin with tab, bevel lines and grain arrow."""
    fins = can.fins
    root = can.root_m[1] - can.root_m[0]
    centre = area(fins.outline_m).centroid
    shapes: list[Shape] = [Line(fin_corners(fins), "cut", True), *_bevel_lines(fins)]
    shapes += _grain(fins)
    shapes.append(Words(f"{fins.name}: make {fins.count}", (centre.x, centre.y - 0.008)))
    shapes.append(Words("front", (0.15 * root, 0.003), 0.0025))
    if can.tab_m:
        shapes.append(Line(((0.0, 0.0), (root, 0.0)), "mark"))
        middle = fins.tab_offset_m + fins.tab_length_m / 2.0
        shapes.append(Words("tab", (middle, -fins.tab_depth_m / 2.0 - 0.001), 0.0025))
    sizes = [("root", root), ("span", can.span_m)]
    if can.tab_m:
        sizes += [("tab length", fins.tab_length_m), ("tab depth", fins.tab_depth_m)]
    notes = ["Cut all fins as one stack, sand the stack to the line, then separate them."]
    notes.append("Outer grain along the arrow, along the leading edge.")
    if fins.edges == "bevelled" and not fins.bevel_m:
        notes.append("Bevel width is not in the project: drawn as twice the thickness.")
    elif fins.edges == "rounded":
        notes.append("Round the free edges to half the thickness; leave root and tab square.")
    title = "Fin" if fins.name in ("fin", "fins") else f"Fin of {fins.name}"
    return Template(
        key=f"fin-{fins.name}",
        seen="either side up",
        title=title,
        shapes=tuple(shapes),
        count=fins.count,
        material=material_words(fins),
        thickness_m=fins.thickness_m,
        notes=tuple(notes),
        sizes=tuple(sizes),
        grain=True,
        dims=fin_sizes(can),
    )


def slot_template(can: FinCan, choices: Choices) -> Template | None:
    """The slot in the tube for one fin tab, None without tabs."""
    tab = can.tab_m
    if tab is None:
        return None
    long = tab[1] - tab[0] + choices.clearance_m
    wide = can.fins.thickness_m + choices.clearance_m
    shapes: tuple[Shape, ...] = (
        rectangle(-long / 2, -wide / 2, long / 2, wide / 2),
        Line(((-long / 2 - 0.012, 0.0), (long / 2 + 0.012, 0.0)), "mark"),
        *(Circle((s * (long / 2 - wide / 2), 0.0), wide / 2, "mark") for s in (-1.0, 1.0)),
        Words(f"slot for {can.fins.name}: cut {can.fins.count}", (0.0, 0.006)),
    )
    tail = can.tube.end_m
    notes = (
        said(
            "From the tube's rear edge: {rear} to the slot's rear, {front} to its front.",
            rear=(tail - tab[1], "size"),
            front=(tail - tab[0], "size"),
        ),
        "Drill the two ends first, then cut with a fresh blade in several light passes.",
    )
    return Template(
        key="slot",
        seen="printed side out",
        title=f"Slot in {can.tube.name}",
        shapes=shapes,
        count=can.fins.count,
        material=can.tube.name,
        thickness_m=None,
        notes=notes,
        sizes=(("length", long), ("width", wide)),
        flat=False,
        dims=slot_sizes(long, wide, 0.012, slot_limits(can, choices)),
    )


def ring_template(ring: p.Ring, rocket: p.Rocket, can: FinCan | None, choices: Choices) -> Template:
    """A centring ring with its holes, fin notches where tabs pass, and fin lines."""
    outer, inner = ring.outer_diameter_m / 2.0, ring.inner_diameter_m / 2.0
    shapes: list[Shape] = [Circle((0.0, 0.0), outer, "cut"), Circle((0.0, 0.0), inner)]
    shapes += cross((0.0, 0.0), 0.004)
    notes: list[Sentence] = []
    legs: list[Circle] = []
    notch: tuple[float, float] | None = None
    if can is not None:
        between = pi / 2 + can.button_angle_rad
        holes, words = anchor_holes(ring, rocket, can)
        shapes += holes
        legs = [hole for hole in holes if isinstance(hole, Circle)]
        floor = notch_radius_m(can, ring, choices)
        if floor is not None:
            notch = (can.fins.thickness_m + choices.clearance_m) / 2.0, floor
        notes += words
        shapes += _fin_marks(can, ring, choices)
        if ring is can.rings[-1] and choices.bolts and choices.bolt_circle_m:
            shapes += bolt_circle(choices, between)
            notes.append(
                said(
                    f"{choices.bolts} holes on {{across}} diameter.",
                    across=(choices.bolt_circle_m, "size"),
                )
            )
    at = -0.6 * inner if inner > ROOMY_M else -(inner + outer) / 2.0 - 0.001
    shapes.append(Words(ring.name, (0.0, at), 0.0025))
    outside, bore = ring_limits(ring, can)
    if can is not None and bore is not None:
        after = ": it slides on the motor tube, and glue fills what is left."
        notes.append(limits_words("Limits, bore", ring.inner_diameter_m, bore, after))
    notched = None if can is None else slot_limits(can, choices)[1]
    sizes = (("outer diameter", ring.outer_diameter_m), ("inner diameter", ring.inner_diameter_m))
    notes.append("Short lines are the fin directions; fin 1 is at the top.")
    return Template(
        key=f"ring-{ring.name}",
        seen="seen from the front",
        title=ring.name.capitalize(),
        shapes=tuple(shapes),
        count=1,
        material=material_words(ring),
        thickness_m=ring.thickness_m,
        notes=tuple(notes),
        sizes=sizes,
        dims=ring_sizes(ring, notch, legs, (outside, notched)),
    )


def notch_radius_m(can: FinCan, ring: p.Ring, choices: Choices) -> float | None:
    """Radius that notches of a ring reach in to; None where no tab passes it [m]."""
    tab = can.tab_m
    if tab is None or tab[0] >= ring.end_m or tab[1] <= ring.station_m:
        return None
    return can.fins.body_radius_m - can.fins.tab_depth_m - choices.clearance_m


def _fin_marks(can: FinCan, ring: p.Ring, choices: Choices) -> list[Shape]:
    """Fin lines on the ring; a notch instead, as deep as the tab, where one passes through it."""
    inner, outer = ring.inner_diameter_m / 2.0, ring.outer_diameter_m / 2.0
    deep = notch_radius_m(can, ring, choices)
    half = (can.fins.thickness_m + choices.clearance_m) / 2.0
    found: list[Shape] = []
    for angle in can.fin_angles_rad:
        c, s = cos(angle + pi / 2), sin(angle + pi / 2)
        if deep is None:
            found.append(Line(((inner * c, inner * s), (outer * c, outer * s)), "mark"))
            continue
        edge = sqrt(outer**2 - half**2)
        corners = ((edge, -half), (deep, -half), (deep, half), (edge, half))
        found.append(Line(tuple((x * c - y * s, x * s + y * c) for x, y in corners)))
    return found


def bolt_circle(choices: Choices, first_rad: float) -> list[Shape]:
    """Evenly spread bolt holes on a circle."""
    radius = choices.bolt_circle_m / 2.0
    step = 2.0 * pi / choices.bolts
    return [
        Circle(
            (radius * cos(first_rad + i * step), radius * sin(first_rad + i * step)),
            choices.bolt_m / 2.0,
        )
        for i in range(choices.bolts)
    ]


def bulkhead_template(bulkhead: p.Bulkhead, rocket: p.Rocket) -> Template:
    """A bulkhead with its centre hole for an eye bolt; its outside fits where it is glued in."""
    radius = bulkhead.diameter_m / 2.0
    shapes: tuple[Shape, ...] = (
        Circle((0.0, 0.0), radius, "cut"),
        Circle((0.0, 0.0), 0.00325),
        *cross((0.0, 0.0), 0.006),
        Words(bulkhead.name, (0.0, -radius / 2.0), 0.0025),
    )
    return Template(
        key=f"bulkhead-{bulkhead.name}",
        seen="seen from the front",
        title=bulkhead.name.capitalize(),
        shapes=shapes,
        count=1,
        material=material_words(bulkhead),
        thickness_m=bulkhead.thickness_m,
        notes=(EYE_BOLT,),
        sizes=(("diameter", bulkhead.diameter_m),),
        dims=disc_sizes(radius, 0.00325, bulkhead_limits(bulkhead, rocket)),
    )


def material_words(part: Part) -> str:
    """Name of a part's material without its thickness, which stands beside it."""
    words = part.material.name.split("_") if part.material else []
    return " ".join(word for word in words if not (word.endswith("mm") and word[0].isdigit()))


def outlines(rocket: p.Rocket, choices: Choices) -> tuple[Template, ...]:
    """All flat parts of a rocket as templates: fins, slot, rings, bulkheads, sled.

    Parameters
        rocket : Rocket - as flown. [-]
        choices : Choices - clearances, bolt circle. [SI]
    Returns
        templates : tuple of Template - in the order they are cut. [m]
    Raises
        DoesNotFitError - an eye bolt has no room in its ring
    Validity
        Fins on a straight tube; rings and bulkheads round.
    Source
        Geometry.
    Example
        >>> outlines(p.Rocket("r", ()), Choices())
        ()
    """
    can = fin_can(rocket)
    found: Sequence[Template | None] = [
        fin_template(can) if can else None,
        slot_template(can, choices) if can else None,
        *(ring_template(ring, rocket, can, choices) for ring in of_kind(rocket, p.Ring)),
        *(bulkhead_template(each, rocket) for each in of_kind(rocket, p.Bulkhead)),
        sled_template(rocket, choices),
    ]
    return tuple(each for each in found if each is not None)
