"""Every row that is not known has its boxes on the page; they write, and tell faults in place."""

import re
from pathlib import Path
from typing import Any

import pytest

from goodflight import ledger, load
from goodflight.outputs.ledger.beside import measurement_words
from goodflight.project import remove_part, write_project
from goodflight.project.answering import answer
from goodflight.project.newcomer import project_files
from page_client import Page
from sample_case import MOTOR_TOLD

BOX = "a:"


@pytest.fixture
def page(tmp_path: Path) -> Page:
    write_project(tmp_path / "first", project_files(MOTOR_TOLD))
    return Page(tmp_path / "first")


def boxes(text: str, row: str) -> str:
    found = re.search(rf'<details class="asks" id="asks-{row}".*?</details>', text, re.S)
    assert found, f"no boxes for {row}"
    return found[0]


def hash_of(text: str) -> str:
    found = re.search(r'name="hash" value="([^"]+)"', text)
    assert found
    return found[1]


def send(page: Page, row: str, typed: dict[str, str]) -> Any:
    now = page.get("/ledger").raw
    entries = {"hash": hash_of(now), "row": row, **{BOX + k: v for k, v in typed.items()}}
    return page.client.post("/answer", data=entries, follow_redirects=False)


def test_every_row_that_is_not_known_has_its_boxes_or_says_where_they_stand(page: Page) -> None:
    text = page.get("/ledger").raw
    rows = re.findall(r'<article class="row unknown" id="row-(\w+)">(.*?)</article>', text, re.S)
    assert len(rows) > 20
    folded = re.findall(
        r'<details class="stand" id="wait.*?<div class="inside">(.*?)</details>', text, re.S
    )
    for key, row in rows:
        assert 'class="asks"' in row or any(f'id="row-{key}"' in fold for fold in folded), key
    ids = re.findall(r' id="(a-[^"]+|asks-[^"]+)"', text)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(
    ("row", "typed", "file", "line"),
    [
        ("ceiling", {"sites/field.toml:ceiling": "800 m"}, "sites/field.toml", 'ceiling = "800 m"'),
        ("cloud_base", {"plans.toml:plan[first flight].day.cloud_base": "900 m"}, "plans.toml",
         'cloud_base = "900 m"'),
        ("guides", {"rocket.toml:part[rail guides].strength": "300 N"}, "rocket.toml",
         'strength = "300 N"'),
        ("alignment", {"build.toml:fin_limit": "1 deg"}, "build.toml", 'fin_limit = "1 deg"'),
        ("liftoff_mass", {"motors/H-told.toml:max_liftoff_mass": "4 kg"},
         "motors/H-told.toml", 'max_liftoff_mass = "4 kg"'),
        ("wind_limit", {"sites/field.toml:code": "us"}, "sites/field.toml", 'code = "us"'),
        ("battery", {"rocket.toml:device[+].name": "altimeter",
                     "rocket.toml:device[+].run_time": "5 h"}, "rocket.toml",
         '[[device]]\nname = "altimeter"\nrun_time = "5 h"'),
    ],
)  # fmt: skip
def test_a_box_writes_into_its_file(
    page: Page, row: str, typed: dict[str, str], file: str, line: str
) -> None:
    answer = send(page, row, typed)
    assert answer.status_code == 303 and answer.headers["location"].endswith(f"#row-{row}")
    assert line in page.text(file)
    assert "entered: " in page.get("/ledger").text  # it can be taken back


def test_a_fault_is_told_at_its_box_with_what_was_typed(page: Page) -> None:
    answer = send(page, "ceiling", {"sites/field.toml:ceiling": "high"})
    assert answer.status_code == 422
    told = boxes(answer.text, "ceiling")
    assert "Nothing was written." in told and 'value="high"' in told
    assert "expected a length like" in told and 'aria-invalid="true"' in told
    assert "data-unsaved" in told and " open>" in told
    assert "ceiling =" not in page.text("sites/field.toml")


def test_what_stood_in_the_boxes_alone_is_no_answer(page: Page) -> None:
    answer = send(page, "battery", {"rocket.toml:device[+].name": "altimeter"})
    assert answer.status_code == 422 and "Nothing was entered." in answer.text
    assert "[[device]]" not in page.text()


def test_only_what_the_row_asks_for_is_written(page: Page) -> None:
    answer = send(page, "ceiling", {"sites/field.toml:name": "elsewhere"})
    assert answer.status_code == 422 and 'name = "field"' in page.text("sites/field.toml")
    assert send(page, "margin_small", {"sites/field.toml:ceiling": "1 m"}).status_code == 409


def test_a_part_to_add_leads_to_its_form(page: Page) -> None:
    for name in ("forward ring", "middle ring", "rear ring"):
        remove_part(load(page.folder), name)
    row = boxes(page.get("/ledger").raw, "thrust_ring")
    link = re.search(r'href="(/drawing[^"]*)"', row)
    assert link and 'name="kind" value="ring"' in page.get(link[1].replace("&amp;", "&")).raw


def test_a_nose_within_the_whole_is_weighed_in_its_box(page: Page) -> None:
    """As `weigh` does: 210 g come out of the whole, 1160 g by the form; no mass beside it."""
    box = "weighings.toml:weighing[nose].mass"
    ready = {
        "rocket.toml:separation.fixed_joint": "700 N",
        "rocket.toml:separation.pull": "40 N",
        "rocket.toml:separation.bulkhead": "900 N",
        "motors/H-told.toml:charge": "1 g",
    }
    answer(load(page.folder), ready)
    told = [each for each in ledger(load(page.folder), flights=20).measure_next if each.part]
    assert [each.part for each in told] == ["nose"]
    assert '--what "nose" --mass MASS' in measurement_words(told[0])
    assert 'placeholder="like ' in boxes(page.get("/ledger").raw, "charge_strong")
    refused = send(page, "charge_strong", {box: "1500 g"})
    assert refused.status_code == 422 and "lighter than whole rocket" in refused.text
    unread = send(page, "charge_strong", {box: "heavy"})
    assert unread.status_code == 422 and 'aria-invalid="true"' in unread.text
    assert send(page, "charge_strong", {box: "210 g"}).status_code == 303
    rocket = page.text("rocket.toml")
    assert 'mass = "210 g guess"' in rocket and 'mass = "950 g"' in rocket
    assert 'what = ["nose"]' in page.text("weighings.toml")
    assert 'id="row-charge_strong"' in page.get("/ledger").raw
    assert not re.search('class="row unknown" id="row-charge_strong"', page.get("/ledger").raw)
