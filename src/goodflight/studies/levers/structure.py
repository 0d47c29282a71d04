"""Levers of rings, rail guides and the tail's edge."""

from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle import part_item
from goodflight.physics.vehicle.part import Material, Part
from goodflight.physics.vehicle.parts import Buttons, Ring, Tube
from goodflight.project.materials import library
from goodflight.quantity.said import literal, said
from goodflight.studies.case.planned import Case, guides_of
from goodflight.studies.case.remade import stated, with_part, with_rocket
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once
from goodflight.studies.levers.sizes import FORCE, MASS, PLACE, SPAN, THICK, stock
from goodflight.studies.rows.structure import mount_rings

LINED_PA: Final = 65e6  # bending strength of a kraft edge with one layer of glass; our guess
LINED: Final = "edge lined with glass"
STRONGER: Final = (1.25, 1.5, 2.0, 2.5, 3.0)
# plywood as sold; common practice, no source
SHEETS_MM: Final = (3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
SHEETS_IN: Final = (1 / 8, 3 / 16, 1 / 4, 3 / 8, 1 / 2)
TAIL_ROOM_M: Final = 0.015  # behind the rear guide, so that its screw holds; practice
ADDED_RING: Final = "added ring"
MASS_GUESS: Final = 0.10  # of a mass nobody has weighed yet, as the project takes it


def _named(case: Case, part: Part) -> Part:
    """A part as it stands in the flight that is tried."""
    return next(each for each in case.rocket.parts if each.name == part.name)


def _ring_thick(base: Case, _now: Case) -> Offer | None:
    found = mount_rings(base.rocket)
    if not found:
        return None
    first = found[0]
    name = literal(first.name)
    sold = stock(base, SHEETS_MM, SHEETS_IN)
    values = [thick_m for thick_m in sold if thick_m > first.thickness_m + 1e-6]
    return numbers(
        first.thickness_m,
        values,
        make=lambda case, thick_m: with_part(
            case, _named(case, first), replace(first, thickness_m=thick_m)
        ),
        writes=lambda thick_m: (
            (f"rocket.toml:part[{first.name}].thickness", THICK.text(base, thick_m)),
        ),
        title=lambda thick_m: said(f"make {name} {{thick}} thick", thick=(thick_m, "length")),
        towards="up",
    )


def _ring_added(base: Case, _now: Case) -> Offer | None:
    found = mount_rings(base.rocket)
    key = material_key(found[0].material) if found else ""
    if not key or any(part.name == ADDED_RING for part in base.rocket.parts):
        return None
    extra, write = _extra_ring(base, found[0], key)

    def make(case: Case) -> Case:
        return with_rocket(case, replace(case.rocket, parts=(*case.rocket.parts, extra)))

    return once(said("glue in one more ring"), make, write)


def _extra_ring(case: Case, first: Ring, material: str) -> tuple[Ring, Write]:
    bare = replace(
        first,
        name=ADDED_RING,
        station_m=SPAN.near(case, first.station_m + 0.04),
        mass_kg=None,
        balance_m=None,
    )
    found = part_item(bare)
    made = 0.0 if found is None else found.mass_kg
    mass = stated(made, MASS_GUESS * made, *MASS.unit(case), 3)
    place = stated(bare.station_m + 0.5 * bare.thickness_m, 2e-3, *SPAN.unit(case))
    extra = replace(
        bare,
        mass_kg=mass.value,
        mass_sigma_kg=mass.sigma,
        balance_m=place.value,
        balance_sigma_m=place.sigma,
        known="guess",
    )
    sizes = {
        "station": extra.station_m,
        "thickness": extra.thickness_m,
        "outer_diameter": extra.outer_diameter_m,
        "inner_diameter": extra.inner_diameter_m,
    }
    lengths = ", ".join(f'{key} = "{THICK.text(case, size_m)}"' for key, size_m in sizes.items())
    text = (
        f'kind = "ring", name = "{ADDED_RING}", {lengths}, material = "{material}", '
        f'mass = "{mass.text}", balance = "{place.text}"'
    )
    return extra, ("rocket.toml:part", text)


def material_key(material: Material | None) -> str:
    """The name a project gives a material of the list; empty for one of its own."""
    names = (key for key, each in library().items() if each.material == material)
    return next(names, "")


def _guides(base: Case, _now: Case) -> Offer | None:
    """Guides that hold twice as much."""
    old = guides_of(base.rocket)
    if old is None or old.strength_n is None:
        return None
    values = [FORCE.near(base, factor * old.strength_n) for factor in STRONGER]
    return numbers(
        old.strength_n,
        values,
        make=lambda case, newton: with_part(
            case, _named(case, old), replace(old, strength_n=newton)
        ),
        writes=lambda newton: (
            (f"rocket.toml:part[{old.name}].strength", FORCE.text(base, newton)),
        ),
        title=lambda newton: said(
            "screw the rail guides into a block or a ring, so that each holds {force}",
            force=(newton, "force"),
        ),
        towards="up",
    )


def _guide_aft(base: Case, _now: Case) -> Offer | None:
    """The rear guide nearer the tail: more of the rail guides, and the two are further apart."""
    old, tubes = guides_of(base.rocket), list(base.rocket.of_kind(Tube))
    if old is None or not tubes:
        return None
    aft_now = old.aft_station_m
    last = max(tube.station_m + tube.length_m for tube in tubes) - TAIL_ROOM_M
    step = PLACE.step(base)
    count = int((last - aft_now) / step)
    if count < 1:
        return None

    def moved(aft_m: float) -> Buttons:
        """Its balance goes along with one of the two."""
        balance = None if old.balance_m is None else old.balance_m + 0.5 * (aft_m - aft_now)
        return replace(old, aft_station_m=aft_m, balance_m=balance)

    def writes(aft_m: float) -> tuple[Write, ...]:
        at, balance = f"rocket.toml:part[{old.name}]", moved(aft_m).balance_m
        place = () if balance is None else ((f"{at}.balance", PLACE.text(base, balance)),)
        return ((f"{at}.aft_station", PLACE.text(base, aft_m)), *place)

    return numbers(
        aft_now,
        (aft_now + number * step for number in range(1, count + 1)),
        make=lambda case, aft_m: with_part(case, _named(case, old), moved(aft_m)),
        writes=writes,
        title=lambda aft_m: said(
            "move the rear rail guide to {place} from the nose tip", place=(aft_m, "length")
        ),
        towards="up",
    )


def _tail_edge(base: Case, _now: Case) -> Offer | None:
    tubes = list(base.rocket.of_kind(Tube))
    if not tubes:
        return None
    last = max(tubes, key=lambda tube: tube.station_m)
    old = last.material
    if old is None or old.name == LINED:
        return None
    lined = replace(old, name=LINED, family="", bending_strength_pa=LINED_PA, source="estimate")
    shear = lined.shear_modulus_pa
    more = "" if shear is None else f', shear_modulus = "{shear / 1e6:g} MPa"'
    text = (
        f'{{ name = "{LINED}", density = "{lined.density_kg_m3:g} kg/m3 label"{more}, '
        f'bending_strength = "{LINED_PA / 1e6:g} MPa", source = "estimate" }}'
    )
    return once(
        said("soak the tail's edge and line it with glass tape"),
        lambda case: with_part(case, _named(case, last), replace(last, material=lined)),
        (f"rocket.toml:part[{last.name}].material", text),
    )


LEVERS: Final = (
    Lever(
        "ring_added",
        "one more ring",
        dimension="",
        cost="evening",
        offer=_ring_added,
        note="before the motor tube goes in",
        helps=("thrust_ring",),
    ),
    Lever(
        "ring_thick",
        "thickness of the forward ring",
        dimension="length",
        cost="evening",
        offer=_ring_thick,
        note="before the motor tube goes in",
        helps=("anchor", "thrust_ring"),
    ),
    Lever(
        "guides",
        "strength of the rail guides",
        "force",
        "evening",
        _guides,
        helps=("guides",),
        flies=False,
    ),
    Lever(
        "guide_aft",
        "place of the rear rail guide",
        dimension="length",
        cost="minutes",
        offer=_guide_aft,
        note="close the old hole; in line with the forward guide; screw it into a ring or a block",
        helps=("guides_stick", "guides", "rail_exit", "burnout_lean"),
        touches=("rail_fit",),
    ),
    Lever(
        "tail_edge",
        "lined tail edge",
        dimension="",
        cost="evening",
        offer=_tail_edge,
        note="a few grams at the tail",
        helps=("tail_strike",),
        flies=False,
    ),
)
