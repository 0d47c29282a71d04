"""From an empty folder: three ways to begin, an idea searched, a design opened as a project."""

from functools import partial
from pathlib import Path
from shutil import copy

import pytest

import page_client
from goodflight.project import load
from goodflight.project.idea import load_idea
from goodflight.project.idea_file import IdeaFile
from goodflight.project.idea_form import LISTS, first_texts, typed, written
from page_client import Page
from shared_answers import shared_app


@pytest.fixture
def page(tmp_path: Path) -> Page:
    """The page of an empty folder."""
    return Page(tmp_path / "new")


def test_an_empty_folder_has_three_ways_to_begin(page: Page) -> None:
    start = page.get("/")
    for words in ("An idea, no rocket yet", "A rocket is being built", "A rocket is finished"):
        assert words in start.text
    assert "invented example" in page.get("/idea").text


def test_a_finished_rocket_must_be_weighed_and_counts_as_measured(page: Page) -> None:
    form = page.get("/start?rocket=finished").form("/start")
    assert form["rocket"] == "finished"
    assert form["mass"] == form["balance"] == ""
    refused = page.post("/start", form)
    assert refused.status == 422
    assert refused.text.count("found nothing; expected what was read off") == 2
    done = page.post("/start", {**form, "mass": "1.52 kg", "balance": "720 mm ± 3 mm"})
    assert done.status == 200
    text = page.text()
    assert "kg measured" in text or "g measured" in text
    assert load(page.folder).figures["measured"] >= 2


def test_a_rocket_being_built_keeps_its_guesses(page: Page) -> None:
    form = page.get("/start?rocket=building").form("/start")
    assert form["mass"] == "1.4 kg"
    assert page.post("/start", form).status == 200
    assert load(page.folder).figures["measured"] == 0


def test_the_form_and_the_file_say_the_same() -> None:
    texts = first_texts()
    assert typed(written(texts)[0]) == texts


def test_every_list_of_the_form_is_a_key_of_the_file() -> None:
    assert {key for key, _, _ in LISTS} <= set(IdeaFile.model_fields)


def test_a_motor_beside_a_faulty_idea_is_still_at_hand(page: Page, demo_folder: Path) -> None:
    form = page.get("/idea").form("/idea")
    (page.folder / "motors").mkdir(parents=True)
    for file in (demo_folder / "motors").glob("H-a.*"):
        copy(file, page.folder / "motors")
    (page.folder / "idea.toml").write_text("tube = 3\n", encoding="utf-8")
    bare = {key: "" if key.startswith("motor.") else text for key, text in form.items()}
    assert page.post("/idea", bare).status == 200
    assert load_idea(page.folder).motors == ("H-a",)


def test_every_fault_of_an_idea_stands_at_its_box(page: Page) -> None:
    form = page.get("/idea").form("/idea")
    wrong = {**form, "motor.0.impulse": "168", "tube.0.inner_diameter": "", "cord.0.length": "5 kg"}
    for key in ("name", "across", "lines", "line_strength"):
        wrong[f"canopy.0.{key}"] = wrong[f"canopy.1.{key}"] = ""
    answer = page.post("/idea", wrong)
    assert answer.status == 422
    for box in ("motor.0.impulse", "tube.0.inner_diameter", "cord.0.length"):
        piece = answer.raw.split(f'id="b-{box}"')[1].split("</li>")[0]
        assert 'aria-invalid="true"' in piece, box
    assert "4 boxes need correcting" in answer.text
    assert not (page.folder / "idea.toml").exists()


def test_an_idea_is_searched_and_a_design_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(page_client, "shared_app", partial(shared_app, flights=60))
    page = Page(tmp_path / "new")
    form = page.get("/idea").form("/idea")
    shown = page.post("/idea", {**form, "name": "Made <up>"})
    assert shown.status == 200
    assert load_idea(page.folder).said.name == "Made <up>"
    found = page.client.get("/designs-searched?tab=t").text
    assert "event: progress" in found
    assert "event: done" in found
    assert "build this one" in found
    assert page.post("/designs", {"number": "9"}).status == 422
    assert page.post("/designs", {"number": "1"}).status == 200
    assert load(page.folder).name == "Made <up>"
    assert page.get("/idea").text.count("What is there to build with") == 0
    text = page.text()
    page.post("/designs", {"number": "2"})
    assert page.text() == text


def test_an_idea_changed_is_kept_with_its_earlier_text(page: Page) -> None:
    form = page.get("/idea").form("/idea")
    page.post("/idea", form)
    page.post("/idea", {**form, "evenings": "30"})
    assert load_idea(page.folder).said.evenings == 30
    assert list((page.folder / ".versions").rglob("idea.toml/*"))


def test_the_first_form_asks_certificate_materials_and_cord(page: Page) -> None:
    form = page.get("/start").form("/start")
    chosen = {"level": "L1", "wall": "glass_epoxy",
              "fin_material": "birch_plywood", "nose_material": "abs",
              "cord_length": "6 m"}  # fmt: skip
    assert set(chosen) <= set(form)
    wrong = page.post("/start", {**form, **chosen, "level": "L9", "wall": "kraft_tub"})
    assert wrong.status == 422
    assert "2 answers need correcting" in wrong.text
    assert page.post("/start", {**form, **chosen}).status == 200
    project = load(page.folder)
    assert project.plan().level == "L1"
    assert 'edge = "glass"' in page.text()
    assert "glass_epoxy" in page.text() and "6 m" in page.text()
