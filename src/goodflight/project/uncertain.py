"""Every figure of a project's files with its spread, stated or by default, and where it stands."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from goodflight.project import defaults
from goodflight.project.materials import library
from goodflight.project.measures import Pair
from goodflight.project.parts import kind_of
from goodflight.project.parts.table import PartTable
from goodflight.project.rocket_file import RocketHead
from goodflight.project.values import part_path
from goodflight.quantity import Quantity

_SIGMA_KEYS = frozenset({"alignment", "roll_phase"})  # spreads or labels themselves


@dataclass(frozen=True)
class Uncertain:
    """One figure with its spread. `sigma` is one standard deviation in SI."""

    path: str
    label: str
    dimension: str
    value: float
    sigma: float
    known: str
    along: tuple[str, float] | None = None  # path and value of a figure that scatters with it
    table: str = ""  # of rocket.toml: "part", "surface", "separation" ...; "" = of another file
    part: str = ""  # name of the part, of table "part"
    key: str = ""  # as it is written: "length", "material.density"

    def moved(self, sign: float) -> dict[str, float]:
        """Figures by path, this one a standard deviation up or down, what goes along as well."""
        found = {self.path: self.value + sign * self.sigma}
        if self.along is not None:
            path, value = self.along
            found[path] = value + sign * self.sigma
        return found


def uncertain_of(
    path: str, key: str, owner: str, quantity: Quantity, lengths: str | None = None
) -> Uncertain:
    """Return one figure of a table with its spread."""
    known = quantity.known
    if lengths and quantity.dimension == "length" and not quantity.stated and key != "balance":
        known = lengths
    sigma = defaults.sigma_of(key, quantity, known)
    label = f"{key.replace('_', ' ').replace('.', ' ')} of {owner}"
    return Uncertain(
        path, label, quantity.dimension, quantity.value, sigma=sigma, known=known, key=key
    )


def _quantities(table: Any) -> Iterator[tuple[str, Quantity]]:
    for key in type(table).model_fields:
        value = getattr(table, key)
        if isinstance(value, Quantity):
            yield key, value
        elif isinstance(value, Pair):
            for name, figure in value:
                if figure.dimension != "count":
                    yield f"{key}.{name}", figure
        elif key == "outline" and isinstance(value, list):
            for i, pair in enumerate(value):
                for j, each in enumerate(pair):
                    yield f"outline[#{i + 1}][#{j + 1}]", each


def no_roughness(head: RocketHead) -> list[Uncertain]:
    """The roughness where nothing is said: known no better than the same figure guessed."""
    if head.surface.roughness is not None:
        return []
    sigma = defaults.spread_of("surface", defaults.ROUGHNESS_M, "guess")
    return [
        Uncertain(
            "rocket.toml:surface.roughness",
            "roughness of surface",
            "length",
            defaults.ROUGHNESS_M,
            sigma=sigma,
            known="guess",
            table="surface",
            key="roughness",
        )
    ]


def _counts(table: Any, key: str) -> bool:
    """Say whether a figure changes the flight: a weighed part's inside measures do not."""
    if key in _SIGMA_KEYS or key.endswith("_spread"):
        return False
    still = kind_of(table).still if isinstance(table, PartTable) else None
    if still is None or key in still or key in ("mass", "balance"):
        return True
    if table.mass is None:
        return True
    return key == "station" and table.balance is None


def figures_of(
    base: str, table: Any, owner: str, lengths: str | None = None, named: str = ""
) -> list[Uncertain]:
    """Return the figures of a table that count; named : as rocket.toml calls it, "" elsewhere."""
    found = []
    for key, quantity in _quantities(table):
        if not _counts(table, key):
            continue
        path = f"{base}{key}" if base.endswith(":") else f"{base}.{key}"
        each = uncertain_of(path, key, owner, quantity, lengths)
        found.append(replace(each, table=named, part=owner if named == "part" else ""))
    has_wall = isinstance(table, PartTable) and kind_of(table).wall
    return [_of_wall(each, base, table) for each in found] if has_wall else found


def _of_wall(figure: Uncertain, base: str, tube: Any) -> Uncertain:
    """A tube's diameters: the outer one takes the inner along, which scatters by the wall."""
    outer, inner = tube.outer_diameter, tube.inner_diameter
    if figure.key == "outer_diameter":
        return replace(figure, along=(f"{base}.inner_diameter", inner.value))
    if figure.key != "inner_diameter" or inner.sigma is not None:
        return figure
    wall = defaults.spread_of("wall", 0.5 * (outer.value - inner.value), figure.known)
    return replace(figure, sigma=min(figure.sigma, 2.0 * wall))


def density_of(part: PartTable) -> list[Uncertain]:
    """Return the density of a part whose mass is worked out from its shape."""
    if part.mass is not None or part.material is None:
        return []
    if isinstance(part.material, str):
        entry = library()[part.material]
        value, known = entry.material.density_kg_m3, "label"
        sigma = value * entry.density_spread
    else:
        density = part.material.density
        value, known, sigma = density.value, density.known, defaults.sigma_of("density", density)
    return [
        Uncertain(
            f"{part_path(part.name)}.material.density",
            f"density of {part.name}",
            "density",
            value,
            sigma=sigma,
            known=known,
            table="part",
            part=part.name,
            key="material.density",
        )
    ]
