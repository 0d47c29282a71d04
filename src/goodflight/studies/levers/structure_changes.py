"""What the builder can do about fillets, rings, guides, the tail's edge and a larger canopy."""

from collections.abc import Iterator
from dataclasses import replace

from goodflight.physics.structure import FILLET_SHARE
from goodflight.physics.vehicle import part_item
from goodflight.physics.vehicle.parts import Buttons, Canopy, Fins, Material, Ring, Tube
from goodflight.project.materials import library
from goodflight.studies.case.planned import Case, canopy_of, fins_of, guides_of
from goodflight.studies.case.remade import stated, with_length, with_part, with_rocket
from goodflight.studies.levers.changes import Change
from goodflight.studies.rows.structure import mount_rings

LINED_PA = 65e6  # bending strength of a kraft edge with one layer of glass; estimate, no source
LARGER = 1.15
ADDED_RING = "added ring"
MASS_GUESS = 0.10  # of a mass nobody has weighed yet, as the project takes it


def fillets(case: Case) -> Iterator[Change]:
    """Larger fillets on the fins."""
    fins = fins_of(case.rocket)
    if fins is None:
        return
    chord = max(aft for aft, out in fins.outline_m if out < 1e-4)
    now = fins.fillet_radius_m or FILLET_SHARE * chord
    for factor in (1.5, 2.0):
        wide_mm = round(1e3 * factor * now)
        said = stated(1e-3 * wide_mm, 1e-3, "mm", 1e-3)
        larger: Fins = replace(fins, fillet_radius_m=said.value)
        yield Change(
            f"fillet_{wide_mm}", f"make the fins' fillets {wide_mm} mm", "evening",
            "adds weight at the tail: balance again",
            with_length(case, fins, larger, "fillet_radius", said),
            ((f"rocket.toml:part[{fins.name}].fillet_radius", said.text),), True,
            ("fin_bond", "fin_strike"),
        )  # fmt: skip


def rings(case: Case) -> Iterator[Change]:
    """One more ring on the motor tube, and a thicker one under the anchor."""
    found = mount_rings(case.rocket)
    if not found:
        return
    first = found[0]
    key = material_key(first.material)
    if key and all(part.name != ADDED_RING for part in case.rocket.parts):
        yield _ring_added(case, first, key)
    thick_mm = round(1.5e3 * first.thickness_m, 1)
    yield Change(
        "ring_thick", f"make {first.name} {thick_mm:g} mm thick", "evening",
        "before the motor tube goes in",
        with_part(case, first, replace(first, thickness_m=1e-3 * thick_mm)),
        ((f"rocket.toml:part[{first.name}].thickness", f"{thick_mm:g} mm"),), True,
        ("anchor", "thrust_ring"),
    )  # fmt: skip


def _ring_added(case: Case, first: Ring, material: str) -> Change:
    bare: Ring = replace(
        first, name=ADDED_RING, station_m=round(first.station_m + 0.04, 3), mass_kg=None,
        balance_m=None,
    )  # fmt: skip
    found = part_item(bare)
    made = 0.0 if found is None else found.mass_kg
    mass = stated(made, MASS_GUESS * made, "g", 1e-3, 3)
    place = stated(bare.station_m + 0.5 * bare.thickness_m, 2e-3, "mm", 1e-3)
    extra: Ring = replace(
        bare, mass_kg=mass.value, mass_sigma_kg=mass.sigma, balance_m=place.value,
        balance_sigma_m=place.sigma, known="guess",
    )  # fmt: skip
    sizes = ("station", "thickness", "outer_diameter", "inner_diameter")
    lengths = ", ".join(f'{n} = "{1e3 * getattr(extra, f"{n}_m"):g} mm"' for n in sizes)
    return Change(
        "ring_added", "glue in one more ring", "evening", "before the motor tube goes in",
        with_rocket(case, replace(case.rocket, parts=(*case.rocket.parts, extra))),
        (("rocket.toml:part", f'kind = "ring", name = "{ADDED_RING}", {lengths}, '
          f'material = "{material}", mass = "{mass.text}", balance = "{place.text}"'),), True,
        ("thrust_ring",),
    )  # fmt: skip


def material_key(material: Material | None) -> str:
    """The name a project gives a material of the list; empty for one of its own."""
    names = (key for key, each in library().items() if each.material == material)
    return next(names, "")


def guides(case: Case) -> Iterator[Change]:
    """Guides that hold twice as much."""
    old = guides_of(case.rocket)
    if old is None or old.strength_n is None:
        return
    stronger: Buttons = replace(old, strength_n=round(2.0 * old.strength_n))
    yield Change(
        "guides_2", "screw the rail guides into a block or a ring", "evening", "",
        with_part(case, old, stronger),
        ((f"rocket.toml:part[{old.name}].strength", f"{stronger.strength_n:.0f} N"),), False,
        ("guides",),
    )  # fmt: skip


def tail_edge(case: Case) -> Iterator[Change]:
    """Line the tail's edge with glass."""
    tubes = [part for part in case.rocket.parts if isinstance(part, Tube)]
    if not tubes:
        return
    last = max(tubes, key=lambda tube: tube.station_m)
    name, old = "edge lined with glass", last.material
    if old is None or old.name == name:
        return
    lined = replace(old, name=name, bending_strength_pa=LINED_PA, source="estimate")
    moduli = {"shear_modulus": lined.shear_modulus_pa, "elastic_modulus": lined.elastic_modulus_pa}
    more = "".join(f', {k} = "{v / 1e6:g} MPa"' for k, v in moduli.items() if v is not None)
    yield Change(
        "tail_edge", "soak the tail's edge and line it with glass tape", "evening",
        "a few grams at the tail", with_part(case, last, replace(last, material=lined)),
        ((f"rocket.toml:part[{last.name}].material",
          f'{{ name = "{name}", density = "{lined.density_kg_m3:g} kg/m3 label"{more}, '
          f'bending_strength = "{LINED_PA / 1e6:g} MPa", source = "estimate" }}'),), False,
        ("tail_strike",),
    )  # fmt: skip


def larger_canopy(case: Case) -> Iterator[Change]:
    """A canopy that is larger than those at hand; it drifts further and takes more room."""
    old = canopy_of(case)
    if old is None:
        return
    path, area = f"rocket.toml:part[{old.name}]", LARGER**2
    wide_mm = round(1e3 * LARGER * old.diameter_m, -1)
    changes: dict[str, float] = {"diameter_m": 1e-3 * wide_mm}
    writes = [(f"{path}.diameter", f"{wide_mm / 1e3:g} m")]
    if old.cloth_area_m2 > 0.0:
        changes["cloth_area_m2"] = round(old.cloth_area_m2 * area, 3)
        writes.append((f"{path}.cloth_area", f"{changes['cloth_area_m2']:g} m2"))
    if old.packed_length_m > 0.0:
        changes["packed_length_m"] = round(old.packed_length_m * area, 3)
        writes.append((f"{path}.packed_length", f"{1e3 * changes['packed_length_m']:.0f} mm"))
    if old.mass_kg is not None:
        mass = stated(old.mass_kg * area, MASS_GUESS * old.mass_kg * area, "g", 1e-3, 3)
        changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
        writes.append((f"{path}.mass", mass.text))
    new = replace(old, known="guess", **changes)  # type: ignore[arg-type]
    yield Change(
        f"canopy_larger_{LARGER:g}", f"sew or buy a canopy of {wide_mm / 1e3:g} m", "purchase",
        "weigh it, pack it, pull-test it",
        replace(with_part(case, _fitted(case, old), new), canopy=new), tuple(writes), True,
        ("landing_speed", "tail_strike", "nose_strike", "fin_strike"),
    )  # fmt: skip


def _fitted(case: Case, canopy: Canopy) -> Canopy:
    """The canopy as it stands among the rocket's parts."""
    parts = (p for p in case.rocket.parts if isinstance(p, Canopy) and p.name == canopy.name)
    return next(parts, canopy)


MAKERS = (fillets, rings, guides, tail_edge, larger_canopy)
