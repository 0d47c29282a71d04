"""Fin outlines of any polygon, and the shapes that the model warns of, by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.aero.spin import cant_for_ratio_rad
from goodflight.physics.aero.upset import crossflow_slope, speed_at_top_m_s
from plain_body import body_shape

Outline = list[tuple[float, float]]
HAND: Outline = [(0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0)]


def shoelace(outline: Outline) -> float:
    x, y = np.array(outline).T
    return abs(float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))) / 2.0


def test_corners_on_a_straight_edge_change_nothing() -> None:
    """The trailing edge cut at a hundredth of the span and every quarter."""
    cut = [(0.15 - 0.02 * k, 0.08 * k) for k in (0.75, 0.5, 0.25, 0.01)]
    plain = aero.fin_shape(3, 1.0, HAND, 0.04)
    fine = aero.fin_shape(3, 1.0, [*HAND[:3], *cut, HAND[3]], 0.04)
    for name in ("area_m2", "root_m", "taper", "mean_chord_m", "quarter_m", "tan_lead", "tan_half"):
        assert getattr(fine, name) == pytest.approx(getattr(plain, name)), name
    assert plain.root_m == pytest.approx(0.15)


@pytest.mark.parametrize("turned", [False, True], ids=["lead", "trail"])
def test_an_edge_ends_at_its_corner(turned: bool) -> None:
    """A long straight piece and then a short swept one: area by the shoelace formula."""
    outline = [(0.0, 0.0), (0.0, 0.07), (0.05, 0.1), (0.15, 0.1), (0.15, 0.0)]
    if turned:
        outline = [(0.15 - x, y) for x, y in outline[::-1]]
    assert aero.fin_shape(3, 0.0, outline, 0.04).area_m2 == pytest.approx(shoelace(outline))


def test_triangular_fin() -> None:
    """Taper 0, mean chord two thirds of the root."""
    fin = aero.fin_shape(3, 0.0, [(0.0, 0.0), (0.1, 0.1), (0.1, 0.0)], 0.04)
    assert (fin.area_m2, fin.mean_chord_m) == pytest.approx((0.005, 0.2 / 3.0))
    assert fin.taper == pytest.approx(0.0, abs=1e-12)


def test_a_fin_wider_at_its_tip_counts_as_rectangular() -> None:
    """Slightly wider, and a stem of 10 mm under a plate, centroid past two thirds of the span."""
    wider = [(0.0, 0.0), (-0.02, 0.1), (0.1, 0.1), (0.1, 0.0)]
    stem = [(0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.07), (0.01, 0.07), (0.01, 0.0)]
    assert aero.fin_shape(3, 0.0, wider, 0.04).taper == 1.0
    assert aero.fin_shape(3, 0.0, stem, 0.04).taper == 1.0


# ---- warnings ----
def warned(words: str, shape: aero.Shape) -> bool:
    return any(words in each for each in aero.shape_warnings(shape))


PLAIN = aero.Shape(
    body_shape([0, 0.2, 1.2], [0, 0.04, 0.04], 0.2),
    (aero.fin_shape(3, 1.05, HAND, 0.04, thickness_m=0.004),),
    (),
    1e-5,
)


def with_fins(station: float = 1.05, radius: float = 0.04, **changes: float) -> aero.Shape:
    outline = [(x * changes.get("chord", 1.0), y) for x, y in HAND]
    thickness = changes.get("thickness", 0.004)
    fin = aero.fin_shape(3, station, outline, radius, thickness_m=thickness)
    return replace(PLAIN, fins=(fin,))


@pytest.mark.parametrize(
    ("shape", "off"),
    [
        (PLAIN, False),
        (with_fins(1.0511), False),  # a millimetre behind the end: as good as flush
        (with_fins(1.0512), True),
        (with_fins(0.205), False),  # just behind the nose
        (with_fins(0.17), True),  # 30 mm of the root on it
        (with_fins(radius=0.0412), False),  # 2.9 % off the tube
        (with_fins(radius=0.0413), True),  # 3.1 %
    ],
)
def test_fins_off_the_cylinder(shape: aero.Shape, off: bool) -> None:
    """Within 3 % of the radius along the whole root, a millimetre at the end: judgement."""
    assert warned("off the cylinder", shape) == off


def test_fins_ahead_of_the_body_are_off_it() -> None:
    tube = body_shape([0.5, 1.5], [0.04, 0.04], 0.0)
    fore, on = (replace(with_fins(at), body=tube) for at in (0.48, 0.6))
    assert warned("off the cylinder", fore)
    assert not warned("off the cylinder", on)


@pytest.mark.parametrize(("calibres", "short"), [(4.9, True), (5.1, False)])
def test_bodies_under_five_calibres(calibres: float, short: bool) -> None:
    body = body_shape([0, 0.2, 0.08 * calibres], [0, 0.04, 0.04], 0.2)
    assert warned("calibres long", replace(PLAIN, body=body)) == short


@pytest.mark.parametrize(("share", "thick"), [(0.098, False), (0.102, True)])
def test_fins_thicker_than_a_tenth(share: float, thick: bool) -> None:
    shape = with_fins(thickness=share * PLAIN.fins[0].mean_chord_m)
    assert warned("thicker than a tenth", shape) == thick


@pytest.mark.parametrize(("degrees", "steep"), [(7.9, False), (8.1, True)])
def test_bodies_that_narrow_at_eight_degrees(degrees: float, steep: bool) -> None:
    length = 0.01 / math.tan(math.radians(degrees))
    body = body_shape([0, 0.2, 1.3, 1.3 + length], [0, 0.04, 0.04, 0.03], 0.2)
    assert warned("more than 8 degrees", replace(PLAIN, body=body)) == steep


def test_transonic_flights_are_warned_of_from_mach_0_8() -> None:
    assert aero.mach_warning(0.79) is None
    assert "transonic" in (aero.mach_warning(0.81) or "")


# ---- ends of small formulas ----
def test_fins_that_hardly_turn_the_rocket_are_asked_half_a_radian() -> None:
    assert cant_for_ratio_rad(np.array([0.02]), np.array([0.001])) == 0.5


def test_crossflow_of_one_flight_has_no_factor() -> None:
    assert float(crossflow_slope(0.5, 0.1, 0.005)) == pytest.approx(12.0)


def test_speed_at_the_top_of_a_slow_climb() -> None:
    """5 m/s with 0.05 up leaves all but 0.25 mm/s; faster up than in all leaves nothing."""
    slow = float(speed_at_top_m_s(5.0, 0.05, 9.0))
    assert slow == pytest.approx(math.sqrt(25.0 - 0.0025))
    assert float(speed_at_top_m_s(5.0, 5.1, 9.0)) == 0.0
