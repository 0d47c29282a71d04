"""The keyed guide's pieces as outlines: plates, keys, how they go together."""

from dataclasses import replace
from math import cos, degrees, pi, sin

from goodflight.project.defaults import ALIGNMENT_RAD
from goodflight.quantity.said import Said, either, said
from goodflight.quantity.said import Words as Sentence
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guide_sizes import guide_slot, key_sizes, plate_sizes
from goodflight.studies.bench.guides import (
    RIM_M,
    Alignment,
    Guide,
    alignment_of,
    fillet_room_m,
    guide_for,
)
from goodflight.studies.bench.holds import flat_of
from goodflight.studies.bench.limits import limits_words
from goodflight.studies.bench.places import FinCan
from goodflight.studies.bench.planes import (
    Area,
    area,
    bar,
    disc,
    joined,
    outline_lines,
)
from goodflight.studies.bench.shapes import (
    Circle,
    Dim,
    Layer,
    Limits,
    Line,
    Point,
    Shape,
    Template,
    Words,
    bounds_of,
    placed,
    rectangle,
    turned_size,
)


def polar(radius_m: float, angle_rad: float) -> Point:
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
        holes.append(bar(polar(inner + long / 2, angle), long, guide.slot_width_m, angle))
        holes.append(disc(polar(guide.seat_radius_m, angle), guide.cut_out_m))
    if guide.relief_m:
        holes.append(notch(guide.seat_radius_m, guide.relief_m, guide.relief_rad))
    solid = _outline(guide).difference(joined(holes))
    return solid.difference(joined(key_slots(guide, middle)))


def _outline(guide: Guide) -> Area:
    """A disc; drawn in to straight sides between the fins where the disc is too large to cut."""
    if not guide.trimmed:
        return disc((0.0, 0.0), guide.plate_radius_m)
    rim = guide.plate_radius_m - guide.slot_end_m
    lobes = [disc(polar(guide.slot_end_m, angle), rim) for angle in directions(guide.count)]
    return joined(lobes).convex_hull


def notch(seat_m: float, relief_m: tuple[float, float], angle_rad: float) -> Area:
    """What a rail guide needs to pass, from inside the seat out."""
    wide, deep = relief_m
    turn = pi / 2 + angle_rad
    return bar(polar(seat_m + (deep - 0.002) / 2, turn), deep + 0.002, wide, turn)


def key_slots(guide: Guide, middle: bool = False) -> list[Area]:
    """The slots for the keys' tabs, the first off its middle; wide as the key in a middle plate."""
    long, wide = guide.key_slot_m
    if middle:
        long = guide.key_width_m + guide.clearance_m
    slots = []
    for number, fin in enumerate(directions(guide.count)):
        angle = fin + pi / guide.count
        x, y = polar(guide.key_radius_m, angle)
        off = 0.0 if number else guide.key_shift_m
        middle_m = (x - off * sin(angle), y + off * cos(angle))
        slots.append(bar(middle_m, wide, long, angle))
    return slots


def _plate_shapes(guide: Guide, name: str, middle: bool) -> tuple[Shape, ...]:
    shapes: list[Shape] = list(outline_lines(plate_area(guide, middle)))
    for number, angle in enumerate(directions(guide.count), 1):
        ends = (polar(guide.slot_end_m, angle), polar(guide.slot_end_m + RIM_M, angle))
        shapes.append(Line(ends, "mark"))
        x, y = polar(guide.slot_end_m - 0.018, angle)
        aside = guide.slot_width_m / 2.0 + 0.004
        name_at = (x - aside * sin(angle), y + aside * cos(angle))
        shapes.append(Words(f"fin {number}", name_at, turn_rad=_upright(angle)))
        between = angle + pi / guide.count
        edge = guide.key_radius_m + guide.plate_m / 2.0
        shapes.append(Line((polar(edge, between), polar(edge + 0.004, between)), "mark"))
    first = pi / 2 + pi / guide.count
    at = polar(guide.key_radius_m - guide.plate_m - 0.006, first)
    shapes.append(Words("off its middle, towards fin 2", at, 0.0025, first - pi / 2))
    at = polar((guide.seat_radius_m + guide.key_radius_m) / 2.0, first)
    shapes.append(Words(name, at, turn_rad=first - pi / 2))
    at = polar((guide.seat_radius_m + guide.key_radius_m) / 2.0 - 0.007, first)
    shapes.append(Words("this side forward", at, turn_rad=first - pi / 2))
    return tuple(shapes)


def _upright(angle_rad: float) -> float:
    """The direction of words along a line that can be read without turning the sheet over."""
    return angle_rad + (pi if cos(angle_rad) < -1e-9 else 0.0)


def _plate(
    guide: Guide, name: str, middle: bool, limits_m: Limits
) -> tuple[tuple[Shape, ...], tuple[Dim, ...]]:
    """A plate and its sizes, turned so that a drawn-in one takes the least height on a sheet."""
    shapes, dims = _plate_shapes(guide, name, middle), plate_sizes(guide, limits_m)
    if not guide.trimmed:
        return shapes, dims

    def low(turn: float) -> float:
        b = bounds_of(placed(shape, turn_rad=turn) for shape in shapes)
        return min(b.width_m, b.height_m)

    turn = min((0.0, pi / 4, pi / 6, pi / 12), key=low)
    return (
        tuple(placed(shape, turn_rad=turn) for shape in shapes),
        tuple(turned_size(dim, turn) for dim in dims),
    )


def key_shapes(guide: Guide) -> tuple[Shape, ...]:
    """A key, lying: tabs left and right go through the plates up to the shoulders."""
    long, half, tab = guide.key_length_m, guide.key_width_m / 2.0, guide.tab_m / 2.0
    out = guide.plate_m + 0.002
    points = (
        (0.0, -half),
        (long, -half),
        (long, -tab),
        (long + out, -tab),
        (long + out, tab),
        (long, tab),
        (long, half),
        (0.0, half),
        (0.0, tab),
        (-out, tab),
        (-out, -tab),
        (0.0, -tab),
    )
    return (
        Line(points, "cut", True),
        Line(((0.0, 0.0), (long, 0.0)), "mark"),
        Words("shoulders square to this line", (long / 2, 0.003), 0.0022),
    )


def _held(can: FinCan, slots: Said) -> Said:
    """What the limits of the slots hold the fins to."""
    set_to = degrees(can.fins.cant_sigma_rad or ALIGNMENT_RAD)
    return either(
        *(
            f"Limits, {slots.told(units)}, key slots and tabs alike: at the widest the guide still "
            f"sets the fins to the {set_to:.2g} deg that rocket.toml has."
            for units in ("metric", "imperial")
        )
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
    limits, notes = guide_slot(guide, can, choices), guide_notes(guide, good)
    held = _held(can, limits_words("fin slots", guide.slot_width_m, limits))
    sizes = (
        ("bore", guide.bore_m),
        ("plate diameter", 2 * guide.plate_radius_m),
        ("fin slot", guide.slot_width_m),
        ("key slot", guide.key_slot_m[0]),
    )
    shapes, dims = _plate(guide, "guide plate", False, limits)
    plates = [
        Template(
            key="guide-plate",
            seen="seen from the front",
            title="Guide plate",
            shapes=shapes,
            count=2,
            material="sheet",
            thickness_m=guide.plate_m,
            notes=(*notes[:3], held),
            sizes=sizes,
            dims=dims,
        )
    ]
    between = len(guide.stations_m) - 2
    if between:
        shapes, dims = _plate(guide, "middle plate", True, limits)
        plates.append(
            Template(
                key="guide-middle",
                seen="seen from the front",
                title="Middle guide plate",
                shapes=shapes,
                count=between,
                material="sheet",
                thickness_m=guide.plate_m,
                notes=(*notes[:3], held),
                sizes=sizes[:3],
                dims=dims[:3],
            )
        )
    key = Template(
        key="guide-key",
        seen="either side up",
        title="Guide key",
        shapes=key_shapes(guide),
        count=guide.count,
        material="sheet",
        thickness_m=guide.plate_m,
        notes=notes[3:5],
        sizes=(("between shoulders", guide.key_length_m), ("tab", guide.tab_m)),
        dims=key_sizes(guide),
    )
    return (*plates, key, assembly(can, guide, notes[5:]))


def guide_notes(guide: Guide, good: Alignment) -> tuple[Sentence, ...]:
    """How to make and use the guide, and how good it is."""
    low, high = (x + guide.body_radius_m - guide.seat_radius_m for x in guide.pair.both_m)
    on_body = guide.seat == "body"
    stations = {f"at{number}": (s, "size") for number, s in enumerate(guide.stations_m)}
    return (
        "Cut both plates as one stack, so that their slots cannot differ.",
        said(
            "Sheet {thick}; slots {wider} wider than what goes in. Try one slot on scrap first.",
            thick=(guide.plate_m, "size"),
            wider=(guide.clearance_m, "size"),
        ),
        "The key slot between fins 1 and 2 is off its middle: turned by a fin or turned over, a "
        "plate takes no keys. Names face forward on every plate.",
        "Cut all keys as one stack; the shoulders must be square.",
        "Tape the keys down on their shoulders on both plates before the fins are glued.",
        said(
            f"Middles of the plates at stations {', '.join(f'{{{name}}}' for name in stations)} "
            "from the nose tip. Both end plates hold the finished fin from {low} to {high} over "
            "what it sits on.",
            **stations,
            low=(round(low, 3), "length"),
            high=(round(high, 3), "length"),
        ),
        f"With all keys in, one plate can turn against the other by less than "
        f"{degrees(good.twist_bound_rad):.3f} deg; a fin leans less than "
        f"{degrees(good.fin_bound_rad):.3f} deg by clearance. With the cut error given: "
        f'write alignment = "{degrees(good.alignment_rad):.2f} deg" for the fins.',
        said(
            "Slide the caged guide over the dry fins from behind"
            f"{'' if on_body else ', before ring and retainer behind the tabs are on'}; "
            "grease or tape its fillet cut-outs. They clear fillets of up to {most} radius; larger "
            "ones wait until the guide is off.",
            most=(round(fillet_room_m(guide), 4), "length"),
        ),
    )


def assembly(can: FinCan, guide: Guide, notes: tuple[Sentence, ...]) -> Template:
    """How the guide goes together, side view at a reduced scale; nothing on it is to cut."""
    k = min(0.5, 0.15 / (2.0 * guide.plate_radius_m))
    root, radius, t = can.root_m, can.fins.body_radius_m, guide.plate_m
    out, tail = guide.plate_radius_m, can.tube.end_m
    fore = min(root[0], guide.stations_m[0]) - 0.05

    def put(station: float, y: float) -> Point:
        return k * (station - fore), k * y

    def box_at(a: float, b: float, low: float, high: float, layer: Layer = "mark") -> Line:
        (x0, y0), (x1, y1) = put(a, low), put(b, high)
        return rectangle(x0, y0, x1, y1, layer)

    shapes: list[Shape] = [box_at(fore, tail, -radius, radius)]
    shapes.append(Line((put(fore - 0.01, 0.0), put(tail + 0.02, 0.0)), "hidden"))
    fin = tuple(put(can.fins.station_m + x, radius + y) for x, y in can.fins.outline_m)
    shapes.append(Line(fin, "mark", True))
    for edge in outline_lines(flat_of(can.fins), "bevel", "bevel"):
        points = edge.points_m if isinstance(edge, Line) else ()
        flat = tuple(put(can.fins.station_m + x, radius + max(y, 0.0)) for x, y in points)
        shapes.append(Line(flat, "bevel", True))
    low = -guide.key_radius_m * cos(pi / guide.count) - t / 2
    first, last = guide.stations_m[0], guide.stations_m[-1]
    shapes.append(box_at(first + t / 2, last - t / 2, low, low + t))
    for s in guide.stations_m:
        shapes.append(box_at(s - t / 2, s + t / 2, -out, out, "hidden"))
    for hold in (guide.pair.fore, guide.pair.aft):
        held = [radius + x for x in guide.pair.both_m]
        patch = box_at(hold.station_m - t / 2, hold.station_m + t / 2, held[0], held[1])
        shapes += [patch, *hatching(patch)]
    shapes += _dimension(put(first, -out), put(last, -out), guide.apart_m)
    for number, s in enumerate(guide.stations_m, 1):
        side = -1.0 if number == 1 else 1.0
        x, _ = put(s, 0.0)
        shapes.append(Words(f"plate {number}", (x + side * 0.009, k * out - 0.003), 0.0022))
    words = ("hatched: the finished fin fills both slots", "dotted: where shaping begins")
    middle, foot = k * (tail - fore) / 2.0, -k * out - 0.013
    shapes += [Words(each, (middle, foot - 0.004 * row), 0.0022) for row, each in enumerate(words)]
    shapes.append(Line(((0.0, foot - 0.007), (2.0 * middle, foot - 0.007)), "mark"))
    return Template(
        key="guide-assembly",
        title="How the guide goes together (not to size)",
        shapes=tuple(shapes),
        count=1,
        material="",
        thickness_m=None,
        notes=notes,
        flat=False,
        reduced=True,
    )


def hatching(patch: Line, step_m: float = 0.0012) -> list[Shape]:
    """Slanting lines that fill a rectangle."""
    b = bounds_of([patch])
    found: list[Shape] = []
    for i in range(1, int((b.width_m + b.height_m) / step_m) + 1):
        at = i * step_m
        start = (b.left_m + max(0.0, at - b.height_m), b.low_m + min(at, b.height_m))
        end = (b.left_m + min(at, b.width_m), b.low_m + max(0.0, at - b.width_m))
        found.append(Line((start, end), "mark"))
    return found


def _dimension(start: Point, end: Point, long_m: float) -> list[Shape]:
    """A dimension below two points."""
    y = start[1] - 0.006
    ticks = [Line(((x, start[1] - 0.001), (x, y - 0.001)), "mark") for x, _ in (start, end)]
    middle = ((start[0] + end[0]) / 2.0, y + 0.0018)
    return [
        *ticks,
        Line(((start[0], y), (end[0], y)), "mark"),
        Words(said("{long}", long=(long_m, "size")), middle, 0.0022),
    ]


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
