"""Paper that goes round a tube: lines for fins, slots, guides, vents, exactly spaced.

The paper's middle layer, not its inner face, keeps its length when it is bent, so a wrap is
pi (D + paper thickness) long, and a line at an angle stands at that share of the length. Body
diameter comes from the measured circumference when there is one.
"""

from dataclasses import dataclass, replace
from math import degrees, pi, tau
from typing import Final

from goodflight.constants import INCH_M
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.vents import apart_rad, vent_angles_rad, vent_station_m
from goodflight.quantity.said import either, literal, said
from goodflight.studies.bench.choices import Choices, Hole
from goodflight.studies.bench.facing import facing_rail
from goodflight.studies.bench.places import SAME_M, FinCan, fin_can, of_kind, tube_at
from goodflight.studies.bench.shapes import (
    Circle,
    Line,
    Shape,
    Template,
    Words,
    across,
    arc,
    placed,
    rectangle,
    room_of,
)
from goodflight.studies.bench.sizes import FIRST_M, wrap_sizes

FLAP_M: Final = 0.012  # overlaps beyond the closing line, for tape
ARM_M: Final = 0.006  # of the cross over a round hole
UNDER_M: Final = 0.0025  # from what is marked to the middle of its name
LANES: Final = 5  # of names along a strip of stations
LANE_M: Final = 0.0048
LANE_LETTER_M: Final = 0.0022
NAMED_M: Final = 0.022  # from an edge to the middle of a name
BAND_M: Final = 0.012  # paper ahead of and behind what is marked
FRONT_M: Final = 0.006  # the same ahead of the root: room for the word there, no more


def diameter_from_m(circumference_m: float, tape_m: float) -> float:
    """Diameter of a tube from a tape or paper strip laid round it.

    A tape of thickness t laid round diameter D reads pi (D + t): its middle layer.

    Parameters
        circumference_m : float - as read where the tape meets itself. [m]
        tape_m : float - thickness of the tape or strip. [m]
    Returns
        diameter : float - outer diameter of the tube. [m]
    Raises
        ValueError - the circumference is not greater than pi times the tape's thickness
    Validity
        A tape that bends without stretching at its middle.
    Source
        Geometry of bending; derived.
    Example
        >>> round(diameter_from_m(0.25, 0.0001), 6)
        0.079477
    """
    diameter = circumference_m / pi - tape_m
    if diameter <= 0.0:
        raise ValueError(
            f"a circumference of {1e3 * circumference_m:.1f} mm leaves no tube inside a tape "
            f"{1e3 * tape_m:.2f} mm thick; give the reading of the tape in full."
        )
    return diameter


def wrap_length_m(diameter_m: float, paper_m: float) -> float:
    """Length of paper that closes exactly round a tube: pi (D + t) [m].

    Example
        >>> round(wrap_length_m(0.1, 0.0) / 0.1, 6)
        3.141593
    """
    return pi * (diameter_m + paper_m)


@dataclass(frozen=True)
class Wrap:
    """A wrap for one tube: the flat length once round, and the stations it covers."""

    tube: str
    once_round_m: float
    fore_m: float
    aft_m: float

    def x_m(self, angle_rad: float) -> float:
        """Where a direction lies on the paper, fin 1 at the left edge."""
        return self.once_round_m * ((angle_rad / (2.0 * pi)) % 1.0)

    def y_m(self, station_m: float) -> float:
        """Where a station lies: front of the rocket up, from the rear edge of the wrap."""
        return self.aft_m - station_m


def _along(wrap: Wrap, angle_rad: float, words: str, wide_m: float = 0.0) -> list[Shape]:
    """A line along the body with its name beside it, and beside what is `wide_m` there."""
    x, tall = wrap.x_m(angle_rad), wrap.aft_m - wrap.fore_m
    return [
        Line(((x, 0.0), (x, tall)), "mark"),
        Words(words, (x + wide_m / 2.0 + 0.0035, tall / 2.0), 0.0028, pi / 2),
    ]


def _around(wrap: Wrap, station_m: float, words: str) -> list[Shape]:
    y = wrap.y_m(station_m)
    if not -1e-9 <= y <= wrap.aft_m - wrap.fore_m + 1e-9:
        return []
    return [
        Line(((0.0, y), (wrap.once_round_m, y)), "hidden"),
        Words(words, (wrap.once_round_m * 0.75, y + 0.0022), 0.0022),
    ]


def _frame(wrap: Wrap, wide_m: float = 0.0) -> list[Shape]:
    """Outline, flap and names; what is cut or drilled at the closing line is `wide_m` there."""
    tall, long = wrap.aft_m - wrap.fore_m, wrap.once_round_m
    beside = (long - wide_m / 2.0 - 0.0035, tall / 2.0)
    closes = Words("fin 1 line meets here", beside, 0.0025, pi / 2)
    low, high = (corner[1] for corner in room_of(closes)[:2])
    return [
        rectangle(0.0, 0.0, long + FLAP_M, tall),
        Line(((long, 0.0), (long, tall)), "mark"),
        closes if high - low < tall else replace(closes, text="fin 1"),
        Words("flap", (long + FLAP_M / 2.0, tall - 0.006), 0.0025, pi / 2),
        Words("front of rocket ^", (long * 0.10, tall - 0.004), 0.0024),
    ]


def body_diameter_m(tube: p.Tube, choices: Choices, measured: p.Tube | None = None) -> float:
    """Diameter to wrap: from the measured circumference, else as in the project.

    measured : the tube that was measured, that of the fins; None = this one. A tube of another
    diameter has another circumference.
    """
    across = tube.outer_diameter_m
    other = measured is not None and abs(measured.outer_diameter_m - across) > SAME_M
    if choices.circumference_m is None or other:
        return across
    return diameter_from_m(choices.circumference_m, choices.tape_m)


def fin_wrap(rocket: p.Rocket, choices: Choices) -> Template | None:
    """Wrap for the fin can, lower edge on the tube's rear edge: fins, slots, guides, rings."""
    can = fin_can(rocket)
    if can is None:
        return None
    root, tab = can.root_m, can.tab_m
    around = wrap_length_m(body_diameter_m(can.tube, choices), choices.paper_m)
    wrap = Wrap(can.tube.name, around, root[0] - FRONT_M, can.tube.end_m)
    slot = can.fins.thickness_m + choices.clearance_m if tab else 0.0
    shapes = _frame(wrap, slot)
    for number, angle in enumerate(can.fin_angles_rad, 1):
        shapes += _along(wrap, angle, f"fin {number}", slot)
        if tab:
            half = slot / 2.0
            x = wrap.x_m(angle)
            for at in (x, around) if number == 1 else (x,):
                shapes.append(rectangle(at - half, wrap.y_m(tab[1]), at + half, wrap.y_m(tab[0])))
    if can.buttons:
        shapes += _along(wrap, can.button_angle_rad, "rail guides")
        y = wrap.y_m(can.buttons.aft_station_m)
        if y > 0.0:
            shapes.append(Circle((wrap.x_m(can.button_angle_rad), y), 0.0021))
    shapes += _around(wrap, root[0], "front of root")
    shapes += _around(wrap, root[1], "rear of root")
    for ring in can.rings:
        shapes += _around(wrap, ring.station_m + ring.thickness_m / 2, f"middle of {ring.name}")
    apart = around / can.fins.count
    return Template(
        key="wrap-fins",
        seen="printed side out",
        title=f"Wrap for {can.tube.name}, fin end",
        shapes=tuple(shapes),
        count=1,
        material="paper",
        thickness_m=None,
        notes=(
            "Cut out; lower edge flush with the tube's rear edge; fin 1 line meets itself. If it "
            "does not, measure the circumference again and give it as bench.circumference.",
            said("Fins stand {apart} apart on the paper.", apart=(apart, "size")),
        ),
        sizes=(("circumference", around), ("fin to fin", apart)),
        flat=False,
        dims=wrap_sizes(around, _lines(wrap, can), [wrap.y_m(s) for s in (*root, *(tab or ()))]),
    )


def _lines(wrap: Wrap, can: FinCan) -> list[float]:
    """Where the lines of fins and rail guides stand on a wrap."""
    rail = [can.button_angle_rad] if can.buttons else []
    return [wrap.x_m(angle) for angle in (*can.fin_angles_rad, *rail)]


def hole_wraps(rocket: p.Rocket, choices: Choices) -> tuple[Template, ...]:
    """Wraps for vents, camera ports and hatches: one for each tube and cluster of holes."""
    found, can, faces = [], fin_can(rocket), facing_rail(rocket, choices)
    for tube in of_kind(rocket, p.Tube):
        holes = [h for h in holes_of(rocket, choices) if tube_at(rocket, h.station_m) is tube]
        across = body_diameter_m(tube, choices, can.tube if can else None)
        for group in _clusters(sorted(holes, key=lambda h: (h.station_m, h.angle_rad))):
            wrap = _hole_wrap(tube, group, wrap_length_m(across, choices.paper_m), can)
            told = (f"Look again: {faces[hole].told()}." for hole in group if hole in faces)
            found.append(replace(wrap, notes=(*wrap.notes, *told)))
    return tuple(found)


def holes_of(rocket: p.Rocket, choices: Choices) -> list[Hole]:
    """Vents of all bays, clear of the rail guides' line, and the builder's own holes."""
    found, can = list(choices.holes), fin_can(rocket)
    phase = can.fins.roll_phase_rad if can else 0.0
    for bay in of_kind(rocket, p.Bay):
        for angle in vent_angles_rad(rocket, bay):
            name, station = f"vent of {bay.name}", vent_station_m(bay)
            found.append(Hole(name, station, (angle - phase) % tau, bay.vent_diameter_m))
    return found


def _clusters(holes: list[Hole], reach_m: float = 0.15) -> list[list[Hole]]:
    groups: list[list[Hole]] = []
    for hole in holes:
        if groups and hole.station_m - groups[-1][0].station_m <= reach_m:
            groups[-1].append(hole)
        else:
            groups.append([hole])
    return groups


def _hole_wrap(tube: p.Tube, holes: list[Hole], around: float, can: FinCan | None) -> Template:
    tall = [max(h.diameter_m, h.length_m) / 2 for h in holes]
    fore = min(h.station_m - t for h, t in zip(holes, tall, strict=True)) - BAND_M
    aft = max(h.station_m + t for h, t in zip(holes, tall, strict=True)) + BAND_M
    wrap = Wrap(tube.name, around, max(fore, tube.station_m), min(aft, tube.end_m))
    seam = [h for h in holes if wrap.x_m(h.angle_rad) < max(h.diameter_m, h.width_m)]
    shapes = _frame(wrap, max((max(2.0 * ARM_M, h.width_m) for h in seam), default=0.0))
    for hole in holes:
        x, y = wrap.x_m(hole.angle_rad), wrap.y_m(hole.station_m)
        wide, high = max(hole.diameter_m, hole.width_m), max(2.0 * ARM_M, hole.length_m)
        for at in (x, around) if x < wide else (x,):  # on the seam: marked on both its sides
            shapes += _opening(hole, (at, y))
        told = min(max(x, NAMED_M), around - NAMED_M)
        below = y - high / 2 - UNDER_M
        shapes.append(Words(hole.name, (told, below if below > UNDER_M else y - below + y), 0.0024))
    if can is not None and can.buttons is not None:
        shapes += _along(wrap, can.button_angle_rad, "rail")
    ahead = wrap.fore_m - tube.station_m
    return Template(
        key=f"wrap-{tube.name}-{round(1e3 * wrap.fore_m)}",
        seen="printed side out",
        title=f"Wrap for holes in {tube.name}",
        shapes=tuple(shapes),
        count=1,
        material="paper",
        thickness_m=None,
        notes=(
            said(
                f"Upper edge {{ahead}} behind the front edge of {literal(tube.name)}; left edge on "
                "the line of fin 1.",
                ahead=(ahead, "size"),
            ),
            *_clocked(holes, can),
            "Drill with a sharp drill over a block of wood, then harden the edge with thin glue.",
        ),
        sizes=(("circumference", around),),
        flat=False,
        dims=wrap_sizes(around, [wrap.x_m(hole.angle_rad) for hole in holes], ()),
    )


def _clocked(holes: list[Hole], can: FinCan | None) -> tuple[str, ...]:
    """Which way the holes face, and the least angle to the line of the rail guides."""
    told = []
    for name in dict.fromkeys(hole.name for hole in holes):
        angles = sorted(hole.angle_rad for hole in holes if hole.name == name)
        words = ", ".join(f"{degrees(angle):.0f}" for angle in angles)
        told.append(f"{name}: at {words} deg from fin 1, clockwise seen from behind")
    if can is not None and can.buttons is not None:
        rail = can.button_angle_rad
        off = min(degrees(apart_rad(hole.angle_rad, rail)) for hole in holes)
        told.append(f"the rail guides at {degrees(rail):.0f}, {off:.0f} deg or more off")
    return ("; ".join(told) + ".",)


def _opening(hole: Hole, at_m: tuple[float, float]) -> list[Shape]:
    if hole.width_m <= 0.0:
        return [
            Circle(at_m, hole.diameter_m / 2),
            Line(((at_m[0] - ARM_M, at_m[1]), (at_m[0] + ARM_M, at_m[1])), "mark"),
            Line(((at_m[0], at_m[1] - ARM_M), (at_m[0], at_m[1] + ARM_M)), "mark"),
        ]
    w, h = hole.width_m / 2, hole.length_m / 2
    r = min(hole.corner_m, w, h)
    corners = (
        (w - r, h - r, 0.0),
        (r - w, h - r, pi / 2),
        (r - w, r - h, pi),
        (w - r, r - h, 1.5 * pi),
    )
    points = tuple(point for x, y, a in corners for point in arc((x, y), r, a, a + pi / 2))
    return [placed(Line(points, "bore", True), at_m)]


_LAID: Final = "Lay it along a fin line, left end on the tube's front edge; figures are "


def station_strip(rocket: p.Rocket, marks: tuple[tuple[str, float], ...], tube: p.Tube) -> Template:
    """A tape along a tube with every station on it: rings, slots, guides, separation, CG, CP."""
    inside = [(w, s) for w, s in marks if tube.station_m - 1e-6 <= s <= tube.end_m + 1e-6]
    wide = 0.040
    shapes: list[Shape] = [rectangle(0.0, 0.0, tube.length_m, wide)]
    shapes.append(Line(((0.0, wide / 4), (tube.length_m, wide / 4)), "mark"))
    ends = [-1.0] * LANES  # of the last name in each lane, from the front
    lines: list[tuple[float, int]] = []  # of the marks so far, and the lane each rises to
    for words, station in sorted(inside, key=lambda mark: (mark[1], mark[0])):
        x = station - tube.station_m
        at = either(f"{words} {round(2e3 * x) / 2:g}", f"{words} {round(x / INCH_M * 32) / 32:.4g}")
        name = Words(at, (x, 0.0), LANE_LETTER_M)
        half = (room_of(name)[1][0] - room_of(name)[0][0]) / 2.0
        side = max(x - half, half)  # left of its line: no later line runs over it
        left = side - half
        free = [
            lane
            for lane, end in enumerate(ends)
            if end <= left
            and all(before <= left or low < lane for before, low in lines)
            and all(below <= x for below in ends[:lane])
        ]
        lane = free[0] if free else ends.index(min(ends))
        ends[lane] = side + half
        lines.append((x, lane))
        shapes.append(Line(((x, 0.0), (x, wide * 0.32 + LANE_M * lane)), "mark"))
        shapes.append(replace(name, at_m=(side, wide * 0.37 + LANE_M * lane)))
    return Template(
        key=f"strip-{tube.name}",
        seen="printed side out",
        title=f"Stations along {tube.name}",
        shapes=tuple(shapes),
        count=1,
        material="paper",
        thickness_m=None,
        notes=(
            either(f"{_LAID}mm from there, to half a mm.", f"{_LAID}inches from there, to 1/32."),
        ),
        sizes=(("length", tube.length_m),),
        flat=False,
        dims=(across((0.0, 0.0), (tube.length_m, 0.0), -FIRST_M),),
    )


def line_aid() -> Template:
    """A folded strip of card that lies on a tube along its axis, to draw straight lines with."""
    shapes: tuple[Shape, ...] = (
        rectangle(0.0, 0.0, 0.240, 0.060),
        Line(((0.0, 0.030), (0.240, 0.030)), "hidden"),
        Words(
            "fold here to a square angle; lay it on the tube and draw along the edge",
            (0.120, 0.042),
        ),
    )
    return Template(
        key="line-aid",
        title="Line aid",
        shapes=shapes,
        count=1,
        material="card",
        thickness_m=None,
        notes=("An angle laid on a tube touches it along two lines parallel to the axis.",),
        flat=False,
    )
