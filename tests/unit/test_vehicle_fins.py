"""Balance and inertia of a fin set with tabs and bevels: blocks and rods by the parallel axes."""

from math import pi

import pytest
from pytest import approx

from goodflight.physics.vehicle.fins import fillet_solid, fin_faces, fin_solid
from goodflight.physics.vehicle.parts import Fins

SIDE, THICK, RADIUS = 0.1, 0.004, 0.05
SQUARE = ((0.0, 0.0), (0.0, SIDE), (SIDE, SIDE), (SIDE, 0.0))
Piece = tuple[float, float, float, float, float]  # amount, u, w, own square along, own outward


def plates(**more: object) -> Fins:
    fields = {"count": 4, "outline_m": SQUARE, "thickness_m": THICK, "body_radius_m": RADIUS}
    return Fins("fins", 1.0, **(fields | {"edges": "blunt"} | more))  # type: ignore[arg-type]


def by_hand(pieces: list[Piece], across: float) -> tuple[float, float, float, float]:
    """Four fins of some pieces; a mean square of `across` off their mid-plane."""
    whole = sum(piece[0] for piece in pieces)
    middle = sum(amount * u for amount, u, *_ in pieces) / whole
    along = sum(m * (own + (u - middle) ** 2) for m, u, _, own, _ in pieces)
    out = sum(m * (own + (RADIUS + w) ** 2) for m, _, w, _, own in pieces) + whole * across
    return 4.0 * whole, middle, 4.0 * (along + out / 2.0), 4.0 * out


def figures(fins: Fins) -> tuple[float, float, float, float]:
    found = fin_solid(fins)
    return found.amount, found.centroid_m, found.pitch, found.roll


PLATE: Piece = (SIDE * SIDE * THICK, SIDE / 2, SIDE / 2, SIDE**2 / 12, SIDE**2 / 12)


def test_a_tab_is_a_block_inside_the_body() -> None:
    """80 x 30 x 4 mm from 15 mm behind the root's front on: middle at 55 mm, 35 mm off the axis."""
    fins = plates(tab_length_m=0.08, tab_depth_m=0.03, tab_offset_m=0.015)
    tab = (0.08 * 0.03 * THICK, 0.055, -0.015, 0.08**2 / 12, 0.03**2 / 12)
    assert figures(fins) == approx(by_hand([PLATE, tab], THICK**2 / 12), rel=1e-12)


def test_what_a_bevel_takes_off_is_a_rod_along_each_free_edge() -> None:
    """Two triangles of 10 x 2 mm along three edges of 100 mm: 20 mm2 by 100 mm each."""
    off = -0.5 * 0.010 * THICK * SIDE
    rods = [
        (off, 0.0, SIDE / 2, 0.0, SIDE**2 / 12),
        (off, SIDE / 2, SIDE, SIDE**2 / 12, 0.0),
        (off, SIDE, SIDE / 2, 0.0, SIDE**2 / 12),
    ]
    fins = plates(edges="bevelled", bevel_m=0.010)
    assert figures(fins) == approx(by_hand([PLATE, *rods], THICK**2 / 12), rel=1e-12)


def test_fillets_lie_in_the_corner_along_the_root() -> None:
    """Square less quarter circle of 10 mm: (1 - pi/4) r2, 0.2234 r off both faces (textbook);
    one on each side of a root of 100 mm, 20 mm behind the station."""
    moved = tuple((u + 0.02, w) for u, w in SQUARE)
    area, off = (1.0 - pi / 4.0) * 0.010**2, 0.2234 * 0.010
    found = fillet_solid(plates(outline_m=moved, fillet_radius_m=0.010))
    piece = (2.0 * area * SIDE, 0.02 + SIDE / 2, off, SIDE**2 / 12, 0.0)
    expected = by_hand([piece], off**2)
    assert (found.amount, found.centroid_m, found.pitch, found.roll) == approx(expected, rel=1e-4)


def test_both_faces_are_painted() -> None:
    """A sheet on each side, half a thickness off the mid-plane."""
    found = fin_faces(plates())
    piece = (2.0 * SIDE * SIDE, *PLATE[1:])
    expected = by_hand([piece], (THICK / 2.0) ** 2)
    assert (found.amount, found.centroid_m, found.pitch, found.roll) == approx(expected, rel=1e-12)


def test_fins_without_a_thickness_have_no_volume() -> None:
    aft = tuple((u + 0.02, w) for u, w in SQUARE)
    assert figures(plates(thickness_m=0.0, outline_m=aft)) == (0.0, approx(0.07), 0.0, 0.0)


@pytest.mark.parametrize("corners", [2, 3])
def test_an_outline_has_three_corners_or_more(corners: int) -> None:
    fins = plates(outline_m=((0.0, 0.0), (0.05, SIDE), (SIDE, 0.0))[:corners])
    if corners == 3:
        assert fin_solid(fins).amount == approx(4.0 * 0.5 * SIDE * SIDE * THICK)
        return
    with pytest.raises(ValueError, match="at least three corners, 2 given"):
        fin_solid(fins)
    with pytest.raises(ValueError, match="the fin outline has no area"):
        fin_solid(plates(outline_m=((0.0, 0.0), (0.05, 0.0), (SIDE, 0.0))))
