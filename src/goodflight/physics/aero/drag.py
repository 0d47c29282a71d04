"""Drag of the body at zero incidence: friction and form, nose, steps of the outline.

Answers: where does the body's drag come from at each Mach number? The tail is in `base`. Main
sources: USAF DATCOM, Hoerner. Left out: drag of joints and paint edges (in the spread).
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.base import separated_share, square_base_pressure, tail_of
from goodflight.physics.aero.curves import (
    CONE_WAVE,
    DRAG_RISE,
    OGIVE_WAVE,
    smoothstep,
)
from goodflight.physics.aero.geometry import BodyShape, GuideShape
from goodflight.physics.vehicle.shapes import NoseShape

Array = NDArray[np.float64]

RISE_BEFORE: Final = 0.10  # the rise starts this much before drag divergence ...
RISE_END: Final = 1.10  # ... and is over here; both judgement
# Wave drag over that of the tangent ogive of the same length. Cone has its own curve; the Haack
# values follow from the least-drag theorem (4 A / pi l^2 against 1.17 d^2/l^2 of the figure);
# the others are from memory of published comparisons and good to about 30 %.
SHAPE_WAVE: Final[dict[NoseShape, float]] = {
    "tangent_ogive": 1.0,
    "secant_ogive": 0.95,
    "ellipsoid": 2.0,
    "parabola": 0.95,
    "haack": 0.86,
    "power": 0.95,
}
GUIDE_CD: Final = 0.8  # of one guide on its frontal area, standing in the boundary layer; memory


def body_friction(friction: ArrayLike, fineness: float, wetted_m2: float, area_m2: float) -> Array:
    """Friction and form drag of a body of revolution.

    Cf (1 + 60 / f^3 + 0.0025 f) Sw / S.

    Parameters
        friction : float or array - mean friction coefficient Cf. [-]
        fineness : float - length over diameter f. [-]
        wetted_m2 : float - surface Sw, base not counted. [m2]
        area_m2 : float - reference area S. [m2]
    Returns
        coefficient : array - drag coefficient. [-]
    Validity
        Subsonic; the form part is kept above the speed of sound, where it is under 3 % of the
        friction for fineness above 10.
    Source
        [datcom1978] section 4.2.3.1.
    Example
        body_friction(0.00248495, 5.46109, 18.3698, 8.85) -> 0.007129
    """
    form = 1.0 + 60.0 / fineness**3 + 0.0025 * fineness
    return np.asarray(np.asarray(friction) * form * wetted_m2 / area_m2)


def nose_wave_drag(shape: NoseShape, fineness: float, mach: ArrayLike) -> Array:
    """Pressure drag of a pointed nose above the speed of sound, on its base area.

    Y / (4 f^2), Y from the figure: 4.68 for ogives, falling with Mach number for cones.

    Parameters
        shape : str - nose shape. [-]
        fineness : float - nose length over base diameter f. [-]
        mach : float or array - above 1. [-]
    Returns
        coefficient : array - on the nose's base area. [-]
    Validity
        2 f / beta from 1 to 20, held outside; shapes other than ogive and cone within 30 %.
    Source
        [datcom1978] figs 4.2.3.1-27 and -28; other shapes see SHAPE_WAVE.
    Example
        nose_wave_drag("tangent_ogive", 3.0, 1.3) -> 0.13
    """
    m = np.asarray(mach, dtype=np.float64)
    if shape == "cone":
        beta = np.sqrt(np.maximum(m * m - 1.0, 1e-4))
        return np.asarray(CONE_WAVE(2.0 * fineness / beta) / (4.0 * fineness**2))
    return np.full_like(m, OGIVE_WAVE * SHAPE_WAVE[shape] / (4.0 * fineness**2))


def _rise(fineness: float, mach: Array) -> Array:
    """Share of the supersonic pressure drag reached at a Mach number, 0 to 1."""
    start = float(DRAG_RISE(2.0 * fineness)) - RISE_BEFORE
    return smoothstep(mach, start, RISE_END)


def nose_drag(body: BodyShape, mach: ArrayLike) -> Array:
    """Pressure drag of the nose at any Mach number, on the greatest section.

    Subsonic 0.8 sin^2 of the corner between nose and tube (none for a tangent ogive); supersonic
    wave drag; joined from 0.1 before drag divergence to Mach 1.1.

    Parameters
        body : BodyShape - outline and nose. [-]
        mach : float or array - Mach number. [-]
    Returns
        coefficient : array - pressure drag. [-]
    Validity
        Mach 0 to 2; noses longer than their diameter.
    Source
        [hoerner1965] 3-12 (memory) for the corner; [raymer1992] fig 12.28 for the rise.
    Example
        nose_drag(body, 0.3) -> 0.0
    """
    m = np.asarray(mach, dtype=np.float64)
    if body.nose_length_m <= 0.0:
        return np.full_like(m, 0.8)
    x, r = body.stations_m, body.radii_m
    i = max(int(np.searchsorted(x, x[0] + body.nose_length_m - 1e-9)), 1)
    radius = float(r[i])
    slope = (r[i] - r[i - 1]) / max(float(x[i] - x[i - 1]), 1e-9)
    after = next((j for j in range(i, len(x) - 1) if x[j + 1] > x[j]), None)
    turn = np.arctan(slope)
    if after is not None:
        turn -= np.arctan((r[after + 1] - r[after]) / (x[after + 1] - x[after]))
    if body.nose_shape in ("tangent_ogive", "haack", "ellipsoid"):
        turn = 0.0  # no corner; the outline's last straight piece only seems to have one
    fineness = body.nose_length_m / (2.0 * radius)
    share = (2.0 * radius / body.diameter_m) ** 2
    low = 0.8 * np.sin(max(float(turn), 0.0)) ** 2
    high = nose_wave_drag(body.nose_shape, fineness, np.maximum(m, RISE_END))
    return np.asarray(share * (low + (np.maximum(high, low) - low) * _rise(fineness, m)))


def outline_drag(body: BodyShape, mach: ArrayLike) -> Array:
    """Pressure drag of wider and narrower pieces between nose and tail, on the greatest section.

    Widening: 0.8 sin^2 subsonic, cone wave drag above. Narrowing: the separated share of the area
    lost, at the coefficient of a square base.

    Parameters
        body : BodyShape - outline. [-]
        mach : float or array - Mach number. [-]
    Returns
        coefficient : array - pressure drag. [-]
    Validity
        Mach 0 to 2; a rough rule.
    Source
        [hoerner1965] 3-12 (memory); [datcom1978] fig 4.2.3.1-28; narrowing see `base`.
    Example
        outline_drag(cylinder, 0.3) -> 0.0
    """
    m = np.asarray(mach, dtype=np.float64)
    total = np.zeros_like(m)
    x, r = body.stations_m, body.radii_m
    first = int(np.searchsorted(x, x[0] + body.nose_length_m - 1e-9)) if body.nose_length_m else 0
    tail = tail_of(body)
    last = len(x) if tail is None else int(np.searchsorted(x, tail.start_m - 1e-9))
    steps = np.flatnonzero(np.abs(np.diff(r)) > 1e-4 * body.diameter_m)
    for i in steps[(steps >= first) & (steps < last)]:
        length, rise = float(x[i + 1] - x[i]), float(r[i + 1] - r[i])
        share = abs(float(r[i + 1] ** 2 - r[i] ** 2)) * np.pi / body.area_m2
        if rise > 0.0:
            fineness = max(length / (2.0 * rise), 0.3)
            low = 0.8 * rise**2 / (rise**2 + length**2)
            high = nose_wave_drag("cone", fineness, np.maximum(m, RISE_END))
            total = total + share * (low + (np.maximum(high, low) - low) * _rise(fineness, m))
        else:
            kept = separated_share(length, -2.0 * rise)
            total = total + share * kept * square_base_pressure(body, m)
    return np.asarray(total)


def guide_drag(guides: tuple[GuideShape, ...], area_m2: float) -> float:
    """Drag of the rail guides on the reference area.

    0.8 on each guide's frontal area.

    Parameters
        guides : tuple of GuideShape - guides. [-]
        area_m2 : float - reference area. [m2]
    Returns
        coefficient : float - drag coefficient. [-]
    Validity
        Subsonic; blunt stubs in the boundary layer, within a third.
    Source
        [hoerner1965] chapter 5 (memory).
    Example
        guide_drag((GuideShape(2, 1e-4),), 0.0049) -> 0.033
    """
    return sum(g.count * g.frontal_m2 for g in guides) * GUIDE_CD / area_m2
