"""The guide's pieces as outlines: plates, keys, how they go together; and the printed guide."""

from dataclasses import dataclass, replace
from math import cos, degrees, inf, pi, sin

from goodflight.physics.structure import guided_cant_rad
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guides import (
    FREE_M,
    RIM_M,
    WIDER_BEHIND,
    Alignment,
    Guide,
    alignment_of,
    cut_out_m,
    fillet_room_m,
    guide_for,
    no_hold,
    relief_for,
)
from goodflight.studies.bench.holds import best_pair
from goodflight.studies.bench.outlines import DoesNotFitError
from goodflight.studies.bench.places import FinCan, end_of
from goodflight.studies.bench.planes import (
    Area,
    area,
    bar,
    box,
    disc,
    joined,
    outline_lines,
)
from goodflight.studies.bench.shapes import (
    Circle,
    Line,
    Point,
    Shape,
    Template,
    Words,
    bounds_of,
    placed,
    rectangle,
)

PRINT_CHORD_M = 2e-5
PRINT_WALL_M = 0.003
PRINT_HOLD_M = 0.004  # length along the root held at either end


@dataclass(frozen=True)
class Prism:
    """A plane figure given height."""

    figure: Area
    low_m: float
    high_m: float


@dataclass(frozen=True)
class PrintedGuide:
    """A guide in one printed piece: a ring behind the fins and walls along both sides of each."""

    prisms: tuple[Prism, ...]
    seat: str
    slot_width_m: float
    held_m: float  # length along the root
    reach_m: float  # radius of the walls' outer edge
    clearance_m: float
    rear_m: float  # station of the ring's rear face

    @property
    def fin_bound_rad(self) -> float:
        """Cant of one fin from clearance alone; the piece has no twist of its own."""
        return guided_cant_rad(self.clearance_m, 0.0, self.reach_m, self.held_m)


def _polar(radius_m: float, angle_rad: float) -> Point:
    return radius_m * cos(angle_rad), radius_m * sin(angle_rad)


def directions(count: int) -> tuple[float, ...]:
    """Fin directions on a plate; fin 1 points up."""
    return tuple(pi / 2 + 2.0 * pi * i / count for i in range(count))


def plate_area(guide: Guide, middle: bool = False) -> Area:
    """A plate: disc less bore, fin slots, fillet cut-outs, key slots, notch for a rail guide."""
    holes = [disc((0.0, 0.0), guide.bore_m / 2.0)]
    for angle in directions(guide.count):
        inner = guide.bore_m / 2.0 - 0.002
        long = guide.slot_end_m - inner
        holes.append(bar(_polar(inner + long / 2, angle), long, guide.slot_width_m, angle))
        holes.append(disc(_polar(guide.seat_radius_m, angle), guide.cut_out_m))
    if guide.relief_m:
        holes.append(_notch(guide.seat_radius_m, guide.relief_m, guide.relief_rad))
    solid = _outline(guide).difference(joined(holes))
    return solid.difference(joined(key_slots(guide, middle)))


def _outline(guide: Guide) -> Area:
    """A disc; drawn in to straight sides between the fins where the disc is too large to cut."""
    if not guide.trimmed:
        return disc((0.0, 0.0), guide.plate_radius_m)
    rim = guide.plate_radius_m - guide.slot_end_m
    lobes = [disc(_polar(guide.slot_end_m, angle), rim) for angle in directions(guide.count)]
    return joined(lobes).convex_hull


def _notch(seat_m: float, relief_m: tuple[float, float], angle_rad: float) -> Area:
    """What a rail guide needs to pass, from inside the seat out."""
    wide, deep = relief_m
    turn = pi / 2 + angle_rad
    return bar(_polar(seat_m + (deep - 0.002) / 2, turn), deep + 0.002, wide, turn)


def key_slots(guide: Guide, middle: bool = False) -> list[Area]:
    """The slots for the keys' tabs, the first off its middle; a middle plate lets all of a key
    through."""
    long, wide = guide.key_slot_m
    if middle:
        long = guide.key_width_m + guide.clearance_m
    slots = []
    for number, fin in enumerate(directions(guide.count)):
        angle = fin + pi / guide.count
        x, y = _polar(guide.key_radius_m, angle)
        off = 0.0 if number else guide.key_shift_m
        middle_m = (x - off * sin(angle), y + off * cos(angle))
        slots.append(bar(middle_m, wide, long, angle))
    return slots


def _plate_shapes(guide: Guide, name: str, middle: bool) -> tuple[Shape, ...]:
    shapes: list[Shape] = list(outline_lines(plate_area(guide, middle)))
    for number, angle in enumerate(directions(guide.count), 1):
        ends = (_polar(guide.slot_end_m, angle), _polar(guide.slot_end_m + RIM_M, angle))
        shapes.append(Line(ends, "mark"))
        shapes.append(Words(f"fin {number}", _polar(guide.slot_end_m - 0.012, angle + 0.10)))
    first = pi / 2 + pi / guide.count
    at = _polar(guide.key_radius_m - guide.plate_m - 0.006, first)
    shapes.append(Words("this key off its middle", at, 0.0025, first - pi / 2))
    at = _polar((guide.seat_radius_m + guide.key_radius_m) / 2.0, first)
    shapes.append(Words(name, at, turn_rad=first - pi / 2))
    at = _polar((guide.seat_radius_m + guide.key_radius_m) / 2.0 - 0.007, first)
    shapes.append(Words("this side forward", at, turn_rad=first - pi / 2))
    return _level(tuple(shapes)) if guide.trimmed else tuple(shapes)


def _level(shapes: tuple[Shape, ...]) -> tuple[Shape, ...]:
    """Turned so that it takes the least height on a sheet."""
    turns = (0.0, pi / 4, pi / 6, pi / 12)
    ways = [tuple(placed(shape, turn_rad=turn) for shape in shapes) for turn in turns]
    return min(ways, key=lambda way: min(bounds_of(way).width_m, bounds_of(way).height_m))


def key_shapes(guide: Guide) -> tuple[Shape, ...]:
    """A key, lying: tabs left and right go through the plates up to the shoulders."""
    long, half, tab = guide.key_length_m, guide.key_width_m / 2.0, guide.tab_m / 2.0
    out = guide.plate_m + 0.002
    points = (
        (0.0, -half), (long, -half), (long, -tab), (long + out, -tab), (long + out, tab),
        (long, tab), (long, half), (0.0, half), (0.0, tab), (-out, tab), (-out, -tab), (0.0, -tab),
    )  # fmt: skip
    return (
        Line(points, "cut", True),
        Line(((0.0, 0.0), (long, 0.0)), "mark"),
        Words("key: shoulders square to this line", (long / 2, 0.004)),
    )


def guide_templates(can: FinCan, choices: Choices) -> tuple[Template, ...]:
    """Plates, keys and assembly of the keyed guide, cut from sheet.

    Parameters
        can : FinCan - fins and tube. [-]
        choices : Choices - plate, clearance, cut error. [SI]
    Returns
        templates : tuple of Template - plates, keys, assembly. [m]
    Raises
        DoesNotFitError - see guide_for
    Validity
        Finished sizes; see for_cutter for the width of the cut.
    Source
        Own design.
    Example
        none
    """
    guide = guide_for(can, choices)
    good = alignment_of(guide, choices.cut_error_m)
    notes = guide_notes(guide, good)
    sizes = (
        ("bore", guide.bore_m),
        ("plate diameter", 2 * guide.plate_radius_m),
        ("fin slot", guide.slot_width_m),
        ("key slot", guide.key_slot_m[0]),
    )
    plates = [
        Template("guide-plate", "Guide plate", _plate_shapes(guide, "guide plate", False), 2,
                 "sheet", guide.plate_m, notes[:3], sizes)
    ]  # fmt: skip
    between = len(guide.stations_m) - 2
    if between:
        shapes = _plate_shapes(guide, "middle plate", True)
        plates.append(Template("guide-middle", "Middle guide plate", shapes, between, "sheet",
                               guide.plate_m, notes[:3], sizes[:3]))  # fmt: skip
    key = Template(
        "guide-key",
        "Guide key",
        key_shapes(guide),
        guide.count,
        "sheet",
        guide.plate_m,
        notes[3:5],
        (("between shoulders", guide.key_length_m), ("tab", guide.tab_m)),
    )
    return (*plates, key, assembly(can, guide, notes[5:]))


def guide_notes(guide: Guide, good: Alignment) -> tuple[str, ...]:
    """How to make and use the guide, and how good it is."""
    low, high = guide.pair.both_m
    stations = ", ".join(f"{1e3 * s:.1f}" for s in guide.stations_m)
    return (
        "Cut both plates as one stack, so that their slots cannot differ.",
        f"Sheet {1e3 * guide.plate_m:g} mm; slots {1e3 * guide.clearance_m:.2f} mm wider than what "
        "goes in. Try one slot on scrap first.",
        "The key slot between fins 1 and 2 is off its middle: turned by a fin or turned over, a "
        "plate takes no keys. Names face forward on every plate.",
        "Cut all keys as one stack; the shoulders must be square.",
        "Tape the keys down on their shoulders on both plates before the fins are glued.",
        f"Middles of the plates at stations {stations} mm from the nose tip. Both end plates hold "
        f"the finished fin from {1e3 * low:.0f} to {1e3 * high:.0f} mm over the body.",
        f"With all keys in, one plate can turn against the other by less than "
        f"{degrees(good.twist_bound_rad):.3f} deg; a fin leans less than "
        f"{degrees(good.fin_bound_rad):.3f} deg by clearance. With the cut error given: "
        f'write alignment = "{degrees(good.alignment_rad):.2f} deg" for the fins.',
        "Slide the caged guide over the dry fins from behind; grease or tape its fillet cut-outs. "
        f"They clear fillets of up to {1e3 * fillet_room_m(guide):.1f} mm radius.",
    )


def assembly(can: FinCan, guide: Guide, notes: tuple[str, ...]) -> Template:
    """How the guide goes together, side view at a reduced scale."""
    k = min(0.5, 0.15 / (2.0 * guide.plate_radius_m))
    root, radius, t = can.root_m, can.fins.body_radius_m, guide.plate_m
    fore, tail = root[0] - 0.05, end_of(can.tube)

    def put(station: float, y: float) -> Point:
        return k * (station - fore), k * y

    def box_at(a: float, b: float, low: float, high: float, layer: str = "cut") -> Line:
        (x0, y0), (x1, y1) = put(a, low), put(b, high)
        return rectangle(x0, y0, x1, y1, "hidden" if layer == "hidden" else "cut")

    shapes: list[Shape] = [box_at(fore, tail, -radius, radius)]
    shapes.append(Line((put(fore - 0.01, 0.0), put(tail + 0.02, 0.0)), "hidden"))
    fin = tuple(put(can.fins.station_m + x, radius + y) for x, y in can.fins.outline_m)
    shapes += [Line(fin, "cut", True), Words("fin 1", put(root[1] - 0.045, radius + 0.03))]
    out = guide.plate_radius_m
    for number, s in enumerate(guide.stations_m, 1):
        shapes.append(box_at(s - t / 2, s + t / 2, -out, out, "hidden"))
        x, y = put(s, out)
        shapes.append(Words(f"plate {number}", (x, y + 0.004), 0.0025))
    low = -guide.key_radius_m * cos(pi / guide.count) - t / 2
    first, last = guide.stations_m[0] + t / 2, guide.stations_m[-1] - t / 2
    shapes.append(box_at(first, last, low, low + t))
    x, y = put((first + last) / 2, low + t)
    shapes.append(Words("key, shoulders on both plates", (x, y + 0.004), 0.0022))
    return Template(
        "guide-assembly",
        "How the guide goes together (not to size)",
        tuple(shapes),
        1,
        "",
        None,
        notes,
        flat=False,
    )


def for_cutter(template: Template, kerf_m: float) -> Template:
    """The lines a cutter must follow so that the finished piece has the drawn size.

    A beam or cutter of width k takes k/2 on both sides of its line: outlines move out and holes
    in by k/2. Only closed cut and bore lines move; corners stay sharp.
    """
    if kerf_m <= 0.0:
        return template
    half = kerf_m / 2.0
    shapes: list[Shape] = []
    for shape in template.shapes:
        side = {"cut": half, "bore": -half}.get(shape.layer, 0.0)
        if isinstance(shape, Circle) and side:
            shapes.append(replace(shape, radius_m=shape.radius_m + side))
        elif isinstance(shape, Line) and shape.closed and side:
            figure = area(shape.points_m).buffer(side, join_style="mitre", mitre_limit=8.0)
            shapes += [line for line in outline_lines(figure, shape.layer, shape.layer)]
        else:
            shapes.append(shape)
    return replace(template, shapes=tuple(shapes))


def printed_guide(can: FinCan, choices: Choices) -> PrintedGuide:
    """A guide in one printed piece, so that nothing can turn against anything.

    A ring lies behind the roots; walls run forward from it along both sides of every fin, sit on
    the body between the fins, and are tied by an arch that stays clear of fillets and rail guides.
    Trailing edges that reach back over the ring have slots in it.

    Parameters
        can : FinCan - fins and tube. [-]
        choices : Choices - clearance, bed. [SI]
    Returns
        guide : PrintedGuide - prisms, z forward from the ring's rear face. [m]
    Raises
        DoesNotFitError - the piece is wider than the bed, holds no flat of the finished fin, or
            cannot slide on from behind
    Validity
        Straight prisms: untwisted by shape; the printer's own error is not in it.
    Source
        Own design.
    Example
        none
    """
    c, wall, radius = choices.clearance_m, PRINT_WALL_M, can.fins.body_radius_m
    cut = cut_out_m(can)
    relief = relief_for(can, can.root_m[0])
    arch = radius + max(cut, relief[1] if relief else 0.0) + 0.001
    reach = min(max(arch + wall + 0.006, radius + 0.4 * can.span_m), choices.bed_m / 2 - 0.002)
    if can.wider_behind:
        raise DoesNotFitError(WIDER_BEHIND)
    if reach < arch + wall:
        raise DoesNotFitError(
            f"the printed guide is {2e3 * (arch + wall):.0f} mm wide; the bed is "
            f"{1e3 * choices.bed_m:.0f} mm. Use the guide cut from sheet."
        )
    front, high, bare = _ring_place(can, c)
    heights = (cut, reach - radius)
    pair = best_pair(can.fins, PRINT_HOLD_M, heights, (can.root_m[0], front), (c, 0.0, radius))
    if pair is None:
        raise DoesNotFitError(no_hold(can, PRINT_HOLD_M, cut))
    notch = [_notch(radius, relief, can.button_angle_rad)] if relief else []
    walls = _walls(can, (radius, arch, reach), wall, cut, c).difference(joined(notch))
    outer = disc((0.0, 0.0), arch + wall, PRINT_CHORD_M)
    ring = outer.difference(joined([disc((0.0, 0.0), radius + c / 2, PRINT_CHORD_M), *notch]))
    if bare < arch + wall:
        long, slot = arch + wall + 0.01 - bare, can.fins.thickness_m + c
        ring = ring.difference(joined([bar(_polar(bare + long / 2, angle), long, slot, angle)
                                       for angle in directions(can.fins.count)]))  # fmt: skip
    total = high + front - (pair.fore.station_m - PRINT_HOLD_M / 2.0)
    return PrintedGuide(
        (Prism(ring, 0.0, high), Prism(walls, 0.0, total)),
        f"body, {2e3 * radius:.1f} mm",
        can.fins.thickness_m + c,
        pair.apart_m,
        reach,
        c,
        front + high,
    )


def _ring_place(can: FinCan, c: float) -> tuple[float, float, float]:
    """Station of the ring's front face, its height, and the radius from which fins reach it."""
    fins, tail, rear = can.fins, end_of(can.tube), can.root_m[1]
    behind = tail - rear
    high = min(0.008, behind - 0.001) if behind >= 0.006 else 0.006
    inside = PRINT_WALL_M + c / 2 + FREE_M  # of the ring stays whole below the fins
    fin = area(fins.outline_m)
    near = fin.intersection(box(-1.0, 0.0, 2.0, inside)).bounds[2]
    lead = (behind - high) / 2 if behind >= 0.006 else behind
    front = max(rear + lead, fins.station_m + near + 0.001)
    over = fin.intersection(box(front - fins.station_m - FREE_M, -1.0, 2.0, 2.0))
    low = fins.body_radius_m + over.bounds[1] - FREE_M if over.area > 0.0 else inf
    return front, high, low


def _walls(
    can: FinCan, radii: tuple[float, float, float], wall: float, cut: float, c: float
) -> Area:
    """Cross-section of the walls along the fins, with arches, struts and the inner seat."""
    radius, arch, reach = radii
    slot, count = can.fins.thickness_m + c, can.fins.count
    rings = [
        disc((0.0, 0.0), high, PRINT_CHORD_M).difference(disc((0.0, 0.0), low, PRINT_CHORD_M))
        for low, high in ((radius + c / 2, radius + c / 2 + wall), (arch, arch + wall))
    ]
    solid, holes = list(rings), []
    for angle in directions(count):
        long = reach - radius
        at = _polar(radius + long / 2, angle)
        solid.append(bar(at, long, slot + 2 * wall, angle))
        holes.append(bar(_polar(reach / 2, angle), reach + 0.01, slot, angle))
        holes.append(disc(_polar(radius, angle), cut, PRINT_CHORD_M))
        for side in (-0.45, 0.45):
            strut = angle + pi / count + side * pi / count
            solid.append(
                bar(_polar((radius + arch) / 2 + 0.001, strut), arch - radius, wall, strut)
            )
    holes.append(disc((0.0, 0.0), radius + c / 2, PRINT_CHORD_M))
    return joined(solid).difference(joined(holes))
