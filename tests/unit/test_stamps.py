"""Labels of the rocket as weighed, and stamps: same figures same stamp, others another."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from goodflight.cli.app import app
from goodflight.interface import draw, printout
from goodflight.project import Project, load, read_project
from goodflight.project.bench_files import WeighingsFile
from goodflight.project.demo import demo_files
from goodflight.quantity.said import Said
from goodflight.studies.bench.labels import label_set
from goodflight.studies.bench.shapes import Line, TemplateSet, Words
from goodflight.studies.bench.stamp import stamp_of
from goodflight.studies.bench.stamps import every_stamp, of_weighing, stamp
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.layout import layout_of
from goodflight.studies.questions.scale import weigh
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.trials import make_trials

pdfium = pytest.importorskip("pypdfium2")


def with_files(**files: str) -> Project:
    return read_project({**demo_files(), **files}, Path("."))


def more(text: str) -> Project:
    """The demo with one more weighing."""
    row = f"\n[[weighing]]\n{text}\n"
    return with_files(**{"weighings.toml": demo_files()["weighings.toml"] + row})


def told_to(reader: str, words: str | Said) -> str:
    return words if isinstance(words, str) else words.told(reader)


def words_of(labels: TemplateSet, units: str = "metric") -> dict[str, list[str]]:
    return {
        each.key: [told_to(units, shape.text) for shape in each.shapes if isinstance(shape, Words)]
        for each in labels.templates
    }


def text_of(pdf: bytes) -> str:
    with pdfium.PdfDocument(pdf) as file:
        pages = [page.get_textpage().get_text_bounded() for page in file]
    return "\n".join(pages)


# --- labels ---


def test_labels_say_the_figures_as_weighed() -> None:
    """The demo's whole was weighed: 1461 g and 699 mm without motor stand in its file."""
    found = words_of(label_set(with_files()))
    assert found["name"][0] == "Fieldfare"
    assert "1220 mm long, 1461 g without motor" in found["name"]
    assert found["cg-empty"][0] == "CG  699 mm" and found["cg"][0].startswith("CG  77")
    assert found["cg"] == found["cg-again"] and "ready to fly with H-b" in found["cg"][1]
    assert found["arm"][0] == "ARM HERE"
    laid = layout_of(case_of(with_files()))
    assert found["cp"][0] == f"CP  {1e3 * laid.cp.station_m:.0f} mm"


def test_labels_of_a_reader_in_inches() -> None:
    """1220 mm / 25.4 = 48.0 in, 1461 g / 28.35 = 51.5 oz, 699 mm / 25.4 = 27.52 in."""
    found = words_of(label_set(with_files()), "imperial")
    assert "48.0 in long, 51.5 oz without motor" in found["name"]
    assert found["cg-empty"][0] == "CG  27.52 in" and " in, without motor" in found["cg-empty"][1]


def test_labels_are_dated_or_say_that_they_are_not() -> None:
    said = "as weighed, day not noted"
    assert words_of(label_set(with_files()))["cg"][2] == said
    dated = more('what = ["all"]\nmass = "1460 g ± 3 g"\ndate = "2026-10-17"')
    assert words_of(label_set(dated))["cg"][2] == "as weighed 2026-10-17"
    never = replace(with_files(), weighings=WeighingsFile(), weighed=None)
    assert words_of(label_set(never))["cg"][2] == "from the design, not weighed"
    assert "not weighed" in label_set(never).notes[-1]


def test_words_stay_inside_their_label() -> None:
    """Also of a rocket with a long name: letters are at most 0.72 of their height wide."""
    text = demo_files()["rocket.toml"].replace('name = "Fieldfare"', f'name = "{"Wide " * 8}"')
    for each in label_set(with_files(**{"rocket.toml": text})).templates:
        edge = max(x for s in each.shapes if isinstance(s, Line) for x, _ in s.points_m)
        for shape in each.shapes:
            if isinstance(shape, Words):
                for units in ("metric", "imperial"):
                    told = told_to(units, shape.text)
                    half = 0.36 * shape.height_m * len(told)
                    assert shape.at_m[0] - half >= 0.0 and shape.at_m[0] + half <= edge, told


def test_no_electronics_no_arming_label() -> None:
    text = demo_files()["rocket.toml"]
    line = next(row for row in text.splitlines() if row.startswith("electronics = true"))
    assert "arm" not in words_of(label_set(with_files(**{"rocket.toml": text.replace(line, "")})))


# --- the spread of a balance point that was weighed ---


def test_the_spread_of_the_balance_is_that_of_the_flights() -> None:
    """Parts weighed together scatter together: first order against 4000 samples."""
    case = case_of(with_files())
    sampled = make_trials(case, 4000, 1).parameter("dry_cg_m")
    found = layout_of(case).cg_burnout.sigma_m
    assert found == pytest.approx(float(np.std(sampled)), rel=0.08)


# --- stamps ---


def test_the_same_figures_give_the_same_stamp() -> None:
    one, two = (every_stamp(with_files()) for _ in range(2))
    assert one == two
    assert [each.what for each in one] == [
        "drawing", "labels", "answer", "templates", "guides", "cutlist", "packing", "book",
        "evidence", "tests", "cards", "lists", "carry",
    ]  # fmt: skip
    assert len({each.stamp for each in one}) == len(one)
    commented = with_files(**{"plans.toml": demo_files()["plans.toml"] + "# later\n"})
    assert every_stamp(commented) == one  # what no sheet shows makes no sheet old


def test_a_weighing_moves_what_shows_it_and_nothing_else() -> None:
    before = {each.what: each.stamp for each in every_stamp(with_files())}
    heavier = more('what = ["all"]\nmass = "1466 g ± 1 g"\nbalance = "703 mm ± 1 mm"')
    now = {each.what: each.stamp for each in every_stamp(heavier)}
    changed = {what for what in now if now[what] != before[what]}
    # strips mark the CG, cards, lists and ground tests show the mass
    assert changed == {
        "drawing", "labels", "answer", "templates", "book", "evidence", "tests", "cards", "lists"
    }  # fmt: skip
    quick = {each.what: each.stamp for each in of_weighing(heavier)}
    assert quick == {what: now[what] for what in ("drawing", "labels")}


def test_what_no_builder_can_measure_makes_no_new_stamp() -> None:
    laid = layout_of(case_of(with_files()))
    assert stamp_of(replace(laid, length_m=laid.length_m + 1e-9)) == stamp_of(laid)
    assert stamp_of(replace(laid, length_m=laid.length_m + 1e-3)) != stamp_of(laid)


def test_the_stamp_stands_in_the_foot_and_is_known_again(folder: Path) -> None:
    project = load(folder)
    for what in ("labels", "cutlist", "book", "evidence", "tests", "lists"):
        made = printout(project, what, day="2026-10-17")
        mark = made.stamp
        text = text_of(made.content)
        assert text.count(f"figures {mark}") == text.count("made 2026-10-17") > 0, what
        answer = stamp(project, "morning", mark.lower().replace(" ", "-"))
        assert answer.holds and answer.sheets[0].what == what
    assert "made" not in text_of(printout(project, "labels", day="").content)
    drawn = draw(project, "morning", day="2026-10-17")
    mark = next(each.stamp for each in every_stamp(project) if each.what == "drawing")
    assert f"made 2026-10-17, figures {mark}" in drawn
    again = more('what = ["all"]\nmass = "1466 g ± 1 g"\nbalance = "703 mm ± 1 mm"')
    old = stamp(again, "morning", mark)
    assert not old.holds
    with pytest.raises(StudyRefused, match="foot of the sheet"):
        stamp(project, None, "yesterday")


def test_weigh_says_which_sheets_went_out_of_date() -> None:
    study = weigh(with_files(), flights=20)
    assert {each.what for each in study.sheets} == {"drawing", "labels"}
    assert all(each.before and each.before != each.stamp for each in study.sheets)
    never = weigh(replace(with_files(), weighings=WeighingsFile(), weighed=None), flights=20)
    assert all(each.before == "" for each in never.sheets)


def test_the_command_answers(folder: Path) -> None:
    listed = CliRunner().invoke(app, ["stamp", str(folder)])
    assert listed.exit_code == 0 and "labels, plan morning" in listed.output
    old = CliRunner().invoke(app, ["stamp", str(folder), "--plan", "morning", "0000 0000"])
    assert old.exit_code == 0 and "printed from other figures" in " ".join(old.output.split())
