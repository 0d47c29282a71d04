"""A lengthwise section of the rocket on one sheet, parts numbered, with the list they belong to."""

from dataclasses import dataclass, replace
from math import cos

from goodflight.physics.vehicle import body_length_m, outer_profile
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import kind_of, part_item
from goodflight.studies.bench.places import end_of, fin_can
from goodflight.studies.bench.shapes import (
    Circle,
    Line,
    Point,
    Shape,
    Template,
    Words,
    rectangle,
)

DRAWN_M = 0.252  # length of the drawing on paper


@dataclass(frozen=True)
class Listed:
    """One numbered part."""

    number: int
    name: str
    kind: str
    fore_m: float
    aft_m: float
    mass_kg: float | None
    known: str
    material: str


def parts_list(rocket: p.Rocket) -> tuple[Listed, ...]:
    """All parts, numbered front to back by where they begin."""
    ordered = sorted(rocket.parts, key=lambda part: (part.station_m, end_of(part), part.name))
    found = []
    for number, part in enumerate(ordered, 1):
        item = part_item(part)
        found.append(
            Listed(
                number,
                part.name,
                kind_of(part),
                part.station_m,
                end_of(part),
                item.mass_kg if item else None,
                part.known,
                part.material.name.replace("_", " ") if part.material else "",
            )
        )
    return tuple(found)


def section_template(rocket: p.Rocket) -> Template:
    """The section with numbered balloons and stations, reduced to fit one sheet.

    Parameters
        rocket : Rocket - as flown. [-]
    Returns
        template : Template - on paper, its scale in the title. [m]
    Raises
        ValueError - the outer body has a gap (see outer_profile)
    Validity
        Solids of revolution; the first fin is drawn up, the next turned into the section.
    Source
        Geometry.
    Example
        none
    """
    k = DRAWN_M / body_length_m(rocket)
    profile = outer_profile(rocket)

    def put(station_m: float, y_m: float) -> Point:
        return k * station_m, k * y_m

    xs, rs = profile.stations_m.tolist(), profile.radii_m.tolist()
    up = tuple(put(x, r) for x, r in zip(xs, rs, strict=True))
    down = tuple((x, -y) for x, y in up)
    shapes: list[Shape] = [Line(up, "cut"), Line(down, "cut")]
    shapes += [
        Line((put(s.end_m, -s.aft_radius_m), put(s.end_m, s.aft_radius_m)), "mark")
        for s in profile.segments
    ]
    shapes.append(Line((put(-0.02, 0.0), put(profile.end_m + 0.02, 0.0)), "hidden"))
    for part in rocket.parts:
        shapes += _inside(part, k)
    shapes += _fins(rocket, k)
    top = k * max([profile.reference_diameter_m / 2, _span(rocket)])
    shapes += _balloons(rocket, k, top)
    shapes += _stations(rocket, k, -top - 0.006)
    return Template(
        "section",
        f"{rocket.name} in section, scale 1:{1 / k:.2f}",
        tuple(shapes),
        1,
        "",
        None,
        ("Stations are millimetres from the nose tip.",),
        flat=False,
    )


def _span(rocket: p.Rocket) -> float:
    can = fin_can(rocket)
    return can.fins.body_radius_m + can.span_m if can else 0.0


def _fins(rocket: p.Rocket, k: float) -> list[Shape]:
    can = fin_can(rocket)
    if can is None:
        return []
    found: list[Shape] = []
    radius = can.fins.body_radius_m
    for angle in can.fin_angles_rad[:2]:
        lean = cos(angle)
        points = tuple(
            (k * (can.fins.station_m + x), k * (radius + y) * lean) for x, y in can.fins.outline_m
        )
        found.append(Line(points, "cut"))
    if can.tab_m:
        deep = radius - can.fins.tab_depth_m
        found.append(rectangle(k * can.tab_m[0], k * deep, k * can.tab_m[1], k * radius, "hidden"))
    return found


def _inside(part: p.Part, k: float) -> list[Shape]:
    """A part inside the body as rectangles in section."""
    a, b = part.station_m, end_of(part)
    match part:
        case p.Coupler() | p.MotorTube() | p.Ring():
            high, low = part.outer_diameter_m / 2, part.inner_diameter_m / 2
            return [rectangle(k * a, k * s * low, k * b, k * s * high, "mark") for s in (1, -1)]
        case p.Bulkhead():
            r = part.diameter_m / 2
            return [rectangle(k * a, -k * r, k * b, k * r, "mark")]
        case p.Canopy():
            r = part.packed_diameter_m / 2
        case p.AddedMass() if part.role not in ("paint", "fillets"):
            r = part.radius_m
        case _:
            return []
    return [rectangle(k * a, -k * r, k * b, k * r, "hidden")] if r > 0.0 and b > a else []


def _balloons(rocket: p.Rocket, k: float, top_m: float) -> list[Shape]:
    """Numbers above the section, moved apart, with leaders to the middle of each part."""
    listed = parts_list(rocket)
    gap = min(0.0072, DRAWN_M / max(1, len(listed)))
    wanted = sorted((k * (x.fore_m + x.aft_m) / 2, x.number) for x in listed)
    places: list[float] = []
    for x, _ in wanted:
        places.append(x if not places else max(x, places[-1] + gap))
    over = places[-1] - DRAWN_M if places else 0.0
    if over > 0.0:
        limit = DRAWN_M
        for i in range(len(places) - 1, -1, -1):
            places[i] = min(places[i], limit)
            limit = places[i] - gap
    found: list[Shape] = []
    y = top_m + 0.016
    for (x, number), place in zip(wanted, places, strict=True):
        found.append(Circle((place, y), 0.003, "mark"))
        found.append(Words(str(number), (place, y), 0.0021))
        found.append(Line(((place, y - 0.003), (x, 0.0)), "mark"))
    return found


def _stations(rocket: p.Rocket, k: float, y_m: float) -> list[Shape]:
    """Ends of the outer parts below the section."""
    found: list[Shape] = []
    ends = {0.0, *(s.end_m for s in outer_profile(rocket).segments)}
    can = fin_can(rocket)
    if can:
        ends |= set(can.root_m)
    last, lane = -1.0, 0
    for station in sorted(ends):
        x = k * station
        lane = (lane + 1) % 2 if x - last < 0.011 else 0
        last = x
        low = y_m - 0.004 * lane
        found.append(Line(((x, y_m + 0.002), (x, low - 0.001)), "mark"))
        found.append(Words(f"{1e3 * station:.0f}", (x, low - 0.003), 0.0021))
    return found


def reduced(template: Template, width_m: float) -> Template:
    """A template drawn smaller, for an overview; its scale is in the title."""
    b = template.bounds
    k = min(1.0, width_m / b.width_m)
    shapes: list[Shape] = []
    for shape in template.shapes:
        if isinstance(shape, Line):
            points = tuple((k * x, k * y) for x, y in shape.points_m)
            shapes.append(replace(shape, points_m=points))
        elif isinstance(shape, Circle):
            x, y = shape.centre_m
            shapes.append(Circle((k * x, k * y), k * shape.radius_m, shape.layer))
        else:
            x, y = shape.at_m
            size = max(0.0016, k * shape.height_m)
            shapes.append(replace(shape, at_m=(k * x, k * y), height_m=size))
    title = f"{template.title}, scale 1:{1 / k:.2g}"
    return replace(template, title=title, shapes=tuple(shapes))
