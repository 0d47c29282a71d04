"""Fin guides: the bound of twist proven on the drawn plates, fits, alignment, the printed piece."""

import io
import zipfile
from dataclasses import replace
from math import cos, degrees, pi, radians, sin
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate, translate

from bench_rocket import rocket
from goodflight.outputs.bench.mesh import mesh_of, stl, three_mf
from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guide_parts import (
    directions,
    for_cutter,
    guide_templates,
    key_slots,
    plate_area,
    printed_guide,
)
from goodflight.studies.bench.guides import (
    alignment_of,
    guide_for,
    measured_alignment,
    plate_stations,
    twist_bound_rad,
)
from goodflight.studies.bench.outlines import DoesNotFitError
from goodflight.studies.bench.places import fin_can
from goodflight.studies.bench.planes import area, solid_area
from goodflight.studies.bench.shapes import Line


def holds(room, long_m, thick_m, direction_rad):
    """Whether a convex room holds a flat tab, in any of many leans within its slot.

    Exact for each lean: the places of the tab's middle are the room shrunk by the tab's corners.
    """
    for lean in np.linspace(-0.006, 0.006, 7):
        c, s = cos(direction_rad + lean), sin(direction_rad + lean)
        a, b = long_m / 2, thick_m / 2
        corners = [(x * c - y * s, x * s + y * c) for x, y in ((a, b), (a, -b), (-a, -b), (-a, b))]
        places = room
        for x, y in corners:
            places = places.intersection(translate(room, -x, -y))
        if not places.is_empty:
            return True
    return False


def keys_go_in(guide, slots, turn_rad, shift_m):
    """Whether every key goes through both plates, one turned and shifted against the other.

    A key seated on its shoulders puts the same footprint through both plates.
    """
    for slot, angle in zip(slots, directions(guide.count), strict=True):
        other = translate(rotate(slot, turn_rad, origin=(0, 0), use_radians=True), *shift_m)
        along = angle + pi / guide.count + pi / 2
        if not holds(slot.intersection(other), guide.tab_m, guide.plate_m, along):
            return False
    return True


@pytest.mark.parametrize(("count", "clearance_m"), [(3, 0.0002), (3, 0.0005), (4, 0.0003)])
def test_no_twist_beyond_the_bound_fits_the_keys_whatever_the_shift(count, clearance_m):
    """Proof on the plates as drawn: their own key slots, turned and shifted against each other."""
    guide = guide_for(fin_can(rocket(count)), Choices(clearance_m=clearance_m))
    holes = [area(hole.coords) for hole in plate_area(guide).interiors]
    slots = [
        min(holes, key=lambda s: s.centroid.distance(want.centroid)) for want in key_slots(guide)
    ]
    bound = twist_bound_rad(clearance_m, guide.key_radius_m)
    step = np.linspace(-1.5 * clearance_m, 1.5 * clearance_m, 7)
    for turn in (1.01 * bound, -1.01 * bound, 2 * bound):
        assert not any(keys_go_in(guide, slots, turn, (x, y)) for x in step for y in step)
    # and the bound is no idle one: just inside it the keys go in
    assert keys_go_in(guide, slots, 0.95 * bound, (0.0, 0.0))


def test_without_keys_the_same_plates_turn_freely():
    """The keys do it: the fin slots alone let the plates turn several times further."""
    guide = guide_for(fin_can(rocket(3)), Choices())
    bound = twist_bound_rad(guide.clearance_m, guide.key_radius_m)
    # a fin of the true thickness, leaned in the slots of both plates at the root
    free = guide.clearance_m / guide.seat_radius_m
    assert free > 2.5 * bound


def test_cant_bound_is_the_steepest_fin_that_fits_both_slots():
    guide = guide_for(fin_can(rocket(3)), Choices())
    good = alignment_of(guide, 0.0)
    arm, half = guide.centroid_radius_m, guide.clearance_m / 2
    offsets = np.linspace(-half, half, 41)
    turned = np.linspace(-good.twist_bound_rad, good.twist_bound_rad, 41)
    cant = max(abs(a - (b + t * arm)) for a in offsets for b in offsets for t in turned)
    assert cant / guide.apart_m == pytest.approx(good.fin_bound_rad, rel=1e-9)
    assert good.single_sigma_rad < good.fin_bound_rad


def test_loose_plates_are_worse_than_a_stack_and_clearance_worse_than_none():
    guide = guide_for(fin_can(rocket(3)), Choices())
    stacked, loose = alignment_of(guide, 2e-4), alignment_of(guide, 2e-4, stacked=False)
    assert stacked.alignment_rad < loose.alignment_rad
    tight = replace(guide, clearance_m=0.0)
    assert alignment_of(tight, 0.0).alignment_rad == 0.0
    assert degrees(stacked.alignment_rad) < 0.5  # better than set by hand


def test_fin_and_key_go_into_the_plate_with_the_clearance_asked_for():
    can, choices = fin_can(rocket(3)), Choices(clearance_m=0.0003)
    guide = guide_for(can, choices)
    plate = plate_area(guide)
    fin = can.fins
    inner, outer = fin.body_radius_m, fin.body_radius_m + can.span_m
    for angle in directions(3):
        flat = shapely.box(inner, -fin.thickness_m / 2, outer, fin.thickness_m / 2)
        placed = rotate(flat, angle, origin=(0, 0), use_radians=True)
        assert plate.intersection(placed).area == 0.0
        assert plate.distance(placed) == pytest.approx(0.00015, abs=1e-9)
    body = shapely.Point(0, 0).buffer(fin.body_radius_m, quad_segs=64)
    assert plate.distance(body) == pytest.approx(0.00015, abs=1e-5)


def test_key_length_is_between_the_plates():
    can = fin_can(rocket(3))
    guide = guide_for(can, Choices())
    key = next(t for t in guide_templates(can, Choices()) if t.key == "guide-key")
    outline = next(s for s in key.shapes if isinstance(s, Line) and s.layer == "cut")
    shoulders = sorted({x for x, y in outline.points_m if abs(y) > guide.tab_m / 2 + 1e-6})
    assert shoulders[-1] - shoulders[0] == pytest.approx(guide.apart_m - guide.plate_m)


def test_long_roots_get_a_middle_plate_that_lets_the_keys_through():
    stations = plate_stations((1.0, 1.4), 0.004)
    assert len(stations) == 3
    assert stations[1] == pytest.approx(1.2)
    guide = guide_for(fin_can(rocket(3)), Choices())
    assert key_slots(guide, True)[0].area > key_slots(guide)[0].area


def test_no_room_is_said_plainly():
    with pytest.raises(DoesNotFitError, match="two plates"):
        plate_stations((1.0, 1.03), 0.006)
    with pytest.raises(DoesNotFitError, match="Use the printed guide"):
        small = fin_can(rocket(8, 0.03))
        guide_for(
            replace(
                small,
                fins=replace(
                    small.fins, outline_m=((0, 0), (0.02, 0.015), (0.1, 0.015), (0.15, 0))
                ),
            ),
            Choices(),
        )
    with pytest.raises(ValueError, match="less than a millimetre"):
        twist_bound_rad(0.1, 0.1)
    with pytest.raises(DoesNotFitError, match="needs a motor tube"):
        guide_for(fin_can(rocket()), Choices(seat="motor_tube"))


def test_cutter_lines_give_back_the_drawn_size():
    """A beam of width k on the moved line takes the outline back to where it was drawn."""
    can = fin_can(rocket(3))
    plate = guide_templates(can, Choices())[0]
    moved = for_cutter(plate, 0.0002)
    drawn = solid_area(plate)
    left = solid_area(moved).buffer(-0.0001)
    assert left.symmetric_difference(drawn).area < 1e-9
    bores = [
        area(s.points_m).area for s in plate.shapes if isinstance(s, Line) and s.layer == "bore"
    ]
    cut = [area(s.points_m).area for s in moved.shapes if isinstance(s, Line) and s.layer == "bore"]
    assert all(b < a for a, b in zip(bores, cut, strict=True))


def test_measured_cants_take_the_place_of_the_guide():
    mean, sigma = measured_alignment(tuple(radians(x) for x in (0.3, 0.1, -0.1)))
    assert degrees(mean) == pytest.approx(0.1)
    assert degrees(sigma) == pytest.approx(0.1, abs=0.01)


trimesh = pytest.importorskip("trimesh")


def printed(count=3, **parts):
    base = rocket(count, 0.079)
    made = p.Rocket("r", (*base.parts, *parts.values()))
    can = fin_can(made)
    return can, printed_guide(can, Choices())


@pytest.mark.parametrize("count", [3, 4])
def test_printed_guide_is_watertight_and_has_the_drawn_sizes(count):
    """Independent library: trimesh reads STL and 3MF back."""
    _, guide = printed(count)
    mesh = mesh_of("fin guide", guide.prisms)
    solid = trimesh.load(io.BytesIO(stl([mesh])), file_type="stl")
    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert solid.body_count == 1
    assert solid.volume > 0
    assert solid.extents[2] == pytest.approx(1e3 * max(x.high_m for x in guide.prisms), abs=1e-3)
    joined = shapely.union_all([x.figure for x in guide.prisms])
    b = joined.bounds
    assert solid.extents[0] == pytest.approx(1e3 * (b[2] - b[0]), abs=0.01)
    assert solid.extents[1] == pytest.approx(1e3 * (b[3] - b[1]), abs=0.01)
    again = read_3mf(three_mf([mesh]))
    assert again.is_watertight
    assert again.volume == pytest.approx(solid.volume, rel=1e-5)


def read_3mf(package):
    """The first object of a 3MF package, read by the open specification's element names."""
    with zipfile.ZipFile(io.BytesIO(package)) as parts:
        root = ElementTree.fromstring(parts.read("3D/3dmodel.model"))
    assert root.get("unit") == "millimeter"
    space = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    corners = [[float(v.get(k)) for k in "xyz"] for v in root.iter(f"{space}vertex")]
    faces = [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in root.iter(f"{space}triangle")]
    return trimesh.Trimesh(corners, faces)


def test_printed_guide_has_no_twist_between_any_two_heights():
    _, guide = printed(3)
    mesh = mesh_of("fin guide", guide.prisms)
    low, high = mesh.vertices_mm[:, 2].min() + 12.0, mesh.vertices_mm[:, 2].max() - 1.0
    solid = trimesh.Trimesh(mesh.vertices_mm, mesh.triangles, process=False)
    bounds = [solid.section([0, 0, 1], [0, 0, z]).bounds[:, :2] for z in (low, high)]
    assert np.allclose(bounds[0], bounds[1], atol=1e-3)
    assert degrees(guide.fin_bound_rad) < 0.15


def test_ring_sits_on_the_motor_tube_when_the_roots_end_at_the_tail():
    base = rocket(3, 0.079)
    fins = replace(next(x for x in base.parts if isinstance(x, p.Fins)), station_m=0.809)
    motor = p.MotorTube(
        "motor tube", 0.7, length_m=0.26, outer_diameter_m=0.041, inner_diameter_m=0.0384
    )
    tube = next(x for x in base.parts if isinstance(x, p.Tube))
    can = fin_can(p.Rocket("r", (tube, fins, motor)))
    guide = printed_guide(can, Choices())
    assert guide.seat == "motor tube, 41.0 mm"
    assert guide.prisms[0].figure.interiors


def test_a_piece_in_two_parts_is_refused():
    _, guide = printed(3)
    with pytest.raises(ValueError, match="parts instead of one"):
        mesh_of("walls alone", guide.prisms[1:])
