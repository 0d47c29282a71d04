"""Canopy kinds: drag with its area convention, how they fill, and the ways they are measured.

A drag coefficient means nothing without its area, and a size nothing without the way it was
measured: a hexagon of 1 m has 0.65 m2 across its corners and 0.87 m2 across its flats. Every
coefficient here is on the total cloth area So; figures on projected or mouth area (1.5, 2.2 and
the like) must be converted first.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, sin, tan
from types import MappingProxyType
from typing import Final


@dataclass(frozen=True)
class CanopyKind:
    """One kind of canopy. Coefficients are on the total cloth area unless `area` says otherwise."""

    key: str
    label: str
    ways: Mapping[str, float]  # way it may be measured: cloth area over that length squared
    area: str  # area convention of the drag coefficient
    drag_low: float
    drag_high: float
    opening_factor: float  # Cx, greatest force over steady drag at the same speed, infinite mass
    fill_constant: float  # n in fill time = n Do / v
    growth: float  # exponent j of drag area over time while it fills
    source: str

    def __post_init__(self) -> None:
        """Check the record itself."""
        if not 0.0 < self.drag_low <= self.drag_high < 1.5:
            raise ValueError(f"canopy kind '{self.key}': drag coefficients out of order")
        if self.opening_factor < 1.0 or self.fill_constant < 0.0 or self.growth <= 0.0:
            raise ValueError(f"canopy kind '{self.key}': opening figures out of range")

    @property
    def drag_coefficient(self) -> float:
        """Middle of the range [-]."""
        return 0.5 * (self.drag_low + self.drag_high)

    @property
    def usual_drag_coefficient(self) -> float:
        """What is taken when nothing is stated: 0.75, or the middle of a range without it [-]."""
        return USUAL if self.drag_low <= USUAL <= self.drag_high else self.drag_coefficient

    def area_over_square(self, way: str = "") -> float:
        """Cloth area over the square of the width, measured this way; "" is the first way [-].

        Raises
            ValueError - this kind is not measured that way; the ways it has are listed
        """
        if not way and self.ways:
            return next(iter(self.ways.values()))
        if way not in self.ways:
            raise ValueError(
                f"a {self.label} canopy is not measured '{way}'; "
                f"measure it {' or '.join(self.ways) or 'by its cloth area'}."
            )
        return self.ways[way]


USUAL: Final = 0.75  # flat canopies 0.75 to 0.80 (Knacke 1991, memory)
KNACKE: Final = "Knacke 1991, NWC TP 6575, tables 5-1, 5-2 and 5-6; memory"
LIKE_FLAT: Final = "taken as flat circular (Knacke 1991, memory); polygon area derived"
CLOTH: Final = "total cloth"


CORNERS: Final = "across corners"  # laid flat, corner to opposite corner
FLATS: Final = "across flats"  # laid flat, edge to opposite edge
CLOTH_WAY: Final = "along the cloth"  # edge to opposite edge over the top, following the cloth
MOUTH: Final = "across the mouth"  # hem to opposite hem as sewn, hung open
WAYS: Final = (FLATS, CORNERS, CLOTH_WAY, MOUTH)
ARM_RATIO: Final = 1.0 / 3.0  # cross: width of an arm over its length


def polygon_area_over_square(sides: int, way: str) -> float:
    """Area of a regular polygon with an even number of sides over the square of its width.

    Across corners n/8 sin(2 pi/n), across flats n/4 tan(pi/n); a hexagon: 0.6495 and 0.8660.

    Parameters
        sides : int - number of sides n, even. [-]
        way : str - "across corners" or "across flats". [-]
    Returns
        ratio : float - area over width squared. [-]
    Raises
        ValueError - another way, or an odd number of sides
    Validity
        Geometry only.
    Source
        Geometry, derived: n triangles with the half width as side or as height.
    Example
        >>> round(polygon_area_over_square(6, "across corners"), 4)
        0.6495
    """
    if sides < 4 or sides % 2:
        raise ValueError(f"a canopy of {sides} sides has no opposite edges; give its cloth area.")
    if way == CORNERS:
        return sides / 8.0 * sin(2.0 * pi / sides)
    if way == FLATS:
        return sides / 4.0 * tan(pi / sides)
    raise ValueError(f"a flat polygon is measured {CORNERS} or {FLATS}, not {way}.")


def _polygon(sides: int) -> Mapping[str, float]:
    return MappingProxyType({way: polygon_area_over_square(sides, way) for way in (FLATS, CORNERS)})


def _round(constructed_over_nominal: float) -> float:
    """Cloth area pi/4 Do^2 over the square of the constructed diameter Dc."""
    return pi / 4.0 / constructed_over_nominal**2


# A cone of slant s on a mouth Dc has the area pi/2 Dc s; with Do/Dc known its cloth measures
# 2 s = Do^2 / Dc over the top. A hemisphere measures pi/2 Dc over the top.
CONE_RATIO: Final = 0.94
_DISC: Final = MappingProxyType({CLOTH_WAY: pi / 4})
_CONE: Final = MappingProxyType({MOUTH: _round(CONE_RATIO), CLOTH_WAY: pi / 4 * CONE_RATIO**2})
_HALF_BALL: Final = MappingProxyType({MOUTH: pi / 2, CLOTH_WAY: 2.0 / pi})
_CROSS: Final = MappingProxyType({CLOTH_WAY: 2.0 * ARM_RATIO - ARM_RATIO**2})

CANOPY_KINDS: Final[dict[str, CanopyKind]] = {
    kind.key: kind
    for kind in (
        CanopyKind("flat_circular", "flat circular", _DISC, CLOTH, 0.75, 0.80, 1.7, 8, 2, KNACKE),
        CanopyKind(
            "flat_hexagonal",
            "flat hexagonal",
            _polygon(6),
            CLOTH,
            0.75,
            0.80,
            1.7,
            8,
            2,
            LIKE_FLAT,
        ),
        CanopyKind(
            "flat_octagonal",
            "flat octagonal",
            _polygon(8),
            CLOTH,
            0.75,
            0.80,
            1.7,
            8,
            2,
            LIKE_FLAT,
        ),
        CanopyKind(
            "flat_square", "flat square", _polygon(4), CLOTH, 0.75, 0.80, 1.7, 8, 2, LIKE_FLAT
        ),
        CanopyKind("conical", "conical", _CONE, CLOTH, 0.75, 0.90, 1.8, 8, 2, KNACKE),
        CanopyKind(
            "extended_skirt",
            "extended skirt, 10 % flat",
            MappingProxyType({MOUTH: _round(0.86)}),
            CLOTH,
            0.78,
            0.87,
            1.4,
            10,
            2,
            KNACKE,
        ),
        CanopyKind(
            "hemispherical",
            "hemispherical",
            _HALF_BALL,
            CLOTH,
            0.62,
            0.77,
            1.6,
            8,
            2,
            KNACKE + "; fill constant taken from flat circular",
        ),
        CanopyKind(
            "annular",
            "annular, apex pulled down",
            MappingProxyType({MOUTH: _round(1.04)}),
            CLOTH,
            0.85,
            0.95,
            1.4,
            8,
            2,
            KNACKE + "; fill constant taken from flat circular",
        ),
        CanopyKind(
            "cross",
            "cross",
            _CROSS,
            CLOTH,
            0.60,
            0.85,
            1.2,
            11.7,
            2,
            KNACKE,
        ),
        CanopyKind("ringslot", "ringslot", _DISC, CLOTH, 0.56, 0.65, 1.05, 14, 1, KNACKE),
        CanopyKind(
            "streamer",
            "streamer",
            MappingProxyType({}),
            "one side, length x width",
            0.14,
            0.40,
            1.0,
            0,
            1,
            "hobby range, seen; opens at once: our assumption",
        ),
    )
}


def canopy_kind(key: str) -> CanopyKind:
    """The record of a canopy kind, for its coefficients and its area convention.

    Parameters
        key : str - name as in the project file, e.g. "flat_hexagonal". [-]
    Returns
        kind : CanopyKind - the record. [-]
    Raises
        ValueError - unknown kind; the allowed ones are listed
    Validity
        See the source named in each record.
    Source
        Knacke 1991 from memory, see each record.
    Example
        >>> canopy_kind("flat_circular").opening_factor
        1.7
    """
    if key not in CANOPY_KINDS:
        raise ValueError(
            f"canopy kind '{key}' is not known; allowed are {', '.join(CANOPY_KINDS)}."
        )
    return CANOPY_KINDS[key]
