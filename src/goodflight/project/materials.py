"""The library of building materials that a project may name, with source and how it is held."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from goodflight.physics.vehicle.part import Material


@dataclass(frozen=True)
class LibraryMaterial:
    """A material of the library and how well it is held."""

    material: Material
    density_spread: float  # relative, one standard deviation
    held: str  # seen | memory | practice


@cache
def library() -> dict[str, LibraryMaterial]:
    """Return the materials by name."""
    text = files("goodflight.project").joinpath("data/materials.toml").read_text(encoding="utf-8")
    found = {}
    for name, row in tomllib.loads(text).items():
        material = Material(
            name=name,
            density_kg_m3=float(row["density_kg_m3"]),
            shear_modulus_pa=row.get("shear_modulus_pa"),
            bending_strength_pa=row.get("bending_strength_pa"),
            family=row.get("family", ""),
            across_share=row.get("across_share", 1.0),
            source=f"{row['source']} ({row['held']})",
        )
        found[name] = LibraryMaterial(material, float(row["density_spread"]), row["held"])
    return found
