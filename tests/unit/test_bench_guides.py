"""Fin guides: the bound of twist proven on the drawn plates, fits, alignment, the printed piece."""

import io
import re
import zipfile
from dataclasses import replace
from math import atan2, cos, degrees, pi, radians, sin
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate, translate

from bench_rocket import can_of, rocket
from goodflight.outputs.bench.mesh import mesh_of, stl, three_mf
from goodflight.physics.structure import (
    KeyedPlates,
    guided_cant_rad,
    guided_spread_rad,
    key_turn_rad,
)
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle import rail_guide_angle_rad
from goodflight.physics.vehicle.parts import FinEdges
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.bench.choices import Choices, Stock
from goodflight.studies.bench.guide_parts import (
    directions,
    for_cutter,
    guide_templates,
    key_slots,
    plate_area,
)
from goodflight.studies.bench.guide_print import PrintedGuide, printed_guide
from goodflight.studies.bench.guides import Guide, alignment_of, guide_for, measured_alignment
from goodflight.studies.bench.outlines import ring_template
from goodflight.studies.bench.places import FinCan
from goodflight.studies.bench.planes import area, solid_area
from goodflight.studies.bench.shapes import Circle, DoesNotFitError, Line
from goodflight.studies.bench.steps import steps_of
from goodflight.studies.bench.wrap import fin_wrap
from goodflight.studies.levers import LEVERS
from sample_case import sample_case, within


def holds(room: Any, long_m: float, thick_m: float, direction_rad: float) -> bool:
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


def keys_go_in(
    guide: Guide, slots: list[Any], turn_rad: float, shift_m: tuple[float, float]
) -> bool:
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
def test_no_twist_beyond_the_bound_fits_the_keys_whatever_the_shift(
    count: int, clearance_m: float
) -> None:
    """Proof on the plates as drawn: their own key slots, turned and shifted against each other."""
    guide = guide_for(can_of(rocket(count)), Choices(clearance_m=clearance_m))
    holes = [area(hole.coords) for hole in plate_area(guide).interiors]
    slots = [
        min(holes, key=lambda s: s.centroid.distance(want.centroid)) for want in key_slots(guide)
    ]
    bound = key_turn_rad(clearance_m, guide.key_radius_m)
    step = np.linspace(-1.5 * clearance_m, 1.5 * clearance_m, 7)
    for turn in (1.01 * bound, -1.01 * bound, 2 * bound):
        assert not any(keys_go_in(guide, slots, turn, (x, y)) for x in step for y in step)
    # and the bound is no idle one: just inside it the keys go in
    assert keys_go_in(guide, slots, 0.95 * bound, (0.0, 0.0))


def test_without_keys_the_same_plates_turn_freely() -> None:
    """The keys do it: the fin slots alone let the plates turn several times further."""
    guide = guide_for(can_of(rocket(3)), Choices())
    bound = guide.turn_bound_rad
    # a fin of the true thickness, leaned in the slots of both plates at the root
    free = guide.clearance_m / guide.seat_radius_m
    assert free > 2.5 * bound


def test_cant_bound_is_the_steepest_flat_fin_that_both_slots_hold() -> None:
    """Every place, lean and turn on a grid: each corner of what is held lies within its slot."""
    guide = guide_for(can_of(rocket(3)), Choices())
    bound, half = alignment_of(guide, 0.0).fin_bound_rad, guide.clearance_m / 2
    low, high = (guide.body_radius_m + x for x in guide.pair.both_m)
    aft = np.linspace(-half, half, 81)  # offset at the low corner of the aft plate, from its slot
    lean = np.linspace(-half, half, 41) * 2 / (high - low)
    turn = np.linspace(-1.0, 1.0, 21) * guide.turn_bound_rad
    cant = np.linspace(0.0, 1.1, 111)[:, None, None, None] * bound
    at_low = aft[None, :, None, None]
    over = high - low
    leaned, turned = lean[None, None, :, None], turn[None, None, None, :]
    fits = (abs(at_low) <= half) & (abs(at_low + (leaned - turned) * over) <= half)
    fore = at_low + turned * low - cant * guide.apart_m
    fits = fits & (abs(fore) <= half) & (abs(fore + leaned * over) <= half)
    steepest = cant[:, 0, 0, 0][fits.any(axis=(1, 2, 3))].max()
    assert 0.9 * bound < steepest <= 1.0000001 * bound


def test_spread_of_the_cant_against_many_drawn_guides() -> None:
    """Drawn: both slots' play, the turn by play and by the keys' cut, each as the formula says."""
    rng = np.random.default_rng(5)
    count, play, turn, key, at, apart, cut = 4, 3e-4, 2e-3, 0.1, 0.06, 0.12, 2e-4
    many = 40_000
    slots = rng.uniform(-play / 2, play / 2, (2, many, count))
    turned = rng.uniform(-turn, turn, many) + rng.normal(0, cut, (many, count)).mean(axis=1) / key
    single, common = guided_spread_rad(KeyedPlates(count, key, apart, cut), play, turn, at)
    assert np.std((slots[0] - slots[1]) / apart) == pytest.approx(single, rel=0.02)
    assert np.std(turned * at / apart) == pytest.approx(common, rel=0.02)
    assert guided_cant_rad(play, turn, at, apart) == pytest.approx(3.5e-3)  # (0.3 + 2e-3 60) / 120


def test_loose_plates_are_worse_than_a_stack_and_clearance_worse_than_none() -> None:
    guide = guide_for(can_of(rocket(3)), Choices())
    stacked, loose = alignment_of(guide, 2e-4), alignment_of(guide, 2e-4, stacked=False)
    assert stacked.alignment_rad < loose.alignment_rad
    tight = replace(guide, clearance_m=0.0)
    assert alignment_of(tight, 0.0).alignment_rad == 0.0
    assert degrees(stacked.alignment_rad) < 0.5  # better than set by hand


def test_fin_and_key_go_into_the_plate_with_the_clearance_asked_for() -> None:
    can, choices = can_of(rocket(3)), Choices(clearance_m=0.0003)
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


def test_key_length_is_between_the_plates() -> None:
    can = can_of(rocket(3))
    guide = guide_for(can, Choices())
    key = next(t for t in guide_templates(can, Choices()) if t.key == "guide-key")
    outline = next(s for s in key.shapes if isinstance(s, Line) and s.layer == "cut")
    shoulders = sorted({x for x, y in outline.points_m if abs(y) > guide.tab_m / 2 + 1e-6})
    assert shoulders[-1] - shoulders[0] == pytest.approx(guide.apart_m - guide.plate_m)


def with_fins(count: int = 4, diameter_m: float = 0.0792, **changed) -> FinCan:
    """The made-up rocket with other fins, as long a tube as they need."""
    base = rocket(count, diameter_m)
    fins = replace(next(x for x in base.parts if isinstance(x, p.Fins)), **changed)
    tube = next(x for x in base.parts if isinstance(x, p.Tube))
    long = max(aft for aft, out in fins.outline_m if out == 0.0) + 0.61
    others = [x for x in base.parts if isinstance(x, p.Nose)]
    can = can_of(p.Rocket("r", (*others, replace(tube, length_m=long), fins)))
    assert can is not None
    return can


def test_bore_is_that_of_the_tube_as_measured_round() -> None:
    """By hand: 250.0 mm with a strip of 0.1 mm is 79.477 mm across, as for the wraps."""
    measured = Choices(circumference_m=0.2500)
    can = with_fins(3, 0.079)
    assert guide_for(can, measured).bore_m == pytest.approx(0.079477 + 0.0002, abs=1e-6)
    assert printed_guide(can, measured).seat == "body, 79.5 mm"
    assert guide_for(can, Choices()).bore_m == pytest.approx(0.0792)


def test_a_guide_on_the_motor_tube_holds_the_tab_and_the_fin_above_it() -> None:
    motor = p.MotorTube(
        "motor tube", 0.7, length_m=0.26, outer_diameter_m=0.041, inner_diameter_m=0.0384
    )
    can = can_of(p.Rocket("r", (*rocket(3, 0.079).parts, motor)))
    guide = guide_for(can, Choices(seat="motor_tube"))
    assert guide.bore_m == pytest.approx(0.0412)
    low, high = guide.pair.both_m
    assert (low, high > 0.0) == (pytest.approx(0.0205 + 0.006 - 0.0395, abs=1e-6), True)
    sketch = guide_templates(can, Choices(seat="motor_tube"))[-1]
    assert "before ring and retainer behind the tabs are on" in str(sketch.notes[-1])


def test_long_roots_get_a_middle_plate_that_lets_the_keys_through() -> None:
    can = with_fins(3, outline_m=((0, 0), (0.05, 0.08), (0.35, 0.08), (0.4, 0)))
    guide = guide_for(can, Choices())
    assert len(guide.stations_m) == 3
    assert guide.stations_m[1] == pytest.approx((guide.stations_m[0] + guide.stations_m[2]) / 2)
    assert key_slots(guide, True)[0].area > key_slots(guide)[0].area
    names = [t.key for t in guide_templates(can, Choices())]
    assert names == ["guide-plate", "guide-middle", "guide-key", "guide-assembly"]


SWEPT = ((0.0, 0.0), (0.11, 0.07), (0.16, 0.07), (0.12, 0.0))


def test_swept_bevelled_fins_are_held_behind_their_leading_edge() -> None:
    """By hand: at 18 mm the leading edge is 28 mm aft of the root's front, its bevel ends 15 mm
    behind that; a plate 5 mm behind the root's front held nothing there."""
    can = with_fins(4, 0.066, outline_m=SWEPT, bevel_m=0.008, fillet_radius_m=0.008)
    guide = guide_for(can, Choices())
    low, high = guide.pair.both_m
    assert low == pytest.approx(0.0115, abs=1e-6)  # fillet 8, half the fin 2, free 1.5 mm
    edge = 0.11 / 0.07 * high + 0.008 * np.hypot(1.0, 0.11 / 0.07)  # where the flat begins
    front = guide.pair.fore.station_m - guide.plate_m / 2 - can.root_m[0]
    assert front == pytest.approx(edge + 0.002, abs=1e-6)
    assert guide.apart_m < 0.06
    assert degrees(alignment_of(guide, 2e-4).alignment_rad) > 0.15


def test_no_good_guide_is_said_with_what_to_do_and_promises_nothing() -> None:
    cases = (
        (dict(edges="faired"), {}, "no flat for a slot"),
        (dict(bevel_m=0.06), {}, "Glue the fins on before their edges"),
        (dict(outline_m=((0, 0), (0.01, 0.08), (0.03, 0.08), (0.03, 0))), {}, "thinner sheet"),
        (dict(outline_m=SWEPT, bevel_m=0.004), dict(cut_error_m=0.0015), "no straighter than by"),
    )
    for fins, choices, words in cases:
        with pytest.raises(DoesNotFitError, match=words) as refused:
            guide_for(with_fins(**fins), Choices(**choices))
        assert "measured_cant" in str(refused.value)
        assert not re.search(r"write alignment", str(refused.value))


@pytest.mark.parametrize(("edges", "offered"), [("rounded", True), ("faired", False)])
def test_setting_the_fins_in_a_guide_is_offered_only_where_a_guide_holds_them(
    edges: FinEdges, offered: bool
) -> None:
    case = within(sample_case(), "uncertainty", cant_sigma_rad=radians(0.5))
    shaped = [replace(x, edges=edges) if isinstance(x, p.Fins) else x for x in case.rocket.parts]
    case = replace(case, rocket=replace(case.rocket, parts=tuple(shaped)))
    lever = next(each for each in LEVERS if each.key == "alignment")
    assert (lever.offer(case, case) is not None) is offered


def test_steps_name_the_guide_that_holds_the_fins_and_none_where_none_does() -> None:
    """Six fins of 20 mm leave no room for keys, but for the print; faired fins leave none."""
    files = demo_files()
    text = files["rocket.toml"]
    low = text.replace("count = 3", "count = 6", 1).replace('span = "80 mm"', 'span = "20 mm"')
    cases = (
        (text, "in the guide", "Cut fins, rings and the fin guide"),
        (low, "in the printed guide", "Cut fins and rings"),
        (text.replace('"rounded"', '"faired"'), "by a straight edge", "Cut fins and rings"),
    )
    for rocket_toml, words, cut in cases:
        made = steps_of(read_project({**files, "rocket.toml": rocket_toml}))
        titles = {step.key: step.title for step in made}
        assert titles["fins-on"].endswith(words)
        assert titles["cut-flat"] == cut


def test_no_room_is_said_plainly() -> None:
    with pytest.raises(DoesNotFitError, match="Use the printed guide"):
        low = ((0, 0), (0.02, 0.015), (0.1, 0.015), (0.15, 0))
        guide_for(with_fins(8, 0.03, outline_m=low), Choices())
    with pytest.raises(ValueError, match="less than a millimetre"):
        key_turn_rad(0.1, 0.1)
    with pytest.raises(DoesNotFitError, match="needs a motor tube"):
        guide_for(can_of(rocket()), Choices(seat="motor_tube"))
    with pytest.raises(DoesNotFitError, match="leave no seat"):
        guide_for(with_fins(6, 0.05, fillet_radius_m=0.012), Choices())
    with pytest.raises(DoesNotFitError, match="cut the printed guide into pieces"):
        low = ((0, 0), (0.2, 0.0176), (0.4, 0.0176), (0.36, 0))
        crowded = with_fins(8, 0.030, outline_m=low, thickness_m=0.0068, edges="blunt")
        buttons = p.Buttons("guides", 0.3, aft_station_m=0.95)
        printed_guide(replace(crowded, buttons=buttons), Choices())
    tail = p.Transition("tail", 0.96, length_m=0.05, fore_diameter_m=0.079, aft_diameter_m=0.09)
    flared = can_of(p.Rocket("r", (*rocket(3, 0.079).parts, tail)))
    for make in (guide_for, printed_guide):
        with pytest.raises(DoesNotFitError, match="wider behind the fins"):
            make(flared, Choices())


def test_a_plate_too_large_for_the_sheet_is_drawn_in_between_the_fins() -> None:
    outline = ((0, 0), (0.1, 0.13), (0.19, 0.13), (0.2, 0))
    can = with_fins(4, 0.1016, outline_m=outline, edges="rounded")
    guide = guide_for(can, Choices())
    assert guide.trimmed
    plate = guide_templates(can, Choices())[0]
    assert min(plate.bounds.width_m, plate.bounds.height_m) < 0.290 < 2 * guide.plate_radius_m
    inside = plate_area(guide)
    assert all(inside.convex_hull.buffer(-0.005).contains(slot) for slot in key_slots(guide))
    large = Choices(stock=(Stock("large", "", 0.0, 0.6, 0.6),))
    assert not guide_for(can, large).trimmed


def test_cutter_lines_give_back_the_drawn_size() -> None:
    """A beam of width k on the moved line takes the outline back to where it was drawn."""
    can = can_of(rocket(3))
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


def test_measured_cants_take_the_place_of_the_guide() -> None:
    mean, sigma = measured_alignment(tuple(radians(x) for x in (0.3, 0.1, -0.1)))
    assert degrees(mean) == pytest.approx(0.1)
    assert degrees(sigma) == pytest.approx(0.1, abs=0.01)


@pytest.mark.parametrize(("count", "phase_rad"), [(3, 0.0), (4, 0.0), (4, pi / 4), (5, 0.4)])
def test_rail_guides_stand_in_one_gap_on_wrap_plate_ring_and_drawing(
    count: int, phase_rad: float
) -> None:
    """The notch of the plate, the hole and line of the wrap, the holes of the ring: one direction
    from fin 1, that of the drawing, midway between two fins and opposite to fin 1 as near as can
    be."""
    base = rocket(count, 0.079)
    fins = replace(next(x for x in base.parts if isinstance(x, p.Fins)), roll_phase_rad=phase_rad)
    ring = p.Ring("ring", 0.85, thickness_m=0.004, outer_diameter_m=0.076, inner_diameter_m=0.042)
    anchor = p.AddedMass("eye", 0.845, role="eyebolt")
    buttons = p.Buttons("guides", 0.5, aft_station_m=0.94)
    others = [x for x in base.parts if not isinstance(x, p.Fins)]
    made = p.Rocket("r", (*others, fins, ring, anchor, buttons))
    can = can_of(made)
    drawn = (rail_guide_angle_rad([fins]) - phase_rad) % (2 * pi)  # what the drawing turns to
    assert can.button_angle_rad == pytest.approx(drawn)
    gaps = drawn * count / (2 * pi)
    assert gaps % 1.0 == pytest.approx(0.5)

    guide = guide_for(can, Choices())
    notch = shapely.Point(0, 0).buffer(guide.seat_radius_m + 0.004)
    notch = notch.difference(plate_area(guide)).difference(shapely.Point(0, 0).buffer(0.0396))
    notch = max(notch.geoms, key=lambda piece: piece.area)  # wider than a fillet cut-out
    assert direction(notch.centroid.x, notch.centroid.y) == pytest.approx(drawn, abs=1e-6)

    wrap = fin_wrap(made, Choices())
    around = dict(wrap.sizes)["circumference"]
    hole = next(x for x in wrap.shapes if isinstance(x, Circle))
    assert hole.centre_m[0] / around * 2 * pi == pytest.approx(drawn)

    holes = [x for x in ring_template(ring, made, can, Choices()).shapes if isinstance(x, Circle)]
    (eye,) = [x for x in holes if x.centre_m != (0.0, 0.0)]
    assert direction(*eye.centre_m) == pytest.approx(drawn, abs=1e-9)


def direction(x: float, y: float) -> float:
    """From fin 1, which points up; counter-clockwise on paper, which shows the front side."""
    return (atan2(y, x) - pi / 2) % (2 * pi)


trimesh = pytest.importorskip("trimesh")


def printed(count: int = 3, **parts) -> tuple[FinCan, PrintedGuide]:
    base = rocket(count, 0.079)
    made = p.Rocket("r", (*base.parts, *parts.values()))
    can = can_of(made)
    assert can is not None
    return can, printed_guide(can, Choices())


@pytest.mark.parametrize("count", [3, 4])
def test_printed_guide_is_watertight_and_has_the_drawn_sizes(count: int) -> None:
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


def read_3mf(package: bytes) -> Any:
    """The first object of a 3MF package, read by the open specification's element names."""
    with zipfile.ZipFile(io.BytesIO(package)) as parts:
        root = ElementTree.fromstring(parts.read("3D/3dmodel.model"))
    assert root.get("unit") == "millimeter"
    space = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    corners = [[float(v.attrib[k]) for k in "xyz"] for v in root.iter(f"{space}vertex")]
    faces = [[int(t.attrib[k]) for k in ("v1", "v2", "v3")] for t in root.iter(f"{space}triangle")]
    return trimesh.Trimesh(corners, faces)


def test_printed_guide_has_no_twist_between_any_two_heights() -> None:
    _, guide = printed(3)
    mesh = mesh_of("fin guide", guide.prisms)
    low, high = mesh.vertices_mm[:, 2].min() + 12.0, mesh.vertices_mm[:, 2].max() - 1.0
    solid = trimesh.Trimesh(mesh.vertices_mm, mesh.triangles, process=False)
    bounds = [solid.section([0, 0, 1], [0, 0, z]).bounds[:, :2] for z in (low, high)]
    assert np.allclose(bounds[0], bounds[1], atol=1e-3)
    assert degrees(guide.fin_bound_rad) < 0.15


def test_ring_lies_behind_the_tail_when_the_roots_end_there() -> None:
    """It hangs on the walls, which sit on the body: nothing is needed behind the tail."""
    guide = printed_guide(
        with_fins(3, outline_m=((0, 0), (0.05, 0.08), (0.1, 0.08), (0.16, 0))), Choices()
    )
    can = with_fins(3)
    tail = can.tube.station_m + can.tube.length_m
    assert printed_guide(can, Choices()).rear_m <= tail < guide.rear_m + 1e-3
    assert guide.seat == "body, 79.2 mm"


def test_a_piece_in_two_parts_is_refused() -> None:
    _, guide = printed(3)
    with pytest.raises(ValueError, match="parts instead of one"):
        mesh_of("walls alone", guide.prisms[1:])
