"""Outlines and wraps: sizes by hand, eye bolts clear of walls, refusals."""

import math
from dataclasses import replace
from math import hypot, pi

import pytest

from bench_rocket import INCH, can_of, rocket
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.vents import vent_angles_rad
from goodflight.project import ProjectErrors, read_project
from goodflight.project.demo import demo_files
from goodflight.quantity.said import placed
from goodflight.studies.bench.anchors import eye_place
from goodflight.studies.bench.choices import Choices, Hole, choices_of
from goodflight.studies.bench.facing import facing_rail
from goodflight.studies.bench.outlines import fin_template, outlines
from goodflight.studies.bench.planes import solid_area
from goodflight.studies.bench.sets import guide_set, template_set
from goodflight.studies.bench.shapes import (
    Circle,
    DoesNotFitError,
    Line,
    Template,
    arc,
    sides_of_circle,
)
from goodflight.studies.bench.wrap import (
    diameter_from_m,
    fin_wrap,
    hole_wraps,
    holes_of,
    wrap_length_m,
)


def lines(template: Template, layer: str) -> list[Line]:
    return [s for s in template.shapes if isinstance(s, Line) and s.layer == layer]


def test_fin_outline_area_is_panel_plus_tab() -> None:
    """Derived by hand: trapezoid (0.15 + 0.05) / 2 x 0.08 and tab 0.10 x 0.02."""
    template = fin_template(can_of(rocket()))
    assert solid_area(template).area == pytest.approx(0.008 + 0.002, rel=1e-12)
    assert len(lines(template, "cut")[0].points_m) == 8
    assert template.count == 4
    assert template.grain


def test_bevel_line_runs_parallel_to_the_free_edges() -> None:
    bevel = lines(fin_template(can_of(rocket())), "bevel")
    assert len(bevel) == 1
    tip = [point for point in bevel[0].points_m if point[1] > 0.06]
    assert {round(y, 9) for _, y in tip} == {0.072}  # 8 mm in from a tip at 80 mm
    (x0, y0) = bevel[0].points_m[0]
    # distance from the leading edge, the line from (0, 0) to (0.05, 0.08)
    away = abs(0.08 * x0 - 0.05 * y0) / hypot(0.05, 0.08)
    assert away == pytest.approx(0.008, abs=1e-9)


def test_four_fins_on_a_four_inch_tube_stand_pi_inches_apart() -> None:
    """Common practice, no source: pi D / N. Paper without thickness makes it exact."""
    template = fin_wrap(rocket(), Choices(paper_m=0.0))
    assert template is not None
    assert dict(template.sizes)["fin to fin"] == pytest.approx(pi * INCH, rel=1e-12)
    marks = sorted(
        {
            round(line.points_m[0][0], 9)
            for line in lines(template, "mark")
            if line.points_m[0][0] == line.points_m[1][0]
        }
    )
    assert marks == [pytest.approx(k * pi * INCH, abs=1e-9) for k in range(5)]


def test_paper_lengthens_the_wrap_by_pi_times_its_thickness() -> None:
    assert wrap_length_m(0.079, 1e-4) - wrap_length_m(0.079, 0.0) == pytest.approx(pi * 1e-4)


def test_wrap_from_a_strip_of_the_same_paper_is_as_long_as_the_strip() -> None:
    diameter = diameter_from_m(0.2490, 1e-4)
    assert wrap_length_m(diameter, 1e-4) == pytest.approx(0.2490, rel=1e-12)
    with pytest.raises(ValueError, match="give the reading of the tape in full"):
        diameter_from_m(1e-4, 1e-3)


def test_measured_circumference_sets_the_wrap() -> None:
    template = fin_wrap(rocket(), Choices(circumference_m=0.3200))
    assert template is not None
    assert dict(template.sizes)["circumference"] == pytest.approx(0.3200)


def test_a_tube_of_another_diameter_has_its_own_wrap() -> None:
    """Only the tube that was measured, and one as thick, takes the measured circumference."""
    body = rocket(diameter_m=0.066)
    upper = p.Tube("upper", 0.0, length_m=0.2, outer_diameter_m=0.079, inner_diameter_m=0.076)
    made = p.Rocket("two tubes", (upper, *body.parts[1:]))
    holes = (Hole("port", 0.10, 0.0, 0.004), Hole("vent", 0.50, 0.0, 0.004))
    choices = Choices(circumference_m=0.2080, paper_m=0.0, holes=holes)
    around = {t.title: dict(t.sizes)["circumference"] for t in hole_wraps(made, choices)}
    assert around["Wrap for holes in upper"] == pytest.approx(pi * 0.079)
    assert around["Wrap for holes in tube"] == pytest.approx(0.2080 - pi * choices.tape_m)


def test_eye_bolt_is_clear_of_wall_and_motor_tube() -> None:
    place = eye_place(0.0206, 0.0380, washer_m=0.010, eye_m=0.018)
    assert place.wall_gap_m >= 0.0005
    assert place.tube_gap_m >= 0.0005
    near_axis = eye_place(0.0206, 0.0380, washer_m=0.008, eye_m=0.0245)
    assert near_axis.radius_m < (0.0206 + 0.0380) / 2  # moved in, away from the wall
    with pytest.raises(DoesNotFitError, match="take a smaller bolt or a U-bolt"):
        eye_place(0.0206, 0.0300, washer_m=0.012, eye_m=0.020)


def test_ring_is_notched_only_where_a_tab_passes() -> None:
    ring = p.Ring("r", 0.85, thickness_m=0.004, outer_diameter_m=0.098, inner_diameter_m=0.04)
    free = p.Ring("f", 0.70, thickness_m=0.004, outer_diameter_m=0.098, inner_diameter_m=0.04)
    base = rocket()
    made = p.Rocket("r", (*base.parts, ring, free))
    by_key = {t.key: t for t in outlines(made, Choices())}
    notches = [line for line in lines(by_key["ring-r"], "cut") if not line.closed]
    assert len(notches) == 4
    for notch in notches:  # one cut each, from the ring's edge in and out again
        assert hypot(*notch.points_m[0]) == pytest.approx(0.049)
        assert hypot(*notch.points_m[-1]) == pytest.approx(0.049)
    assert [line for line in lines(by_key["ring-f"], "cut") if not line.closed] == []


def test_circles_stray_less_than_the_chord() -> None:
    count = sides_of_circle(0.04)
    points = arc((0.0, 0.0), 0.04, 0.0, 2 * pi)
    middle = ((points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2)
    assert 0.04 - hypot(*middle) < 5e-6
    assert len(points) == count + 1


def test_demo_templates_cover_all_flat_parts_and_tubes() -> None:
    project = read_project(demo_files())
    keys = [t.key for t in template_set(project).templates]
    for wanted in ("fin-fins", "slot", "ring-forward ring", "sled", "wrap-fins", "line-aid",
                   "strip-main tube"):  # fmt: skip
        assert wanted in keys
    forward = next(t for t in template_set(project).templates if t.key == "ring-forward ring")
    holes = [s for s in forward.shapes if isinstance(s, Circle) and s.layer == "bore"]
    assert len(holes) == 3  # motor tube and both legs of the U-bolt


def test_own_holes_and_hatch_come_from_build_toml() -> None:
    files = demo_files()
    files["build.toml"] = (
        '[bench]\nkerf = "0.15 mm"\n[[bench.hole]]\nname = "camera"\nstation = "350 mm"\n'
        'angle = "60 deg"\ndiameter = "12 mm"\n[[bench.hole]]\nname = "hatch"\n'
        'station = "640 mm"\nwidth = "40 mm"\nlength = "60 mm"\ncorner = "4 mm"\n'
    )
    project = read_project(files)
    choices = choices_of(project)
    assert choices.kerf_m == pytest.approx(0.00015)
    names = {
        s.text
        for t in hole_wraps(project.rocket(), choices)
        for s in t.shapes
        if hasattr(s, "text")
    }
    assert {"camera", "hatch"} <= names


def test_a_hole_without_size_is_refused_with_its_place() -> None:
    files = demo_files()
    files["build.toml"] = '[[bench.hole]]\nname = "camera"\nstation = "350 mm"\n'
    with pytest.raises(ProjectErrors, match="expected a diameter, or a width and a length"):
        choices_of(read_project(files))
    files["build.toml"] = '[bench]\nkerf = "2 kg"\n'
    with pytest.raises(ProjectErrors, match=r"build.toml:2: bench.kerf"):
        choices_of(read_project(files))


def test_measured_cants_say_what_to_write() -> None:
    files = demo_files()
    files["build.toml"] = '[bench]\nmeasured_cant = ["0.3 deg", "0.1 deg", "-0.1 deg"]\n'
    notes = guide_set(read_project(files)).notes
    assert 'cant = "0.10 deg"' in notes[0]
    files["rocket.toml"] = files["rocket.toml"].replace('edges = "rounded"', 'edges = "faired"')
    with pytest.raises(DoesNotFitError, match=r'no flat for a slot.*write cant = "0\.10 deg"'):
        guide_set(read_project(files))


@pytest.mark.parametrize("fins", [3, 4, 5, 6])
@pytest.mark.parametrize("vents", [1, 2, 3, 4, 5, 6])
def test_no_vent_faces_the_rail(fins: int, vents: int) -> None:
    """By hand: the line of the guides midway between two of n vents is 180/n degrees off both."""
    bay = p.Bay(
        "b", 0.3, length_m=0.1, inner_diameter_m=0.09, vent_count=vents, vent_diameter_m=0.003
    )
    made = rocket(fins)
    made = replace(made, parts=(*made.parts, p.Buttons("guides", 0.5, aft_station_m=0.9), bay))
    rail = can_of(made).button_angle_rad
    angles = [hole.angle_rad for hole in holes_of(made, Choices())]
    off = [abs((angle - rail + math.pi) % math.tau - math.pi) for angle in angles]
    assert len(angles) == vents
    assert min(off) == pytest.approx(math.pi / vents)
    told = next(t for t in hole_wraps(made, Choices())).notes[1]
    assert f"{180 / vents:.0f} deg or more off" in told


def test_a_hole_of_the_builders_own_that_faces_the_rail_is_told() -> None:
    """By hand: three fins, guides opposite to fin 1; on a tube of radius 50 mm a hole of 10 mm and
    half a rail of 30 mm reach (5 + 15) / 50 rad = 22.9 deg to either side of that line."""
    made = rocket(3)
    tube = can_of(made).tube
    wide = tuple(
        replace(part, outer_diameter_m=0.1) if part is tube else part for part in made.parts
    )
    made = replace(made, parts=(*wide, p.Buttons("guides", 0.5, aft_station_m=0.9)))

    def told(angle_deg: float) -> str:
        hole = Hole("switch", tube.station_m + 0.1, math.radians(angle_deg), 0.01)
        return " ".join(map(placed, facing_rail(made, Choices(holes=(hole,))).values()))

    assert not told(157.0) and not told(203.0) and not told(0.0)
    words = told(200.0)
    assert words.startswith("switch: at 200 deg it faces")
    assert words.endswith("(bench.hole[switch].angle in build.toml)")
    assert "turn it 23 deg or more off that line, 157 deg or 203 deg" in words
    assert told(158.0)
    hole = Hole("switch", tube.station_m + 0.1, math.pi, 0.01)
    notes = hole_wraps(made, Choices(holes=(hole,)))[0].notes
    assert any(str(note).startswith("Look again: switch: at ") for note in notes)


def test_a_vent_between_fins_keeps_clear_of_them_too() -> None:
    """By hand: four fins, guides at 135 deg; one vent opposite at 315, midway between two fins."""
    bay = p.Bay("b", 0.84, length_m=0.1, inner_diameter_m=0.09, vent_count=1, vent_diameter_m=0.003)
    made = rocket(4)
    made = replace(made, parts=(*made.parts, bay))
    assert [math.degrees(angle) for angle in vent_angles_rad(made, bay)] == pytest.approx([315.0])
