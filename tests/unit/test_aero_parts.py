"""Aerodynamic parts against closed forms and exact limits. Expected values: derived, as stated."""

from typing import get_args

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.aero import (
    base,
    body,
    curves,
    drag,
    fin_drag,
    fins,
    friction,
    interference,
    roll,
)
from goodflight.physics.aero.geometry import GuideShape
from goodflight.physics.vehicle.parts import FinEdges
from plain_body import body_shape

SQUARE = [(0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0)]


def test_cone_sums() -> None:
    """Cone of unit length and radius: dA = 2 pi x dx; sums pi, 2 pi / 3, pi / 2."""
    sums = body.segment_sums(np.array([0.0, 1.0]), np.array([0.0, 1.0]))
    assert [float(s[0]) for s in sums] == pytest.approx([np.pi, 2 * np.pi / 3, np.pi / 2])


def test_sums_do_not_depend_on_how_a_cone_is_cut() -> None:
    whole = body.segment_sums(np.array([0.3, 1.3]), np.array([0.1, 0.5]))
    x = np.linspace(0.3, 1.3, 12)
    cut = body.segment_sums(x, np.interp(x, [0.3, 1.3], [0.1, 0.5]))
    for a, b in zip(whole, cut):
        assert float(np.sum(b)) == pytest.approx(float(a[0]), rel=1e-12)


def test_step_counts_at_its_station() -> None:
    zeroth, first, second = body.segment_sums(np.array([2.0, 2.0]), np.array([1.0, 2.0]))
    assert float(first[0] / zeroth[0]) == pytest.approx(2.0)
    assert float(second[0] / zeroth[0]) == pytest.approx(4.0)


def test_cone_body_lifts_at_two_thirds() -> None:
    shape = body_shape([0, 1.0, 2.0], [0, 0.1, 0.1], 1.0, "cone")
    sums = aero.body_slope(shape, 0.3)
    assert float(sums.moment_m[0] / sums.slope[0]) == pytest.approx(2.0 / 3.0)
    assert float(sums.slope[0]) == pytest.approx(2.0 * 0.94)


def test_supersonic_carry_over_acts_behind_the_nose() -> None:
    bare = aero.body_slope(body_shape([0, 0.3], [0, 0.05], 0.3), 1.4)
    long = aero.body_slope(body_shape([0, 0.3, 1.2], [0, 0.05, 0.05], 0.3), 1.4)
    extra = float(long.slope[0] - bare.slope[0])
    place = float(long.moment_m[0] - bare.moment_m[0]) / extra
    assert extra > 0.3
    assert 0.3 < place < 0.6


def test_carry_over_on_a_short_cylinder_acts_at_its_middle() -> None:
    """0.4 nose lengths of cylinder are one step of the table: its lift acts at 1.2 nose lengths."""
    bare = aero.body_slope(body_shape([0, 0.3], [0, 0.05], 0.3), 1.4)
    short = aero.body_slope(body_shape([0, 0.3, 0.42], [0, 0.05, 0.05], 0.3), 1.4)
    place = (short.moment_m - bare.moment_m) / (short.slope - bare.slope)
    assert float(place[0]) == pytest.approx(0.36)


def test_areas_of_a_cone() -> None:
    """Base radius 0.3, length 0.4: skin pi r s = 0.15 pi, side area 0.12, centroid at 2/3."""
    cone = body_shape([0, 0.4], [0, 0.3], 0.4, "cone")
    assert cone.wetted_m2 == pytest.approx(0.15 * np.pi)
    assert (cone.planform_m2, cone.planform_cp_m) == pytest.approx((0.12, 0.4 * 2 / 3))


@pytest.mark.parametrize("mach", [0.8, 1.0, 1.2])
def test_mach_maps_join_smoothly(mach: float) -> None:
    step = 1e-5
    for curve in (body.subsonic_mach, body.supersonic_mach):
        left = float(curve(mach) - curve(mach - step)) / step
        right = float(curve(mach + step) - curve(mach)) / step
        assert right == pytest.approx(left, abs=1e-3)


# ---- fins ----
def test_square_fin_geometry() -> None:
    fin = aero.fin_shape(4, 0.9, SQUARE, 0.05)
    assert fin.area_m2 == pytest.approx(0.01)
    assert fin.aspect == pytest.approx(2.0)
    assert (fin.taper, fin.root_m, fin.mean_chord_m) == pytest.approx((1.0, 0.1, 0.1))
    assert (fin.quarter_m, fin.half_m) == pytest.approx((0.925, 0.95))
    assert fin.centroid_m == pytest.approx(0.10)
    assert fin.radius2_m2 == pytest.approx((0.15**3 - 0.05**3) / 3 / 0.1)
    assert (fin.tan_lead, fin.tan_half) == pytest.approx((0.0, 0.0), abs=1e-12)


def test_trapezoid_against_hand_formulas() -> None:
    """Root 150, tip 60, semi-span 80, sweep 70 mm: mean chord 2/3 (a + b - ab / (a + b)) = 111.4,
    its span-wise place s/3 (a + 2b) / (a + b) = 34.3 mm; its quarter at sweep y / s + 111.4 / 4."""
    fin = aero.fin_shape(
        3, 1.06, [(0, 0), (0.07, 0.08), (0.13, 0.08), (0.15, 0)], 0.0395, thickness_m=0.004
    )
    y = 0.08 / 3 * 0.27 / 0.21
    assert fin.mean_chord_m == pytest.approx(2 / 3 * (0.21 - 0.009 / 0.21))
    assert fin.centroid_m == pytest.approx(0.0395 + y)
    assert fin.quarter_m == pytest.approx(1.06 + 0.07 * y / 0.08 + fin.mean_chord_m / 4)
    assert fin.tan_lead == pytest.approx(0.875)
    assert fin.tan_half == pytest.approx(0.025 / 0.08)
    assert fin.taper == pytest.approx(0.4)


def test_elliptical_fin_is_read_as_a_polygon() -> None:
    """Half ellipse, root 0.2, span 0.1: area pi/4 root span; chord-weighted chord 8 root / 3 pi."""
    t = np.linspace(0.0, np.pi, 400)
    outline = np.column_stack((0.1 - 0.1 * np.cos(t), 0.1 * np.sin(t)))
    fin = aero.fin_shape(3, 0.0, outline, 0.03)
    assert fin.area_m2 == pytest.approx(np.pi / 4 * 0.02, rel=1e-3)
    assert fin.mean_chord_m == pytest.approx(8 * 0.2 / (3 * np.pi), rel=1e-3)
    assert fin.centroid_m - 0.03 == pytest.approx(4 * 0.1 / (3 * np.pi), rel=1e-3)


@pytest.mark.parametrize("outline", [[(0, 0), (1, 0)], [(0, 0), (0.5, 0), (1, 0)]])
def test_flat_outline_is_refused(outline: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match="at least three corners"):
        aero.fin_shape(3, 0.0, outline, 0.05)


def test_fins_on_no_body_are_refused() -> None:
    with pytest.raises(ValueError, match="where there is no body"):
        aero.fin_shape(3, 0.0, SQUARE, 0.0)


def test_endless_wing_has_the_section_slope() -> None:
    assert float(aero.subsonic_slope(1e6, 0.0, 0.0)) == pytest.approx(2 * np.pi, rel=1e-5)
    assert float(aero.subsonic_slope(1e6, 0.0, 0.6)) == pytest.approx(2 * np.pi / 0.8, rel=1e-5)


def test_slender_wing_has_half_pi_times_aspect() -> None:
    assert float(aero.subsonic_slope(0.01, 0.0, 0.0)) == pytest.approx(np.pi / 2 * 0.01, rel=1e-4)
    found, _ = aero.supersonic_slope(0.01, 0.5, 1.2)
    assert float(found) == pytest.approx(np.pi / 2 * 0.01, rel=0.02)


@pytest.mark.parametrize(("aspect", "mach"), [(2.0, np.sqrt(2.0)), (4.0, 1.5), (3.0, 2.0)])
def test_rectangular_wing_supersonic(aspect: float, mach: float) -> None:
    """Linear theory, exact: 4 / b (1 - 1 / (2 b A)), CP (b A - 2/3) / (2 b A - 1)."""
    b = np.sqrt(mach**2 - 1)
    slope, cp = aero.supersonic_slope(aspect, 1.0, mach)
    assert float(slope) == pytest.approx(4 / b * (1 - 1 / (2 * b * aspect)))
    assert float(cp) == pytest.approx((b * aspect - 2 / 3) / (2 * b * aspect - 1))


def test_fin_centre_moves_from_quarter_to_its_supersonic_place() -> None:
    """Square fin, chord 0.1: quarter chord at rest; beta A = 2 at Mach sqrt 2 gives 4/9 chord."""
    fin = aero.fin_shape(4, 0.9, SQUARE, 0.05)
    _, cp = aero.panel_slope(fin, np.array([0.0, np.sqrt(2.0)]))
    assert list(cp) == pytest.approx([0.925, 0.9 + 0.4 / 9])


def test_triangular_wing_supersonic() -> None:
    """Linear theory: 4 / b with a supersonic leading edge; CP at the centroid."""
    slope, cp = aero.supersonic_slope(4.7, 0.0, np.sqrt(2.0))
    assert float(slope) == pytest.approx(4.0)
    assert float(cp) == pytest.approx(0.5)


@pytest.mark.parametrize("m", [0.1, 0.25, 0.5, 0.8])
def test_triangular_wing_with_subsonic_edge(m: float) -> None:
    """Linear theory: beta CN / 4 = pi m / 2 E(sqrt(1 - m^2)), m = beta x tangent of the half apex
    angle; E by the midpoint rule here, apart from the library function that the model uses."""
    angle = (np.arange(20_000) + 0.5) / 20_000 * np.pi / 2
    integral = np.mean(np.sqrt(1 - (1 - m * m) * np.sin(angle) ** 2)) * np.pi / 2
    slope, _ = aero.supersonic_slope(4.0 * m, 0.0, np.sqrt(2.0))
    assert float(slope) == pytest.approx(2 * np.pi * m / integral, rel=1e-6)


def test_effective_count() -> None:
    assert fins.effective_count(3) == pytest.approx(1.5)
    assert fins.effective_count(4) == pytest.approx(2.0)
    assert fins.effective_count(6) < 3.0


def test_crowding_is_between_none_and_the_slender_limit() -> None:
    """Slender-body limit of N fins without body: apparent mass 2 pi 2^(-4/N) against N pi / 4."""
    for count in (5, 6, 7, 8):
        slender = 2.0 ** (1 - 4 / count) / (count / 4)
        assert slender - 1e-9 <= float(fins.CROWDING(count)) <= 1.0


# ---- roll ----
def test_slender_roll_tables_have_their_exact_ends() -> None:
    """Virtual inertia of a flat plate pi/8 and of a cross 2/pi (rho s^4), no body."""
    assert float(roll.SLENDER_DAMPING(2, 0.0)) == pytest.approx(np.pi / 8, abs=1e-4)
    assert float(roll.SLENDER_DAMPING(4, 0.0)) == pytest.approx(2 / np.pi, abs=1e-4)


@pytest.mark.parametrize("aspect", [1.0, 2.0, 4.0, 6.0, 10.0])
def test_roll_damping_of_an_elliptical_wing(aspect: float) -> None:
    """Lifting line: damping over strips with the lift slope is (A + 2) / (A + 4); within 0.05."""
    y = np.linspace(0.0, 1.0, 80)
    chord = 8.0 / (np.pi * aspect) * np.sqrt(1.0 - y**2)
    lead = np.column_stack((-0.25 * chord, y))
    trail = np.column_stack((0.75 * chord, y))[::-1]
    wing = aero.fin_shape(2, 0.0, np.vstack((lead, trail)), 1e-4)
    slope = aero.subsonic_slope(wing.aspect, wing.tan_half, 0.0)
    _, found = aero.roll_factors(wing, roll.flatness(np.atleast_1d(slope), np.zeros(1)))
    assert float(found[0]) == pytest.approx((aspect + 2) / (aspect + 4), abs=0.05)


def test_strips_with_two_pi_more_than_double_the_damping() -> None:
    fin = aero.fin_shape(3, 1.06, [(0, 0), (0.07, 0.08), (0.13, 0.08), (0.15, 0)], 0.0395)
    area, d = np.pi * 0.079**2 / 4, 0.079
    naive = -2 * 3 * 2 * np.pi * fin.area_m2 * fin.radius2_m2 / (area * d**2)
    assert naive / float(aero.fin_forces(fin, 0.0, area, d).roll_damp) > 2.0


def test_stall_of_fins_starts_before_it_ends() -> None:
    start, end, plate = aero.fin_stall(aero.fin_shape(4, 0.9, SQUARE, 0.05))
    assert 0.0 < start < end < 1.0
    assert plate == pytest.approx(4 * 4 / (3 * np.pi) * 0.01)


# ---- drag ----
def test_laminar_front_lowers_friction() -> None:
    smooth = float(friction.friction_coefficient(2e6, 0.3, np.inf, 5e5))
    tripped = float(friction.friction_coefficient(2e6, 0.3))
    assert 0.6 * tripped < smooth < tripped
    # all laminar below the transition
    assert float(friction.friction_coefficient(1e5, 0.0, np.inf, 5e5)) == pytest.approx(
        1.328 / np.sqrt(1e5)
    )


def test_roughness_only_adds() -> None:
    re = np.array([1e6, 1e7, 1e8])
    rough = friction.friction_coefficient(re, 0.3, 1e4)
    assert np.all(rough >= friction.friction_coefficient(re, 0.3))
    assert rough[1] == pytest.approx(float(rough[2]))  # past the cut-off


def test_tangent_ogive_has_no_subsonic_pressure_drag_and_the_published_wave_drag() -> None:
    x = 0.3 * np.linspace(0, 1, 81) ** 2
    rho = (0.05**2 + 0.3**2) / 0.1
    r = np.sqrt(rho**2 - (0.3 - x) ** 2) + 0.05 - rho
    shape = body_shape(np.append(x, 1.0), np.append(r, 0.05), 0.3)
    low, high = drag.nose_drag(shape, np.array([0.3, 1.3]))
    assert low == 0.0
    assert high == pytest.approx(4.68 / (4 * 9.0))


def test_cone_has_hoerners_corner() -> None:
    shape = body_shape([0, 0.3, 1.0], [0, 0.05, 0.05], 0.3, "cone")
    corner = np.arctan(0.05 / 0.3)
    assert float(drag.nose_drag(shape, 0.3)) == pytest.approx(0.8 * np.sin(corner) ** 2)


def test_long_boat_tail_costs_nothing_and_saves_base_drag() -> None:
    tail = body_shape([0, 0.2, 1.0, 1.2], [0, 0.05, 0.05, 0.03], 0.2)
    blunt = body_shape([0, 0.2, 1.2], [0, 0.05, 0.05], 0.2)
    assert float(base.tail_drag(0.3, tail)) == float(drag.outline_drag(tail, 0.3)) == 0.0
    assert float(base.base_drag(0.3, tail)) < 0.2 * float(base.base_drag(0.3, blunt))


def test_steep_tail_is_a_square_base() -> None:
    """A drop of 40 mm in diameter over 40 mm: all separated, so the whole section is base."""
    steep = body_shape([0, 0.2, 1.16, 1.2], [0, 0.05, 0.05, 0.03], 0.2)
    blunt = body_shape([0, 0.2, 1.2], [0, 0.05, 0.05], 0.2)
    whole = float(base.base_drag(0.3, steep)) + float(base.tail_drag(0.3, steep))
    assert whole == pytest.approx(float(base.base_drag(0.3, blunt)))


def test_short_cylinder_behind_a_tail_is_no_square_base() -> None:
    plain = body_shape([0, 0.2, 1.0, 1.2], [0, 0.05, 0.05, 0.03], 0.2)
    ringed = body_shape([0, 0.2, 1.0, 1.2, 1.22], [0, 0.05, 0.05, 0.03, 0.03], 0.2)
    found = base.tail_of(ringed)
    assert found is not None
    assert found == base.tail_of(plain)


def test_step_down_ahead_of_the_tail_is_a_base() -> None:
    """Area lost 1 - 0.6^2 of the section, at the square base's coefficient; the end is square."""
    step = body_shape([0, 0.2, 1.0, 1.0, 1.2], [0, 0.05, 0.05, 0.03, 0.03], 0.2)
    square = float(base.base_pressure(0.3, 10.0))
    assert float(drag.outline_drag(step, 0.3)) == pytest.approx(square * (1 - 0.36))
    assert float(base.base_drag(0.3, step)) == pytest.approx(square * 0.36)


@pytest.mark.parametrize(
    ("tau", "expected"), [(1.0001, 2.0 / 3.0), (1e5, 0.5)], ids=["no fin", "no body"]
)
def test_carried_over_lift_of_slender_fins_at_its_limits(tau: float, expected: float) -> None:
    """K_B(W) is 2 at tau 1, so lift grows as u^2: 2/3; far out it falls as 1 / tau, as u: 1/2."""
    assert interference.carry_over_slender(tau) == pytest.approx(expected, abs=2e-4)


@pytest.mark.parametrize("ratio", [0.1, 0.25, 1 / 3, 0.45])
def test_carried_over_lift_of_a_lifting_line_is_the_integral(ratio: float) -> None:
    """Images of an elliptical load, added up: r over exposed semi-span a = k / (1 - k)."""
    a = ratio / (1.0 - ratio)
    u = (np.arange(200_000) + 0.5) / 200_000
    weight = np.sqrt(1.0 - u**2) / (u + a) ** 2
    expected = float(np.sum(weight * u) / np.sum(weight))
    found = interference.carry_over_spread(ratio, 1.0 - ratio)
    assert found == pytest.approx(expected, rel=1e-4)


def test_carried_over_lift_of_square_fins() -> None:
    """No sweep: at the root's leading edge when slender, at its quarter chord for a lifting line;
    aspect ratio 2 at rest is half-way between, 0.125 chord."""
    square = aero.fin_shape(4, 0.9, SQUARE, 0.05)
    assert square.aspect == pytest.approx(2.0)
    assert float(fins.carried_over_cp_m(square, 0.0)) == pytest.approx(0.9 + 0.125 * 0.1)


@pytest.mark.parametrize("mach", [0.1, 0.5, 0.85, 1.2])
def test_square_edges_cost_more_than_rounded_and_those_more_than_faired(mach: float) -> None:
    costs = [
        float(
            fin_drag.fin_drag(
                aero.fin_shape(3, 0.9, SQUARE, 0.05, thickness_m=0.004, edges=edges),
                mach,
                0.004,
                0.008,
            )
        )
        for edges in ("faired", "rounded", "blunt")
    ]
    assert costs == sorted(costs)


def fins_with(edges: FinEdges | None, sweep: float = 0.0) -> aero.FinShape:
    """Three fins of 100 x 100 x 4 mm."""
    outline = [(x + y * sweep, y) for x, y in SQUARE]
    return aero.fin_shape(3, 0.9, outline, 0.05, thickness_m=0.004, edges=edges)


@pytest.mark.parametrize("sweep", [0.0, 0.7])
@pytest.mark.parametrize("mach", [0.1, 0.5, 0.95, 1.2])
def test_edges_that_are_not_said_lie_between_all_shapes(mach: float, sweep: float) -> None:
    least, most = fin_drag.edge_range(fins_with(None, sweep), mach, 0.004, 0.008)
    unsaid = fin_drag.fin_drag(fins_with(None, sweep), mach, 0.004, 0.008)
    assert unsaid == pytest.approx((least + most) / 2.0)
    for edges in get_args(FinEdges):
        assert least <= fin_drag.fin_drag(fins_with(edges, sweep), mach, 0.004, 0.008) <= most


def test_how_far_apart_edges_are_by_hand() -> None:
    """At rest: blunt 2 Cf + 0.85 t/c + 0.135 / (2 Cf c/t)^(1/3) t/c, [hoerner1965] as above; faired
    2 Cf (1 + 1.2 t/c + 100 t^4/c^4) R, [datcom1978]; R of unswept fins 1.07 to 1.10 (memory)."""
    least, most = fin_drag.edge_range(fins_with(None), 0.05, 0.004, 0.03)
    square = 0.008 + 0.04 * (0.85 + 0.135 / (0.008 * 25.0) ** (1.0 / 3.0))
    assert float(most) == pytest.approx(square, rel=2e-3)
    assert 0.008 <= float(least) < 0.008 * 1.05 * 1.10


def test_rounded_edge_formula_joins() -> None:
    for mach in (0.9, 1.0):
        below, above = (float(fin_drag.rounded_edge_drag(mach + e)) for e in (-1e-9, 1e-9))
        assert above == pytest.approx(below, abs=5e-3)


def test_guides_add_their_frontal_area() -> None:
    assert drag.guide_drag((GuideShape(2, 1e-4),), 0.005) == pytest.approx(0.8 * 2e-4 / 0.005)


# ---- tables that check themselves ----
def test_curve_refuses_what_does_not_rise() -> None:
    with pytest.raises(ValueError, match="must rise"):
        curves.Curve(((0, 1), (0, 2)), "made up")


def test_surface_refuses_a_wrong_size() -> None:
    with pytest.raises(ValueError, match="do not fit the axes"):
        curves.Surface((0.0, 1.0), (0.0, 1.0), ((1.0, 2.0, 3.0), (1.0, 2.0, 3.0)), "made up")


def test_surface_reads_straight_between_points_and_holds_at_edges() -> None:
    table = curves.Surface((0.0, 1.0), (0.0, 2.0), ((0.0, 2.0), (4.0, 6.0)), "made up")
    assert float(table(0.5, 1.0)) == pytest.approx(3.0)
    assert float(table(9.0, 9.0)) == pytest.approx(6.0)
    assert table.along_rows(np.array([1.0]))[0] == pytest.approx([1.0, 5.0])


def test_elliptic_integral_against_an_independent_library() -> None:
    """scipy's ellipe (Cephes series), independent code; 1e-7 is the stated bound near 0."""
    from scipy.special import ellipe

    other = np.concatenate(([0.0, 1e-5, 1e-4, 1e-3], np.linspace(0.01, 1.0, 200)))
    assert fins.elliptic_e(other) == pytest.approx(ellipe(1.0 - other**2), abs=1e-7)
    assert fins.elliptic_e(other[4:]) == pytest.approx(ellipe(1.0 - other[4:] ** 2), rel=1e-13)
