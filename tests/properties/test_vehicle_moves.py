"""Mass properties do not depend on where the rocket stands or how it is cut up."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import MassItem, combine, mass_items
from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.profile import outer_profile
from goodflight.physics.vehicle.shapes import NOSE_SHAPES

PLASTIC = Material("plastic", 1250.0)
PARAMETER = {"secant_ogive": 1.4, "parabola": 0.5, "haack": 0.0, "power": 0.6}

lengths = st.floats(0.05, 1.0)
radii = st.floats(0.01, 0.04)
masses = st.floats(0.001, 2.0)
places = st.floats(-3.0, 3.0)
items = st.builds(
    MassItem,
    name=st.just("m"),
    mass_kg=masses,
    station_m=places,
    pitch_inertia_kg_m2=st.floats(0.0, 0.1),
    roll_inertia_kg_m2=st.floats(0.0, 0.01),
)


@st.composite
def rockets(draw: st.DrawFn) -> p.Rocket:
    shape = draw(st.sampled_from(NOSE_SHAPES))
    nose_length, tube_length, radius = draw(lengths), draw(lengths), draw(radii)
    nose = p.Nose(
        "nose",
        0.0,
        PLASTIC,
        shape=shape,
        outline_constant=PARAMETER.get(shape, 0.0),
        length_m=nose_length,
        diameter_m=2 * radius,
        wall_m=draw(st.sampled_from([0.0, 0.002])),
    )
    tube = p.Tube(
        "tube",
        nose_length,
        PLASTIC,
        length_m=tube_length,
        outer_diameter_m=2 * radius,
        inner_diameter_m=1.9 * radius,
    )
    tip = draw(st.floats(0.0, 0.1))
    fins = p.Fins(
        "fins",
        nose_length + 0.5 * tube_length,
        PLASTIC,
        count=draw(st.integers(3, 6)),
        outline_m=((0.0, 0.0), (tip, 0.05), (tip + 0.05, 0.05), (0.1, 0.0)),
        thickness_m=0.003,
        body_radius_m=radius,
        fillet_radius_m=0.004,
    )
    added = p.AddedMass("added_mass", draw(lengths), mass_kg=draw(masses), length_m=0.05)
    return p.Rocket("r", (nose, tube, fins, added), paint_kg_m2=0.1)


def moved(rocket: p.Rocket, by_m: float) -> p.Rocket:
    parts = tuple(replace(part, station_m=part.station_m + by_m) for part in rocket.parts)
    return replace(rocket, parts=parts)


@given(rockets(), st.floats(-1.0, 1.0))
@settings(max_examples=60, deadline=None)
def test_moving_the_rocket_moves_its_cg_and_nothing_else(rocket: p.Rocket, by_m: float) -> None:
    here, there = combine(mass_items(rocket)), combine(mass_items(moved(rocket, by_m)))
    assert there.mass_kg == pytest.approx(here.mass_kg, rel=1e-12)
    assert there.cg_m == pytest.approx(here.cg_m + by_m, abs=1e-9)
    assert there.pitch_inertia_kg_m2 == pytest.approx(here.pitch_inertia_kg_m2, rel=1e-9)
    assert there.roll_inertia_kg_m2 == pytest.approx(here.roll_inertia_kg_m2, rel=1e-12)
    body, body_there = outer_profile(rocket), outer_profile(moved(rocket, by_m))
    assert body_there.wetted_area_m2 == pytest.approx(body.wetted_area_m2, rel=1e-9)
    assert body_there.planform_centroid_m == pytest.approx(
        body.planform_centroid_m + by_m, abs=1e-9
    )


@given(st.lists(items, min_size=2, max_size=8), st.data())
def test_two_halves_make_the_whole(all_items: list[MassItem], data: st.DataObject) -> None:
    cut = data.draw(st.integers(1, len(all_items) - 1))
    whole = combine(all_items)
    halves = [combine(all_items[:cut]), combine(all_items[cut:])]
    again = combine(
        [
            MassItem("half", h.mass_kg, h.cg_m, h.pitch_inertia_kg_m2, h.roll_inertia_kg_m2)
            for h in halves
        ]
    )
    assert again.mass_kg == pytest.approx(whole.mass_kg, rel=1e-12)
    assert again.cg_m == pytest.approx(whole.cg_m, rel=1e-9, abs=1e-9)
    assert again.pitch_inertia_kg_m2 == pytest.approx(whole.pitch_inertia_kg_m2, rel=1e-9)
    assert again.roll_inertia_kg_m2 == pytest.approx(whole.roll_inertia_kg_m2, rel=1e-12)


@given(st.lists(items, min_size=1, max_size=6))
def test_turning_the_rocket_round_mirrors_its_cg(all_items: list[MassItem]) -> None:
    whole = combine(all_items)
    back = combine([replace(i, station_m=-i.station_m) for i in all_items])
    assert back.cg_m == pytest.approx(-whole.cg_m, abs=1e-9)
    assert back.pitch_inertia_kg_m2 == pytest.approx(whole.pitch_inertia_kg_m2, rel=1e-9)


@given(st.floats(0.2, 1.0), st.floats(0.2, 0.8))
def test_a_tube_cut_in_two_is_the_same_tube(length: float, share: float) -> None:
    def tube(station: float, long: float) -> p.Tube:
        return p.Tube(
            "t", station, PLASTIC, length_m=long, outer_diameter_m=0.08, inner_diameter_m=0.07
        )

    whole = combine(mass_items(p.Rocket("a", (tube(0.3, length),))))
    cut = share * length
    two = combine(mass_items(p.Rocket("b", (tube(0.3, cut), tube(0.3 + cut, length - cut)))))
    assert two.mass_kg == pytest.approx(whole.mass_kg, rel=1e-12)
    assert two.cg_m == pytest.approx(whole.cg_m, rel=1e-12)
    assert two.pitch_inertia_kg_m2 == pytest.approx(whole.pitch_inertia_kg_m2, rel=1e-9)


@given(st.lists(items, min_size=1, max_size=6), masses, places)
def test_adding_mass_pulls_the_cg_towards_it(
    all_items: list[MassItem], mass: float, place: float
) -> None:
    before = combine(all_items)
    after = combine([*all_items, MassItem("more", mass, place, 0.0, 0.0)])
    assert (after.cg_m - before.cg_m) * (place - before.cg_m) >= -1e-12
    assert after.pitch_inertia_kg_m2 >= before.pitch_inertia_kg_m2 - 1e-12
