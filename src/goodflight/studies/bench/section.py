"""The parts of the rocket as a list, and drawings made smaller."""

from dataclasses import dataclass, replace
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import kind_of, part_item
from goodflight.studies.bench.nesting import CutSheet
from goodflight.studies.bench.shapes import Circle, Line, Shape, Template, Words, bounds_of, moved

NAME_M: Final = 0.0016  # height of a piece's name on an overview


@dataclass(frozen=True)
class Listed:
    """One part."""

    name: str
    kind: str
    fore_m: float
    aft_m: float
    mass_kg: float | None
    known: str
    material: str


def parts_list(rocket: p.Rocket) -> tuple[Listed, ...]:
    """All parts, front to back by where they begin."""
    ordered = sorted(rocket.parts, key=lambda part: (part.station_m, part.end_m, part.name))
    found = []
    for part in ordered:
        item = part_item(part)
        found.append(
            Listed(
                name=part.name,
                kind=kind_of(part),
                fore_m=part.station_m,
                aft_m=part.end_m,
                mass_kg=item.mass_kg if item else None,
                known=part.known,
                material=part.material.name.replace("_", " ") if part.material else "",
            )
        )
    return tuple(found)


def overview(sheet: CutSheet, width_m: float) -> Template:
    """A cut sheet made smaller: outlines, and the name of each piece once."""
    whole = sheet.template()
    k = min(1.0, width_m / whole.bounds.width_m)
    lines = tuple(s for s in whole.shapes if s.layer in ("cut", "bore", "hidden"))
    b = reduced(replace(whole, shapes=lines), width_m)
    names = []
    for each in sheet.laid:
        place = bounds_of(moved(each.template, each.move_m, each.turn_rad))
        middle = (k * (place.left_m + place.right_m) / 2, k * (place.low_m + place.high_m) / 2)
        names.append(Words(each.template.title, middle, NAME_M))
    return replace(b, shapes=(*b.shapes, *names))


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
    return replace(template, title=title, shapes=tuple(shapes), dims=())
