"""Masses, balance points and inertias of parts and of the whole rocket (derived by hand)."""

from dataclasses import replace
from math import hypot, pi
from typing import Any

import numpy as np
import pytest

from goodflight.physics.vehicle import fins as fin_shapes
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import (
    MassItem,
    combine,
    combine_trials,
    mass_items,
    part_item,
)
from goodflight.physics.vehicle.part import Material, Part

PLY = Material("birch plywood", 680.0)
SQUARE = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
DELTA = ((0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0))


def square_fins(**more: object) -> p.Fins:
    fields = {
        "count": 4,
        "outline_m": SQUARE,
        "thickness_m": 0.004,
        "edges": "blunt",
        "body_radius_m": 0.05,
        "material": PLY,
    }
    return p.Fins("fins", 1.0, **(fields | more))  # type: ignore[arg-type]


def item(part: Part) -> MassItem:
    found = part_item(part)
    assert found is not None
    return found


def test_tube_ring_coupler_bulkhead_motor_tube_by_density_times_volume() -> None:
    wide: dict[str, Any] = {"material": PLY, "outer_diameter_m": 0.079, "inner_diameter_m": 0.076}
    wall = pi / 4 * (0.079**2 - 0.076**2) * 680.0
    for part in (
        p.Tube("t", 0.2, length_m=0.5, **wide),
        p.Coupler("c", 0.2, length_m=0.5, **wide),
        p.MotorTube("m", 0.2, length_m=0.5, **wide),
        p.Ring("r", 0.2, thickness_m=0.5, **wide),
    ):
        found = item(part)
        assert found.mass_kg == pytest.approx(wall * 0.5, rel=1e-12)
        assert found.station_m == pytest.approx(0.45)
        squares = 0.0395**2 + 0.038**2
        assert found.roll_inertia_kg_m2 == pytest.approx(found.mass_kg * squares / 2)
        assert found.pitch_inertia_kg_m2 == pytest.approx(found.mass_kg * (3 * squares + 0.25) / 12)
    disc = item(p.Bulkhead("b", 0.2, PLY, thickness_m=0.004, diameter_m=0.076))
    assert disc.mass_kg == pytest.approx(680.0 * 0.004 * pi * 0.038**2)
    assert disc.roll_inertia_kg_m2 == pytest.approx(disc.mass_kg * 0.038**2 / 2)


def test_solid_and_hollow_nose_with_shoulder() -> None:
    nose = p.Nose("n", 0.0, PLY, shape="cone", length_m=0.24, diameter_m=0.08)
    assert item(nose).station_m == pytest.approx(0.18)
    shoulder = p.Nose(
        "n",
        0.0,
        PLY,
        shape="cone",
        length_m=0.24,
        diameter_m=0.08,
        shoulder_length_m=0.06,
        shoulder_diameter_m=0.076,
    )
    cone, plug = pi * 0.04**2 * 0.24 / 3, pi * 0.038**2 * 0.06
    found = item(shoulder)
    assert found.mass_kg == pytest.approx(680.0 * (cone + plug), rel=1e-10)
    assert found.station_m == pytest.approx((cone * 0.18 + plug * 0.27) / (cone + plug), rel=1e-10)
    hollow = p.Nose(
        "n",
        0.0,
        PLY,
        shape="cone",
        length_m=0.24,
        diameter_m=0.08,
        wall_m=0.002,
        shoulder_length_m=0.06,
        shoulder_diameter_m=0.076,
    )
    # a conical shell of even wall: outer cone less a similar cone, shorter by w / sin(half angle)
    sine = 0.04 / hypot(0.04, 0.24)
    inner_length = 0.24 - 0.002 / sine
    shell = cone - pi * (0.04 * inner_length / 0.24) ** 2 * inner_length / 3
    tube = pi * (0.038**2 - 0.036**2) * 0.06
    assert item(hollow).mass_kg == pytest.approx(680.0 * (shell + tube), rel=1e-4)


def test_transition_is_the_difference_of_two_cones() -> None:
    part = p.Transition("t", 1.0, PLY, length_m=0.1, fore_diameter_m=0.04, aft_diameter_m=0.08)
    big, small = pi * 0.04**2 * 0.2 / 3, pi * 0.02**2 * 0.1 / 3
    found = item(part)
    assert found.mass_kg == pytest.approx(680.0 * (big - small), rel=1e-12)
    centroid = (big * 0.15 - small * 0.075) / (big - small) - 0.1  # from its own front end
    assert found.station_m == pytest.approx(1.0 + centroid, rel=1e-12)


def test_square_fins_mass_and_inertia() -> None:
    """Four plates 100 x 100 x 4 mm on a 50 mm radius: centroid 100 mm off the axis."""
    found = item(square_fins())
    mass = 4 * 680.0 * 0.1 * 0.1 * 0.004
    assert found.mass_kg == pytest.approx(mass)
    assert found.station_m == pytest.approx(1.05)
    radial = 0.1**2 / 12 + 0.1**2 + 0.004**2 / 12
    assert found.roll_inertia_kg_m2 == pytest.approx(mass * radial)
    assert found.pitch_inertia_kg_m2 == pytest.approx(mass * (0.1**2 / 12 + radial / 2))


def test_panel_of_a_clipped_delta_against_two_triangles() -> None:
    shape = fin_shapes.panel(DELTA)
    area = (0.15 + 0.06) / 2 * 0.08
    assert shape.area_m2 == pytest.approx(area)
    # trapezium: height of the centroid h (a + 2b) / (3 (a + b))
    assert shape.w_m == pytest.approx(0.08 * (0.15 + 2 * 0.06) / (3 * 0.21))
    left, right = 0.15 * 0.08 / 2, 0.06 * 0.08 / 2  # triangles 0-1-3 and 1-2-3
    u = (left * (0 + 0.07 + 0.15) / 3 + right * (0.07 + 0.13 + 0.15) / 3) / area
    assert shape.u_m == pytest.approx(u)
    back = fin_shapes.panel(tuple(reversed(DELTA)))
    assert (back.area_m2, back.u_m, back.uu) == pytest.approx((shape.area_m2, shape.u_m, shape.uu))


def test_panel_second_moments_by_brute_force() -> None:
    """Independent check: a fine grid over the outline, inside by the even-odd rule."""
    n = 800
    u, w = np.meshgrid(
        (np.arange(n) + 0.5) * 0.15 / n, (np.arange(n) + 0.5) * 0.08 / n, indexing="ij"
    )
    inside = (u >= 0.07 * w / 0.08) & (u <= 0.15 - 0.02 * w / 0.08)
    cell = 0.15 * 0.08 / n**2
    shape = fin_shapes.panel(DELTA)
    uu = float(np.sum((u[inside] - shape.u_m) ** 2)) * cell
    ww = float(np.sum((w[inside] - shape.w_m) ** 2)) * cell
    assert (shape.uu, shape.ww) == pytest.approx((uu, ww), rel=2e-3)  # grid of 1/800


def test_tab_bevel_round_edge_and_airfoil_change_the_mass_as_drawn() -> None:
    plain = item(square_fins()).mass_kg
    tab = square_fins(tab_length_m=0.08, tab_depth_m=0.03, tab_offset_m=0.02)
    assert item(tab).mass_kg - plain == pytest.approx(4 * 680.0 * 0.08 * 0.03 * 0.004)
    assert item(tab).station_m > 1.05  # the tab's middle is at 60 mm
    wedge = square_fins(edges="bevelled", bevel_m=0.01)
    assert plain - item(wedge).mass_kg == pytest.approx(4 * 680.0 * 0.3 * 0.5 * 0.01 * 0.004)
    rounded = square_fins(edges="rounded")
    cut = 0.004**2 / 2 - pi * 0.002**2 / 2  # t/2 x t less a half circle
    assert plain - item(rounded).mass_kg == pytest.approx(4 * 680.0 * 0.3 * cut)
    airfoil = square_fins(edges="faired")
    assert item(airfoil).mass_kg / plain == pytest.approx(0.685, abs=5e-4)
    with pytest.raises(ValueError, match="the tabs would meet"):
        item(square_fins(tab_length_m=0.08, tab_depth_m=0.06))


def test_airfoil_fill_by_numerical_integration() -> None:
    """Half thickness over t: 5 (.2969 sqrt x - .126 x - .3516 x2 + .2843 x3 - .1015 x4)."""
    x = np.linspace(0, 1, 200001) ** 2
    half = 5 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    assert float(np.trapezoid(2 * half, x)) == pytest.approx(fin_shapes.AIRFOIL_FILL, rel=1e-6)


def test_fillets_are_a_mass_of_their_own() -> None:
    """Three fins, 150 mm root, r = 10 mm: 6 x 21.46 mm2 x 150 mm = 19.31 cm3, 22.2 g of epoxy."""
    part = p.Fins(
        "fins",
        1.06,
        PLY,
        count=3,
        outline_m=DELTA,
        thickness_m=0.004,
        body_radius_m=0.0395,
        fillet_radius_m=0.010,
        fillet_density_kg_m3=1150.0,
    )
    body = p.Tube("t", 0.0, length_m=1.22, outer_diameter_m=0.079, mass_kg=0.2)
    items = mass_items(p.Rocket("r", (body, part)))
    assert [i.kind for i in items] == ["tube", "fins", "fillet"]
    volume = 6 * (1 - pi / 4) * 0.010**2 * 0.150
    assert items[2].mass_kg == pytest.approx(1150.0 * volume)
    assert items[2].mass_kg == pytest.approx(0.0222, abs=5e-5)
    assert items[2].station_m == pytest.approx(1.06 + 0.075)
    assert items[2].mass_sigma_kg == pytest.approx(0.2 * items[2].mass_kg)


def test_fins_within_another_weighing_have_their_fillets_there_too() -> None:
    """Fins with a mass of their own, however little, were weighed before the glue was put on."""
    for mass_kg, kinds in ((0.0, []), (0.03, ["fillet"])):
        fins = square_fins(fillet_radius_m=0.01, fillet_density_kg_m3=1150.0, mass_kg=mass_kg)
        items = mass_items(p.Rocket("r", (fins,)))
        assert [each.kind for each in items if each.kind == "fillet"] == kinds


def test_fillet_centroid_by_brute_force() -> None:
    """Square 1 x 1 less the quarter circle about its far corner, on a grid."""
    n = 1000
    x, y = np.meshgrid((np.arange(n) + 0.5) / n, (np.arange(n) + 0.5) / n, indexing="ij")
    glue = (x - 1) ** 2 + (y - 1) ** 2 > 1
    assert float(glue.mean()) == pytest.approx(1 - pi / 4, abs=1e-3)
    # on a body of no radius the roll inertia is twice the centroid's offset squared, per volume
    solid = fin_shapes.fillet_solid(square_fins(fillet_radius_m=1.0, body_radius_m=0.0))
    offset = (solid.roll / solid.amount / 2) ** 0.5
    assert float(x[glue].mean()) == pytest.approx(offset, abs=1e-3)


def test_paint_covers_the_outside_and_both_faces_of_the_fins() -> None:
    body = p.Tube("t", 0.0, length_m=1.2, outer_diameter_m=0.1, mass_kg=0.2)
    rocket = p.Rocket("r", (body, square_fins()), paint_kg_m2=0.2)
    paint = mass_items(rocket)[-1]
    assert paint.kind == "paint"
    assert paint.mass_sigma_kg == pytest.approx(0.2 * paint.mass_kg)  # a guess
    thin = mass_items(replace(rocket, paint_kg_m2=0.06))[-1]
    assert thin.mass_kg == pytest.approx(0.3 * paint.mass_kg)
    tube, faces = pi * 0.1 * 1.2, 8 * 0.01
    assert paint.mass_kg == pytest.approx(0.2 * (tube + faces))
    assert paint.station_m == pytest.approx((tube * 0.6 + faces * 1.05) / (tube + faces))


def test_given_mass_replaces_and_scales_and_balance_moves() -> None:
    computed = item(square_fins())
    given = item(square_fins(mass_kg=2 * computed.mass_kg, balance_m=1.07, known="measured"))
    assert given.mass_kg == pytest.approx(2 * computed.mass_kg)
    assert given.pitch_inertia_kg_m2 == pytest.approx(2 * computed.pitch_inertia_kg_m2)
    assert given.station_m == 1.07
    assert given.known == "measured"
    # without a material the shape still spreads a given mass
    bare = item(square_fins(mass_kg=0.1, material=None))
    assert bare.roll_inertia_kg_m2 / 0.1 == pytest.approx(
        computed.roll_inertia_kg_m2 / computed.mass_kg
    )


def test_lump_canopy_cord_and_guides() -> None:
    added = item(p.AddedMass("l", 0.5, mass_kg=0.2, length_m=0.3, radius_m=0.03))
    assert added.station_m == pytest.approx(0.65)
    assert added.pitch_inertia_kg_m2 == pytest.approx(0.2 * (3 * 0.03**2 + 0.09) / 12)
    assert added.roll_inertia_kg_m2 == pytest.approx(0.2 * 0.03**2 / 2)
    canopy = item(p.Canopy("c", 0.5, mass_kg=0.1, packed_length_m=0.2, packed_diameter_m=0.07))
    assert canopy.station_m == pytest.approx(0.6)
    cord = item(p.Cord("c", 0.5, mass_kg=0.1, packed_length_m=0.1))
    assert cord.pitch_inertia_kg_m2 == pytest.approx(0.1 * 0.01 / 12)
    guides = item(p.Buttons("g", 0.9, mass_kg=0.016, aft_station_m=1.19))
    assert guides.station_m == pytest.approx(1.045)
    assert guides.pitch_inertia_kg_m2 == pytest.approx(0.016 * 0.145**2)


def test_bay_is_empty_room_and_a_part_without_mass_is_refused() -> None:
    assert part_item(p.Bay("bay", 0.3, length_m=0.4, inner_diameter_m=0.076)) is None
    assert p.Cord("c", 0.0).solid().amount == 0.0
    for part in (p.Cord("cord", 0.5), p.Ring("ring", 1.0, thickness_m=0.004)):
        with pytest.raises(ValueError, match="weigh it and give its mass"):
            part_item(part)


def test_combine_two_and_spreads() -> None:
    a = MassItem("a", 2.0, 3.0, 0.01, 0.02, mass_sigma_kg=0.1)
    b = MassItem("b", 1.0, 6.0, 0.03, 0.04, station_sigma_m=0.3)
    whole = combine([a, b])
    assert (whole.mass_kg, whole.cg_m) == pytest.approx((3.0, 4.0))
    assert whole.pitch_inertia_kg_m2 == pytest.approx(0.04 + 2.0 * 1 + 1.0 * 4)
    assert whole.roll_inertia_kg_m2 == pytest.approx(0.06)
    assert whole.mass_sigma_kg == pytest.approx(0.1)
    assert whole.cg_sigma_m == pytest.approx(hypot(1 / 3 * 0.1, 1 / 3 * 0.3))
    assert combine([MassItem("light", 0.03, 0.5, 0.0, 0.0)]).mass_kg == 0.03
    with pytest.raises(ValueError, match="weigh nothing together"):
        combine([])


def test_draws_equal_one_by_one() -> None:
    items = [
        MassItem("a", 2.0, 1.0, 0.01, 0.02),
        MassItem("b", 1.0, 4.0, 0.03, 0.04),
        MassItem("light", 0.02, 2.0, 1e-4, 2e-4),
    ]
    rng = np.random.default_rng(1)
    masses, stations = rng.uniform(0.5, 2.0, (5, 3)), rng.uniform(0.0, 3.0, (5, 3))
    flights = combine_trials(items, masses, stations)
    for k in range(5):
        single = combine(
            [
                MassItem(
                    i.name,
                    masses[k, j],
                    stations[k, j],
                    i.pitch_inertia_kg_m2 * masses[k, j] / i.mass_kg,
                    i.roll_inertia_kg_m2 * masses[k, j] / i.mass_kg,
                )
                for j, i in enumerate(items)
            ]
        )
        assert flights.mass_kg[k] == pytest.approx(single.mass_kg)
        assert flights.cg_m[k] == pytest.approx(single.cg_m)
        assert flights.pitch_inertia_kg_m2[k] == pytest.approx(single.pitch_inertia_kg_m2)
        assert flights.roll_inertia_kg_m2[k] == pytest.approx(single.roll_inertia_kg_m2)
    with pytest.raises(ValueError, match="3 mass items but 1 columns of masses and 3 of stations"):
        combine_trials(items, masses[:, :1], stations)
    nothing = [replace(items[0], mass_kg=0.0), items[1]]
    found = combine_trials(nothing, masses[:, :2], stations[:, :2])
    assert np.isfinite(found.roll_inertia_kg_m2).all()


@pytest.mark.parametrize("edges", [None, "bevelled"])
def test_fins_of_unknown_edges_or_bevel_weigh_half_the_sheet_to_all_of_it(
    edges: p.FinEdges | None,
) -> None:
    """Mean and variance of a flat law between the two, (a + b)/2 and (b - a)^2/12.

    Bevels on both faces that meet mid chord leave a diamond, half of its box; a faired section
    leaves more, 0.685 of it.
    """
    sheet = item(square_fins()).mass_kg
    found = item(square_fins(edges=edges))
    assert sheet == pytest.approx(680.0 * 4 * 0.1 * 0.1 * 0.004)
    assert found.mass_kg == pytest.approx(0.75 * sheet)
    assert found.mass_sigma_kg == pytest.approx(0.5 * sheet / 12.0**0.5)
    diamond = 2.0 * 0.5 * 0.05 * 0.004 * 0.1  # two rods of the widest bevel, along 0.1 m each
    assert 0.1 * 0.1 * 0.004 - diamond == pytest.approx(0.5 * 0.1 * 0.1 * 0.004)
    assert 0.5 * sheet < item(square_fins(edges="faired")).mass_kg < sheet


def test_fins_of_told_edges_and_bevel_weigh_what_is_left() -> None:
    assert item(square_fins()).mass_sigma_kg == 0.0
    assert item(square_fins(edges="bevelled", bevel_m=0.01)).mass_sigma_kg == 0.0
    assert item(square_fins(edges="faired")).mass_sigma_kg == 0.0


def test_a_coupler_without_its_mass_holds_its_bulkheads() -> None:
    """By hand: 2 discs of 6 mm plywood, 680 kg/m3, 75.8 mm across, at the ends; a bolt of 25 g.

    A coupler of these sizes stands with 95 g in the demo's mass table.
    """
    card = Material("card", 700.0)
    sizes: dict[str, Any] = {
        "length_m": 0.15,
        "outer_diameter_m": 0.0758,
        "inner_diameter_m": 0.0728,
    }
    plain = item(p.Coupler("c", 0.4, material=card, **sizes))
    found = item(p.Coupler("c", 0.4, material=card, bulkheads=True, **sizes))
    discs = 2 * 680.0 * pi / 4 * 0.0758**2 * 0.006
    assert found.mass_kg - plain.mass_kg == pytest.approx(discs + 0.025)
    assert found.mass_sigma_kg == pytest.approx(0.4 * (discs + 0.025))
    assert found.mass_kg == pytest.approx(0.095, abs=2.0 * found.mass_sigma_kg)
    assert found.station_m == pytest.approx(0.475)
    own = (3.0 * 0.0379**2 + 0.006**2) / 12.0  # of a disc about its diameter
    far = (discs + 0.025) * (0.075**2 + own)  # both at the ends
    assert found.pitch_inertia_kg_m2 - plain.pitch_inertia_kg_m2 == pytest.approx(far)
    weighed = item(p.Coupler("c", 0.4, mass_kg=0.095, bulkheads=True, **sizes))
    assert weighed.mass_kg == 0.095 and weighed.mass_sigma_kg == 0.0


def test_a_nose_without_its_mass_holds_its_plate_at_its_base() -> None:
    plastic = Material("plastic", 1240.0)
    sizes: dict[str, Any] = {"length_m": 0.24, "diameter_m": 0.079, "wall_m": 0.002}
    plain = item(p.Nose("n", 0.0, material=plastic, **sizes))
    found = item(p.Nose("n", 0.0, material=plastic, plate=True, **sizes))
    plate = 680.0 * pi / 4 * 0.079**2 * 0.006 + 0.025
    assert found.mass_kg - plain.mass_kg == pytest.approx(plate)
    moment = found.mass_kg * found.station_m - plain.mass_kg * plain.station_m
    assert moment == pytest.approx(plate * 0.24)
