"""What the first form takes for granted is listed, each with a box, until it is changed."""

from pathlib import Path
from typing import Any

import pytest

from goodflight import load
from goodflight.physics.vehicle.parts import Bay
from goodflight.project import ProjectErrors, read_project, write_project
from goodflight.project.newcomer import project_files
from goodflight.project.newcomer_assumed import (
    ASSUMED,
    WORKED_OUT,
    change_assumed,
    still_assumed,
)
from goodflight.project.newcomer_fit import AnswersError
from goodflight.quantity import QuantityError
from goodflight.studies.rows.nose_joint import gas_on_nose
from page_client import Page
from sample_case import MOTOR_TOLD


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_project(tmp_path / "first", project_files(MOTOR_TOLD))
    return tmp_path / "first"


def ids(folder: Path) -> list[str]:
    return [each.question.id for each in still_assumed(load(folder))]


def test_everything_assumed_is_listed_until_it_is_changed(folder: Path) -> None:
    every = [each.id for each in (*ASSUMED, *WORKED_OUT)]
    assert ids(folder) == every
    for key, text in (("vents", "2"), ("ring_thickness", "5 mm"), ("coupler_length", "170 mm"),
                      ("coupler_in", "aft"), ("bulkheads", "true"),
                      ("wind_from", "230 deg")):  # fmt: skip
        change_assumed(load(folder), key, text)
        every.remove(key)
        assert ids(folder) == every
    rocket = load(folder).texts["rocket.toml"]
    assert rocket.count('thickness = "5 mm"') == 3 and "vents = 2" in rocket
    assert load(folder).head.separation.coupler_in == "aft"
    assert "bulkheads = true" in rocket


def test_a_coupler_is_cut_to_whole_millimetres_and_is_no_shorter_than_a_calibre() -> None:
    """By hand: 102.1 mm, so 103 mm into each tube."""
    told = {"diameter": "102.1 mm", "inner_diameter": "3.9 in", "nose_length": "400 mm",
            "body_length": "1200 mm", "separation": "700 mm"}  # fmt: skip
    parts: tuple[Any, ...] = tuple(read_project(project_files(told)).parts)
    (coupler,) = (part for part in parts if part.kind == "coupler")
    assert (coupler.length.text, coupler.station.text) == ("206 mm guess", "597 mm")


def test_a_box_of_the_first_form_writes_only_what_differs() -> None:
    plain = project_files(MOTOR_TOLD)
    as_shown = {each.id: each.default for each in ASSUMED}
    assert project_files(MOTOR_TOLD | as_shown) == plain
    changed = project_files(MOTOR_TOLD | as_shown | {"coupler_in": "aft", "nose_wall": "3 mm"})
    assert 'coupler_in = "aft"' in changed["rocket.toml"]
    assert 'wall = "3 mm"' in changed["rocket.toml"]
    assert len(still_assumed(read_project(changed))) == len(ASSUMED) + len(WORKED_OUT) - 2


def test_bulkheads_take_the_charge_from_the_joint_of_the_nose() -> None:
    for said, pushed in (("", True), ("true", False)):
        rocket = read_project(project_files(MOTOR_TOLD | {"bulkheads": said})).rocket()
        (bay,) = (part for part in rocket.parts if isinstance(part, Bay))
        assert gas_on_nose(rocket, bay) is pushed


def test_what_cannot_be_is_told(folder: Path) -> None:
    with pytest.raises(AnswersError) as caught:
        project_files(MOTOR_TOLD | {"nose_wall": "2 m"})
    assert list(caught.value.faults) == ["nose_wall"]
    with pytest.raises(QuantityError):
        change_assumed(load(folder), "tilt", " ")
    with pytest.raises(ProjectErrors):
        change_assumed(load(folder), "tilt", "80 deg")


def test_the_page_lists_them_each_with_its_box(folder: Path) -> None:
    page = Page(folder)
    text = page.get("/ledger").raw
    for each in (*ASSUMED, *WORKED_OUT):
        assert f'name="key" value="{each.id}"' in text, each.id
    form = page.get("/ledger").form("/assumed")
    done = page.post("/assumed", form | {"key": "temperature", "text": "9 degC"})
    assert done.status == 200 and 'value="temperature"' not in done.raw
    assert 'temperature = "9 degC"' in page.text("plans.toml")


def test_another_project_lists_none(demo_folder: Path) -> None:
    assert still_assumed(load(demo_folder)) == ()


def test_a_control_with_one_setting_says_why(folder: Path) -> None:
    """One motor, one parachute, one rail: each is shut, with what would give more."""
    text = Page(folder).get("/ledger").raw
    for key, words in (("motor", "no other motor"), ("canopy", "one parachute"),
                       ("rail", "the field has one rail")):  # fmt: skip
        assert f'disabled aria-describedby="alone-{key}"' in text, key
        assert words in text
    assert 'aria-describedby="alone-wind"' not in text
