"""True size on paper and in files: lines in the rendered PDF, tile seams, SVG, DXF read back."""

import io
import re
from collections import Counter
from itertools import pairwise
from math import hypot

import numpy as np
import pytest
from ezdxf.entities import LWPolyline
from numpy.typing import NDArray

from goodflight.outputs.bench.dimension_lines import dimensioned, figure, limits
from goodflight.outputs.bench.dxf import template_dxf
from goodflight.outputs.bench.files import Request, make
from goodflight.outputs.bench.first_sheet import first_sheet
from goodflight.outputs.bench.pages import pages_for
from goodflight.outputs.bench.paper import (
    GAP_MM,
    PAPERS,
    Page,
    Scale,
    scale_from,
)
from goodflight.outputs.bench.pdf import label, template_pdf
from goodflight.outputs.bench.svg import template_svg
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.project.records import Project
from goodflight.studies.bench.answers import answer
from goodflight.studies.bench.sets import guide_set, template_set
from goodflight.studies.bench.shapes import (
    Circle,
    Line,
    Template,
    TemplateSet,
    Words,
    bounds_of,
    rectangle,
    room_of,
)
from goodflight.studies.questions.layout import layout

pdfium = pytest.importorskip("pypdfium2")
PPI = 600
MM = PPI / 25.4


def plain(*shapes, key: str = "t") -> Template:
    return Template(key, key, shapes, flat=False)


def pixels(pdf: bytes, number: int) -> NDArray[np.float64]:
    """A page as grey pixels, dark = 1, by an independent renderer."""
    page = pdfium.PdfDocument(pdf)[number]
    grey = page.render(scale=PPI / 72, grayscale=True).to_numpy()
    return 1.0 - np.squeeze(grey).astype(float) / 255.0


def line_at(
    dark: NDArray[np.float64],
    near_mm: float,
    across: bool = True,
    low_mm: float = 0.0,
    high_mm: float = 1e9,
) -> float:
    """Middle of a straight line near a coordinate, in mm, from the weight of its ink."""
    a, b = round((near_mm - 1.0) * MM), round((near_mm + 1.0) * MM)
    c, d = round(low_mm * MM), round(min(high_mm, 400.0) * MM)
    part = dark[c:d, a:b].sum(axis=0) if across else dark[a:b, c:d].sum(axis=1)
    part = np.where(part > 0.5 * part.max(), part, 0.0)
    return float((part * (np.arange(len(part)) + 0.5)).sum() / part.sum() + a) / MM


def test_lines_on_a_landscape_page_are_true_over_250_mm() -> None:
    """Rendered at 600 ppi by pdfium; 0.1 mm is what a good rule shows."""
    ticks = [Line(((x / 1e3, 0.0), (x / 1e3, 0.03))) for x in (0.0, 50.0, 150.0, 250.0)]
    pdf = template_pdf(TemplateSet("r", "s", (plain(*ticks),)), "a4")
    dark = pixels(pdf, 1)
    first = line_at(dark, 16.0, True, 14.0, 40.0)
    for x in (50.0, 150.0, 250.0):
        found = line_at(dark, 16.0 + x, True, 14.0, 40.0)
        assert found - first == pytest.approx(x, abs=0.1)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_lines_are_true_over_300_mm_and_across_the_seam_of_two_tiles(paper: str) -> None:
    """Lay the tiles on each other at the seam: the far line must be where it belongs."""
    ticks = [Line(((x / 1e3, 0.0), (x / 1e3, 0.12))) for x in (5.0, 305.0, 395.0)]
    strip = plain(rectangle(0.0, 0.0, 0.400, 0.120), *ticks)
    pages = pages_for((strip,), paper)
    assert len(pages) == 2
    pdf = template_pdf(TemplateSet("r", "s", (strip,)), paper)
    one, two = pixels(pdf, 1), pixels(pdf, 2)
    seam_one, seam_two = pages[0].seams[0].at_mm, pages[1].seams[0].at_mm
    low, high = 20.0, 60.0
    left = line_at(one, 16.0 + 5.0, True, low, high)
    step = pages[0].window[2] - pages[0].window[0] - 10.0
    mark_one = line_at(one, seam_one, True, low, high)
    mark_two = line_at(two, seam_two, True, low, high)
    assert mark_one == pytest.approx(seam_one, abs=0.05)
    for x in (305.0, 395.0):
        far = line_at(two, 16.0 + x - step, True, low, high)
        assert (far - mark_two) + (mark_one - left) == pytest.approx(x - 5.0, abs=0.1)


def test_the_same_line_lies_the_same_on_both_sheets_of_a_seam() -> None:
    """A slanted line crosses the seam at one height, seen from either tile."""
    strip = plain(Line(((0.0, 0.0), (0.400, 0.100))))
    one, two = pages_for((strip,), "a4")
    heights = []
    for page in (one, two):
        (x0, y0), (x1, y1) = page.placed[0].shapes[0].points_m
        heights.append(y0 + (y1 - y0) * (page.seams[0].at_mm - x0) / (x1 - x0))
    assert heights[0] == pytest.approx(heights[1], abs=1e-9)


@pytest.mark.parametrize(("paper", "units"), [("a4", "metric"), ("letter", "imperial")])
def test_the_drawing_of_the_book_has_the_scale_it_names(paper: str, units: str) -> None:
    """Rendered by pdfium: the rocket's length, drawn as a line from end to end."""
    book = answer(read_project(demo_files()), "book")
    made = make(book, Request(paper=paper, units=units)).content
    said = pdfium.PdfDocument(made)[0].get_textpage().get_text_range()
    scale = float(re.search(r"1 : ([\d.]+), printed", said)[1])
    assert scale * 2 == round(scale * 2)
    wanted = 1e3 * book.layout.length_m / scale
    dark = pixels(made, 0) > 0.25
    runs = set()
    for row in dark[: len(dark) // 3]:
        ends = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
        runs |= {round(float(b - a) / MM, 1) for a, b in zip(ends[::2], ends[1::2], strict=True)}
    # a slanted tick 0.2 mm thick at each end; half a step of the scale would be 6 mm
    assert min(abs(run - wanted) for run in runs) < 0.4, (wanted, sorted(runs)[-5:])
    assert ("inches" in said) == (units == "imperial")


def check_bars(pdf: bytes) -> tuple[list[float], list[float]]:
    """Lengths of both check bars as drawn in the file, from its vector content [mm]."""
    from pypdfium2 import raw

    found = []
    for each in pdfium.PdfDocument(pdf)[0].get_objects(max_depth=4):
        if each.type == raw.FPDF_PAGEOBJ_PATH:
            left, low, right, high = (v / 72 * 25.4 for v in each.get_bounds())
            found.append((right - left, high - low))
    across = [w for w, h in found if h < 0.5 and 140 < w < 160]
    down = [h for w, h in found if w < 0.5 and 140 < h < 160]
    return across, down


def test_check_bars_are_150_mm_and_follow_the_printer_correction() -> None:
    across, down = check_bars(template_pdf(TemplateSet("r", "s", ())))
    assert min(abs(w - 150.0) for w in across) < 0.5  # the pen's width is in the bounds
    scale = scale_from(0.1496, 0.1503)
    corrected = check_bars(template_pdf(TemplateSet("r", "s", ()), "a4", scale))
    assert corrected[0][0] - across[0] == pytest.approx(150.0 * (150.0 / 149.6 - 1), abs=0.005)
    assert corrected[1][0] - down[0] == pytest.approx(150.0 * (150.0 / 150.3 - 1), abs=0.005)


def test_correction_undoes_a_printer_that_shrinks() -> None:
    """The printer makes 149.6 of 150; drawn with the correction, 100 mm comes out as 100 mm."""
    page = pages_for((plain(Line(((0.0, 0.0), (0.1, 0.0)))),), "a4", scale_from(0.1496))[0]
    (x0, _), (x1, _) = page.placed[0].shapes[0].points_m
    assert (x1 - x0) * 149.6 / 150.0 == pytest.approx(100.0, abs=1e-9)


def test_a_print_fitted_to_the_page_is_refused() -> None:
    with pytest.raises(ValueError, match="not a printer error"):
        scale_from(0.1300)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_template_of_the_demo_is_on_paper_inside_the_window(paper: str) -> None:
    made = template_set(read_project(demo_files()))
    pages = pages_for(made.templates, paper)
    shown = {each.template.key for page in pages for each in page.placed}
    assert shown == {t.key for t in made.templates}
    for page in pages:
        if page.tile:
            continue
        for each in page.placed:
            for shape in each.shapes:
                if isinstance(shape, Line) and not each.piece:
                    assert all(inside(page, x, y) for x, y in shape.points_m)


def inside(page: Page, x: float, y: float) -> bool:
    # a slot on the left edge of a wrap hangs over by half its width
    left, top, right, low = page.window
    return left - 2.2 <= x <= right + 1e-6 and top - 1e-6 <= y <= low + 1e-6


def test_tiles_cover_a_plate_without_a_gap() -> None:
    plate = guide_set(read_project(demo_files())).templates[0]
    pages = pages_for((plate,), "a4")
    columns, rows = pages[0].grid
    assert len(pages) == columns * rows
    room = pages[0].window
    wide = columns * (room[2] - room[0]) - (columns - 1) * 10.0
    tall = rows * (room[3] - room[1]) - (rows - 1) * 10.0
    assert wide >= 1e3 * plate.bounds.width_m
    assert tall >= 1e3 * plate.bounds.height_m


def test_pdf_is_the_same_twice() -> None:
    made = guide_set(read_project(demo_files()))
    assert template_pdf(made) == template_pdf(made)


def test_dxf_read_back_has_equal_dimensions_layers_and_units() -> None:
    """Independent reading: ezdxf's own audit and entities."""
    import ezdxf

    made = template_set(read_project(demo_files()))
    document = ezdxf.read(io.StringIO(template_dxf(made)))
    assert document.dxfversion == "AC1024"
    assert document.header["$INSUNITS"] == 4  # millimetres
    assert not document.audit().errors
    assert {"CUT", "BORE", "MARK", "BEVEL", "GRAIN", "HIDDEN", "WORDS"} <= {
        layer.dxf.name for layer in document.layers
    }
    space = document.modelspace()
    wanted = sorted(
        1e3 * s.radius_m for t in made.templates for s in t.shapes if isinstance(s, Circle)
    )
    assert sorted(c.dxf.radius for c in space.query("CIRCLE")) == pytest.approx(wanted, abs=1e-9)
    lines = [s for t in made.templates for s in t.shapes if isinstance(s, Line)]
    found_lines = (e for e in space.query("LWPOLYLINE") if isinstance(e, LWPolyline))
    chains = [e for e in found_lines if e.dxf.layer != "DIMENSION"]
    found = sorted(size([(x, y) for x, y in e.get_points("xy")]) for e in chains)
    drawn = sorted(size([(1e3 * x, 1e3 * y) for x, y in s.points_m]) for s in lines)
    assert np.allclose(found, drawn, atol=1e-6)
    assert template_dxf(made) == template_dxf(made)


def test_edges_of_paper_are_no_cuts_of_sheet() -> None:
    """Wraps, strips and the line aid are paper or card; what is cut from sheet is not."""
    import ezdxf

    made = template_set(read_project(demo_files()))
    document = ezdxf.read(io.StringIO(template_dxf(made)))
    wanted = {True: [], False: []}
    for template in made.templates:
        wanted[template.flat] += [
            size([(1e3 * x, 1e3 * y) for x, y in s.points_m])
            for s in template.shapes
            if isinstance(s, Line) and s.layer in ("cut", "bore")
        ]
    chains = list(document.modelspace().query("LWPOLYLINE"))
    for flat, layers in ((True, ("CUT", "BORE")), (False, ("PAPER",))):
        found = [
            size([(x, y) for x, y in e.get_points("xy")]) for e in chains if e.dxf.layer in layers
        ]
        assert found and np.allclose(sorted(found), sorted(wanted[flat]), atol=1e-6)
    text = template_svg(made)
    pens = dict(re.findall(r'<g id="(\w+)" style="([^"]+)"', text))
    assert len({pens[each] for each in ("cut", "bore", "paper", "mark")}) == 4


def test_a_cutter_gets_the_guide_without_its_sketch() -> None:
    import ezdxf

    made = guide_set(read_project(demo_files()))
    document = ezdxf.read(io.StringIO(make(made, Request("dxf")).content.decode()))
    own = ("MARK", "DIMENSION")
    chains = [e for e in document.modelspace().query("LWPOLYLINE") if e.dxf.layer not in own]
    layers = sorted(each.dxf.layer for each in chains)
    # plate: outline, bore with its slots, three key slots; key: outline
    assert layers == ["BORE"] * 4 + ["CUT"] * 2


def size(points: list[tuple[float, float]]) -> tuple[float, float, float]:
    """Extents and length of a chain: what must survive writing and reading."""
    x, y = np.array(points)[:, 0], np.array(points)[:, 1]
    long = sum(hypot(x[i + 1] - x[i], y[i + 1] - y[i]) for i in range(len(x) - 1))
    return (round(float(np.ptp(x)), 6), round(float(np.ptp(y)), 6), round(long, 6))


def test_svg_is_in_millimetres() -> None:
    text = template_svg(TemplateSet("r", "s", (plain(rectangle(0.0, 0.0, 0.1, 0.05)),)))
    width = float(re.search(r'width="([\d.]+)mm"', text)[1])
    box = [float(x) for x in re.search(r'viewBox="([^"]+)"', text)[1].split()]
    assert box[2] == pytest.approx(width)
    assert width == pytest.approx(120.0)  # 100 mm and a rim of 10 mm
    assert "M0.0000 " in text
    assert Scale() == Scale(1.0, 1.0)


def test_low_templates_that_need_tiles_share_them_and_do_not_touch() -> None:
    """Two strips of 300 mm, 100 mm high: both fit one row of two tiles of A4, upright."""
    strips = [Template(k, k, (rectangle(0.0, 0.0, 0.3, 0.1),)) for k in ("one", "two")]
    pages = pages_for(strips, "a4")
    assert [page.tile for page in pages] == ["A1", "B1"]
    for page in pages:
        upper, lower = (bounds_of(each.shapes) for each in page.placed)
        assert lower.low_m - upper.high_m >= GAP_MM
        assert [each.template.key for each in page.placed] == ["one", "two"]


def test_a_template_too_high_beside_another_has_tiles_of_its_own() -> None:
    tall = [Template(k, k, (rectangle(0.0, 0.0, 0.3, 0.15),)) for k in ("one", "two")]
    assert all(len(page.placed) == 1 for page in pages_for(tall, "a4"))


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_every_word_of_a_template_stands_whole_on_one_tile(demo: Project, paper: str) -> None:
    """Of the demo's own sheets: each text once, inside its window and off every seam."""
    made = template_set(demo)
    drawn = [dimensioned(each) for each in made.templates]
    wanted = Counter(str(s.text) for each in drawn for s in each.shapes if isinstance(s, Words))
    shown = Counter[str]()
    for page in pages_for(drawn, paper):
        left, top, right, low = page.window
        for each in page.placed:
            for shape in each.shapes:
                if not isinstance(shape, Words):
                    continue
                shown[str(shape.text)] += 1
                if not (page.seams or each.piece):
                    continue
                xs, ys = zip(*room_of(shape), strict=True)
                assert left - 4.0 <= min(xs) and max(xs) <= right, str(shape.text)
                assert top - 4.0 <= min(ys) and max(ys) <= low, str(shape.text)
                seams = [s.at_mm for s in page.seams if s.upright and s.reach_mm is None]
                assert not any(min(xs) < at < max(xs) for at in seams), str(shape.text)
    assert shown == wanted


def test_names_on_a_wrap_stand_clear_of_slots_and_holes(demo: Project) -> None:
    """Where a line of a cut or of the cross on a hole ran through a name, neither could be read."""
    for template in template_set(demo).templates:
        if not template.key.startswith("wrap"):
            continue
        lines = [s for s in template.shapes if isinstance(s, Line) and len(s.points_m) <= 4]
        for words in (s for s in template.shapes if isinstance(s, Words)):
            xs, ys = zip(*room_of(words), strict=True)
            for line in lines:
                if line.layer == "hidden" or line.points_m[0] == (0.0, 0.0):
                    continue
                for (x, y), (u, v) in pairwise(line.points_m):
                    clear = (
                        max(x, u) <= min(xs)
                        or min(x, u) >= max(xs)
                        or max(y, v) <= min(ys)
                        or min(y, v) >= max(ys)
                    )
                    assert clear, (template.key, words.text)


def test_inches_on_paper_have_the_decimals_of_their_limits(demo: Project) -> None:
    """0.1654 +0.018 read as if one end of it were ten times better known than the other."""
    assert figure(0.0042, "imperial") == "0.165"  # 4.2 / 25.4 = 0.16535
    assert figure(0.2495, "imperial") == "9.823" and figure(0.265, "imperial") == "10.43"
    assert limits((-0.0002, 0.00046), "imperial") == " +0.018 -0.008"
    assert label(template_set(demo).templates[0], "imperial").endswith("0.157 in, birch plywood")


@pytest.mark.parametrize("paper", list(PAPERS))
def test_letters_of_the_first_sheet_can_be_read_on_every_paper(demo: Project, paper: str) -> None:
    """1.75 mm at least (common practice, no source), the smallest letters counted off the SVG."""
    markup = first_sheet(layout(demo), paper, "", "metric", 0.0002)
    drawn = float(re.search(r'format: "svg", width: ([\d.]+)mm', markup)[1])
    units = float(re.search(r"viewBox=\\?.0 0 ([\d.]+) ", markup)[1])
    sizes = [float(size) for size in re.findall(r'font-size=\\"([\d.]+)', markup)]
    least = min(size for size in sizes if size > 9.5)  # 9.5: the zones of the border
    assert least * drawn / units >= 1.75
