"""The workshop print: valid SVG, to scale, labels apart, marks where they belong."""

import itertools
import math
import random
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

import sample_results as sample
from goodflight.outputs.drawing.ink import HATCHINGS, KIND_HATCHING, spread_out
from goodflight.outputs.drawing.svg import Shape, drawing_sheet, drawing_svg
from goodflight.studies.questions.layout import FinSet, Layout, Mark

SHAPES: tuple[Shape, ...] = ("wide", "narrow", "bare")


def stubby() -> Layout:
    """Short, thick, four large fins, CP ahead of CG."""
    base = sample.layout()
    fin = ((0.15, 0.075), (0.2, 0.3), (0.3, 0.3), (0.3, 0.075))
    turns = tuple(math.tau * i / 4 for i in range(4))
    return replace(
        base,
        rocket="A rocket with a rather long name for one this short & thick <1>",
        length_m=0.3,
        diameter_m=0.15,
        outline_m=((0.0, 0.0), (0.1, 0.075), (0.3, 0.075)),
        body=tuple(
            replace(piece, fore_m=a, aft_m=b, outer_radius_m=0.075, inner_radius_m=0.07)
            for piece, (a, b) in zip(base.body, ((0, 0.1), (0.1, 0.2), (0.2, 0.3)), strict=True)
        ),
        contents=(),
        fins=(FinSet("fins", fin, turns, 0.005, None, None, "guess"),),
        guides_m=(),
        separation_m=None,
        cg_liftoff=Mark(0.25, 0.01),
        cg_burnout=Mark(0.24, 0.01),
        cp=Mark(0.2, 0.0),
        cp_travel_m=0.19,
        margin_liftoff_cal=-0.33,
    )


def bare() -> Layout:
    """A body with nothing known but its outline."""
    base = sample.layout()
    return replace(base, contents=(), fins=(), guides_m=(), body=base.body[2:], invented=False)


def crossed() -> Layout:
    """The strings of both plumb lines hang on round stations, which the scale would number."""
    base = sample.layout()
    return replace(base, cg_liftoff=Mark(0.8, 0.01), cg_burnout=Mark(0.702, 0.01))


LAYOUTS = {"demo": sample.layout(), "stubby": stubby(), "bare": bare(), "crossed": crossed()}
CASES = [
    (name, shape, units) for name in LAYOUTS for shape in SHAPES for units in ("metric", "imperial")
]


@pytest.mark.parametrize(("name", "shape", "units"), CASES)
def test_no_label_stands_on_another_or_off_the_sheet(name: str, shape: Shape, units: str) -> None:
    sheet = drawing_sheet(LAYOUTS[name], units, shape)
    for (first, a), (second, b) in itertools.combinations(sheet.boxes, 2):
        assert not a.meets(b), f"{first!r} and {second!r}"
    for words, box in sheet.boxes:
        assert box.left >= 0 and box.right <= sheet.width, words
        assert box.top >= 0 and box.bottom <= sheet.height, words


@pytest.mark.parametrize(("name", "shape", "units"), CASES)
def test_no_plumb_line_runs_through_a_label(name: str, shape: Shape, units: str) -> None:
    """A string hangs from the axis, upright and longer than any leader below the body."""
    sheet = drawing_sheet(LAYOUTS[name], units, shape)
    upright = r'<line x1="([\d.]+)" y1="([\d.]+)" x2="\1" y2="([\d.]+)" class="(\w+) thin"'
    lines = re.findall(upright, "".join(sheet.items))
    strings = [(float(x), float(a), float(b)) for x, a, b, _ in lines if float(b) - float(a) > 45]
    assert len(strings) >= 2
    for (x, top, low), (words, box) in itertools.product(strings, sheet.boxes):
        assert not (box.left < x < box.right and box.top < low and top < box.bottom), words


@pytest.mark.parametrize(("name", "shape", "units"), CASES)
def test_it_is_well_formed_and_self_contained(name: str, shape: Shape, units: str) -> None:
    text = drawing_svg(LAYOUTS[name], units, shape)
    root = ElementTree.fromstring(text)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert "nan" not in text.replace("unnamed", "") and "inf" not in re.sub(
        r"[a-z]*inform", "", text
    )
    assert "href" not in text and "<script" not in text and "url(http" not in text
    found = set(re.findall(r"url\(#gf-([a-z]+)\)", text))
    assert found <= set(HATCHINGS)


def test_same_layout_same_text() -> None:
    assert drawing_svg(sample.layout()) == drawing_svg(sample.layout())


def test_the_body_is_to_scale_both_ways() -> None:
    """The outline is 1220 mm long and 79 mm thick: 15.44 to 1 on paper too."""
    text = drawing_svg(sample.layout())
    polygons = re.findall(r'<polygon points="([^"]+)" class="ink heavy"', text)
    points = [tuple(map(float, p.split(","))) for p in max(polygons, key=len).split()]
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    high = max(y for _, y in points) - min(y for _, y in points)
    assert wide / high == pytest.approx(1220 / 79, rel=1e-3)


def test_every_part_is_numbered_and_listed() -> None:
    layout = sample.layout()
    words = [text for text, _ in drawing_sheet(layout, "metric", "narrow").boxes]
    count = len(layout.body) + len(layout.contents) + len(layout.fins)
    for number in range(1, count + 1):
        assert words.count(str(number)) >= 2, number  # in its circle and in the list
    for piece in (*layout.body, *layout.contents):
        assert any(text.rstrip("…") and piece.name.startswith(text.rstrip("…")) for text in words)


def test_margin_and_marks_are_written() -> None:
    words = " | ".join(text for text, _ in drawing_sheet(sample.layout()).boxes)
    for wanted in (
        "CG 771 ±4",
        "CP 899 ±20",
        "= 128 at lift-off",
        "9 of 21 figures measured",
        "rocket, motors and field are invented",
    ):
        assert wanted in words


def test_only_an_unstable_rocket_uses_the_signal_colour() -> None:
    """The colour is defined once in the style; a stroke with it stands for CP ahead of CG."""
    assert 'stroke="var(--signal)"' not in drawing_svg(sample.layout())
    assert 'stroke="var(--signal)"' in drawing_svg(stubby())


def test_how_known_is_a_stroke() -> None:
    text = drawing_svg(sample.layout())
    assert 'stroke-dasharray="1.2 2.4"' in text and 'stroke-dasharray="5 2.5"' in text


def test_kinds_have_a_hatching_that_exists() -> None:
    assert set(KIND_HATCHING.values()) <= set(HATCHINGS)


def test_spread_out_keeps_order_gap_and_ends() -> None:
    rng = random.Random(3)
    for _ in range(200):
        wanted = sorted(rng.uniform(0, 100) for _ in range(rng.randint(1, 9)))
        places = spread_out(wanted, 10, 0, 100)
        assert all(b - a >= 10 - 1e-9 for a, b in itertools.pairwise(places))
        assert min(places) >= -1e-9 and max(places) <= 100 + 1e-9


def test_spread_out_moves_as_little_as_it_can() -> None:
    """By hand: 50, 50 with a gap of 10 become 45 and 55; what is apart stays."""
    assert spread_out([50, 50], 10, 0, 100) == pytest.approx([45, 55])
    assert spread_out([20, 60, 90], 10, 0, 100) == pytest.approx([20, 60, 90])
    assert spread_out([], 10, 0, 100) == []
