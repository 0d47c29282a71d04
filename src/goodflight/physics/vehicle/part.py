"""What every part of a rocket has and answers: its base record, and what shapes have in common.

A kind of part says here, on its own record (`parts`), what the rest of the program asks of any
part: where it ends, its shape, whether a motor passes it, how it is drawn.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, ClassVar, Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle.solids import Meridian, Solid, cylinder, frustum_meridian

MaterialFamily = Literal["", "kraft", "pla", "petg", "abs"]
Stands = Literal["body", "on the body", "inside"]  # a length of the outer body, or where else


@dataclass(frozen=True)
class Material:
    """A building material: density for mass, moduli for strength and flutter (None = not known)."""

    name: str
    density_kg_m3: float
    shear_modulus_pa: float | None = None
    bending_strength_pa: float | None = None
    source: str = ""
    family: MaterialFamily = ""  # whose crushing strength is known
    across_share: float = 1.0  # of the bending strength that is left across the face grain


@dataclass(frozen=True)
class Part:
    """What every part has: a name, a place, and perhaps a known mass and balance point."""

    name: str
    station_m: float  # front end, from the nose tip
    material: Material | None = None
    mass_kg: float | None = None  # replaces the computed mass
    mass_sigma_kg: float = 0.0  # one standard deviation of the mass
    balance_m: float | None = None  # station of the part's own CG, replaces the computed one
    balance_sigma_m: float = 0.0
    known: str = "guess"  # guess | label | measured | flight

    stands: ClassVar[Stands] = "inside"
    soft: ClassVar[bool] = False  # cloth or cord, packed
    glued_in: ClassVar[bool] = False  # brought into a tube for good
    room: ClassVar[bool] = False  # empty: weighs nothing where no mass is told
    drawn_wide: ClassVar[float] = 1.0  # share of the body it is drawn across, where not told

    @cached_property
    def kept(self) -> dict[object, Any]:
        """What was worked out of it, which never changes, and is asked for again and again."""
        return {}

    @property
    def along_m(self) -> float:
        """Length it takes along the rocket's axis [m]; 0 where that is not told."""
        return 0.0

    @property
    def diameters_m(self) -> tuple[float, float]:
        """Its outside and its bore [m]; 0 where that is not told."""
        return 0.0, 0.0

    @property
    def end_m(self) -> float:
        """Station of its rear end [m]."""
        return self.station_m + self.along_m

    @property
    def pieces(self) -> int:
        """How many equal ones it is."""
        return 1

    @property
    def even(self) -> bool:
        """Whether its sizes say where it balances."""
        return False

    @property
    def closed_at_m(self) -> tuple[float, ...]:
        """Where a plate or bulkhead of no size of its own closes it, from its front end [m]."""
        return ()

    @property
    def shaped_sigma_m3(self) -> float:
        """One standard deviation of its volume, where nothing says how it was shaped [m3]."""
        return 0.0

    def solid(self) -> Solid:
        """Volume integrals from its shape alone, per unit density, from its station on.

        Volume 0 where the shape says nothing about the mass.
        """
        return Solid(0.0, 0.0, 0.0, 0.0)

    def even_solid(self) -> Solid:
        """Shape where the mass must be given: an even rod or cylinder of unit amount."""
        length, radius = self.along_m, self.diameters_m[0] / 2.0
        return Solid(1.0, 0.5 * length, (3.0 * radius**2 + length**2) / 12.0, 0.5 * radius**2)

    def stops(self, diameter_m: float) -> bool | None:
        """Whether it stops a motor that comes from behind; None: the motor passes.

        False: a room that the motor would take up.
        """
        return None

    @property
    def rolled_m(self) -> float:
        """Length it was measured to take when packed [m]; 0 where it was not."""
        return 0.0

    @property
    def rolled_wide_m(self) -> float:
        """Diameter of what is packed in a bay [m]; 0 where it is not told."""
        return 0.0


class Long:
    """What lies along the axis with its own length."""

    length_m: float

    @property
    def along_m(self) -> float:
        """Its length."""
        return self.length_m


class Flat:
    """What stands across the axis: a disc of a sheet."""

    thickness_m: float

    @property
    def along_m(self) -> float:
        """Its thickness."""
        return self.thickness_m


class Rolled:
    """What is folded or wound up to go into a bay."""

    packed_length_m: float
    soft: ClassVar[bool] = True
    drawn_wide: ClassVar[float] = 0.8

    @property
    def along_m(self) -> float:
        """Its packed length."""
        return self.packed_length_m

    @property
    def rolled_m(self) -> float:
        """Its packed length."""
        return self.packed_length_m


class Bored:
    """What has an outside and a bore."""

    outer_diameter_m: float
    inner_diameter_m: float

    @property
    def diameters_m(self) -> tuple[float, float]:
        """Both."""
        return self.outer_diameter_m, self.inner_diameter_m

    @property
    def wall_m(self) -> float:
        """Its wall, from bore to outside."""
        return (self.outer_diameter_m - self.inner_diameter_m) / 2.0


Kind = TypeVar("Kind", bound=Part)


def of_kind(parts: Iterable[Part], kind: type[Kind]) -> tuple[Kind, ...]:
    """Those of a kind among some parts, in their order.

    Parameters
        parts : iterable of Part - any. [-]
        kind : type - the record of that kind. [-]
    Returns
        found : tuple of that kind. [-]
    Source
        Definition.
    """
    return tuple(part for part in parts if isinstance(part, kind))


@dataclass(frozen=True)
class Turned(Bored, Part):
    """What is a plain tube or ring: its shape is its length and its diameters."""

    @property
    def even(self) -> bool:
        """One wall all along."""
        return True

    def solid(self) -> Solid:
        """A hollow cylinder."""
        outer, bore = self.diameters_m
        return cylinder(self.along_m, outer / 2.0, bore / 2.0)


@dataclass(frozen=True)
class Outer(Long, Part):
    """A length of the outer body: straight from its front to its rear unless it says otherwise."""

    stands: ClassVar[Stands] = "body"

    @property
    def end_radii_m(self) -> tuple[float, float]:
        """Fore and aft outer radius [m]."""
        raise NotImplementedError

    def meridian(self) -> Meridian:
        """Outline function: x from its front end -> radius, slope."""
        fore, aft = self.end_radii_m
        if fore < 0.0 or aft < 0.0 or fore + aft <= 0.0:
            raise ValueError(
                f"part '{self.name}': diameters {2 * fore:g} m and {2 * aft:g} m; they must not be "
                "negative and not both zero."
            )
        return frustum_meridian(self.length_m, fore, aft)

    def drawn_at_m(self) -> NDArray[np.float64]:
        """Where its outline is drawn, from its front end [m]."""
        return np.linspace(0.0, self.length_m, 21)

    def full_m3(self) -> float:
        """Volume inside its skin, in closed form [m3]."""
        a, b = self.end_radii_m
        return float(np.pi) * self.length_m * (a * a + a * b + b * b) / 3.0
