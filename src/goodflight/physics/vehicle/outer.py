"""The lengths of the outer body as plain SI records: nose, tube, transition.

The outer outline of a rocket is theirs; what stands on them or lies inside is in `parts`.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle import solids
from goodflight.physics.vehicle.part import Outer, Turned
from goodflight.physics.vehicle.shapes import NoseShape, check_shape
from goodflight.physics.vehicle.solids import Solid


@dataclass(frozen=True)
class Nose(Outer):
    shape: NoseShape = "tangent_ogive"
    outline_constant: float = 0.0  # power exponent, Haack C, parabola K', secant radius factor
    length_m: float = 0.0
    diameter_m: float = 0.0
    wall_m: float = 0.0  # 0 = solid
    shoulder_length_m: float = 0.0
    shoulder_diameter_m: float = 0.0
    plate: bool = False  # a plate weighed with it closes its base

    @property
    def diameters_m(self) -> tuple[float, float]:
        """At its base."""
        return self.diameter_m, 0.0

    @property
    def end_radii_m(self) -> tuple[float, float]:
        """From the tip to the base."""
        return 0.0, self.diameter_m / 2.0

    def meridian(self) -> solids.Meridian:
        """The outline of its shape."""
        base = self.diameter_m / 2.0
        check_shape(self.shape, self.outline_constant, self.length_m, base)
        return solids.nose_meridian(self.shape, self.outline_constant, self.length_m, base)

    def drawn_at_m(self) -> NDArray[np.float64]:
        """Closer together at the tip."""
        return self.length_m * np.linspace(0.0, 1.0, 81) ** 2

    def full_m3(self) -> float:
        """Integrated over its shape."""
        return solids.revolve(self.meridian(), self.length_m, 0.0).amount

    def solid(self) -> Solid:
        """Its shell, and the shoulder behind it."""
        body = solids.revolve(self.meridian(), self.length_m, self.wall_m)
        pieces = [(body, 0.0)]
        if self.shoulder_length_m > 0.0 and self.shoulder_diameter_m > 0.0:
            outer = self.shoulder_diameter_m / 2.0
            bore = max(outer - self.wall_m, 0.0) if self.wall_m > 0.0 else 0.0
            pieces.append((solids.cylinder(self.shoulder_length_m, outer, bore), self.length_m))
        return solids.join(pieces)

    @property
    def closed_at_m(self) -> tuple[float, ...]:
        """At its base, by its plate."""
        return (self.length_m,) if self.plate else ()

    def stops(self, diameter_m: float) -> bool | None:
        """It is closed."""
        return True


@dataclass(frozen=True)
class Tube(Turned, Outer):
    length_m: float = 0.0
    outer_diameter_m: float = 0.0
    inner_diameter_m: float = 0.0

    @property
    def end_radii_m(self) -> tuple[float, float]:
        """The same at both ends."""
        return self.outer_diameter_m / 2.0, self.outer_diameter_m / 2.0

    def drawn_at_m(self) -> NDArray[np.float64]:
        """At its ends."""
        return np.linspace(0.0, self.length_m, 2)


@dataclass(frozen=True)
class Transition(Outer):
    length_m: float = 0.0
    fore_diameter_m: float = 0.0
    aft_diameter_m: float = 0.0
    wall_m: float = 0.0  # 0 = solid

    @property
    def diameters_m(self) -> tuple[float, float]:
        """At its wider end."""
        return max(self.fore_diameter_m, self.aft_diameter_m), 0.0

    @property
    def end_radii_m(self) -> tuple[float, float]:
        """As they are told."""
        return self.fore_diameter_m / 2.0, self.aft_diameter_m / 2.0

    def solid(self) -> Solid:
        """Its shell."""
        return solids.revolve(self.meridian(), self.length_m, self.wall_m)
