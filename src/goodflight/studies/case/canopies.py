"""A canopy's numbers for opening and descent, from its kind."""

from dataclasses import dataclass

from goodflight.physics.recovery import canopy_kind, cloth_area_m2, nominal_diameter_m
from goodflight.physics.vehicle.parts import Canopy


@dataclass(frozen=True)
class OpeningNumbers:
    """Cloth area and nominal diameter, fill constant n, growth exponent j, opening factor Cx."""

    cloth_area_m2: float
    diameter_m: float
    fill: float
    growth: float
    overshoot: float


def opening_numbers(canopy: Canopy) -> OpeningNumbers:
    """Numbers of a canopy; the nominal diameter is that of the circle with the cloth's area."""
    kind = canopy_kind(canopy.kind)
    area = cloth_area_m2(canopy)
    return OpeningNumbers(
        area,
        float(nominal_diameter_m(area)),
        float(kind.fill_constant),
        float(kind.growth),
        float(kind.opening_factor),
    )
