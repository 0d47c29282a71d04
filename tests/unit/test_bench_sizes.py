"""Sizes on templates: right, on a layer of their own, over nothing; papers down to A5."""

import io
from contextlib import suppress
from dataclasses import replace
from math import pi
from typing import Any

import pytest
from shapely.geometry import LineString, Point, Polygon

from bench_rocket import can_of, rocket
from goodflight.outputs.bench.dimension_lines import dimensioned, figure, lines_of
from goodflight.outputs.bench.dxf import template_dxf
from goodflight.outputs.bench.pages import pages_for
from goodflight.outputs.bench.paper import NAME_MM, OVERLAP_MM, PAPERS, check_mm, scale_from
from goodflight.outputs.bench.svg import template_svg
from goodflight.physics.vehicle import parts as p
from goodflight.project.records import Project
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guide_parts import guide_templates
from goodflight.studies.bench.guide_sizes import STEP_M, guide_slot
from goodflight.studies.bench.guides import alignment_of, guide_for
from goodflight.studies.bench.limits import coarse_m, ring_limits, slot_limits, tab_depth
from goodflight.studies.bench.outlines import fin_template, ring_template
from goodflight.studies.bench.sets import guide_set, template_set
from goodflight.studies.bench.shapes import (
    Circle,
    DoesNotFitError,
    Line,
    Template,
    TemplateSet,
    Words,
    across,
    bounds_of,
    rectangle,
    room_of,
    turned_size,
)
from goodflight.studies.bench.wrap import fin_wrap

ezdxf = pytest.importorskip("ezdxf")


def figures_on(template: Template) -> list[str]:
    """What is written on the lines of size of a template."""
    made = dimensioned(template)
    return [s.text for s in made.shapes if isinstance(s, Words) and s.layer == "dimension"]


def test_sizes_of_the_demo_are_those_of_its_files(demo: Project) -> None:
    """Figures of rocket.toml; circumference pi (79 + 0.1) = 248.50, a third of it 82.83."""
    drawn = {t.key: figures_on(t) for t in template_set(demo).templates}
    fin = ["150", "60", "70", "80", "118", "24", "19 +0.0 -0.5"]
    assert sorted(drawn["fin-fins"]) == sorted(fin)
    assert drawn["ring-middle ring"] == ["Ø75.9 +0.1 -0.5", "Ø41.2"]
    assert drawn["wrap-fins"].count("82.83") == 2
    assert drawn["wrap-fins"].count("41.42") == 2  # the rail guides' line halves a gap
    assert {"248.5", "160", "136", "18", "10"} <= set(drawn["wrap-fins"])
    assert drawn["strip-main tube"] == ["760"]
    assert sorted(drawn["slot"]) == ["118.2 +0.8 -0.2", "4.2 +0.4 -0.2"]


def test_limits_follow_from_what_goes_in(demo: Project) -> None:
    """By hand: fin of 4 mm in a slot of 4.2; ring of 75.9 in a tube of 76.0, bore 41.2 on 41.0;
    0.3 mm of glue a side. ISO 2768-1 class c, from memory: 30 to 120 mm 0.8, to 400 mm 1.2."""
    can = can_of(demo.rocket())
    long, wide = slot_limits(can, Choices())
    assert wide == pytest.approx((-0.0002, 0.0004)) and long[1] == 0.0008
    outside, bore = ring_limits(can.rings[0], can)
    assert outside == pytest.approx((-0.0005, 0.0001)) and bore == pytest.approx((-0.0002, 0.0004))
    assert coarse_m(0.1201) == 0.0012 and coarse_m(0.120) == 0.0008
    deep = replace(can, fins=replace(can.fins, tab_depth_m=0.0187))
    assert tab_depth(deep) == pytest.approx((-0.0005, 0.0003))


def test_a_guides_slots_are_as_wide_as_the_alignment_bears(demo: Project) -> None:
    """At the limit the guide holds the fins to what rocket.toml says, a step wider it does not."""
    can, usual = can_of(demo.rocket()), Choices()
    made = guide_for(can, usual)
    drawn = alignment_of(made, usual.cut_error_m).alignment_rad
    for bears in (1.4 * drawn, 1.8 * drawn, 2.2 * drawn):
        held = replace(can, fins=replace(can.fins, cant_sigma_rad=bears))
        below, above = guide_slot(made, held, usual)
        at, more = (
            alignment_of(replace(made, clearance_m=made.clearance_m + wider), usual.cut_error_m)
            for wider in (above, above + STEP_M)
        )
        assert below == -made.clearance_m and 0.0 < above < 0.0005
        assert at.alignment_rad <= bears < more.alignment_rad


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_a_size_is_written_in_the_unit_asked_for(units: str) -> None:
    """25.4 mm are one inch exactly."""
    assert figure(0.1524, units) == {"metric": "152.4", "imperial": "6.000"}[units]
    assert figure(0.0381, units) == {"metric": "38.1", "imperial": "1.500"}[units]


def test_a_size_has_two_arrowheads_that_end_on_its_points() -> None:
    """ISO 129-1, from memory: arrows inside where there is room, else outside pointing in."""
    for long, outside in ((0.050, False), (0.004, True)):
        dim = across((0.010, 0.0), (0.010 + long, 0.0), -0.007)
        drawn = list(lines_of(dim))
        heads = [s for s in drawn if isinstance(s, Line) and s.closed]
        tips = sorted(h.points_m[0] for h in heads)
        assert [x for x, _ in tips] == pytest.approx([0.010, 0.010 + long])
        assert [y for _, y in tips] == pytest.approx([-0.007, -0.007])
        backs = [sum(x for x, _ in h.points_m[1:]) / 2 - h.points_m[0][0] for h in heads]
        assert sorted(backs) == pytest.approx([-0.003, 0.003])
        first = next(b for h, b in zip(heads, backs, strict=True) if h.points_m[0][0] == 0.010)
        assert (first < 0.0) == outside
        words = next(s for s in drawn if isinstance(s, Words))
        assert words.at_m[1] > -0.007  # above its line
        assert (words.at_m[0] > 0.010 + long) == outside


@pytest.mark.parametrize("turn", [0.0, 0.3, pi / 2, 2.0, pi, 4.0, 1.5 * pi])
def test_figures_are_read_from_below_or_from_the_right(turn: float) -> None:
    words = next(
        s
        for s in lines_of(turned_size(across((0, 0), (0.05, 0), -0.007), turn))
        if isinstance(s, Words)
    )
    assert -pi / 2 < words.turn_rad <= pi / 2 + 1e-6


def drawn_over(template: Template) -> list[Any]:
    """Pairs of figures, words and outlines that lie over one another."""
    made = dimensioned(template)
    rooms = [(s.text, Polygon(room_of(s))) for s in made.shapes if isinstance(s, Words)]
    sizes = [
        x
        for x, s in zip(rooms, [s for s in made.shapes if isinstance(s, Words)], strict=True)
        if s.layer == "dimension"
    ]
    edges = []
    for shape in made.shapes:
        if isinstance(shape, Circle):
            edges.append(Point(shape.centre_m).buffer(shape.radius_m).exterior)
        elif isinstance(shape, Line) and shape.layer in ("cut", "bore"):
            points = (*shape.points_m, shape.points_m[0]) if shape.closed else shape.points_m
            edges.append(LineString(points))
    found = []
    for i, (words, room) in enumerate(sizes):
        found += [(words, other) for other, at in sizes[:i] if room.intersects(at)]
        found += [
            (words, other)
            for other, at in rooms
            if (other, at) not in sizes and room.intersects(at)
        ]
        found += [(words, "an edge") for edge in edges if room.intersects(edge)]
    return found


def test_no_size_of_the_demo_lies_over_another_a_word_or_an_edge(demo: Project) -> None:
    for template in (*template_set(demo).templates, *guide_set(demo).templates):
        assert drawn_over(template) == [], template.key


def test_no_line_of_a_strip_runs_over_a_name(demo: Project) -> None:
    """A name stands left of its own line, and no other line reaches it."""
    strips = [t for t in template_set(demo).templates if t.key.startswith("strip-")]
    assert len(strips) == 2
    for strip in strips:
        names = [Polygon(room_of(s)).buffer(-1e-5) for s in strip.shapes if isinstance(s, Words)]
        lines = [LineString(s.points_m) for s in strip.shapes if isinstance(s, Line)]
        assert not [1 for name in names for line in lines if name.intersects(line)]


def test_a_wrap_that_fits_one_sheet_on_its_side_lies_on_it() -> None:
    """Four fins on 66 mm: 207.7 + 10 mm of flap by 166 mm and its sizes; A4 has 182 x 251 mm."""
    flat = fin_wrap(rocket(4, 0.066), Choices())
    assert flat is not None
    wrap = dimensioned(flat)
    (page,) = pages_for((wrap,), "a4")
    words = [s for s in page.placed[0].shapes if isinstance(s, Words)]
    assert all(-pi / 2 - 1e-6 < s.turn_rad < pi / 2 + 1e-6 for s in words)  # none upside down


@pytest.mark.parametrize("count", [3, 4, 5, 6])
@pytest.mark.parametrize("diameter_m", [0.054, 0.0663, 0.1016])
def test_no_size_of_other_rockets_lies_over_another_or_an_edge(
    count: int, diameter_m: float
) -> None:
    """Fins swept beyond their root, tabs to a motor tube of 29 mm or so, one ring across them."""
    made = rocket(count, diameter_m)
    straight = made.parts[2]
    assert isinstance(straight, p.Fins)
    swept = tuple((x + 1.6 * y, y) for x, y in straight.outline_m)
    bore = diameter_m - 0.003
    deep = (bore - 0.030) / 2.0
    fins = replace(straight, outline_m=swept, tab_depth_m=min(deep, 0.4 * bore / 2.0))
    ring = p.Ring(
        "middle ring",
        0.85,
        thickness_m=0.004,
        outer_diameter_m=bore - 1e-4,
        inner_diameter_m=0.0302,
    )
    guides = p.Buttons("guides", 0.5, aft_station_m=0.9)
    made = replace(made, parts=(*made.parts[:2], fins, ring, guides))
    can, choices = can_of(made), Choices()
    wrap = fin_wrap(made, choices)
    assert wrap is not None
    drawn = [fin_template(can), ring_template(ring, made, can, choices), wrap]
    with suppress(DoesNotFitError):
        drawn += guide_templates(can, choices)
    for template in drawn:
        assert template.dims or template.key == "guide-assembly"
        assert drawn_over(template) == [], template.key


def test_sizes_lie_on_a_layer_of_their_own_and_change_no_line_to_cut(demo: Project) -> None:
    """Read back by ezdxf, and in the SVG."""
    of = template_set(demo)
    bare = replace(of, templates=tuple(replace(t, dims=()) for t in of.templates))

    def lines(made: TemplateSet, layer: str) -> list[Any]:
        space = ezdxf.read(io.StringIO(template_dxf(made))).modelspace()
        return [e for e in space if e.dxf.layer == layer]

    assert lines(bare, "DIMENSION") == []
    found = lines(of, "DIMENSION")
    assert "%%c75.9 +0.1 -0.5" in [e.dxf.text for e in found if e.dxftype() == "TEXT"]
    for layer in ("CUT", "BORE", "PAPER", "MARK", "BEVEL", "GRAIN", "HIDDEN", "WORDS"):
        assert len(lines(of, layer)) == len(lines(bare, layer))
    svg = template_svg(of)
    cut = svg.partition('<g id="cut"')[2].partition("</g>")[0]
    assert cut == template_svg(bare).partition('<g id="cut"')[2].partition("</g>")[0] or (
        cut.count("<path")
        == template_svg(bare).partition('<g id="cut"')[2].partition("</g>")[0].count("<path")
    )
    assert svg.count('<g id="dimension"') == 1


def test_a_low_strip_is_folded_onto_one_sheet_and_its_pieces_join() -> None:
    """760 mm in pieces of 269 mm that overlap by 10: three of them, one below the other."""
    cross = Line(((0.0, 0.0), (0.760, 0.040)), "mark")
    strip = Template("s", "s", (rectangle(0.0, 0.0, 0.760, 0.040), cross), flat=False)
    (page,) = pages_for((strip,), "a4")
    assert [each.piece for each in page.placed] == [f"piece {x} of 3" for x in "ABC"]
    step = page.window[2] - page.window[0] - OVERLAP_MM
    for number, each in enumerate(page.placed):
        (x0, y0), (x1, y1) = each.shapes[1].points_m
        left, top, right, low = each.clip_mm
        assert x1 - x0 == pytest.approx(760.0)
        assert (x0, low) == pytest.approx((16.0 - number * step, y0))
        assert low - top == pytest.approx(40.0)
        assert y1 == pytest.approx(top)
        assert right - left == pytest.approx(step + OVERLAP_MM)
    feet = [each.clip_mm[3] for each in page.placed]
    tops = [each.clip_mm[1] for each in page.placed]
    assert all(b - a > NAME_MM for a, b in zip(feet, tops[1:], strict=False))
    at = [s.at_mm for s in page.seams]
    assert at[0] == pytest.approx(16.0 + step + OVERLAP_MM / 2)
    assert at[1] == pytest.approx(16.0 + OVERLAP_MM / 2)


def test_a5_has_bars_of_100_mm_that_fit_and_correct_the_printer() -> None:
    assert {paper: check_mm(paper) for paper in PAPERS} == {
        "a4": 150.0, "letter": 150.0, "a3": 150.0, "legal": 150.0, "tabloid": 150.0, "a5": 100.0
    }  # fmt: skip
    assert scale_from(0.0998, None, "a5").across == pytest.approx(100.0 / 99.8)
    with pytest.raises(ValueError, match="instead of 100 mm"):
        scale_from(0.150, None, "a5")


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_everything_drawn_stays_inside_the_window(demo: Project, paper: str) -> None:
    of = TemplateSet("r", "s", tuple(dimensioned(t) for t in template_set(demo).templates))
    for page in pages_for(of.templates, paper):
        if page.tile:
            continue
        left, top, right, low = page.window
        for each in page.placed:
            if each.clip_mm is None:
                b = bounds_of(each.shapes)
                assert b.left_m >= left - 1e-6 and b.right_m <= right + 1e-6, page.title
                assert b.low_m >= top - 1e-6 and b.high_m <= low + 1e-6, page.title
