"""The debrief page: predictions kept, flights noted, carried over and taken back."""

import csv
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from goodflight import load
from goodflight.page.app import make_app
from goodflight.project.flight_files import DayTable
from goodflight.project.flight_notes import Noted, notes_with

HERE = "http://127.0.0.1:8311"
NOTED = {
    "flight": "first", "date": "2030-10-17", "plan": "morning", "result": "failed",
    "apogee": "575 m ± 4 m", "after_apogee": "10.6 s", "after_charge": "11.5 s ± 0.1 s",
    "looked_over": "yes", "row1": "zipper", "what1": "30 mm slit", "row2": "",
}  # fmt: skip


@pytest.fixture
def page(folder: Path) -> TestClient:
    return TestClient(make_app(folder, 8311, flights=200), base_url=HERE, headers={"origin": HERE})


def sent(page: TestClient, where: str, **data: str) -> str:
    found = re.search(r'name="hash" value="(\w+)"', page.get("/debrief").text)
    assert found is not None
    answer = page.post(f"/debrief/{where}", data=data | {"hash": found[1]})
    return str(answer.text)


def test_a_flight_from_its_prediction_to_the_rocket_and_back(
    page: TestClient, folder: Path
) -> None:
    assert "It waits for one figure" in page.get("/debrief").text
    assert "A prediction is kept with this flight" in sent(page, "keep", flight="first")
    text = sent(page, "note", **NOTED)
    assert 'class="overlay"' in text and "30 mm slit (zipper)" in text
    assert "Before it flies again: look at these first" in text and "(--" not in text
    assert "flights that failed: 1 of 1" in text and "before the flight" in text
    notes = load(folder).notes["first"]
    assert notes.looked_over and notes.seen is not None and notes.seen.apogee is not None
    assert [each.row for each in notes.damage] == ["zipper"]
    before = (folder / "weighings.toml").read_text(encoding="utf-8")
    assert "this flight is carried over" in sent(page, "carry", flight="first").lower()
    hashed = re.search(r'name="hash" value="(\w+)"', page.get("/debrief").text)
    assert hashed is not None
    page.post("/undo", data={"hash": hashed[1], "here": "/debrief"})
    assert (folder / "weighings.toml").read_text(encoding="utf-8") == before
    assert "never rewritten" in sent(page, "keep", flight="first")


def test_what_cannot_be_read_comes_back_with_what_was_typed(page: TestClient, folder: Path) -> None:
    text = sent(page, "note", **NOTED | {"apogee": "10 s"})
    assert "Nothing was written" in text and "expected a length" in text
    assert 'value="30 mm slit"' in text and 'value="10 s"' in text
    assert not (folder / "flights").exists()
    assert "a name of a folder" in sent(page, "note", **NOTED | {"flight": "../x"})


def test_the_weather_of_a_flight_has_a_box_for_every_entry(page: TestClient, folder: Path) -> None:
    text = page.get("/debrief").text
    assert all(f'name="day_{key}"' in text for key in DayTable.model_fields)
    typed = {"day_temperature": "21 degC", "day_pressure": "1002 hPa", "day_gust_factor": "1.4"}
    text = sent(page, "note", **NOTED | typed)
    day, plan = load(folder).notes["first"].day, load(folder).plan_tables[0].day
    assert day is not None and day.pressure is not None and day.pressure.text == "1002 hPa"
    assert (day.wind.text, day.wind_from.text) == (plan.wind.text, plan.wind_from.text)
    assert 'value="21 degC"' in text and 'name="day_gust_factor" value="1.4"' in text
    assert "pressure" in sent(page, "note", **NOTED | {"day_pressure": "high"})
    sent(page, "note", **NOTED | {f"day_{key}": "" for key in DayTable.model_fields})
    assert load(folder).notes["first"].day is None


def test_notes_keep_comments_and_lose_what_is_emptied(folder: Path) -> None:
    (folder / "flights/first").mkdir(parents=True)
    file = folder / "flights/first/notes.toml"
    file.write_text('# by hand\napogee = "500 m"\n\n[seen]\napogee = "10 s"\n', encoding="utf-8")
    texts = notes_with(
        load(folder), "first", Noted({"apogee": ""}, {"landing": "90 s"}, False, (), {}, {})
    )
    (text,) = texts.values()
    assert text.startswith("# by hand\n") and "500 m" not in text
    assert 'apogee = "10 s"' in text and 'landing = "90 s"' in text


def test_a_flight_is_printed_and_the_log_book_given_as_a_table(
    page: TestClient, folder: Path
) -> None:
    frames = {"film_rate": "25", "film_lift_off": "100", "film_canopy": "420 ± 5"}
    text = sent(page, "note", **NOTED | frames)
    assert "What L2 waits for" in text and "H-b again: " in text
    assert "canopy open: 12.8 s" in text, re.findall(
        "canopy open:[^<]*", text
    )  # 320 frames of 1/25 s
    film = load(folder).notes["first"].film
    assert film is not None and film.canopy is not None and film.canopy.sigma == 5.0
    sheet = page.get("/debrief/sheet.pdf?flight=first")
    assert sheet.headers["content-type"] == "application/pdf" and sheet.content[:5] == b"%PDF-"
    (line,) = csv.DictReader(page.get("/debrief/book.csv?flight=first").text.splitlines())
    assert (line["flight"], line["peak_by"]) == ("first", "notes")
    assert page.get("/debrief/book.csv?flight=none").status_code == 200
