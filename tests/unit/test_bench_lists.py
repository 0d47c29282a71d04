"""Nesting, cut list, packing, build book, and the commands that write them."""

import json
import math
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from bench_rocket import rocket
from goodflight.cli.shell import run
from goodflight.outputs.bench.files import ALLOWED, Request, make
from goodflight.outputs.bench.list_words import amount, bought, fit_note, fit_rows
from goodflight.outputs.bench.order_text import order_text
from goodflight.outputs.drawing.side import items_of
from goodflight.physics.vehicle import parts as p
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.project.newcomer import project_files
from goodflight.project.records import Project
from goodflight.studies.bench.answers import answer
from goodflight.studies.bench.choices import Choices, Stock
from goodflight.studies.bench.cutlist import CutList, cut_list
from goodflight.studies.bench.fits import fits
from goodflight.studies.bench.limits import sliding
from goodflight.studies.bench.nesting import (
    MARGIN_M,
    WEB_M,
    cut_sheets,
    grain_turns,
    nest,
    placed_area,
)
from goodflight.studies.bench.outlines import outlines
from goodflight.studies.bench.packing import packed_bays, packing_template, stacks_of
from goodflight.studies.bench.section import reduced
from goodflight.studies.bench.sets import guide_set, template_set
from goodflight.studies.bench.shapes import (
    Line,
    Template,
    TemplateSet,
    Words,
    bounds_of,
    rectangle,
    room_of,
    turned,
)
from goodflight.studies.bench.steps import assembly_order
from goodflight.studies.case.project_case import case_of
from sample_case import MOTOR_TOLD

pdfium = pytest.importorskip("pypdfium2")


def plank(key: str, wide: float, high: float, count: int = 1) -> Template:
    return Template(key, key, (rectangle(0.0, 0.0, wide, high),), count, "ply", 0.004)


@pytest.mark.parametrize("kerf_m", [0.0, 0.0002, 0.003])
def test_nested_pieces_keep_kerf_and_web_apart_and_stay_on_the_sheet(
    demo: Project, kerf_m: float
) -> None:
    """Checked with the true outlines, not with the raster they were placed on."""
    flat = [*template_set(demo).templates, *guide_set(demo).templates]
    for sheet in cut_sheets(flat, Choices(kerf_m=kerf_m)):
        areas = [placed_area(each) for each in sheet.laid]
        for i, one in enumerate(areas):
            left, low, right, high = one.bounds
            assert min(left, low) >= MARGIN_M - 1e-9
            assert right <= sheet.stock.width_m - MARGIN_M + 1e-9
            assert high <= sheet.stock.height_m - MARGIN_M + 1e-9
            for other in areas[:i]:
                assert one.distance(other) >= kerf_m + WEB_M - 1e-9


def test_every_piece_is_laid_once(demo: Project) -> None:
    flat = [*template_set(demo).templates, *guide_set(demo).templates]
    laid = [each.template.key for s in cut_sheets(flat, Choices()) for each in s.laid]
    wanted = [t.key for t in flat if t.flat and t.thickness_m for _ in range(t.count)]
    assert sorted(laid) == sorted(wanted)


def test_fins_lie_with_their_arrow_along_the_sheet(demo: Project) -> None:
    fin = template_set(demo).templates[0]
    arrow = next(s for s in fin.shapes if isinstance(s, Line) and s.layer == "grain")
    for turn in grain_turns(fin):
        (_, y0), (_, y1) = (turned(q, turn) for q in arrow.points_m)
        assert y0 == pytest.approx(y1, abs=1e-12)


def test_a_second_sheet_is_taken_when_the_first_is_full() -> None:
    sheets = nest([plank("a", 0.25, 0.25, 5)], Stock("s", "", 0.004, 0.6, 0.3), 0.0)
    assert [len(sheet) for sheet in sheets] == [2, 2, 1]


def test_a_piece_larger_than_its_sheet_stays_on_the_list_with_the_reason() -> None:
    pieces = [plank("a", 0.7, 0.2), plank("b", 0.2, 0.2)]
    made = cut_list(rocket(), pieces, Choices())
    assert [each.template.key for each in made.sheets[0].laid] == ["b"]
    assert [cut.name for cut in made.cuts if cut.source.startswith("on no cut sheet")] == ["a"]
    (why,) = made.left_out
    assert why.startswith("a, 700 x 200 mm, is larger than sheet 300 x 600 (600 x 300 mm)")
    assert "give a larger sheet under [[bench.stock]]" in why


def test_tubes_to_buy_have_a_kerf_for_each_cut_and_an_end() -> None:
    """By hand: one tube of 760 mm, one cut of 1 mm, 10 mm to square the end."""
    made = cut_list(rocket(), outlines(rocket(), Choices()), Choices(kerf_m=0.001))
    assert made.buys[0].amount == pytest.approx(0.771)
    assert made.cuts[0].length_m == pytest.approx(0.76)
    fins = next(cut for cut in made.cuts if cut.name == "Fin")
    assert (fins.count, fins.thickness_m) == (4, 0.004)


def test_a_first_project_does_not_buy_itself() -> None:
    """All its parts are 0 g within one mass, which stands for the rocket and is no piece to buy."""
    first = read_project(project_files({}))
    bought = [buy.what for buy in answer(first, "cutlist").buys]
    assert "whole rocket" not in bought and "rail guides with screws and nuts" in bought


def test_what_is_bought_is_told_in_the_builders_units(demo: Project) -> None:
    """By hand: 79.0 and 76.0 mm are 3.110 and 2.992 in; a panel of 3 mm, 600 x 300 mm is 0.1181 in,
    23.62 x 11.81 in; 2 m are 6.56 ft, 1000 N 225 lbf."""
    cuts = answer(demo, "cutlist")
    tube, panel = (next(x for x in cuts.buys if x.unit == unit) for unit in ("m", "sheets"))
    assert tube.called.endswith(", 79 / 76 mm") and tube.called == bought(
        tube.what, tube.sizes_m, "metric"
    )
    assert bought(tube.what, tube.sizes_m, "imperial") == f"{tube.what}, 3.110 / 2.992 in"
    assert bought(panel.what, (0.003, 0.6, 0.3), "imperial").endswith("0.118 in, 23.62 x 11.81 in")
    assert amount(2.0, "m", "imperial") == "6.56 ft"
    cord = next(x for x in cuts.buys if x.what.startswith("recovery cord"))
    assert "lbf new" in cord.why.told("imperial") and " N new" in cord.why.told()


def test_what_slides_and_what_is_glued_has_its_limits(demo: Project) -> None:
    """By hand, bore 76.0, shoulder and coupler 75.8: glued to 0.6 less and to the bore, sliding
    0.1 to 0.4 less (practice, no source). The coupler is glued ahead, separates behind at 32 N."""
    nose, glued, parts = fits(demo.rocket())
    assert (nose.name, nose.into, parts.into) == ("shoulder of nose", "payload tube", "main tube")
    assert nose.words == "dia. 75.8 mm, +0.1 -0.2" and str(nose.how).startswith("slides")
    assert glued.words == "dia. 75.8 mm, +0.2 -0.4" and str(glued.how) == "glued"
    assert parts.words == nose.words and "the pull sets its fit (32 N in the file)" in str(
        parts.how
    )
    assert "(7.19 lbf in the file)" in parts.how.told("imperial")  # 32 / 4.4482
    behind = replace(demo.rocket().separation, coupler_in="aft", pull_n=None)
    _, ahead, glued = fits(replace(demo.rocket(), separation=behind))
    assert (str(glued.how), glued.into) == ("glued", "main tube") and "no pull" in str(ahead.how)
    assert sliding(0.076, 0.0761) == pytest.approx((-0.0003, 0.0))
    assert sliding(0.0755, 0.0761) == pytest.approx((0.0002, 0.0005))


def test_what_goes_into_what_is_listed_in_the_builders_units(demo: Project) -> None:
    """By hand: 75.8 mm is 2.984 in, 76.0 mm 2.992 in, 0.1 and 0.2 mm are 0.004 and 0.008 in."""
    cuts = answer(demo, "cutlist")
    assert isinstance(cuts, CutList)
    assert fit_rows(cuts, "metric")[0][2:4] == ("dia. 75.8 +0.1 -0.2", "76.0")
    assert fit_rows(cuts, "imperial")[0][2:4] == ("dia. 2.984 +0.004 -0.008", "2.992")
    assert "inches" in fit_note("imperial")


def packing_notes(change: Callable[..., Any]) -> tuple[int, str]:
    """What the packing drawings of the demo say once its list of parts was changed."""
    files = demo_files()
    head, *parts = files["rocket.toml"].split("[[part]]")
    files["rocket.toml"] = "[[part]]".join([head, *change(parts)])
    made = answer(read_project(files), "packing")
    assert isinstance(made, TemplateSet)
    return len(made.templates), make(made, Request()).summary


def test_a_packing_that_is_not_drawn_says_which_part_or_figure_is_missing() -> None:
    drawn, told = packing_notes(lambda parts: [x for x in parts if 'kind = "bay"' not in x])
    assert drawn == 0 and "add a bay that holds the canopy" in told and "Nothing to draw" in told
    held = 'holds = ["blanket", "large", "cord", "links"]'
    drawn, told = packing_notes(lambda parts: [x.replace(held, "") for x in parts])
    assert drawn == 1 and "Nothing to draw" not in told
    assert "add a bay that holds the canopy" in told
    assert packing_notes(lambda parts: parts) == (2, "Fieldfare, packing: 2 drawings")


def test_fins_and_rings_can_be_cut_before_a_motor_is_chosen(demo: Project) -> None:
    files = demo_files()
    files["plans.toml"] = re.sub(r"(?m)^motor = .*$", "", files["plans.toml"])
    files["plans.toml"] = re.sub(r"(?m)^delay_out = .*$", "", files["plans.toml"])
    without = read_project(files)
    made, whole = answer(without, "templates"), answer(demo, "templates")
    assert [t.key for t in made.templates] == [t.key for t in whole.templates]
    assert "CG and CP are not on the station strips" in made.notes[-1]
    assert answer(without, "cutlist").cuts == answer(demo, "cutlist").cuts


def test_no_name_in_a_packing_drawing_is_wider_than_its_place(demo: Project) -> None:
    case = case_of(demo)
    for bay in packed_bays(case.rocket, stacks_of(case)):
        drawn = packing_template(bay).shapes
        places = [bounds_of((x,)) for x in drawn if isinstance(x, Line) and x.closed]
        for words in (x for x in drawn if isinstance(x, Words) and x.at_m[1] == 0.0):
            around = [b for b in places if b.left_m < words.at_m[0] < b.right_m]
            wide = room_of(words)[1][0] - room_of(words)[0][0]
            assert not around or words.turn_rad or wide < max(b.width_m for b in around)


def test_packing_of_the_demo_is_deepest_first(demo: Project) -> None:
    bay = next(b for b in packed_bays(demo.rocket()) if b.bay == "parachute bay")
    held = next(x for x in demo.rocket().of_kind(p.Bay) if x.name == "parachute bay").holds
    assert bay.opens == "front"
    names = [item.name for item in bay.items]
    assert names == [name for name in reversed(held) if name in names]
    assert packing_template(bay).bounds.width_m < 0.2


def test_packed_lengths_stack_and_a_blanket_is_wrapped_round() -> None:
    """By hand: 400 mm less canopy 180, cord 160, links 20; the blanket takes no length."""
    held = (
        p.AddedMass("blanket", 0.3, length_m=0.12, radius_m=0.035, role="wrap"),
        p.Canopy("canopy", 0.3, packed_length_m=0.18, packed_diameter_m=0.07),
        p.Cord("cord", 0.3, length_m=5.5, packed_length_m=0.16),
        p.AddedMass("links", 0.3, length_m=0.02, radius_m=0.015),
    )
    bay = p.Bay(
        "bay", 0.3, length_m=0.40, inner_diameter_m=0.076, holds=tuple(part.name for part in held)
    )
    made = packed_bays(p.Rocket("r", (bay, *held)))[0]
    assert [item.name for item in made.items] == ["links", "cord", "canopy", "blanket"]
    assert made.spare_m == pytest.approx(0.040)
    assert str(made.verdict) == "fits with 40 mm to spare"


def test_packing_and_row_name_one_spare_length(demo: Project) -> None:
    """The bay as the row packs it: blanket and links by weight, rolls and cord as stated."""
    case = case_of(demo, None)
    bay = next(b for b in packed_bays(case.rocket, stacks_of(case)) if b.bay == "parachute bay")
    stack = next(each for each in stacks_of(case) if each.bay.name == "parachute bay")
    by_hand = 0.40 - 0.15 - 0.18 - (0.048 + 0.024) / 500.0 / (math.pi / 4 * 0.076**2)
    assert bay.spare_m == pytest.approx(stack.room_m - stack.length_m)
    assert bay.spare_m == pytest.approx(by_hand, abs=1e-6)
    assert str(bay.verdict) == "fits with 38 mm to spare (by weight: links, blanket)"


def test_a_bay_too_short_or_with_an_unknown_is_never_called_fit(demo: Project) -> None:
    bay = p.Bay("bay", 0.3, length_m=0.10, inner_diameter_m=0.07, holds=("c",))
    cord = p.Cord("c", 0.3, length_m=5.0, packed_length_m=0.16)
    made = packed_bays(p.Rocket("r", (bay, cord)))[0]
    assert str(made.verdict) == "does not fit: 60 mm too long"
    unknown = packed_bays(p.Rocket("r", (bay, p.Cord("c", 0.3, length_m=5.0))))[0]
    assert str(unknown.verdict).startswith("not known")


def test_coupler_in_the_bay_shortens_it() -> None:
    bay = p.Bay("bay", 0.3, length_m=0.40, inner_diameter_m=0.07, holds=("c",))
    cord = p.Cord("c", 0.4, length_m=5.0, packed_length_m=0.16)
    coupler = p.Coupler("k", 0.25, length_m=0.13, outer_diameter_m=0.07, inner_diameter_m=0.067)
    made = packed_bays(p.Rocket("r", (bay, cord, coupler)))[0]
    assert made.intruding_m == pytest.approx(0.08)
    assert made.spare_m == pytest.approx(0.40 - 0.08 - 0.16)


def test_a_drawing_made_smaller_keeps_its_shape(demo: Project) -> None:
    made = template_set(demo).templates[0]
    half = reduced(made, made.bounds.width_m / 2)
    assert half.bounds.height_m == pytest.approx(made.bounds.height_m / 2)


def joined(text: str) -> str:
    return "".join(each for each in text if each.isprintable() and each not in " -\ufffe")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_build_book_has_every_chapter_step_and_template(demo: Project, paper: str) -> None:
    made = make(answer(demo, "book"), Request(paper=paper))
    document = pdfium.PdfDocument(made.content)
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    for words in ("Before you begin", "Black powder", "Motors", "Solvents and paint", "Dust",
                  "Blades and drills", "Cut list", "What to buy", "Order of assembly",
                  "No return", "Packing of parachute bay", "Guide plate", "Fin",
                  "range safety officer", "invented"):  # fmt: skip
        assert words in text
    for number in (1, 13, 27):
        assert f"{number}. " in text
    told = joined(text)  # a hyphen at the end of a line is read as none
    book = answer(demo, "book")
    for of in (book.templates, book.guides):
        for template in of.templates:
            for note in template.notes:
                assert joined(str(note)) in told, (template.key, note)
            for name, value in template.sizes:
                told_size = f"{1e3 * value:.2f}".rstrip("0").rstrip(".")
                assert joined(f"{name} {told_size} mm") in told
    pages_words = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    pages = ["".join(page.get_textpage().get_text_range().split()) for page in document]
    how = next(n for n, page in enumerate(pages, 1) if "Templates,andhowtousethem" in page)
    assert "drawn by" in pages_words[0] and "third angle" in pages_words[0]
    for number, item in enumerate(items_of(book.layout), 1):
        if item.name != f"motor {book.layout.motor}":
            assert f"{number} {item.name[:30]}" in pages_words[1]
    on = next(
        n
        for n, page in enumerate(pages, 1)
        if f"Slotinmaintube,make3,printedsideout,maintube;how:sheet{how}" in page
    )
    assert f"{on}Slotinmaintube" in pages[how - 1]
    sizes = {tuple(round(x) for x in page.get_size()) for page in document}
    wide = {"a4": (595, 842), "letter": (612, 792)}[paper]
    assert sizes <= {wide, (wide[1], wide[0])}


def test_a_small_book_says_where_its_templates_are_and_prints_none(demo: Project) -> None:
    """Most of them would be cut into tiles on A5: no drawing true to size, no bar to check."""
    document = pdfium.PdfDocument(make(answer(demo, "book"), Request(paper="a5")).content)
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    assert "--what templates" in pages[-1] and "A4, Letter" in pages[-1]
    assert not any("measure both bars" in page or "1:1" in page for page in pages)


def test_packing_is_one_sheet_without_bars_to_measure(demo: Project) -> None:
    document = pdfium.PdfDocument(make(answer(demo, "packing"), Request()).content)
    words = " ".join(document[0].get_textpage().get_text_range().split())
    assert len(document) == 1 and "measure both bars" not in words
    assert "In order of insertion: 1 links" in words and "fits with" in words


def test_every_allowed_format_is_made_and_others_are_refused(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    heads = {"pdf": b"%PDF-", "svg": b"<svg", "dxf": b"  0\nSECTION", "stl": b"millimetres",
             "3mf": b"PK"}  # fmt: skip
    for what, kinds in ALLOWED.items():
        if what == "book":
            continue  # made above
        for kind in kinds:
            out = tmp_path / f"{what}.{kind}"
            code = run(["print", str(folder), "--what", what, "--format", kind, "-o", str(out)])
            assert code == 0
            assert out.read_bytes().startswith(heads[kind])
    assert run(["print", str(folder), "--what", "book", "--format", "dxf"]) == 2


def test_print_says_what_it_stands_on_and_corrects_the_printer(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "t.pdf"
    words = ["print", str(folder), "-o", str(out), "--measured-check", "149.6mm"]
    assert run(words) == 0
    assert "outside diameter from the project" in capsys.readouterr().out
    assert run([*words[:-1], "120 mm"]) == 2
    assert "not a printer error" in " ".join(capsys.readouterr().err.split())
    assert run([*words, "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert record["templates"][0]["sizes_m"]["root"] == pytest.approx(0.15)


def test_order_command_shows_checks_and_ticks(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["order", str(folder), "--json"]) == 0
    keys = [step["key"] for step in json.loads(capsys.readouterr().out)["steps"]]
    mine = tmp_path / "mine.txt"
    mine.write_text("\n".join(f"{i}. {key}" for i, key in enumerate(keys, 1)), encoding="utf-8")
    assert run(["order", str(folder), "--check", str(mine)]) == 0
    assert "can be built" in capsys.readouterr().out
    late = [k for k in keys if k != "inner-fillets"] + ["inner-fillets"]
    mine.write_text("\n".join(late) + "  # my way\n", encoding="utf-8")
    assert run(["order", str(folder), "--check", str(mine)]) == 4
    said = " ".join(capsys.readouterr().out.split())
    assert "(ring-rear ring): 'Glue rear ring: closes the fin can' closes the gap" in said
    assert run(["order", str(folder), "--tick", "slots", "--mass", "12 g"]) == 0
    said = capsys.readouterr().out
    head, count = "Cut the fin slots in main tube (slots)", len(keys)
    assert said == f"{head}: done, 12 g. {count} of {count} steps done.\n\nEvery step is done.\n"
    for key in keys[-1:-6:-1]:
        assert run(["order", str(folder), "--untick", key]) == 0
        said = capsys.readouterr().out
    assert f"not done. {count - 5} of {count} steps done." in said
    assert said.count("[ ]") == 3 and "2 more after these: goodflight order" in said
    assert run(["order", str(folder), "--tick", "slotz"]) == 2
    assert "did you mean slots" in capsys.readouterr().err
    assert run(["order", str(folder), "--tick", "slots", "--mass", "heavy"]) == 2


def test_a_bay_is_drawn_packed_before_a_motor_is_chosen() -> None:
    files = demo_files()
    plans = files["plans.toml"].replace('motor = "H-b"\n', "", 1)
    found = answer(read_project({**files, "plans.toml": plans}), "packing")
    assert isinstance(found, TemplateSet) and len(found.templates) == 2  # payload and canopy


def test_papers_of_a_rocket_in_inches_are_in_inches_and_say_which_side_is_drawn() -> None:
    files = project_files(MOTOR_TOLD | {"diameter": "4 in"})
    made = make(answer(read_project(files), "templates"), Request(units="imperial"))
    document = pdfium.PdfDocument(made.content)
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    lines = [line for line in text.splitlines() if re.search(r"[0-9] ?mm\b", line)]
    assert all("150 mm" in line for line in lines), lines  # the bars that are measured
    assert "figures are inches from there" in " ".join(text.split())
    flat = " ".join(text.split())
    assert "Forward ring, seen from the front" in flat and "printed side out" in flat
    order = assembly_order(read_project(files))
    told = order_text(order, units="imperial")
    assert "°C" not in told and not re.search(r"[0-9] mm\b", told)
    assert "77.0 °F" in told and " in from the motor tube's front end" in " ".join(told.split())
