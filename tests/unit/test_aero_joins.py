"""Fins between and beyond the theories: joins, ends, lift carried over, stall, damping."""

import numpy as np
import pytest
from scipy.special import ellipe

from goodflight.physics import aero
from goodflight.physics.aero import curves, fins, friction, interference
from goodflight.physics.aero.body import subsonic_mach, supersonic_mach

ROOT2 = float(np.sqrt(2.0))  # beta is one: the aspect ratio is beta A
SQUARE = [(0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0)]
HAND = [(0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0)]
LONG = [(0.0, 0.0), (0.05, 0.6), (0.11, 0.6), (0.15, 0.0)]  # aspect ratio 11
STRAKE = [(0.0, 0.0), (0.02, 0.01), (0.4, 0.01), (0.4, 0.0)]  # aspect ratio 0.05


def joined(x: float, ends: tuple[float, float], values: tuple[float, float, float, float]) -> float:
    """The cubic with these values (first, last) and slopes (first, last) at both ends."""
    rows = [[e**k for k in range(4)] for e in ends]
    rows += [[0.0, *(k * e ** (k - 1) for k in range(1, 4))] for e in ends]
    return float(np.polyval(np.linalg.solve(np.array(rows), np.array(values))[::-1], x))


# ---- slopes ----
def test_subsonic_slope_is_held_at_the_speed_of_sound() -> None:
    """No compressible part left: 2 pi A / 4, the slender slope."""
    assert float(aero.subsonic_slope(2.0, 0.0, 1.3)) == pytest.approx(np.pi)


@pytest.mark.parametrize("a", [0.1, 0.3, 0.5, 0.7, 0.9])
def test_rectangular_wing_joins_slender_and_linear_theory(a: float) -> None:
    """Below beta A = 1 a cubic from the slender slope pi / 8 and CP 1 / 4 to the exact 1/2 and 1/3
    there, whose slopes are 1 / 2 and 1 / 3 (derived)."""
    slope, cp = aero.supersonic_slope(a, 1.0, ROOT2)
    assert float(slope) == pytest.approx(4.0 * joined(a, (0.0, 1.0), (0.0, 0.5, np.pi / 8.0, 0.5)))
    assert float(cp) == pytest.approx(joined(a, (0.0, 1.0), (0.25, 1.0 / 3.0, 0.0, 1.0 / 3.0)))


@pytest.mark.parametrize("a", [1.0, 1.05])
def test_rectangular_wing_just_above_the_join(a: float) -> None:
    """Exact, linear theory."""
    slope, cp = aero.supersonic_slope(a, 1.0, ROOT2)
    assert float(slope) == pytest.approx(4.0 * (1.0 - 0.5 / a))
    assert float(cp) == pytest.approx((a - 2.0 / 3.0) / (2.0 * a - 1.0))


def triangular(m: float) -> float:
    """beta CN / 4 with a subsonic leading edge, exact, by scipy's integral."""
    return float(np.pi / 2.0 * m / ellipe(1.0 - m * m))


@pytest.mark.parametrize("a", [3.45, 3.7, 4.0, 4.3, 4.55])
def test_triangular_wing_rounds_the_corner(a: float) -> None:
    """From the exact curve at m = 0.85, value and slope, to 1 and level at 1.15."""
    rising = (triangular(0.850001) - triangular(0.849999)) / 2e-6
    expected = joined(a / 4.0, (0.85, 1.15), (triangular(0.85), 1.0, rising, 0.0))
    assert float(aero.supersonic_slope(a, 0.0, ROOT2)[0]) == pytest.approx(4.0 * expected, rel=1e-6)


def test_tapered_wing_loses_what_its_tips_do() -> None:
    """Leading edge supersonic, tip half the root: each tip loses half of its Mach triangle, tip^2 /
    (2 beta), of the area span x 0.75 roots: 1 - w / (2 beta A), w = 4 x 0.25 / 2.25; exact."""
    found = float(aero.supersonic_slope(6.0, 0.5, ROOT2)[0])
    assert found == pytest.approx(4.0 * (1.0 - (1.0 / 2.25) / 12.0))


# ---- lift on the body ----
def hand_cp(
    outline: list[tuple[float, float]], mach: float, station: float, radius: float
) -> tuple[float, float]:
    """Model's station and the rule's: on the local chord where panels have their centre, out by
    the images' share of the span; slender, a share of the leading edge's sweep; mixed by b A / 4,
    and all lifting line above the speed of sound."""
    (_, _), (sweep, span), (trail, _), (root, _) = outline
    fin = aero.fin_shape(4, station, outline, radius)
    t = np.clip((mach - 0.8) / 0.4, 0.0, 1.0)
    weight = t * t * (3.0 - 2.0 * t)
    share = 0.25
    if weight > 0.0:
        own = aero.supersonic_slope(fin.aspect, fin.taper, supersonic_mach(mach))[1]
        share += weight * (float(own) - 0.25)
    out = interference.carry_over_spread(radius, span)
    line = station + sweep * out + share * (root + (trail - sweep - root) * out)
    slender = station + sweep * interference.carry_over_slender((radius + span) / radius)
    area = 0.5 * (root + trail - sweep) * span
    flat = 2.0 * span**2 / area * np.sqrt(1.0 - float(subsonic_mach(mach)) ** 2) / 4.0
    flat = min(flat, 1.0)
    mixed = slender + (flat + weight * (1.0 - flat)) * (line - slender)
    return float(fins.carried_over_cp_m(fin, mach)), mixed


@pytest.mark.parametrize("mach", [0.3, 1.0, 1.3])
def test_carried_over_lift_of_a_trapezoid(mach: float) -> None:
    found, expected = hand_cp(HAND, mach, 1.06, 0.0395)
    assert found == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("outline", [LONG, STRAKE], ids=["long", "strake"])
def test_carried_over_lift_of_a_long_fin_and_of_a_strake(
    outline: list[tuple[float, float]],
) -> None:
    found, expected = hand_cp(outline, 0.3, 1.06, 0.0395)
    assert found == pytest.approx(expected, rel=1e-9)


def test_carried_over_lift_of_a_lifting_line_on_a_wide_body() -> None:
    """Held at a body of 0.49 of the whole span, there the integral; none without a body."""
    a = 0.49 / 0.51
    u = (np.arange(200_000) + 0.5) / 200_000
    weight = np.sqrt(1.0 - u**2) / (u + a) ** 2
    integral = float(np.sum(weight * u) / np.sum(weight))
    assert interference.carry_over_spread(0.6, 0.4) == pytest.approx(integral, rel=1e-3)
    assert interference.carry_over_spread(0.0, 1.0) == 0.0


def test_carried_over_lift_of_slender_fins_is_gathered_outward() -> None:
    """Semi-span three radii: what each further millimetre adds to (s - r)^2 K_B(W)(s / r), times
    where it is added."""
    s = np.linspace(1.0, 3.0, 4001)
    gathered = (s - 1.0) ** 2 * aero.body_by_fin(s)
    place = 0.5 * (s[1:] + s[:-1]) - 1.0
    expected = float(place @ np.diff(gathered)) / float(gathered[-1]) / 2.0
    assert interference.carry_over_slender(3.0) == pytest.approx(expected, rel=1e-4)


# ---- stall, crowding, damping ----
def test_stall_of_square_fins_on_a_body() -> None:
    """Plates of aspect ratio 2 hold to 22 deg (Winter, memory); the body's upwash brings the fin
    there sooner; broadside at 1.6 times that, judgement."""
    start, end, _ = aero.fin_stall(aero.fin_shape(4, 0.9, SQUARE, 0.05))
    angle = 22.0 / float(aero.fin_on_body(3.0))
    assert np.degrees(np.arcsin(np.sqrt([start, end]))) == pytest.approx([angle, 1.6 * angle])


def test_crowded_fins_lift_less_each_and_more_together() -> None:
    """Eight have 0.81 each, [mil-hdbk-762] 5-3 (memory)."""
    each = fins.CROWDING(np.arange(4, 9))
    assert np.all(np.diff(each) < 0.0)
    assert np.all(np.diff(each * np.arange(4, 9)) > 0.0)
    assert float(each[-1]) == 0.81


def test_roll_damping_of_an_endless_wing() -> None:
    """Strips: a sixth of the section's slope, on the span and the wing's area."""
    span = 1e4
    wing = aero.fin_shape(2, 0.0, [(0, 0), (0, span), (1, span), (1, 0)], 1e-6)
    found = aero.fin_forces(wing, 0.0, 2.0 * span, 2.0 * span).roll_damp
    assert float(found) == pytest.approx(-2.0 * np.pi / 6.0, rel=1e-3)


# ---- friction, tables ----
def test_friction_is_held_below_ten_thousand() -> None:
    """Log 4 in Prandtl and Schlichting's formula (memory)."""
    assert float(friction.turbulent_friction(1e3, 0.0)) == pytest.approx(0.455 / 4.0**2.58)


def test_surface_reads_every_interval_and_holds_at_its_ends() -> None:
    """Values 10 x row + column, so that any place within is its own answer."""
    places = (1.0, 2.0, 4.0, 5.0)
    table = curves.Surface(
        places, places, tuple(tuple(10.0 * r + c for c in places) for r in places), "made up"
    )
    inside = (1.5, 3.0, 4.5)
    for row in inside:
        assert table(row, inside).tolist() == pytest.approx([10.0 * row + c for c in inside])
    assert float(table(0.0, 0.0)) == 11.0
    assert float(table(9.0, 9.0)) == 55.0
    along = table.along_rows(np.array([0.0, *inside, 9.0]))
    for found, column in zip(along, (1.0, *inside, 5.0)):
        assert found == pytest.approx([10.0 * row + column for row in places])
