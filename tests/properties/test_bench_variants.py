"""The workbench answers for every rocket it can be given: parts left out, fins of all kinds."""

from collections.abc import Callable
from dataclasses import replace
from math import pi
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_rocket import can_of, rocket
from goodflight.outputs.bench.pages import pages_for
from goodflight.outputs.bench.paper import OVERLAP_MM, PAPERS, Scale
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.parts import Rocket
from goodflight.project import ProjectErrors, read_project
from goodflight.project.demo import demo_files
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.cutlist import cut_list
from goodflight.studies.bench.guides import alignment_of, guide_for
from goodflight.studies.bench.order import check_order
from goodflight.studies.bench.outlines import fin_template, outlines
from goodflight.studies.bench.packing import packing_set
from goodflight.studies.bench.planes import solid_area
from goodflight.studies.bench.section import parts_list
from goodflight.studies.bench.sets import template_set
from goodflight.studies.bench.shapes import DoesNotFitError, Line, Template, rectangle
from goodflight.studies.bench.steps import assembly_order, steps_of
from goodflight.studies.bench.wrap import fin_wrap

BLOCKS = demo_files()["rocket.toml"].split("[[part]]")
lengths = st.floats(0.02, 0.2)


@pytest.mark.parametrize("number", range(1, len(BLOCKS)))
def test_any_part_of_the_demo_may_be_missing(number: int) -> None:
    files = demo_files()
    files["rocket.toml"] = "[[part]]".join(BLOCKS[:number] + BLOCKS[number + 1 :])
    try:
        project = read_project(files)
    except ProjectErrors:
        return  # the project itself needs this part
    order = [placed.step.key for placed in assembly_order(project).steps]
    assert check_order(steps_of(project), order) == ()
    made = template_set(project)
    assert cut_list(project.rocket(), made.templates, Choices()).cuts
    assert parts_list(project.rocket())
    assert list(packing_set(project.rocket())) is not None


@st.composite
def fin_rockets(draw: Callable[..., Any]) -> Rocket:
    base = rocket(draw(st.integers(3, 8)), draw(st.floats(0.03, 0.16)))
    fins = next(part for part in base.parts if isinstance(part, p.Fins))
    root, tip, span = draw(lengths), draw(lengths), draw(lengths)
    sweep = draw(st.floats(0.0, 0.15))
    outline = ((0.0, 0.0), (sweep, span), (sweep + tip, span), (root, 0.0))
    tab = draw(st.floats(0.0, 0.9)) * root
    fins = replace(
        fins,
        station_m=0.7,
        outline_m=outline,
        tab_length_m=tab,
        tab_offset_m=0.05 * root,
        tab_depth_m=0.3 * fins.body_radius_m,
        thickness_m=draw(st.floats(0.002, 0.008)),
        edges=draw(st.sampled_from(["blunt", "rounded", "bevelled"])),
        bevel_m=0.005,
    )
    return replace(base, parts=(*[x for x in base.parts if not isinstance(x, p.Fins)], fins))


@settings(max_examples=80, deadline=None)
@given(fin_rockets())
def test_any_fin_is_drawn_with_its_area_and_wrapped_evenly(made: Rocket) -> None:
    can = can_of(made)
    template = fin_template(can)
    fins = can.fins
    (_, (_, span), _, _) = fins.outline_m
    panel = 0.5 * span * (fins.outline_m[2][0] - fins.outline_m[1][0] + fins.outline_m[3][0])
    tab = fins.tab_length_m * fins.tab_depth_m
    assert solid_area(template).area == pytest.approx(panel + tab, rel=1e-9)
    around = dict(fin_wrap(made, Choices(paper_m=0.0)).sizes)
    assert around["fin to fin"] * fins.count == pytest.approx(pi * can.tube.outer_diameter_m)
    assert outlines(made, Choices())


@settings(max_examples=80, deadline=None)
@given(fin_rockets(), st.floats(0.0, 0.0008))
def test_a_guide_is_either_good_or_refused_with_a_reason(made: Rocket, clearance_m: float) -> None:
    try:
        guide = guide_for(can_of(made), Choices(clearance_m=clearance_m))
    except DoesNotFitError as error:
        assert len(str(error)) > 40
        return
    good = alignment_of(guide, 0.0002)
    assert 0.0 <= good.twist_bound_rad < 0.05
    assert good.alignment_rad > 0.0
    assert guide.key_length_m > 0.0


@settings(max_examples=150, deadline=None)
@given(
    st.floats(0.01, 1.5),
    st.floats(0.01, 1.0),
    st.sampled_from(sorted(PAPERS)),
    st.floats(0.98, 1.02),
    st.floats(0.98, 1.02),
)
def test_sheets_cover_every_size_and_agree_at_their_seams(
    wide: float, tall: float, paper: str, across: float, down: float
) -> None:
    cross = Line(((0.0, 0.0), (wide, tall)), "mark")
    frame = rectangle(0.0, 0.0, wide, tall)
    pages = pages_for((Template("t", "t", (frame, cross), flat=False),), paper, Scale(across, down))
    columns, rows = pages[0].grid
    left, top, right, low = pages[0].window
    pieces = [each for page in pages for each in page.placed if each.piece]
    if pieces:  # a low one, folded: its pieces side by side cover it
        covered = (
            len(pieces) * (right - left) - (len(pieces) - 1) * OVERLAP_MM,
            min(each.clip_mm[3] - each.clip_mm[1] for each in pieces),
        )
    else:
        assert len(pages) == columns * rows
        covered = (
            columns * (right - left) - (columns - 1) * OVERLAP_MM,
            rows * (low - top) - (rows - 1) * OVERLAP_MM,
        )
    ways = ((wide, tall), (tall, wide))  # as it is, or on its side where that takes fewer sheets
    lies = [
        covered[0] >= 1e3 * one * across - 1e-6 and covered[1] >= 1e3 * other * down - 1e-6
        for one, other in ways
    ]
    assert any(lies)
    if pieces:
        return
    by_place = {page.here: page for page in pages}
    for (column, row), page in by_place.items():
        other = by_place.get((column + 1, row))
        if other is not None:  # the same seam in the drawing's own coordinates
            step = right - left - OVERLAP_MM
            mine = max(s.at_mm for s in page.seams if s.upright) + column * step
            theirs = min(s.at_mm for s in other.seams if s.upright) + (column + 1) * step
            assert mine == pytest.approx(theirs, abs=1e-9)
