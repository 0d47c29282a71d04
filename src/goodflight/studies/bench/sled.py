"""The board that slides into a bay with what it carries: a starting point to lay things out on."""

from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.places import of_kind
from goodflight.studies.bench.shapes import Line, Shape, Template, Words, rectangle
from goodflight.studies.bench.sizes import box_sizes


def sled_template(rocket: p.Rocket, choices: Choices) -> Template | None:
    """The board that slides into a bay, for a part whose role is sled."""
    sled = next((x for x in of_kind(rocket, p.AddedMass) if x.role == "sled"), None)
    if sled is None or sled.length_m <= 0.0:
        return None
    around: list[p.Coupler | p.Tube] = [*of_kind(rocket, p.Coupler), *of_kind(rocket, p.Tube)]
    inner = [
        t.inner_diameter_m for t in around if t.station_m < sled.end_m and t.end_m > sled.station_m
    ]
    if not inner:
        return None
    wide, long, off = min(inner) - 2e-3 - choices.clearance_m, sled.length_m, 0.008
    shapes: list[Shape] = [rectangle(0.0, -wide / 2, long, wide / 2)]
    shapes += [Line(((0.0, 0.0), (long, 0.0)), "mark")]
    for x in (0.25 * long, 0.45 * long):
        shapes += [
            rectangle(x, s * 0.016 - 0.0015, x + 0.018, s * 0.016 + 0.0015, "bore")
            for s in (-1.0, 1.0)
        ]
    shapes += [
        Line(((off, s * 0.32 * wide), (long - off, s * 0.32 * wide)), "hidden") for s in (-1.0, 1.0)
    ]
    shapes.append(Words("sled: strap slots, dashed lines for rods", (long / 2, 0.002)))
    return Template(
        key="sled",
        seen="either side up",
        title="Sled",
        shapes=tuple(shapes),
        count=1,
        material="",
        thickness_m=0.003,
        notes=("A starting point: lay logger and battery on it before cutting the slots.",),
        sizes=(("length", long), ("width", wide)),
        dims=box_sizes(0.0, -wide / 2, long, wide / 2),
    )
