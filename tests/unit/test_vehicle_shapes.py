"""Nose shapes and solids of revolution against closed forms (derived; working beside each)."""

from math import asin, pi, sqrt

import numpy as np
import pytest

from goodflight.physics.vehicle import shapes, solids
from goodflight.physics.vehicle.parts import Nose, Rocket, Transition, Tube
from goodflight.physics.vehicle.profile import (
    body_length_m,
    outer_profile,
    reference_diameter_m,
)

L, R = 0.30, 0.04
PARAMETER = {"secant_ogive": 1.5, "parabola": 0.6, "haack": 1.0 / 3.0, "power": 0.5}
CYLINDER = pi * R * R * L


def nose(shape: str, parameter: float | None = None, length: float = L) -> solids.Meridian:
    value = PARAMETER.get(shape, 0.0) if parameter is None else parameter
    return solids.nose_meridian(shape, value, length, R)


@pytest.mark.parametrize("shape", shapes.NOSE_SHAPES)
def test_starts_at_the_tip_ends_at_the_base_and_never_narrows(shape: str) -> None:
    x = np.linspace(0.0, L, 400)
    r = shapes.radius_m(shape, PARAMETER.get(shape, 0.0), x, L, R)
    assert r[0] == pytest.approx(0.0, abs=1e-9)
    assert r[-1] == pytest.approx(R, rel=1e-12)
    assert np.all(np.diff(r) > -1e-12)


@pytest.mark.parametrize("shape", shapes.NOSE_SHAPES)
def test_slope_is_the_derivative_of_the_radius(shape: str) -> None:
    x = np.linspace(0.05 * L, 0.97 * L, 50)
    h = 1e-6
    value = PARAMETER.get(shape, 0.0)
    slope = shapes.outline(shape, value, x, L, R)[1]
    ahead = shapes.radius_m(shape, value, x + h, L, R)
    behind = shapes.radius_m(shape, value, x - h, L, R)
    assert slope == pytest.approx((ahead - behind) / (2 * h), rel=1e-6)


def ogive_volume() -> float:
    """pi (L a^2 - L^3/3 - (a - R) a^2 asin(L/a)), a = (R^2 + L^2)/(2R): textbook, derived."""
    a = (R * R + L * L) / (2 * R)
    return pi * (L * a * a - L**3 / 3 - (a - R) * a * a * asin(L / a))


@pytest.mark.parametrize(
    ("shape", "parameter", "volume"),
    [
        ("cone", 0.0, CYLINDER / 3),
        ("tangent_ogive", 0.0, ogive_volume()),
        ("secant_ogive", 1.0, ogive_volume()),  # same arc
        ("ellipsoid", 0.0, CYLINDER * 2 / 3),
        ("parabola", 1.0, CYLINDER * 8 / 15),
        ("parabola", 0.0, CYLINDER / 3),  # a cone
        ("haack", 0.0, CYLINDER / 2),  # integral of t sin t over 0..pi is pi
        ("haack", 1 / 3, CYLINDER * (1 / 2 + 1 / 16)),  # plus 3C/16 from sin^4
        ("power", 0.5, CYLINDER / 2),  # 1/(2n+1)
        ("power", 0.75, CYLINDER / 2.5),
    ],
)
def test_volume_matches_closed_form(shape: str, parameter: float, volume: float) -> None:
    found = solids.revolve(nose(shape, parameter), L, 0.0).amount
    assert found == pytest.approx(volume, rel=1e-10)


def test_secant_ogive_of_great_arc_tends_to_the_cone() -> None:
    found = solids.revolve(nose("secant_ogive", 100.0), L, 0.0).amount
    assert found == pytest.approx(CYLINDER / 3, rel=0.01)


def test_cone_centroid_and_inertias() -> None:
    """x = 3/4 L; pitch 3/20 R^2 + 3/80 L^2 and roll 3/10 R^2 per mass about the CG (textbook)."""
    cone = solids.revolve(nose("cone"), L, 0.0)
    assert cone.centroid_m == pytest.approx(0.75 * L, rel=1e-12)
    assert cone.pitch / cone.amount == pytest.approx(3 / 20 * R**2 + 3 / 80 * L**2, rel=1e-11)
    assert cone.roll / cone.amount == pytest.approx(3 / 10 * R**2, rel=1e-11)


def test_half_ellipsoid_centroid_and_inertias() -> None:
    """x = 5/8 L from the tip; about the base centre (R^2 + L^2)/5 per mass (textbook)."""
    half = solids.revolve(nose("ellipsoid"), L, 0.0)
    assert half.centroid_m == pytest.approx(5 / 8 * L, rel=1e-12)
    pitch = (R**2 + L**2) / 5 - (3 / 8 * L) ** 2
    assert half.pitch / half.amount == pytest.approx(pitch, rel=1e-10)
    assert half.roll / half.amount == pytest.approx(2 / 5 * R**2, rel=1e-11)


def test_power_nose_centroid() -> None:
    """x = (2n+1)/(2n+2) L by integration of x^(2n)."""
    n = 0.6
    solid = solids.revolve(nose("power", n), L, 0.0)
    assert solid.centroid_m == pytest.approx((2 * n + 1) / (2 * n + 2) * L, rel=1e-9)


def test_cylinder_inertia_by_integration_equals_the_closed_form() -> None:
    by_slices = solids.revolve(solids.frustum_meridian(L, R, R), L, 0.0)
    closed = solids.cylinder(L, R)
    assert by_slices.pitch == pytest.approx(closed.pitch, rel=1e-12)
    assert by_slices.pitch / by_slices.amount == pytest.approx((3 * R**2 + L**2) / 12, rel=1e-12)
    assert by_slices.roll == pytest.approx(closed.roll, rel=1e-12)


def test_tube_wall_by_integration_equals_the_closed_form() -> None:
    by_slices = solids.revolve(solids.frustum_meridian(L, R, R), L, 0.003)
    closed = solids.cylinder(L, R, R - 0.003)
    assert by_slices.amount == pytest.approx(closed.amount, rel=1e-12)
    assert by_slices.pitch == pytest.approx(closed.pitch, rel=1e-12)


def test_conical_skin() -> None:
    """Area pi R sqrt(R^2 + L^2), centroid 2/3 L, roll R^2/2 per area (textbook)."""
    surface = solids.skin(nose("cone"), L)
    assert surface.amount == pytest.approx(pi * R * sqrt(R**2 + L**2), rel=1e-12)
    assert surface.centroid_m == pytest.approx(2 / 3 * L, rel=1e-12)
    assert surface.roll / surface.amount == pytest.approx(R**2 / 2, rel=1e-12)


@pytest.mark.parametrize("shape", ["ellipsoid", "tangent_ogive"])
def test_hemisphere_skin(shape: str) -> None:
    """L = R: area 2 pi R^2, centroid R/2, pitch about the centre 2/3 R^2 per area (textbook)."""
    surface = solids.skin(nose(shape, length=R), R)
    assert surface.amount == pytest.approx(2 * pi * R**2, rel=1e-9)
    assert surface.centroid_m == pytest.approx(R / 2, rel=1e-9)
    about_cg = 2 / 3 * R**2 - (R / 2) ** 2
    assert surface.pitch / surface.amount == pytest.approx(about_cg, rel=1e-9)


@pytest.mark.parametrize("shape", shapes.NOSE_SHAPES)
def test_thin_shell_weighs_its_skin(shape: str) -> None:
    """Volume tends to area x wall; what is left is of order wall/R (here 1/800)."""
    wall = R / 800
    shell = solids.revolve(nose(shape), L, wall)
    surface = solids.skin(nose(shape), L)
    assert shell.amount == pytest.approx(surface.amount * wall, rel=3e-3)
    assert shell.centroid_m == pytest.approx(surface.centroid_m, rel=3e-3)
    assert shell.pitch == pytest.approx(surface.pitch * wall, rel=6e-3)


def test_of_nothing_the_volume_is_nothing_and_its_place_is_its_own() -> None:
    """It lies between the first and the last slice."""
    none = solids.revolve(lambda x: (0.0 * x, 0.0 * x), L, 0.0)
    assert (none.amount, none.pitch, none.roll) == (0.0, 0.0, 0.0)
    assert none.centroid_m == pytest.approx(L / 2, rel=1e-3)
    area, centroid = solids.planform(lambda x: (0.0 * x, 0.0 * x), L)
    assert (area, centroid) == (0.0, L / 2)
    flat = solids.cylinder(0.0, R)
    assert solids.join([(flat, 0.2), (flat, 0.4)]) == solids.Solid(0.0, 0.2, 0.0, 0.0)
    assert solids.join([]) == solids.Solid(0.0, 0.0, 0.0, 0.0)


def test_joined_pieces_balance_and_turn_as_one() -> None:
    """A tube of 0.3 m with a disc in each end, by the parallel axes about the middle (textbook)."""
    tube, disc = solids.cylinder(L, R, R - 0.003), solids.cylinder(0.006, R - 0.003)
    found = solids.join([(tube, 0.1), (disc, 0.1), (disc, 0.1 + L - 0.006)])
    apart = (L - 0.006) / 2
    assert found.centroid_m == pytest.approx(0.1 + L / 2)
    assert found.pitch == pytest.approx(tube.pitch + 2 * (disc.pitch + disc.amount * apart**2))
    assert disc.roll == pytest.approx(disc.amount * (R - 0.003) ** 2 / 2)
    assert found.roll == pytest.approx(tube.roll + 2 * disc.roll)


def test_a_bore_wider_than_its_tube_is_refused_with_both() -> None:
    for bore, length in ((0.05, L), (-0.01, L), (0.0, -0.05)):
        with pytest.raises(ValueError, match=f"bore {2 * bore:g} m, outside diameter 0.08 m"):
            solids.cylinder(length, R, bore)


def test_planform_of_cone_and_ellipse() -> None:
    """Triangle R L at 2/3 L; half ellipse pi R L/2 at L - 4L/(3 pi) (textbook)."""
    area, centroid = solids.planform(nose("cone"), L)
    assert (area, centroid) == pytest.approx((R * L, 2 / 3 * L), rel=1e-12)
    area, centroid = solids.planform(nose("ellipsoid"), L)
    assert (area, centroid) == pytest.approx((pi * R * L / 2, L - 4 * L / (3 * pi)), rel=1e-12)


@pytest.mark.parametrize(
    ("shape", "parameter", "length", "base", "words"),
    [
        ("egg", 0.0, L, R, "nose shape 'egg' is not known; allowed are cone"),
        ("power", 0.0, L, R, "outside 0.05 to 1"),
        ("power", 1.05, L, R, "outside 0.05 to 1"),
        ("parabola", 1.2, L, R, "outside 0 to 1"),
        ("parabola", 1.05, L, R, "outside 0 to 1"),
        ("haack", 0.67, L, R, "outside 0 to 0.666667"),
        ("secant_ogive", 0.7, L, R, "outside 1 to 100"),
        ("tangent_ogive", 0.0, 0.03, R, "would bulge"),
        ("cone", 0.0, 0.0, R, "must both be above zero"),
    ],
)
def test_impossible_noses_are_refused(
    shape: str, parameter: float, length: float, base: float, words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        shapes.check_shape(shape, parameter, length, base)


def rocket() -> Rocket:
    return Rocket(
        "r",
        (
            Tube("main", 0.24, length_m=0.6, outer_diameter_m=0.079, inner_diameter_m=0.076),
            Nose("nose", 0.0, length_m=0.24, diameter_m=0.079),
            Transition("tail", 0.84, length_m=0.06, fore_diameter_m=0.079, aft_diameter_m=0.06),
        ),
    )


def test_profile_of_a_whole_body() -> None:
    body = outer_profile(rocket())
    assert [s.name for s in body.segments] == ["nose", "main", "tail"]
    assert body.length_m == pytest.approx(0.90)
    assert body.base_radius_m == pytest.approx(0.030)
    assert body.reference_diameter_m == pytest.approx(0.079)
    assert body.reference_area_m2 == pytest.approx(pi * 0.0395**2)
    assert body_length_m(rocket()) == pytest.approx(0.90)
    assert reference_diameter_m(rocket()) == pytest.approx(0.079)
    assert np.all(np.diff(body.stations_m) >= 0.0)
    tube, tail = body.segments[1], body.segments[2]
    assert tube.wetted_area_m2 == pytest.approx(pi * 0.079 * 0.6)
    slant = sqrt(0.06**2 + 0.0095**2)
    assert tail.wetted_area_m2 == pytest.approx(pi * (0.0395 + 0.030) * slant)
    assert tail.volume_m3 == pytest.approx(
        solids.revolve(solids.frustum_meridian(0.06, 0.0395, 0.030), 0.06, 0.0).amount
    )
    assert tail.planform_area_m2 == pytest.approx(0.06 * (0.079 + 0.06) / 2)
    # the points alone give the side area within the chord error of 81 points
    side = float(np.trapezoid(2 * body.radii_m, body.stations_m))
    assert side == pytest.approx(body.planform_area_m2, rel=1e-4)
    moment = float(np.trapezoid(2 * body.radii_m * body.stations_m, body.stations_m))
    assert moment / side == pytest.approx(body.planform_centroid_m, rel=1e-4)


def test_step_in_diameter_keeps_both_radii_at_one_station() -> None:
    body = outer_profile(
        Rocket(
            "r",
            (
                Tube("a", 0.0, length_m=0.5, outer_diameter_m=0.1),
                Tube("b", 0.5, length_m=0.5, outer_diameter_m=0.08),
            ),
        )
    )
    assert body.stations_m.tolist() == [0.0, 0.5, 0.5, 1.0]
    assert body.radii_m.tolist() == [0.05, 0.05, 0.04, 0.04]


def test_gap_and_overlap_are_named() -> None:
    for station, words in ((0.512, "a gap of 12.0 mm"), (0.490, "an overlap of 10.0 mm")):
        parts = (
            Tube("fore tube", 0.0, length_m=0.5, outer_diameter_m=0.1),
            Tube("aft tube", station, length_m=0.5, outer_diameter_m=0.1),
        )
        with pytest.raises(ValueError, match=f"{words} between 'fore tube'"):
            outer_profile(Rocket("r", parts))


@pytest.mark.parametrize(("gap_m", "whole"), [(0.00095, True), (0.00105, False)])
def test_a_seam_of_up_to_a_millimetre_is_whole(gap_m: float, whole: bool) -> None:
    """The bound is the declared one, 1 mm, to either side."""
    for station in (0.5 + gap_m, 0.5 - gap_m):
        parts = (
            Tube("fore", 0.0, length_m=0.5, outer_diameter_m=0.1),
            Tube("aft", station, length_m=0.5, outer_diameter_m=0.1),
        )
        if whole:
            assert outer_profile(Rocket("r", parts)).end_m == pytest.approx(station + 0.5)
            continue
        with pytest.raises(ValueError, match="must meet within 1 mm"):
            outer_profile(Rocket("r", parts))


def test_no_body_is_refused() -> None:
    with pytest.raises(ValueError, match="has no outer body; give it a nose"):
        outer_profile(Rocket("r", ()))
