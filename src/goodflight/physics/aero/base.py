"""Base drag of a body with the motor out, and what a tail that narrows costs and saves.

Answers: how much does the air behind the tail hold the rocket back, and how much of that does a
boat-tail take away? Correlations of measured projectiles. Left out: fins' wakes, plumes, boundary
layers much thicker than a projectile's (a rule for those gives 0.03 less on a square base).
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.geometry import BodyShape

Array = NDArray[np.float64]
# length of a tail over its drop in diameter: shorter than this the flow lets go (common practice,
# no source), longer than that it follows (11 deg, as steep as the values held of [mccoy1981] go)
STEEP: Final = 1.0
GENTLE: Final = 2.5
LEAST_MACH: Final = 0.02  # the correlation divides by its square


class Tail(NamedTuple):
    """The narrowing end of a body."""

    start_m: float  # station where it begins
    fore_radius_m: float
    length_m: float
    separated: float  # 1: the flow leaves where it begins; 0: it follows to the base


def tail_of(body: BodyShape) -> Tail | None:
    """The pieces that narrow up to the body's end, or None for a square end.

    A cylinder behind them that is shorter than its diameter, such as a retainer, does not count.

    Parameters
        body : BodyShape - outline. [-]
    Returns
        tail : Tail or None - start, radius ahead of it, length, separated share. [m, m, m, -]
    Validity
        Any outline.
    Source
        Geometry; the separated share see there.
    Example
        tail_of(cylinder) -> None
    """
    x, r = body.stations_m, body.radii_m
    level = 1e-4 * body.diameter_m
    end = len(x) - 1
    while end > 0 and abs(float(r[end] - r[end - 1])) <= level:
        end -= 1
    if float(x[-1] - x[end]) > 2.0 * body.base_radius_m:
        return None
    start = end
    while start > 0 and float(r[start - 1] - r[start]) > level:
        start -= 1
    if start == end:
        return None
    length, drop = float(x[end] - x[start]), 2.0 * float(r[start] - r[end])
    return Tail(float(x[start]), float(r[start]), length, separated_share(length, drop))


def separated_share(length_m: float, drop_m: float) -> float:
    """How much of a narrowing piece the flow leaves: all when steep, nothing when gentle.

    Straight between STEEP and GENTLE times the drop in diameter.

    Parameters
        length_m : float - of the piece. [m]
        drop_m : float - in diameter over it, above zero. [m]
    Returns
        share : float - 0 to 1. [-]
    Validity
        A rough rule.
    Source
        Common practice, no source; the gentle end [mccoy1981].
    Example
        separated_share(0.0175, 0.01) -> 0.5
    """
    return float(np.clip((GENTLE - length_m / drop_m) / (GENTLE - STEEP), 0.0, 1.0))


def base_pressure(
    mach: ArrayLike, behind_nose_cal: float, base_over_diameter: float = 1.0
) -> Array:
    """Base drag on base area of a body with the motor out, square or behind a boat-tail.

    (1 - p) / (0.7 M^2), p = [1 + 0.09 M^2 (1 - exp(-l))] [1 + 0.25 M^2 (1 - b)] /
    [1 + 0.1875 M^2 + 0.0531 M^4], from Mach 1 over [1 + 0.2477 M^2 + 0.0345 M^4].

    Parameters
        mach : float or array - Mach number. [-]
        behind_nose_cal : float - length of the body behind its nose l, in calibres. [-]
        base_over_diameter : float - base over the diameter ahead of the boat-tail b. [-]
    Returns
        coefficient : array - base drag on base area, not below 0. [-]
    Validity
        Mach 0.5 to 5; its limit at Mach 0 (0.139) is a continuation. 6 % of the whole drag below,
        11 % near the speed of sound, as its author quotes (memory). A step of 0.04 at Mach 1 is
        the source's own; the flight's table spreads it over one row.
    Source
        [mccoy1981]: equations seen in two agreeing ports; the report was not opened.
    Example
        base_pressure(0.7, 8.0) -> 0.1598
    """
    m2 = np.maximum(np.asarray(mach, dtype=np.float64), LEAST_MACH) ** 2
    low = 1.0 + 0.1875 * m2 + 0.0531 * m2**2
    high = 1.0 + 0.2477 * m2 + 0.0345 * m2**2
    inside = (1.0 + 0.09 * m2 * (1.0 - np.exp(-behind_nose_cal))) * (
        1.0 + 0.25 * m2 * (1.0 - base_over_diameter)
    )
    pressure = inside / np.where(m2 < 1.0, low, high)
    return np.asarray(np.maximum((1.0 - pressure) / (0.7 * m2), 0.0))


def _behind_nose_cal(body: BodyShape) -> float:
    return max(body.length_m - body.nose_length_m, 0.0) / body.diameter_m


def square_base_pressure(body: BodyShape, mach: ArrayLike) -> Array:
    """Base drag on its own area of a square end of this body; see `base_pressure`.

    Parameters
        body : BodyShape - outline of the body. [-]
        mach : float or array - Mach number. [-]
    Returns
        drag : array - over the base's area and dynamic pressure. [-]
    Source
        see base_pressure.
    """
    return base_pressure(mach, _behind_nose_cal(body))


def base_drag(mach: ArrayLike, body: BodyShape) -> Array:
    """Base drag with the motor out, on the greatest section.

    Square ends: the square base's coefficient. Boat-tails that the flow follows: the lower one of
    theirs, mixed with the square one by the share that is separated.

    Parameters
        mach : float or array - Mach number. [-]
        body : BodyShape - outline. [-]
    Returns
        coefficient : array - base drag. [-]
    Validity
        As `base_pressure`.
    Source
        [mccoy1981]; the mixing is judgement.
    Example
        base_drag(0.5, cylinder) -> 0.1507
    """
    tail, square = tail_of(body), square_base_pressure(body, mach)
    share = (2.0 * body.base_radius_m / body.diameter_m) ** 2
    if tail is None:
        return np.asarray(square * share)
    followed = base_pressure(mach, _behind_nose_cal(body), body.base_radius_m / tail.fore_radius_m)
    return np.asarray(share * (followed + tail.separated * (square - followed)))


def boat_tail_drag(
    mach: ArrayLike, tangent: float, length_cal: float, straight_cal: float
) -> Array:
    """Pressure drag of a straight boat-tail that the flow follows, on the section ahead of it.

    Nothing to Mach 0.85. To Mach 1: 2 T B / (0.564 + 1250 c^2), to 1.1: 2 T B (1.774 - 9.3 c),
    T = 2 t^2 + t^3, B = 1 - e + 2 t (e (l + 1/2) - 1/2), e = exp(-2 l), c = (M^2 - 1) / 2.4 M^2.
    Above: 4 A t [1 - e + 2 t (e (l + k) - k)] k, k = sqrt(M^2 - 1) / 0.85, e = exp(-l / k), with A
    the pressure behind an ogive and its cylinder.

    Parameters
        mach : float or array - Mach number. [-]
        tangent : float - of the boat-tail's angle t. [-]
        length_cal : float - its length l in calibres. [-]
        straight_cal : float - of the cylinder ahead of it, in calibres. [-]
    Returns
        coefficient : array - on the section ahead. [-]
    Validity
        Angles below some 12 deg, Mach below 5; steps at Mach 0.85 and 1.1 are the source's.
    Source
        [mccoy1981], memory; its values in the table held (seen) are met to the printed digit.
    Example
        boat_tail_drag(1.0, 0.1, 0.5, 7.5) -> 0.0451
    """
    m = np.asarray(mach, dtype=np.float64)
    t, near = tangent, np.clip(m, 0.85, 1.1)
    e = np.exp(-2.0 * length_cal)
    size = 2.0 * (2.0 * t**2 + t**3) * (1.0 - e + 2.0 * t * (e * (length_cal + 0.5) - 0.5))
    c = (near**2 - 1.0) / (2.4 * near**2)
    low = size * np.where(near <= 1.0, 1.0 / (0.564 + 1250.0 * c**2), 1.774 - 9.3 * c)
    big = np.maximum(m, 1.1)
    beta = np.sqrt(big**2 - 1.0)
    ogive = (5.0 * t / (6.0 * beta) + 0.25 * t**2 - 0.7435 / big**2 * t**1.6) * (1.0 - 0.6 / big)
    faded = ogive * np.exp(-1.1952 / big * straight_cal)
    second = (2.4 * big**4 - 4.0 * beta**2) * t**2 / (2.0 * beta**4)
    k = beta / 0.85
    gone = np.exp(-length_cal / k)
    over = 1.0 - gone + 2.0 * t * (gone * (length_cal + k) - k)
    high = 4.0 * (faded - second + 2.0 * t / beta) * t * over * k
    return np.asarray(np.where(m <= 0.85, 0.0, np.where(m <= 1.1, low, high)))


def tail_drag(mach: ArrayLike, body: BodyShape) -> Array:
    """Pressure drag of the narrowing end ahead of the base, on the greatest section.

    Separated: the square base's coefficient on the area lost; followed: `boat_tail_drag`.

    Parameters
        mach : float or array - Mach number. [-]
        body : BodyShape - outline. [-]
    Returns
        coefficient : array - 0 for a square end. [-]
    Validity
        As its parts.
    Source
        [mccoy1981]; the separated share see there.
    Example
        tail_drag(0.5, cylinder) -> 0.0
    """
    tail = tail_of(body)
    if tail is None:
        return np.zeros_like(np.asarray(mach, dtype=np.float64))
    wide = 2.0 * tail.fore_radius_m
    lost = (wide**2 - (2.0 * body.base_radius_m) ** 2) / body.diameter_m**2
    drag = tail.separated * lost * square_base_pressure(body, mach)
    if tail.separated < 1.0:
        tangent = (tail.fore_radius_m - body.base_radius_m) / tail.length_m
        straight = max(tail.start_m - body.stations_m[0] - body.nose_length_m, 0.0) / wide
        followed = boat_tail_drag(mach, tangent, tail.length_m / wide, straight)
        drag = drag + (1.0 - tail.separated) * followed * (wide / body.diameter_m) ** 2
    return np.asarray(drag)
