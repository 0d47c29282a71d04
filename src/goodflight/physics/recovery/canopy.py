"""Canopy kinds: drag with its area convention, how they fill, how much cloth they take.

A drag coefficient means nothing without its area. Every coefficient here is on the total
constructed cloth area So; figures on projected or mouth area (1.5, 2.2 and the like) must be
converted first. Left out: oscillation, gliding, cloth porosity.
"""

from dataclasses import dataclass
from math import pi, sqrt, tan
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle.parts import Canopy

Values = NDArray[np.float64] | float

LINE_KNOT: Final = 0.65  # what the knots leave of a canopy line: canopy data sheet, seen


@dataclass(frozen=True)
class CanopyKind:
    """One kind of canopy. Coefficients are on the total cloth area unless `area` says otherwise."""

    key: str
    label: str
    area_per_diameter2: float | None  # cloth area over diameter squared; None = must be given
    diameter: str  # what is measured as the diameter
    area: str  # area convention of the drag coefficient
    drag_low: float
    drag_high: float
    opening_factor: float  # Cx, greatest force over steady drag at the same speed, endless mass
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


KNACKE: Final = "Knacke 1991, NWC TP 6575, tables 5-1, 5-2 and 5-6; memory"
LIKE_FLAT: Final = "taken as flat circular (Knacke 1991, memory); polygon area derived"
CLOTH: Final = "total cloth"


def _polygon(sides: int) -> float:
    """Area of a regular polygon over the square of its width across flats."""
    return sides / 4.0 * tan(pi / sides)


def _round(constructed_over_nominal: float) -> float:
    """Cloth area pi/4 Do^2 over the square of the constructed diameter Dc."""
    return pi / 4.0 / constructed_over_nominal**2


_FLATS: Final = "laid flat, edge to opposite edge"
_FLAT: Final = "laid flat"
_BASE: Final = "across the mouth as sewn (constructed diameter)"

CANOPY_KINDS: Final[dict[str, CanopyKind]] = {
    kind.key: kind
    for kind in (
        CanopyKind(
            "flat_circular", "flat circular", pi / 4, _FLAT, CLOTH, 0.75, 0.80, 1.7, 8, 2, KNACKE
        ),
        CanopyKind(
            "flat_hexagonal",
            "flat hexagonal",
            _polygon(6),
            _FLATS,
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
            _FLATS,
            CLOTH,
            0.75,
            0.80,
            1.7,
            8,
            2,
            LIKE_FLAT,
        ),
        CanopyKind(
            "flat_square", "flat square", 1.0, _FLATS, CLOTH, 0.75, 0.80, 1.7, 8, 2, LIKE_FLAT
        ),
        CanopyKind("conical", "conical", _round(0.94), _BASE, CLOTH, 0.75, 0.90, 1.8, 8, 2, KNACKE),
        CanopyKind(
            "extended_skirt",
            "extended skirt, 10 % flat",
            _round(0.86),
            _BASE,
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
            pi / 2,
            _BASE,
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
            _round(1.04),
            _BASE,
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
            None,
            "length of an arm, tip to tip",
            CLOTH,
            0.60,
            0.85,
            1.2,
            11.7,
            2,
            KNACKE,
        ),
        CanopyKind("ringslot", "ringslot", pi / 4, _FLAT, CLOTH, 0.56, 0.65, 1.05, 14, 1, KNACKE),
        CanopyKind(
            "streamer",
            "streamer",
            None,
            "not used; give the cloth area",
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


def cloth_area_m2(canopy: Canopy) -> float:
    """Total cloth area So of a canopy with its spill hole taken off, for drag and packing.

    Given area wins. Otherwise by kind from the diameter D: circle pi/4 D^2, polygon of n sides
    across flats n/4 tan(pi/n) D^2, hemisphere pi/2 D^2, cross 2 D W - W^2 with arm width W, the
    rest from constructed over nominal diameter.

    Parameters
        canopy : Canopy - kind, diameter, area if known, spill hole, arm ratio. [-]
    Returns
        area : float - cloth that makes drag. [m2]
    Raises
        ValueError - unknown kind; no size; hole larger than the canopy; streamer without an area
    Validity
        The usual convention counts a vent below 1 % of So as cloth; we take off any hole, at most
        1 % different there.
    Source
        Areas: geometry, derived; cross: project sheet, seen; Dc/Do: Knacke 1991, memory.
    Example
        >>> round(cloth_area_m2(Canopy("c", 0.5, kind="flat_hexagonal", diameter_m=1.0)), 4)
        0.866
    """
    kind = canopy_kind(canopy.kind)
    if canopy.cloth_area_m2 > 0.0:
        area = canopy.cloth_area_m2
    elif canopy.kind == "cross" and canopy.diameter_m > 0.0:
        width = canopy.arm_ratio * canopy.diameter_m
        area = 2.0 * canopy.diameter_m * width - width**2
    elif kind.area_per_diameter2 is not None and canopy.diameter_m > 0.0:
        area = kind.area_per_diameter2 * canopy.diameter_m**2
    else:
        raise ValueError(
            f"canopy '{canopy.name}' ({kind.label}) has no size; give its diameter "
            f"({kind.diameter}) or its cloth area."
        )
    hole = pi / 4.0 * canopy.spill_hole_diameter_m**2
    if hole >= area:
        raise ValueError(
            f"canopy '{canopy.name}': spill hole of {canopy.spill_hole_diameter_m:g} m is as large "
            f"as the cloth of {area:.3g} m2; measure both again."
        )
    return area - hole


def drag_area_m2(canopy: Canopy) -> float:
    """Drag coefficient times cloth area [m2]; the coefficient is on total cloth area.

    Parameters
        canopy : Canopy - the canopy. [-]
    Returns
        area : float - CdS. [m2]
    """
    return canopy.drag_coefficient * cloth_area_m2(canopy)


def nominal_diameter_m(area_m2: Values) -> Values:
    """Diameter Do of the circle with the cloth's area, which fill constants refer to.

    Parameters
        area_m2 : float or array - total cloth area So. [m2]
    Returns
        diameter : same shape - Do = sqrt(4 So/pi). [m]
    Raises
        nothing
    Validity
        Definition.
    Source
        Knacke 1991, definition of nominal diameter; memory.
    Example
        >>> round(float(nominal_diameter_m(0.7853981634)), 6)
        1.0
    """
    return np.sqrt(4.0 * np.asarray(area_m2) / pi)


def on_cloth_area(coefficient: float, projected_over_cloth_diameter: float) -> float:
    """Drag coefficient on cloth area from one on projected (mouth) area.

    C_o = C_p (Dp/Do)^2, because the drag itself does not change.

    Parameters
        coefficient : float - on projected area. [-]
        projected_over_cloth_diameter : float - Dp/Do, about 0.67 to 0.70 for flat circular. [-]
    Returns
        coefficient : float - on total cloth area. [-]
    Raises
        nothing
    Validity
        Exact, as good as the ratio.
    Source
        Derived; the ratio from Knacke 1991, memory.
    Example
        >>> round(on_cloth_area(1.5, 0.71), 3)
        0.756
    """
    return coefficient * projected_over_cloth_diameter**2


def diameter_for_m(
    mass_kg: float, speed_m_s: float, density_kg_m3: float, kind: CanopyKind, gravity_m_s2: float
) -> float:
    """Canopy diameter that brings a mass down at a wished speed.

    D = sqrt(2 m g / (rho v^2 Cd k)), k = cloth area over D^2.

    Parameters
        mass_kg : float - everything that hangs on it. [kg]
        speed_m_s : float - wished speed down. [m/s]
        density_kg_m3 : float - of the air at the ground. [kg/m3]
        kind : CanopyKind - with its mid drag coefficient. [-]
        gravity_m_s2 : float - local gravity. [m/s2]
    Returns
        diameter : float - as the kind measures it. [m]
    Raises
        ValueError - kind whose area is not set by a diameter
    Validity
        Steady descent.
    Source
        Force balance; derived.
    Example
        >>> round(diameter_for_m(1.5, 6.0, 1.225, canopy_kind("flat_circular"), 9.80665), 3)
        1.047
    """
    if kind.area_per_diameter2 is None:
        raise ValueError(
            f"a {kind.label} is not sized by one diameter; choose its cloth area instead."
        )
    area = 2.0 * mass_kg * gravity_m_s2 / (density_kg_m3 * speed_m_s**2 * kind.drag_coefficient)
    return sqrt(area / kind.area_per_diameter2)


def lines_hold_n(line_strength_n: float, line_count: int) -> float:
    """Force that a canopy's lines hold with their knots: strength x lines x LINE_KNOT [N].

    Parameters
        line_strength_n : float - of one line, straight. [N]
        line_count : int - lines. [-]
    Returns
        force : float - evenly shared. [N]
    """
    return line_strength_n * line_count * LINE_KNOT
